"""What `modifiers_fit` says of each record."""

from __future__ import annotations

from changes import LINE
from ready_case import ITEMS
from records import Records
from whole_case import GONE

RECORDS = Records(
    "modifiers_fit",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a modifier of replacement on a new chair", [("configuration.items.1.modifier", "KX KC")]),
    ],
    cannot_tell=[
        ("one line without", [("configuration.items.2.modifier", GONE)]),
        (
            "a modifier of replacement and no kind of request",
            [("request.kind", GONE), ("configuration.items.1.modifier", "KC KX")],
        ),
    ],
    does_not_apply=[
        ("no modifier on any line", [("configuration.items", [LINE | {"code": "E2330", "modifier": None}])]),
    ],
    settings=[
        ({"on_each_line": True}, [("configuration.items.0.modifier", GONE)], "cannot_tell"),
        ({}, [("request.kind", "replacement"), ("configuration.items.0.modifier", "KX KC")], "met"),
        (
            {},
            [
                ("request.kind", "replacement"),
                ("configuration.items.0.modifier", "KX KC"),
                ("configuration.items.0.why", GONE),
            ],
            "cannot_tell",
        ),
    ],
    ready={
        "met": [(ITEMS, lambda items: [{**i, "modifier": "KX"} for i in items])],
        "cannot_tell": [((*ITEMS, 0, "modifier"), "KX")],
        "not_met": [((*ITEMS, 0, "modifier"), "KC")],
        "does_not_apply": [],
    },
    rests_on=("configuration.items.*.modifier",),
)

test_each_record_gets_its_answer = RECORDS.test()
