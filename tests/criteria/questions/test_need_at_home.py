"""What `need_at_home` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

BACKS = [("configuration.commands", [{"does": "back", "input": "head back twice"}])]
UNMEASURED = ("client.not_measured", ["her closet", "the attic"])
FROM_BED = ("activities.0.says", "She is pushed from bed to the toilet.")
NAMED = ("activities.0.says", "She is pushed from the closet to the toilet.")
BATH = [("spaces.0.ahead_from", "way_in"), ("spaces.0.clear_ahead_mm", 2500)]

RECORDS = Records(
    "need_at_home",
    met=[
        ("the whole case", []),
        ("a bathroom that it backs out of, which was not tried", [*BACKS, *BATH]),
        (
            "a room that it names and that was not measured",
            [NAMED, UNMEASURED],
        ),
        (
            "a way by its own name into a measured room that it names, which was not measured",
            [
                ("activities.0.says", "She is pushed into the kitchen."),
                ("client.not_measured", ["the opening between hall and kitchen"]),
            ],
        ),
        ("the same, of which it is not said where the bathroom is", [*BACKS, *BATH, ("spaces.0.at_home", GONE)]),
        (
            "the same, of which it is not said from where the length is measured",
            [*BACKS, *BATH, ("spaces.0.ahead_from", GONE)],
        ),
        ("the same, with no command recorded", [*BACKS, *BATH, ("configuration.commands", GONE)]),
        (
            "a further activity, of which it is not said how the limit shows",
            [("activities.+", {"id": "wash", "name": "wash", "at_home": True, "needed_for": "grooming"})],
        ),
        ("a bed, and the bedroom not measured", [FROM_BED, ("client.not_measured", ["her bedroom"])]),
        (
            "a bathroom that it leaves by turning, which was not tried",
            [("configuration.has_reverse", False), *BATH, ("spaces.0.turning_mm", 1600)],
        ),
        ("a bathroom that it is pushed out of until it comes out reliably", [("spaces.0.pushed_out", True)]),
        ("the same room with the floor to turn on", [*BACKS, *BATH, ("spaces.0.turning_mm", 1600)]),
    ],
    cannot_tell=[
        ("no activity at home", [("activities.0", GONE)]),
        ("only another kind of activity", [("activities.0.needed_for", "other")]),
        ("not said which daily activity", [("activities.0.needed_for", GONE)]),
        ("not said whether at home", [("activities.0.at_home", GONE)]),
        ("no barrier", [("activities.0.barrier", GONE)]),
        ("no help before", [("activities.0.before", GONE)]),
    ],
    ready={"met": [], "cannot_tell": [(("activities",), lambda a: [x for x in a if not x["at_home"]])]},
    rests_on=("activities.*.at_home", "activities.*.barrier", "activities.*.before", "activities.*.needed_for"),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
