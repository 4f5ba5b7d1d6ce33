"""What the training plan and its tick sheets show: stages, lessons, errors seen with their settings, and how sure a pass is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from datetime import time
from typing import Any

from docgen.case.model import Case
from docgen.case.need import Goal
from docgen.case.session import COLUMNS
from docgen.case.stage import STAGES, STOP_TASKS, Stage, tasks_of
from docgen.documents.phrase import Words, number
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.stop_rules import MOST_FATIGUE, MOST_PAIN, MOST_RISE
from docgen.evidence.training import stage_now, walked
from docgen.fit.schedule import sessions, starts
from docgen.fit.settings import Moved, moved
from docgen.fit.signs import signs

_ONCE = ("date", "stage", "minutes", "distance_m", "fatigue_before", "fatigue_after", "tone_before", "tone_after", "pain_before",
         "pain_after", "skin", "injury", "stopped", "cleared_by", "changed", "coach")
# facts that show an error at least once, below what makes it a sign
_SELDOM = {"missed_often": "missed", "unintended_often": "unintended", "contacts_often": "contacts"}


def training_tables(case: Case, evidence: Evidence, words: Words) -> dict[str, Any]:
    """Table name -> what the plan and the tick sheets may show."""
    now = stage_now(case)
    errors = tuple(_errors(case, evidence, words))
    return {
        "stage_at": _stage_at(case, now, words),
        "stages": tuple(_stage(case, stage, now, words) for stage in STAGES),
        "ladder": tuple({"rung": rung, "says": says} for rung, says in enumerate(words["ladder"])),
        "lesson": _lesson(case, words),
        "errors": errors,
        "errors_unseen": tuple({"name": said["name"]} for key, said in words["errors"].items() if key not in {e["id"] for e in errors}),
        "settings_to_try": tuple(_setting(one) for one in moved(case, evidence)),
        "sheet_once": tuple(_column(c, words) for c in COLUMNS if c.name in _ONCE),
        "sheet_tries": tuple(_column(c, words) for c in COLUMNS if c.name not in _ONCE),
        "goals_now": tuple(_goal(goal) for goal in case.goals),
        "stop_rules": {"pain": MOST_PAIN, "rise": MOST_RISE, "fatigue": MOST_FATIGUE, "scale": 10},
        "passing": {"tries": _number(evidence.of("tries_to_pass"), words), "poor": case.training.mastery.poor * 100,
                    "good": case.training.mastery.good * 100, "moved": _of_100(evidence.of("moved_by_chance")),
                    "held": _of_100(evidence.of("held_by_chance"))},
    }


def task_name(case: Case, task: str, words: Words) -> str:
    """A task in words: of the stages, of the trial, or one of the client's own places."""
    own = [part.name for part in (*case.spaces, *case.trial.tasks) if part.id == task]
    return words["tasks"].get(task) or (own[0] if own else task.replace("_", " "))


def stage_name(stage: int, words: Words) -> str:
    """The name of a stage."""
    return words["figures"]["ladder_names"][stage]


def _number(fact: Fact | None, words: Words) -> Any:
    return None if fact is None else number(fact, words)


def _of_100(fact: Fact | None) -> int:
    """A chance as so many times in 100, rounded up: an error is never told smaller than it is."""
    return math.ceil((fact.value or 0.0) * 100 - 1e-9) if fact else 0


def _stage_at(case: Case, now: int | None, words: Words) -> dict[str, Any]:
    found = walked(case)
    passed = sorted({stage for stage, _ in found.passed}) if found else []
    return {
        "number": now, "name": None if now is None else stage_name(now, words), "reached": found is not None,
        "started": case.training.stage, "passed": tuple(passed),
        "last_on": max((row.date for row in case.sessions), default=None),
        "_labels": {"number": "stage to train at", "name": "stage to train at"},
    }


def _stage(case: Case, stage: Stage, now: int | None, words: Words) -> dict[str, Any]:
    said = words["stages"][stage.number]
    names = {space.id: space.name for space in case.spaces}
    tasks = tasks_of(stage, case.spaces)
    own = [names[task] for task in tasks if task in names]
    state = "" if now is None else "passed" if stage.number < now else "now" if stage.number == now else "ahead"
    stops = tuple(words["tasks"][task] for task in tasks if task in STOP_TASKS)
    return {
        "number": stage.number, "name": stage_name(stage.number, words), "aim": said["aim"], "place": said["place"], "coach": said["coach"],
        "enter": said["enter"], "own": tuple(own), "tasks": tuple(task_name(case, task, words) for task in tasks), "task_ids": tasks,
        "stop_id": STOP_TASKS[stage.number > 0],
        "stops": stops, "other_tasks": len(tasks) > len(stops), "in_a_row": stage.in_a_row, "n_days": stage.n_days,
        "near": words["near"][stage.near], "profiles": tuple(_profiles(case, stage, tasks)), "slowest": stage.slowest,
        "full": state == "now" or (state == "ahead" and stage.number < STAGES[-1].number), "state": state,
    }


def _profiles(case: Case, stage: Stage, tasks: tuple[str, ...]) -> Iterator[str]:
    """Names of the profiles a stage is driven in, as the case uses them in the places of the stage."""
    known = [profile for profile in case.configuration.profiles if profile.speed_m_s is not None]
    if stage.slowest:
        slowest = min(known, key=lambda profile: profile.speed_m_s or 0, default=None)
        yield from () if slowest is None else (slowest.name,)
        return
    wanted = {space.profile for space in case.spaces if space.id in tasks}
    yield from (profile.name for profile in known if profile.id in wanted)


def _lesson(case: Case, words: Words) -> dict[str, Any]:
    """Which days and hours, from when to when, and whether the week holds what was planned."""
    planned, at = sessions(case), starts(case.training)
    wanted = case.training.sessions_a_week or 0
    return {
        "days": tuple(f"{words['weekdays'][weekday]} {_clock(hour, words)}" for weekday, hour in at.items()),
        "n_days": len(at), "short": 0 < len(at) < wanted,
        "first_on": planned[0].on if planned else None, "last_on": planned[-1].on if planned else None, "n_left": len(planned),
        "_labels": {"first_on": "day of the next lesson", "last_on": "day of the last lesson planned"},
    }


def _clock(at: time, words: Words) -> str:
    half = words["halves"][at.hour >= 12]
    return words["clock"].format(hour=at.hour, hour12=at.hour % 12 or 12, minute=f"{at.minute:02d}", half=half)


def _errors(case: Case, evidence: Evidence, words: Words) -> Iterator[dict[str, Any]]:
    """Each error pattern seen in the trial with the control asked for, often enough to be a sign or at least once."""
    found = signs(case, evidence, case.configuration.method)
    for sign_id, said in words["errors"].items():
        sign = found.get(sign_id)
        facts = sign.facts if sign and sign.seen else tuple(_seldom(sign_id, case, evidence))
        by_finding = any(finding.id == sign_id for finding in case.findings)
        if facts or by_finding:
            yield {
                "id": sign_id, "name": said["name"], "look": said["look"], "coach": said["coach"], "often": bool(sign and sign.seen) or by_finding,
                "shown": tuple(number(fact, words) for fact in facts[:2]), "measured": tuple(fact.label for fact in facts[:2]),
                "settings": tuple(one.setting.name for one in moved(case, evidence) if _because(one, sign_id, case, evidence)),
            }


def _seldom(sign_id: str, case: Case, evidence: Evidence) -> Iterator[Fact]:
    fact = evidence.of(_SELDOM.get(sign_id, ""), case.configuration.method)
    if fact is not None and fact.k:
        yield fact


def _because(one: Moved, sign_id: str, case: Case, evidence: Evidence) -> bool:
    seen = {name for name, sign in signs(case, evidence, case.configuration.method).items() if sign.seen}
    findings = {finding.id for finding in case.findings}
    return sign_id in seen | findings and any(sign_id in move.signs for move, _ in one.first)


def _goal(goal: Goal) -> dict[str, Any]:
    latest = goal.latest
    return {
        "says": goal.says, "levels": goal.levels, "level": goal.level, "weight": goal.weight,
        "now": latest.level if latest else "", "now_on": latest.on if latest else "",
        "level_says": _level(goal, goal.level), "now_says": _level(goal, latest.level if latest else None),
        "_labels": {"level": "level of the goal at the start"},
    }


def _level(goal: Goal, level: int | None) -> str:
    """What a level of a goal means; empty where its words are not recorded."""
    return goal.levels[level + 2] if level is not None and len(goal.levels) == 5 else ""


def _setting(one: Moved) -> dict[str, Any]:
    """A setting to look at; `later` is what waits until the first is settled on the chair."""
    return {
        "name": one.setting.name, "move": one.move, "watch": one.setting.watch,
        "later": " or ".join(dict.fromkeys(move.move for move, _ in one.then)),
        "because": tuple(dict.fromkeys(move.because for move, _ in one.first)),
        "seen": tuple(dict.fromkeys(said for _, told in one.first for said in told)),
    }


def _column(column: Any, words: Words) -> Mapping[str, Any]:
    means = words["columns"].get(column.name, column.means)
    return {"name": column.name, "head": column.head or column.name, "means": f"{means} ({column.unit})" if column.unit else means}


