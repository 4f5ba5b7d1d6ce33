"""What `supervision_stated` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

ALONE = {"place": "in her own room", "level": "on_call", "by": "an aunt"}
SETTLED_ALONE = (
    "supervision.+",
    {
        "place": "at home, alone",
        "level": "on_call",
        "by": "the aunt",
        "chair_state": "off",
        "calls_by": "By a bell at the cheek.",
        "call_needs_chair": False,
        "help_after_min": 10,
        "fire_plan": "The neighbor comes.",
        "settled": ["call_without_voice", "call_fails", "fire"],
    },
)

RECORDS = Records(
    "supervision_stated",
    met=[
        ("the whole case", []),
        ("hours alone, settled", [SETTLED_ALONE]),
        (
            "hours alone, and a fire that is not settled",
            [("supervision.+", SETTLED_ALONE[1] | {"settled": ["call_without_voice"]})],
        ),
        (
            "hours alone of somebody who faints, and a faint that is not settled",
            [
                SETTLED_ALONE,
                (
                    "conditions.+",
                    {"id": "spinal_cord_injury", "answers": [{"ask": "faints_on_sitting_up", "yes": True}]},
                ),
            ],
        ),
        (
            "hours alone of somebody who faints, with what comes then",
            [
                (
                    "supervision.+",
                    SETTLED_ALONE[1] | {"settled": ["call_without_voice", "call_fails", "fire", "faint"]},
                ),
                (
                    "conditions.+",
                    {"id": "spinal_cord_injury", "answers": [{"ask": "faints_on_sitting_up", "yes": True}]},
                ),
            ],
        ),
    ],
    cannot_tell=[
        (
            "somebody always, and not how near",
            [("supervision.+", {"place": "outdoors", "level": "never_alone", "by": "the staff"})],
        ),
        ("no place", [("supervision", [])]),
        ("hours alone of which nothing else is recorded", [("supervision.+", ALONE)]),
        ("nobody named", [("supervision.0.by", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("supervision", 0, "by"), None)]},
    rests_on=("supervision.*.by",),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
