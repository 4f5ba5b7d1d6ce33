"""The words in a drawing can be read on what lies under them: axe-core leaves that undecided."""

from __future__ import annotations

import pytest
from support import ASSESSED, DEMOS

from docgen.figures.draw import drawings, figures
from docgen.packet.wording import wording
from docgen.rendering.contrast import LEAST_TEXT_CONTRAST, contrast_ratio
from docgen.scene import Circle, Poly, Rect, Scene, Text


@pytest.mark.parametrize("case", DEMOS)
def test_the_words_of_every_drawing_stand_out_from_their_ground(case):
    one, words = ASSESSED[case], wording().words["figures"]
    scenes = drawings(one.file.case, one.evidence, words, list(figures())).values()
    texts = [(scene, shape) for scene in scenes for shape in scene.shapes if isinstance(shape, Text)]
    assert texts
    for scene, text in texts:
        ratio = contrast_ratio((text.shade,) * 3, (_ground(scene, text),) * 3)
        assert ratio >= LEAST_TEXT_CONTRAST, text


def _ground(scene: Scene, text: Text) -> float:
    """The shade of what was last painted, before the text, where it is anchored; white for nothing."""
    x, y = text.x, text.y - text.size / 3
    before = scene.shapes[: scene.shapes.index(text)]
    boxes = [(shape.fill, _box(shape)) for shape in before if getattr(shape, "fill", None) is not None]
    under = [fill for fill, (left, top, right, bottom) in boxes if left <= x <= right and top <= y <= bottom]
    return under[-1] if under else 1.0


def _box(shape: Rect | Circle | Poly) -> tuple[float, float, float, float]:
    match shape:
        case Rect(x, y, w, h):
            return x, y, x + w, y + h
        case Circle(x, y, r):
            return x - r, y - r, x + r, y + r
    xs, ys = zip(*shape.points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
