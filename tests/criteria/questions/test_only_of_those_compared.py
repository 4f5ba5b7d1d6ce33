"""What `only_of_those_compared` says of each record."""

from __future__ import annotations

from records import Records

HEAD = ("configuration.items.0.brief", "Only his head gives three directions.")
OTHER = ("findings.0.says", "The left knee, the only other part that he can place, is needed.")
FEET = ("trial.limits", "Nothing outdoors was driven. His feet were not tried.")
NOTHING_LEFT = ("trial.limits", "Nothing outdoors was tried.")
COUNTS = ("findings.0.measure", "head 10 of 10, left foot 2 of 10")
DOOR = ("spaces.0.says", "It is the narrowest door in the house.")
BEDROOM = ("client.not_measured", ["his bedroom"])

RECORDS = Records(
    "only_of_those_compared",
    met=[
        ("only the head, outdoors not driven", [HEAD, NOTHING_LEFT, COUNTS]),
        ("only of those tried", [("configuration.items.0.brief", "Of those tried, only his head serves."), FEET]),
        ("the narrowest of those measured", [("spaces.0.says", "The narrowest door of those measured."), BEDROOM]),
    ],
    not_met=[
        ("only the head, feet not tried", [HEAD, FEET]),
        ("the only other part, feet not tried", [OTHER, FEET]),
        (
            "only the head, feet left out by the letter",
            [HEAD, ("letter.limits", "His feet and toes were never tested.")],
        ),
        ("the narrowest door, bedroom not measured", [DOOR, BEDROOM]),
    ],
    cannot_tell=[
        ("only the head, no limits told", [HEAD]),
        ("only the head, no other part counted", [HEAD, NOTHING_LEFT]),
        ("the narrowest door, nothing told of the others", [DOOR]),
    ],
    does_not_apply=[
        ("nothing is called the only one", []),
        ("only when told", [("findings.0.says", "He slows down only when told."), FEET]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()
