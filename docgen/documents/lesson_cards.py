"""The lesson card: which two tasks it is for, what is carried over to it, and the line of its title."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.stage import STAGES, STOP_TASKS, tasks_of
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.documents.stages import near_at, profile_at, task_with_one_try
from docgen.evidence.rows_of_five import FULL
from docgen.evidence.training import stage_now, walked
from docgen.rendering.template import Gap

MADE_FROM = {
    "lesson_tasks": made_from(
        Privacy.TRAINING,
        "spaces.name",
        near="supervision",
        profile=("configuration.profiles", "spaces.name"),
    ),
    "lesson_stops": made_from(Privacy.TRAINING),
}

_LETTERS = "AB"  # rows of a card


class LessonTask(TypedDict):
    """One task of a lesson card.

    card    which card it is on, from 1
    letter  A or B, its row on the card
    backs   it is driving in reverse
    rows    tries done alone in each full row so far, as text; empty where none is full
    begun   counted tries of a row that is not full; `begun_alone` of them alone
    """

    card: int
    letter: str
    name: str
    profile: str | Gap
    near: str | Gap
    backs: bool
    rows: str
    begun: int
    begun_alone: int


class LessonStops(TypedDict):
    """Stops carried over: made alone since the last break, breaks since the count began, and how many a pass takes.

    waits   whether they wait for the therapist
    passed  whether they are passed at this step
    wanted  whether this step asks for any
    """

    in_a_row: int
    breaks: int
    waits: bool
    passed: bool
    wanted: bool


def lesson_tasks(case: Case, words: Words) -> Iterator[LessonTask]:
    """The tasks of the step to train at that are not passed, in its order, two to a card; at a step that adds one new
    way in a session, no two new ones are on a card."""
    now = stage_now(case)
    if now is None:
        return
    walk, stage = walked(case), STAGES[now]
    tasks = [task for task in tasks_of(stage, case) if task not in STOP_TASKS or not stage.in_a_row]
    still_open = [task for task in tasks if walk is None or task not in walk.mastered] or tasks
    counts = {judged.task: judged for judged in walk.still_open if judged.stage == now} if walk else {}
    new = frozenset(still_open) - counts.keys() if stage.one_new else frozenset[str]()
    for card, letter, task in _placed(still_open, new):
        count = counts.get(task)
        rows = count.rows if count else ()
        yield {
            "card": card,
            "letter": letter,
            "name": task_with_one_try(case, task, words),
            "profile": profile_at(case, stage, task, words),
            "near": near_at(case, stage, task, words),
            "backs": task == "back",
            "rows": ", ".join(map(str, rows)),
            "begun": count.n - FULL * len(rows) if count else 0,
            "begun_alone": count.n_alone - sum(rows) if count else 0,
        }


def _placed(tasks: Sequence[str], new: frozenset[str]) -> Iterator[tuple[int, str, str]]:
    """Each task with its card and its letter there."""
    card: list[str] = []
    number = 1
    for task in tasks:
        if len(card) == len(_LETTERS) or (task in new and not new.isdisjoint(card)):
            number, card = number + 1, []
        yield number, _LETTERS[len(card)], task
        card.append(task)


def lesson_stops(case: Case) -> LessonStops:
    """The stops of the step to train at."""
    now, walk = stage_now(case), walked(case)
    here = [judged for judged in walk.still_open if judged.stop and judged.stage == now] if walk else []
    return {
        "in_a_row": here[0].in_a_row if here else 0,
        "breaks": here[0].breaks if here else 0,
        "waits": bool(walk and any(judged.stop and judged.stage == now for judged in walk.waits)),
        "passed": bool(walk and "" in walk.mastered),
        "wanted": now is not None and STAGES[now].in_a_row > 0,
    }
