"""What the letter tells of a place: what was measured, and what a place of its kind is nothing without."""

from __future__ import annotations

import pytest
from gathered import of_each
from support import DEMO_FOLDERS

from docgen.case.need import Space
from docgen.case.read import read_case
from docgen.documents.places import places
from docgen.evidence.gather import evidence
from docgen.packet.wording import language_words

CASE = read_case(next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")).case
PROFILE = CASE.configuration.profiles[0].id


def row_of(**keys):
    """The row of one place with these keys; a distance shows as the id of its fact."""
    space = Space.model_validate({"id": "there", "name": "a place", "kind": "stopping", **keys})
    case = CASE.model_copy(update={"spaces": (space,)})
    [row] = places(case, evidence(case), language_words("en"), lambda fact: fact and fact.id)
    return row


@of_each(
    "flag, kinds",
    [
        ("tells_width", {"doorway", "corridor", "elevator"}),
        ("tells_threshold", {"doorway"}),
        ("tells_turning", {"turning"}),
        ("slopes", {"ramp"}),
    ],
)
@of_each("kind", ["doorway", "corridor", "elevator", "turning", "ramp", "stopping"])
def test_what_a_place_of_its_kind_is_nothing_without_is_told_measured_or_not(kind, flag, kinds):
    assert row_of(kind=kind)[flag] == (kind in kinds)


@pytest.mark.parametrize(
    "key, flag",
    [
        ("clear_width_mm", "tells_width"),
        ("threshold_mm", "tells_threshold"),
        ("turning_mm", "tells_turning"),
        ("slope_percent", "slopes"),
    ],
)
def test_what_was_measured_is_told_of_any_place(key, flag):
    assert row_of(**{key: 20 if key == "threshold_mm" else 9 if key == "slope_percent" else 900})[flag]


def test_no_threshold_is_told_as_such_and_one_not_measured_is_not():
    assert row_of(kind="doorway", threshold_mm=0)["flat"] and not row_of(kind="doorway")["flat"]


@pytest.mark.parametrize(
    "keys, distance",
    [
        ({"clear_ahead_mm": 900}, None),
        ({"profile": PROFILE}, None),
        ({"clear_ahead_mm": 900, "profile": PROFILE}, f"stopping.{PROFILE}"),
        (
            {"clear_ahead_mm": 900, "profile": PROFILE, "slope_percent": 8},
            "stopping_on.there",
        ),  # never the one on the level
        ({"clear_ahead_mm": 900, "profile": PROFILE, "kind": "ramp"}, None),
    ],
)
def test_a_distance_needs_a_speed_and_room_and_on_a_slope_its_own(keys, distance):
    assert row_of(**keys)["distance"] == distance
