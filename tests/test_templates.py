"""Templates: no number of their own, no fact worded away, and every document survives any missing fact."""

from __future__ import annotations

import pickle
import re
import sys
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from functools import cache, lru_cache, reduce
from inspect import unwrap
from itertools import pairwise, takewhile
from pathlib import Path
from typing import Any, get_args

import pytest
from gathered import of_each
from in_full import tables_in_full
from msgspec.structs import replace
from support import DEMO_FOLDERS, assess, each_key_gone, with_value

from docgen import units
from docgen.case.model import Case
from docgen.case.read import CaseFile, frozen, read_case
from docgen.criteria.criterion import Grounds
from docgen.criteria.payer import load
from docgen.criteria.run import verdicts
from docgen.documents.document import Document
from docgen.documents.view import project
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.assess import Assessed, asked_on
from docgen.packet.places import Section, sections_of
from docgen.packet.trees import trees
from docgen.packet.wording import Wording
from docgen.rendering.tree import Node
from docgen.resources import folder

SHEET = "Still missing"
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
            bare = _without(block, "fact", " ")
            seen += len(_numbers(bare))
            assert _numbers(bare) <= known, bare
    assert seen > 40


def _without(node: Node, kind: str, instead: str) -> str:
    """The words of a node, something else in place of every node of that kind."""
    if node.kind == kind:
        return instead
    return node.text if node.kind == "text" else "".join(_without(child, kind, instead) for child in node.children)


BAD = re.compile(
    r"\bNone\b(?! of )|\bnan\b|  |,\.|\.\.|\( ?\)| ,|Gap\(|, and\b,|:\.| \.(?!\d)|;\.|; ?;|, ?,|\(;|;\)|\. \)"
)
TOLD = ("letter", "order")  # whose every sentence is looked at
Gone = tuple[tuple[str | int, ...], dict[str, Any]]  # the path of a key, and the case's data without it


@cache
def _shares() -> dict[Path, list[Gone]]:
    """Every key that any demo has, each on the one of the demos that have it with the least to do so far."""
    having: dict[tuple[str | int, ...], list[tuple[Path, Gone]]] = {}
    for source in DEMO_FOLDERS:
        for path, gone in each_key_gone(tables_in_full(source)):
            general = tuple("*" if isinstance(part, int) else part for part in path)
            having.setdefault(general, []).append((source, (path, gone)))
    shares: dict[Path, list[Gone]] = {source: [] for source in DEMO_FOLDERS}
    # a case is also assessed, and its tables are laid out, as it stood on the days of its papers
    work = {source: 1 + 2 * len(_states(source)) for source in DEMO_FOLDERS}
    for found in sorted(having.values(), key=len, reverse=True):  # what all have first, so that each gets some of it
        source, gone = min(found, key=lambda of: work[of[0]] * (1 + len(shares[of[0]])))
        shares[source].append(gone)
    return shares


def _states(source: Path) -> list[Assessed]:
    """The states of a demo on the days of its papers, without the one of today."""
    trees(assessed := assess(source), TOLD)
    return assessed.as_it_stood


_read = cache(read_case)


def _assessed(source: Path, raw: dict[str, Any]) -> Assessed | None:
    """The case made of changed data; None where a table cannot do without the key."""
    read = _read(source)
    try:
        case = Case.model_validate(frozen(raw)).with_records(read.case.records)
    except ValueError:
        return None
    payer = load("general", "")
    grounds = Grounds(case, evidence(case), fit(case, read.where))
    return Assessed(
        replace(read, case=case), grounds.evidence, grounds, payer, verdicts(grounds, payer, asked_on(case, payer))
    )


@lru_cache(20_000)  # a key that is gone leaves most cells and paragraphs as they are
def _is_stray(words: str) -> bool:
    return BAD.search(words) is not None


def _strays(name: str, tree: Node) -> Iterator[str]:
    """A stray word or mark, an empty paragraph or heading, a heading with nothing under it."""
    for part in tree.walk():
        if part.kind in ("paragraph", "cell", "heading", "signature", "item"):
            words = part.plain()
            if part.kind != "item" and _is_stray(words):
                yield words
            if part.kind != "cell" and not words.strip():
                yield f"an empty {part.kind}"
    for above, below in pairwise([*tree.children, None]):
        if name not in TOLD or above is None or above.kind != "heading":
            continue
        if below is None or (below.kind == "heading" and below.level <= above.level):
            yield f"nothing under: {above.plain()}"


def _sentences(tree: Node) -> Counter[str]:
    """Sentences of paragraphs and headings, and whole cells, as a reader sees them; not what stands in a call-out or on
    the list at the end of a draft: those are answers of criteria, and a fact may bear on any."""
    found: Counter[str] = Counter()
    headings = (node.plain() for node in tree.children if node.kind == "heading")
    assert sum(heading == SHEET for heading in headings) <= 1
    below = [*takewhile(lambda node: node.kind != "heading" or node.plain() != SHEET, tree.children)]
    while below:
        node = below.pop()
        if node.kind in ("paragraph", "heading", "cell", "signature"):
            text = _without(node, "gap", "[not recorded]")
            found.update([text] if node.kind == "cell" else re.split(r"(?<=[.!?]) ", text))
        elif node.kind != "callout":
            below += node.children
    return found


def _other(value: Any, path: tuple[str | int, ...]) -> Any:
    """Another value of the same kind, for a fact that only tells; None for one that also decides."""
    if isinstance(value, bool) or {path[-1], (path[0], path[-1])} & DECIDES or "people" in path:
        return None
    if isinstance(value, str):
        return "Canary words" if " " in value else None
    if isinstance(value, date):
        return value + timedelta(days=400)
    return value * 0.75 if isinstance(value, float) else None


# what other sentences turn on: the year said of other days, a row of the index, whether a place slopes, whether a line
# is settled
DECIDES: set[object] = {
    "written_on",
    "encounter_on",
    "accepted_on",
    "ordered_on",
    "supplier_assessed_on",
    "statement_on",
    "slope_percent",
    "payer_says",
    "payer_said_on",  # another day comes after the page's own, and the answer is not known on it: test_order_lines.py
    "decided_on",  # as that: test_on_its_day.py
    "source",
    "without_reverse",  # that it is told is that the control does not back up
    ("alternatives", "name"),  # without it the kind of device names it
    ("client", "born_on"),  # whether growth is asked about
    ("configuration", "again"),  # without it, a chair that can drive at once is set back only with the power off
    ("dates", "home_visit_on"),  # without it a visit of that name gives it: tests/case/test_short_form.py
    ("configuration", "deceleration_m_s2"),  # without it nothing is said of how it was measured
    "size_mm",  # without it, it follows from width and height
    "helper_switch",  # these three: a means that is there is asked about among the standard parts
    "stop_switch",
    "drive_off",
    "calls_by",  # these four: without one, who is near in hours alone is not settled, and is not told
    "help_after_min",
    "if_stuck",  # where the seat alone moves
    "fire_plan",
}
# go with the last sentence under them, or with the row of a table that tells the fact
RUN_IN = Counter(
    ["Limitations.", "No switch stops it", "power test, moving test", "", "Drive off, seat on", "A command as stop"]
    + ["power test, moving test; a seat command still moves the seat"]
    + ["given at full speed and kept up: within the limits, and it starts nothing"]
    + ["40 mm (1 3/4 in)"]  # a limit is rounded up, so that another value of a setting can give the same one
)


class _Once:
    """What is made of a view of a document, made once: a key that is gone leaves most documents as they are."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        module = sys.modules["docgen.packet.trees"]
        self._tree_of, self._trees = unwrap(vars(module)["_tree"]), dict[object, Node]()
        self._strays, self._sentences = dict[int, list[str]](), dict[int, Counter[str]]()  # by the tree, which is kept
        self._sections = dict[int, dict[str, Section]]()
        monkeypatch.setattr(module, "_tree", self._tree)
        monkeypatch.setattr(module, "sections_of", self._sections_of)

    def _tree(self, file: CaseFile, worded: Wording, document: Document, shown: Mapping[str, Any]) -> Node:
        view = project(shown, document.shows, worded.words["not_recorded"], None, document.may_see)
        key = (worded.environment, document.name, pickle.dumps(view))
        if key not in self._trees:
            self._trees[key] = self._tree_of(file, worded, document, shown)
        return self._trees[key]

    def _sections_of(self, tree: Node) -> dict[str, Section]:
        if id(tree) not in self._sections:
            self._sections[id(tree)] = sections_of(tree)
        return self._sections[id(tree)]

    def strays(self, name: str, tree: Node) -> list[str]:
        if id(tree) not in self._strays:
            self._strays[id(tree)] = [*_strays(name, tree)]
        return self._strays[id(tree)]

    def sentences(self, tree: Node) -> Counter[str]:
        if id(tree) not in self._sentences:
            self._sentences[id(tree)] = _sentences(tree)
        return self._sentences[id(tree)]


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_a_fact_taken_away_leaves_whole_sentences_and_takes_those_that_told_it(source, monkeypatch):
    """Each optional key gone in turn: no stray word or mark on any page and no empty heading. And in letter and order
    the sentences that change when the fact has another value are those that go or are marked when it is missing."""
    raw, once = tables_in_full(source), _Once(monkeypatch)
    as_it_is = trees(assess(source), TOLD)
    before = {name: _sentences(as_it_is[name]) for name in TOLD}
    strays: list[tuple[object, ...]] = []
    differ: list[tuple[object, ...]] = []
    compared = Counter[str]()
    for path, changed in _shares()[source]:
        if (without := _assessed(source, changed)) is None:
            continue
        left = trees(without)
        for name, tree in left.items():
            strays += [(path, name, stray) for stray in once.strays(name, tree)]
        if (with_other := _with_another_value(source, raw, path)) is None:
            continue
        for name, tree in trees(with_other, TOLD).items():
            told, lost = before[name] - once.sentences(tree), before[name] - once.sentences(left[name])
            compared[name] += bool(told)
            if lost - RUN_IN != told - RUN_IN:
                differ.append((path, name, "tells", [*(told - lost)], "lost", [*(lost - told)]))
    assert strays == []
    assert differ == []
    assert all(compared[name] for name in TOLD)


def _with_another_value(source: Path, raw: dict[str, Any], path: tuple[str | int, ...]) -> Assessed | None:
    """The case with another value of the fact; None for a fact that also decides, or that cannot have another."""
    other = _other(reduce(lambda node, part: node[part], path, raw), path)
    return None if other is None else _assessed(source, with_value(raw, path, other))
