"""What `way_back_was_tried` says of each record."""

from __future__ import annotations

from records import Records

DOOR = [("spaces.0.ahead_from", "way_in"), ("configuration.chair.length_mm", 1100), ("spaces.0.clear_ahead_mm", 2400)]
BACKS = ("configuration.commands", [{"does": "back", "input": "two taps"}])

RECORDS = Records(
    "way_back_was_tried",
    met=[
        ("backing up was a task", [*DOOR, BACKS, ("trial.tasks.2.backs", True)]),
        ("not tried, and said so", [*DOOR, BACKS, ("trial.limits", "No backing up was tried.")]),
    ],
    cannot_tell=[
        ("not tried, and not said", [*DOOR, BACKS]),
        ("not recorded whether it has a reverse", DOOR),
        (
            "a floor too small to turn on",
            [*DOOR, BACKS, ("spaces.0.turning_mm", 900), ("configuration.chair.turning_mm", 1300)],
        ),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("no reverse", [*DOOR, ("configuration.without_reverse", "The chair is turned by hand.")]),
        ("a floor to turn on", [*DOOR, BACKS, ("spaces.0.turning_mm", 1400), ("configuration.chair.turning_mm", 1300)]),
    ],
    only_recorded=True,
    rests_on=("spaces",),
)

test_each_record_gets_its_answer = RECORDS.test()
