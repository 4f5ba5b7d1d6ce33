"""Puts the parts of a document into one package, the same bytes for the same input."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from datetime import datetime, time
from functools import cached_property
from typing import TYPE_CHECKING, Any, cast

from docx.opc.constants import CONTENT_TYPE, RELATIONSHIP_TYPE
from docx.opc.oxml import CT_Types, serialize_part_xml
from docx.opc.package import OpcPackage
from docx.opc.packuri import PackURI
from docx.opc.part import Part

from docgen.arial import arial_width
from docgen.rendering.contrast import BLACK, Colour
from docgen.rendering.docx import modelled, seal, sections, xml
from docgen.rendering.docx.reference import Reference
from docgen.rendering.docx.styles import LONGER_IN_WORD, numbering_xml, styles_xml
from docgen.rendering.labels import Labels
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.paper import SHEETS, status_place, text_area
from docgen.rendering.style import Style

if TYPE_CHECKING:
    from docx.package import Package as DocumentPackage

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_ZIP_EPOCH = (NO_DATE.year, NO_DATE.month, NO_DATE.day, 0, 0, 0)
_APART = "\u2003 "  # between running head and status in one line
# points from the edge of a style to where Word begins a line; a sheet in columns, full to the last, does without
_BELOW_EDGE = 4.0
_PNG = "image/png"
_PROPERTY_LIMIT = 255  # characters a core property may have
_NOTHING: Mapping[str, Any] = {}
_MARGINS = {
    "header": (CONTENT_TYPE.WML_HEADER, RELATIONSHIP_TYPE.HEADER),
    "footer": (CONTENT_TYPE.WML_FOOTER, RELATIONSHIP_TYPE.FOOTER),
}
# what to look for where there is no Arial: a sans serif of variable pitch
_FONTS = (
    f'<w:fonts {xml.NAMESPACES}><w:font w:name="Arial"><w:panose1 w:val="020B0604020202020204"/>'
    '<w:charset w:val="00"/><w:family w:val="swiss"/><w:pitch w:val="variable"/></w:font></w:fonts>'
)


class _Growing(Part):
    """A part whose content is known only at the end."""

    content = b""

    @property
    def blob(self) -> bytes:
        return self.content


class Package:
    """A document being put together: pictures and links first, the body at the end."""

    def __init__(self, page: Page, style: Style, labels: Labels) -> None:
        self.page, self.style, self.labels = page, style, labels
        self.model = page.letterhead.reference if page.letterhead else None
        self._package = cast(
            "DocumentPackage", OpcPackage()
        )  # what its parts are typed to want; they use no more of it
        name, kind = PackURI("/word/document.xml"), CONTENT_TYPE.WML_DOCUMENT_MAIN
        self._document = _Growing(name, kind, None, self._package)
        self._package.relate_to(self._document, RELATIONSHIP_TYPE.OFFICE_DOCUMENT)
        self._seal = _Growing(PackURI(f"/{seal.PART}"), seal.CONTENT_TYPE, None, self._package)
        self._package.relate_to(self._seal, seal.RELATION)
        self._n_pictures = 0

    def add_picture(self, png: bytes) -> str:
        """Relation id of a picture; call once per picture and use the id again."""
        self._n_pictures += 1
        part = self._part(f"/word/media/image{self._n_pictures}.png", _PNG, png)
        return self._document.relate_to(part, RELATIONSHIP_TYPE.IMAGE)

    def add_link(self, target: str) -> str:
        """Relation id of an outside address."""
        return self._document.relate_to(target, RELATIONSHIP_TYPE.HYPERLINK, is_external=True)

    @property
    def area(self) -> tuple[float, float]:
        """Width and height in points that the text may fill."""
        return self.model.area if self.model else text_area(self.page, self.style)

    def finished(self, parts: Sequence[sections.Part], ordered: Sequence[tuple[int, int]]) -> bytes:
        """The file, its body in parts that differ in columns. `ordered` is the level and first number of each numbered
        list of the body."""
        kinds, relations = CONTENT_TYPE, RELATIONSHIP_TYPE
        written = styles_xml(self.style, self.page.lang, self.area[0], self._accent, self.labels.runs_left)
        styles, names = _bytes(written), dict[str, str]()
        if self.model:
            styles, names = modelled.styles(self.model, styles.decode().removeprefix(_HEAD))
        self._related("styles", kinds.WML_STYLES, relations.STYLES, styles)
        self._related("numbering", kinds.WML_NUMBERING, relations.NUMBERING, _bytes(numbering_xml(self.style, ordered)))
        if self.model and self.model.theme:
            self._related("theme", kinds.OFC_THEME, relations.THEME, self.model.theme)
        if not self.model:
            self._related("fontTable", kinds.WML_FONT_TABLE, relations.FONT_TABLE, _bytes(_FONTS))
        self._related("settings", kinds.WML_SETTINGS, relations.SETTINGS, _bytes(self._settings()))
        body = modelled.renamed(sections.joined(parts, self._section(names), self.style.gutter), names)
        self._document.content = _bytes(f"<w:document {xml.NAMESPACES}><w:body>{body}</w:body></w:document>")
        self._describe()
        return self._zipped()

    @property
    def _accent(self) -> Colour:
        return self.page.letterhead.accent if self.page.letterhead else BLACK

    def _part(self, name: str, kind: str, blob: bytes) -> Part:
        return Part(PackURI(name), kind, blob, self._package)

    def _related(self, name: str, kind: str, relation: str, blob: bytes) -> str:
        return self._document.relate_to(self._part(f"/word/{name}.xml", kind, blob), relation)

    def _describe(self) -> None:
        """Core properties: all of them from the page, none from the clock or the machine."""
        properties, page = self._package.core_properties, self.page
        properties.title, properties.language = page.title[:_PROPERTY_LIMIT], page.lang
        properties.author = properties.last_modified_by = page.author[:_PROPERTY_LIMIT]
        properties.created = properties.modified = datetime.combine(page.dated_on, time())

    def _settings(self) -> str:
        """Compatibility mode 15, or the reader's program would lay the page out as it did in 2007."""
        mode = (
            '<w:compatSetting w:name="compatibilityMode" w:uri="http://schemas.microsoft.com/office/word" w:val="15"/>'
        )
        even = "<w:evenAndOddHeaders/>" if self.model and "even" in self.model.kinds else ""
        return (
            f'<w:settings {xml.NAMESPACES}><w:defaultTabStop w:val="{xml.twips(self.style.indent)}"/>'
            f"{even}<w:compat>{mode}</w:compat></w:settings>"
        )

    def _header(self) -> str:
        page = self.page
        between = ", " if self.model else "\t"  # where a reference has its tabs is its own affair
        day = page.day(self.labels)
        beside = xml.run(_APART) + self._status() if self._status_place == "head" else ""
        head = xml.run(page.running_head) + beside + (xml.run(f"{between}{day}") if day else "")
        lines = xml.paragraph("Header", head)
        if page.status and self._status_place == "below":
            lines += xml.paragraph("Header", self._status())
        return lines

    def _status(self) -> str:
        return xml.run(self.page.status, '<w:b/><w:bCs/><w:color w:val="000000"/>')

    @cached_property
    def _status_place(self) -> str:
        """Where the status stands; below the head of a reference, whose line is its own affair."""
        size = self.style.furniture.size
        return (
            "below"
            if self.model
            else status_place(
                self.page, self.style, self.labels, lambda text, bold: arial_width(text, size, bold) * LONGER_IN_WORD
            )
        )

    def _footer(self) -> str:
        words = self.labels
        start = "" if self.model else "\t"
        count = (
            xml.run(f"{start}{words.page} ")
            + xml.field("PAGE", "1")
            + xml.run(f" {words.of} ")
            + xml.field("NUMPAGES", "1")
        )
        return xml.paragraph("Footer", (self._status() if self._status_place == "foot" else "") + count)

    def _section(self, names: Mapping[str, str]) -> sections.Section:
        if self.model:
            return self._modelled_section(self.model, names)
        style, (width, height) = self.style, SHEETS[self.page.paper]
        header = _bytes(f"<w:hdr {xml.NAMESPACES}>{self._header()}</w:hdr>")
        footer = _bytes(f"<w:ftr {xml.NAMESPACES}>{self._footer()}</w:ftr>")
        references = self._margin("header", "default", 1, header) + self._margin("footer", "default", 1, footer)
        edges = (
            ("top", style.margin_top),
            ("right", style.margin_side),
            ("bottom", style.margin_bottom),
            ("left", style.margin_side),
            ("header", style.edge + (0.0 if style.columns > 1 else _BELOW_EDGE)),
            ("footer", style.edge - (_BELOW_EDGE if style.columns > 1 else 0.0)),
            ("gutter", 0.0),
        )
        margins = " ".join(f'w:{edge}="{xml.twips(points)}"' for edge, points in edges)
        size = f'<w:pgSz w:w="{xml.twips(width)}" w:h="{xml.twips(height)}"/>'
        bidi = "<w:bidi/>" if self.labels.runs_left else ""
        return sections.Section(references, f"{size}<w:pgMar {margins}/>", "", bidi)

    def _modelled_section(self, model: Reference, names: Mapping[str, str]) -> sections.Section:
        """The reference's heads and feet, each with our running head and status, or our page numbers, below."""
        references = ""
        for what in ("header", "footer"):
            for at, kind in enumerate(model.kinds, 1):
                given = model.footers.get(kind)
                lines = self._header() if what == "header" else "" if given and given.counts_pages else self._footer()
                blob, pictures, links = modelled.margin(model, what, kind, modelled.renamed(lines, names))
                references += self._margin(what, kind, at, blob, pictures, links)
        first = "<w:titlePg/>" if "first" in model.kinds else ""
        bidi = "<w:bidi/>" if self.labels.runs_left else ""
        return sections.Section(references, modelled.paper(model), first, bidi)

    def _margin(
        self,
        what: str,
        kind: str,
        number: int,
        blob: bytes,
        pictures: Mapping[str, tuple[str, bytes]] = _NOTHING,
        links: Mapping[str, str] = _NOTHING,
    ) -> str:
        """Add a head or foot with what it relates to, under the same ids; the section's reference to it."""
        content, relation = _MARGINS[what]
        part = self._part(f"/word/{what}{number}.xml", content, blob)
        for id, (suffix, data) in pictures.items():
            picture = self._part(f"/word/media/{what}{number}_{len(part.rels) + 1}.{suffix}", f"image/{suffix}", data)
            part.rels.add_relationship(RELATIONSHIP_TYPE.IMAGE, picture, id)
        for id, address in links.items():
            part.rels.add_relationship(RELATIONSHIP_TYPE.HYPERLINK, address, id, is_external=True)
        return f'<w:{what}Reference w:type="{kind}" r:id="{self._document.relate_to(part, relation)}"/>'

    def _zipped(self) -> bytes:
        """The package as a zip with one fixed date; pictures are stored, being compressed already."""
        parts = self._package.parts
        kinds = cast(Any, CT_Types).new()
        kinds.add_default("jpeg", "image/jpeg")
        kinds.add_default("png", _PNG)
        kinds.add_default("rels", CONTENT_TYPE.OPC_RELATIONSHIPS)
        kinds.add_default("xml", CONTENT_TYPE.XML)
        for part in parts:
            if not part.content_type.startswith("image/"):
                kinds.add_override(part.partname, part.content_type)
        entries: list[tuple[str, bytes]] = [
            ("[Content_Types].xml", serialize_part_xml(kinds)),
            ("_rels/.rels", self._package.rels.xml),
        ]
        for part in parts:
            if part is self._seal:
                continue  # over all the others, so it comes last
            entries.append((part.partname.membername, part.blob))
            if len(part.rels):
                entries.append((part.partname.rels_uri.membername, part.rels.xml))
        entries.append((seal.PART, _bytes(seal.properties_xml(entries, self.page.mark))))
        file = io.BytesIO()
        with zipfile.ZipFile(file, "w") as archive:
            for name, blob in entries:
                info = zipfile.ZipInfo(name, _ZIP_EPOCH)
                info.compress_type = zipfile.ZIP_STORED if name.endswith((".png", ".jpeg")) else zipfile.ZIP_DEFLATED
                info.external_attr = 0o600 << 16
                archive.writestr(info, blob)
        return file.getvalue()


def _bytes(content: str) -> bytes:
    return (_HEAD + content).encode()
