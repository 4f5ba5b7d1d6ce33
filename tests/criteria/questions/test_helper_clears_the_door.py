"""What `helper_clears_the_door` says of each record."""

from __future__ import annotations

from records import Records

DOOR = [
    ("spaces.0.ahead_from", "way_in"),
    ("configuration.chair.length_mm", 1100),
    ("spaces.0.clear_ahead_mm", 2400),
    ("spaces.0.clear_width_mm", 900),
    ("configuration.chair.width_mm", 640),
]
BACKS = [*DOOR, ("configuration.commands", [{"does": "back", "input": "two taps"}])]
BESIDE = "While it backs up there, her aide stands at its right side, a hand at the stop bar."

RECORDS = Records(
    "helper_clears_the_door",
    met=[
        ("nothing said of it", BACKS),
        (
            "nobody backs out yet",
            [*BACKS, ("letter.safety", "Nobody stands beside the chair while it backs out there.")],
        ),
        (
            "outside, clear of the door",
            [*BACKS, ("supervision.0.backs_out", "Out first, then beside the door, at her left.")],
        ),
    ],
    not_met=[
        ("beside it, in the letter", [*BACKS, ("letter.safety", BESIDE)]),
        ("beside it, in the rule there", [*BACKS, ("supervision.0.backs_out", "Stands beside the chair.")]),
    ],
    cannot_tell=[("no place", [("spaces", [])])],
    does_not_apply=[
        ("the whole case", []),
        ("no reverse", [*DOOR, ("letter.safety", BESIDE)]),
        ("room for both", [*BACKS, ("spaces.0.clear_width_mm", 1100), ("letter.safety", BESIDE)]),
    ],
    ready={"does_not_apply": []},
    rests_on=("spaces",),
)

test_each_record_gets_its_answer = RECORDS.test()
