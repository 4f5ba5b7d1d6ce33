"""What `upright_in_the_time_told` says of each record: seconds worked out by hand beside each."""

from __future__ import annotations

from emergencies import NECK, SEEN
from records import Records

TILT = {"lowest_deg": 0, "highest_deg": 50, "timed_to_deg": 35, "timed_s": 15}  # 50 degrees: 21.4 s
BACK = {"lowest_deg": 90, "highest_deg": 150, "timed_to_deg": 120, "timed_s": 12}  # 60 degrees: 24 s
SLOW_BACK = BACK | {"slowest_s": 14}  # 28 s


def upright(seconds, tilt=TILT, back=BACK, told_s=None):
    """Seconds to upright of an injury of the neck beside what was measured of the seat, as a change."""
    answers = [{"ask": "seconds_to_upright", "number": seconds, **SEEN}]
    answers += [{"ask": "fully_up", "says": "Hold it.", "number": told_s, **SEEN}]
    timed = {"seat_speed": tilt, "recline_speed": back, "acceleration": TILT}  # the last is no part of the seat
    settings = [{"setting": name, "value": "as timed", **of} for name, of in timed.items() if of]
    return [
        NECK,
        ("conditions", [{"id": "autonomic_dysreflexia", "answers": answers}]),
        ("configuration.settings", settings),
    ]


RECORDS = Records(
    "upright_in_the_time_told",
    met=[
        ("no seconds beside the switch", upright(24, back=SLOW_BACK)),
        ("seconds for the slowest that passes", upright(24, back=SLOW_BACK, told_s=28)),
        ("seconds for the speed that was timed, where no slower one passes", upright(24, told_s=24)),
        ("a tilt without a time beside a back with one", upright(24, tilt=TILT | {"timed_s": None}, told_s=24)),
        ("as long as the slower of the two", upright(24)),
        ("rounded down by a second", upright(23)),
        ("a seat that tilts alone", upright(22, back=None)),
        ("timed upward", upright(22, tilt=TILT | {"timed_from_deg": 35, "timed_to_deg": 0}, back=None)),
        ("timed through the whole range", upright(20, tilt=TILT | {"timed_to_deg": None, "timed_s": 20}, back=None)),
    ],
    not_met=[
        # 60 degrees at 14 s for 30 are 28 s: who lets go at 24 leaves the back of a chair that passed down
        ("seconds for the chair of the trial alone", upright(24, back=SLOW_BACK, told_s=24)),
        # the words of a page that told 22 s and whose back took 24: who lets go then leaves the back down
        ("the back takes longer than the tilt", upright(22)),
        ("more than a second short", upright(22.95)),
        ("the tilt takes longer", upright(20, back=None)),
        ("timed from above the lowest", upright(24, tilt=TILT | {"timed_from_deg": 10}, back=None)),  # 30 s
    ],
    cannot_tell=[("no diagnosis", [("diagnoses", []), ("conditions", [])])],
    does_not_apply=[
        ("no time is recorded", upright(None)),
        ("a diagnosis without a condition", [("conditions", [])]),
        ("no speed is timed", upright(22, tilt=TILT | {"timed_s": None}, back=None)),
        ("no range is measured", upright(22, tilt=TILT | {"lowest_deg": None}, back=None)),
        ("no end of the range is measured", upright(22, tilt=TILT | {"highest_deg": None}, back=None)),
        ("no way was timed", upright(22, tilt=TILT | {"timed_to_deg": 0}, back=None)),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
