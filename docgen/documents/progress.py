"""What the progress report shows: how much training, how it went beside the trial, decisions, goals, changes, stop
rules, visits."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from typing import Any

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.session import SessionRow
from docgen.case.who import by_initials
from docgen.documents.follow_up import repeated
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, number
from docgen.documents.stages import stage_name, task_name
from docgen.evidence.fact import Evidence
from docgen.evidence.stages import Judged, Walk
from docgen.evidence.training import WINDOW_DAYS, at_stage_now, by_day, stops_met, walked
from docgen.fit.in_force import changes
from docgen.fit.schedule import due_by, due_on
from docgen.fit.signs import signs_of_lessons

_OF_TASKS = made_from(Privacy.TRAINING, "spaces.name")  # tasks are named after the client's own places
MADE_FROM = {
    "since": made_from(Privacy.TRAINING, weights="goals", t_then="goals", t_now="goals"),
    "measures": made_from(Privacy.TRAINING, "trial.methods"),
    "decisions": _OF_TASKS,
    "now_open": _OF_TASKS,
    "went_back": made_from(Privacy.TRAINING),
    "by_stage": made_from(Privacy.TRAINING),
    "coached": made_from(Privacy.TRAINING, "people.name", "people.relation"),
    "contacts_now": _OF_TASKS,
    "changed": made_from(Privacy.TRAINING),
    "stops_met": made_from(Privacy.TRAINING, cleared_by="people.name"),
    "near_misses": _OF_TASKS,
    "visits": made_from("follow_up"),
}

# a measure of the trial with the requested control -> the same of training
_MEASURES = {
    "success": "success",
    "contacts": "contacts",
    "unintended": "unintended",
    "release_slowest": "release_slowest",
    "fatigue_rise": "fatigue_rise",
    "tone_rise": "tone_rise",
    "pain_rise": "pain_rise",
    "unaided": "unaided",
}
_LEAST_DAYS = 14  # of training, for sessions a week to say anything: common practice, no source
_SINCE = (
    "sessions",
    "tries",
    "minutes",
    "success",
    "driving",
    "stops",
    "change",
    "n_contacts",
    "n_person_contacts",
    "n_near_misses",
    "stops_met",
    "stops_broken",
)
_SINCE_NOW = (
    "done_recorded",
    "done_strict",
    "driving_now",
    "stops_now",
    "contacts_now",
    "uncounted",
    "ahead",
    "stops_counted",
    "stops_in_a_row",
)
_LABELS = {
    "n_person_contacts": "collisions with a person",
    "n_near_misses": "near misses",
    "n_contacts": "collisions",
    "minutes": "minutes of sessions",
    "driving": "attempts at driving",
    "stops": "stops asked for",
    "t_now": "levels of the goals since",
    "t_then": "levels of the goals at the start",
    "reached": "step training started from",
    "change": "trial with the requested control",
}


def progress_tables(case: Case, evidence: Evidence, words: Words) -> dict[str, Any]:
    """Table name -> what a progress report may show; empty tables while there are no sessions."""
    walk = walked(case)
    return {
        "since": _since(case, evidence, words),
        "measures": tuple(_measures(case, evidence, words)),
        "decisions": tuple(_decision(case, evidence, place, judged, words) for place, judged in _decisive(walk))
        if walk
        else (),
        "now_open": tuple(_decision(case, evidence, place, judged, words) for place, judged in _open(walk))
        if walk
        else (),
        "went_back": tuple(_back(walk, words)) if walk else (),
        "by_stage": tuple(_by_stage(case, evidence, words)),
        "coached": tuple(_coached(case)),
        "contacts_now": tuple(_contacts_now(case, words)),
        "changed": tuple({"on": change.on, "says": change.says} for change in changes(case)),
        "stops_met": tuple(_stop(case, words)),
        "near_misses": tuple(
            {"on": row.date, "task": task_name(case, row.task, words), "n": row.near_misses, "says": row.note or ""}
            for row in case.sessions
            if row.near_misses
        ),
        "visits": tuple(_visits(case, words)),
    }


def _since(case: Case, evidence: Evidence, words: Words) -> dict[str, Any]:
    sessions = by_day(case.sessions)
    walk = {name: number(fact, words) for name, fact in evidence.family("since").items()}
    n_days = (sessions[-1][0] - sessions[0][0]).days + 1 if sessions else 0
    return (
        {name: walk.get(name) for name in _SINCE}
        | {name: walk.get(name, "") for name in _SINCE_NOW}
        | {
            "often_now": bool(signs_of_lessons(case, evidence)["contacts_often"].seen),
            "weights": tuple(_weights(case, evidence)),
            "first_on": sessions[0][0] if sessions else None,
            "last_on": sessions[-1][0] if sessions else None,
            "a_week": f"{len(sessions) / n_days * 7:.1f}" if n_days >= _LEAST_DAYS else "",
            "windows": "success_first" in walk,
            "window_weeks": WINDOW_DAYS // 7,
            "no_minutes": sum(all(row.minutes is None for row in rows) for _, rows in sessions),
            "reached": _shown(evidence, "stage_reached", words),
            "t_then": _shown(evidence, "goals_t_then", words),
            "t_now": _shown(evidence, "goals_t_now", words),
            "_labels": _LABELS,
        }
    )


def _weights(case: Case, evidence: Evidence) -> Iterator[str]:
    """Weights of the goals that the score rests on."""
    score = evidence.of("goals_t_now")
    for key in score.keys if score else ():
        yield f"{case.goals[int(key.removeprefix('goals.'))].weight:g}"


def _shown(evidence: Evidence, fact_id: str, words: Words) -> Any:
    fact = evidence.of(fact_id)
    return None if fact is None else number(fact, words)


def _measures(case: Case, evidence: Evidence, words: Words) -> Iterator[dict[str, Any]]:
    method = case.configuration.method or ""
    for of_trial, since in _MEASURES.items():
        values = {
            "trial": _shown(evidence, f"{of_trial}.{method}", words),
            "first": _shown(evidence, f"since.{since}_first", words),
            "last": _shown(evidence, f"since.{since}_last", words),
            "all": _shown(evidence, f"since.{since}", words),
        }
        if values["all"] is not None:
            counts = {
                f"{key}_k": f"{fact.k:g}"
                if (fact := evidence.of(name)) and fact.k is not None and fact.kind.startswith("rate")
                else ""
                for key, name in (
                    ("trial", f"{of_trial}.{method}"),
                    ("first", f"since.{since}_first"),
                    ("last", f"since.{since}_last"),
                    ("all", f"since.{since}"),
                )
            }
            yield {"name": words["measures"][since]} | {key: value or "" for key, value in values.items()} | counts


def _decisive(walk: Walk) -> Iterator[tuple[int, Judged]]:
    """Counts that said something: all but those that a change or a pause ended."""
    yield from ((place, judged) for place, judged in enumerate(walk.ended) if judged.answer != "anew")


def _open(walk: Walk) -> Iterator[tuple[int, Judged]]:
    still_open = [
        (place, judged)
        for place, judged in enumerate(walk.still_open, start=len(walk.ended))
        if judged.stage == walk.stage
    ]
    yield from sorted(still_open, key=lambda open_count: open_count[1].on)


def _decision(case: Case, evidence: Evidence, place: int, judged: Judged, words: Words) -> dict[str, Any]:
    return {
        "on": judged.on,
        "stage": judged.stage,
        "stage_name": stage_name(judged.stage, words),
        "task": words["the_stops"] if judged.stop else task_name(case, judged.task, words),
        "done": _shown(evidence, f"judged.{place}", words) or words["no_value"],
        "rows": ", ".join(map(str, judged.rows)) or words["no_value"],
        "says": words["decided"][judged.answer],
    }


def _back(walk: Walk, words: Words) -> Iterator[dict[str, Any]]:
    """Each step back that the therapist decided."""
    for step in walk.back:
        yield {
            "on": step.on,
            "before": stage_name(step.before, words),
            "stage": stage_name(step.after, words),
        }


def _by_stage(case: Case, evidence: Evidence, words: Words) -> Iterator[dict[str, Any]]:
    """Stage by stage: days, tries of driving and stops done, contacts."""
    for stage in sorted({row.stage for row in case.sessions}):
        yield {"stage": stage, "name": stage_name(stage, words)} | {
            name: _shown(evidence, f"stage.{stage}.{name}", words) or ""
            for name in ("days", "driving", "stops", "contacts")
        }


def _coached(case: Case) -> Iterator[dict[str, Any]]:
    """Who coached and in how many lessons: by name where the initials fit exactly one person, else by the initials
    alone."""
    days: dict[str, set[date]] = {}
    for row in case.sessions:
        if row.coach:
            days.setdefault(row.coach, set()).add(row.date)
    for coach, on in sorted(days.items(), key=lambda coached: -len(coached[1])):
        coached_by = by_initials(case.people, coach)
        yield {
            "name": f"{coached_by.name} ({coach})" if coached_by else coach,
            "relation": coached_by.relation or "" if coached_by else "",
            "n": len(on),
        }


def _contacts_now(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """Contacts at the stage reached, day by day and task by task, with what was noted."""
    walk: dict[tuple[date, str], list[SessionRow]] = {}
    for row in at_stage_now(case):
        if row.contacts:
            walk.setdefault((row.date, row.task), []).append(row)
    for (on, task), rows in walk.items():
        yield {
            "on": on,
            "task": task_name(case, task, words),
            "n": sum(row.contacts or 0 for row in rows),
            "notes": tuple(dict.fromkeys(row.note for row in rows if row.note)),
        }


def _stop(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    by_line = {row.line: row for row in case.sessions}
    following = {row.line: after for row, after in pairwise(sorted(case.sessions, key=lambda row: row.line))}
    for met in stops_met(case):
        row = by_line[met.line]
        after = following.get(met.line)
        yield {
            "on": met.on,
            "rule": words["stop_rules"][met.kind],
            "says": row.stopped or "",
            "cleared_by": met.cleared_by,
            "note": row.note or "",
            "since": after.note or "" if after and after.note else "",
            "went_on": met.went_on is not None,
            "_labels": {"cleared_by": "who cleared going on"},
        }


def _visits(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """Each follow-up with its day; overdue when the record goes on past it and does not show it held."""
    last = max((row.date for row in case.sessions), default=None)
    for visit in case.follow_up:
        due = due_on(case, visit)
        yield {
            "after_weeks": visit.after_weeks,
            "what": visit.what,
            "due_on": due,
            "done_on": visit.done_on,
            "found": visit.found,
            "held": visit.done_on is not None,
            "repeated": repeated(visit, words),
            "overdue": bool(visit.is_open and last and (latest := due_by(case, visit)) and latest < last),
            "_labels": {"due_on": "date of delivery", "found": "what the visit found"},
        }
