"""A DOCX taken as a model: its styles, theme, page set-up, head and foot; never its text, macros or links.

The file comes from outside, so it is read as if it were hostile: sizes are known before anything is unpacked,
no entity is resolved, and a head or foot may hold only words, pictures and fields that show page numbers,
dates and titles.
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
from dataclasses import dataclass
from typing import Any, Literal, cast

from lxml import etree

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_R = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
_RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
_MOST_BYTES, _MOST_PARTS, _MOST_PIXELS = 40_000_000, 2000, 16_000_000  # unpacked, of one picture
_FIELDS = {
    "PAGE",
    "NUMPAGES",
    "SECTIONPAGES",
    "SECTION",
    "DATE",
    "TIME",
    "CREATEDATE",
    "SAVEDATE",
    "PRINTDATE",
    "TITLE",
    "SUBJECT",
    "AUTHOR",
    "STYLEREF",
    "FILENAME",
}
_ACTIVE = {"object", "control", "altChunk", "OLEObject", "subDoc", "movie", "script"}
_LEAST_TEXT = 200.0  # points, of width and of height

Kind = Literal["default", "first", "even"]


class ReferenceProblem(ValueError):
    """Why a DOCX cannot be a model, as a clause without a full stop."""


@dataclass(frozen=True, slots=True)
class Margin:
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


@dataclass(frozen=True, slots=True)
class Reference:
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
            raise ReferenceProblem("holds no page set-up")
        settings = self._xml(of_kind["settings"], "settings") if "settings" in of_kind else None
        kinds: list[Kind] = ["default"]
        if _on(section.find(f"{W}titlePg")):
            kinds.append("first")
        if settings is not None and _on(settings.find(f"{W}evenAndOddHeaders")):
            kinds.append("even")
        paper, area = _paper(section)
        theme = self._bytes(of_kind["theme"]) if "theme" in of_kind else None
        if theme is not None:
            self._parsed(theme, "theme")
        return Reference(
            self._xml(of_kind["styles"], "styles"),
            theme,
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
        _refuse_active(root, what)
        pictures, links = {}, {}
        for id, (kind, to, outside) in self._relations(*posixpath.split(name)).items():
            if kind == "image" and not outside:
                pictures[id] = self._picture(to, what)
            elif kind == "hyperlink" and outside and to.startswith(("http://", "https://", "mailto:", "tel:")):
                links[id] = to
            else:
                raise ReferenceProblem(f"has a {what} with something from outside or active in it ({kind})")
        named = {value for node in root.iter() for key, value in node.attrib.items() if key.startswith(_R)}
        if named - set(pictures) - set(links):
            raise ReferenceProblem(f"has a {what} that names a part it does not hold")
        return Margin(root, pictures, links)

    def _picture(self, name: str, what: str) -> tuple[str, bytes]:
        from PIL import Image

        data = self._bytes(name)
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as picture:
                    n_pixels, suffix = picture.width * picture.height, "png" if picture.format == "PNG" else "jpeg"
        except Exception:  # whatever a broken picture makes the library raise
            raise ReferenceProblem(f"has a picture in its {what} that is neither PNG nor JPEG") from None
        if n_pixels > _MOST_PIXELS:
            raise ReferenceProblem(f"has a picture in its {what} of more than {_MOST_PIXELS:,} pixels")
        return suffix, data

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


def _refuse_active(root: Any, what: str) -> None:
    """Refuse what a head must not do: fetch, run or include anything."""
    simple = [node.get(f"{W}instr") or "" for node in root.iter(f"{W}fldSimple")]
    # the code of one field may be spread over many runs, so it is read as a whole
    runs, code = [], ""
    for node in root.iter(f"{W}fldChar", f"{W}instrText"):
        if node.tag == f"{W}instrText":
            code += node.text or ""
        elif node.get(f"{W}fldCharType") == "begin" or code:
            runs.append(code)
            code = ""
    for instruction in [*simple, *runs, code]:
        name = instruction.split()[0].upper() if instruction.split() else ""
        if name and name not in _FIELDS:
            raise ReferenceProblem(
                f"has a {what} with the field {name[:30]}, which is not one that shows pages, dates or titles"
            )
    for node in root.iter(etree.Element):
        if etree.QName(node).localname in _ACTIVE:
            raise ReferenceProblem(f"has a {what} with an embedded object in it")
        for key, value in node.attrib.items():
            if ("://" in value or value.startswith("\\\\")) and etree.QName(key).localname != "uri":
                raise ReferenceProblem(f"has a {what} that fetches something from outside")


def _paper(section: Any) -> tuple[tuple[dict[str, str], dict[str, str]], tuple[float, float]]:
    size, margins = section.find(f"{W}pgSz"), section.find(f"{W}pgMar")
    if size is None or margins is None:
        raise ReferenceProblem("holds no page set-up")
    try:
        width, height = (float(size.get(f"{W}{side}")) / 20 for side in "wh")
        top, right, bottom, left = (
            abs(float(margins.get(f"{W}{side}"))) / 20 for side in ("top", "right", "bottom", "left")
        )
    except (TypeError, ValueError):
        raise ReferenceProblem("has a page set-up without a size or margins") from None
    area = width - left - right, height - top - bottom
    if not all(side >= _LEAST_TEXT for side in area) or not max(width, height) <= 2000:  # so that "nan" is refused too
        raise ReferenceProblem("has a page set-up that leaves no usable room for text")
    return (
        {etree.QName(k).localname: v for k, v in size.attrib.items()},
        {etree.QName(k).localname: v for k, v in margins.attrib.items()},
    ), area


def _on(node: Any) -> bool:
    return node is not None and node.get(f"{W}val", "true") not in ("0", "false", "off")
