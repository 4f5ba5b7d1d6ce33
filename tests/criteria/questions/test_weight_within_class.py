"""What `weight_within_class` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

RECORDS = Records(
    "weight_within_class",
    met=[
        ("61 kg", []),
        ("300 lb, as 136.1 kg", [("client.weight_kg", 136.1)]),
        ("300 lb and just under half a hectogram", [("client.weight_kg", 136.12)]),
        (
            "285 lb at least, as 129.25 kg",
            [("configuration.chair.base_code", "K0858"), ("client.weight_kg", 129.25)],
        ),
        ("a control alone on a base that is recorded", [("request.kind", "control_only")]),
    ],
    not_met=[
        ("301 lb", [("client.weight_kg", 136.6)]),
        ("less than the class is for", [("configuration.chair.base_code", "K0858"), ("client.weight_kg", 128.0)]),
        (
            "just less than the class is for",
            [("configuration.chair.base_code", "K0858"), ("client.weight_kg", 129.2)],
        ),
        ("300 lb and just over half a hectogram", [("client.weight_kg", 136.13)]),
    ],
    cannot_tell=[
        ("no weight", [("client.weight_kg", GONE)]),
        ("no base", [("configuration.chair.base_code", GONE)]),
    ],
    does_not_apply=[
        ("a control alone, and no weight", [("request.kind", "control_only"), ("client.weight_kg", GONE)]),
        ("a control alone, and no base", [("request.kind", "control_only"), ("configuration.chair.base_code", GONE)]),
    ],
    settings=[
        ({"groups": ["1", "2"]}, [], "does_not_apply"),
        ({"options": ["none"]}, [], "does_not_apply"),
    ],
    rests_on=("client.weight_kg", "configuration.chair.base_code"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_base_too_weak_is_a_danger_and_one_too_strong_is_none():
    weak = ask("weight_within_class", grounds(changed(("client.weight_kg", 136.6))))
    strong = ask("weight_within_class", grounds(changed(("configuration.chair.base_code", "K0858"))))
    assert (weak.status, weak.danger) == ("not_met", True) and "perhaps the weight is in pounds (62 kg)" in weak.reason
    assert (strong.status, strong.danger) == ("not_met", False)
