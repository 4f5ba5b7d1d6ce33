"""The style and numbering parts: a slim set of real styles, each with its own font and language.

Every style names Arial outright; a theme font would win over it and change with the reader's program.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec.structs import replace

from docgen.rendering.contrast import BLACK, Colour
from docgen.rendering.docx.xml import NAMESPACES, border, ground, hex_shade, twips
from docgen.rendering.markup import escaped
from docgen.rendering.style import Style, TextStyle

N_LEVELS = 9  # of a list and of headings; the format knows no more
BULLETS = 1  # w:numId of bulleted lists
LONGER_IN_WORD = 1.04  # what words on a line may be longer in Word than by arial_width
_DEFAULTS = ("Normal", "TableNormal")
_OWN = (
    "ListTick",
    "TableText",
    "TableHeading",
    "Callout",
    "Spacer",
    "Break",
    "Clinic",
    "Contact",
    "Gap",
    "RecordTable",
)
_FONTS = '<w:rFonts w:ascii="Arial" w:hAnsi="Arial" w:eastAsia="Arial" w:cs="Arial"/>'


def styles_xml(style: Style, lang: str, line: float, accent: Colour = BLACK, to_left: bool = False) -> str:
    """The w:styles part.

    line    width of the text in points, where the head's right tab stands
    accent  colour of a clinic's name
    to_left whether the script runs from right to left, which every style takes from Normal
    """
    tongue = f'<w:lang w:val="{escaped(lang)}" w:eastAsia="{escaped(lang)}" w:bidi="{escaped(lang)}"/>'
    body, title = style.body, style.headings[0]

    def text(role: TextStyle) -> str:
        bold = f'<w:b w:val="{int(role.bold)}"/><w:bCs w:val="{int(role.bold)}"/>'
        italic = "<w:i/><w:iCs/>" if role.italic else ""
        shade = f'<w:color w:val="{hex_shade(role.shade)}"/>'
        size = f'<w:sz w:val="{round(role.size * 2)}"/><w:szCs w:val="{round(role.size * 2)}"/>'
        return f"<w:rPr>{_FONTS}{bold}{italic}{shade}{size}{tongue}</w:rPr>"

    def named(kind: str, id: str, name: str, inside: str, links: str = "") -> str:
        origin = ' w:default="1"' if id in _DEFAULTS else ' w:customStyle="1"' if id in _OWN else ""
        return (
            f'<w:style w:type="{kind}"{origin} w:styleId="{id}"><w:name w:val="{name}"/>{links}'
            f"<w:qFormat/>{inside}</w:style>"
        )

    def words(id: str, name: str, role: TextStyle, following: str = "", **layout: Any) -> str:
        inside = _layout(role, **layout) + text(role)
        links = f'<w:basedOn w:val="Normal"/><w:next w:val="{following or id}"/>'
        return named("paragraph", id, name, inside, links)

    def mark(id: str, name: str, inside: str) -> str:
        return named("character", id, name, f"<w:rPr>{inside}{tongue}</w:rPr>")

    cell = style.cell
    item = replace(style.item, leading=style.item.leading * _CLOSER) if style.columns > 1 else style.item
    head = TextStyle(cell.size, cell.leading, bold=True)
    tick = f'<w:ind w:left="{twips(style.indent + 4)}" w:hanging="{twips(style.indent + 4)}"/>'
    hanging = f'<w:ind w:left="{twips(style.indent)}" w:hanging="{twips(style.indent)}"/>'
    parts = [
        f"<w:docDefaults><w:rPrDefault>{text(body)}</w:rPrDefault><w:pPrDefault/></w:docDefaults>",
        named("paragraph", "Normal", "Normal", _layout(body, to_left=to_left) + text(body)),
        words("Title", "Title", title, "Normal"),
        *(
            words(f"Heading{level}", f"heading {level}", _heading(style, level), "Normal", level=level)
            for level in range(1, 7)
        ),
        words("ListBullet", "List Bullet", item, number=_number(BULLETS), indent=hanging, exact=style.exact),
        words("ListNumber", "List Number", item, indent=hanging, exact=style.exact),
        words("ListTick", "List Tick", style.item, indent=tick),
        words("ListContinue", "List Continue", style.item),
        words("Caption", "caption", style.caption, "Normal"),
        words("TableText", "Table Text", cell, exact=style.exact),
        words("TableHeading", "Table Heading", head, "TableText", exact=style.exact),
        words("Callout", "Callout", TextStyle(body.size, body.leading, before=2, after=2)),
        words("Signature", "Signature", cell),
        words("Spacer", "Spacer", TextStyle(2, 6), exact=True),
        words("Break", "Break", TextStyle(1, 1), exact=True),
        words("Clinic", "Clinic", replace(style.clinic, shade=accent), "Contact"),
        words("Contact", "Contact", style.contact, "Normal"),
        words("Header", "header", style.furniture, tab=line),
        words("Footer", "footer", style.furniture, tab=line),
        mark("Gap", "Gap", f"<w:b/><w:bCs/>{ground(style.gap_fill)}"),
        mark("Hyperlink", "Hyperlink", '<w:u w:val="single"/>'),
        named("table", "TableNormal", "Normal Table", f"<w:rPr>{tongue}</w:rPr>{_plain_table()}"),
        named(
            "table",
            "RecordTable",
            "Record Table",
            text(cell) + _record_table(style),
            '<w:basedOn w:val="TableNormal"/>',
        ),
    ]
    return f"<w:styles {NAMESPACES}>{''.join(parts)}</w:styles>"


def numbering_xml(style: Style, ordered: Sequence[tuple[int, int]]) -> str:
    """The w:numbering part.

    ordered  level and first number of each numbered list; the n-th of them is w:numId n + 2
    """

    def abstract(number: int, form: str, shown: str) -> str:
        levels = "".join(
            f'<w:lvl w:ilvl="{level}"><w:start w:val="1"/><w:numFmt w:val="{form}"/>'
            f'<w:lvlText w:val="{shown.format(level + 1)}"/><w:lvlJc w:val="left"/><w:pPr>'
            f'<w:ind w:left="{twips(style.indent * (level + 1))}" w:hanging="{twips(style.indent)}"/></w:pPr>'
            f"<w:rPr>{_FONTS}</w:rPr></w:lvl>"
            for level in range(N_LEVELS)
        )
        return (
            f'<w:abstractNum w:abstractNumId="{number}"><w:multiLevelType w:val="multilevel"/>{levels}</w:abstractNum>'
        )

    numbers = [f'<w:num w:numId="{BULLETS}"><w:abstractNumId w:val="1"/></w:num>']
    for at, (level, start) in enumerate(ordered):
        numbers.append(
            f'<w:num w:numId="{at + 2}"><w:abstractNumId w:val="2"/><w:lvlOverride w:ilvl="{level}">'
            f'<w:startOverride w:val="{start}"/></w:lvlOverride></w:num>'
        )
    kinds = abstract(1, "bullet", "\u2022") + abstract(2, "decimal", "%{}.")
    return f"<w:numbering {NAMESPACES}>{kinds}{''.join(numbers)}</w:numbering>"


def _heading(style: Style, level: int) -> TextStyle:
    return style.headings[min(level, len(style.headings)) - 1]


def _number(number: int) -> str:
    return f'<w:numPr><w:numId w:val="{number}"/></w:numPr>'


def _layout(
    role: TextStyle,
    *,
    number: str = "",
    indent: str = "",
    level: int = 0,
    tab: float = 0.0,
    exact: bool = False,
    to_left: bool = False,
) -> str:
    """The w:pPr of a style; `level` is that of a heading, `tab` a right tab in points."""
    line = f'w:line="{twips(role.leading)}" w:lineRule="{"exact" if exact else "atLeast"}"'
    return "".join(
        (
            "<w:pPr>",
            "<w:keepNext/><w:keepLines/>" if role.keep else "",
            "<w:widowControl/>",
            number,
            f'<w:tabs><w:tab w:val="right" w:pos="{twips(tab)}"/></w:tabs>' if tab else "",
            "<w:bidi/>" if to_left else "",
            f'<w:spacing w:before="{twips(role.before)}" w:after="{twips(role.after)}" {line}/>',
            indent,
            f'<w:outlineLvl w:val="{level - 1}"/>' if level else "",
            "</w:pPr>",
        )
    )


# a list in columns: Word breaks lines without seeing a paragraph whole, as the PDF does, and needs a few more
_CLOSER = 0.97
_BESIDE = 0.5  # points: at the sides of a cell whose rows stand close, or columns run together
_BESIDE_IN_SHEET = 1.2  # the same in a sheet of columns, read from farther away


def beside_text(style: Style) -> float:
    """Points between the sides of a cell and its text."""
    return style.cell_padding + (_BESIDE_IN_SHEET if style.columns > 1 else _BESIDE if style.exact else 0.0)


def _plain_table() -> str:
    """A table without lines or space: what a layout box starts from."""
    return f'<w:tblPr><w:tblInd w:w="0" w:type="dxa"/>{_cell_margins(0)}</w:tblPr>'


def _cell_margins(points: float, above: float | None = None) -> str:
    """Space at the sides of a cell, in points, and above and below its text where that differs."""
    sides = {"top": above, "left": points, "bottom": above, "right": points}
    inside = "".join(
        f'<w:{side} w:w="{twips(points if space is None else space)}" w:type="dxa"/>' for side, space in sides.items()
    )
    return f"<w:tblCellMar>{inside}</w:tblCellMar>"


def _record_table(style: Style) -> str:
    """Rules above, below and under the head, light ones between rows, none upright."""
    thin = style.rule_light
    edges = (
        border("top", style.rule_heavy) + border("bottom", style.rule_heavy) + border("insideH", thin, style.rule_shade)
    )
    # Word adds the line between two rows to their height
    above = max(style.cell_padding - thin / 2, 0.0) if style.exact else None
    beside = beside_text(style)
    under = border("bottom", (style.rule_heavy + thin) / 2)
    return (
        f"<w:tblPr><w:tblBorders>{edges}</w:tblBorders>{_cell_margins(beside, above)}</w:tblPr>"
        '<w:tblStylePr w:type="firstRow"><w:rPr><w:b/><w:bCs/></w:rPr>'
        f"<w:tcPr><w:tcBorders>{under}</w:tcBorders></w:tcPr></w:tblStylePr>"
    )
