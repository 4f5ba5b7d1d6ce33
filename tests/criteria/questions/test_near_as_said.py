"""What `near_as_said` says of each record."""

from __future__ import annotations

import pytest
from records import Records
from whole_case import GONE

from docgen.criteria.near import parted

REACH = ("supervision.0.level", "arms_length")
BY = "supervision.0.by"

RECORDS = Records(
    "near_as_said",
    met=[
        ("within arm's reach", [REACH]),
        ("one behind, one at the end", [REACH, (BY, "her aide behind her, the neighbor waiting at the end")]),
        ("within arm's reach, and nobody named", [REACH, (BY, GONE)]),
    ],
    not_met=[
        ("at the far end of the ramp", [REACH, (BY, "her aide at the far end of the ramp")]),
        ("in the next room, and at the door", [REACH, (BY, "an aunt in the next room and a friend at the door")]),
        (
            "a hand on the stop from fifteen minutes away",
            [(REACH[0], "hands_on_stop"), (BY, "an aide, 15 minutes away")],
        ),
    ],
    cannot_tell=[("no supervision", [("supervision", [])])],
    does_not_apply=[("the whole case", [])],
    ready={"met": []},
    rests_on=("supervision.*",),
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize(
    ("by", "near", "far"),
    [
        ("her aide behind her at the stop, the neighbor waiting at the end", 1, 1),
        ("an aunt and an aide", 2, 0),
        ("her partner or the aide", 1, 0),
        ("a friend at the top of the ramp.", 0, 1),
    ],
)
def test_who_is_out_of_reach_is_told_by_the_words(by, near, far):
    assert tuple(map(len, parted(by))) == (near, far)
