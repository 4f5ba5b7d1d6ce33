"""Contrast of colours, against published values."""

from __future__ import annotations

import pytest
from gathered import of_each
from hypothesis import given
from hypothesis import strategies as st

from docgen.rendering.contrast import BLACK, WHITE, contrast_ratio, from_hex, relative_luminance

_part = st.floats(0, 1)
_colours = st.tuples(_part, _part, _part)


@pytest.mark.parametrize(
    "colour, luminance",
    [
        # WCAG 2.2, definition of relative luminance: the coefficients are the luminances of the pure colours
        ("#ffffff", 1.0),
        ("#000000", 0.0),
        ("#ff0000", 0.2126),
        ("#00ff00", 0.7152),
        ("#0000ff", 0.0722),
    ],
)
def test_the_pure_colours_have_their_coefficients(colour, luminance):
    assert relative_luminance(from_hex(colour)) == pytest.approx(luminance, abs=1e-12)


@of_each(
    "colour, ratio",
    [
        ("#000000", 21.0),  # WCAG 2.2, definition of contrast ratio: from 1 to 21
        ("#ffffff", 1.0),
        # widely published for text on white, from memory: the greys on either side of 4.5 to 1, and the pure colours
        ("#767676", 4.54),
        ("#777777", 4.48),
        ("#949494", 3.03),
        ("#ff0000", 4.00),
        ("#0000ff", 8.59),
        ("#008000", 5.14),
        ("#595959", 7.00),
    ],
)
def test_contrast_with_white_is_as_published(colour, ratio):
    assert round(contrast_ratio(from_hex(colour), WHITE), 2) == ratio


@given(one=_colours, other=_colours)
def test_contrast_does_not_depend_on_order_and_stays_in_its_range(one, other):
    assert contrast_ratio(one, other) == contrast_ratio(other, one)
    assert 1.0 <= contrast_ratio(one, other) <= contrast_ratio(BLACK, WHITE) == pytest.approx(21)


@of_each("text", ["", "#", "red", "#12345", "#1234567", "#12345g", "1f4e790", "#1f4e7\u0660", "# f4e79", "#-14e79"])
def test_any_other_form_of_a_colour_is_refused(text):
    with pytest.raises(ValueError, match="is not a color of the form"):
        from_hex(text)
