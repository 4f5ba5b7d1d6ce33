"""What `speech_link_adds_something` says of each record."""

from __future__ import annotations

from records import Records

LINK = {"id": "speech", "name": "interface to the SGD", "code": "E2351", "why": "He speaks by it.", "modifier": "KX"}
MUTED = ("configuration.speech_muted_by_hand", True)
BUTTON = ("configuration.mounting.0.reaches_speech", True)
COUNTED = LINK | {"why": "By the back pad alone he makes 2 entries a minute, by the drive control 9."}

RECORDS = Records(
    "speech_link_adds_something",
    met=[
        ("what the line adds is counted", [("configuration.items.+", COUNTED), BUTTON]),
        (
            "a device muted by hand, and who turns its sound on",
            [("configuration.items.+", COUNTED | {"without": "An aide turns the sound on."}), BUTTON, MUTED],
        ),
    ],
    cannot_tell=[
        ("a switch that reaches the device, and no word of it", [("configuration.items.+", LINK), BUTTON]),
        (
            "a switch that is named, and no number",
            [("configuration.items.+", LINK | {"why": "The back pad alone does not serve."}), BUTTON],
        ),
        ("a device muted by hand for driving, and no word of it", [("configuration.items.+", LINK), MUTED]),
        ("a number, and the switch not named", [("configuration.items.+", LINK | {"why": "10 of 10."}), BUTTON]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("a connection, and no switch to the device", [("configuration.items.+", LINK)]),
        ("a switch to the device, and no connection", [BUTTON]),
    ],
    ready={"does_not_apply": []},
    only_recorded=True,
    rests_on=("configuration.items",),
)

test_each_record_gets_its_answer = RECORDS.test()
