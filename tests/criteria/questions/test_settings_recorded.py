"""What `settings_recorded` says of each record."""

from __future__ import annotations

from changes import NO_PROFILE
from records import Records
from whole_case import GONE

RECORDS = Records(
    "settings_recorded",
    met=[
        ("the whole case", []),
    ],
    cannot_tell=[
        ("no profile", NO_PROFILE),
        ("no turn rate", [("configuration.profiles.0.turn_deg_s", GONE)]),
    ],
    settings=[
        ({"codes": ["E2330"]}, [("configuration.profiles.0.turn_deg_s", GONE)], "cannot_tell"),
        ({"codes": ["E2330"], "programmable": ["speed", "braking"]}, [], "met"),
        (
            {"codes": ["E2330"], "programmable": ["speed", "braking"]},
            [("configuration.programmable", ["speed"])],
            "cannot_tell",
        ),
        ({"codes": ["E2330"], "programmable": ["speed"]}, [("configuration.programmable", GONE)], "cannot_tell"),
        ({"codes": ["E2312"]}, [("configuration.profiles.0.turn_deg_s", GONE)], "does_not_apply"),
    ],
    ready={"met": [], "cannot_tell": [(("configuration", "profiles", 0, "turn_deg_s"), None)]},
    rests_on=(
        "configuration.profiles.*.speed_m_s",
        "configuration.profiles.*.turn_deg_s",
        "configuration.profiles.*.used",
        "configuration.profiles.*.why",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
