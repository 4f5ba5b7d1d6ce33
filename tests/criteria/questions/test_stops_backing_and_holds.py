"""What `stops_backing_and_holds` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

BACKS = ("configuration.commands", [{"does": "forward", "input": "a puff"}, {"does": "back", "input": "a sip"}])
WAYS = [{"does": does, "input": f"a puff {does}"} for does in ("forward", "left", "right")]
ONE_WAY = ("configuration.commands", WAYS)
NO_BACKING = ("configuration.stop.backing", GONE)

RECORDS = Records(
    "stops_backing_and_holds",
    met=[("the whole case", []), ("reverse, and how that is stopped", [BACKS]), ("no reverse", [ONE_WAY, NO_BACKING])],
    cannot_tell=[
        ("not said what the brakes do", [("configuration.stop.brakes", GONE)]),
        ("reverse, and not how that is stopped", [BACKS, NO_BACKING]),
        ("not said whether there is reverse", [NO_BACKING]),
    ],
    only_recorded=True,
    rests_on=("configuration.stop.backing", "configuration.stop.brakes"),
)

test_each_record_gets_its_answer = RECORDS.test()
