"""Rows summed to day totals give the same counts; what needs the single attempt is told as not to be had."""

import random
from collections import defaultdict
from datetime import date

import pytest
from gathered import of_each
from support import CASES

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import DayTotal
from docgen.evidence.done import counted, overruled
from docgen.evidence.gather import evidence

_SUMMED = ("activations", "missed", "unintended", "contacts", "person_contacts", "prompts_verbal", "prompts_physical")
_OF_BLOCK = ("distance_m", "minutes")
# what an attempt by itself says, or its place in the day: totals do not know it
_NEEDS_ROWS = ("time.", "time_ratio.", "hold.", "late.", "from_totals.", "unfair.")
_ENDS_THERE = (".release", ".hold")  # of session.<method>.<day>


def summed(case: Case) -> Case:
    """The case with its rows as day totals: one a task, with every release time, and none of what a row alone says."""
    groups: dict[tuple[date, str], dict[str, list[Row]]] = defaultdict(lambda: defaultdict(list))
    for row in case.records:
        groups[row.date, row.method][row.task].append(row)
    totals: list[DayTotal] = []
    for (on, method), tasks in groups.items():
        rows = [row for of_task in tasks.values() for row in of_task]
        # an amount or count that stands on some rows alone cannot be laid on one task
        whole = {name for name in (*_SUMMED, *_OF_BLOCK) if all(getattr(row, name) is not None for row in rows)}
        once = {
            name: sum(filled)
            for name in (*_SUMMED, *_OF_BLOCK)
            if name not in whole and (filled := [v for row in rows if (v := getattr(row, name)) is not None])
        }
        scales = {
            f"{scale}_{when}": filled[0 if when == "before" else -1]
            for scale in ("fatigue", "tone", "pain")
            for when in ("before", "after")
            if (filled := [v for row in rows if (v := getattr(row, f"{scale}_{when}")) is not None])
        }
        for place, (task, of_task) in enumerate(tasks.items()):
            times = tuple(row.release_s for row in of_task if row.release_s is not None)
            totals.append(
                DayTotal(
                    line=len(totals) + 2,
                    date=on,
                    method=method,
                    task=task,
                    attempts=len(of_task),
                    done=sum(row.success for row in of_task),
                    releases_s=times or None,
                    order=next((row.order for row in rows if row.order is not None), None),
                    **{name: getattr(of_task[0], name) for name in ("supervisor", "speed_m_s")},
                    **{name: sum(getattr(row, name) for row in of_task) for name in whole},
                    **(once | scales if place == 0 else {}),
                )
            )
    return case.with_records(()).with_totals(tuple(totals))


def counts(case: Case) -> dict[str, tuple[object, ...]]:
    """Every fact that totals can carry, as its numbers."""
    return {
        name: (fact.kind, fact.value, fact.low, fact.high, fact.k, fact.verdict)
        for name, fact in evidence(case).items()
        if not name.startswith(_NEEDS_ROWS) and not name.endswith(_ENDS_THERE) and fact.kind != "words"
    }


def made(seed: int, base: Case) -> Case:
    """A case with rows drawn at random that keep to the definition of done."""
    draw = random.Random(seed)
    methods = [method.id for method in base.trial.methods] or ["a"]
    tasks = [(task.id, task.shows == "stop") for task in base.trial.tasks]
    rows = []
    for _ in range(draw.randint(1, 60)):
        task, stop = draw.choice(tasks)
        done = draw.random() < 0.7
        rows.append(
            Row(
                line=len(rows) + 2,
                date=date(2026, 3, draw.randint(1, 4)),
                method=draw.choice(methods),
                task=task,
                success=done,
                contacts=0 if done else draw.randint(0, 3),
                unintended=draw.randint(0, 2),
                activations=draw.randint(0, 9),
                missed=0 if done else draw.randint(0, 2),
                release_s=round(draw.uniform(0.2, 2), 2) if stop or draw.random() < 0.4 else None,
                distance_m=round(draw.uniform(1, 20), 1),
                minutes=round(draw.uniform(0.5, 3), 1),
            )
        )
    return base.with_records(tuple(rows))


def same_numbers(of_rows: Case, of_totals: Case) -> None:
    rows, totals = counts(of_rows), counts(of_totals)
    assert rows.keys() == totals.keys() and any(name.startswith("success.") for name in rows)
    for name, numbers in rows.items():
        if name != "session_minutes":  # a drop late in a session cannot be seen in totals
            for mine, other in zip(numbers, totals[name], strict=True):
                assert mine == (pytest.approx(other) if isinstance(other, float) else other), name


@pytest.mark.parametrize("name", CASES)
def test_a_demo_by_its_totals_has_the_same_counts(name):
    case = counted(CASES[name])
    assert case.records
    same_numbers(case, summed(case))


@pytest.mark.parametrize("seed", range(40))
def test_rows_at_random_by_their_totals_have_the_same_counts(seed):
    case = made(seed, CASES[sorted(CASES)[seed % len(CASES)]])
    same_numbers(case, summed(case))


@of_each("seed", range(40, 50))
def test_a_day_in_rows_and_the_others_in_totals_have_the_same_counts(seed):
    case = made(seed, CASES[sorted(CASES)[seed % len(CASES)]])
    first = min(row.date for row in case.records)
    by_totals = summed(case.with_records(tuple(row for row in case.records if row.date != first)))
    same_numbers(case, by_totals.with_records(tuple(row for row in case.records if row.date == first)))


# ---- by hand -----------------------------------------------------------------------------------------------


def case_with(totals=(), rows=(), **trial):
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "x",
            "trial": {
                "methods": ({"id": "a", "name": "pads"}, {"id": "b", "name": "stick"}),
                "tasks": ({"id": "halt", "name": "halt", "shows": "stop"}, {"id": "door", "name": "door"}),
            }
            | trial,
            "configuration": {"method": "a"},
        },
        strict=False,
    )
    return case.with_totals(tuple(totals)).with_records(tuple(rows))


def total(line, attempts, done, task="door", day=3, **more):
    return DayTotal(line, date(2026, 3, day), "a", task, attempts, done, **more)


def test_stops_within_another_task_count_as_stops_and_not_as_attempts():
    told = evidence(case_with([total(2, 12, 9, stops_asked=6, stops_made=5), total(3, 4, 4, task="halt")]))
    assert (told["stop_request.a"].k, told["stop_request.a"].n) == (9, 10)
    assert (told["success.a"].k, told["success.a"].n) == (13, 16)
    assert told["stops_missed.a"].text == "2026-03-03, 1 of 6: what happened is not recorded"
    assert told["stops_missed.a"].totals == (2,) and told["stops_missed.a"].rows == ()


def test_the_slowest_of_a_day_decides_and_gives_no_bound():
    rule = evidence(case_with([total(2, 5, 5, slowest_release_s=0.9), total(3, 5, 5, day=4, slowest_release_s=1.4)]))
    release = rule.stopping.release
    assert (release.seconds, release.why, release.bound.upper_s) == (1.4, "slowest", None)
    assert rule["release.a"].value is None and "only the slowest release is known" in rule["release.a"].note
    assert (rule["release_slowest.a"].value, rule["release_slowest.a"].totals) == (1.4, (3,))
    assert rule["release_slowest.a"].note == "of 2 days only the slowest is known, from totals"


def test_what_needs_an_order_is_said_not_to_be_had():
    told = evidence(case_with([total(2, 12, 9, slowest_release_s=1.0)]))
    assert told["from_totals.a"].text == "all 12 attempts"
    assert told["from_totals.a"].note == (
        "from totals: no time of an attempt and no shortest touch, of releases only the slowest of a day; their order "
        "is not known, so no change within a day"
    )
    assert not any(name.startswith(("late.", "time.", "hold.")) for name in told)


@of_each(
    ("more", "strict"),
    [
        ({"contacts": 3}, 7),
        ({"contacts": 0, "missed": 4}, 10),  # a touch missed in a task that is no stop does not undo it
        ({"contacts": 1, "missed": 4}, 9),
        ({"contacts": 30}, 0),
        ({"took_over": 2}, 8),
        ({"contacts": 2, "person_contacts": 2}, 8),
    ],
)
def test_all_done_with_collisions_is_counted_strictly(more, strict):
    case = case_with([total(2, 10, 10, **more)])
    assert counted(case).totals[0].done == strict
    assert [entry.row.line for entry in overruled(case)] == ([2] if strict < 10 else [])
    if strict < 10:
        told = evidence(case)
        assert (told["done_recorded.a"].k, told["done_strict.a"].k) == (10, strict)
        assert told["done_strict.a"].totals == (2,) and told["success.a"].k == strict
        assert evidence(case_with(case.totals, done_rule="task_rule"))["success.a"].k == 10


def test_a_collision_fits_an_attempt_that_was_not_done():
    case = case_with([total(2, 10, 9, contacts=3)])
    assert counted(case) is case and evidence(case)["success.a"].k == 9


def day_line(line, **more):
    return total(line, 0, 0, task="", **more)


def test_what_is_told_of_a_whole_day_has_the_attempts_of_that_day_for_its_base():
    tasks = [total(2, 10, 9, day=3), total(3, 9, 9, day=3, task="stop"), total(4, 8, 8, day=4)]
    told = evidence(case_with([*tasks, day_line(5, day=3, unintended=1, contacts=2, distance_m=260, minutes=22)]))
    rate, per_m = told["unintended.a"], told["contacts.a"]
    assert (rate.k, rate.n, rate.note.partition(";")[0]) == (1, 19, "1 in 22 minutes")
    assert (per_m.k, per_m.n, per_m.note.partition(";")[0]) == (2, 19, "2 in 260 m")
    assert (told["success.a"].k, told["success.a"].n, told["attempts.a"].value) == (26, 27, 27)
    counts = evidence(case_with([*tasks, day_line(5, day=3, unintended=1)]))["unintended_counted.a"]
    assert (counts.k, counts.n, counts.note) == (1, 19, "8 of 27 attempts do not record it")


def test_minutes_of_a_whole_day_are_those_of_what_its_tasks_count():
    told = evidence(
        case_with([total(2, 10, 9, unintended=1), total(3, 9, 9, task="stop", unintended=0), day_line(4, minutes=22)])
    )
    assert (told["unintended.a"].k, told["unintended.a"].n) == (1, 19)
    told = evidence(case_with([total(2, 10, 9, unintended=1), total(3, 9, 9, task="stop"), day_line(4, minutes=22)]))
    assert told["unintended.a"].value is None  # of one task it is not known


def test_a_collision_of_a_whole_day_that_was_all_done_takes_an_attempt_away():
    lines = [total(2, 10, 10), total(3, 4, 4, task="stop"), day_line(4, contacts=2)]
    assert [line.done for line in counted(case_with(lines)).totals] == [8, 4, 0]
    assert counted(case_with([total(2, 10, 9), *lines[1:]])).totals[0].done == 9
