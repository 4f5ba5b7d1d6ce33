"""A gap that opens a sentence starts with a capital."""

from __future__ import annotations

import re

import pytest
from gathered import of_each
from support import ASSESSED, DEMOS

from docgen.documents.gaps_opening import capitalized
from docgen.packet.trees import trees
from docgen.rendering.tree import parse

GAP = "[missing: weight](gap:client.weight_kg)"


@of_each(
    ("markdown", "reads"),
    [
        (f"The chair is at its fastest. {GAP} Then it slows.", "fastest. Missing: weight Then"),
        (f"The chair is at its fastest. {GAP}", "fastest. Missing: weight"),
        (f'She says "stop." {GAP}', 'stop." Missing: weight'),
        (f"{GAP} recorded daily help.", "Missing: weight recorded"),
        (f"- **{GAP}** The power must be off.", "Missing: weight The power"),
        (f"Held? {GAP} is open.", "Held? Missing: weight is open."),
    ],
)
def test_it_opens_a_sentence(markdown, reads):
    assert reads in capitalized(parse(markdown)).plain()


@of_each(
    "markdown",
    [
        GAP,
        f"- {GAP}",
        f"The door has a clear width of {GAP}, no threshold.",
        f"- Power off: {GAP}",
        f"**{GAP}**.",
        f"| Weight |\n|:--|\n| {GAP} |",
        f"The width is 1.5 {GAP}",
    ],
)
def test_it_stands_alone_or_goes_on_inside_a_sentence(markdown):
    assert "missing: weight" in capitalized(parse(markdown)).plain()


@pytest.mark.parametrize("demo", DEMOS)
def test_no_gap_of_a_demo_opens_a_sentence_with_a_small_letter(demo):
    for name, tree in trees(ASSESSED[demo]).items():
        for line in (node.plain() for node in tree.walk() if node.kind in ("paragraph", "cell")):
            assert not re.search(r"[.!?][\"”]? (missing|not recorded):", line), (name, line)
