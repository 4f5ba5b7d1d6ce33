"""What `fitted_as_measured` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import DELIVERED, GONE

FITTED = [
    {"mount": part, "gap_mm": 15, "by": "ot", "on": date(2026, 8, 3), "stop_passed": True}
    for part in ("back", "left", "right")
]


def fitted(**keys):
    """The chair delivered and fitted, the first part with other keys."""
    first = {key: value for key, value in (FITTED[0] | keys).items() if value is not GONE}
    return [*DELIVERED, ("fitted", [first, *FITTED[1:]])]


TURNED = [
    (f"configuration.mounting.0.{name}", value)
    for name, value in {"angle_deg": -12.0, "angle_from_deg": -15.0, "angle_to_deg": -8.0}.items()
]


def set_to(**keys):
    """The chair delivered, fitted, and one speed of it set so."""
    entry = {"profile": "indoor", "setting": "forward_speed", "to": 0.3, "by": "ot", "on": date(2026, 8, 3)}
    return [*fitted(), ("fitted_settings", [entry | {"stop_passed": True} | keys])]


RECORDS = Records(
    "fitted_as_measured",
    met=[
        ("set slower than ordered", set_to(to=0.05)),
        ("set as ordered", set_to(to=0.4)),
        *(
            (f"turned to the end of its range: {angle}", [*TURNED, *fitted(angle_deg=angle, why="A bent arm.")])
            for angle in (-15.0, -8.0)
        ),
        ("as in the trial", fitted()),
        ("otherwise, in its range, and why", fitted(gap_mm=18, why="A thicker headrest.")),
        ("at the end of its range", fitted(gap_mm=20, why="A thicker headrest.")),
        ("turned within its range", [*TURNED, *fitted(angle_deg=-14.0, why="A thicker headrest.")]),
        ("at the beginning of its range", fitted(gap_mm=10, why="A thinner cover.")),
    ],
    not_met=[
        ("set faster than ordered", set_to(to=1.5)),
        ("the stop test not passed as set", set_to(stop_passed=False)),
        ("outside its range", fitted(gap_mm=21, why="A thicker headrest.")),
        ("below its range", fitted(gap_mm=9, why="A thinner cover.")),
        *(
            (f"turned out of its range: {angle}", [*TURNED, *fitted(angle_deg=angle, why="A bent arm.")])
            for angle in (-16.0, -7.0)
        ),
        (
            "turned out of its range, and no gap",
            [*TURNED, *fitted(angle_deg=-7.0, gap_mm=GONE)],
        ),
        (
            "turned out of its range, a part without a gap in the trial",
            [*TURNED, ("configuration.mounting.0.gap_mm", GONE), *fitted(angle_deg=-7.0)],
        ),
        ("the stop test not passed", fitted(stop_passed=False)),
    ],
    cannot_tell=[
        ("nothing fitted", DELIVERED),
        ("otherwise, and why is not said", fitted(gap_mm=18)),
        *((f"not said: {key}", fitted(**{key: GONE})) for key in ("gap_mm", "by", "on", "stop_passed")),
    ],
    does_not_apply=[("not yet delivered", [])],
    rests_on=("configuration",),
)

test_each_record_gets_its_answer = RECORDS.test()
