"""Pieces of a text by the way their letters run."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.rendering.direction import is_latin, stretches


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("Ada", [("Ada", False)]),
        ("Ada (שלום עולם), 3", [("Ada (", False), ("שלום עולם", True), ("), 3", False)]),
        ("مريم 12 مثال", [("مريم 12 مثال", True)]),
        ("مريم and שרה", [("مريم", True), (" and ", False), ("שרה", True)]),
        ("Łukasz – ß", [("Łukasz – ß", False)]),
    ],
)
def test_a_stretch_runs_from_its_first_to_its_last_letter(text, pieces):
    assert [*stretches(text)] == pieces


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet=st.sampled_from("aB1 .,-)(\u05d0\u05b0\u0627\u0651\u200f\u4e2d")))
def test_the_pieces_are_the_text_in_its_logical_order(text):
    pieces = [*stretches(text)]
    assert "".join(piece for piece, _ in pieces) == text
    for piece, to_left in pieces:
        letters = {unicodedata.bidirectional(char) for char in piece} & {"L", "R", "AL"}
        assert letters <= ({"R", "AL"} if to_left else {"L"})


def test_which_scripts_are_latin():
    assert is_latin("Ewa Łukasiewicz-Ĩ Ṽ 3") and not is_latin("Ева") and not is_latin("瑪利")
