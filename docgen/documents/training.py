"""What the training plan and its tick sheets show: stages, lessons, errors seen with their settings, and how sure a pass is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from datetime import time
from itertools import count, product
from string import ascii_uppercase
from typing import Any

from docgen.case.model import Case
from docgen.case.need import Goal, Supervision
from docgen.case.session import COLUMNS
from docgen.case.stage import STAGES, STOP_TASKS, Stage, tasks_of
from docgen.case.who import Person
from docgen.documents.phrase import Words, missing, number
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.stop_rules import MOST_FATIGUE, MOST_PAIN, MOST_RISE
from docgen.evidence.training import stage_now, stops_standing, walked
from docgen.fit.feature import features
from docgen.fit.match import ALL_SITES, driving_sites
from docgen.fit.schedule import sessions, starts, visits
from docgen.fit.settings import InForce, Moved, in_force, moved, slowest, ways
from docgen.fit.signs import RELEASE_LATE_S, RISE, Sign, signs, signs_now
from docgen.rendering.template import Gap

_ONCE = ("date", "stage", "minutes", "distance_m", "fatigue_before", "fatigue_after", "tone_before", "tone_after", "pain_before",
         "pain_after", "skin", "injury", "stopped", "cleared_by", "changed", "coach")
# facts that show an error at least once, below what makes it a sign: of the trial, and of the lessons
_SELDOM = {"missed_often": "missed", "unintended_often": "unintended", "contacts_often": "contacts"}
_IN_LESSONS = {"stops_missed": "stops", "release_late": "release_slowest", "contacts_often": "n_contacts", "unintended_often": "n_unintended",
               "missed_often": "n_missed", "corners_lost": "turns", "tone_up": "tone_rise", "tired": "fatigue_rise"}
# errors that only a control with one of these features can show
_ONLY_WITH = {"rear_lost_in_turn": ("rear_side_pads", "second_rear_sensor")}
_NEAREST = ("hands_on_stop", "arms_length", "same_room", "in_sight", "on_call", "alone")
_FORWARD_CHECKED = ("vision", "hearing", "judgment")
_FIRST_WITH_STOPS = 3  # from this stage on the driver is taken to stop surely, which the first lesson shows again


def training_tables(case: Case, evidence: Evidence, words: Words) -> dict[str, Any]:
    """Table name -> what the plan and the tick sheets may show."""
    now = stage_now(case)
    seen_now = signs_now(case, evidence)
    to_try = moved(case, evidence, seen_now)
    errors = tuple(_errors(case, evidence, seen_now, to_try, words))
    told = {one["id"] for one in errors}
    return {
        "stage_at": _stage_at(case, now, words),
        "stages": tuple(_stage(case, evidence, stage, now, words) for stage in STAGES),
        "ladder": tuple({"rung": rung, "says": says} for rung, says in enumerate(words["ladder"])),
        "lesson": _lesson(case, words),
        "substitute": case.person(case.training.substitute) or Person(id="substitute", role="coach"),
        "tips": tuple(_tips(case, now)),
        "checked": tuple(_checked(case, words)),
        "errors": errors,
        "errors_unseen": tuple({"name": said["name"]} for key, said in errors_of(case, words).items() if key not in told),
        "settings_to_try": tuple(_setting(one) for one in to_try),
        "settings_now": tuple(_in_force(one) for one in in_force(case)),
        "near_now": tuple(_near_now(place) for place in case.supervision),
        "sheet_once": tuple(_column(c, words) for c in COLUMNS if c.name in _ONCE),
        "sheet_tries": tuple(_column(c, words) for c in COLUMNS if c.name not in _ONCE),
        "goals_now": tuple(_goal(goal) for goal in case.goals),
        "stop_rules": {"pain": MOST_PAIN, "rise": MOST_RISE, "fatigue": MOST_FATIGUE, "scale": 10,
                       "missed": next((task.rule for task in case.trial.tasks if task.shows == "stop"), None),
                       "_labels": {"missed": "what counts as a stop done"}},
        "passing": _passing(case, evidence, now, words),
        "standing": tuple({"on": met.on, "rule": words["stop_rules"][met.kind]} for met in stops_standing(case)),
        "visits_ahead": tuple(_visits(case)),
        "visits_held": {"on": tuple(sorted(visit.done_on for visit in case.follow_up if visit.done_on))},
    }


def task_name(case: Case, task: str, words: Words) -> str:
    """A task in words: of the stages, of the trial, or one of the client's own places."""
    own = [part.name for part in (*case.spaces, *case.trial.tasks) if part.id == task]
    return words["tasks"].get(task) or (own[0] if own else task.replace("_", " "))


def _one_try(case: Case, task: str, words: Words) -> str:
    """A task with what one try of it is, where it is one of the client's own places."""
    kind = next((space.kind for space in case.spaces if space.id == task), None)
    return f"{task_name(case, task, words)} ({words['one_try'][kind]})" if kind else task_name(case, task, words)


def stage_name(stage: int, words: Words) -> str:
    """The name of a stage."""
    return words["figures"]["ladder_names"][stage]


def _number(fact: Fact | None, words: Words) -> Any:
    return None if fact is None else number(fact, words)


def _of_100(chance: float | None) -> int:
    """A chance as so many times in 100, rounded up: an error is never told smaller than it is."""
    return math.ceil((chance or 0.0) * 100 - 1e-9)


def _passing(case: Case, evidence: Evidence, now: int | None, words: Words) -> dict[str, Any]:
    """How often the table errs for one task, and how often it sends a good driver back from a whole stage."""
    moved_by, held_by = evidence.of("moved_by_chance"), evidence.of("held_by_chance")
    driven = [task for task in tasks_of(STAGES[now], case) if task not in STOP_TASKS] if now is not None else []
    held = held_by.value if held_by and held_by.value else 0.0
    return {"tries": _number(evidence.of("tries_to_pass"), words), "poor": case.training.mastery.poor * 100,
            "good": case.training.mastery.good * 100, "moved": _of_100(moved_by.value if moved_by else None), "held": _of_100(held),
            "n_tasks": len(driven), "held_stage": _of_100(1 - (1 - held) ** len(driven))}


def _stage_at(case: Case, now: int | None, words: Words) -> dict[str, Any]:
    found = walked(case)
    passed = sorted({stage for stage, _ in found.passed}) if found else []
    return {
        "number": now, "name": None if now is None else stage_name(now, words), "reached": found is not None,
        "started": case.training.stage, "passed": tuple(passed),
        "last_on": max((row.date for row in case.sessions), default=None),
        "stops_first": found is None and now is not None and now >= _FIRST_WITH_STOPS, "in_a_row": STAGES[_FIRST_WITH_STOPS - 1].in_a_row,
        "before": None if now is None else max(0, _FIRST_WITH_STOPS - 1),
        "delivered": case.dates.delivered_on is not None,
        "_labels": {"number": "stage to train at", "name": "stage to train at"},
    }


def _stage(case: Case, evidence: Evidence, stage: Stage, now: int | None, words: Words) -> dict[str, Any]:
    said = words["stages"][stage.number]
    tasks = tasks_of(stage, case)
    state = "" if now is None else "passed" if stage.number < now else "now" if stage.number == now else "ahead"
    stops = tuple(words["tasks"][task] for task in tasks if task in STOP_TASKS)
    stop_id = STOP_TASKS[stage.number > 0]
    counted = tuple(dict.fromkeys((*tasks, stop_id)))
    found = walked(case) if state == "now" else None
    letters = _letters()
    return {
        "number": stage.number, "name": stage_name(stage.number, words), "aim": said["aim"], "place": said["place"], "coach": said["coach"],
        "enter": said["enter"], "tasks": tuple(_one_try(case, task, words) for task in tasks), "task_ids": tasks,
        "stop_id": stop_id, "stops": stops, "other_tasks": len(tasks) > len(stops), "in_a_row": stage.in_a_row, "n_days": stage.n_days,
        "near": words["near"][stage.near], "profiles": tuple(_profiles(case, stage, tasks)), "slowest": stage.slowest,
        "counted": tuple(_one_try(case, task, words) for task in counted), "counted_ids": counted,
        "letters": tuple("S" if task == stop_id else next(letters) for task in counted),
        "task_near": tuple(_near(case, stage, task, words) for task in counted),
        "task_profile": tuple(_profile_of(case, stage, task, words) for task in counted),
        "so_far": tuple(_so_far(found, evidence, task, "open", words) for task in counted),
        "unaided": tuple(_so_far(found, evidence, task, "open_unaided", words) for task in counted),
        "carried": tuple(_carried(evidence, task, words) if state == "now" else "" for task in counted),
        "full": state == "now" or (state == "ahead" and stage.number < STAGES[-1].number), "state": state,
        "before_now": now is not None and stage.number == now - 1 and case.sessions != (), "checked": stage.places == "out",
    }


def _letters() -> Iterator[str]:
    """A letter for each task in turn, without S, which is the stop; after the last one AA, AB and so on."""
    return ("".join(letters) for n in count(1) for letters in product(ascii_uppercase.replace("S", ""), repeat=n))


def _profiles(case: Case, stage: Stage, tasks: tuple[str, ...]) -> Iterator[str]:
    """Names of the profiles a stage is driven in, as the case uses them in the places of the stage."""
    if stage.slowest:
        yield from (profile.name for profile in [slowest(case)] if profile)
        return
    wanted = {space.profile for space in case.spaces if space.id in tasks}
    yield from (profile.name for profile in case.configuration.profiles if profile.id in wanted)


def _profile_of(case: Case, stage: Stage, task: str, words: Words) -> str | Gap:
    """The profile of one task: of its place, or of its stage; a gap where the slowest is not known; else that of wherever it is driven."""
    of_place = {profile.id: profile.name for profile in case.configuration.profiles}
    space = next((space for space in case.spaces if space.id == task), None)
    if space and space.profile in of_place:
        return of_place[space.profile]
    if stage.slowest:
        return next(_profiles(case, stage, ()), None) or missing(words)("configuration.profiles", "which profile is the slowest")
    return words["of_the_place"]


def _near(case: Case, stage: Stage, task: str, words: Words) -> str:
    """How near someone stays at one task: what the stage and the record ask for, whichever is nearer; who, where the record asks for just that.

    Where something else holds in a place for now, that follows. A stop asked for on the way is as near as what it is part of.
    """
    if task in STOP_TASKS and task not in tasks_of(stage, case):
        return words["as_on_the_way"]
    places = [place for place in case.supervision if task in place.covers]
    level = min((stage.near, *(place.level for place in places)), key=_NEAREST.index)
    who = dict.fromkeys(place.by for place in places if place.by and place.level == level and not place.for_now)
    told = ": ".join(filter(None, (words["near"][level], words["lists"]["or"].join(who))))
    return ". ".join((told, *(words["for_now_at"].format(place=place.place, for_now=place.for_now.rstrip(".")) for place in places if place.for_now)))


def _so_far(found: Any, evidence: Evidence, task: str, name: str, words: Words) -> Any:
    """Tries done of the open count, or that the task is mastered or not yet tried; empty where nothing is counted yet."""
    if found is None:
        return ""
    if (fact := evidence.of(name, task)) is not None:
        return number(fact, words)
    return words["mastered_task"] if task in found.mastered else words["not_tried"]


def _carried(evidence: Evidence, task: str, words: Words) -> Any:
    """The open count of a task to carry over to the next sheet; empty where it starts from nothing."""
    fact = evidence.of("open", task)
    return "" if fact is None else number(fact, words)


def _near_now(place: Supervision) -> dict[str, Any]:
    """Who is near in one place; where something else holds for now, that alone."""
    return {"place": place.place, "level": place.level, "by": place.by, "until": place.until or "", "for_now": place.for_now or "",
            "_labels": {"by": f"who is near {place.place}"}}


def _checked(case: Case, words: Words) -> Iterator[dict[str, Any]]:
    """When sight, hearing and judgment were last checked; a stage away from home asks for them."""
    for kind in _FORWARD_CHECKED:
        on = max((limit.on for limit in case.limits if limit.kind == kind and limit.on), default=None)
        yield {"kind": words["checked"][kind], "on": on, "_labels": {"on": f"check of {words['checked'][kind]}"}}


def _tips(case: Case, now: int | None) -> Iterator[dict[str, str]]:
    """What each feature asks of training, as long as it helps at the stage reached."""
    for wanted in case.configuration.features:
        feature = features()[wanted.id]
        if (now or 0) <= feature.until:
            yield {"name": feature.name, "training": feature.training}


def _lesson(case: Case, words: Words) -> dict[str, Any]:
    """Which days and hours, from when to when, and whether the week holds what was planned."""
    planned, at = sessions(case), starts(case.training)
    wanted = case.training.sessions_a_week or 0
    return {
        "days": tuple(_hour(weekday, hour, words) for weekday, hour in at.items()),
        "n_days": len(at), "short": 0 < len(at) < wanted,
        "first_on": planned[0].on if planned else None, "last_on": planned[-1].on if planned else None, "n_left": len(planned),
        "first_at": _hour(planned[0].on.weekday(), planned[0].starts_at, words) if planned else "",
        "_labels": {"first_on": "day of the next lesson", "last_on": "day of the last lesson planned"},
    }


def _hour(weekday: int, at: time, words: Words) -> str:
    half = words["halves"][at.hour >= 12]
    clock = words["clock"].format(hour=at.hour, hour12=at.hour % 12 or 12, minute=f"{at.minute:02d}", half=half)
    return f"{words['weekdays'][weekday]} {clock}"


def errors_of(case: Case, words: Words) -> dict[str, Mapping[str, Any]]:
    """Every error that the control asked for can show, with the words for its sites; where no part says its site, the words for all.

    At several sites: what to look at of each of them, the name for all, and else the words of the first that has some, in the order of the language.
    """
    asked = [wanted.id for wanted in case.configuration.features]
    sites = driving_sites(features()[name] for name in asked)
    known = frozenset() if sites == ALL_SITES else sites
    found = {}
    for key, said in words["errors"].items():
        if key in _ONLY_WITH and not any(name in asked for name in _ONLY_WITH[key]):
            continue
        own = [texts for site, texts in said.items() if isinstance(texts, Mapping) and site in known]
        first = {name: text for texts in reversed(own) for name, text in texts.items() if name != "name" or len(known) == 1}
        looks = list(dict.fromkeys(texts["look"] for texts in own if "look" in texts))
        found[key] = {"stop": False} | {name: text for name, text in said.items() if isinstance(text, str)} | first | ({"look": " ".join(looks)} if looks else {})
    return found


def _errors(case: Case, evidence: Evidence, seen_now: Mapping[str, Sign], to_try: Sequence[Moved], words: Words) -> Iterator[dict[str, Any]]:
    """Each error seen: in the lessons once there are some, else in the trial; or told by a finding, or usual with this control alone."""
    findings = {finding.id for finding in case.findings}
    for sign_id, said in errors_of(case, words).items():
        sign = seen_now.get(sign_id)
        shown = tuple(_in_lessons(sign_id, sign, evidence)) if case.sessions else tuple(_in_trial(sign_id, case, evidence))
        expected = not shown and sign_id not in findings
        if expected and sign_id not in _ONLY_WITH:
            continue
        often = bool(sign and sign.seen) or sign_id in findings
        yield {
            "id": sign_id, "name": said["name"], "look": said["look"], "coach": said["coach"], "stop": said["stop"], "often": often, "expected": expected,
            "seen": "" if not shown else "lessons" if case.sessions else "trial",
            "shown": tuple(number(fact, words) for _, fact in shown), "measured": tuple(words["shown"][where] for where, _ in shown),
            "what": words["shown_what"].get(sign_id, ""),
            "settings": tuple(one.setting.name for one in to_try if _because(one, sign_id)) if often else (),
        }


def _in_trial(sign_id: str, case: Case, evidence: Evidence) -> Iterator[tuple[str, Fact]]:
    """Facts of the trial that show an error often enough to be a sign, or at least once."""
    sign = signs(case, evidence, case.configuration.method).get(sign_id)
    if sign is not None and sign.seen:
        yield from (("trial", fact) for fact in sign.facts[:1])
    elif (fact := evidence.of(_SELDOM.get(sign_id, ""), case.configuration.method)) is not None and fact.k:
        yield "trial", fact


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
    return bool(fact.k) if fact.kind == "count" else sign_id == "release_late" and fact.value >= RELEASE_LATE_S or fact.kind == "score" and fact.value >= RISE


def _because(one: Moved, sign_id: str) -> bool:
    return any(sign_id in move.signs for move, _ in one.first)


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
        "name": one.setting.name, "move": one.move, "watch": one.setting.watch, "later": ways(one.then),
        "because": tuple(dict.fromkeys(move.because for move, _ in one.first)),
        "seen": tuple(dict.fromkeys(said for _, told in one.first for said in told)),
    }


def _in_force(one: InForce) -> dict[str, Any]:
    """A profile as it is set now, and each change of it since delivery."""
    profile = one.profile
    return {"name": profile.name, "speed_m_s": profile.speed_m_s, "turn_deg_s": profile.turn_deg_s, "used": profile.used, "why": profile.why,
            "changed_on": tuple(on for on, _ in one.changes), "changed": tuple(says for _, says in one.changes),
            "_labels": {key: f"{label} of the {profile.name} profile{' now, see the change' if key in one.unsure else ''}"
                        for key, label in (("speed_m_s", "speed"), ("turn_deg_s", "turn rate"))} | {
                        "used": f"where the {profile.name} profile is used", "why": f"why the {profile.name} profile is set so"}}


def _visits(case: Case) -> Iterator[dict[str, Any]]:
    """Follow-ups to come; without a day until delivery is recorded."""
    due = {id(visit): on for on, visit in visits(case)}
    for visit in case.follow_up:
        if visit.done_on is None:
            yield {"after_weeks": visit.after_weeks, "what": visit.what, "due_on": due.get(id(visit), "")}


def _column(column: Any, words: Words) -> Mapping[str, Any]:
    means = words["columns"].get(column.name, column.means)
    return {"name": column.name, "head": column.head or column.name, "means": f"{means} ({column.unit})" if column.unit else means}
