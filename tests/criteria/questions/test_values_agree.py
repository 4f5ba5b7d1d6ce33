"""What `values_agree` says of each record."""

from __future__ import annotations

from datetime import date

import pytest
from records import Records
from whole_case import GONE, ROWS, ask, changed, grounds

CHAIR = "configuration.chair"
TALL = ("client.height_mm", 1650)


def block(**columns: object) -> list[dict[str, object]]:
    """The rows of the whole case with these columns on the first row of the control asked for."""
    return [row | (columns if at == 16 else {}) for at, row in enumerate(ROWS)]


HEAD = [(f"client.head.{name}", value) for name, value in (("width_mm", 154), ("length_mm", 200))]

RECORDS = Records(
    "values_agree",
    met=[
        ("the whole case", []),
        ("a seat that fits", [TALL, (f"{CHAIR}.seat_depth_mm", 450), (f"{CHAIR}.leg_mm", 420)]),
        ("the mean head of 4082 men", [*HEAD, ("client.head.circumference_mm", 574)]),
        (
            "a seat that does not, looked up",
            [
                TALL,
                (f"{CHAIR}.seat_depth_mm", 240),
                ("confirmed", [{"of": "client.height_mm", "values": [1650], "by": "ot", "on": date(2026, 4, 2)}]),
            ],
        ),
    ],
    not_met=[
        ("a seat deeper than thighs", [TALL, (f"{CHAIR}.seat_depth_mm", 645)]),
        ("a foot plate for a child", [TALL, (f"{CHAIR}.leg_mm", 190)]),
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
