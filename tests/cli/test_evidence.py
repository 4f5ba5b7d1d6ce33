"""The page of `docgen evidence`: whether a fact is on it is the fact's own, whatever it is called."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from support import DEMO_FOLDERS

import docgen
from docgen.console.evidence import evidence_json, evidence_text
from docgen.evidence.fact import Fact


@pytest.mark.parametrize("name", ["tries_new", "move_on.new", "attempts.new", "session.new.success.new", "new"])
def test_a_fact_is_on_the_page_unless_it_says_otherwise_and_always_in_the_json(name):
    evidence = docgen.evidence_of(DEMO_FOLDERS[0])
    new = Fact(name, "driving", "a number of its own", "count", 3, keys=("client.weight_kg",))
    more = replace(evidence, facts=(*evidence.facts, new))
    assert "a number of its own" in evidence_text(more)
    unlisted = replace(evidence, facts=(*evidence.facts, replace(new, listed=False)))
    assert evidence_text(unlisted) == evidence_text(evidence)
    assert evidence_json(unlisted) == evidence_json(more) and evidence_json(more)["facts"][-1]["id"] == name
