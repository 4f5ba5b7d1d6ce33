"""How a document looks, by role and not by format: sizes, spacing, shades. All lengths in points.

The PDF embeds Arimo, whose widths equal those of Arial and Helvetica, so the three formats break
lines nearly alike. Body text is 11 points, ragged right, black on white; greys are only for rules.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class TextStyle:
    """One role of text: size, line height, space before and after, weight; `keep` stays with what follows."""

    size: float
    leading: float
    before: float = 0.0
    after: float = 0.0
    bold: bool = False
    italic: bool = False
    shade: float = 0.0
    keep: bool = False


@dataclass(frozen=True, slots=True)
class Style:
    """Every role. `headings[0]` is the document title; deeper levels than the last use the last."""

    body: TextStyle = TextStyle(11, 13.6, after=4.5)
    headings: tuple[TextStyle, ...] = (
        TextStyle(18, 22, after=8, bold=True, keep=True),
        TextStyle(12.5, 15, before=9, after=2.5, bold=True, keep=True),
        TextStyle(11, 13.6, before=7, after=2, bold=True, keep=True),
    )
    item: TextStyle = TextStyle(11, 13.6, after=2)
    cell: TextStyle = TextStyle(9.2, 11.6)
    caption: TextStyle = TextStyle(9.2, 11.6, before=3, after=3, bold=True, keep=True)
    furniture: TextStyle = TextStyle(8.5, 10.5, shade=0.35)
    indent: float = 16.0
    cell_padding: float = 2.8
    margin_side: float = 60.0
    margin_top: float = 60.0
    margin_bottom: float = 54.0
    rule_heavy: float = 0.9
    rule_light: float = 0.35
    rule_shade: float = 0.6
    # a call-out is a box: left bar width by tone, fill shade, so that it reads in black and white
    callout_bar: dict[str, float] = field(
        default_factory=lambda: {"note": 1.5, "important": 3.0, "warning": 5.0, "caution": 5.0}
    )
    callout_fill: float = 0.95
    # a gap is bold on a light ground, never colour alone
    gap_fill: float = 0.88


REGULAR = Style()
