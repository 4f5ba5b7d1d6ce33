"""What a trial too small to tell leaves open, how far luck goes in words, and which control worked well enough."""

from __future__ import annotations

import pytest
from whole_case import WHOLE, attempts, changed, grounds

from docgen.criteria.criterion import Grounds
from docgen.criteria.ruled_out import luck, too_small, worked
from docgen.evidence.fact import Evidence, Fact


def _holding(*facts: Fact) -> Grounds:
    whole = grounds(WHOLE)
    return Grounds(whole.case, Evidence(iter(facts)), whole.fit)


@pytest.mark.parametrize(
    ("chance", "words"), [(0.25, "25%"), (0.0105, "1%"), (0.01, "1%"), (0.0099, "less than 1%"), (None, "")]
)
def test_luck_is_told_in_whole_percents_or_as_less_than_one(chance, words):
    facts = () if chance is None else (Fact("by_chance.stick", "", "", "proportion", chance),)
    said = f"By Fisher's exact test, two equal controls would differ as much in {words} of trials of this size"
    said += ", if their attempts were independent."
    assert luck(_holding(*facts), "stick") == (said if words else "")


@pytest.mark.parametrize(("share", "expected"), [(None, False), (0.0, False), (0.49, False), (0.5, True), (0.54, True)])
def test_a_control_worked_where_half_of_its_attempts_are_done(share, expected):
    facts = () if share is None else (Fact("success.stick", "", "", "proportion", share),)
    assert worked(_holding(*facts), "stick") is expected


@pytest.mark.parametrize(
    ("stick", "pads", "words"),
    [
        ("0111", "1111", "3 of 4 attempts successful, requested control 4 of 4: a difference of 25 percentage points"),
        ("1111", "1111", ""),  # as good
        ("1111", "0111", ""),  # better
        ("0000" * 6, "1111" * 6, ""),  # worse, in a trial large enough to tell
    ],
)
def test_a_trial_too_small_to_tell_is_told_only_where_the_control_did_worse(stick, pads, words):
    here = grounds(changed(), [*attempts("stick", stick), *attempts("pads", pads)])
    said = too_small(here, "stick")
    assert said.startswith(words) and bool(said) == bool(words)
    assert too_small(here, None) == "" and too_small(here, "tablet") == ""
