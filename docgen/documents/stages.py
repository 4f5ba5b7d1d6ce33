"""A step as the plan and the lesson card show it: its tasks, their profiles, who is near, and what is done so far."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from docgen.case.model import Case
from docgen.case.stage import STEPS, STOP_TASKS, Stage, tasks_of
from docgen.case.supervision import Supervision
from docgen.criteria.near import IN_REACH, parted
from docgen.criteria.ways_out import backing_tried, may_not_turn
from docgen.documents.phrase import Words, missing, number
from docgen.documents.supervised import is_barred
from docgen.evidence.fact import Evidence
from docgen.evidence.stages import Judged, Walk
from docgen.evidence.training import stage_now, walked
from docgen.fit.settings import slowest
from docgen.rendering.template import Gap, Number

# beyond the lessons, in rooms and days of the client's own, the record alone can say who is near
_IN_THE_DAY = ("tight", "real_day", "out")
_NEAREST = ("hands_on_stop", "arms_length", "same_room", "in_sight", "never_alone", "on_call", "alone")


def task_name(case: Case, task: str, words: Words) -> str:
    """A task in words: of the stages, of the trial, or one of the client's own places."""
    named: Mapping[str, str] = words["tasks"]
    spaces = (space.name for space in case.spaces if space.id == task)
    own = next(spaces, None) or next((tried.name for tried in case.trial.tasks if tried.id == task), None)
    return named.get(task) or own or task.replace("_", " ")


def task_with_one_try(case: Case, task: str, words: Words) -> str:
    """A task with what one try of it is, where it is one of the client's own places.

    Where the chair may have to back out of it, and that was never tried, a hand stays at the stop on the way out.
    """
    name, space = task_name(case, task, words), next((space for space in case.spaces if space.id == task), None)
    if space is None:
        return name
    way = "untried_back" if _backing_untried(case) and may_not_turn(case, space) else space.kind
    return f"{name} ({words['one_try'][way]})"


def _barred_tasks(case: Case) -> set[str]:
    """Tasks and places at which something else holds for now than driving with someone near."""
    return {
        task for place in case.supervision if is_barred(place) for task in place.covers or _spaces_named(case, place)
    }


def _spaces_named(case: Case, place: Supervision) -> tuple[str, ...]:
    """Spaces that a place of supervision names, where it covers none by id: the ramp is the ramp in front.

    Read out of its name, for a bar must hold where `covers` was left out: without this a task would be told as open.
    """
    words = set(re.findall(r"\w+", place.place.lower())) - {"the", "a", "at", "on", "in"}
    return tuple(
        space.id
        for space in case.spaces
        if words and words <= set(re.findall(r"[^\W_]+", f"{space.id} {space.name or ''}".lower()))
    )


def _task_ahead(case: Case, task: str, words: Words) -> str:
    """A task with what one try of it is, and whether its place is not open as planned."""
    name = task_with_one_try(case, task, words)
    if task not in _barred_tasks(case):
        return name
    return f"{name.removesuffix(')')}; {words['not_open']})" if name.endswith(")") else f"{name} ({words['not_open']})"


def _backing_untried(case: Case) -> bool:
    """Whether the requested control backs the chair up, and no try of it is recorded."""
    return bool(case.configuration.backs) and not backing_tried(case)


def stage_name(stage: int, words: Words) -> str:
    """The name of a stage."""
    names: Sequence[str] = words["figures"]["ladder_names"]
    return names[stage]


def step_aim(stage: int, case: Case, words: Words) -> str:
    """What the driver learns in a step of training, to follow its name.

    Reverse only where a way back is recorded, rest only where something puts the control in rest.
    """
    aims: Mapping[str, str] = words["step_aims"]
    step = STEPS[stage]
    lacking: tuple[str, ...] = () if case.configuration.backs else (f"{step}_no_way_back",)
    lacking += () if case.configuration.rests else (f"{step}_no_rest",)
    return next((aims[aim] for aim in lacking if aim in aims), aims[step])


def stage_table(case: Case, evidence: Evidence, stage: Stage, now: int | None, words: Words) -> dict[str, Any]:
    """What may be shown of one stage; counts only of the one to train at, `now`."""
    description = words["stages"][stage.number]
    tasks = tasks_of(stage, case)
    state = "" if now is None else "passed" if stage.number < now else "now" if stage.number == now else "ahead"
    stop_id = STOP_TASKS[stage.number > 0]
    counted = tuple(dict.fromkeys((*tasks, stop_id) if stage.in_a_row else tasks))
    walk = walked(case) if state == "now" else None
    return {
        "number": stage.number,
        "band": words["figures"]["bands"][stage.band],
        "name": stage_name(stage.number, words),
        "aim": step_aim(stage.number, case, words),
        "place": description["place"],
        "coach": description["coach"],
        "enter": description["enter"],
        "tasks": tuple(_task_ahead(case, task, words) for task in tasks),
        "near": _near_in_stage(case, stage, counted, words),
        "profiles": tuple(_profiles(case, stage, tasks)),
        "slowest": stage.slowest,
        "counted": tuple(task_with_one_try(case, task, words) for task in counted),
        "task_near": tuple(near_at(case, stage, task, words) for task in counted),
        "task_profile": tuple(profile_at(case, stage, task, words) for task in counted),
        "so_far": tuple(_so_far(case, walk, evidence, task, words) for task in counted),
        "state": state,
        "checked": stage.places == "out",
    }


def _profiles(case: Case, stage: Stage, tasks: tuple[str, ...]) -> Iterator[str]:
    """Names of the profiles a stage is driven in, as the case uses them in the places of the stage."""
    if stage.slowest:
        yield from (profile.name for profile in [slowest(case)] if profile)
        return
    wanted = {space.profile for space in case.spaces if space.id in tasks}
    yield from (profile.name for profile in case.configuration.profiles if profile.id in wanted)


def profile_at(case: Case, stage: Stage, task: str, words: Words) -> str | Gap:
    """The profile of one task: of its place, or of its stage; a gap where the slowest is not known; else that of
    wherever it is driven."""
    of_place = {profile.id: profile.name for profile in case.configuration.profiles}
    space = next((space for space in case.spaces if space.id == task), None)
    if space and space.profile in of_place:
        return of_place[space.profile]
    if stage.slowest:
        return next(_profiles(case, stage, ()), None) or missing(words)(
            "configuration.profiles", "which setting is the slowest"
        )
    return str(words["of_the_place"])


def _hand_stays(case: Case, stage: Stage, tasks: Collection[str]) -> bool:
    """Whether a hand stays at the stop: the stops of the step wait for the therapist, or a task backs out of a place
    where that was never tried."""
    walk = walked(case)
    if stage.number == stage_now(case) and walk and any(judged.stop for judged in _waiting(walk)):
        return True
    return _backing_untried(case) and any(may_not_turn(case, space) for space in case.spaces if space.id in tasks)


def _nearest(case: Case, stage: Stage, tasks: Collection[str]) -> str:
    """How near someone stays at tasks of a stage: what the stage or the record asks for, whichever is nearest."""
    return min(
        (stage.near, *(place.level for place in case.supervision if not set(tasks).isdisjoint(place.covers))),
        key=_NEAREST.index,
    )


def _untold(case: Case, stage: Stage, tasks: Collection[str], words: Words) -> Gap | None:
    """A gap where the record says of a task in the client's own day nothing of who is near."""
    if stage.id not in _IN_THE_DAY or (stage.places == "out" and not set(tasks).difference(stage.tasks, STOP_TASKS)):
        return None  # a way outside that nobody has named yet: what the step asks for
    covered = {task for place in case.supervision for task in place.covers}
    if covered.issuperset(set(tasks).difference(STOP_TASKS)):
        return None
    return missing(words)("supervision", words["near_there"])


def _near_in_stage(case: Case, stage: Stage, tasks: Collection[str], words: Words) -> str | Gap:
    """How near someone stays at a stage as a whole."""
    untold = _untold(case, stage, tasks, words)
    if untold is not None:
        return untold
    return str(words["near"]["hands_on_stop" if _hand_stays(case, stage, tasks) else _nearest(case, stage, tasks)])


def near_at(case: Case, stage: Stage, task: str, words: Words) -> str | Gap:
    """How near someone stays at one task: what the stage and the record ask for, whichever is nearer; who, where the
    record asks for just that.

    Where something else holds in a place for now, that follows. A stop asked for on the way is as near as what it is
    part of.
    """
    if task in STOP_TASKS and task not in tasks_of(stage, case):
        return str(words["as_on_the_way"])
    if (untold := _untold(case, stage, (task,), words)) is not None:
        return untold
    places = [place for place in case.supervision if task in place.covers]
    level = _nearest(case, stage, (task,))
    who = dict.fromkeys(_who_is_near(place.by, level, words) for place in places if place.by and place.level == level)
    hand = "hands_on_stop" if _hand_stays(case, stage, (task,)) else level
    how_near = words["near_untried_back"] if task == "back" and _backing_untried(case) else words["near"][hand]
    nearness = ": ".join(filter(None, (how_near, words["lists"]["or"].join(who))))
    return ". ".join(
        (
            nearness,
            *(
                words["for_now_at"].format(place=place.place, for_now=place.for_now.rstrip("."))
                for place in places
                if place.for_now
            ),
        )
    )


def _who_is_near(by: str, level: str, words: Words) -> str:
    """Who they are; those whom the record puts out of arm's reach are set apart from those within it."""
    near, far = parted(by) if level in IN_REACH else ((by,), ())
    if not near or not far:
        return by
    return str(words["out_of_reach"].format(near=", ".join(near), far=", ".join(far)))


def _is_without_help(case: Case, walk: Walk, task: str) -> bool:
    """Whether tries of a task at the step reached count for nothing, for the help of none of them is written."""
    rows = [row for row in case.sessions if row.task == task and row.stage == walk.stage]
    return any(row.help is None and row.line in walk.uncounted for row in rows)


def _so_far(case: Case, walk: Walk | None, evidence: Evidence, task: str, words: Words) -> str | Number | Gap:
    """Tries done alone of the open count, or that the task is passed, waits for the therapist or was not tried; empty
    where nothing is counted yet."""
    if walk is None:
        return ""
    if any(task == judged.task or (judged.stop and task in STOP_TASKS) for judged in _waiting(walk)):
        return str(words["waits_for_therapist"])
    if (fact := evidence.of("open", task)) is not None:
        return number(fact, words)
    if task not in STOP_TASKS and task not in walk.mastered and _is_without_help(case, walk, task):
        return str(words["help_not_recorded"])
    passed = "" if task in STOP_TASKS else task
    return str(words["passed_task"] if passed in walk.mastered else words["not_counted"])


def _waiting(walk: Walk) -> Iterator[Judged]:
    return (judged for judged in walk.waits if judged.stage == walk.stage)
