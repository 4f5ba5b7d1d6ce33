"""What `chair_now_outlived` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

NOW = "request.chair_now"
HISTORY = "request.chair_now_history"
BY = "request.chair_now_delivered_by"
MANUAL = ("request.chair_now_kind", "manual")
OUTGROWN = (NOW, "He has outgrown its frame.")

POWER = ("request.chair_now_kind", "power")


def delivered(*day):
    """The day by which the chair was delivered, as a change."""
    return (BY, date(*day))


RECORDS = Records(
    "chair_now_outlived",
    met=[
        ("the whole case", []),
        ("five years old on the day of the request", [OUTGROWN, delivered(2021, 5, 4)]),
        ("delivered in May 2021, the measures told", [(NOW, "Its seat is 280 mm deep."), delivered(2021, 5, 31)]),
        (
            "the measures told in its history",
            [OUTGROWN, (HISTORY, "Its seat was 280 mm deep, and he needs 330 mm."), delivered(2021, 5, 31)],
        ),
        (
            "the measures told, and no manual chair among the alternatives",
            [(NOW, "Its seat is 280 mm deep."), delivered(2021, 5, 31), ("alternatives", [])],
        ),
        (
            "a manual chair, which the client cannot push, and its size alone",
            [MANUAL, (NOW, "Its seat is 280 mm deep."), delivered(2021, 5, 31)],
        ),
        ("a manual chair, which the client cannot push", [MANUAL, OUTGROWN, delivered(2021, 5, 31)]),
        (
            "a day of the letter and none of the request",
            [OUTGROWN, delivered(2020, 5, 1), ("request.requested_on", GONE)],
        ),
    ],
    cannot_tell=[
        ("a manual chair by its words alone", [(NOW, "He has a manual chair."), delivered(2021, 5, 31)]),
        ("a power chair, and a manual one that he cannot push", [POWER, OUTGROWN, delivered(2021, 5, 31)]),
        ("a manual chair and no measure of a push", [MANUAL, OUTGROWN, ("alternatives", []), delivered(2021, 5, 31)]),
        ("five years old a day after the request, and outgrown", [OUTGROWN, delivered(2021, 5, 5)]),
        ("no day of delivery", [OUTGROWN, (BY, GONE)]),
        ("no chair in use", [(NOW, GONE)]),
    ],
    does_not_apply=[
        ("a chair on loan", [("request.chair_now_owned", False), delivered(2024, 5, 1)]),
        (
            "no day of the request, and none of the letter",
            [OUTGROWN, delivered(2021, 5, 5), ("request.requested_on", GONE), ("dates.written_on", GONE)],
        ),
    ],
    ready={"met": []},
    only_recorded=True,
    rests_on=("request.chair_now", "request.chair_now_delivered_by"),
)

test_each_record_gets_its_answer = RECORDS.test()
