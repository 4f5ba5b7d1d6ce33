"""Templates: no number of their own, no fact worded away, and every document survives any missing fact."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from gathered import of_each
from keys_gone import TOLD, KeysGone, without_kind
from support import DEMO_FOLDERS, assess

from docgen import units
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.resources import folder

TOGETHER = 12  # keys taken away at a time
MOST_CHARACTERS = 250  # of one line of a template
TEMPLATES = sorted((folder("templates") / "en").glob("*.md"))


def _own_words(text: str) -> str:
    """What a template says itself: without front matter, tags, comments and the marks of numbered lists."""
    text = re.sub(r"\A\+\+\+\n.*?\+\+\+\n", "", text, flags=re.S)
    text = re.sub(r"\{%.*?%\}|\{\{.*?\}\}|\{#.*?#\}", "", text, flags=re.S)
    text = re.sub(r"^(> )?\d+\. ", "", text, flags=re.M).replace("per 328 ft (100 m)", "")  # a unit, not a number
    return re.sub(r"^\| \d (?=[A-Z])", "| ", text, flags=re.M)  # the names of the training stages


@of_each("path", TEMPLATES, ids=lambda p: p.name)
def test_a_template_prints_no_number_of_its_own(path):
    assert not re.findall(r"[^\n]*\d[^\n]*", _own_words(path.read_text(encoding="utf-8")))


@of_each("path", TEMPLATES, ids=lambda p: p.name)
def test_a_template_keeps_to_the_rules_of_the_dialect(path):
    text = path.read_text(encoding="utf-8")
    assert "~" not in "".join(re.findall(r"\{\{.*?\}\}", text))  # joins would escape as HTML
    assert not re.search(r"\w\*\*\{\{|\}\}\*\*\w", text)  # emphasis must not touch a word


@of_each("path", sorted(folder("templates").glob("*/*.md")), ids=lambda p: f"{p.parent.name}/{p.name}")
def test_a_line_of_a_template_can_be_read_in_one_glance(path):
    """What takes more than this is decided in docgen/documents, in a function with a test, or is a macro of its own."""
    lines = path.read_text(encoding="utf-8").split("\n")
    assert not [f"{path.name}:{n}" for n, line in enumerate(lines, start=1) if len(line) > MOST_CHARACTERS]


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_every_number_of_the_evidence_is_printed_as_the_evidence_has_it(source):
    """Each number a page takes from the evidence carries its id, and reads as the record says."""
    from docgen.documents.phrase import number
    from docgen.packet.wording import language_words

    assessed = assess(source)
    seen = 0
    for tree in trees(assessed).values():
        for node in tree.walk():
            if node.kind == "fact":
                shown = number(assessed.evidence[node.name], language_words())
                word = language_words()["numbers"][int(shown.value)] if shown.value in range(11) else shown.short
                forms = {shown.short, shown.full, shown.bare, shown.aside, shown.counted, word}
                if node.name.startswith(
                    "stopping."
                ):  # beside inches and mm of a room: up to the next cm, as on the cover
                    mm = 10 * units.rounded(shown.value * 100, "up")
                    forms.add(f"{units.inches(mm, 'up')} in ({mm} mm)")
                assert node.plain() in forms
                seen += 1
    assert seen > 10


def test_three_of_three_never_reads_as_certain(case_folder):
    toml = (
        'format = "docgen case 1"\nid = "small"\n[client]\nname = "R"\n[trial]\n'
        '[[trial.methods]]\nid = "pads"\nname = "pads"\n[[trial.tasks]]\nid = "halt"\nname = "stop"\nshows = "stop"\n'
        '[configuration]\nmethod = "pads"\n'
    )
    rows = "date,method,task,success\n" + "2026-03-03,pads,halt,1\n" * 3
    assessed = assess(case_folder(toml, rows))
    from docgen.console.evidence import evidence_text
    from docgen.library import evidence_in
    from docgen.packet.render import render

    text = "".join(tree.plain() for tree in trees(assessed).values()) + evidence_text(evidence_in(assessed))
    # 95% score interval of 3 of 3: 0.4385 to 1 (3 / (3 + z^2), Wilson 1927)
    assert "3 of 3 attempts with it (at least 44%)" in text
    assert "100%" not in text
    html = render(assessed, ["html"])["letter.html"].decode()
    assert "to 100%" not in html and ">100%<" in html  # the end of the figure's scale, and nothing else


def _numbers(text: str) -> set[str]:
    """Numbers as they stand, without the letters of a code: 12, 0.5, 24.5."""
    return set(re.findall(r"(?<![\w.])\d+(?:\.\d+)?", text))


def _customary(values: set[float]) -> set[str]:
    """What inches, feet, pounds, ounces, mph and ft/s2 may print of these values, in whichever unit they are."""
    shown = [units.inches(value, side) for value in values for side in get_args(units.Side)]
    shown += [
        str(part) for value in values for side in get_args(units.Side) for part in units.feet_and_inches(value, side)
    ]
    shown += [str(units.pounds(value)) for value in values] + [
        f"{value / units.GRAMS_PER_OUNCE:.1f}" for value in values
    ]
    shown += [units.miles_an_hour(value) for value in values] + [units.feet_a_second_squared(value) for value in values]
    return _numbers(" ".join(shown))


def _known(assessed: Assessed) -> set[str]:
    """Every number of the case and its rows, lengths in inches too, the age, and what the trade texts and answers
    say."""
    folder_, case = assessed.file.folder, assessed.file.case
    text = (folder_ / "case.toml").read_text(encoding="utf-8")
    known = _numbers(text) | {str(int(n)) for n in re.findall(r"\b\d{1,2}\b", text)}  # 03 of a date is 3
    known |= {f"{float(n):g}" for n in _numbers(text)} | _customary({float(n) for n in _numbers(text)})
    for row in case.records:
        known |= {str(row.date.day), str(row.date.year)}
    born, at = case.client.born_on, case.dates.written_on
    if born and at:
        known.add(str(at.year - born.year - ((at.month, at.day) < (born.month, born.day))))
    known |= {f"{fact.level * 100:g}" for fact in assessed.evidence.values()}
    for chosen in assessed.grounds.fit.chosen:
        known |= _numbers(" ".join((chosen.feature.what, chosen.feature.justification)))
    for verdict in assessed.verdicts:
        known |= _numbers(verdict.answer.reason) | _numbers(verdict.answer.to_settle)
    return known | {str(count) for count in range(len(case.configuration.items) + 1)}


@pytest.mark.parametrize("name", ["letter", "order"])
@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_every_number_outside_the_evidence_is_a_number_of_the_case(source, name):
    """What is not linked to the evidence stands in the case as it is, or follows from it by the one rule of inches."""
    assessed = assess(source)
    tree = trees(assessed, [name])[name]
    known, seen = _known(assessed), 0
    for block in tree.walk():
        if block.kind in ("paragraph", "cell", "heading", "figure", "signature"):
            bare = without_kind(block, "fact", " ")
            seen += len(_numbers(bare))
            assert _numbers(bare) <= known, bare
    assert seen > 40


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_a_fact_taken_away_leaves_whole_sentences_and_takes_those_that_told_it(source, monkeypatch):
    """Each optional key gone: no stray word or mark on any page and no empty heading. And in letter and order the
    sentences that change when the fact has another value are those that go or are marked when it is missing.

    Keys of different tables go together, twelve at a time, and each by itself where anything is wrong without the
    twelve: tests/bench/keys_gone.py takes every one alone."""
    gone = KeysGone(source, monkeypatch)
    assert [trouble for group in gone.groups(TOGETHER) for trouble in gone.troubles(group)] == []
    assert all(gone.told[name] for name in TOLD)
