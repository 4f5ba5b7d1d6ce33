"""A person at risk, and the pages of a packet as words, for the tests of what can hurt."""

from __future__ import annotations

from datetime import date

import pytest
from made import assessed

from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.packet.wording import wording
from docgen.rendering.tree import Node

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
SEEN = {"by": "nurse", "on": date(2026, 3, 3)}
SIGN = "pounding head, hot cheeks"
PEOPLE = ({"id": "nurse", "role": "other", "name": "Nim Example", "relation": "nurse line", "phone": "555-0100"},)
CREW = {"given_by": "Robin", "on": date(2026, 3, 3), "names_medicine": True, "may_hang": "on the chair"}


def pages(case: Assessed, lang: str, *names: str) -> list[str]:
    """The printed pages that documents ask for, as words: those of card, guide and log where none is named."""
    found: list[list[Node]] = []
    for tree in trees(case, names or ("card", "guide", "log"), wording(lang)).values():
        found.append([])
        for block in tree.children:
            found.append([]) if block.kind == "page_break" else found[-1].append(block)
    return [" ".join(" ".join(block.plain() for block in page).split()) for page in found]


def words(case: Assessed, lang: str, *names: str) -> str:
    return " ".join(pages(case, lang, *names))


def at_risk(**emergency: object) -> Assessed:
    """Someone with an injury of the spinal cord at C4, whose emergency page has these keys."""
    return assessed(
        client={"called": "Robin", "pronouns": "she"},
        people=PEOPLE,
        diagnoses=({"code": "S14.114A", "name": "spinal cord injury at C4"},),
        weight_shift={"tilt_deg": 30, "hold_min": 2, "every_min": 30, "starts": "driver", "not_when": "After meals."},
        emergency=emergency,
    )


SIGNS = (
    {"says": SIGN, "first": "seat up", "moves": "upright", "serves": ("autonomic_dysreflexia.signs",), **SEEN},
    {
        "says": "gray and far away",
        "first": "seat back",
        "moves": "back",
        "serves": ("low_pressure_upright.faint",),
        **SEEN,
    },
    {"says": "no breath", "first": "call for help", **SEEN},
)
