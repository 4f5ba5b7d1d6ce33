"""A scene painted straight on a canvas: vectors, and text in the embedded faces."""

from __future__ import annotations

from functools import singledispatch

from reportlab.pdfgen.canvas import Canvas

from docgen.figures.scene import Circle, Line, Poly, Rect, Scene, Shape, Text
from docgen.rendering.fonts import FACES, printable

_ANCHORED = {"start": "drawString", "middle": "drawCentredString", "end": "drawRightString"}


def paint(scene: Scene, canvas: Canvas, x: float, y: float, scale: float = 1.0) -> None:
    """Paint the scene with its lower left corner at x, y. Raises MissingGlyphError."""
    canvas.saveState()
    canvas.translate(x, y)
    canvas.scale(scale, scale)
    for shape in scene.shapes:
        _shape(shape, canvas, scene.h)
    canvas.restoreState()


@singledispatch
def _shape(shape: Shape, canvas: Canvas, height: float) -> None:
    """Paint one shape; a scene counts y downwards, a canvas upwards."""
    raise TypeError(f"a {type(shape).__name__} cannot be painted")


@_shape.register
def _line(shape: Line, canvas: Canvas, height: float) -> None:
    _pen(canvas, shape.width, shape.shade, shape.dash)
    canvas.line(shape.x1, height - shape.y1, shape.x2, height - shape.y2)


@_shape.register
def _rect(shape: Rect, canvas: Canvas, height: float) -> None:
    fill, stroke = _inks(canvas, shape.fill, shape.stroke, shape.width)
    radius = min(shape.radius, shape.w / 2, shape.h / 2)
    canvas.roundRect(shape.x, height - shape.y - shape.h, shape.w, shape.h, radius, stroke=stroke, fill=fill)


@_shape.register
def _circle(shape: Circle, canvas: Canvas, height: float) -> None:
    fill, stroke = _inks(canvas, shape.fill, shape.stroke, shape.width)
    canvas.circle(shape.x, height - shape.y, shape.r, stroke=stroke, fill=fill)


@_shape.register
def _poly(shape: Poly, canvas: Canvas, height: float) -> None:
    fill, stroke = _inks(canvas, shape.fill, shape.stroke, shape.width, shape.dash)
    path = canvas.beginPath()
    (x, y), *others = shape.points
    path.moveTo(x, height - y)
    for x, y in others:
        path.lineTo(x, height - y)
    if shape.closed:
        path.close()
    canvas.drawPath(path, stroke=stroke, fill=fill)


@_shape.register
def _text(shape: Text, canvas: Canvas, height: float) -> None:
    canvas.setFillGray(shape.shade)
    canvas.setFont(FACES[shape.bold, False], shape.size)
    getattr(canvas, _ANCHORED[shape.anchor])(shape.x, height - shape.y, printable(shape.text))


def _inks(
    canvas: Canvas, fill: float | None, stroke: float | None, width: float, dash: tuple[float, ...] = ()
) -> tuple[int, int]:
    """Set the shades; returns whether to fill and whether to stroke."""
    if fill is not None:
        canvas.setFillGray(fill)
    if stroke is not None:
        _pen(canvas, width, stroke, dash)
    return int(fill is not None), int(stroke is not None)


def _pen(canvas: Canvas, width: float, shade: float, dash: tuple[float, ...]) -> None:
    canvas.setLineWidth(width)
    canvas.setStrokeGray(shade)
    canvas.setDash(list(dash))
