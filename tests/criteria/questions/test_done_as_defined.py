"""What `done_as_defined` says of each record."""

from __future__ import annotations

from datetime import date

import pytest
from records import Records
from whole_case import ROWS, ask, attempts, changed, grounds

from docgen.case.totals import DayTotal
from docgen.criteria.criterion import Grounds
from docgen.evidence.gather import evidence

RULE = "trial.done_rule"
STICK_ROWS = ROWS[:16]
PADS = attempts("pads", "1" * 24)


def rows(*at: int, **columns: object) -> list[dict[str, object]]:
    """The rows of the whole case with these columns on some of the attempts with the pads."""
    return [*STICK_ROWS, *(row | columns if i in at else row for i, row in enumerate(PADS))]


BY_HAND_EACH = [*STICK_ROWS, *(row | {"prompts_physical": int(i == 3)} for i, row in enumerate(PADS))]

RECORDS = Records(
    "done_as_defined",
    met=[
        ("the whole case", []),
        ("a collision, and the rule of the task decides", [(RULE, "task_rule")], rows(0, contacts=2)),
        ("a collision in an attempt that is not done", [], rows(0, contacts=2, success=False)),
    ],
    not_met=[
        ("done with a collision", [], rows(0, contacts=1)),
        ("done with a touch of a person", [], rows(0, contacts=1, person_contacts=1)),
        ("done with help by hand", [], BY_HAND_EACH),
        ("a stop done that was missed", [], rows(1, missed=1)),
        ("by the rule named", [(RULE, "no_contact_no_help")], rows(0, contacts=1)),
    ],
    cannot_tell=[
        ("no row", [], []),
        ("help by hand counted once for a block in which all is done", [], rows(0, prompts_physical=2)),
    ],
    rests_on=("trial.methods", "trial.tasks"),
    needs_rows=True,
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_strict_count_stands_in_every_number_until_the_rule_is_said_and_both_are_told():
    touched = rows(0, 1, 2, contacts=1)
    strict, by_task = grounds(changed(), touched), grounds(changed((RULE, "task_rule")), touched)
    assert (strict.evidence["success.pads"].k, by_task.evidence["success.pads"].k) == (21, 24)
    assert strict.evidence["stop_request.pads"].k == by_task.evidence["stop_request.pads"].k - 1
    for here in (strict, by_task):
        assert (here.evidence["done_recorded.pads"].k, here.evidence["done_strict.pads"].k) == (24, 21)
        assert "24 of 24 as written, 21 of 24 by the strict rule" in ask("done_as_defined", here).reason
    assert ask("done_as_defined", strict).rows == strict.evidence["done_strict.pads"].rows == (18, 19, 20)


def test_a_block_with_help_by_hand_that_no_attempt_tells_is_told_by_its_first_row_its_control_and_its_day():
    answer = ask("done_as_defined", grounds(changed(), rows(0, prompts_physical=2)))
    first = grounds(changed(), rows()).case.records[len(STICK_ROWS)]
    assert answer.rows == (first.line,) and f"In the block of pads on {first.date} every attempt" in answer.reason


def test_a_day_of_totals_with_help_by_hand_that_one_line_tells_is_told_by_its_first_line():
    here = grounds(changed(), rows=())
    case = here.case.with_totals(
        tuple(
            DayTotal(line, date(2026, 3, 3), "pads", task, 5, 5, prompts_physical=by_hand)
            for line, task, by_hand in ((7, "straight", 2), (9, "door", None))
        )
    )
    answer = ask("done_as_defined", Grounds(case, evidence(case), here.fit))
    assert (answer.status, answer.rows, answer.totals) == ("cannot_tell", (), (7,))


@pytest.mark.parametrize(
    ("rule", "status"), [(None, "cannot_tell"), ("no_contact_no_help", "met"), ("task_rule", "met")]
)
def test_what_done_meant_in_a_total_is_asked(rule, status):
    here = grounds(changed((RULE, rule)), rows=())
    case = here.case.with_totals((DayTotal(7, date(2026, 3, 3), "pads", "door", 5, 4),))
    answer = ask("done_as_defined", Grounds(case, evidence(case), here.fit))
    assert (answer.status, answer.totals) == (status, (7,) if rule is None else ())


def test_a_record_without_a_contradiction_has_one_count():
    assert not [name for name in grounds(changed(), ROWS).evidence if name.startswith("done_")]


def test_a_try_of_training_done_with_a_collision_is_told_and_counted_strictly():
    tries = [
        {"date": date(2026, 8, 20), "stage": 3, "task": task, "success": True, "contacts": int(task == "left")}
        for task in ("left", "right")
    ]
    here = grounds(changed(("sessions", tries)))
    assert here.evidence["since.done_recorded"].k == 2 and here.evidence["since.done_strict"].k == 1
    assert "1 row of the training is written down as done with a collision" in ask("done_as_defined", here).reason
