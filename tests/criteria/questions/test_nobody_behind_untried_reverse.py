"""What `nobody_behind_untried_reverse` says of each record."""

from __future__ import annotations

from records import Records

DOOR = [("spaces.0.ahead_from", "way_in"), ("configuration.chair.length_mm", 1100), ("spaces.0.clear_ahead_mm", 2400)]
BACKS = [*DOOR, ("configuration.commands", [{"does": "back", "input": "two taps"}])]
BEHIND = ("supervision.0.stands", "behind")

RECORDS = Records(
    "nobody_behind_untried_reverse",
    met=[
        ("in the room, not behind it", BACKS),
        ("behind, and backing up was a task", [*BACKS, BEHIND, ("trial.tasks.2.backs", True)]),
    ],
    not_met=[("behind, and backing up was no task", [*BACKS, BEHIND])],
    cannot_tell=[("no place", [("spaces", [])])],
    does_not_apply=[
        ("the whole case", []),
        ("no reverse", DOOR),
        ("behind, and nobody drives there for now", [*BACKS, BEHIND, ("supervision.0.for_now", "Pushed.")]),
    ],
    ready={"does_not_apply": []},
    rests_on=("spaces",),
)

test_each_record_gets_its_answer = RECORDS.test()
