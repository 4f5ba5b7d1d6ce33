"""What `releases_fit_stops` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds

PADS = attempts("pads", "1" * 24)


def stop(**columns: object) -> list[dict[str, object]]:
    """The rows of the whole case with these columns on the first stop with the pads, line 19."""
    return [*ROWS[:16], *(row | columns if i == 1 else row for i, row in enumerate(PADS))]


MISS = {"success": False, "release_s": 0.6}
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
        ("just the distance while letting go", [], stop(release_s=2.5)),
    ],
    not_met=[
        ("done, and further while letting go alone", [], stop(release_s=2.6)),
        ("the same at the speed of its row", [], stop(release_s=1.1, speed_m_s=1.0)),
        ("missed, and nothing says why", [], stop(**MISS)),
        ("late by its note, and in time by its release", [], stop(**MISS, note="late: was talking", contacts=1)),
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


def test_a_late_stop_with_a_short_time_is_a_danger_with_the_control_asked_for_alone():
    """0.4 (0.6 + 0.15) + 0.16 / 1.6 = 0.40 m of the 1 m allowed (by hand)."""
    late = MISS | {"note": "stopped late"}
    answer = ask("releases_fit_stops", grounds(changed(), stop(**late)))
    assert answer.danger and answer.rows == (19,) and "late by the note" in answer.reason
    with_stick = [row | late if i == 1 else row for i, row in enumerate(ROWS)]
    answer = ask("releases_fit_stops", grounds(changed(("trial.methods.0.speed_m_s", 0.4)), with_stick))
    assert answer.status == "not_met" and not answer.danger
