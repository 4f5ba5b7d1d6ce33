"""Pieces of WordprocessingML as strings. Lengths come in points and leave in the format's own units.

The order of the child elements inside w:pPr, w:rPr, w:tcPr and w:tblPr is fixed by the schema
(ECMA-376 part 1, 17.3 and 17.4), so it is written down here and nowhere else.
"""

from __future__ import annotations

from collections.abc import Sequence, Set

from docgen.rendering.direction import is_latin
from docgen.rendering.markup import escaped
from docgen.rendering.style import Shade

NAMESPACES = (
    'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" '
    'xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/wordprocessingDrawing" '
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    'xmlns:pic="http://schemas.openxmlformats.org/drawingml/2006/picture" '
    'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" '
    'xmlns:w14="http://schemas.microsoft.com/office/word/2010/wordml" mc:Ignorable="w14"'
)
_BOX_FONT = "Segoe UI Symbol"
_BOXES = {False: "\u2610", True: "\u2611"}


def twips(points: float) -> int:
    """Twentieths of a point, the unit of almost every length."""
    return round(points * 20)


def emu(points: float) -> int:
    """English metric units, the unit of pictures."""
    return round(points * 12700)


def hex_shade(shade: Shade) -> str:
    """A grey or a colour as six hexadecimal digits."""
    parts = shade if isinstance(shade, tuple) else (shade,) * 3
    return "".join(f"{round(part * 255):02X}" for part in parts)


def border(side: str, width: float, shade: Shade = 0.0) -> str:
    """One edge; the unit is an eighth of a point and the thinnest is two of them. Width 0 is no line."""
    if not width:
        return f'<w:{side} w:val="nil"/>'
    size, color = max(2, round(width * 8)), hex_shade(shade)
    return f'<w:{side} w:val="single" w:sz="{size}" w:space="0" w:color="{color}"/>'


def ground(shade: float) -> str:
    """A fill behind text or a cell."""
    return f'<w:shd w:val="clear" w:color="auto" w:fill="{hex_shade(shade)}"/>'


def run(text: str, properties: str = "") -> str:
    """A run of text with its properties; tabs and line ends become elements of their own."""
    content = escaped(text).replace("\t", '</w:t><w:tab/><w:t xml:space="preserve">')
    content = content.replace("\n", '</w:t><w:br/><w:t xml:space="preserve">')
    marks = f"<w:rPr>{properties}</w:rPr>" if properties else ""
    return f'<w:r>{marks}<w:t xml:space="preserve">{content}</w:t></w:r>'


LANGUAGE = "lang:"  # begins the mark of a run in another language


def emphases(marks: Set[str], to_left: bool = False, text: str = "") -> str:
    """w:rPr for the emphases round a run, in the order of the schema; a gap outranks a link.

    to_left  whether its letters run from right to left
    text     its words: of those in no Latin script the language is told for every script
    """
    style = "Gap" if "gap" in marks else "Hyperlink" if "link" in marks else ""
    named = f'<w:rStyle w:val="{style}"/>' if style else ""
    bold = "<w:b/><w:bCs/>" if "strong" in marks else ""
    italic = "<w:i/><w:iCs/>" if "emphasis" in marks else ""
    tongue = "".join(_language(mark.removeprefix(LANGUAGE), text) for mark in marks if mark.startswith(LANGUAGE))
    return named + bold + italic + ("<w:rtl/>" if to_left else "") + tongue


def _language(tag: str, text: str) -> str:
    """w:lang; words of a complex or an East Asian script take their language from an attribute of their own."""
    lang = escaped(tag)
    others = "" if is_latin(text) else f' w:eastAsia="{lang}" w:bidi="{lang}"'
    return f'<w:lang w:val="{lang}"{others}/>'


def paragraph(
    style: str,
    content: str = "",
    *,
    keep: bool | None = None,
    whole: bool = False,
    break_before: bool = False,
    number: tuple[int, int] | None = None,
    rule: str = "",
    space_before: float | None = None,
    space_after: float | None = None,
    indent: tuple[float, float] | None = None,
    align: str = "",
) -> str:
    """A paragraph of a style; every other property only where it differs from the style.

    keep          True or False: stays on the page of the next paragraph or not
    whole         its lines stay in one column
    break_before  starts a new page
    number        list (w:numId) and level
    rule          a bottom edge made by border()
    space_before, space_after  points
    indent        left and hanging indent in points
    align         center or right
    """
    parts = [f'<w:pStyle w:val="{style}"/>']
    if keep is not None:
        parts.append(f'<w:keepNext w:val="{int(keep)}"/>')
    if whole:
        parts.append("<w:keepLines/>")
    if break_before:
        parts.append("<w:pageBreakBefore/>")
    if number is not None:
        parts.append(f'<w:numPr><w:ilvl w:val="{number[1]}"/><w:numId w:val="{number[0]}"/></w:numPr>')
    if rule:
        parts.append(f"<w:pBdr>{rule}</w:pBdr>")
    spaces = (("before", space_before), ("after", space_after))
    if given := "".join(f' w:{side}="{twips(points)}"' for side, points in spaces if points is not None):
        parts.append(f"<w:spacing{given}/>")
    if indent is not None:
        parts.append(f'<w:ind w:left="{twips(indent[0])}" w:hanging="{twips(indent[1])}"/>')
    if align:
        parts.append(f'<w:jc w:val="{align}"/>')
    return f"<w:p><w:pPr>{''.join(parts)}</w:pPr>{content}</w:p>"


def field(instruction: str, shown: str, properties: str = "") -> str:
    """A complex field with the value to show until the reader's program works it out again."""
    marks = f"<w:rPr>{properties}</w:rPr>" if properties else ""

    def mark(kind: str) -> str:
        return f'<w:r>{marks}<w:fldChar w:fldCharType="{kind}"/></w:r>'

    code = f'<w:r>{marks}<w:instrText xml:space="preserve"> {instruction} </w:instrText></w:r>'
    return mark("begin") + code + mark("separate") + run(shown, properties) + mark("end")


def hyperlink(content: str, *, relation: str = "", bookmark: str = "") -> str:
    """Runs that lead to a related address or to a bookmark of this document."""
    where = f'r:id="{relation}"' if relation else f'w:anchor="{bookmark}"'
    return f'<w:hyperlink {where} w:history="1">{content}</w:hyperlink>'


def bookmarked(content: str, number: int, name: str) -> str:
    """Runs that a link can lead to."""
    return f'<w:bookmarkStart w:id="{number}" w:name="{name}"/>{content}<w:bookmarkEnd w:id="{number}"/>'


def tick_box(number: int, checked: bool) -> str:
    """A check box the reader can tick on screen, showing a ballot box."""
    fonts = "".join(f' w:{use}="{_BOX_FONT}"' for use in ("ascii", "hAnsi", "eastAsia", "cs"))
    states = "".join(
        f'<w14:{state} w14:val="{ord(_BOXES[on]):04X}" w14:font="{_BOX_FONT}"/>'
        for state, on in (("checkedState", True), ("uncheckedState", False))
    )
    return (
        f'<w:sdt><w:sdtPr><w:id w:val="{number}"/><w14:checkbox><w14:checked w14:val="{int(checked)}"/>'
        f"{states}</w14:checkbox></w:sdtPr><w:sdtContent><w:r><w:rPr><w:rFonts{fonts}/></w:rPr>"
        f"<w:t>{_BOXES[checked]}</w:t></w:r></w:sdtContent></w:sdt>"
    )


def picture(number: int, name: str, relation: str, size: tuple[float, float], alt: str) -> str:
    """A picture in the line. `number` is unique in the document; `alt` says what it shows."""
    extent = f'cx="{emu(size[0])}" cy="{emu(size[1])}"'
    named = f'id="{number}" name="{escaped(name)}" descr="{escaped(alt)}"'
    return (
        f'<w:r><w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0"><wp:extent {extent}/>'
        f"<wp:docPr {named}/><wp:cNvGraphicFramePr>"
        '<a:graphicFrameLocks noChangeAspect="1"/></wp:cNvGraphicFramePr><a:graphic>'
        '<a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture"><pic:pic>'
        f"<pic:nvPicPr><pic:cNvPr {named}/><pic:cNvPicPr/></pic:nvPicPr>"
        f'<pic:blipFill><a:blip r:embed="{relation}"/><a:stretch><a:fillRect/></a:stretch></pic:blipFill>'
        f'<pic:spPr><a:xfrm><a:off x="0" y="0"/><a:ext {extent}/></a:xfrm>'
        '<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></pic:spPr>'
        "</pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>"
    )


def cell(
    width: float, content: str, *, edges: str = "", fill: float | None = None, margins: Sequence[float] = ()
) -> str:
    """A cell of a width in points. `edges` are border()s in the order top, left, bottom, right;
    `margins` are points in that order."""
    parts = [f'<w:tcW w:w="{twips(width)}" w:type="dxa"/>']
    if edges:
        parts.append(f"<w:tcBorders>{edges}</w:tcBorders>")
    if fill is not None:
        parts.append(ground(fill))
    if margins:
        sides = zip(("top", "left", "bottom", "right"), margins, strict=True)
        inner = "".join(f'<w:{side} w:w="{twips(points)}" w:type="dxa"/>' for side, points in sides)
        parts.append(f"<w:tcMar>{inner}</w:tcMar>")
    return f"<w:tc><w:tcPr>{''.join(parts)}</w:tcPr>{content}</w:tc>"


def row(cells: str, *, header: bool = False, whole: bool = True) -> str:
    """A table row; a header repeats on every page, a whole row is not split between pages."""
    marks = ("<w:cantSplit/>" if whole else "") + ("<w:tblHeader/>" if header else "")
    return f"<w:tr>{f'<w:trPr>{marks}</w:trPr>' if marks else ''}{cells}</w:tr>"


def table(
    widths: Sequence[float],
    rows: str,
    *,
    style: str = "",
    indent: float = 0.0,
    header: bool = False,
    title: str = "",
    to_left: bool = False,
) -> str:
    """A table of fixed column widths in points, the first at the right where `to_left`; `title` names it for those who
    cannot see it."""
    named = f'<w:tblStyle w:val="{style}"/>' if style else ""
    caption = f'<w:tblCaption w:val="{escaped(title)}"/>' if title else ""
    grid = "".join(f'<w:gridCol w:w="{twips(width)}"/>' for width in widths)
    total = sum(twips(width) for width in widths)
    look = f'w:val="{"0620" if header else "0600"}" w:firstRow="{int(header)}"'
    return (
        f'<w:tbl><w:tblPr>{named}{"<w:bidiVisual/>" if to_left else ""}<w:tblW w:w="{total}" w:type="dxa"/>'
        f'<w:tblInd w:w="{twips(indent)}" w:type="dxa"/><w:tblLayout w:type="fixed"/>'
        f'<w:tblLook {look} w:lastRow="0" w:firstColumn="0" w:lastColumn="0" w:noHBand="1" w:noVBand="1"/>'
        f"{caption}</w:tblPr><w:tblGrid>{grid}</w:tblGrid>{rows}</w:tbl>"
    )
