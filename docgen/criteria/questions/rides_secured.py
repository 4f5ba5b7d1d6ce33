"""Who rides in a vehicle seated in the chair has chair, body and head held, and someone who knows how.

Asks: Whether the chair is labeled for it, four tie-downs or its own docking hold it, the vehicle has a belt for the
    rider, which no belt for posture is, something that is no pad of the control is behind the head; how far back the
    back is, where the control goes, what is loose, and who fastens it. What nobody could tell is not known, and no page
    says then that the client may ride in it.
Why a payer asks: A chair that comes loose, or a head with nothing behind it, kills at a sudden stop.
What settles it: vehicle, trained, chair_labeled, four_tie_downs, own_belt, head_support, back_deg, control, lock
    and loose_parts under [transport].
Source: vehicle, chair, tie-down and belt as the four parts: Fuhrman and Karg 2008, read; RESNA WC19, ISO 7176-19:2022
    and ISO 10542-1, catalogues read; that a belt of the chair counts where the chair was
    crash-tested with it, control off, swung away or clear of head and trunk, loose parts, that switch pads are no
    head support: from memory or inference, no crash test of such pads was found.
"""

from __future__ import annotations

import re

from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed
from docgen.fit.ride import against, unknown

HEADING = "record"
CLAIM = "Chair and head are secured in a vehicle"
SHOWN_IN = ("letter: Safety and Home Environment",)
DANGER = True
SETTINGS: dict[str, object] = {}
_LACKS = {
    "chair_labeled": "the chair is not labeled for it",
    "four_tie_downs": "no four tie-downs hold it",
    "own_belt": "the vehicle has no belt for the rider",
    "head_support": "nothing is behind the head",
    "control": "the control stays where it is for driving",
}
# a belt that was answered with "yes" and is named a posture belt is none that holds a rider
_POSTURE_BELT = re.compile(r"\b(posture|positioning|pelvic|chest|trunk|chair) (belt|strap|harness)\b", re.IGNORECASE)
_VEHICLE_BELT = re.compile(r"\blap[- ]and[- ]shoulder belt|\b(occupant|seat) belt of the\b", re.IGNORECASE)
_UNTOLD = {
    "vehicle": "which vehicle",
    "trained": "who fastens it",
    "chair_labeled": "whether the chair is labeled for it",
    "four_tie_downs": "whether four tie-downs hold it",
    "own_belt": "whether there is a belt for the rider",
    "head_support": "what is behind the head",
    "back_deg": "how far back the back is",
    "control": "where the control goes",
    "loose_parts": "what is loose",
    "lock": "what locks the control",
}


def answer(grounds: Grounds) -> Answer:
    ride = grounds.case.transport
    if ride.rides_in_chair is False:
        return does_not_apply("The client does not ride seated in the chair.", ("transport", "rides_in_chair"))
    if ride.rides_in_chair is None:
        return cannot_tell(
            "Whether the client rides in a vehicle seated in the chair is not recorded.",
            ("transport",),
            mend=fill_in({"transport.rides_in_chair": "<true or false>"}),
        )
    if lacking := against(ride):
        return not_met(
            f"The client rides seated in the chair, and {listed(_LACKS[key] for key in lacking)}.",
            *(_at(key) for key in lacking),
            mend="Have chair and vehicle fitted for it, or have the client ride in a seat of the vehicle.",
        )
    vehicle = ride.vehicle or ""
    if (belt := _POSTURE_BELT.search(vehicle)) and not _VEHICLE_BELT.search(vehicle):
        return not_met(
            f"What holds the rider in the vehicle is told as the {belt[0].lower()}, which holds no rider.",
            _at("vehicle"),
            mend="Record the lap-and-shoulder belt of the vehicle, or write in own_belt that there is none.",
        )
    if untold := unknown(ride):
        return cannot_tell(
            f"The client rides seated in the chair, and not known is {listed(_UNTOLD[key] for key in untold)}.",
            *(_at(key) for key in untold),
            mend=fill_in({f"transport.{key}": "" for key in untold}),
        )
    bare = [
        ("configuration", "standard_parts", place, "comes")
        for place, part in enumerate(grounds.case.configuration.standard_parts)
        if (part.part, part.comes) == ("headrest", "not_needed")
    ]
    if (
        bare
        and ride.control == "swung_away"
        and any(m.site == "head_back" for m in grounds.case.configuration.mounting)
    ):
        return not_met(
            "Something is said to be behind the head in a vehicle, and the control at the head is swung away for the "
            "ride, but the order says that no headrest is needed.",
            _at("head_support"),
            *bare,
            mend="Say in comes of the headrest where it comes from, or in head_support that nothing is there.",
        )
    return met("What holds chair, rider and head in a vehicle is recorded, and who fastens it.", ("transport",))


def _at(key: str) -> KeyPath:
    return ("transport", key)
