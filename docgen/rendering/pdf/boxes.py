"""Blocks with something drawn: call-outs, figures, signatures, rules, a letterhead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Self

from docgen.rendering.contrast import Colour
from docgen.rendering.flow import SIGNING_ROOM
from docgen.rendering.letterhead import Logo
from docgen.rendering.pdf.blocks import Block, Heading, Stack, TextBlock
from docgen.rendering.pdf.canvas import TaggedCanvas
from docgen.rendering.pdf.drawing import paint
from docgen.rendering.pdf.structure import Element
from docgen.rendering.style import Style
from docgen.scene import PANELS_APART_PT, Placed, Scene

CALLOUT_PADDING = (9.0, 7.0)  # at the sides, above and below
_CAPTION_GAP = 4.0
_LOGO_GAP, _MASTHEAD_GAP = 12.0, 5.0  # beside the logo, above the rule
_WHOLE_PANELS = 0.6  # of a page; rows of panels no taller are not parted
_SIGNED_GAP = 3.0  # below the line to sign on
_SIGNATURE_SHARES = (0.62, 0.06, 0.32)  # name, gap, date
_WIDEST_SIGNATURE = 430.0


@dataclass
class Callout(Block):
    """Blocks in a lightly filled box with a bar at its left; each part of a split box is a whole box."""

    inside: Stack
    width: float
    bar: float
    style: Style
    whole: bool
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.height = self.inside.height + 2 * CALLOUT_PADDING[1]

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        if self.whole and not force:
            return None, self
        head, rest = self.inside.split(room - 2 * CALLOUT_PADDING[1], force)
        if head is None or rest is None:
            return None, self
        return replace(self, inside=head), replace(self, inside=rest)

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        bottom, edge = top - self.height, self.style.rule_light
        with canvas.artifact():
            canvas.ground(x, bottom, self.width, self.height, self.style.callout_fill)
            canvas.frame(
                x + edge / 2, bottom + edge / 2, self.width - edge, self.height - edge, edge, self.style.rule_shade
            )
            canvas.ground(x, bottom, self.bar, self.height, 0.0)
        side, above = CALLOUT_PADDING
        self.inside.paint(canvas, x + self.bar + side, top - above)


@dataclass
class Figure(Block):
    """A drawing, one element however many shapes, with its caption below.

    least  scale down to which it may be drawn smaller to fit what is left of a page
    """

    scene: Scene
    scale: float
    element: Element
    caption: TextBlock | None
    least: float
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.height = self.scene.h * self.scale
        if self.caption:
            self.height += _CAPTION_GAP + self.caption.height

    def split(self, room: float, force: bool = False) -> tuple[Block | None, Block | None]:
        scale = figure_scale(self.scene, self.scale * self.scene.w, room, self.caption)
        return (replace(self, scale=scale), None) if self.least <= scale < self.scale else (None, self)

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        width, height = self.scene.w * self.scale, self.scene.h * self.scale
        with canvas.pictured(self.element, (x, top - height, x + width, top)):
            paint(self.scene, canvas, x, top - height, self.scale)
        if self.caption:
            self.caption.paint(canvas, x, top - height - _CAPTION_GAP)


@dataclass
class Panels(Block):
    """A drawing in rows of panels, each an element of its own, with its caption below the last row.

    A row is never split; the caption stays with it. At true size the rows stay together: what the print is checked by
    lies beside what it checks. So do rows that fill up to `_WHOLE_PANELS` of a page: a drawing is read with its words.

    page_height  room of a whole page in points
    """

    rows: list[list[Placed]]
    elements: list[list[Element]]
    caption: TextBlock | None
    page_height: float
    before: float = 0.0
    after: float = 0.0
    keep: bool = False
    floats = True

    def __post_init__(self) -> None:
        self.height = sum(map(row_height, self.rows)) + PANELS_APART_PT * (len(self.rows) - 1)
        if self.caption:
            self.height += _CAPTION_GAP + self.caption.height

    def split(self, room: float, force: bool = False) -> tuple[Self | None, Self | None]:
        true_size = any(placed.panel.true_size for row in self.rows for placed in row)
        if not force and (true_size or self.height <= _WHOLE_PANELS * self.page_height):
            return None, self
        left, n_rows = room, 0
        for row in self.rows[:-1]:  # the last stays with the caption
            left -= row_height(row)
            if left < 0:
                break
            left, n_rows = left - PANELS_APART_PT, n_rows + 1
        if not n_rows:
            return None, self
        head = replace(self, rows=self.rows[:n_rows], elements=self.elements[:n_rows], caption=None)
        return head, replace(self, rows=self.rows[n_rows:], elements=self.elements[n_rows:])

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        for row, elements in zip(self.rows, self.elements, strict=True):
            for placed, element in zip(row, elements, strict=True):
                left, low = x + placed.x, top - placed.height
                with canvas.pictured(element, (left, low, left + placed.panel.w * placed.scale, top)):
                    paint(placed.panel, canvas, left, low, placed.scale)
            top -= row_height(row) + PANELS_APART_PT
        if self.caption:
            self.caption.paint(canvas, x, top + PANELS_APART_PT - _CAPTION_GAP)


def row_height(row: Sequence[Placed]) -> float:
    """The height of a row of panels in points."""
    return max(placed.height for placed in row)


@dataclass
class Scan(Block):
    """A page of a PDF from outside, as one picture.

    page      counted from 0
    headings  of our own page whose place it takes, where links to them lead
    """

    data: bytes
    page: int
    element: Element
    width: float
    height: float
    headings: Sequence[Heading] = ()

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        for heading in self.headings:
            canvas.heading(heading.text, heading.level, heading.anchor, top)
        canvas.from_outside(self.element, (x, top - self.height, x + self.width, top), self.data, self.page)


def figure_scale(scene: Scene, width: float, height: float, caption: TextBlock | None) -> float:
    """How much of its size a drawing keeps to fit a room with its caption; 1.0 at most."""
    left = height - (_CAPTION_GAP + caption.height if caption else 0.0)
    return min(1.0, width / scene.w, left / scene.h)


@dataclass
class Signature(Block):
    """Two ruled lines, to sign and to date, with words under them; only words longer than a page go on without them."""

    name: TextBlock
    date: TextBlock
    line: float
    rule: float
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.height = SIGNING_ROOM + _SIGNED_GAP + max(self.name.height, self.date.height)

    def split(self, room: float, force: bool = False) -> tuple[Block | None, Block | None]:
        head, rest = self.name.split(room - SIGNING_ROOM - _SIGNED_GAP, force) if force else (None, None)
        return (None, self) if head is None else (replace(self, name=head), rest)

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        y = top - SIGNING_ROOM
        name_width, gap, date_width = (share * self.line for share in _SIGNATURE_SHARES)
        date_x = x + name_width + gap
        with canvas.artifact():
            canvas.rule(x, y, x + name_width, y, self.rule)
            canvas.rule(date_x, y, date_x + date_width, y, self.rule)
        self.name.paint(canvas, x, y - _SIGNED_GAP)
        self.date.paint(canvas, date_x, y - _SIGNED_GAP)


def signature_line(room: float) -> tuple[float, float, float]:
    """Width of the whole signature block, of its name and of its date, in points."""
    line = min(room, _WIDEST_SIGNATURE)
    return line, line * _SIGNATURE_SHARES[0], line * _SIGNATURE_SHARES[2]


@dataclass
class Rule(Block):
    """A light line across the room."""

    width: float
    style: Style
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.height = self.style.rule_light

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        with canvas.artifact():
            canvas.rule(x, top, x + self.width, top, self.style.rule_light, self.style.rule_shade)


@dataclass
class Masthead(Block):
    """A clinic's logo with its name and address beside it, over a rule in its colour."""

    logo: Logo | None
    picture: Element | None
    words: Stack
    width: float
    rule: float
    accent: Colour
    before: float = 0.0
    after: float = 0.0
    keep: bool = False

    def __post_init__(self) -> None:
        self.logo_width, self.logo_height = self.logo.size if self.logo else (0.0, 0.0)
        self.height = max(self.logo_height, self.words.height) + _MASTHEAD_GAP

    def paint(self, canvas: TaggedCanvas, x: float, top: float) -> None:
        if self.logo and self.picture:
            bottom = top - self.logo_height
            with canvas.pictured(self.picture, (x, bottom, x + self.logo_width, top)):
                canvas.picture(self.logo.png, x, bottom, self.logo_width, self.logo_height)
        # the words stand at the foot of the logo
        self.words.paint(canvas, x + masthead_indent(self.logo), top - self.height + _MASTHEAD_GAP + self.words.height)
        with canvas.artifact():
            canvas.rule(x, top - self.height, x + self.width, top - self.height, self.rule, self.accent)


def masthead_indent(logo: Logo | None) -> float:
    """From the left margin to the words of a letterhead, in points."""
    return logo.size[0] + _LOGO_GAP if logo else 0.0
