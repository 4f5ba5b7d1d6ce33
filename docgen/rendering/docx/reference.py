"""A DOCX taken as a model: its styles, theme, page setup, head and foot; never its text, macros or links.

The file comes from outside, so it is read as if it were hostile: sizes are known before anything is unpacked,
no entity is resolved, and what a head or foot may hold stands in `cleared.py`.
"""

from __future__ import annotations

import io
import lzma
import posixpath
import struct
import warnings
import zipfile
import zlib
from collections.abc import Mapping
from typing import Any, Literal, cast

from lxml import etree
from msgspec import Struct

from docgen.rendering.docx.cleared import R as _R
from docgen.rendering.docx.cleared import Unfit, W, clear_margin, clear_part, refuse_uses
from docgen.rendering.plain_picture import plain_png

_RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
_MOST_BYTES, _MOST_PARTS, _MOST_PIXELS = 40_000_000, 2000, 16_000_000  # unpacked, of one picture
_WIDEST_PX = 2400  # what a picture keeps; 300 to the inch over the width of a page
_LEAST_TEXT = 200.0  # points, of width and of height

Kind = Literal["default", "first", "even"]


class ReferenceProblem(ValueError):
    """Why a DOCX cannot be a model, as a clause without a full stop."""


class Margin(Struct, frozen=True):
    """A head or foot: its XML, and what it relates to by id: pictures as (suffix, bytes), links as their address."""

    xml: Any
    pictures: Mapping[str, tuple[str, bytes]]
    links: Mapping[str, str]

    @property
    def counts_pages(self) -> bool:
        """Whether it shows a page number itself."""
        codes = [node.text or "" for node in self.xml.iter(f"{W}instrText")]
        codes += [node.get(f"{W}instr") or "" for node in self.xml.iter(f"{W}fldSimple")]
        return any(code.split()[:1] == ["PAGE"] for code in codes)


class Reference(Struct, frozen=True):
    """What a DOCX gives to the documents modelled on it.

    styles  its w:styles
    theme   bytes of its theme, or None
    paper   attributes of w:pgSz and of w:pgMar
    area    width and height of the text in points
    kinds   heads that its pages need: default, and first and even if it tells those pages apart
    """

    styles: Any
    theme: bytes | None
    paper: tuple[Mapping[str, str], Mapping[str, str]]
    area: tuple[float, float]
    kinds: tuple[Kind, ...]
    headers: Mapping[Kind, Margin]
    footers: Mapping[Kind, Margin]


def read_reference(file: bytes) -> Reference:
    """The model a DOCX makes. Raises ReferenceProblem."""
    try:
        with zipfile.ZipFile(io.BytesIO(file)) as archive:
            return _Reader(archive).read()
    except ReferenceProblem:
        raise
    except (
        zipfile.BadZipFile,
        zlib.error,
        lzma.LZMAError,
        struct.error,
        EOFError,
        NotImplementedError,
        RuntimeError,
        OSError,
        ValueError,
    ):
        raise ReferenceProblem("is not a whole DOCX file") from None


class _Reader:
    """Reads parts by name, each only if all of the file is of a size to be read."""

    def __init__(self, archive: zipfile.ZipFile) -> None:
        infos = archive.infolist()
        if len(infos) > _MOST_PARTS or sum(info.file_size for info in infos) > _MOST_BYTES:
            raise ReferenceProblem(f"unpacks to more than {_MOST_PARTS:,} parts or {_MOST_BYTES:,} bytes")
        self.archive, self.names = archive, {info.filename for info in infos}

    def read(self) -> Reference:
        main = next((to for kind, to, _ in self._relations("", "").values() if kind == "officeDocument"), "")
        document, related = self._xml(main, "document"), self._relations(*posixpath.split(main))
        of_kind = {kind: to for kind, to, _ in related.values()}
        if "styles" not in of_kind:
            raise ReferenceProblem("holds no styles")
        section = document.find(f"{W}body/{W}sectPr")
        if section is None:
            raise ReferenceProblem("holds no page setup")
        settings = self._xml(of_kind["settings"], "settings") if "settings" in of_kind else None
        kinds: list[Kind] = ["default"]
        if _on(section.find(f"{W}titlePg")):
            kinds.append("first")
        if settings is not None and _on(settings.find(f"{W}evenAndOddHeaders")):
            kinds.append("even")
        paper, area = _paper(section)
        theme = self._cleared(of_kind["theme"], "theme") if "theme" in of_kind else None
        return Reference(
            self._cleared(of_kind["styles"], "styles"),
            None if theme is None else etree.tostring(theme, xml_declaration=True, encoding="UTF-8", standalone=True),
            paper,
            area,
            tuple(kinds),
            self._margins(section, "header", related, kinds),
            self._margins(section, "footer", related, kinds),
        )

    def _margins(
        self, section: Any, what: str, related: Mapping[str, tuple[str, str, bool]], kinds: list[Kind]
    ) -> dict[Kind, Margin]:
        margins: dict[Kind, Margin] = {}
        for node in section.findall(f"{W}{what}Reference"):
            kind, relation = node.get(f"{W}type", "default"), related.get(node.get(f"{_R}id", ""))
            if kind not in kinds:
                continue
            if relation is None or relation[0] != what or relation[2]:
                raise ReferenceProblem(f"names a {what} that it does not hold")
            margins[kind] = self._margin(relation[1], what)
        return margins

    def _margin(self, name: str, what: str) -> Margin:
        root = self._xml(name, "hdr" if what == "header" else "ftr")
        try:
            clear_margin(root)
        except Unfit as reason:
            raise ReferenceProblem(f"has a {what} {reason}") from None
        pictures, links = {}, {}
        for id, (kind, to, outside) in self._relations(*posixpath.split(name)).items():
            if kind == "image" and not outside:
                pictures[id] = self._picture(to, what)
            elif kind == "hyperlink" and outside and to.startswith(("http://", "https://", "mailto:", "tel:")):
                links[id] = to
            else:
                raise ReferenceProblem(f"has a {what} with something from outside or active in it ({kind})")
        try:
            refuse_uses(root, pictures, links)
        except Unfit as reason:
            raise ReferenceProblem(f"has a {what} {reason}") from None
        return Margin(root, pictures, links)

    def _cleared(self, name: str, root: str) -> Any:
        part = self._xml(name, root)
        try:
            clear_part(part)
        except Unfit as reason:
            raise ReferenceProblem(f"has a part ({root}) {reason}") from None
        return part

    def _picture(self, name: str, what: str) -> tuple[str, bytes]:
        from PIL import Image

        data = self._bytes(name)
        too_large = ReferenceProblem(f"has a picture in its {what} of more than {_MOST_PIXELS:,} pixels")
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as picture:
                    if picture.width * picture.height > _MOST_PIXELS:
                        raise too_large
                    return "png", plain_png(picture, _WIDEST_PX)[0]
        except ReferenceProblem:
            raise
        except Image.DecompressionBombError:
            raise too_large from None
        except Exception:  # whatever a broken picture makes the library raise
            raise ReferenceProblem(f"has a picture in its {what} that is neither PNG nor JPEG") from None

    def _relations(self, folder: str, name: str) -> dict[str, tuple[str, str, bool]]:
        """Id -> kind, target (a part's name, or an address outside), whether it is outside."""
        part = posixpath.join(folder, "_rels", f"{name}.rels")
        if part not in self.names:
            return {}
        relations = {}
        for node in self._xml(part, "Relationships"):
            if not isinstance(node.tag, str):
                continue
            kind, to = node.get("Type", "").removeprefix(_RELATIONS), node.get("Target", "")
            outside = node.get("TargetMode") == "External"
            if not outside:
                to = (
                    posixpath.normpath(posixpath.join(folder, to)).lstrip("/")
                    if not to.startswith("/")
                    else to.lstrip("/")
                )
            relations[node.get("Id", "")] = (kind, to, outside)
        return relations

    def _bytes(self, name: str) -> bytes:
        if name not in self.names:
            raise ReferenceProblem("lacks a part that a DOCX must hold")
        data = self.archive.read(name)
        if len(data) > _MOST_BYTES:
            raise ReferenceProblem(f"unpacks to more than {_MOST_BYTES:,} bytes")
        return data

    def _xml(self, name: str, root: str) -> Any:
        return self._parsed(self._bytes(name), root)

    @staticmethod
    def _parsed(data: bytes, root: str) -> Any:
        parser = etree.XMLParser(
            resolve_entities=False,
            no_network=True,
            load_dtd=False,
            huge_tree=False,
            remove_comments=True,
            remove_pis=True,
        )
        try:
            tree = etree.fromstring(data, parser)
        except (etree.XMLSyntaxError, ValueError):
            raise ReferenceProblem(f"holds a part ({root}) that is not well-formed XML") from None
        if cast(Any, tree.getroottree().docinfo).doctype or etree.QName(tree).localname != root:
            raise ReferenceProblem(f"holds something else where its {root} should be")
        return tree


def _paper(section: Any) -> tuple[tuple[dict[str, str], dict[str, str]], tuple[float, float]]:
    size, margins = section.find(f"{W}pgSz"), section.find(f"{W}pgMar")
    if size is None or margins is None:
        raise ReferenceProblem("holds no page setup")
    try:
        width, height = (float(size.get(f"{W}{side}")) / 20 for side in "wh")
        top, right, bottom, left = (
            abs(float(margins.get(f"{W}{side}"))) / 20 for side in ("top", "right", "bottom", "left")
        )
    except (TypeError, ValueError):
        raise ReferenceProblem("has a page setup without a size or margins") from None
    area = width - left - right, height - top - bottom
    if not all(side >= _LEAST_TEXT for side in area) or not max(width, height) <= 2000:  # so that "nan" is refused too
        raise ReferenceProblem("has a page setup that leaves no usable room for text")
    return (
        {etree.QName(k).localname: v for k, v in size.attrib.items()},
        {etree.QName(k).localname: v for k, v in margins.attrib.items()},
    ), area


def _on(node: Any) -> bool:
    return node is not None and node.get(f"{W}val", "true") not in ("0", "false", "off")
