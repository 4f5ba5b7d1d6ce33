"""Parts of a body that stand in one column or in several, joined by breaks of section on the same page."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from docgen.rendering.docx.xml import paragraph, twips

_OPEN, _CLOSE = "<w:p><w:pPr>", "</w:pPr>"
_SPACER = '<w:p><w:pPr><w:pStyle w:val="Spacer"/>'


class Part(Struct, frozen=True):
    """Blocks that stand in as many columns, as XML that ends with a paragraph."""

    n_columns: int
    content: str


class Section(Struct, frozen=True):
    """What all sections of a document have in common, as XML in the order of the schema (ECMA-376 part 1, 17.6.17).

    references  to its heads and feet, which the first section names for all
    sheet       size and margins
    first       whether the first page has a head and foot of its own; of the first section only
    bidi        whether the script runs from right to left
    """

    references: str
    sheet: str
    first: str
    bidi: str


def joined(parts: Sequence[Part], section: Section, gutter: float) -> str:
    """The body. Each part but the last ends its section in its last paragraph, so that no empty one takes a line."""
    n_columns = [part.n_columns for part in parts] or [1]
    ends = [_properties(n, section, gutter, is_first=at == 0) for at, n in enumerate(n_columns)]
    return (
        "".join(
            part.content + end if at == len(parts) else _ended(part.content, end)
            for at, (part, end) in enumerate(zip(parts, ends, strict=False), 1)
        )
        or ends[0]
    )


def _properties(n_columns: int, section: Section, gutter: float, is_first: bool) -> str:
    """w:sectPr of a section, which begins on the page where the one before it ends."""
    columns = f'<w:cols w:num="{n_columns}" w:space="{twips(gutter)}"/>' if n_columns > 1 else ""
    references, kind = (section.references, "") if is_first else ("", '<w:type w:val="continuous"/>')
    first = section.first if is_first else ""
    return f"<w:sectPr>{references}{kind}{section.sheet}{columns}{first}{section.bidi}</w:sectPr>"


def _ended(content: str, properties: str) -> str:
    """The content with the properties of its section in its last paragraph; after a table in one more, which is all but
    no line, as LibreOffice moves a table with one paragraph below it to the next page where its columns end."""
    at = content.rindex(_OPEN)
    if content.startswith(_SPACER, at):
        return content + paragraph("Break").replace(_CLOSE, properties + _CLOSE)
    at = content.index(_CLOSE, at)
    return content[:at] + properties + content[at:]
