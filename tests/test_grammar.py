"""Sentences around the names of a case: verbs that agree with them, and no article before a word that says which."""

from __future__ import annotations

import pytest
from gathered import of_each

from docgen.grammar import said_once, with_verb


@of_each(
    ("name", "verb", "written"),
    [
        ("kitchen", "has", "kitchen has"),
        ("doors at home", "has", "doors at home have"),
        ("stairs", "is", "stairs are"),
        ("door to the stairs", "is", "door to the stairs is"),
        ("path to the buses", "has", "path to the buses has"),
        ("bus", "was", "bus was"),
        ("grandmother's", "is", "grandmother's is"),
        ("optical finger switches on a tray", "was", "optical finger switches on a tray were"),
        ("bed and table", "gives", "bed and table give"),
        ("a cane, a walker and a scooter", "is", "a cane, a walker and a scooter are"),
        ("a hand-operated standard joystick", "is", "a hand-operated standard joystick is"),
        ("people in the hall", "does", "people in the hall do"),
        ("", "is", " is"),
    ],
)
def test_a_verb_agrees_with_the_name_before_it(name: str, verb: str, written: str):
    assert with_verb(name, verb) == written


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("The her own bathroom has", "Her own bathroom has"),
        ("The all doors have", "All doors have"),
        ("larger than the his own chair", "larger than his own chair"),
        ("the the kitchen; The a tray", "the kitchen; A tray"),
        ("the therapist, the all-day chair, the Anders ramp", "the therapist, the all-day chair, the Anders ramp"),
        ("the herb, the items, breathe his air", "the herb, the items, breathe his air"),
    ],
)
def test_what_says_which_is_said_once(before: str, after: str):
    assert said_once(before) == after
