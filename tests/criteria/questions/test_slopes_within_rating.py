"""What `slopes_within_rating` says of each record. A slope of 1:12 is 8.33%: 2010 ADA Standards 405.2."""

from __future__ import annotations

from records import Records

RAMP = {"id": "ramp", "name": "ramp", "kind": "ramp", "slope_percent": 8.33}


def ramp(percent=8.33, most=10.5):
    """A ramp of this slope, and what the chair takes."""
    there = {key: value for key, value in (RAMP | {"slope_percent": percent}).items() if value is not None}
    return [("spaces.+", there), *([("configuration.chair.most_slope_percent", most)] if most else [])]


RECORDS = Records(
    "slopes_within_rating",
    met=[("within it", ramp()), ("as steep as it takes", ramp(10.5))],
    not_met=[("steeper", ramp(10.6)), ("1:8, which an old site may have", ramp(12.5))],
    cannot_tell=[
        ("what the chair takes is not said", ramp(most=None)),
        ("how steep is not said", ramp(None)),
        ("no place", [("spaces", [])]),
    ],
    does_not_apply=[("the whole case", [])],
    ready={"does_not_apply": [], "cannot_tell": [(("spaces",), lambda spaces: [*spaces, RAMP])]},
    rests_on=("spaces",),
)

test_each_record_gets_its_answer = RECORDS.test()
