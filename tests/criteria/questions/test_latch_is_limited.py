"""What `latch_is_limited` says of each record."""

from __future__ import annotations

from ready_case import PROFILES
from records import Records

LATCHED = [(("configuration", "latched"), True), (("configuration", "latched_now"), "It is off.")]

RECORDS = Records(
    "latch_is_limited",
    ready={
        "met": [
            *LATCHED,
            (PROFILES, lambda found: [{**one, "latched": True, "latch_timeout_s": 8.0} for one in found]),
        ],
        "cannot_tell": LATCHED,
        "does_not_apply": [],
    },
    rests_on=("configuration.latched",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
