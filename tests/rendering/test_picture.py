"""The picture of a drawing: its size, its greys, its text, and the same bytes each time."""

from __future__ import annotations

import io

import pytest
from gathered import of_each
from PIL import Image

from docgen.rendering.picture import forget_pictures, png, pngs
from docgen.scene import Circle, Line, Poly, Rect, Scene, Text


def _picture(*shapes, w=72, h=36, dpi=200):
    return Image.open(io.BytesIO(png(Scene(w, h, "test", shapes), dpi)))


def _grey(picture, x_points, y_points, dpi=200):
    """Grey from 0 to 255 at a point of the drawing."""
    return picture.convert("L").getpixel((round(x_points * dpi / 72), round(y_points * dpi / 72)))


@pytest.mark.parametrize("dpi, size", [(72, (72, 36)), (144, (144, 72)), (200, (200, 100))])
def test_a_picture_has_the_size_of_the_drawing(dpi, size):
    picture = _picture(dpi=dpi)
    assert picture.size == size
    assert picture.format == "PNG" and picture.mode == "P"
    assert picture.info["dpi"] == pytest.approx((dpi, dpi), abs=0.1)


def test_an_empty_drawing_is_white():
    assert _picture().convert("L").getextrema() == (255, 255)


@of_each("shade", [0.0, 0.3, 0.5, 0.88, 0.95, 0.97])
def test_a_shade_comes_out_within_three_of_255(shade):
    assert _grey(_picture(Rect(0, 0, 72, 36, fill=shade, stroke=None)), 36, 18) == pytest.approx(255 * shade, abs=3)


def test_y_runs_downwards():
    picture = _picture(Rect(0, 0, 72, 10, fill=0.0, stroke=None))
    assert _grey(picture, 36, 5) == 0 and _grey(picture, 36, 30) == 255


@of_each(
    "shape, inside, outside",
    [
        (Line(10, 18, 60, 18, width=4), (36, 18), (36, 26)),
        (Circle(36, 18, 10, fill=0.0), (36, 18), (36, 31)),
        (Circle(36, 18, 10, width=3), (46, 18), (36, 18)),
        (Poly(((10, 5), (60, 5), (35, 30)), fill=0.0), (35, 12), (12, 25)),
        (Poly(((10, 5), (60, 5)), closed=False, width=4), (35, 5), (35, 12)),
        (Rect(10, 5, 40, 20, stroke=0.0, width=4), (10, 15), (30, 15)),
        (Rect(10, 5, 40, 20, fill=0.0, stroke=None, radius=100), (30, 15), (10.5, 5.5)),
    ],
    ids=lambda value: type(value).__name__,
)
def test_a_shape_inks_its_place_and_no_other(shape, inside, outside):
    picture = _picture(shape)
    assert _grey(picture, *inside) < 30
    assert _grey(picture, *outside) > 250


def test_a_dashed_line_has_gaps():
    greys = [_grey(_picture(Line(0, 18, 72, 18, width=4, dash=(6, 6))), x, 18) for x in (3, 9, 15, 21)]
    assert greys == [0, 255, 0, 255]


def _ink(picture, left=0.0, right=1.0):
    grey = picture.convert("L").crop((round(left * picture.width), 0, round(right * picture.width), picture.height))
    return sum(255 - value for value in grey.tobytes())


def test_bold_text_has_clearly_more_ink():
    thin, bold = (_ink(_picture(Text(4, 24, "minimum", size=16, bold=bold))) for bold in (False, True))
    assert bold > 1.3 * thin


@pytest.mark.parametrize("anchor, empty", [("start", (0, 0.49)), ("middle", None), ("end", (0.51, 1))])
def test_text_stands_where_its_anchor_says(anchor, empty):
    picture = _picture(Text(36, 24, "mm", size=16, anchor=anchor))
    assert _ink(picture) > 0
    if empty:
        assert _ink(picture, *empty) == 0
    else:
        assert _ink(picture, 0, 0.5) == pytest.approx(_ink(picture, 0.5, 1), rel=0.15)


@pytest.mark.parametrize("text", ["Łódź", "Привет", "Tiếng Việt", "≤ 5\u00a0mm", "Ελλάδα"])
def test_text_beyond_ascii_is_drawn_and_not_as_boxes(text):
    box = _picture(Text(2, 24, "x" * len(text), size=12))
    drawn = _picture(Text(2, 24, text, size=12))
    assert _ink(drawn) > 0 and drawn.tobytes() != box.tobytes()


def test_a_character_the_face_lacks_is_drawn_as_its_code_point():
    assert _picture(Text(2, 24, "\u2603")).tobytes() == _picture(Text(2, 24, "[U+2603]")).tobytes()


def test_an_unknown_shape_is_refused():
    with pytest.raises(TypeError, match="str"):
        _picture("a string")


def test_the_same_drawing_gives_the_same_bytes(scenes):
    scene = scenes["pads"]
    first = png(scene)
    png(Scene(10, 10, "another", (Text(1, 8, "xyz"),)))
    assert png(scene) == first
    assert png(scene, 100) != first


def test_drawings_made_together_are_the_pictures_of_each_alone():
    scenes = [
        Scene(72, 36, "text", (Text(4, 24, "Turn left, Łódź", size=16),)),
        Scene(30, 90, "box", (Rect(2, 2, 20, 40, fill=0.4), Text(4, 80, "left", size=9, bold=True))),
        Scene(72, 36, "circle", (Circle(36, 18, 10),)),
    ]
    alone = {}
    for scene in scenes:
        forget_pictures()
        alone[scene] = png(scene)
    forget_pictures()
    assert pngs([*scenes, scenes[0]]) == alone and len(set(alone.values())) == 3


def test_a_drawing_made_before_is_not_made_again(monkeypatch):
    import docgen.rendering.picture as picture

    forget_pictures()
    drawn, draw = [], picture._drawn
    monkeypatch.setattr(picture, "_drawn", lambda scenes, dpi: (drawn.append(len(scenes)), draw(scenes, dpi))[1])
    scenes = [Scene(10, 10, f"no {at}", (Circle(5, 5, at / 20),)) for at in range(140)]
    pngs(scenes[:3])
    pngs(scenes[2:5])
    pngs(scenes)
    assert drawn == [3, 2, 135] and len(picture._kept) == 128
    forget_pictures()
    pngs(scenes[:1])
    assert drawn[-1] == 1
