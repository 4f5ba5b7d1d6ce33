"""A short form of coverage policy is written out where a paper first uses it, and nowhere else."""

from __future__ import annotations

import re

import pytest
from gathered import of_each
from support import ASSESSED, DEMOS

from docgen.documents.written_out import written_out
from docgen.packet.trees import trees
from docgen.packet.wording import wording
from docgen.rendering.tree import parse

SHORT_FORMS = wording().words["short_forms"]
NCD = "National Coverage Determination (NCD)"


@of_each(
    ("markdown", "reads"),
    [
        ("Rule: NCD 280.3. Again NCD 280.3.", f"Rule: {NCD} 280.3. Again NCD 280.3."),
        ("An NCD holds.", f"A {NCD} holds."),
        ("By an LCD.", "By a Local Coverage Determination (LCD)."),
        (f"By the {NCD} and NCD 280.3.", f"By the {NCD} and NCD 280.3."),
        ("# NCD 280.3\n\nThe NCD says so.", f"NCD 280.3The {NCD} says so."),
        ("| Rule |\n|:--|\n| NCD 280.3 |", f"Rule{NCD} 280.3"),
        ('> [!NOTE]\n> "Not by NCD 280.3."\n\nSee NCD 280.3.', f'"Not by NCD 280.3."See {NCD} 280.3.'),
        ("A SWORD and the SWO.", "A SWORD and the standard written order (SWO)."),
        ("The DME MAC said so.", "The durable medical equipment Medicare administrative contractor (DME MAC) said so."),
        ("Nothing short.", "Nothing short."),
    ],
)
def test_the_first_use_is_written_out(markdown, reads):
    assert written_out(parse(markdown), SHORT_FORMS).plain() == reads


@pytest.mark.parametrize("demo", DEMOS)
def test_no_paper_of_a_demo_uses_one_before_it_is_written_out(demo):
    for name, tree in trees(ASSESSED[demo]).items():
        text = tree.plain()
        for short in SHORT_FORMS:
            if use := re.search(rf"\b{short}\b", text):
                assert text[use.start() - 1 : use.end() + 1] == f"({short})", f"{name}: {text[use.start() - 40 :][:80]}"
