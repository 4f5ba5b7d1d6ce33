"""A scene painted straight on a canvas: vectors, and text in the embedded faces."""

from __future__ import annotations

from functools import singledispatch
from io import BytesIO

from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from docgen.rendering.fonts import FACES, printable
from docgen.rendering.pdf import operators
from docgen.rendering.pdf.inside import document_of
from docgen.rendering.pdf.lines import text_width
from docgen.scene import Circle, Line, Picture, Poly, Rect, Scene, Shape, Text

_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}  # share of a text's width that stands before its x


def paint(scene: Scene, canvas: Canvas, x: float, y: float, scale: float = 1.0) -> None:
    """Paint the scene with its lower left corner at x, y."""
    code = [f"q {scale:.5f} 0 0 {scale:.5f} {x:.2f} {y:.2f} cm"]
    for shape in scene.shapes:
        if isinstance(shape, Picture):  # the canvas stores it; it stands among the shapes before and after it
            canvas.addLiteral("\n".join(code))
            code = []
            canvas.drawImage(ImageReader(BytesIO(shape.jpeg)), shape.x, scene.h - shape.y - shape.h, shape.w, shape.h)
        else:
            code += _shape(shape, canvas, scene.h)
    canvas.addLiteral("\n".join([*code, "Q"]))


@singledispatch
def _shape(shape: Shape, canvas: Canvas, height: float) -> list[str]:
    """The operators of one shape; a scene counts y downwards, a page upwards."""
    raise TypeError(f"a {type(shape).__name__} cannot be painted")


@_shape.register
def _line(shape: Line, canvas: Canvas, height: float) -> list[str]:
    ends = ((shape.x1, height - shape.y1), (shape.x2, height - shape.y2))
    return [operators.pen(shape.width, shape.shade, shape.dash), operators.path(ends), operators.painted(False, True)]


@_shape.register
def _rect(shape: Rect, canvas: Canvas, height: float) -> list[str]:
    radius = min(shape.radius, shape.w / 2, shape.h / 2)
    return _filled(shape, operators.box(shape.x, height - shape.y - shape.h, shape.w, shape.h, radius))


@_shape.register
def _circle(shape: Circle, canvas: Canvas, height: float) -> list[str]:
    side = 2 * shape.r
    return _filled(shape, operators.box(shape.x - shape.r, height - shape.y - shape.r, side, side, shape.r))


@_shape.register
def _poly(shape: Poly, canvas: Canvas, height: float) -> list[str]:
    path = operators.path([(x, height - y) for x, y in shape.points])
    return _filled(shape, f"{path} h" if shape.closed else path, shape.dash)


@_shape.register
def _text(shape: Text, canvas: Canvas, height: float) -> list[str]:
    face, text = FACES[shape.bold, False], printable(shape.text)
    x = shape.x - _BEFORE[shape.anchor] * text_width(shape.text, shape.size, shape.bold)
    code = [operators.ink(shape.shade), f"BT 1 0 0 1 {x:.2f} {height - shape.y:.2f} Tm"]
    for font, shown in operators.words(text, face, document_of(canvas)):
        code.append(f"{font} {shape.size:g} Tf {shown}")
    return [*code, "ET"]


def _filled(shape: Rect | Circle | Poly, path: str, dash: tuple[float, ...] = ()) -> list[str]:
    code = []
    if shape.fill is not None:
        code.append(operators.ink(shape.fill))
    if shape.stroke is not None:
        code.append(operators.pen(shape.width, shape.stroke, dash))
    return [*code, path, operators.painted(shape.fill is not None, shape.stroke is not None)]
