"""What `findings_answered` says of each record."""

from __future__ import annotations

from records import Records

HAND = {"id": "mini", "kind": "mini_stick", "name": "a mini joystick", "reason": "Her hand hurts at each push."}

RECORDS = Records(
    "findings_answered",
    met=[
        ("the whole case", []),
        (
            "a finding at a site whose control the condition rules out",
            [
                ("findings.+", {"id": "hand_pain", "says": "Her hand hurts."}),
                ("alternatives.+", {**HAND, "ruled_out_by": "condition"}),
            ],
        ),
        (
            "a standing transfer and a low vital capacity, which call for no feature",
            [
                ("findings.+", {"id": "transfer_standing", "says": "She stands to transfer."}),
                ("findings.+", {"id": "vital_capacity_low", "says": "48 % of predicted."}),
            ],
        ),
        ("a phone worked by voice", [("findings.+", {"id": "computer_user", "says": "She phones by voice."})]),
        (
            "one of the therapist's own that calls for no feature, and a weak cough",
            [
                ("findings.+", {"id": "hums", "own": True, "says": "She hums while she waits."}),
                ("findings.+", {"id": "cough_weak", "says": "The cough clears no phlegm."}),
            ],
        ),
        (
            "a contraindication that an answer was given to",
            [
                ("findings.+", {"id": "leg_contracture", "says": "Her left foot is stiff."}),
                ("configuration.features.+", {"id": "foot_site", "answer": "It stands at the right foot."}),
            ],
        ),
    ],
    not_met=[
        (
            "one of the therapist's own that calls for a feature",
            [("findings.+", {"id": "hums", "own": True, "says": "She hums.", "calls_for": ["foot_site"]})],
        ),
        (
            "a movement at a site whose control the condition rules out",
            [
                ("findings.+", {"id": "finger_isolated", "says": "Two fingers move."}),
                ("alternatives.+", {**HAND, "ruled_out_by": "condition"}),
            ],
        ),
        (
            "a finding at a site whose control is kept open",
            [
                ("findings.+", {"id": "hand_pain", "says": "Her hand hurts."}),
                ("alternatives.+", {**HAND, "ruled_out_by": "nothing"}),
            ],
        ),
        ("a finding that nothing answers", [("findings.+", {"id": "aac_user", "says": "Speaks with a device."})]),
    ],
    cannot_tell=[
        ("no finding", [("findings", []), ("configuration.features", []), ("configuration.items", [])]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("findings",), [])],
        "not_met": [(("findings",), lambda f: [*f, {"id": "vision_low", "says": "Sees little."}])],
    },
    rests_on=("findings",),
)

test_each_record_gets_its_answer = RECORDS.test()
