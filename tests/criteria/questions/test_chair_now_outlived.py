"""What `chair_now_outlived` says of each record."""

from __future__ import annotations

from records import Records

NOW = "request.chair_now"
HISTORY = "request.chair_now_history"
MAY_2021 = (HISTORY, "This chair was delivered in May 2021, and its brakes are sound.")

RECORDS = Records(
    "chair_now_outlived",
    met=[
        ("delivered six years before", [(HISTORY, "This chair was delivered in April 2020.")]),
        ("delivered in 2019", [(HISTORY, "It was delivered in 2019 and got new tires in 2024.")]),
        (
            "delivered in May 2021, the measures told",
            [(NOW, "Its seat is 280 mm deep, and he needs 330 mm."), MAY_2021],
        ),
    ],
    cannot_tell=[
        ("delivered in May 2021, and outgrown", [(NOW, "He has outgrown its frame."), MAY_2021]),
        ("delivered in 2024", [(HISTORY, "It was delivered in 2024.")]),
    ],
    does_not_apply=[
        ("a chair on loan", [(HISTORY, "The loan began in September 2025; it was delivered in 2024.")]),
        ("no day of delivery", [(HISTORY, "Its brakes are sound.")]),
        ("no chair in use", [("request.chair_now", ""), (HISTORY, "")][:0] + [("request.chair_now_history", "None.")]),
    ],
    ready={"met": []},
    only_recorded=True,
    rests_on=("request.chair_now",),
)

test_each_record_gets_its_answer = RECORDS.test()
