"""Puts the parts of a document into one package, the same bytes for the same input."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from docgen.rendering.contrast import BLACK, Colour
from docgen.rendering.docx import seal, xml
from docgen.rendering.docx.parts import (
    CORE,
    CORE_RELATION,
    KIND_OF_CORE,
    THEME_KIND,
    Part,
    content_types_xml,
    core_xml,
    office_relation,
    word_kind,
)
from docgen.rendering.docx.styles import numbering_xml, styles_xml
from docgen.rendering.labels import Labels
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.paper import SHEETS, text_area
from docgen.rendering.style import Style

if TYPE_CHECKING:
    from docgen.rendering.docx.reference import Reference

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_ZIP_EPOCH = (NO_DATE.year, NO_DATE.month, NO_DATE.day, 0, 0, 0)
_PICTURES = {"jpeg": "image/jpeg", "png": "image/png"}  # suffix -> content type
_NOTHING: Mapping[str, Any] = {}
# what to look for where there is no Arial: a sans serif of variable pitch
_FONTS = (
    f'<w:fonts {xml.NAMESPACES}><w:font w:name="Arial"><w:panose1 w:val="020B0604020202020204"/>'
    '<w:charset w:val="00"/><w:family w:val="swiss"/><w:pitch w:val="variable"/></w:font></w:fonts>'
)


class Package:
    """A document being put together: pictures and links first, the body at the end."""

    def __init__(self, page: Page, style: Style, labels: Labels) -> None:
        self.page, self.style, self.labels = page, style, labels
        self.model = page.letterhead.reference if page.letterhead else None
        self._package = Part()
        self._document = Part("word/document.xml", word_kind("document.main"))
        self._package.relate(self._document, office_relation("officeDocument"))
        self._seal = Part(seal.PART, seal.CONTENT_TYPE)  # its content is known only at the end
        self._package.relate(self._seal, seal.RELATION)
        self._n_pictures = 0

    def add_picture(self, png: bytes) -> str:
        """Relation id of a picture; call once per picture and use the id again."""
        self._n_pictures += 1
        part = Part(f"word/media/image{self._n_pictures}.png", _PICTURES["png"], png)
        return self._document.relate(part, office_relation("image"))

    def add_link(self, target: str) -> str:
        """Relation id of an outside address."""
        return self._document.relate(target, office_relation("hyperlink"))

    @property
    def area(self) -> tuple[float, float]:
        """Width and height in points that the text may fill."""
        return self.model.area if self.model else text_area(self.page, self.style)

    def finished(self, body: str, ordered: Sequence[tuple[int, int]]) -> bytes:
        """The file. `ordered` is the level and first number of each numbered list of the body."""
        written = styles_xml(self.style, self.page.lang, self.area[0], self._accent, self.labels.runs_left)
        styles, names = _bytes(written), dict[str, str]()
        if self.model:
            from docgen.rendering.docx import modelled  # which reads XML

            styles, names = modelled.styles(self.model, written)
            body = modelled.renamed(body, names)
        self._related("styles", word_kind("styles"), styles)
        self._related("numbering", word_kind("numbering"), _bytes(numbering_xml(self.style, ordered)))
        if self.model and self.model.theme:
            self._related("theme", THEME_KIND, self.model.theme)
        if not self.model:
            self._related("fontTable", word_kind("fontTable"), _bytes(_FONTS))
        self._related("settings", word_kind("settings"), _bytes(self._settings()))
        body += self._section(names)
        self._document.blob = _bytes(f"<w:document {xml.NAMESPACES}><w:body>{body}</w:body></w:document>")
        page = self.page
        core = Part(CORE, KIND_OF_CORE, core_xml(page.title, page.author, page.lang, page.dated_on))
        self._package.relate(core, CORE_RELATION)
        return self._zipped()

    @property
    def _accent(self) -> Colour:
        return self.page.letterhead.accent if self.page.letterhead else BLACK

    def _related(self, name: str, kind: str, blob: bytes) -> None:
        self._document.relate(Part(f"word/{name}.xml", kind, blob), office_relation(name))

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
        head = xml.run(f"{page.running_head}{between}{day}" if (day := page.day(self.labels)) else page.running_head)
        lines = xml.paragraph("Header", head)
        if page.status:
            lines += xml.paragraph("Header", xml.run(page.status, '<w:b/><w:bCs/><w:color w:val="000000"/>'))
        return lines

    def _footer(self) -> str:
        words = self.labels
        start = "" if self.model else "\t"
        count = (
            xml.run(f"{start}{words.page} ")
            + xml.field("PAGE", "1")
            + xml.run(f" {words.of} ")
            + xml.field("NUMPAGES", "1")
        )
        return xml.paragraph("Footer", count)

    def _section(self, names: Mapping[str, str]) -> str:
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
            ("header", 34.0),
            ("footer", 30.0),
            ("gutter", 0.0),
        )
        margins = " ".join(f'w:{edge}="{xml.twips(points)}"' for edge, points in edges)
        size = f'<w:pgSz w:w="{xml.twips(width)}" w:h="{xml.twips(height)}"/>'
        bidi = "<w:bidi/>" if self.labels.runs_left else ""
        return f"<w:sectPr>{references}{size}<w:pgMar {margins}/>{bidi}</w:sectPr>"

    def _modelled_section(self, model: Reference, names: Mapping[str, str]) -> str:
        """The reference's heads and feet, each with our running head and status, or our page numbers, below."""
        from docgen.rendering.docx import modelled

        references = ""
        for what in ("header", "footer"):
            for at, kind in enumerate(model.kinds, 1):
                given = model.footers.get(kind)
                lines = self._header() if what == "header" else "" if given and given.counts_pages else self._footer()
                blob, pictures, links = modelled.margin(model, what, kind, modelled.renamed(lines, names))
                references += self._margin(what, kind, at, blob, pictures, links)
        first = "<w:titlePg/>" if "first" in model.kinds else ""
        bidi = "<w:bidi/>" if self.labels.runs_left else ""
        return f"<w:sectPr>{references}{modelled.paper(model)}{first}{bidi}</w:sectPr>"

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
        part = Part(f"word/{what}{number}.xml", word_kind(what), blob)
        for id, (suffix, data) in pictures.items():
            name = f"word/media/{what}{number}_{part.n_relations + 1}.{suffix}"
            part.relate_as(id, Part(name, _PICTURES[suffix], data), office_relation("image"))
        for id, address in links.items():
            part.relate_as(id, address, office_relation("hyperlink"))
        relation = self._document.relate(part, office_relation(what))
        return f'<w:{what}Reference w:type="{kind}" r:id="{relation}"/>'

    def _zipped(self) -> bytes:
        """The package as a zip with one fixed date; pictures are stored, being compressed already."""
        parts = [*self._package.below()]
        named = [part for part in parts if part.kind not in _PICTURES.values()]
        entries = [
            ("[Content_Types].xml", content_types_xml(_PICTURES, named)),
            (self._package.relations_name, self._package.relations_xml()),
        ]
        for part in parts:
            if part is self._seal:
                continue  # over all the others, so it comes last
            entries.append((part.name, part.blob))
            if part.n_relations:
                entries.append((part.relations_name, part.relations_xml()))
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
