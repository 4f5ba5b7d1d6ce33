"""Nobody may ride in the chair while anything that holds chair, body and head is lacking or unknown."""

from __future__ import annotations

from gathered import of_each

from docgen.case.transport import Transport
from docgen.fit.ride import against, may_ride, unknown

HELD = dict.fromkeys(("chair_labeled", "four_tie_downs", "own_belt", "head_support"), "yes")
TOLD = {"vehicle": "a van", "trained": "the aunt", "back_deg": 10, "control": "swung_away", "loose_parts": "The bag."}
WHOLE = {"rides_in_chair": True, **HELD, **TOLD}


@of_each(
    ("changed", "is_unknown", "is_against"),
    [
        ({}, (), ()),
        ({"rides_in_chair": False}, (), ()),
        ({"rides_in_chair": None}, (), ()),
        *(({key: "unknown"}, (key,), ()) for key in HELD),
        *(({key: None}, (key,), ()) for key in (*HELD, *TOLD)),
        *(({key: "no"}, (), (key,)) for key in HELD),
        ({"control": "stays"}, (), ("control",)),
        ({"control": "locked"}, ("lock",), ()),
        ({"own_belt": "no", "control": "stays"}, (), ("own_belt", "control")),
    ],
)
def test_a_ride_is_given_only_where_everything_holds(changed, is_unknown, is_against):
    ride = Transport.model_validate(WHOLE | changed)
    assert (unknown(ride), against(ride)) == (is_unknown, is_against)
    assert may_ride(ride) is (not changed)


def test_a_control_that_is_locked_for_the_ride_has_a_lock_on_record():
    assert may_ride(Transport.model_validate(WHOLE | {"control": "locked", "lock": "the red catch"}))
