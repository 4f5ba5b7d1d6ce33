"""What `years_fit` says of each record."""

from __future__ import annotations

from datetime import date

import pytest
from records import Records
from whole_case import GONE, ROWS, WHOLE, ask, changed, grounds

BORN = ("client.born_on", date(2016, 11, 2))
OLD = ("client.born_on", date(1906, 11, 2))
TEXT = "findings.0.says"

RECORDS = Records(
    "years_fit",
    met=[
        ("the whole case", []),
        ("nine, and born so", [BORN, (TEXT, "He is nine, and near other children he slows down.")]),
        ("of another", [BORN, (TEXT, "His brother is six.")]),
        ("of before", [BORN, (TEXT, "Since he was aged two, he has been lifted.")]),
        ("of a chair", [BORN, (TEXT, "A twenty-year-old group 2 chair stands in the hall.")]),
        ("of a van", [BORN, (TEXT, "Rides in a 20 year old van.")]),
        ("of a home", [BORN, (TEXT, "The family has a forty-year-old mobile home.")]),
        ("a length", [BORN, (TEXT, "The room at the ramp is 1.2 m.")]),
        (
            "119 years, looked up",
            [OLD, ("confirmed", [{"of": "client.born_on", "values": [OLD[1]], "by": "ot", "on": date(2026, 4, 2)}])],
        ),
        ("a visit of twelve years ago", [("dates.home_visit_on", date(2014, 4, 1))]),
    ],
    not_met=[
        ("119 years", [OLD]),
        ("born after the trial", [("client.born_on", date(2061, 11, 2))]),
        ("nine in words, twenty by birth", [("client.born_on", date(2006, 11, 2)), (TEXT, "He is nine, and small.")]),
        ("twenty-five in words", [BORN, (TEXT, "A twenty-five-year-old man.")]),
        ("twenty-five, with a chair", [BORN, (TEXT, "A twenty-five-year-old man with a chair.")]),
        ("twenty-five, in a chair", [BORN, (TEXT, "A 25-year-old driver in a power chair.")]),
        ("an order of 2062", [("dates.ordered_on", date(2062, 4, 10))]),
        ("a row of the year before", [], [ROWS[0] | {"date": date(2025, 3, 3)}, *ROWS[1:]]),
        ("a visit of thirty years ago", [("dates.home_visit_on", date(1996, 4, 1))]),
        ("an order of 2036", [("dates.ordered_on", date(2036, 4, 10))]),
        ("an order of 2016", [("dates.ordered_on", date(2016, 4, 10))]),
        ("an order of 2126", [("dates.ordered_on", date(2126, 4, 10))]),
        ("an order of 1926", [("dates.ordered_on", date(1926, 4, 10))]),
        ("a visit of thirteen years ago", [("dates.home_visit_on", date(2013, 4, 1))]),
    ],
    cannot_tell=[
        ("no day", [(key, GONE) for key in WHOLE if key not in ("format", "id")], []),
    ],
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize(
    ("changes", "named"),
    [
        ([OLD], "perhaps the year is 2006"),
        ([("client.born_on", date(2006, 11, 2)), (TEXT, "He is nine.")], "perhaps the year is 2016"),
        ([("dates.ordered_on", date(2062, 4, 10))], "perhaps the year is 2026"),
        ([("dates.ordered_on", date(2025, 4, 10))], "perhaps the year is 2026"),
    ],
)
def test_the_year_that_was_meant_is_named(changes, named):
    answer = ask("years_fit", grounds(changed(*changes)))
    assert answer.status == "not_met" and named in answer.reason, answer.reason
