"""What `settings_within_evidence` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE, ROWS, changed, grounds

from docgen.case.totals import DayTotal
from docgen.criteria.questions.settings_within_evidence import _shown
from docgen.criteria.risks import release_keys

BACKS = [("configuration.commands", [{"does": "back", "input": "head back twice"}])]

RECORDS = Records(
    "settings_within_evidence",
    met=[
        ("the whole case", []),
        (
            "a profile faster than any that a place is recorded for",
            [("configuration.profiles.+", {"id": "outdoor", "name": "outdoor", "speed_m_s": 2.0})],
        ),
    ],
    not_met=[
        ("a reverse speed that it does not bear", [*BACKS, ("configuration.profiles.0.reverse_m_s", 0.39)]),
        ("a speed that the room does not bear", [("spaces.0.clear_ahead_mm", 300)]),
    ],
    cannot_tell=[
        ("no delay", [("configuration.chair.electronics_delay_s", GONE)]),
        ("no space", [("spaces", [])]),
        ("no rows", [], ROWS[:16]),
        ("no speed of the profile", [("configuration.profiles.0.speed_m_s", GONE)]),
        ("no reverse speed of a control that backs", BACKS),
    ],
    rests_on=(
        "configuration.chair.deceleration_m_s2",
        "configuration.chair.electronics_delay_s",
        "configuration.method",
        "configuration.profiles.*.speed_m_s",
        "spaces",
        "trial.methods.*",
        "trial.tasks",
    ),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_turn_rate_is_shown_as_a_limit_to_two_digits():
    assert _shown(14.238, "degrees/s") == "14.23 degrees/s" and _shown(14.0, "degrees/s") == "14 degrees/s"


def test_a_release_is_asked_for_in_the_file_in_which_the_trial_stands():
    without_totals = release_keys(case := grounds(changed(), ROWS).case)
    totals = (DayTotal(2, date(2026, 3, 31), "pads", "stop", 10, 9),)
    assert without_totals == "release_s"
    assert release_keys(case.with_totals(totals)) == (
        "releases_s or slowest_release_s of totals.csv, or release_s of trial.csv"
    )
