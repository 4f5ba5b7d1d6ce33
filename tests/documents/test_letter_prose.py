"""The letter as prose: whole sentences of a fit length, few of them shared, and drafts that read aloud."""

from __future__ import annotations

import itertools
import re
from functools import cache

import pytest
from gathered import of_each
from support import ASSESSED, DEMOS

from docgen.packet.trees import trees
from docgen.rendering.tree import Node

NAMES = DEMOS
MEAN_WORDS = (12, 22)
MOST_SHARED = 25
FEWEST_WORDS = 4
SHEET = "Still missing"
# sentences under four words, by name
SHORT: frozenset[str] = frozenset()
# what two letters or more say in the same words: definitions, cautions, and statements with legal weight
SHARED = (
    "An unintended activation is a command that the control gave and nobody meant.",
    "Enclosed: Equipment Specification and Setup Record.",
    "On request I send these records and each row of the trial.",
    "Reliable means 14 of 15 tries of each task without help, and ten unannounced stops in a row.",
    "Attempts are not independent, so the 95% intervals in brackets are too narrow and the chances (Fisher's exact "
    "test) too small.",
    "The length of need is 60\u00a0months.",
    "Attempts were scored by the therapist, from video.",
    "It connects the head array, the controller and the motors.",
    "The trial counted no attempt with a chin-operated standard joystick or a sip-and-puff interface.",
    "An attempt is one try at one task, and it counts as successful when the rule of the task is met without a "
    "collision, hands-on help or a missed stop.",
    'Release time runs from the word "stop", which ended every attempt, until the control is let go.',
    "As published coverage of another payer, Medicare's local coverage determination (LCD) L33789 names a "
    "drive control other than a hand- or chin-operated standard proportional joystick as a ground for a "
    "power wheelchair with a power option.",
    "Without it, he has no way to move the chair himself.",
    "Stopping distances follow from the slowest release, an electronics delay of 0.15\u00a0s (video, "
    "longest of ten stops) and a deceleration of 2.6 ft/s² (0.8 m/s²).",
    "Both are of the clinic's trial chair, to be confirmed on the delivered chair.",
    "The tasks were 33 ft (10 m) straight (between lines 3 ft 11 in (1.2 m) apart, no line crossed); stop on command "
    "(at an unplanned word, within 3 ft 3 in (1 m)); through a doorway (33 1/4 in (850 mm) clear, no collision); park "
    "at a table (within 8 in (200 mm), 90 s).",
    "No press of the power switch in a moving chair is recorded.",
    "Turning in the kitchen waits: where the trainer stands then is not settled.",
    "No press of the attendant stop switch or the power switch in a moving chair is recorded.",
)


def _sentences(node: Node) -> list[str]:
    """Sentences of a paragraph or an item, without its bold run-in headings."""
    text = "".join("" if part.kind == "strong" else part.plain() for part in node.children)
    return [
        sentence for sentence in re.split(r"(?:(?<=[.!?])|(?<=[.!?]”))\s+(?=[A-Z0-9\"“])", text.strip()) if sentence
    ]


def _blocks(tree: Node) -> list[Node]:
    """Paragraphs outside tables, down to the sheet of what is missing."""
    kept: list[Node] = []
    for block in tree.children:
        if block.kind == "heading" and block.plain() == SHEET:
            break
        if block.kind in ("paragraph", "list"):
            kept += [node for node in block.walk() if node.kind == "paragraph"]
    return kept


@cache
def sentences(name: str) -> tuple[str, ...]:
    """Sentences of a demo's letter outside tables, captions and headings."""
    tree = trees(ASSESSED[name], ["letter"])["letter"]
    return tuple(sentence for block in _blocks(tree) for sentence in _sentences(block))


@pytest.mark.parametrize("name", NAMES)
def test_no_sentence_of_a_letter_has_under_four_words_but_by_name(name):
    short = {sentence for sentence in sentences(name) if len(sentence.split()) < FEWEST_WORDS}
    assert short <= SHORT


@of_each("name", NAMES)
def test_sentences_of_a_letter_have_a_fit_length(name):
    lengths = [len(sentence.split()) for sentence in sentences(name)]
    assert len(lengths) > 50 and MEAN_WORDS[0] <= sum(lengths) / len(lengths) <= MEAN_WORDS[1]


@of_each(("one", "other"), [*itertools.combinations(NAMES, 2)])
def test_two_letters_share_few_sentences_and_each_is_listed(one, other):
    shared = set(sentences(one)) & set(sentences(other))
    assert shared <= set(SHARED) and len(shared) <= MOST_SHARED


@of_each("sentence", SHARED)
def test_every_listed_sentence_is_shared(sentence):
    assert sum(sentence in sentences(name) for name in NAMES) > 1


@pytest.mark.parametrize("name", NAMES)
def test_every_sentence_of_a_letter_begins_with_a_capital(name):
    lines = [" ".join(node.plain().split()) for node in _letter_of(name).walk() if node.kind in ("paragraph", "item")]
    small = [line[max(0, at.start() - 30) : at.end() + 20] for line in lines for at in _SMALL.finditer(line)]
    assert len(lines) > 20 and small == []


_SMALL = re.compile(r"[a-z)]\. [a-z]")


@cache
def _letter_of(name: str) -> Node:
    return trees(ASSESSED[name], ["letter"])["letter"]
