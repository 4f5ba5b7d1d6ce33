"""Drawings as SVG: every shape in place, every word intact, well formed."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from gathered import of_each
from hypothesis import example, given, settings
from texts import HOSTILE, any_text

from docgen.rendering.svg import svg
from docgen.scene import Circle, Line, Poly, Rect, Scene, Text

_NS = "{http://www.w3.org/2000/svg}"


def _drawn(*shapes, alt="what it shows"):
    return ET.fromstring(svg(Scene(100, 50, alt, shapes), "drawing.1"))


def test_the_drawing_is_one_named_image():
    root = _drawn(alt='pads <at> "60 mm" & more')
    title = root.find(f"{_NS}title")
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == title.get("id") == "drawing.1"
    assert title.text == 'pads <at> "60 mm" & more'


def test_the_size_is_in_points():
    root = _drawn()
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100pt", "50pt", "0 0 100 50")


@of_each(
    ("shape", "tag", "attributes"),
    [
        (
            Line(1, 2, 3.456, 4, width=0.5, shade=1.0, dash=(2, 1.5)),
            "line",
            {
                "x1": "1",
                "y1": "2",
                "x2": "3.46",
                "y2": "4",
                "stroke": "#ffffff",
                "stroke-width": "0.5",
                "stroke-dasharray": "2 1.5",
                "fill": "none",
            },
        ),
        (
            Rect(1, 2, 3, 4, fill=0.5, stroke=None, radius=2),
            "rect",
            {"x": "1", "y": "2", "width": "3", "height": "4", "rx": "2", "fill": "#808080"},
        ),
        (
            Rect(1, 2, 3, 4),
            "rect",
            {
                "x": "1",
                "y": "2",
                "width": "3",
                "height": "4",
                "fill": "none",
                "stroke": "#000000",
                "stroke-width": "0.8",
            },
        ),
        (
            Circle(5, 6, 7, fill=0.0),
            "circle",
            {"cx": "5", "cy": "6", "r": "7", "fill": "#000000", "stroke": "#000000", "stroke-width": "0.8"},
        ),
        (
            Poly(((0, 0), (1, 2))),
            "polygon",
            {"points": "0,0 1,2", "fill": "none", "stroke": "#000000", "stroke-width": "0.8"},
        ),
        (
            Poly(((0, 0), (1, 2)), closed=False, dash=(3,)),
            "polyline",
            {"points": "0,0 1,2", "fill": "none", "stroke": "#000000", "stroke-width": "0.8", "stroke-dasharray": "3"},
        ),
        (
            Text(1, 2, "a", size=8, bold=True, anchor="end", shade=0.2),
            "text",
            {"x": "1", "y": "2", "font-size": "8", "font-weight": "bold", "text-anchor": "end", "fill": "#333333"},
        ),
        (Text(-0.001, 2, "a"), "text", {"x": "0", "y": "2", "font-size": "9", "fill": "#000000"}),
    ],
)
def test_each_shape_keeps_its_measures(shape, tag, attributes):
    element = list(_drawn(shape))[1]
    assert (element.tag, element.attrib) == (_NS + tag, attributes)


def test_shapes_keep_their_painting_order():
    root = _drawn(Rect(0, 0, 1, 1), Line(0, 0, 1, 1), Circle(0, 0, 1))
    assert [element.tag for element in root] == [_NS + tag for tag in ("title", "rect", "line", "circle")]


@settings(max_examples=50, deadline=None)
@given(any_text("\t\n\r"), any_text("\t\n\r"))
@example(HOSTILE, HOSTILE)
def test_any_words_survive(alt, label):
    root = _drawn(Text(0, 0, label), alt=alt)
    assert root.find(f"{_NS}title").text == alt
    assert root.find(f"{_NS}text").text == label


def test_an_unknown_shape_is_refused():
    with pytest.raises(ValueError, match="no shape for str"):
        svg(Scene(1, 1, "a", ("oval",)), "x")


def test_a_character_no_page_can_show_is_refused():
    with pytest.raises(ValueError, match="U\\+0007"):
        svg(Scene(1, 1, "a", (Text(0, 0, "be\x07ep"),)), "x")
