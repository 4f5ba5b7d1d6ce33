"""What `alarm_has_its_act` says of each record."""

from __future__ import annotations

from emergencies import NECK, SEEN
from records import Records


def alarm(**given):
    """The alarm of an injury of the neck, as a change."""
    answers = [{"ask": "alarm_pressure", **SEEN, **given}]
    return [NECK, ("conditions", [{"id": "autonomic_dysreflexia", "answers": answers}])]


RECORDS = Records(
    "alarm_has_its_act",
    met=[("a number with its act", alarm(number=120, says="do as for a headache"))],
    cannot_tell=[
        ("a number alone", alarm(number=120)),
        ("no diagnosis", [("diagnoses", []), ("conditions", [])]),
    ],
    does_not_apply=[
        ("no alarm is recorded", [NECK, ("conditions", [])]),
        ("words without a number", alarm(says="ask the nurse")),
    ],
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
