"""What `releases_fit_stops` says of each record."""

from __future__ import annotations

from changes import AS_GOOD
from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds

PADS = attempts("pads", "1" * 24)


def stop(**columns: object) -> list[dict[str, object]]:
    """The rows of the whole case with these columns on the first stop with the pads, line 19."""
    return [*ROWS[:16], *(row | columns if i == 1 else row for i, row in enumerate(PADS))]


MISS = {"success": False, "release_s": 0.6}
NO_DELAY = ("configuration.chair.electronics_delay_s", GONE)
SLOW_BRAKES = ("configuration.chair.deceleration_m_s2", 0.2)
LATE = MISS | {"note": "stopped late"}
LATE_WITH_BOTH = [row | LATE if at in (1, 17) else row for at, row in enumerate(AS_GOOD)]
# 0.5 m/s for 0.35 and 0.15 s, and 0.25 / 2: 0.375 m, by hand
JUST = [
    ("trial.tasks.1.within_m", 0.375),
    ("trial.methods.1.speed_m_s", 0.5),
    ("configuration.chair.deceleration_m_s2", 1.0),
]
SOON = [row | {"release_s": 0.35} for row in PADS]
AT_ONCE = [row | {"release_s": 0.0} for row in PADS]
TWO_STOPS = [("trial.tasks.0.shows", "stop")]
STOPS_OF_TWO = [row | {"release_s": 0.6} if at in (16, 17) else row for at, row in enumerate(ROWS)]
STICK_SPEED = ("trial.methods.0.speed_m_s", 0.4)
STICK_STOP = [row | {"success": True, "release_s": 2.3} if at == 1 else row for at, row in enumerate(ROWS)]
NO_SPEED = [("trial.methods.1.speed_m_s", GONE)]

RECORDS = Records(
    "releases_fit_stops",
    met=[
        ("the whole case", []),
        ("a miss that a note explains", [], stop(**MISS, note="turned into the wall")),
        ("a late one that was not timed", [], stop(success=False, release_s=None, note="late: was talking")),
        ("a late one with its own time", [], stop(success=False, release_s=2.5, note="late: was talking")),
        ("a miss with a collision", [], stop(**MISS, contacts=1)),
        ("a miss that reckons outside", [], stop(success=False, release_s=2.5)),
        ("just the distance while letting go, and no delay of the electronics", [NO_DELAY], stop(release_s=2.5)),
        ("done at just the distance", JUST, SOON),
        ("a release just as long as its attempt", [], stop(release_s=2.0, seconds=2.0)),
        ("releases of nought within a tenth of a meter", [("trial.tasks.1.within_m", 0.1), NO_DELAY], AT_ONCE),
        ("a short attempt without a release", [], stop(release_s=None, seconds=0.2)),
        ("a distance for the one of two stopping tasks", TWO_STOPS, STOPS_OF_TWO),
        ("a miss, and no delay of the electronics", [NO_DELAY], stop(**MISS)),
        ("a miss, and no deceleration", [("configuration.chair.deceleration_m_s2", GONE)], stop(**MISS)),
        ("a miss that weak brakes explain", [SLOW_BRAKES], stop(success=False, release_s=1.9)),
    ],
    not_met=[
        ("done, and further while letting go alone", [], stop(release_s=2.6)),
        ("done, and further with delay and braking", [], stop(release_s=2.3)),
        ("the same with the control not asked for", [STICK_SPEED], STICK_STOP),
        ("the same at the speed of its row", [], stop(release_s=1.1, speed_m_s=1.0)),
        ("missed, and nothing says why", [], stop(**MISS)),
        ("late by its note, and in time by its release", [], stop(**MISS, note="late: was talking", contacts=1)),
        ("five releases longer than the attempt", [], [row | {"release_s": 2.0, "seconds": 1.5} for row in ROWS[:5]]),
        ("six releases longer than the attempt", [], [row | {"release_s": 2.0, "seconds": 1.5} for row in ROWS[:6]]),
        ("missed at just the distance", JUST, [row | {"success": i != 1} for i, row in enumerate(SOON)]),
        ("late with either control", [("trial.methods.0.speed_m_s", 0.4)], LATE_WITH_BOTH),
        ("a release longer than the attempt", [], stop(release_s=2.0, seconds=1.5)),
    ],
    cannot_tell=[
        ("no distance that counts", [("trial.tasks.1.within_m", GONE)]),
        ("no speed", NO_SPEED),
        ("no row", [], []),
    ],
    does_not_apply=[
        ("no stopping task", [("trial.tasks.1.shows", "other")]),
    ],
    ready={"met": [], "cannot_tell": [(("trial", "tasks", 1, "within_m"), None)]},
    rests_on=("trial.methods.*.speed_m_s", "trial.tasks.*.within_m"),
    needs_rows=True,
    rows_suffice=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_row_is_named_and_only_a_stop_that_cannot_have_been_done_is_a_danger():
    """0.4 m/s for 2.6 s: 1.04 m of the 1 m allowed; 0.4 (0.6 + 0.15) + 0.16 / 1.6 = 0.40 m (by hand)."""
    done = ask("releases_fit_stops", grounds(changed(), stop(release_s=2.6)))
    missed = ask("releases_fit_stops", grounds(changed(), stop(**MISS)))
    assert done.rows == missed.rows == (19,) and (done.danger, missed.danger) == (True, False)
    assert "2.6 s on March 3, 2026" in done.reason and "nothing on the row says what made it late" in missed.reason


def test_a_stop_done_beyond_with_delay_and_braking_is_a_danger_with_the_control_asked_for_alone():
    """0.4 (2.3 + 0.15) + 0.16 / 1.6 = 1.08 m of the 1 m allowed, 0.92 m of it while letting go (by hand)."""
    answer = ask("releases_fit_stops", grounds(changed(), stop(release_s=2.3)))
    assert answer.danger and answer.rows == (19,) and "2.3 s on March 3, 2026" in answer.reason
    answer = ask("releases_fit_stops", grounds(changed(STICK_SPEED), STICK_STOP))
    assert answer.status == "not_met" and not answer.danger


def test_a_late_stop_with_a_short_time_is_a_danger_with_the_control_asked_for_alone():
    """0.4 (0.6 + 0.15) + 0.16 / 1.6 = 0.40 m of the 1 m allowed (by hand)."""
    late = MISS | {"note": "stopped late"}
    answer = ask("releases_fit_stops", grounds(changed(), stop(**late)))
    assert answer.danger and answer.rows == (19,) and "late by the note" in answer.reason
    with_stick = [row | late if i == 1 else row for i, row in enumerate(ROWS)]
    answer = ask("releases_fit_stops", grounds(changed(("trial.methods.0.speed_m_s", 0.4)), with_stick))
    assert answer.status == "not_met" and not answer.danger
