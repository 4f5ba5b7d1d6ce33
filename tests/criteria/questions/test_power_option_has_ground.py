"""What `power_option_has_ground` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import BASE, ITEMS, only
from records import Records
from whole_case import GONE, ask, changed, grounds

RECORDS = Records(
    "power_option_has_ground",
    met=[
        ("the whole case", []),
        (
            "a base for several with tilt and recline in one line",
            [("configuration.chair.base_code", "K0861"), ("configuration.items.4.code", "E1006")],
        ),
        (
            "a base for several with tilt and recline in two lines",
            [("configuration.chair.base_code", "K0861"), ("configuration.items.+", LINE | {"code": "E1003"})],
        ),
        (
            "a base for several with a ventilator",
            [
                ("configuration.chair.base_code", "K0861"),
                ("configuration.items.+", LINE | {"name": "tray for a ventilator"}),
            ],
        ),
    ],
    not_met=[
        ("nothing but leg elevation", [("configuration.items", [LINE | {"code": "E1012"}])]),
        ("a base for several with tilt alone", [("configuration.chair.base_code", "K0861")]),
    ],
    cannot_tell=[
        ("no base", [("configuration.chair.base_code", GONE)]),
        (
            "a control without its code",
            [("configuration.items", [LINE | {"code": "E2313"}, {"id": "pads", "name": "pads"}])],
        ),
    ],
    does_not_apply=[
        ("a base without power options", [("configuration.chair.base_code", "K0848")]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(BASE, None)],
        "not_met": [(ITEMS, only("E1028"))],
        "does_not_apply": [(BASE, "K0848")],
    },
    rests_on=("configuration.chair.base_code", "configuration.items"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_words_for_the_chair_that_say_other_power_options_than_its_code_are_asked_about():
    name = ("configuration.chair.name", "a chair with one power option")
    base = ("configuration.chair.base_code", "K0861")
    answer = ask("power_option_has_ground", grounds(changed(name, base)), options=["multiple"])
    assert answer.status == "not_met" and "with multiple power options, and the words for the chair" in answer.reason
