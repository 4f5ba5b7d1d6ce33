"""What `latch_is_limited` says of each record."""

from __future__ import annotations

from changes import NO_PROFILE
from ready_case import PROFILES
from records import Records
from whole_case import GONE

LATCHED = [(("configuration", "latched"), True), (("configuration", "latched_now"), "It is off.")]
WHOLE_LATCHED = [("configuration.latched", True), ("configuration.latched_now", "It is off.")]

RECORDS = Records(
    "latch_is_limited",
    met=[
        ("no profile latched at the start", [*WHOLE_LATCHED, ("configuration.profiles.0.latched", False)]),
        (
            "a latch of eight seconds",
            [
                *WHOLE_LATCHED,
                ("configuration.profiles.0.latched", True),
                ("configuration.profiles.0.latch_timeout_s", 8.0),
            ],
        ),
    ],
    cannot_tell=[
        ("the stop of a latched drive", [("configuration.stop.driver", "gives a soft sip in the latched mode")]),
        ("neither feature nor profile", [("configuration.features", []), *NO_PROFILE]),
        ("a latch and no profile", [*WHOLE_LATCHED, *NO_PROFILE]),
        ("a profile that does not say", WHOLE_LATCHED),
        ("a latch without an end", [*WHOLE_LATCHED, ("configuration.profiles.0.latched", True)]),
        (
            "a latch, and not who turns it on",
            [("configuration.latched", True), ("configuration.profiles.0.latched", False)],
        ),
    ],
    does_not_apply=[
        (
            "a stick, and nothing that latches",
            [("configuration.latched", GONE), ("configuration.features.+", {"id": "proportional_control"})],
        ),
        ("a drive that is held", [("configuration.latched", False)]),
        (
            "a drive that is held, and a stop that is not latched",
            [("configuration.latched", False), ("configuration.stop.driver", "lets go: it is not latched")],
        ),
    ],
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
