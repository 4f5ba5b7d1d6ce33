"""A usual request as a clinic would write it: short, and ready for the clinician's review."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
import tomli
from support import assess

from docgen.packet.trees import trees

CASE = Path(__file__).with_name("usual") / "emeric-valcourt-sato"
MOST_LINES, WIDTH, MOST_KEYS = 250, 110, 350
TEXT = (CASE / "case.toml").read_text(encoding="utf-8")


@cache
def assessed():
    return assess(CASE)


def keys_and_entries(node):
    """How many keys and entries of lists stand in a table."""
    values = node.values() if isinstance(node, dict) else [entry for entry in node if isinstance(entry, dict)]
    return sum(1 + (keys_and_entries(value) if isinstance(value, (dict, list)) else 0) for value in values)


def test_a_usual_case_has_at_most_250_lines_of_110_characters_and_350_keys_and_entries():
    lines = TEXT.rstrip("\n").split("\n")
    assert len(lines) <= MOST_LINES and max(map(len, lines)) <= WIDTH
    assert 200 < keys_and_entries(tomli.loads(TEXT)) <= MOST_KEYS


def test_it_comes_to_ready_with_nothing_that_a_reviewer_may_ask():
    assert [verdict.requirement.id for verdict in assessed().verdicts if verdict.open and verdict.blocks] == []
    asked = [verdict.requirement.id for verdict in assessed().verdicts if verdict.open and verdict.severity == "query"]
    assert asked == [] and not assessed().open


@pytest.mark.parametrize("document", ["letter", "cover"])
def test_the_pages_for_the_payer_have_no_gap(document):
    page = trees(assessed(), [document])[document].plain()
    assert "not recorded" not in page and "missing:" not in page and "Emeric" in page
