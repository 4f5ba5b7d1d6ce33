"""Puts the parts of a document into one package, the same bytes for the same input."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from datetime import datetime, time

from docx.opc.constants import CONTENT_TYPE, RELATIONSHIP_TYPE
from docx.opc.oxml import CT_Types, serialize_part_xml
from docx.opc.package import OpcPackage
from docx.opc.packuri import PackURI
from docx.opc.part import Part

from docgen.rendering.docx import xml
from docgen.rendering.docx.styles import numbering_xml, styles_xml
from docgen.rendering.labels import Labels
from docgen.rendering.page import Page
from docgen.rendering.paper import SHEETS, text_area
from docgen.rendering.style import Style

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_ZIP_EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest a zip can hold
_PNG = "image/png"
_PROPERTY_LIMIT = 255  # characters a core property may have
# what to look for where there is no Arial: a sans serif of variable pitch
_FONTS = (f'<w:fonts {xml.NAMESPACES}><w:font w:name="Arial"><w:panose1 w:val="020B0604020202020204"/>'
          '<w:charset w:val="00"/><w:family w:val="swiss"/><w:pitch w:val="variable"/></w:font></w:fonts>')


class _Body(Part):
    """The main part: its relations grow while its content is still being written."""

    content = b""

    @property
    def blob(self) -> bytes:
        return self.content


class Package:
    """A document being put together: pictures and links first, the body at the end."""

    def __init__(self, page: Page, style: Style, labels: Labels) -> None:
        self.page, self.style, self.labels = page, style, labels
        self._package = OpcPackage()
        name, kind = PackURI("/word/document.xml"), CONTENT_TYPE.WML_DOCUMENT_MAIN
        self._document = _Body(name, kind, None, self._package)
        self._package.relate_to(self._document, RELATIONSHIP_TYPE.OFFICE_DOCUMENT)
        self._n_pictures = 0

    def add_picture(self, png: bytes) -> str:
        """Relation id of a picture; call once per picture and use the id again."""
        self._n_pictures += 1
        part = self._part(f"/word/media/image{self._n_pictures}.png", _PNG, png)
        return self._document.relate_to(part, RELATIONSHIP_TYPE.IMAGE)

    def add_link(self, target: str) -> str:
        """Relation id of an outside address."""
        return self._document.relate_to(target, RELATIONSHIP_TYPE.HYPERLINK, is_external=True)

    def finished(self, body: str, ordered: Sequence[tuple[int, int]]) -> bytes:
        """The file. `ordered` is the level and first number of each numbered list of the body."""
        kinds, relations = CONTENT_TYPE, RELATIONSHIP_TYPE
        styles = styles_xml(self.style, self.page.lang, text_area(self.page, self.style)[0])
        numbering = numbering_xml(self.style, ordered)
        self._related("styles", kinds.WML_STYLES, relations.STYLES, styles)
        self._related("numbering", kinds.WML_NUMBERING, relations.NUMBERING, numbering)
        self._related("fontTable", kinds.WML_FONT_TABLE, relations.FONT_TABLE, _FONTS)
        self._related("settings", kinds.WML_SETTINGS, relations.SETTINGS, self._settings())
        header = self._related("header1", kinds.WML_HEADER, relations.HEADER, self._header())
        footer = self._related("footer1", kinds.WML_FOOTER, relations.FOOTER, self._footer())
        body += self._section(header, footer)
        self._document.content = _bytes(f"<w:document {xml.NAMESPACES}><w:body>{body}</w:body></w:document>")
        self._describe()
        return self._zipped()

    def _part(self, name: str, kind: str, blob: bytes) -> Part:
        return Part(PackURI(name), kind, blob, self._package)

    def _related(self, name: str, kind: str, relation: str, content: str) -> str:
        return self._document.relate_to(self._part(f"/word/{name}.xml", kind, _bytes(content)), relation)

    def _describe(self) -> None:
        """Core properties: all of them from the page, none from the clock or the machine."""
        properties, page = self._package.core_properties, self.page
        properties.title, properties.language = page.title[:_PROPERTY_LIMIT], page.lang
        properties.author = properties.last_modified_by = page.author[:_PROPERTY_LIMIT]
        properties.created = properties.modified = datetime.combine(page.dated_on, time())

    def _settings(self) -> str:
        """Compatibility mode 15, or the reader's program would lay the page out as it did in 2007."""
        mode = ('<w:compatSetting w:name="compatibilityMode" '
                'w:uri="http://schemas.microsoft.com/office/word" w:val="15"/>')
        return (f'<w:settings {xml.NAMESPACES}><w:defaultTabStop w:val="{xml.twips(self.style.indent)}"/>'
                f"<w:compat>{mode}</w:compat></w:settings>")

    def _header(self) -> str:
        page = self.page
        head = xml.run(f"{page.running_head}\t{self.labels.day(page.dated_on)}")
        lines = xml.paragraph("Header", head)
        if page.status:
            lines += xml.paragraph("Header", xml.run(page.status, '<w:b/><w:bCs/><w:color w:val="000000"/>'))
        return f"<w:hdr {xml.NAMESPACES}>{lines}</w:hdr>"

    def _footer(self) -> str:
        words = self.labels
        count = (xml.run(f"\t{words.page} ") + xml.field("PAGE", "1") + xml.run(f" {words.of} ")
                 + xml.field("NUMPAGES", "1"))
        return f"<w:ftr {xml.NAMESPACES}>{xml.paragraph('Footer', count)}</w:ftr>"

    def _section(self, header: str, footer: str) -> str:
        style, (width, height) = self.style, SHEETS[self.page.paper]
        edges = (("top", style.margin_top), ("right", style.margin_side), ("bottom", style.margin_bottom),
                 ("left", style.margin_side), ("header", 34.0), ("footer", 30.0), ("gutter", 0.0))
        margins = " ".join(f'w:{edge}="{xml.twips(points)}"' for edge, points in edges)
        size = f'<w:pgSz w:w="{xml.twips(width)}" w:h="{xml.twips(height)}"/>'
        return (f'<w:sectPr><w:headerReference w:type="default" r:id="{header}"/>'
                f'<w:footerReference w:type="default" r:id="{footer}"/>{size}<w:pgMar {margins}/></w:sectPr>')

    def _zipped(self) -> bytes:
        """The package as a zip with one fixed date; pictures are stored, being compressed already."""
        parts = self._package.parts
        kinds = CT_Types.new()
        kinds.add_default("png", _PNG)
        kinds.add_default("rels", CONTENT_TYPE.OPC_RELATIONSHIPS)
        kinds.add_default("xml", CONTENT_TYPE.XML)
        for part in parts:
            if part.content_type != _PNG:
                kinds.add_override(part.partname, part.content_type)
        entries: list[tuple[str, bytes]] = [("[Content_Types].xml", serialize_part_xml(kinds)),
                                            ("_rels/.rels", self._package.rels.xml)]
        for part in parts:
            entries.append((part.partname.membername, part.blob))
            if len(part.rels):
                entries.append((part.partname.rels_uri.membername, part.rels.xml))
        file = io.BytesIO()
        with zipfile.ZipFile(file, "w") as archive:
            for name, blob in entries:
                info = zipfile.ZipInfo(name, _ZIP_EPOCH)
                info.compress_type = zipfile.ZIP_STORED if name.endswith(".png") else zipfile.ZIP_DEFLATED
                info.external_attr = 0o600 << 16
                archive.writestr(info, blob)
        return file.getvalue()


def _bytes(content: str) -> bytes:
    return (_HEAD + content).encode()
