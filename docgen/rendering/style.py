"""How a document looks, by role and not by format: sizes, spacing, shades. All lengths in points.

The PDF embeds Arimo, whose widths equal those of Arial and Helvetica, so the three formats break
lines nearly alike. Body text is 11 points, ragged right, black on white; greys are only for rules.
"""

from __future__ import annotations

from msgspec import Struct, field
from msgspec.structs import replace

from docgen.rendering.contrast import Colour
from docgen.scene import LETTERS_PT

Shade = float | Colour
"""A gray from 0.0 (black) to 1.0 (white), or a color."""


class TextStyle(Struct, frozen=True):
    """One role of text: size, line height, space before and after, weight; `keep` stays with what follows."""

    size: float
    leading: float
    before: float = 0.0
    after: float = 0.0
    bold: bool = False
    italic: bool = False
    shade: Shade = 0.0
    keep: bool = False


class Style(Struct, frozen=True):
    """Every role. `headings[0]` is the document title; deeper levels than the last use the last."""

    body: TextStyle = TextStyle(11, 13.6, after=4.5)
    headings: tuple[TextStyle, ...] = (
        TextStyle(18, 22, after=8, bold=True, keep=True),
        TextStyle(12.5, 15, before=9, after=2.5, bold=True, keep=True),
        TextStyle(11, 13.6, before=7, after=2, bold=True, keep=True),
    )
    item: TextStyle = TextStyle(11, 13.6, after=2)
    # a paragraph of an item that is bold as a whole, where it is set larger: the action of a step
    action: TextStyle | None = None
    cell: TextStyle = TextStyle(9.2, 11.6)
    caption: TextStyle = TextStyle(9.2, 11.6, before=3, after=3, bold=True, keep=True)
    furniture: TextStyle = TextStyle(8.5, 10.5, shade=0.35)
    # the name of a clinic takes its accent colour in place of this shade
    clinic: TextStyle = TextStyle(13, 16, bold=True, keep=True)
    contact: TextStyle = TextStyle(9.2, 11.6, keep=True)
    indent: float = 16.0
    cell_padding: float = 2.4
    # whether the lines of tables and lists stand in Word as close as here, though its font would open them up
    exact: bool = False
    # whether columns of a table give way to each other until its rows take the fewest lines
    closest: bool = False
    # height in points of a row of a table on a printed page, where it is written in by hand
    least_row: float = 0.0
    # from the upper edge of the sheet to the head, from the lower to the line of the foot
    edge: float = 30.0
    # least space between the head and the text
    head_gap: float = 14.0
    margin_side: float = 54.0
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
    # a row of a table that stands out: light enough for a printer in greys, and never the only sign
    row_fill: dict[str, float] = field(default_factory=lambda: {"chosen": 0.94, "total": 0.94, "gap": 0.97})
    # a gap is bold on a light ground, never colour alone
    gap_fill: float = 0.88
    # a drawing is drawn smaller, down to this share of its size, to fit half a page or what is left of one
    least_figure: float = 1.0
    # columns of a printed page, and the space between two; a title, a box and what is too wide for one go across all
    columns: int = 1
    gutter: float = 20.0

    @property
    def panel_scale(self) -> float:
        """What the panels of a drawing are enlarged by, so that their letters are as large as the text; smaller than
        they are drawn only in a style whose drawings may be."""
        return max(self.least_figure, self.body.size / LETTERS_PT)


REGULAR = Style()

# For a document that a reviewer must take in whole within a few minutes: a little smaller and closer.
COMPACT = Style(
    body=TextStyle(9.5, 10.5, after=2.6),
    headings=(
        TextStyle(16, 19, after=4, bold=True, keep=True),
        TextStyle(11.5, 13.5, before=5, after=1.5, bold=True, keep=True),
        TextStyle(10, 11.6, before=5, after=1.5, bold=True, keep=True),
    ),
    item=TextStyle(9.5, 10.5, after=0.8),
    cell=TextStyle(8.6, 9.7),
    caption=TextStyle(9, 10.6, before=2, after=2, bold=True, keep=True),
    cell_padding=1.1,
    least_figure=0.76,  # its smallest words are then 7.2 points
    margin_side=38.0,
    margin_top=41.0,
    margin_bottom=38.0,
)

# For a record of many tables that lies on a bench: a little smaller again, its words no smaller than in a drawing.
RECORD = replace(
    COMPACT,
    body=TextStyle(9.2, 9.5, after=1),
    headings=(
        TextStyle(15, 17.5, after=3, bold=True, keep=True),
        TextStyle(11, 12.6, before=2.5, after=0.5, bold=True, keep=True),
        TextStyle(10, 11.2, before=2.5, after=0.5, bold=True, keep=True),
    ),
    item=TextStyle(9.2, 9.5),
    cell=TextStyle(8.3, 8.6),
    exact=True,
    closest=True,
    cell_padding=0.35,
    margin_side=30.0,
    margin_top=29.0,
    edge=19.0,
    head_gap=10.0,
    margin_bottom=31.0,
)

# For a page that a client and a family read on two sheets: nothing of it under 12 points, in tables too.
FAMILY = Style(
    body=TextStyle(12, 13.6, after=3),
    headings=(
        TextStyle(18, 20, after=3, bold=True, keep=True),
        TextStyle(13, 15, before=5, after=1.5, bold=True, keep=True),
        TextStyle(12, 13.6, before=4, after=1.5, bold=True, keep=True),
    ),
    item=TextStyle(12, 13.6, after=0.5),
    cell=TextStyle(12, 13.4),
    caption=TextStyle(12, 13.6, before=1, after=1, bold=True, keep=True),
    furniture=TextStyle(10, 12, shade=0.35),
    cell_padding=1.1,
    least_figure=0.76,
    margin_side=34.0,
    margin_top=54.0,
    margin_bottom=32.0,
)

# Large print: no letter of the text under 18 points, as the associations of the blind ask; their guidance, from memory.
LARGE = Style(
    body=TextStyle(18, 23, after=8),
    headings=(
        TextStyle(26, 31, after=10, bold=True, keep=True),
        TextStyle(21, 26, before=14, after=5, bold=True, keep=True),
        TextStyle(18, 23, before=10, after=4, bold=True, keep=True),
    ),
    item=TextStyle(18, 23, after=5),
    cell=TextStyle(18, 22),
    caption=TextStyle(18, 22, before=4, after=4, bold=True, keep=True),
    furniture=TextStyle(18, 22),
    indent=24.0,
    cell_padding=4.0,
    margin_side=40.0,
    margin_top=80.0,
    margin_bottom=62.0,
)

# What the sheets below have in common.
_SHEET = Style(
    body=TextStyle(12, 14.2, after=2),
    headings=(
        TextStyle(24, 26, after=3, bold=True, keep=True),
        TextStyle(14, 17, before=4, after=1, bold=True, keep=True),
        TextStyle(12.5, 15, before=3, after=1, bold=True, keep=True),
    ),
    item=TextStyle(12, 14.2, after=1),
    action=TextStyle(16, 18.4, after=1, bold=True, keep=True),
    cell=TextStyle(12, 14),
    caption=TextStyle(12, 14, before=2, after=2, bold=True, keep=True),
    furniture=TextStyle(12, 14),
    cell_padding=1.0,
    least_figure=0.6,
    columns=2,
    indent=20.0,
    margin_side=36.0,
    margin_top=50.0,
    margin_bottom=36.0,
)

# A sheet to hang up or laminate: read at arm's length, so that one glance finds the stop.
CARD = replace(
    _SHEET,
    exact=True,
    body=TextStyle(12, 13.8, after=0.5),
    headings=(
        TextStyle(22, 24, after=2, bold=True, keep=True),
        TextStyle(14, 16, before=3, after=0.5, bold=True, keep=True),
        TextStyle(12.5, 14.2, before=2, after=0.5, bold=True, keep=True),
    ),
    item=TextStyle(12, 13.8, after=0.5),
    action=TextStyle(16, 18, after=0.5, bold=True, keep=True),
    cell=TextStyle(12, 13),
    cell_padding=0.3,
    gutter=14.0,
    edge=18.0,
    furniture=TextStyle(12, 12.6),
    head_gap=2.0,
    margin_side=24.0,
    margin_top=34.0,
    margin_bottom=26.0,
)

# The same in a language of longer words: lines closer together, smaller steps, and no letter under 12 points.
CARD_LONG = replace(
    CARD,
    body=TextStyle(12, 13.8, after=0.2),
    item=TextStyle(12, 13.8, after=0.2),
    headings=(
        TextStyle(17, 18.4, after=0.5, bold=True, keep=True),
        TextStyle(13, 14.6, before=1.5, after=0.5, bold=True, keep=True),
        TextStyle(12.5, 14.2, before=2, after=0.5, bold=True, keep=True),
    ),
    action=TextStyle(12.5, 14.2, after=0.2, bold=True, keep=True),
    cell=TextStyle(12, 12.7),
)

# A booklet for every day: two short lines side by side, as large as the line of a letter is wide.
BOOKLET = Style(
    exact=True,
    body=TextStyle(12, 13.8, after=1.4),
    headings=(
        TextStyle(20, 23, after=3, bold=True, keep=True),
        TextStyle(14.5, 16.6, before=3, after=0.5, bold=True, keep=True),
        TextStyle(12.5, 14.5, before=2, after=0.5, bold=True, keep=True),
    ),
    item=TextStyle(12, 13.8, after=0.6),
    cell=TextStyle(12, 13.2),
    caption=TextStyle(12, 13.6, before=1, after=1.5, bold=True, keep=True),
    furniture=TextStyle(12, 12.6),
    cell_padding=0.7,
    indent=13.0,
    least_figure=0.6,
    edge=18.0,
    head_gap=3.0,
    margin_side=22.0,
    margin_top=34.0,
    margin_bottom=26.0,
    columns=2,
    gutter=12.0,
)

# The same in a language of longer words: headings smaller, paragraphs nearer.
BOOKLET_LONG = replace(
    BOOKLET,
    body=TextStyle(12, 13.8, after=0.7),
    item=TextStyle(12, 13.8, after=0.2),
    headings=(
        TextStyle(18, 20, after=2, bold=True, keep=True),
        TextStyle(14, 16, before=2, after=0.5, bold=True, keep=True),
        TextStyle(12.5, 14.2, before=1, after=0.5, bold=True, keep=True),
    ),
)

# A sheet to fill in by hand: rows as high as a hand needs.
FORM = replace(_SHEET, cell_padding=7.0, columns=1)

# The same in a language of longer words: nearer to the edges of the sheet, so that a column holds its longest word.
FORM_LONG = replace(
    FORM, cell_padding=5.0, edge=20.0, head_gap=8.0, margin_side=26.0, margin_top=44.0, margin_bottom=30.0
)

# A sheet filled in beside a chair that drives: each row 12 mm (34 points) high, in large letters.
TRIAL_SHEET = replace(
    COMPACT,
    cell=TextStyle(11, 13),
    cell_padding=2.0,
    least_row=34.0,
    margin_side=36.0,
    margin_top=50.0,
    margin_bottom=40.0,
)

# A card beside the chair: nothing under 14 points but the lines at head and foot.
LESSON = replace(
    _SHEET,
    body=TextStyle(14, 17, after=5),
    headings=(
        TextStyle(20, 24, after=5, bold=True, keep=True),
        TextStyle(20, 24, after=5, bold=True, keep=True),
        TextStyle(14, 17, before=5, after=2, bold=True, keep=True),
    ),
    item=TextStyle(14, 17, after=3),
    cell=TextStyle(14, 17),
    caption=TextStyle(14, 17, before=4, after=3, bold=True, keep=True),
    cell_padding=3.0,
    least_figure=1.0,
    columns=1,
)

STYLES = {
    "regular": REGULAR,
    "compact": COMPACT,
    "record": RECORD,
    "card": CARD,
    "card_long": CARD_LONG,
    "booklet": BOOKLET,
    "booklet_long": BOOKLET_LONG,
    "form": FORM,
    "form_long": FORM_LONG,
    "lesson": LESSON,
}
"""The styles that a document may ask for, by name."""
