"""What `trial_days_are_visits` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import ROWS, ask, changed, grounds

DAYS = sorted({row["date"] for row in ROWS})


def _visits(*days):
    return [("visits", [{"id": f"day_{n}", "on": on, "by": "evaluator"} for n, on in enumerate(days)])]


RECORDS = Records(
    "trial_days_are_visits",
    met=[("a visit on each day", _visits(*DAYS))],
    not_met=[("a day without a visit", _visits(*DAYS[1:])), ("a visit on another day alone", _visits("2020-01-01"))],
    cannot_tell=[("no rows", _visits(*DAYS), [])],
    does_not_apply=[("no visits", [("visits", [])])],
    rests_on=("trial.tasks", "trial.methods"),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_day_is_named():
    assert "2" in ask("trial_days_are_visits", grounds(changed(*_visits(*DAYS[1:])))).reason
