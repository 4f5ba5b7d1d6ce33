"""What `values_agree` says of each record."""

from __future__ import annotations

import math
from datetime import date

import pytest
from records import Records
from whole_case import GONE, ROWS, ask, changed, grounds

from docgen.criteria import doubt

CHAIR = "configuration.chair"
TALL = ("client.height_mm", 1650)


def block(**columns: object) -> list[dict[str, object]]:
    """The rows of the whole case with these columns on the first row of the requested control."""
    return [row | (columns if at == 16 else {}) for at, row in enumerate(ROWS)]


PAD_HEIGHT, PAD_GAP = "configuration.mounting.1.height_mm", "configuration.mounting.1.gap_mm"
AROUND, SPEED = "client.head.circumference_mm", "configuration.profiles.0.speed_m_s"
SMALL = [("client.head.width_mm", 130), ("client.head.length_mm", 170)]
HEAD = [(f"client.head.{name}", value) for name, value in (("width_mm", 154), ("length_mm", 200))]


def driven(stick: float, pads: float, third: float) -> list[tuple[str, object]]:
    """Speeds of three controls; the profile goes with that of the pads."""
    return [
        ("trial.methods.0.speed_m_s", stick),
        ("trial.methods.1.speed_m_s", pads),
        ("trial.methods.+", {"id": "third", "name": "a third control", "speed_m_s": third}),
    ]


TILT = f"{CHAIR}.tilt_asked_deg"  # the chair of the whole case tilts 50 degrees


def ramp(slope_percent: float) -> list[tuple[str, object]]:
    return [("spaces.+", {"id": "ramp", "name": "ramp", "kind": "ramp", "slope_percent": slope_percent})]


def stop_on_slope(meters: float) -> list[tuple[str, object]]:
    """A stop on a ramp driven with 0.4 m/s by a chair that delays 0.15 s and brakes with 0.8 m/s2: on the level that
    takes 0.4 * 0.15 + 0.4 ** 2 / (2 * 0.8) = 0.16 m."""
    down = {"id": "ramp", "name": "ramp", "kind": "ramp", "slope_percent": 8.0, "profile": "slope"}
    profile = {"id": "slope", "name": "slope", "speed_m_s": 0.4}
    return [("configuration.profiles.+", profile), ("spaces.+", down | {"slope_stop_m": meters})]


def stops_beside(on: date) -> list[tuple[str, object]]:
    return [
        (f"trial.methods.0.{key}", value) for key, value in (("stops_asked", 10), ("stops_made", 9), ("stops_on", on))
    ]


def at(key: str, value: float) -> list[tuple[str, object]]:
    """A measure of the chair, of a client of 1650 mm and 61 kg with a head of 154 by 200 mm."""
    return [TALL, *HEAD, (key, value)]


# what is held to what -> the last values that agree, and the first that do not; by hand from the shares in the module
EDGES = [
    ("a seat of 0.15 of the height", at(f"{CHAIR}.seat_depth_mm", 248), at(f"{CHAIR}.seat_depth_mm", 247)),
    ("a seat of 0.385 of the height", at(f"{CHAIR}.seat_depth_mm", 635), at(f"{CHAIR}.seat_depth_mm", 636)),
    ("a footplate of 0.12 of the height", at(f"{CHAIR}.leg_mm", 198), at(f"{CHAIR}.leg_mm", 197)),
    ("a footplate of 0.34 of the height", at(f"{CHAIR}.leg_mm", 561), at(f"{CHAIR}.leg_mm", 562)),
    ("a back of 0.14 of the height", at(f"{CHAIR}.back_height_mm", 232), at(f"{CHAIR}.back_height_mm", 230)),
    (
        "a back of 0.56 of the height of a child",
        [("client.height_mm", 1200), (f"{CHAIR}.back_height_mm", 672)],
        [("client.height_mm", 1200), (f"{CHAIR}.back_height_mm", 673)],
    ),
    ("a seat of 0.9 of the hips", at(f"{CHAIR}.seat_width_mm", 298), at(f"{CHAIR}.seat_width_mm", 297)),
    ("a seat as wide as the chair", at(f"{CHAIR}.seat_width_mm", 640), at(f"{CHAIR}.seat_width_mm", 641)),
    (
        "an axle as far from the front as the chair is long",
        [(f"{CHAIR}.axle_to_front_mm", 800), (f"{CHAIR}.length_mm", 800)],
        [(f"{CHAIR}.axle_to_front_mm", 801), (f"{CHAIR}.length_mm", 800)],
    ),
    ("a tilt as far as the chair tilts", [(TILT, 50)], [(TILT, 51)]),
    ("a pad at 0.2 of the height", at(PAD_HEIGHT, 330), at(PAD_HEIGHT, 329)),
    ("a pad at 0.6 of the height", at(PAD_HEIGHT, 990), at(PAD_HEIGHT, 991)),
    ("a gap of half the head", at(PAD_GAP, 77), at(PAD_GAP, 78)),
    ("a head 0.9 of the ellipse around", at(AROUND, 501), at(AROUND, 500)),
    ("a head 1.2 of the ellipse around", [*SMALL, (AROUND, 565)], [*SMALL, (AROUND, 566)]),
    ("a ramp of 2 percent", ramp(2.0), ramp(1.9)),
    ("a stop on a slope as long as on the level", stop_on_slope(0.161), stop_on_slope(0.159)),
    ("a profile twice as fast as the trial", [(SPEED, 0.8)], [(SPEED, 0.81)]),
    (
        "a trial four times as fast as the profile",
        [("trial.methods.1.speed_m_s", 1.6)],
        [("trial.methods.1.speed_m_s", 1.61)],
    ),
    (
        "as fast backward as forward",
        [("configuration.profiles.0.reverse_m_s", 0.4)],
        [("configuration.profiles.0.reverse_m_s", 0.41)],
    ),
    ("one control 2.5 times as fast as the fastest other", driven(1.25, 0.4, 0.5), driven(1.26, 0.4, 0.5)),
    ("one control 2.5 times as slow as the slowest other", driven(1.0, 0.4, 1.1), driven(1.01, 0.4, 1.1)),
]
BLOCKS = [
    ("attempts of 1.05 of the block", block(seconds=1134, minutes=18), block(seconds=1135, minutes=18)),
    ("an average of 0.02 of the fastest", block(distance_m=9, minutes=18), block(distance_m=8, minutes=18)),
    ("an average as fast as the fastest", block(distance_m=432, minutes=18), block(distance_m=433, minutes=18)),
    (
        "a row of 1.05 of its method",
        [*ROWS, ROWS[-1] | {"speed_m_s": 0.42}],
        [*ROWS, ROWS[-1] | {"speed_m_s": 0.43}],
    ),
]
# just on the line, which still agrees: values whose products and shares are exact as floating numbers
ON_THE_LINE = [
    ("a row just 1.05 of its method", [("trial.methods.1.speed_m_s", 1.0)], [*ROWS, ROWS[-1] | {"speed_m_s": 1.05}]),
    (
        "an attempt just 1.1 times as fast as its method",
        [("trial.methods.1.speed_m_s", 1.0)],
        [*ROWS, ROWS[-1] | {"distance_m": 11.0, "seconds": 10.0}],
    ),
    (
        "an average just 0.02 of the fastest",
        [("trial.methods.1.speed_m_s", 0.5)],
        block(distance_m=12, minutes=20),
    ),
    (
        "a seat just 0.9 of the hips",
        [("client.height_mm", 1600), ("client.weight_kg", 78.4), (f"{CHAIR}.seat_width_mm", 342.09)],
    ),
    ("a head just 0.9 of the ellipse around", [*HEAD, (AROUND, 0.9 * (math.pi * 354 / 2))]),
    ("a head just 1.2 of the ellipse around", [*SMALL, (AROUND, 1.2 * (math.pi * 300 / 2))]),
]
SLOW_TOO = ("configuration.profiles.+", {"id": "slow", "name": "slow", "speed_m_s": 0.2})
TWO_TOO_FAST = [
    ROWS[-2] | {"distance_m": 26.0, "seconds": 17.0},
    ROWS[-1] | {"distance_m": 20.0, "seconds": 10.0},
    *ROWS,
]
LESSON = {"date": date(2026, 8, 10), "stage": 3, "task": "left", "success": True, "minutes": 10.0}

RECORDS = Records(
    "values_agree",
    met=[
        ("stops counted on a day without rows", stops_beside(date(2026, 3, 9))),
        ("the whole case", []),
        ("a seat that fits", [TALL, (f"{CHAIR}.seat_depth_mm", 450), (f"{CHAIR}.leg_mm", 420)]),
        (
            "stops beside rows that hold stops too, looked up",
            [
                *stops_beside(date(2026, 3, 3)),
                (
                    "confirmed",
                    [{"of": "trial.methods.stops_asked", "values": [10], "by": "ot", "on": date(2026, 4, 2)}],
                ),
            ],
        ),
        ("the mean head of 4082 men", [*HEAD, ("client.head.circumference_mm", 574)]),
        (
            "a seat that does not, looked up",
            [
                TALL,
                (f"{CHAIR}.seat_depth_mm", 240),
                ("confirmed", [{"of": "client.height_mm", "values": [1650], "by": "ot", "on": date(2026, 4, 2)}]),
            ],
        ),
        (
            "an attempt as fast as its method",
            [("trial.methods.1.speed_m_s", 0.5)],
            [ROWS[-1] | {"distance_m": 9.3, "seconds": 17.0}, *ROWS],
        ),
        *((what, inside) for what, inside, _ in EDGES),
        *((what, [], inside) for what, inside, _ in BLOCKS),
        *ON_THE_LINE,
        ("a lesson as fast as the profile", [("sessions", [LESSON | {"distance_m": 240.0}])]),
        (
            "a lesson as fast as the faster of two profiles",
            [SLOW_TOO, ("sessions", [LESSON | {"distance_m": 240.0}])],
        ),
        (
            "a trial four times as fast as the faster of two profiles",
            [SLOW_TOO, ("trial.methods.1.speed_m_s", 1.6)],
        ),
    ],
    not_met=[
        ("stops counted beside rows that hold stops", stops_beside(date(2026, 3, 3))),
        (
            "one stop counted beside rows that hold stops",
            [*stops_beside(date(2026, 3, 3))[2:], *((f"trial.methods.0.stops_{key}", 1) for key in ("asked", "made"))],
        ),
        ("a seat deeper than thighs", [TALL, (f"{CHAIR}.seat_depth_mm", 645)]),
        ("a footplate for a child", [TALL, (f"{CHAIR}.leg_mm", 190)]),
        ("a seat narrower than hips", [TALL, ("client.weight_kg", 134), (f"{CHAIR}.seat_width_mm", 410)]),
        ("a seat wider than the chair", [(f"{CHAIR}.seat_width_mm", 690)]),
        ("a pad at the knee of a head", [TALL, ("configuration.mounting.0.height_mm", 190)]),
        ("a gap of half a head", [*HEAD, ("configuration.mounting.1.gap_mm", 90)]),
        ("a head in inches around", [*HEAD, ("client.head.circumference_mm", 430)]),
        ("faster than the trial", [("configuration.profiles.0.speed_m_s", 1.44)]),
        ("a trial far faster", [("trial.methods.1.speed_m_s", 2.0)]),
        ("faster backward", [("configuration.profiles.0.reverse_m_s", 0.6)]),
        ("one control at another speed", [("trial.methods.0.speed_m_s", 1.1), ("trial.methods.1.speed_m_s", 0.4)]),
        ("an average above the fastest", [], block(distance_m=620, minutes=18)),
        ("an average of next to nothing", [], block(distance_m=4, minutes=18)),
        ("attempts longer than the block", [], block(seconds=1500, minutes=18)),
        ("a row faster than its method", [("trial.methods.1.speed_m_s", 0.4)], [ROWS[-1] | {"speed_m_s": 1.4}, *ROWS]),
        (
            "an attempt of feet as meters",
            [("trial.methods.1.speed_m_s", 0.45)],
            [ROWS[-1] | {"distance_m": 26.0, "seconds": 17.0}, *ROWS],
        ),
        ("two attempts of one control, and the second the fastest", [], TWO_TOO_FAST),
        (
            "an attempt more than 1.1 times as fast as its method",
            [("trial.methods.1.speed_m_s", 1.0)],
            [*ROWS, ROWS[-1] | {"distance_m": 11.1, "seconds": 10.0}],
        ),
        (
            "a day of one row that lasts longer than its minutes",
            [],
            [*ROWS[:16], ROWS[16] | {"seconds": 70, "minutes": 1}],
        ),
        *((f"beyond {what}", outside) for what, _, outside in EDGES),
        *((f"beyond {what}", [], outside) for what, _, outside in BLOCKS),
        ("a lesson faster than the profile", [("sessions", [LESSON | {"distance_m": 241.0}])]),
        ("tries longer than the lesson", [("sessions", [LESSON | {"seconds": 631.0}])]),
    ],
    cannot_tell=[
        ("nothing to compare", [("configuration.profiles", GONE), ("trial.methods", GONE)], []),
    ],
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize(
    ("changes", "rows", "named", "danger"),
    [
        ([("configuration.profiles.0.speed_m_s", 1.44)], None, "speed_m_s is in km/h (0.4 m/s)", True),
        ([TALL, ("client.weight_kg", 134), (f"{CHAIR}.seat_width_mm", 410)], None, "in pounds (60.8 kg)", True),
        ([TALL, (f"{CHAIR}.leg_mm", 190)], None, "", False),
        ([], block(distance_m=200, minutes=5), "distance_m is in feet (61 m)", False),
    ],
)
def test_both_sides_are_named_with_the_slip_and_a_stop_or_a_load_is_a_danger(changes, rows, named, danger):
    answer = ask("values_agree", grounds(changed(*changes), *([] if rows is None else [rows])))
    assert (answer.status, answer.danger) == ("not_met", danger), answer.reason
    assert named in answer.reason and answer.where


def test_a_value_that_is_asked_about_by_itself_is_not_asked_about_twice():
    here = grounds(changed(TALL, (f"{CHAIR}.seat_depth_mm", 120)))
    assert ask("values_are_usual", here).status == "not_met" and ask("values_agree", here).status == "met"


# record -> what each side may be by the other, worked out by hand from the shares in the module
MAY_BE = {
    "beyond a seat of 0.15 of the height": "seat_depth_mm is 247.5 to 635.25 mm, or height_mm is 641.56 to 1646.7 mm",
    "beyond a seat of 0.9 of the hips": "weight_kg is 20.314 to 60.941 kg, or seat_width_mm is 330.16 to 462.22 mm",
    "beyond a seat as wide as the chair": "seat_width_mm is 160 to 640 mm, or width_mm is 641 to 2564 mm",
    "beyond a pad at 0.2 of the height": "height_mm is 330 to 990 mm",
    "beyond a gap of half the head": "gap_mm is 1 to 40 mm",
    "beyond a head 0.9 of the ellipse around": (
        "circumference_mm is 500.46 to 667.27 mm, or width_mm is 105 to 185 mm, or length_mm is 130 to 235 mm"
    ),
    "beyond a ramp of 2 percent": "slope_percent is 2 to 25 percent",
    "beyond a profile twice as fast as the trial": "speed_m_s is 0.1 to 0.6 m/s, or speed_m_s is 0.54 to 3.24 m/s",
    "beyond a trial four times as fast as the profile": "speed_m_s is 0.2 to 0.8 m/s",
    "beyond as fast backward as forward": "reverse_m_s is 0.1 to 0.4 m/s, or speed_m_s is 0.41 to 1.64 m/s",
    "beyond one control 2.5 times as fast as the fastest other": "speed_m_s is 0.26667 to 0.75 m/s",
    "beyond one control 2.5 times as slow as the slowest other": "speed_m_s is 0.67333 to 1.65 m/s",
    "beyond attempts of 1.05 of the block": "minutes is 18.917 to 1135 min",
    "beyond an average as fast as the fastest": "distance_m is 21.6 to 345.6 m, or minutes is 22.552 to 360.83 min",
    "beyond a row of 1.05 of its method": "speed_m_s is 0.1 to 0.4 m/s",
    "an attempt of feet as meters": "distance_m is 1.9125 to 8.415 m, or seconds is 57.778 to 231.11 s",
}


@pytest.mark.parametrize("name", MAY_BE)
def test_each_side_may_be_what_the_other_allows(name, monkeypatch):
    monkeypatch.setattr(doubt, "slip", lambda value, low, high, unit: f"{low:.5g} to {high:.5g} {unit}")
    changes, *rows = next(record for what, *record in RECORDS.not_met if what == name)
    answer = ask("values_agree", grounds(changed(*changes), *rows))
    assert answer.reason.endswith(f"; perhaps {MAY_BE[name]}.")
