"""Errors of driving as the plan shows them: the words for the requested control, and where each was seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from docgen.case.model import Case
from docgen.case.session import SessionRow
from docgen.case.totals import DayTotal, Tried
from docgen.documents.phrase import Words, number
from docgen.evidence.blocks import of_whole_day, recorded
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.stops import with_stops
from docgen.evidence.training import stop_tasks
from docgen.fit.feature import features
from docgen.fit.match import ALL_SITES, driving_sites
from docgen.fit.settings import Moved
from docgen.fit.signs import RELEASE_LATE_S, RISE, Sign, signs

# facts that show an error at least once, below what makes it a sign: of the trial, and of the lessons
_SELDOM = {
    "missed_often": ("missed_counted", "missed"),
    "unintended_often": ("unintended_counted", "unintended"),
    "contacts_often": ("contacts_counted", "contacts"),
}
_IN_LESSONS = {
    "stops_missed": "stops",
    "release_late": "release_slowest",
    "contacts_often": "n_contacts",
    "unintended_often": "n_unintended",
    "missed_often": "n_missed",
    "corners_lost": "turns",
    "tone_up": "tone_rise",
    "tired": "fatigue_rise",
}
# errors -> the column of the rows that would show one, and the scale that would
_COLUMN = {
    "release_late": "release_s",
    "contacts_often": "contacts",
    "unintended_often": "unintended",
    "missed_often": "missed",
}
# errors that show in some tasks alone
_BY_TASK = ("stops_missed", "release_late", "corners_lost")
_SCALE = {"tone_up": "tone", "tired": "fatigue"}
# errors that only a control with one of these features can show
_ONLY_WITH = {"rear_lost_in_turn": ("head_array", "forward_held_in_turn")}


def errors_of(case: Case, words: Words) -> dict[str, Mapping[str, Any]]:
    """Every error that the requested control can show, with the words for its sites; where no part says its site, the
    words for all.

    At several sites: what to look at of each of them, the name for all, and else the words of the first that has some,
    in the order of the language.
    """
    asked = [wanted.id for wanted in case.configuration.features]
    sites = driving_sites(features()[name] for name in asked)
    known = frozenset() if sites == ALL_SITES else sites
    errors: dict[str, Mapping[str, Any]] = {}
    for key, error in words["errors"].items():
        if key in _ONLY_WITH and not any(name in asked for name in _ONLY_WITH[key]):
            continue
        error_words = _words_for_sites(error, known)
        if not case.configuration.rests and "no_rest" in error_words:
            error_words["coach"] = error_words["no_rest"]
        errors[key] = error_words
    return errors


def _words_for_sites(error: Mapping[str, Any], sites: frozenset[str]) -> dict[str, Any]:
    """The words of one error for the sites of a control, over those that it has for all."""
    own = [texts for site, texts in error.items() if isinstance(texts, Mapping) and site in sites]
    first = {name: text for texts in reversed(own) for name, text in texts.items() if name != "name" or len(sites) == 1}
    looks = list(dict.fromkeys(texts["look"] for texts in own if "look" in texts))
    for_all = {name: text for name, text in error.items() if isinstance(text, str)}
    return {"stop": False} | for_all | first | ({"look": " ".join(looks)} if looks else {})


def error_tables(
    case: Case, evidence: Evidence, seen_now: Mapping[str, Sign], to_try: Sequence[Moved], words: Words
) -> Iterator[dict[str, Any]]:
    """Each error seen: in the lessons once there are some, else in the trial; or told by a finding, or usual with this
    control alone."""
    findings = {finding.id for finding in case.findings}
    for sign_id, error in errors_of(case, words).items():
        sign = seen_now.get(sign_id)
        shown = (
            tuple(_in_lessons(sign_id, sign, evidence)) if case.sessions else tuple(_in_trial(sign_id, case, evidence))
        )
        expected = not shown and sign_id not in findings
        if expected and sign_id not in _ONLY_WITH:
            continue
        often = bool(sign and sign.seen) or sign_id in findings
        yield {
            "id": sign_id,
            "name": error["name"],
            "look": error["look"],
            "coach": error["coach"],
            "stop": error["stop"],
            "often": often,
            "expected": expected,
            "seen": "" if not shown else "lessons" if case.sessions else "trial",
            "shown": tuple(number(fact, words) for _, fact in shown),
            "measured": tuple(words["shown"][where] for where, _ in shown),
            "what": _counted(sign_id, tuple(fact for _, fact in shown), case, words),
            "settings": tuple(change.setting.name for change in to_try if _because(change, sign_id)) if often else (),
        }


def _counted(sign_id: str, shown: Sequence[Fact], case: Case, words: Words) -> str:
    """What the numbers of an error count; a count of steering in the trial is of one task, and carries its name."""
    what = str(words["shown_what"].get(sign_id, ""))
    if sign_id == "corners_lost" and not case.sessions and shown:
        return {task.id: task.name for task in case.trial.tasks}.get(shown[0].id.rpartition(".")[2], what)
    return what


def _says(row: Tried | SessionRow, column: str) -> bool:
    """Whether a row fills in a column; a total tells of releases by the slowest, and has none of some columns."""
    if column == "release_s" and isinstance(row, DayTotal):
        return row.slowest_s is not None
    return getattr(row, column, None) is not None


def is_told(sign_id: str, case: Case, evidence: Evidence, sign: Sign | None) -> bool:
    """Whether the record could have shown this error: in every row that would show it, its column is filled in, and
    of every place it is known whether the chair stops there."""
    in_trial = tuple(row for row in case.tried if row.method == case.configuration.method)
    if sign_id in _BY_TASK and not case.sessions and _some_task_untold(case, in_trial):
        return False
    # what was not seen so far was seen neither in the lessons nor in the trial before them
    tried: tuple[Sequence[Tried | SessionRow], ...] = tuple(filter(None, (case.sessions, in_trial))) or ((),)
    answers = {_is_told_of(sign_id, case, rows) for rows in tried}
    if answers != {None}:
        return False not in answers
    if sign_id == "space_too_short" and any(there.stops is None for there in evidence.stopping.places):
        return False
    return sign is not None and sign.seen is not None


def _is_told_of(sign_id: str, case: Case, rows: Sequence[Tried | SessionRow]) -> bool | None:
    """The same of the rows of the lessons, or of the trial, alone; None where no column of theirs shows it."""
    stops = _of_stops(case, rows)
    if column := _COLUMN.get(sign_id):
        asked = stops if column == "release_s" else _told_apart(rows, column)
        return bool(asked) and all(_says(row, column) for row in asked)  # what is counted and not nought is shown
    if sign_id == "stops_missed":
        return bool(stops)
    if scale := _SCALE.get(sign_id):
        return bool(rows) and _is_rated_each_day(rows, scale)
    return None


def _of_stops(case: Case, rows: Sequence[Tried | SessionRow]) -> list[Tried | SessionRow]:
    """The rows and totals that tell of stops."""
    halts = stop_tasks(case) if case.sessions else case.trial.stop_tasks
    return [*with_stops(rows, halts)]


def _is_rated_each_day(rows: Sequence[Tried | SessionRow], scale: str) -> bool:
    """Whether a scale is filled in before and after the driving of every day."""
    of_day: dict[date, list[Tried | SessionRow]] = {}
    for row in rows:
        of_day.setdefault(row.date, []).append(row)
    return all(recorded(day, f"{scale}_{when}") for day in of_day.values() for when in ("before", "after"))


def _some_task_untold(case: Case, rows: Sequence[Tried | SessionRow]) -> bool:
    """Whether of a task that was tried the record does not say what it shows: it may be a stop, or a turn."""
    with_kind = {task.id for task in case.trial.tasks if "shows" in task.model_fields_set}
    return any(row.task not in with_kind for row in rows if not of_whole_day(row))


def _told_apart(rows: Sequence[Tried | SessionRow], column: str) -> list[Tried | SessionRow]:
    """The rows that have to fill in a column themselves: not those of a day for which it is told as a whole, and no
    line of a whole day that leaves it to the tasks."""
    of_days = [row for row in rows if of_whole_day(row)]
    whole_days = {(row.date, row.method) for row in of_days if isinstance(row, DayTotal) and _says(row, column)}
    return [
        row
        for row in rows
        if (_says(row, column) if row in of_days else (row.date, getattr(row, "method", "")) not in whole_days)
    ]


def _in_trial(sign_id: str, case: Case, evidence: Evidence) -> Iterator[tuple[str, Fact]]:
    """Facts of the trial that show an error often enough to be a sign, or at least once."""
    sign = signs(case, evidence, case.configuration.method).get(sign_id)
    if sign is not None and sign.seen:
        yield from (("trial", fact) for fact in sign.facts[:1])
        return
    for name in _SELDOM.get(sign_id, ()):
        if (fact := evidence.of(name, case.configuration.method)) is not None and fact.k:
            yield "trial", fact
            return


def _in_lessons(sign_id: str, sign: Sign | None, evidence: Evidence) -> Iterator[tuple[str, Fact]]:
    """The fact of the stage reached, if it shows the error, and that of all lessons."""
    if sign_id not in _IN_LESSONS:
        yield from (("lessons", fact) for fact in sign.facts[:1] if sign.seen) if sign else ()
        return
    here, ever = (evidence.of(f"since.{_IN_LESSONS[sign_id]}{window}") for window in ("_now", ""))
    if ever is not None and (_shows(sign_id, ever) or (sign is not None and sign.seen)):
        yield from (("stage", here),) if here is not None and _shows(sign_id, here) else ()
        yield "lessons", ever


def _shows(sign_id: str, fact: Fact) -> bool:
    """Whether a fact of all lessons shows the error at least once."""
    if fact.value is None:
        return False
    if sign_id in ("stops_missed", "corners_lost"):
        return (fact.k or 0) < fact.n
    if fact.kind == "count":
        return bool(fact.k)
    return sign_id == "release_late" and fact.value >= RELEASE_LATE_S or fact.kind == "score" and fact.value >= RISE


def _because(change: Moved, sign_id: str) -> bool:
    return any(sign_id in move.signs for move, _ in change.first)
