"""Every heading, caption, head of a column and label is made of terms with a source and of plain everyday words."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from itertools import pairwise

import pytest
from gathered import of_each

from docgen.console.features import PART_TITLES
from docgen.criteria.criterion import HEADINGS
from docgen.resources import folder
from docgen.terms import everyday, sources, terms

TEMPLATES = folder("templates") / "en"
WORDS = tomllib.loads((TEMPLATES / "words.toml").read_text(encoding="utf-8"))
# pages in plain words throughout: tests of reading grade and of words of the trade hold those
FOR_HELPERS = {"guide", "card", "log", "lesson", "emergency", "_emergency", "_options", "_seat", "_stop_test"}
# tables of words.toml that hold patterns, whole sentences, or words of the pages for helpers; every other is of labels
NO_LABELS = set(
    """
    alone_against alone_open alone_unsettled appeal attacks calendar caution chair_state choose_by cited coins
    column_heads columns deidentified
    row_words pressed_switch
    drawn drive_meanwhile emergency_roles ends errors everyday figures full kept_out languages lets_go lists locales
    mark_seen missing one_try outside plain pronoun read_with_caution repeated ride_control ride_lacks ride_unknown
    base_asked beyond_posts done_first mine sizes_to screening
    short shown shown_in shown_what stages stands stays step_aims step_away step_waits stops_with tasks unfair units
    where_now
    """.split()
)
CAPTIONS = re.compile(r"(?:methods|progress|pads)_")  # of drawings that professionals see

TERMS = {
    re.sub(r"\{\w+\}", "", term.term).strip().lower()
    for kind in ("features", "settings", "kinds", "headings", "labels", "words")
    for term in terms(kind).values()
}
KNOWN = re.compile("|".join(rf"(?<!\w){re.escape(term)}(?!\w)" for term in sorted(TERMS, key=len, reverse=True)))
EVERYDAY = {word for words in everyday().values() for word in words}


def without_source(text: str) -> list[str]:
    """The words of a text that are part of no term and are not plain everyday words."""
    bare = re.sub(r"\{\{.*?\}\}|\{%.*?%\}|\{\w+\}|\]\(\w*:?\w*\)", " ; ", text).lower()
    return [word for word in re.findall(r"[^\W\d_][\w'-]*", KNOWN.sub(" ; ", bare)) if word not in EVERYDAY]


def _of_templates() -> Iterator[tuple[str, str]]:
    for path in sorted(TEMPLATES.glob("*.md")):
        lines = path.read_text(encoding="utf-8").splitlines() if path.stem not in FOR_HELPERS else []
        for n, (line, below) in enumerate(pairwise([*lines, ""]), 1):
            if shown := re.match(r'#+ (.*)|(?:title|head) = "(.*)"|Table: (.*)|!\[(.*)\]\(fig', line):
                yield f"{path.stem}.md:{n}", next(group for group in shown.groups() if group)
            elif line.startswith("|") and re.match(r"\|[:-]", below):
                yield f"{path.stem}.md:{n}", line


def _texts(table: dict[str, object]) -> Iterator[tuple[str, str]]:
    for key, value in table.items():
        if isinstance(value, dict):
            yield from ((f"{key}.{inner}", text) for inner, text in _texts(value))
        else:
            yield from ((key, text) for text in (value if isinstance(value, list) else [value]))


def _of_words() -> Iterator[tuple[str, str]]:
    for table in (name for name, words in WORDS.items() if isinstance(words, dict) and name not in NO_LABELS):
        yield from ((f"{table}.{key}", text) for key, text in _texts(WORDS[table]))
    yield from ((f"ladder {n}", text) for n, text in enumerate(WORDS["ladder"]))
    for key, text in WORDS["figures"].items():
        if key in ("ladder_names", "bands"):
            yield from ((f"figures.{key} {n}", step) for n, step in enumerate(text))
        elif CAPTIONS.match(key):
            yield f"figures.{key}", text
    yield from ((f"check: {key}", text) for key, text in HEADINGS.items())
    yield from ((f"features: {key}", text) for key, text in PART_TITLES.items())


SHOWN = [*_of_templates(), *_of_words()]


@of_each(("place", "text"), SHOWN, ids=[place for place, _ in SHOWN])
def test_what_stands_as_a_heading_caption_or_label_is_of_the_table(place, text):
    assert without_source(text) == []


def test_each_word_without_a_source_would_be_seen():
    assert without_source("Table: {{ n }} roll levers and the hoist") == ["roll", "levers", "hoist"]
    assert without_source("| Reverse | Goal attainment scaling |") == []


def test_the_everyday_words_have_a_reason_and_no_term_among_them():
    assert not EVERYDAY & TERMS, "terms, which have a source"
    assert all(len(reason.split()) > 3 for reason in everyday())


@pytest.mark.parametrize("kind", ["words", "labels", "headings"])
def test_each_term_names_a_source_of_the_table(kind):
    assert not {key for key, term in terms(kind).items() if not term.source or not set(term.source) <= set(sources())}
