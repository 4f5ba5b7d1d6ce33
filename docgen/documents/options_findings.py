"""What was found of a client, and what each control is to it: a merit and a burden stand once for each control.

A control that avoids what a finding contraindicates is shown to. What it would have only if it is set up so is marked.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypedDict

from msgspec import Struct

from docgen.case.model import Case
from docgen.documents.options_words import good_words, plain_words, risk_words
from docgen.fit.feature import features
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match
from docgen.shelf.options import Option

GOOD, IF_SET, LESS_GOOD, CAN_HURT, ANSWER = "Good", "Good if set so", "Less good", "Can hurt", "Answer"
_MARKS = (GOOD, IF_SET, ANSWER, LESS_GOOD, CAN_HURT, "")
NO_EFFECT, NOT_KNOWN, NONE_FOUND, TOLD = "No effect.", "Not known.", "None found.", "Told above."
# where no point of its own is told: how a control stands to the finding
NEITHER = {
    "leaves_alone": NO_EFFECT,
    "open": NO_EFFECT,
    "guarded": "It can hurt, and has an answer.",
    "helps": "It can help.",
}
_FEW = 2  # controls beside which there is room for more words
_MOST_ROWS = (4, 3)  # rows of findings that speak against none, of few controls and of more
_MOST_GOOD = (2, 1)  # sentences of one control to one finding, in the same way


class Point(TypedDict):
    """What a control is to a finding: a mark, empty where it is neither good nor bad, and a text."""

    mark: str
    says: str


class FindingRow(TypedDict):
    """Findings in the words of the case, and what each control is to them, in the order of the controls."""

    says: str
    cells: tuple[tuple[Point, ...], ...]


class AlikeRow(TypedDict):
    """Findings to which all controls are the same."""

    says: str
    points: tuple[Point, ...]


class FindingsShown(Struct, frozen=True):
    """Rows on which the controls differ, what there was no room for as a row, and that in which they are alike.

    less_good  of each control, whether any finding speaks against it
    """

    rows: tuple[FindingRow, ...]
    also: tuple[FindingRow, ...]
    alike: tuple[AlikeRow, ...]
    less_good: tuple[bool, ...]


class _Row(Struct):
    says: list[str]
    cells: list[list[Point]]

    def is_against(self) -> bool:
        return any(point["mark"] in (LESS_GOOD, CAN_HURT) for cell in self.cells for point in cell)

    def as_row(self) -> FindingRow:
        return {"says": " ".join(self.says), "cells": tuple(map(_by_mark, self.cells))}


def findings_shown(case: Case, matched: Match, options: Sequence[Option]) -> FindingsShown:
    """The findings that bear on one of the controls. None is left out that speaks against a control."""
    rows = [_Row([says], cells) for says, cells in _cells(case, matched, options)]
    less_good = tuple(
        any(point["mark"] in (LESS_GOOD, CAN_HURT) for row in rows for point in row.cells[at])
        for at in range(len(options))
    )
    alike = [row for row in rows if all(cell == row.cells[0] for cell in row.cells)]
    rows = [row for row in rows if row not in alike]
    kept: list[_Row] = []
    for row in sorted(rows, key=lambda row: not row.is_against()):  # a merit stands where it bears most
        into = next((earlier for earlier in kept if _is_repeated(row, earlier)), None)
        if into is not None:
            into.says += row.says
            into.cells = [_together(*both) for both in zip(into.cells, row.cells, strict=True)]
        elif (left := _without_told(row, kept)) is not None:
            kept.append(left)
    n_against = sum(row.is_against() for row in kept)
    room = max(n_against, _MOST_ROWS[len(options) > _FEW])
    return FindingsShown(
        tuple(row.as_row() for row in kept[:room]),
        tuple(row.as_row() for row in kept[room:]),
        tuple(_alike(alike)),
        less_good,
    )


def points_to(case: Case, matched: Match, options: Sequence[Option], finding: str) -> tuple[list[Point], ...]:
    """What each control is to one finding; a point without a mark where it is neither good nor bad."""
    most = _MOST_GOOD[len(options) > _FEW]
    cells = [_points(case, matched, option, finding, most) for option in options]
    against = {name for option in options for name, _ in option.judged.best.against(finding) if name}
    if any(cells):
        cells = [
            cell or _avoided(matched, option, finding, against) for cell, option in zip(cells, options, strict=True)
        ]
    return tuple(
        cell or [{"mark": "", "says": _neither(option.judged, finding)}]
        for cell, option in zip(cells, options, strict=True)
    )


def _cells(case: Case, matched: Match, options: Sequence[Option]) -> list[tuple[str, list[list[Point]]]]:
    rows = [(finding.says, list(points_to(case, matched, options, finding.id))) for finding in case.findings]
    return [(says, cells) for says, cells in rows if any(map(_marked, cells))]


def _by_mark(cell: Sequence[Point]) -> tuple[Point, ...]:
    """The points of a cell, those with the same mark together; what is good comes first, for each control."""
    marks = sorted({point["mark"] for point in cell}, key=_MARKS.index)
    return tuple(
        {"mark": mark, "says": " ".join(point["says"] for point in cell if point["mark"] == mark)} for mark in marks
    )


def _marked(cell: Sequence[Point]) -> list[Point]:
    return [point for point in cell if point["mark"]]


def _is_repeated(row: _Row, earlier: _Row) -> bool:
    """Whether a row repeats of a control what an earlier one tells, and both tell something of the same controls."""
    pairs = [(_marked(cell), _marked(before)) for cell, before in zip(row.cells, earlier.cells, strict=True)]
    return all(bool(cell) == bool(before) for cell, before in pairs) and any(
        cell and all(point in before for point in cell) for cell, before in pairs
    )


def _together(first: Sequence[Point], second: Sequence[Point]) -> list[Point]:
    points = [point for at, point in enumerate([*first, *second]) if point not in [*first, *second][:at]]
    marked = _marked(points)
    return marked or [point for point in points if point["says"] == NOT_KNOWN] or points[:1]


def _without_told(row: _Row, kept: Sequence[_Row]) -> _Row | None:
    """A row without what earlier rows tell of the same control; None when nothing is left of it."""
    cells: list[list[Point]] = []
    for at, cell in enumerate(row.cells):
        earlier_points = [point for earlier in kept for point in _marked(earlier.cells[at])]
        left = [point for point in cell if point not in earlier_points]
        cells.append(left or [{"mark": "", "says": TOLD}])
    return _Row(row.says, cells) if any(map(_marked, cells)) else None


def _alike(rows: Sequence[_Row]) -> list[AlikeRow]:
    """Findings with the same points stand together; what was told is not told again."""
    together: list[_Row] = []
    for row in rows:
        same = next((earlier for earlier in together if earlier.cells[0] == row.cells[0]), None)
        if same is not None:
            same.says += row.says
        elif (left := _without_told(row, together)) is not None:
            together.append(left)
    return [{"says": " ".join(row.says), "points": _by_mark(row.cells[0])} for row in together]


def _neither(judged: Judged, finding: str) -> str:
    standing = judged.standing(finding)
    if standing == "unknown":
        return NOT_KNOWN
    return NEITHER.get(standing, NONE_FOUND)


def _points(case: Case, matched: Match, option: Option, finding: str, most_good: int) -> list[Point]:
    """What a control is to a finding; empty for neither good nor bad."""
    judged = option.judged
    harmed = {harm.risk for harm in judged.best.harms if harm.finding == finding}
    own = {name for _, name in judged.device.stated()} - {*matched.shelf.with_any}
    against = (risk for name, risk in judged.best.against(finding) if name is None or name in own)
    risks = dict.fromkeys([*against, *sorted(harmed)])
    hurts = harmed | _unsafe(matched, judged, finding)
    points = _good_points(matched, option, finding, own, most_good)
    points += [{"mark": CAN_HURT if risk in hurts else LESS_GOOD, "says": risk_words(risk)} for risk in risks]
    if answer := judged.device.answers.get(finding):
        points.append({"mark": ANSWER, "says": answer if answer.endswith((".", "!", "?")) else f"{answer}."})
    return points


def _good_points(matched: Match, option: Option, finding: str, own: set[str], most: int) -> list[Point]:
    """What is good about a control where a finding calls for it: what it has, then what it has if it is set up so."""
    judged = option.judged
    shown = own | {*plain_words()["of_the_chair"].get(finding, ())}
    no_answer = plain_words()["no_answer"].get(finding, ())
    called = [name for name in judged.best.meets(finding) if name in shown and name not in no_answer]
    drives = judged.device.drives or ()
    called.sort(key=lambda name: (name not in drives, name))
    able = finding in matched.client.able
    at_its_site = bool(option.tried) and matched.client.site[finding] in judged.device.sites
    if able and (called or at_its_site or finding in judged.moved_by):
        return [{"mark": GOOD, "says": "It uses this move."}]
    open_yet = _open_yet(option)
    points: list[Point] = []
    for mark, names in (
        (GOOD, [n for n in called if n not in open_yet]),
        (IF_SET, [n for n in called if n in open_yet]),
    ):
        points += [{"mark": mark, "says": says} for says in dict.fromkeys(map(good_words, names))]
    return points[:most]


def _open_yet(option: Option) -> set[str]:
    """Features that the control can have or be set to, and of which no way of trying it says that it had them."""
    judged = option.judged
    tried = {name for way in option.tried for name in way.method.features}
    choices = {name for choice in judged.device.choices for name in choice}
    return {*judged.stated.optional, *choices} - {*(judged.device.drives or ()), *judged.device.has} - tried


def _avoided(matched: Match, option: Option, finding: str, against: set[str]) -> list[Point]:
    """That a control goes without what a finding speaks against: another site, or another way to drive."""
    device, words = option.judged.device, plain_words()
    site = matched.client.site[finding]
    if finding in matched.client.able or option.judged.standing(finding) == "unknown":
        return []
    if site is not None and "elsewhere" not in device.sites and site not in device.sites:
        return [{"mark": GOOD, "says": words["avoids"].get(finding) or words["avoids_site"][site]}]
    goes_without = {
        name for name in against if features()[name].part == "control" and name not in (device.drives or against)
    }
    goes_without |= {name for name in against if name in device.has_not}
    return [{"mark": GOOD, "says": "It avoids this."}] if against and goes_without == against else []


def _unsafe(matched: Match, judged: Judged, finding: str) -> set[str]:
    """Risks of a finding that are marked as ones that can hurt, whatever answers them."""
    known = matched.client.known
    risks = {
        risk.risk
        for name in judged.best.on
        for risk in known[name].spoken_against_by
        if risk.finding == finding and risk.safety
    }
    return risks | {risk.risk for risk in matched.client.against_kind(judged.device) if risk.safety}
