"""What `upright_in_the_time_told` says of each record: seconds worked out by hand beside each."""

from __future__ import annotations

from emergencies import NECK, SEEN
from records import Records

RANGE = "tilt 0 to 50 degrees; tilt by breath 0 to 35 degrees; back 90 to 150 degrees to the seat"
TILT, BACK = "0 to 35 degrees of tilt in 15 s", "90 to 120 degrees of the back in 12 s"  # 50: 21.4 s; 60: 24 s


def upright(seconds, moves=RANGE, tilt=TILT, back=BACK):
    """Seconds to upright of an injury of the neck beside what was measured of the seat, as a change."""
    answers = [{"ask": "seconds_to_upright", "number": seconds, **SEEN}]
    told = {"seat_range": moves, "seat_speed": tilt, "recline_speed": back}
    settings = [{"setting": name, "value": value} for name, value in told.items() if value]
    return [
        NECK,
        ("conditions", [{"id": "autonomic_dysreflexia", "answers": answers}]),
        ("configuration.settings", settings),
    ]


RECORDS = Records(
    "upright_in_the_time_told",
    met=[
        ("as long as the slower of the two", upright(24)),
        ("rounded down by less than a second", upright(23.5)),
        ("a seat that tilts alone", upright(22, moves="tilt 0 to 50 degrees", back=None)),
    ],
    not_met=[
        # the words of a page that told 22 s and whose back took 24: who lets go then leaves the back down
        ("the back takes longer than the tilt", upright(22)),
        ("the tilt takes longer", upright(20, moves="tilt 0 to 50 degrees", back=None)),
    ],
    cannot_tell=[("no diagnosis", [("diagnoses", []), ("conditions", [])])],
    does_not_apply=[
        ("no time is recorded", upright(None)),
        ("no speed is in figures", upright(22, tilt="slow", back=None)),
        ("no range is in figures", upright(22, moves="all the way")),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
