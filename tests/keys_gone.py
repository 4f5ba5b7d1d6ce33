"""A demo with keys taken out of it: what no page may say then, and sentences that stay or go and should not."""

from __future__ import annotations

import pickle
import re
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from functools import cache, lru_cache, reduce
from inspect import unwrap
from itertools import pairwise, permutations, takewhile
from pathlib import Path
from typing import Any

import pytest
from in_full import tables_in_full
from msgspec.structs import replace
from support import DEMO_FOLDERS, assess, each_key_gone, with_value, without

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

SHEET = "Still missing"
_OPEN = "Still open: "


def without_kind(node: Node, kind: str, instead: str) -> str:
    """The words of a node, something else in place of every node of that kind."""
    if node.kind == kind:
        return instead
    return node.text if node.kind == "text" else "".join(without_kind(child, kind, instead) for child in node.children)


BAD = re.compile(
    r"\bNone\b(?! of )|\bnan\b|  |,\.|\.\.|\( ?\)| ,|Gap\(|, and\b,|:\.| \.(?!\d)|;\.|; ?;|, ?,|\(;|;\)|\. \)"
    r"|[a-z]{2}[.;][A-Z][a-z]"  # a sentence that stands against the one before it
)
TOLD = ("letter", "order")  # whose every sentence is looked at
KeyPath = tuple[str | int, ...]
Trouble = tuple[object, ...]
"""The path of a key, the document, and what is wrong with it without that key."""


@cache
def shares() -> dict[Path, list[KeyPath]]:
    """Every key that any demo has, each on the one of the demos that have it with the least to do so far."""
    having: dict[KeyPath, list[tuple[Path, KeyPath]]] = {}
    for source in DEMO_FOLDERS:
        for path, _ in each_key_gone(tables_in_full(source)):
            general = tuple("*" if isinstance(part, int) else part for part in path)
            having.setdefault(general, []).append((source, path))
    shares: dict[Path, list[KeyPath]] = {source: [] for source in DEMO_FOLDERS}
    # a case is also assessed, and its tables are laid out, as it stood on the days of its papers
    work = {source: 1 + 2 * len(_states(source)) for source in DEMO_FOLDERS}
    for found in sorted(having.values(), key=len, reverse=True):  # what all have first, so that each gets some of it
        source, path = min(found, key=lambda of: work[of[0]] * (1 + len(shares[of[0]])))
        shares[source].append(path)
    return shares


def _states(source: Path) -> list[Assessed]:
    """The states of a demo on the days of its papers, without the one of today."""
    trees(assessed := assess(source), TOLD)
    return assessed.as_it_stood


_read = cache(read_case)


def _case(source: Path, raw: dict[str, Any]) -> Case | None:
    """The case that changed data are; None where a table cannot do without the key."""
    try:
        return Case.model_validate(frozen(raw)).with_records(_read(source).case.records)
    except ValueError:
        return None


def _assessed(source: Path, raw: dict[str, Any]) -> Assessed | None:
    """The case made of changed data, with all that follows from it; None where there is none."""
    read, case = _read(source), _case(source, raw)
    if case is None:
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
    """Sentences of paragraphs and headings, and whole cells, as a reader sees them; not what stands in a call-out, in
    a line of what is open, or on the list at the end of a draft: those are answers of criteria, and a fact may bear on
    any."""
    found: Counter[str] = Counter()
    headings = (node.plain() for node in tree.children if node.kind == "heading")
    assert sum(heading == SHEET for heading in headings) <= 1
    below = [*takewhile(lambda node: node.kind != "heading" or node.plain() != SHEET, tree.children)]
    while below:
        node = below.pop()
        if node.kind in ("paragraph", "heading", "cell", "signature"):
            text = without_kind(node, "gap", "[not recorded]")
            parts = [text] if node.kind == "cell" else re.split(r"(?<=[.!?]) ", text)
            found.update(part for part in parts if not part.startswith(_OPEN))
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
    ("request", "growth"),  # whether the base is asked for room to grow
    ("configuration", "external_device"),  # whose make is asked for where one is named
    ("configuration", "external_jacks"),  # without them they are asked for together with the make
    ("configuration", "again"),  # without it, a chair that can drive at once is set back only with the power off
    ("dates", "home_visit_on"),  # without it a visit of that name gives it: tests/case/test_short_form.py
    ("configuration", "deceleration_m_s2"),  # without it nothing is said of how it was measured
    "size_mm",  # without it, it follows from width and height
    "helper_switch",  # these three: a means that is there is asked about among the standard parts
    "stop_switch",
    "drive_off",
    ("supervision", "reach_s"),  # without it nobody drives there before the way to the stop is timed
    "calls_by",  # these four: without one, who is near in hours alone is not settled, and is not told
    "help_after_min",
    "if_stuck",  # where the seat alone moves
    "fire_plan",
}
# go with the last sentence under them, or with the row of a table that tells the fact
RUN_IN = Counter(
    ["Limitations.", "No switch stops it", "power test, moving test", "", "Drive off, seat on", "A command as stop"]
    + ["power test, moving test; a seat command still moves the seat"]
    + ["power test, moving test; a seat command and the seat switch move the seat"]
    + ["Seat after a stop", "chair empty, seat all the way back, attendant stop switch pressed, then the seat switch"]
    + [
        "by the record it holds the seat: write down whether it does; drive shut off, then set back, power left on, "
        "the seat switch brings it up; else nobody drives: call the therapist. Seconds until up:"
    ]
    + ["Payer ID, NPI, addresses: the practitioner's office."]  # what else is asked for stands in that cell
    + ["Any other than the power switch is worked by the supplier, a third person at the power switch."]
    + ["given at full speed and kept up: within the limits, and it starts nothing"]
    + ["40 mm (1 1/2 in)"] * 2  # a limit is rounded up, so that another value of a setting can give the same one
    + [  # names the seat switch as one of the ways back
        "each drive command kept up: from power-on, standby, each mode; drive set back on; seat brought below each "
        "angle by its switch"
    ]
    + ["From where they stand as it turns, the switch was reached in 1.7\u00a0s."]
    + ["Until the power switch has passed its fitting test, he does not turn there."]
    + ["Where the chair turns at home, the trainer stands where stated above."]
    # a place that is not told has no time from there
    + [  # without that place the room is told alone, wherever it is
        "At home, his grandmother must stay in the same room, and where the chair turns, as stated below, until "
        "driving through the doors and rooms of the home is reliable; then as I write."
    ]
    + [  # tells of each switch that is there, wherever it is
        f"No press of {switches}the power switch in a moving chair is recorded."
        for switches in ("", "the cheek switch or ", "the attendant stop switch or ")
    ]
    + [  # which place is the tightest is not known without the delay; another delay leaves it the tightest
        "Attempts went up to 1.1 mph (0.5 m/s); the tight places profile, set by a helper, limits it to 0.67 mph "
        "(0.3 m/s) at the bathroom door and elevator of the building."
    ]
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


class KeysGone:
    """A demo from which keys are taken, one or several at a time.

    told  how often a sentence of each document told a fact that was given another value
    """

    def __init__(self, source: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self._source, self._raw, self._once = source, tables_in_full(source), _Once(monkeypatch)
        as_it_is = trees(assess(source), TOLD)
        self._before = {name: _sentences(as_it_is[name]) for name in TOLD}
        self.told = Counter[str]()

    def groups(self, size: int) -> list[list[KeyPath]]:
        """The keys of this demo's share that their table can do without, so many together and keys of one table apart:
        facts that tell, others, and tables and lists within a part, of these half as many. A whole part goes alone."""
        paths = sorted(shares()[self._source], key=lambda path: str(path[0]))
        paths = [path for path in paths if _case(self._source, without(self._raw, path))]
        alone = [path for path in paths if len(path) == 1]
        inner = [path for path in paths if path not in alone and isinstance(self._value(path), (dict, list))]
        rest = [path for path in paths if path not in alone and path not in inner]
        telling = [path for path in rest if self._tells(path)]
        others = [path for path in rest if path not in telling]
        dealt = _dealt(inner, size // 2) + _dealt(telling, size) + _dealt(others, size)
        assert not [group for group in dealt for one, other in permutations(group, 2) if one == other[: len(one)]]
        return [[path] for path in alone] + dealt

    def _tells(self, path: KeyPath) -> bool:
        """Whether there is another value of the fact that its key can hold."""
        other = self._other(path)
        return other is not None and _case(self._source, with_value(self._raw, path, other)) is not None

    def troubles(self, paths: Sequence[KeyPath]) -> list[Trouble]:
        """What is wrong with the pages without these keys; where anything is, of each key by itself."""
        case = _assessed(self._source, reduce(without, paths, self._raw))
        wrong = None if case is None else [*self._troubles_of(paths, case)]
        if len(paths) == 1 or wrong == []:
            return wrong or []
        half = len(paths) // 2
        return self.troubles(paths[:half]) + self.troubles(paths[half:])

    def _troubles_of(self, paths: Sequence[KeyPath], case: Assessed) -> Iterator[Trouble]:
        left = trees(case)
        for name, tree in left.items():
            yield from ((paths, name, stray) for stray in self._once.strays(name, tree))
        others = [(path, other) for path in paths if (other := self._other(path)) is not None]
        if len(others) < len(paths):
            return
        with_others = _assessed(self._source, reduce(lambda raw, new: with_value(raw, *new), others, self._raw))
        if with_others is None:
            return
        for name, tree in trees(with_others, TOLD).items():
            told = self._before[name] - self._once.sentences(tree)
            lost = self._before[name] - self._once.sentences(left[name])
            self.told[name] += bool(told)
            if lost - RUN_IN != told - RUN_IN:
                yield paths, name, "tells", [*(told - lost)], "lost", [*(lost - told)]

    def _other(self, path: KeyPath) -> Any:
        """Another value of the fact; None for one that also decides."""
        return _other(self._value(path), path)

    def _value(self, path: KeyPath) -> Any:
        return reduce(lambda node, part: node[part], path, self._raw)


def _dealt(paths: Sequence[KeyPath], size: int) -> list[list[KeyPath]]:
    """Sorted paths dealt out in turn, so that neighbors go to different groups."""
    n_groups = -(-len(paths) // size)
    return [[*paths[at::n_groups]] for at in range(n_groups)]
