"""What `years_fit` says of each record."""

from __future__ import annotations

from datetime import date

import pytest
from records import Records
from whole_case import GONE, ROWS, WHOLE, ask, changed, grounds

BORN = ("client.born_on", date(2016, 11, 2))
OLD = ("client.born_on", date(1906, 11, 2))
TEXT = "findings.0.says"


def aged(born: date, words: str) -> list[tuple[str, object]]:
    """Born so, of an age in words; evaluated on 2026-04-02."""
    return [("client.born_on", born), (TEXT, f"He is {words}, and small.")]


def days_alone(*days: date) -> list[tuple[str, object]]:
    """No day but these in the record."""
    keys = ("written_on", "encounter_on", "supplier_assessed_on", "home_visit_on", "accepted_on")
    gone = [(key, GONE) for key in WHOLE if key not in ("format", "id", "dates")]
    return [*gone, ("dates", dict(zip(keys, days, strict=False)))]


APRIL = {year: date(year, 4, 10) for year in (2010, 2015, 2024, 2025, 2026, 2035)}

RECORDS = Records(
    "years_fit",
    met=[
        ("the whole case", []),
        ("nine, and born so", [BORN, (TEXT, "He is nine, and near other children he slows down.")]),
        ("of another", [BORN, (TEXT, "His brother is six.")]),
        ("of someone of the case", [BORN, ("people.0.name", "Linnet Roe"), (TEXT, "Linnet, who is 42, is near.")]),
        ("of before", [BORN, (TEXT, "Since he was aged two, he has been lifted.")]),
        ("of a chair", [BORN, (TEXT, "A twenty-year-old group 2 chair stands in the hall.")]),
        ("of the chair now", [BORN, ("request.chair_now_history", "Seven years old at referral; the back is bent.")]),
        ("of a van", [BORN, (TEXT, "Rides in a 20 year old van.")]),
        ("of a home", [BORN, (TEXT, "The family has a forty-year-old mobile home.")]),
        ("of a score", [BORN, (TEXT, "Neck pain is 1. Fatigue was 3 and is 8; tiredness is five.")]),
        ("a length", [BORN, (TEXT, "The room at the ramp is 1.2 m.")]),
        (
            "119 years, looked up",
            [OLD, ("confirmed", [{"of": "client.born_on", "values": [OLD[1]], "by": "ot", "on": date(2026, 4, 2)}])],
        ),
        ("a visit of twelve years ago", [("dates.home_visit_on", date(2014, 4, 1))]),
        ("nine months and a half on the first day", [("client.born_on", date(2025, 5, 4))]),
        ("nine, and eight and a half by birth", aged(date(2017, 10, 2), "nine")),
        ("nine, and just eight by birth", aged(date(2018, 4, 2), "nine")),
        ("ninety-one, and ninety and a half by birth", aged(date(1935, 10, 2), "ninety-one years old")),
        ("239 days before the others", [("dates.ordered_on", date(2025, 6, 26))]),
        ("a year and 61 days before the others", [("dates.ordered_on", date(2024, 12, 21))]),
        ("a leap day", [("dates.ordered_on", date(2024, 2, 29))]),
        ("two days alone", days_alone(APRIL[2010], APRIL[2026]), []),
        ("a birth and no day", [*days_alone(), ("client", {"name": "Robin Example", "born_on": BORN[1]})], []),
    ],
    not_met=[
        ("119 years", [OLD]),
        ("105 years and a half on the first day", [("client.born_on", date(1920, 8, 20))]),
        ("110 years, or 100 and a half", [("client.born_on", date(1915, 8, 20))]),
        ("110 years, or just 100", [("client.born_on", date(1916, 2, 20))]),
        ("born on the first day", [("client.born_on", date(2026, 2, 20))]),
        ("born after the trial, and nine in words", aged(date(2061, 11, 2), "nine")),
        ("nine, and eleven and a half by birth", aged(date(2014, 10, 2), "nine")),
        ("nine, and seven and a half by birth", aged(date(2018, 10, 2), "nine")),
        ("ten, and just twelve by birth", aged(date(2014, 4, 2), "ten")),
        ("nine, and seventeen by birth, ten years on", aged(date(2008, 9, 1), "nine")),
        ("nine in a long sentence", aged(date(2006, 11, 2), f"nine, and as {'very ' * 20}small as others")),
        ("240 days before the others", [("dates.ordered_on", date(2025, 6, 25))]),
        ("a year and 60 days before the others", [("dates.ordered_on", date(2024, 12, 22))]),
        ("an order of 2206", [("dates.ordered_on", date(2206, 4, 10))]),
        ("two rows of the year before", [], [row | {"date": date(2025, 3, 3)} for row in ROWS[:2]] + ROWS[2:]),
        ("three days alone", days_alone(*(APRIL[year] for year in (2024, 2025, 2026))), []),
        ("a day that five years may mean", days_alone(*(APRIL[year] for year in (2015, 2024, 2025, 2026, 2035))), []),
        (
            "thirteen years before most of the others",
            days_alone(APRIL[2010], date(2012, 10, 10), *(APRIL[year] for year in (2024, 2025, 2026))),
            [],
        ),
        ("born after the trial", [("client.born_on", date(2061, 11, 2))]),
        ("nine in words, twenty by birth", [("client.born_on", date(2006, 11, 2)), (TEXT, "He is nine, and small.")]),
        ("of the client, who has the last name of another", [BORN, (TEXT, "Robin Example is 42 years old.")]),
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
