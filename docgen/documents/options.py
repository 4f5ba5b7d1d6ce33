"""The controls that a client can choose between, in plain words: the same rows for each, none left empty.

What is said of a control comes from the table of features, that it bears on this person from the finding beside it.
What nobody has stated is "not known yet", never "no". No chance is given that the record does not hold: attempts are
counts, done and not done.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, TypedDict

from docgen.case.model import Case
from docgen.criteria.sentences import capital
from docgen.fit.feature import features
from docgen.resources import folder
from docgen.shelf.judge import Judged, asked_of
from docgen.shelf.match import Match
from docgen.shelf.options import Option, TriedAs
from docgen.shipped import tables_of

LETTERS = "ABCD"
_FEW = 2  # controls beside which there is room for more words
_MOST_FINDINGS = (5, 4)  # rows of findings, of few controls and of more, unless more of them speak against a control
_MOST_GOOD = (2, 1)  # sentences of one control to one finding, in the same way
_MOST_MATTERS, _MOST_GOALS = 4, 2
_MOST_ASKED = 2
_SPEED = ("proportional_control", "force_graded_speed")  # what a control that is on or off does not have
_NEITHER = {
    "unknown": "Not known yet.",
    "leaves_alone": "Makes no difference.",
    "open": "Does not help with this.",
}  # how a control stands to a finding that it neither serves nor is contraindicated by


class ControlRow(TypedDict):
    """One control: a cell for each row of the page, none of them empty."""

    letter: str
    name: str
    works: str
    body: str
    helpers: str
    limits: str
    tried: str
    unknown: str


class Point(TypedDict):
    """What a control is to a finding: a mark ("Good", "Less good", "Can hurt", "Answer"; empty for neither), a text."""

    mark: str
    says: str


class FindingRow(TypedDict):
    """A finding in the words of the case, and what each control is to it, in the order of the controls."""

    says: str
    cells: tuple[tuple[Point, ...], ...]


class MattersRow(TypedDict):
    """Something that may matter, to be ticked, and what each control does about it."""

    says: str
    cells: tuple[str, ...]


@cache
def plain_words() -> Mapping[str, Any]:
    """The tables of templates/en/options.toml."""
    return tables_of((folder("templates") / "en" / "options.toml").read_text(encoding="utf-8"))


def control_rows(options: Iterable[Option]) -> Iterator[ControlRow]:
    """Each control, with a letter in the order given; a cell is empty only in a row that is empty for all."""
    options = tuple(options)
    any_limits = any(option.judged.device.limits for option in options)
    for letter, option in zip(LETTERS, options, strict=False):
        device = option.judged.device
        yield {
            "letter": letter,
            "name": capital(option.name),
            "works": f"{_words_of('works', option)} {_words_of('speed', option)}",
            "body": _words_of("body", option),
            "helpers": _helpers(option.judged),
            "limits": " ".join(_ended(limit) for limit in device.limits)
            or ("No limit is stated." if any_limits else ""),
            "tried": _tried_words(option.tried),
            "unknown": _unknown_words(option.judged),
        }


def finding_rows(case: Case, matched: Match, options: tuple[Option, ...]) -> tuple[list[FindingRow], int]:
    """The findings that bear on one of the controls, and how many of them are left out.

    None is left out that speaks against a control. The others follow as they are recorded, so long as there is room.
    """
    rows: list[tuple[bool, FindingRow]] = []
    crowded = len(options) > _FEW
    for finding in case.findings:
        cells = [_cell(matched, option, finding.id, _MOST_GOOD[crowded]) for option in options]
        if any(bears for bears, _, _ in cells):
            row: FindingRow = {"says": finding.says, "cells": tuple(points for _, _, points in cells)}
            rows.append((any(against for _, against, _ in cells), row))
    room = max(0, _MOST_FINDINGS[crowded] - sum(against for against, _ in rows))
    kept: list[FindingRow] = []
    for against, row in rows:
        if against or room > 0:
            kept.append(row)
            room -= not against
    return kept, len(rows) - len(kept)


def matters_rows(options: tuple[Option, ...]) -> list[MattersRow]:
    """What may matter whatever the goals: first that on which the controls differ."""
    rows: list[MattersRow] = []
    for entry in plain_words()["matters"]:
        cells = tuple(_answer(option.judged, entry) for option in options)
        rows.append({"says": entry["says"], "cells": cells})
    rows.sort(key=lambda row: len(set(row["cells"])) == 1)  # stable: as listed within both
    return rows[:_MOST_MATTERS]


def goal_rows(case: Case) -> list[dict[str, str]]:
    """The client's own goals, those with the most weight first, and how it goes today."""
    heaviest = sorted(case.goals, key=lambda goal: -goal.weight)[:_MOST_GOALS]
    rows = []
    for goal in heaviest:
        level = goal.latest.level if goal.latest else goal.level
        known = level is not None and len(goal.levels) == 5
        rows.append({"says": goal.says, "now": goal.levels[level + 2] if known and level is not None else ""})
    return rows


def lender_rows(options: Iterable[Option]) -> list[dict[str, Any]]:
    """Who lends the controls, each once with their letters; none where nobody is stated."""
    lent: dict[str, list[str]] = {}
    for letter, option in zip(LETTERS, options, strict=False):
        lent.setdefault(option.judged.device.lent_by or "", []).append(letter)
    if not any(lent):
        return []
    return [{"name": name or "someone who is not recorded", "letters": letters} for name, letters in lent.items()]


def _words_of(table: str, option: Option) -> str:
    """What the first of the features in a table says, in words for the site of the control."""
    device, words = option.judged.device, plain_words()
    known = {*(device.drives or ()), *device.has}
    text = next((says for feature, says in words[table].items() if feature in known), None)
    if text is None:
        return {
            "works": "How it works is not stated.",
            "speed": "How its speed is set is not stated.",
            "body": "What the body does is not stated.",
        }[table]
    site = device.sites[0]
    return str(text).format(at=words["at"][site], part=words["part"][site])


def _helpers(judged: Judged) -> str:
    """The guide's own words on the care of what drives it."""
    known = [name for name in judged.device.drives or ()]
    return " ".join(features()[name].care for name in known) or "What helpers do is not stated."


def _tried_words(tried: tuple[TriedAs, ...]) -> str:
    if not tried:
        return "Not tried yet."
    several = len(tried) > 1
    return " ".join(
        " ".join(
            filter(
                None,
                (
                    f"{capital(way.method.name)}." if several else "",
                    _counted("Drives", way.driving),
                    _counted("Stops", way.stops),
                ),
            )
        )
        for way in tried
    )


def _counted(what: str, tally: tuple[int, int]) -> str:
    """A count in both frames: done, and not done."""
    done, n = tally
    return f"{what}: {done} of {n} tries done, {n - done} not." if n else f"{what}: not tried yet."


def _unknown_words(judged: Judged) -> str:
    """What nobody has said of it and what would change how it stands."""
    asked = asked_of(judged)
    if not asked:
        return "No question is open."
    more = " There is more to ask." if len(asked) > _MOST_ASKED else ""
    return f"Ask if this is so: {' '.join(map(_good, asked[:_MOST_ASKED]))}{more}"


def _cell(matched: Match, option: Option, finding: str, most_good: int) -> tuple[bool, bool, tuple[Point, ...]]:
    """Whether a control bears on a finding, whether the finding speaks against it, and both in words."""
    judged = option.judged
    harmed = {harm.risk for harm in judged.best.harms if harm.finding == finding}
    own = {name for _, name in judged.device.stated()} - {*matched.shelf.with_any}
    against = (risk for name, risk in judged.best.against(finding) if name is None or name in own)
    risks = dict.fromkeys([*against, *sorted(harmed)])
    hurts = harmed | _unsafe(matched, judged, finding)
    called = [name for name in judged.best.meets(finding) if name in own]
    good = [*dict.fromkeys(_good(name) for name in _driving_first(judged, called))]
    at_its_site = bool(option.tried) and matched.client.site[finding] in judged.device.sites
    if finding in matched.client.able and (good or at_its_site or finding in judged.moved_by):
        good = ["It uses this move.", *(says for says in good if not says.startswith("It uses"))]
    good = good[:most_good]
    points: list[Point] = [{"mark": "Good", "says": " ".join(good)}] if good else []
    points += [{"mark": "Can hurt" if risk in hurts else "Less good", "says": _plain(risk)} for risk in risks]
    if answer := judged.device.answers.get(finding):
        points.append({"mark": "Answer", "says": _ended(answer)})
    neither: Point = {"mark": "", "says": _NEITHER.get(judged.standing(finding), "No good or bad point is known.")}
    return bool(points), bool(risks), tuple(points) or (neither,)


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


def _driving_first(judged: Judged, called: list[str]) -> list[str]:
    """Features that drive the control before others."""
    drives = judged.device.drives or ()
    return sorted(called, key=lambda name: (name not in drives, name))


def _good(name: str) -> str:
    feature = features()[name]
    return str(plain_words()["good"].get(name) or f"It has {feature.plain or feature.name}.")


def _plain(risk: str) -> str:
    """A risk in words for a family."""
    for word, instead in plain_words()["instead"].items():
        risk = risk.replace(word, instead)
    return _ended(risk)


def _answer(judged: Judged, entry: Mapping[str, str]) -> str:
    """Yes, no, as it is set up, or not known yet."""
    if "free" in entry:
        if "elsewhere" in judged.device.sites:
            return "not known yet"
        return "no" if {*entry["free"].split()} & {*judged.device.sites} else "yes"
    device, asked = judged.device, entry["feature"].split()
    if any(name in (*device.has, *(device.drives or ())) for name in asked):
        return "yes"
    choices = {name for choice in device.choices for name in choice}
    if any(name in judged.stated.optional or name in choices for name in asked):
        return "it can"
    speed_is_stated = "nonproportional_control" in (device.drives or ())
    ruled_out = all(name in device.has_not or (name in _SPEED and speed_is_stated) for name in asked)
    return "no" if ruled_out else "not known yet"


def _ended(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
