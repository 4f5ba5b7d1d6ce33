"""What `parts_are_brought` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import WHOLE, ask, changed, grounds

STOP = {"id": "attendant_stop", "because": ["transfer_sling"]}
NO_FEATURES = [(f"configuration.items.{place}.features", []) for place in range(len(WHOLE["configuration"]["items"]))]

RECORDS = Records(
    "parts_are_brought",
    met=[
        ("the whole case", []),
        ("a helper's stop that comes with the base", [("configuration.features.+", STOP | {"with_base": True})]),
    ],
    not_met=[
        ("a helper's switch that no feature asks for", [("configuration.stop.helper_switch", "red box")]),
        (
            "a helper's switch that no feature asks for, a feature that no line names and a lever from nowhere",
            [
                ("configuration.stop.helper_switch", "red box"),
                ("configuration.stop.drive_off", "green lever"),
                ("configuration.items.5.features", []),
            ],
        ),
        (
            "a helper's switch that no feature asks for, and hours alone",
            [
                ("configuration.stop.helper_switch", "red box"),
                ("findings.+", {"id": "alone_hours", "says": "He is alone from four to six."}),
            ],
        ),
    ],
    cannot_tell=[
        ("a helper's stop that nothing brings", [("configuration.features.+", STOP)]),
        ("a feature that no line names", [("configuration.items.5.features", [])]),
        ("a lever that locks the drive and comes from nowhere", [("configuration.stop.drive_off", "green lever")]),
        ("no feature", [("configuration.features", []), *NO_FEATURES]),
        ("no line", [("configuration.items", [])]),
    ],
    rests_on=("configuration.features", "configuration.items.*.features.*", "configuration.standard_parts.*.comes"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_stop_that_nothing_brings_is_a_danger_and_a_comfort_is_none():
    stop = ask("parts_are_brought", grounds(changed(("configuration.features.+", STOP))))
    link = ask("parts_are_brought", grounds(changed(("configuration.items.5.features", []))))
    assert (stop.danger, link.danger) == (True, False) and {stop.status, link.status} == {"cannot_tell"}


def test_a_stop_that_moves_over_from_the_chair_that_is_there_needs_no_second_word():
    asked = ("configuration.features.+", STOP)
    for comes, status in (("moves_over", "met"), ("with_base", "met"), ("not_needed", "cannot_tell")):
        part = ("configuration.standard_parts.+", {"part": "helper_stop", "comes": comes})
        assert ask("parts_are_brought", grounds(changed(asked, part))).status == status
