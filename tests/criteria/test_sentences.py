"""Small pieces of sentences, as a reader sees them."""

from __future__ import annotations

from datetime import date

import pytest

from docgen.criteria.sentences import capital, counted, day, k_of_n, listed, points, sentences_of, statements_of
from docgen.evidence.fact import Fact


@pytest.mark.parametrize(
    ("words", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_words_are_listed_with_the_last_after_and(words, said):
    assert listed(words) == said and listed(words, "or") == said.replace("and", "or")


@pytest.mark.parametrize(("n", "said"), [(0, "0 rows"), (1, "1 row"), (2, "2 rows")])
def test_one_alone_is_counted_in_the_singular(n, said):
    assert counted(n, "row", "rows") == said


def test_a_share_and_a_difference_are_told_as_they_are_counted():
    share = Fact("success.pads", "", "", "proportion", 0.9, n=20, k=18)
    assert k_of_n(share) == "18 of 20"
    difference = Fact("difference.pads", "", "", "difference", 0.8, low=-0.6, high=0.98)
    assert points(difference) == "80 percentage points (-60 to 98)"
    for missing in ("value", "low", "high"):
        lacks = {"value": 0.25, "low": -0.12, "high": 0.58} | {missing: None}
        with pytest.raises(ValueError, match=r"difference\.pads holds no difference"):
            points(Fact("difference.pads", "", "", "difference", **lacks))


def test_a_day_and_a_sentence_begin_as_they_are_written():
    assert day(date(2026, 4, 17)) == "April 17, 2026"
    assert [capital(words) for words in ("", "a", "ab cd", "x-ray")] == ["", "A", "Ab cd", "X-ray"]


def test_a_text_is_parted_at_its_marks_and_a_statement_at_semicolons_too():
    text = "No fits; one spell in May;none since. Is it so? Yes."
    assert sentences_of(text) == ["No fits; one spell in May;none since.", "Is it so?", "Yes."]
    assert statements_of(text) == ["No fits;", "one spell in May;", "none since.", "Is it so?", "Yes."]
    assert sentences_of(None) == statements_of("") == []
