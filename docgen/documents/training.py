"""What the training plan and the lesson card show: where training is, stages, lessons, errors seen, settings, and how
sure a pass is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import time
from typing import Any

from docgen.case.model import Case
from docgen.case.need import Goal
from docgen.case.privacy import Privacy
from docgen.case.session import HELP
from docgen.case.stage import STAGES, STEPS
from docgen.case.supervision import Supervision
from docgen.case.who import Person
from docgen.criteria.ordered import thing_asked_for
from docgen.documents.activities import games, practice
from docgen.documents.drive_profiles import profiles_now
from docgen.documents.driving_errors import error_tables, errors_of, is_told
from docgen.documents.follow_up import repeated
from docgen.documents.lesson_cards import lesson_stops, lesson_tasks
from docgen.documents.made_from import made_from, of_people
from docgen.documents.parameters import limits_of, ordered_values
from docgen.documents.phrase import Words, number
from docgen.documents.row_rule import how_sure, row_rule, rule_told
from docgen.documents.stages import stage_name, stage_table, task_name
from docgen.documents.supervised import alone_against, alone_open, is_barred, is_hand_first, is_timed_on_another
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.stop_limits import stop_limits_m
from docgen.evidence.stop_rules import MOST_FATIGUE, MOST_PAIN, MOST_RISE
from docgen.evidence.training import stage_now, stops_standing, walked
from docgen.fit.feature import features
from docgen.fit.in_force import changes
from docgen.fit.schedule import due_on, lesson_of, people_wanted, sessions, starts
from docgen.fit.settings import Moved, drive_settings, moved, slowest, ways
from docgen.fit.signs import ever_seen, signs_now
from docgen.units import stretch

MADE_FROM = {
    "stage_at": made_from("training.stage"),
    "stages": made_from("training.stage", "spaces.name", "supervision", "configuration.profiles"),
    "ladder": made_from("training.prompts"),
    "lesson": made_from(
        "training.start_on", trial_minutes="trial.methods", over_trial=("trial.methods", "training.minutes")
    ),
    "substitute": of_people("coach"),
    "tips": made_from(Privacy.DEVICE, "training.stage"),
    "checked": made_from("limits.on", limited="limits.found"),
    "errors": made_from("findings", "trial.methods", "training.stage", "configuration.settings"),
    "errors_unseen": made_from("training.stage"),
    "settings_to_try": made_from(
        "findings",
        "trial.methods",
        "training.stage",
        limits=("configuration.settings", "configuration.chair.deceleration_m_s2"),
        hardest="configuration.settings",
    ),
    "settings_now": made_from("configuration.profiles", Privacy.TRAINING),  # as set since, told in the lessons
    "remarks_of_changes": made_from(Privacy.TRAINING),
    "near_now": made_from("supervision", other_chair="fitted", hand_first="fitted"),
    "goals_now": made_from("goals"),
    "stop_rules": made_from(
        Privacy.TRAINING, missed="trial.tasks.rule", least_room=("spaces", "configuration.chair.length_mm")
    ),
    "stop_limits": made_from("trial.tasks.within_m", "configuration.profiles"),
    "standing": made_from(Privacy.TRAINING),
    "waits": made_from(Privacy.TRAINING, "spaces.name"),
    "to_look": made_from(Privacy.TRAINING, "spaces.name"),
    "trainers": made_from("taught", "people.name"),
    "look_first": made_from(Privacy.TRAINING),
    "visits_ahead": made_from("follow_up"),
    "visits_held": made_from("follow_up"),
}
_FORWARD_CHECKED = ("vision", "hearing", "judgment")
_FIRST_WITH_STOPS = 3  # from this stage on the driver is taken to stop surely, which the first lesson shows again


def _least_room(evidence: Evidence, words: Words) -> str:
    """Where the chair has the least room to stop, and how much; empty where no room is known, or where that of a
    measured place cannot be worked out and may be less: one of which it is not said from where it was measured too."""
    places = evidence.stopping.places
    known = [(there.room_m, there.space.name) for there in places if there.room_m is not None]
    untold = (there.space.clear_ahead_mm and (there.room_m is None or not there.space.ahead_from) for there in places)
    if not known or any(untold):
        return ""
    room_m, name = min(known)
    return str(words["least_room"]["there"].format(name=name, room=stretch(room_m, "down")))


def training_tables(case: Case, evidence: Evidence, words: Words) -> dict[str, Any]:
    """Table name -> what the plan and the lesson card may show."""
    now = stage_now(case)
    seen_now = signs_now(case, evidence)
    to_try = [change for change in moved(case, evidence, seen_now) if not _decided(case, change)]
    errors = tuple(error_tables(case, evidence, seen_now, to_try, words))
    seen_errors = {error["id"] for error in errors}
    seen_before = ever_seen(case, evidence)
    stop_task = next((task for task in case.trial.tasks if task.shows == "stop"), None)
    return {
        "stage_at": _stage_at(case, now, words),
        "stages": tuple(stage_table(case, evidence, stage, now, words) for stage in STAGES),
        "ladder": tuple({"rung": rung, "says": says} for rung, says in zip(HELP, words["ladder"], strict=True)),
        "lesson": _lesson(case, evidence, words),
        "substitute": case.person(case.training.substitute) or Person(id="substitute", role="coach"),
        "tips": tuple(_tips(case, now)),
        "checked": tuple(_checked(case, words)),
        "errors": errors,
        "errors_unseen": tuple(
            {
                "name": error["name"],
                "told": is_told(key, case, evidence, seen_now.get(key)),
                "before": key in seen_before,
            }
            for key, error in errors_of(case, words).items()
            if key not in seen_errors
        ),
        "settings_to_try": tuple(_setting(case, change, words) for change in to_try),
        "settings_now": tuple(profiles_now(case, words)),
        "remarks_of_changes": tuple(
            {"on": change.on, "says": change.says} for change in changes(case) if change.profile is None
        ),
        "supervision": tuple(place for place in case.supervision if not place.is_later),
        "near_now": tuple(_near_now(case, place, words) for place in case.supervision),
        "lesson_tasks": tuple(lesson_tasks(case, words)),
        "lesson_stops": lesson_stops(case),
        "goals_now": tuple(_goal(goal) for goal in case.goals),
        "stop_rules": {
            "pain": MOST_PAIN,
            "rise": MOST_RISE,
            "fatigue": MOST_FATIGUE,
            "scale": 10,
            "missed": None if stop_task is None else stop_task.rule,
            "least_room": _least_room(evidence, words),
            "_labels": {"missed": "what counts as a stop done"},
        },
        "stop_limits": tuple(
            {"profile": profile.name, "within": stretch(limit_m, "down")}
            for profile, limit_m in stop_limits_m(evidence.stopping, None if stop_task is None else stop_task.within_m)
        ),
        "row_rule": tuple(row_rule(now, words)),
        "how_sure": tuple(how_sure(now, evidence)),
        "rule": rule_told(now, evidence),
        "waits": tuple(_waits(case, words)),
        "to_look": tuple(_to_look(case, words)),
        "trainers": tuple(_trainers(case, words)),
        "practice": practice(case),
        "games": tuple(games(case)),
        "look_first": tuple(words["look_first"]),
        "standing": tuple({"on": met.on, "rule": words["stop_rules"][met.kind]} for met in stops_standing(case)),
        "visits_ahead": tuple(_visits(case, words)),
        "visits_held": {"on": tuple(sorted(visit.done_on for visit in case.follow_up if visit.done_on))},
    }


def _number(fact: Fact | None, words: Words) -> Any:
    return None if fact is None else number(fact, words)


def _waits(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """What waits for the therapist to decide: of the step reached, the stops or a task, and since when."""
    if (walk := walked(case)) is None:
        return
    for judged in walk.waits:
        if judged.stage == walk.stage:
            task = words["the_stops"] if judged.stop else task_name(case, judged.task, words)
            yield {"on": judged.on, "task": task, "stops": judged.stop}


def _to_look(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """What a count asks to be looked at, and nothing is recorded as changed since: the task, its rows and the day."""
    if (walk := walked(case)) is None:
        return
    last_change = max((row.line for row in case.sessions if row.changed or row.new_count), default=0)
    latest = {(judged.stage, judged.task): judged for judged in walk.ended if judged.answer != "anew"}
    for judged in latest.values():
        if judged.answer in ("change", "look") and max(judged.lines) > last_change:
            yield {
                "on": judged.on,
                "task": words["the_stops"] if judged.stop else task_name(case, judged.task, words),
                "says": words["decided"][judged.answer],
                "rows": ", ".join(map(str, judged.rows)),
            }


_SKILLS_OF_A_TRAINER = ("stop",)


def _trainers(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """Who trains and who else can: skills of each and when last taught; `lacks` the skills that nobody taught them."""
    for person in filter(None, (case.person(case.training.coach), case.person(case.training.substitute))):
        of_person = [entry for entry in case.taught if entry.who == person.id and entry.skills]
        skills = dict.fromkeys(skill for entry in of_person for skill in entry.skills)
        lacks = [words["skills"][skill] for skill in _SKILLS_OF_A_TRAINER if skill not in skills]
        yield {
            "name": person.name,
            "on": max((entry.on for entry in of_person if entry.on), default=""),
            "skills": tuple(words["skills"][skill] for skill in skills),
            "lacks": words["taught_lacks"].format(
                who=person.name or words["a_trainer"], skills=words["lists"]["and"].join(lacks)
            )
            if lacks
            else "",
        }


def _stage_at(case: Case, now: int | None, words: Words) -> dict[str, Any]:
    walk = walked(case)
    passed = sorted({stage for stage, _ in walk.passed}) if walk else []
    return {
        "number": now,
        "id": "" if now is None else STEPS[now],
        "name": None if now is None else stage_name(now, words),
        "reached": walk is not None,
        "started": None if case.training.stage is None else stage_name(case.training.stage, words),
        "passed": tuple(stage_name(stage, words) for stage in passed),
        "last_on": max((row.date for row in case.sessions), default=None),
        "stops_first": walk is None and now is not None and now >= _FIRST_WITH_STOPS,
        "in_a_row": STAGES[_FIRST_WITH_STOPS - 1].in_a_row,
        "before": None if now is None else stage_name(_FIRST_WITH_STOPS - 1, words),
        "delivered": case.dates.delivered_on is not None,
        "coming": thing_asked_for(case),
        "_labels": dict.fromkeys(("number", "name", "started"), "step to train at"),
    }


def _near_now(case: Case, place: Supervision, words: Words) -> dict[str, Any]:
    """Who is near in one place; where something else holds for now, that alone; `after` the step that a later
    arrangement waits for, empty for what holds now; in how many seconds
    they reached the stop when that was timed, `other_chair` where they may step away and it was timed on another;
    `hand_first` where an arm's length waits for that time; what of hours alone is open, and what is against them;
    `barred` where what holds for now comes before every rule of driving there."""
    return {
        "place": place.place,
        "level": place.level,
        "by": place.by,
        "after": "" if place.after_stage is None else stage_name(place.after_stage, words),
        "until": place.until or "",
        "for_now": place.for_now or "",
        "barred": is_barred(place),
        "reach_s": place.reach_s,
        "reach_on": place.reach_on,
        "other_chair": is_timed_on_another(case, place) and place.level in ("same_room", "in_sight"),
        "hand_first": is_hand_first(case, place),
        "open": alone_open(case, place, words),
        "against": alone_against(case, place, words),
        "_labels": {"by": f"who is near {place.place}"},
    }


def _checked(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """When sight, hearing and judgment were last checked, and whether that check found a limit; a stage away from home
    asks for them."""
    for kind in _FORWARD_CHECKED:
        checks = [
            (limit.on, limit.found)
            for limit in case.limits
            if limit.kind == kind and limit.on and limit.found is not None
        ]
        on, limited = max(checks, default=(None, False))
        name = words["checked"][kind]
        yield {"kind": name, "on": on, "limited": limited, "_labels": {"on": f"check of {name}"}}


def _tips(case: Case, now: int | None) -> Iterator[dict[str, str]]:
    """What each feature asks of training, as long as it helps at the stage reached."""
    for wanted in case.configuration.features:
        feature = features()[wanted.id]
        if (now or 0) <= feature.until:
            yield {"name": feature.name, "training": feature.training}


def _lesson(case: Case, evidence: Evidence, words: Words) -> dict[str, Any]:
    """Which days and hours, from when to when, and whether the week holds what was planned.

    Before the first lesson also how long the driver held up in the trial, and whether lessons are planned longer than
    that.
    """
    planned, at = sessions(case), starts(lesson_of(case))
    wanted = case.training.sessions_a_week or 0
    held_up = evidence.of("session_minutes") if walked(case) is None else None
    held_up_min = held_up.value if held_up else None
    return {
        "trial_minutes": _number(held_up, words) if held_up_min is not None else "",
        "over_trial": held_up_min is not None and (case.training.minutes or 0) > held_up_min,
        "days": tuple(_hour(weekday, hour, words) for weekday, hour in at.items()),
        "n_days": len(at),
        "short": 0 < len(at) < wanted,
        "free": (free := any(hours.free for hours in case.training.week)),
        "together": bool(people_wanted(case)),
        "no_room": free and bool(wanted and case.training.minutes) and not at,
        "first_on": planned[0].on if planned else None,
        "last_on": planned[-1].on if planned else None,
        "n_left": len(planned),
        "first_at": _hour(planned[0].on.weekday(), planned[0].starts_at, words) if planned else "",
        "_labels": {"first_on": "day of the next session", "last_on": "day of the last session planned"},
    }


def _hour(weekday: int, at: time, words: Words) -> str:
    half = words["halves"][at.hour >= 12]
    clock = words["clock"].format(hour=at.hour, hour12=at.hour % 12 or 12, minute=f"{at.minute:02d}", half=half)
    return f"{words['weekdays'][weekday]} {clock}"


_N_LEVELS = 5  # from -2 to +2
_SECONDS = re.compile(r"\d s to |\bin \d[\d.]* s\b")  # of a start, a stop or a move of the seat


def _goal(goal: Goal) -> dict[str, Any]:
    latest = goal.latest
    return {
        "says": goal.says,
        "levels": goal.levels if len(goal.levels) == _N_LEVELS else (),  # one missing, none can be numbered
        "level": goal.level,
        "weight": goal.weight,
        "now": latest.level if latest else "",
        "now_on": latest.on if latest else "",
        "level_says": _level(goal, goal.level),
        "now_says": _level(goal, latest.level if latest else None),
        "_labels": {"level": "level of the goal at the start"},
    }


def _level(goal: Goal, level: int | None) -> str:
    """What a level of a goal means; empty where its words are not recorded."""
    return goal.levels[level + 2] if level is not None and len(goal.levels) == _N_LEVELS else ""


def _decided(case: Case, change: Moved) -> bool:
    """Whether the order records a value or leaves the setting as delivered, and nothing but findings bears on it: they
    were known when that was chosen."""
    entered = {drive_settings()[entry.setting].name for entry in case.configuration.settings}
    return not change.facts and change.setting.name in entered


def _setting(case: Case, change: Moved, words: Words) -> dict[str, Any]:
    """A setting to look at; `later` is what waits until the first is settled on the chair, `ordered` what the order
    records of it, `limits` each value with the range in which it passes; `hardest` None where more of the setting can
    throw the driver and nobody gave that range; `at_least` where
    the value is the least that passes; `faster` of a speed that comes down each profile above the slowest;
    `in_seconds` where a value is the time to a speed or an angle: less of the setting is then a larger number."""
    limits = limits_of(case, change.setting.name, words)
    ordered = ordered_values(case, change.setting.name, words)
    unlatched = change.setting is drive_settings()["latch"] and not case.configuration.is_latched
    return {
        "limits": tuple(limit for limit in limits if limit),
        "hardest": None if None in limits else "",
        "_labels": {"hardest": "the hardest that passes"},
        "ordered": ordered,
        "in_seconds": any(_SECONDS.search(value) for value in ordered),
        "name": change.setting.name,
        "move": words["parameter"]["stays_unlatched"] if unlatched and ordered else change.move,
        "watch": words["parameter"]["stays_unlatched_watch"] if unlatched and ordered else change.setting.watch,
        "at_least": change.setting.passes == "more" and bool(limits),
        "later": "" if unlatched and ordered else ways(change.then),
        "because": tuple(dict.fromkeys(move.because for move, _ in change.first)),
        "seen": tuple(dict.fromkeys(sign for move, signs in change.first if not move.follows for sign in signs)),
        "faster": _faster(case, change),
    }


def _faster(case: Case, change: Moved) -> tuple[str, ...]:
    """Of a speed that comes down: names of the profiles above the slowest one; none where that is not known."""
    slows = change.setting is drive_settings()["forward_speed"] and change.move == "down"
    least = slowest(case) if slows else None
    return tuple(profile.name for profile in case.configuration.profiles if least and profile.id != least.id)


def _visits(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """Follow-ups to come; without a day until delivery is recorded."""
    for visit in case.follow_up:
        if visit.is_open:
            yield {
                "after_weeks": visit.after_weeks,
                "latest_weeks": visit.latest_weeks or "",
                "what": visit.what,
                "due_on": due_on(case, visit) or "",
                "repeated": repeated(visit, words),
            }
