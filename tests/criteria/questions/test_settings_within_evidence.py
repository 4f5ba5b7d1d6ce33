"""What `settings_within_evidence` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS

from docgen.criteria.questions.settings_within_evidence import _shown

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
        ("a speed that the room does not bear", [("spaces.0.clear_ahead_mm", 300)]),
    ],
    cannot_tell=[
        ("no delay", [("configuration.chair.electronics_delay_s", GONE)]),
        ("no space", [("spaces", [])]),
        ("no rows", [], ROWS[:16]),
    ],
    rests_on=(
        "configuration.chair.deceleration_m_s2",
        "configuration.chair.electronics_delay_s",
        "configuration.method",
        "configuration.profiles.*",
        "spaces",
        "trial.methods.*",
        "trial.tasks",
    ),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_turn_rate_is_shown_as_a_limit_to_two_digits():
    assert _shown(14.238, "degrees/s") == "14.23 degrees/s" and _shown(14.0, "degrees/s") == "14 degrees/s"
