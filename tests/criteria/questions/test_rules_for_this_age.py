"""What `rules_for_this_age` says of each record."""

from __future__ import annotations

from datetime import date

from changes import YOUNG
from records import Records
from whole_case import GONE

TWENTY = ("client.born_on", date(2006, 3, 3))
UNDER, FROM = {"years": 21, "young": True}, {"years": 21}

RECORDS = Records(
    "rules_for_this_age",
    met=[("rules for any age", [])],
    cannot_tell=[("no day of birth", [("client.born_on", GONE)])],
    settings=[
        (FROM, [], "met"),
        (FROM, [TWENTY], "not_met"),
        (FROM, [("client.born_on", date(2005, 5, 4))], "met"),
        (FROM, [("client.born_on", GONE)], "cannot_tell"),
        (UNDER, [YOUNG], "met"),
        (UNDER, [], "not_met"),
    ],
    rests_on=("client.born_on",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
