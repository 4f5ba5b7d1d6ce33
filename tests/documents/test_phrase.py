"""Texts of a case as they go on inside a sentence of a page."""

import pytest

from docgen.documents.phrase import inside


@pytest.mark.parametrize(
    ("text", "within"),
    [
        ("The therapist, from video.", "the therapist, from video"),
        ("On Monday he drove.", "on Monday he drove"),
        ("Robin drove.", "Robin drove"),
        ("I scored them.", "I scored them"),
        ("GMFCS level V", "GMFCS level V"),
        ("Dr. Anneliese Ruhland", "Dr. Anneliese Ruhland"),
        ("Jo Example, from video", "Jo Example, from video"),
        ("Inés Calloway, by sight", "Inés Calloway, by sight"),
        ("Each émigré said so.", "each émigré said so"),
        ("The Monday group", "the Monday group"),
        ("", ""),
        ("She is alone from 1 to 4 p.m.", "she is alone from 1 to 4 p.m."),
    ],
)
def test_a_text_keeps_its_capital_only_where_a_name_begins_it(text, within):
    assert inside(text, "Robin Example") == within
