"""What `readers_can_read` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

AUNT = {"id": "aunt_2", "role": "caregiver", "name": "Kin Example", "reads": ["ja"]}
HELPED = AUNT | {"interpreter": "the clinic's interpreter, by video"}

RECORDS = Records(
    "readers_can_read",
    met=[
        ("an aunt who reads English too", [("people.+", AUNT | {"reads": ["ja", "en"]})]),
        ("an aunt for whom there is a guide", [("people.+", AUNT | {"reads": ["es-MX"]})]),
        ("an aunt with whom someone goes through it", [("people.+", HELPED)]),
    ],
    cannot_tell=[
        ("an aunt who reads neither", [("people.+", AUNT)]),
        (
            "someone at school who reads Spanish, and no plan in it",
            [("people.+", AUNT | {"role": "school", "reads": ["es"]})],
        ),
        ("a client who reads neither", [("client.reads", ["vi"])]),
        ("nobody", [("people", GONE)]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("a supplier's languages", [("people.+", {"id": "shop", "role": "supplier", "reads": ["ja"]})]),
    ],
    rests_on=("people",),
    only_recorded=True,
    ready={
        "does_not_apply": [],
        "cannot_tell": [(("client", "reads"), ("vi",))],
        "met": [(("client", "reads"), ("en",))],
    },
)

test_each_record_gets_its_answer = RECORDS.test()
