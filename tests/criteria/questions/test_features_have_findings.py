"""What `features_have_findings` says of each record."""

from __future__ import annotations

from ready_case import FEATURES, ITEMS
from records import Records
from whole_case import ask, changed, grounds

RECORDS = Records(
    "features_have_findings",
    met=[
        ("the whole case", []),
        (
            "the drive control on a speech device, for somebody who speaks with one",
            [
                ("findings.+", {"id": "aac_user", "says": "Speaks with a device."}),
                ("configuration.features.+", {"id": "external_device_control", "because": ["aac_user"]}),
            ],
        ),
        (
            "a helper's stop without a finding: whoever is near is its reason",
            [("configuration.features.+", {"id": "attendant_stop"})],
        ),
        (
            "electronics without a finding, for a control that runs on them",
            [("configuration.features.+", {"id": "expandable_electronics"})],
        ),
    ],
    not_met=[
        (
            "a stop whose reason holds in bed alone",
            [
                ("findings.+", {"id": "alone_hours", "says": "Alone in bed.", "only_in_bed": True}),
                ("configuration.features.+", {"id": "stop_switch", "because": ["alone_hours"]}),
            ],
        ),
        ("lines that rest on features not asked for", [("configuration.features", [])]),
        ("a feature with no finding", [("configuration.features.1.because", [])]),
        ("a feature whose finding does not call for it", [("configuration.features.1.because", ["head_three_way"])]),
        (
            "a feature and a line of the order with nothing behind them",
            [
                ("configuration.features.1.because", []),
                *[(f"configuration.items.3.{key}", []) for key in ("because", "features")],
            ],
        ),
        ("an item with nothing behind it", [(f"configuration.items.3.{key}", []) for key in ("because", "features")]),
        (
            "a feature that no finding of the client calls for",
            [("configuration.features.+", {"id": "suboccipital_support", "because": ["head_three_way"]})],
        ),
        (
            "a feature that five findings call for, none of them the client's",
            [("configuration.features.+", {"id": "stop_switch", "because": ["head_three_way"]})],
        ),
    ],
    cannot_tell=[
        ("nothing requested", [("configuration.features", []), ("configuration.items", [])]),
    ],
    ready={
        "met": [],
        "not_met": [((*FEATURES, 0, "because"), [])],
        "cannot_tell": [(FEATURES, None), (ITEMS, None)],
    },
    rests_on=("configuration",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_each_feature_without_a_reason_that_counts_is_told_at_once_with_those_that_do():
    unreasoned = grounds(
        changed(
            ("findings.+", {"id": "seat_functions_needed", "says": "Tilts."}),
            ("configuration.features.+", {"id": "extra_site_switch"}),
            ("configuration.features.+", {"id": "forearm_support", "because": ["seat_functions_needed"]}),
        )
    )
    answer = ask("features_have_findings", unreasoned)
    assert answer.status == "not_met"
    assert "No finding is given for additional switch at a separate control site." in answer.reason
    assert "is given needs power tilt, recline or seat elevation as its reason" in answer.reason
    assert "extra_site_switch: Fill in because with seat_functions_needed" in answer.to_settle
    assert "forearm_support: Name a finding that calls for it, such as " in answer.to_settle


ALONE = {"place": "at home, alone", "level": "on_call", "by": "an aunt"}


def test_hours_alone_are_no_reason_before_they_are_settled():
    hours = ("findings.+", {"id": "alone_hours", "says": "She is alone from nine to three."})
    for more, stands in (([("supervision.+", ALONE)], "in_part"), ([], "met")):
        named = changed(hours, ("configuration.features.+", {"id": "mode_switch", "because": ["alone_hours"]}), *more)
        answer = ask("features_have_findings", grounds(named))
        told = "Hours alone are a reason of mode selection switch, and being alone is not settled." in answer.reason
        assert (answer.status, answer.stands, told) == ("met", stands, bool(more))
        unnamed = ask("findings_answered", grounds(changed(hours, *more)))
        assert unnamed.status == ("met" if more else "not_met")
