"""What `control_and_electronics_match` says of each record."""

from __future__ import annotations

from ready_case import ITEMS, without
from records import Records
from whole_case import GONE, WHOLE, ask, changed, grounds

RECORDS = Records(
    "control_and_electronics_match",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("no harness on a new chair", [("configuration.items.2", GONE)]),
        ("two harnesses", [("configuration.items.3.code", "E2313")]),
    ],
    cannot_tell=[
        ("no item", [("configuration.items", [])]),
        ("no kind of request", [("request.kind", GONE)]),
        ("a harness without its code", [("configuration.items.2.code", GONE)]),
    ],
    does_not_apply=[
        ("no special control on the order", [("configuration.items", WHOLE["configuration"]["items"][3:])]),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("request", "kind"), None)],
        "not_met": [(ITEMS, without(code="E2313"))],
        "does_not_apply": [(ITEMS, lambda items: [i for i in items if i["code"] == "E1028"])],
    },
    rests_on=("configuration.items.*.code", "request.kind"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_electronics_of_a_chair_that_is_already_there_are_not_taken_as_met():
    changes = ("request.kind", "control_only"), ("configuration.items.1", GONE), ("configuration.items.1", GONE)
    assert ask("control_and_electronics_match", grounds(changed(*changes))).status == "does_not_apply"
