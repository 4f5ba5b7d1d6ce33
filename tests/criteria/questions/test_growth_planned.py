"""What `growth_planned` says of each record."""

from __future__ import annotations

from datetime import date

from changes import YOUNG
from records import Records
from whole_case import GONE

RECORDS = Records(
    "growth_planned",
    met=[
        ("a plan", [YOUNG]),
        (
            "a finding that a feature answers",
            [
                YOUNG,
                ("request.growth", GONE),
                ("findings.+", {"id": "growth_expected", "says": "Grows."}),
                ("configuration.features.0.because.+", "growth_expected"),
            ],
        ),
    ],
    cannot_tell=[
        ("no plan", [YOUNG, ("request.growth", GONE)]),
        ("no plan, and no day of the request", [YOUNG, ("request.growth", GONE), ("request.requested_on", GONE)]),
        ("no day of birth", [("client.born_on", GONE)]),
        ("a pediatric base and no plan", [("configuration.chair.base_code", "K0890"), ("request.growth", GONE)]),
        (
            "eighteen on the day after the request, and no plan",
            [("client.born_on", date(2008, 5, 5)), ("request.growth", GONE)],
        ),
        (
            "a finding that nothing answers",
            [YOUNG, ("request.growth", GONE), ("findings.+", {"id": "growth_expected", "says": "Grows."})],
        ),
    ],
    does_not_apply=[
        ("an adult", []),
        ("an adult, and no day of the request", [("request.requested_on", GONE)]),
        ("eighteen on the day of the request", [("client.born_on", date(2008, 5, 4)), ("request.growth", GONE)]),
    ],
    rests_on=("client.born_on",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
