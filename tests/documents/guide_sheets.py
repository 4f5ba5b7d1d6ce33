"""The sheets for daily use of a demo, or of a chair made for one test."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from made import assessed
from support import DEMO_FOLDERS, assess

from docgen.fit.feature import features
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.rendering.tree import Node

FEATURES = features()
DEMOS = pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)


SHEETS = ("card", "guide", "log")  # of one source: what one says, another does not say again


@cache
def guide(folder: Path) -> Node:
    return trees(assess(folder), ["guide"])["guide"]


@cache
def card(folder: Path) -> Node:
    return trees(assess(folder), ["card"])["card"]


# its texts are free of words for parts
STOP = {
    "driver": "gives a sign",
    "stop_switch": "here",
    "power_off": "there",
    "helper": "do it too",
    "freewheel": "below",
}


def chair(asked=(), **configuration) -> Assessed:
    """A chair with these features; every text is free of words for parts."""
    return assessed(
        client={"called": "Robin", "pronouns": "she"},
        configuration={
            "works": "It goes when asked.",
            "features": tuple({"id": one, "because": ()} for one in asked),
            "stop": STOP,
            **configuration,
        },
    )


def text_of(one: Assessed) -> str:
    """All sheets for daily use, one after the other."""
    return "\n".join(tree.plain() for tree in trees(one, SHEETS).values())


MOUNT = {"id": "one", "part": "the first part", "site": "hand", "at": "there", "gap_mm": 4}


# what a test that a dead switch fails must say, in its order
STOP_TEST = {
    "en": (
        "must move",
        ", A, while it moves: it must stop.",
        "it must stay still",
        "It must not move and does? Press A, then B. Still moving: D. Do not drive. Call the supplier.",
        "All right?",
    ),
    "es": (
        "Debe moverse",
        ", A, mientras se mueve: debe parar.",
        "no debe moverse",
        "¿No debe moverse y se mueve? Oprima A, luego B. ¿Sigue? D. No se maneja. Llame al proveedor.",
        "¿Todo bien?",
    ),
}
