"""A drawing as SVG text, to stand inside an HTML page."""

from __future__ import annotations

import base64

from docgen.rendering.markup import escaped
from docgen.scene import LETTERS_PT, Circle, Line, Picture, Poly, Rect, Scene, Shape, Text

_FAMILY = "Arial, Helvetica, 'Liberation Sans', Arimo, sans-serif"


def svg(scene: Scene, id: str, grows: bool = False) -> str:
    """One <svg> element as wide as the scene, named by its alternative text.

    id     unique in the page; the title element gets it
    grows  whether its letters are as large as the reader's own text, but for a scene of true size
    """
    wide, high = f"{_n(scene.w)}pt", f"{_n(scene.h)}pt"
    size = f'width="{wide}" height="{high}" viewBox="0 0 {_n(scene.w)} {_n(scene.h)}"'
    if grows and not scene.true_size:
        size += f' style="width:{_n(scene.w / LETTERS_PT)}rem"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="{escaped(id)}" {size} '
        f'font-family="{_FAMILY}"><title id="{escaped(id)}">{escaped(scene.alt)}</title>'
        f"{''.join(map(_shape, scene.shapes))}</svg>"
    )


def _shape(shape: Shape) -> str:
    match shape:
        case Line():
            ends = f'x1="{_n(shape.x1)}" y1="{_n(shape.y1)}" x2="{_n(shape.x2)}" y2="{_n(shape.y2)}"'
            return f"<line {ends}{_paint(None, shape.shade, shape.width, shape.dash)}/>"
        case Rect():
            box = f'x="{_n(shape.x)}" y="{_n(shape.y)}" width="{_n(shape.w)}" height="{_n(shape.h)}"'
            corner = f' rx="{_n(shape.radius)}"' if shape.radius else ""
            return f"<rect {box}{corner}{_paint(shape.fill, shape.stroke, shape.width)}/>"
        case Circle():
            place = f'cx="{_n(shape.x)}" cy="{_n(shape.y)}" r="{_n(shape.r)}"'
            return f"<circle {place}{_paint(shape.fill, shape.stroke, shape.width)}/>"
        case Poly():
            points = " ".join(f"{_n(x)},{_n(y)}" for x, y in shape.points)
            name = "polygon" if shape.closed else "polyline"
            return f'<{name} points="{points}"{_paint(shape.fill, shape.stroke, shape.width, shape.dash)}/>'
        case Text():
            bold = ' font-weight="bold"' if shape.bold else ""
            anchor = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
            place = f'x="{_n(shape.x)}" y="{_n(shape.y)}"'
            look = f'font-size="{_n(shape.size)}" fill="{_grey(shape.shade)}"'
            return f"<text {place} {look}{bold}{anchor}>{escaped(shape.text)}</text>"
        case Picture():
            box = f'x="{_n(shape.x)}" y="{_n(shape.y)}" width="{_n(shape.w)}" height="{_n(shape.h)}"'
            return f'<image {box} href="data:image/jpeg;base64,{base64.b64encode(shape.jpeg).decode()}"/>'
    raise ValueError(f"an SVG has no shape for {type(shape).__name__}")


def _paint(fill: float | None, stroke: float | None, width: float, dash: tuple[float, ...] = ()) -> str:
    inside = "none" if fill is None else _grey(fill)
    if stroke is None:
        return f' fill="{inside}"'
    dashes = f' stroke-dasharray="{" ".join(map(_n, dash))}"' if dash else ""
    return f' fill="{inside}" stroke="{_grey(stroke)}" stroke-width="{_n(width)}"{dashes}'


def _grey(shade: float) -> str:
    return "#" + f"{round(shade * 255):02x}" * 3


def _n(value: float) -> str:
    """A length with at most two decimals and no trailing zeros."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")
