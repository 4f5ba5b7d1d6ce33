"""What a head or foot of a model, its styles and its theme may hold: words that are seen, pictures, fields of pages and
days.

What Word itself writes beside that without need (a fallback in the old drawing language, numbers of its editing
sessions, paths of files in the name of a picture) is taken out; all else is refused. Field codes are found by the name
of their element in whatever namespace, since programs read more than one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from lxml import etree

from docgen.rendering.contrast import WHITE, contrast_ratio, from_hex

_MAIN = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
W = f"{{{_MAIN}}}"
R = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
_DRAWING = "http://schemas.openxmlformats.org/drawingml/2006/"
_WORD = "http://schemas.microsoft.com/office/word/20"
_SPACES = (
    _MAIN,
    _DRAWING,
    "http://schemas.openxmlformats.org/markup-compatibility/2006",
    "http://schemas.microsoft.com/office/drawing/20",
    _WORD,
)
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
_ACTIVE = {"object", "control", "altChunk", "OLEObject", "subDoc", "movie", "script", "contentPart"}
_OLD_TEXT = {"del", "moveFrom", "delText", "delInstrText"}
_CODES = {"instrText", "delInstrText"}
_HIDING = {"vanish", "specVanish", "webHidden"}
_TO_ELSEWHERE = re.compile(r"\s*(?:[A-Za-z][A-Za-z0-9+.-]*:|\\\\|//|[A-Za-z]:[\\/]|\.\.?[\\/]|/)\S|.*://", re.S)
_PATH = re.compile(r"[\\/]|^\s*[A-Za-z][A-Za-z0-9+.-]*:\S")
_LABELS = {"name", "descr", "title"}
_LEAST_CONTRAST, _LEAST_HALF_POINTS = 1.2, 8


class Unfit(ValueError):
    """Why a part cannot be taken over, as the end of a sentence."""


def clear_margin(root: Any) -> None:
    """Take out of a head or foot what is not needed; raises Unfit for what it must not hold."""
    if etree.QName(root).namespace != _MAIN:
        raise Unfit("in a form that is not that of a DOCX")
    _take_out(root)
    for code in _field_codes(root):
        words = code.split()
        if words and words[0].upper() not in _FIELDS:
            raise Unfit(f"with the field {words[0].upper()[:30]}, which is not one that shows pages, dates or titles")
        if "\\p" in code.lower():
            raise Unfit("with a field that shows where a file lies")
    for node in root.iter(etree.Element):
        if etree.QName(node).localname in _ACTIVE:
            raise Unfit("with an embedded object in it")
    _refuse_references(root)
    for node in root.iter(etree.Element):
        if not (etree.QName(node).namespace or "").startswith(_SPACES):
            raise Unfit("with a drawing or other content in a form that cannot be checked")
    if _hides(root):
        raise Unfit("with hidden text in it")


def clear_part(root: Any) -> None:
    """Take what hides text out of styles or a theme; raises Unfit for what refers to something outside."""
    for node in [*root.iter(etree.Element)]:
        if node.tag in {f"{W}{name}" for name in (*_HIDING, "rsid")}:
            node.getparent().remove(node)
    _refuse_references(root)
    if any(key.startswith(R) for node in root.iter(etree.Element) for key in node.attrib):
        raise Unfit("that names other parts")


def refuse_uses(root: Any, pictures: Mapping[str, Any], links: Mapping[str, str]) -> None:
    """Raises Unfit where an outside address is used but to be clicked on, or a part that is none of these."""
    for node in root.iter(etree.Element):
        for key, value in node.attrib.items():
            if not key.startswith(R):
                continue
            clicked = etree.QName(node).localname in ("hyperlink", "hlinkClick", "hlinkHover")
            if value in links and not clicked:
                raise Unfit("that fetches something from outside")
            if value not in (links if clicked else pictures) and value:
                raise Unfit("that names a part it does not hold")


def _take_out(root: Any) -> None:
    for node in [*root.iter(etree.Element)]:
        name = etree.QName(node).localname
        if name in ("Fallback", "dataBinding") and node.getparent() is not None:
            node.getparent().remove(node)
            continue
        for key in [*node.attrib]:
            local = etree.QName(key).localname
            if local.startswith("rsid"):
                del node.attrib[key]
            elif local in _LABELS and name in ("docPr", "cNvPr") and _PATH.search(node.attrib[key]):
                node.attrib[key] = ""


def _field_codes(root: Any) -> Iterator[str]:
    """The code of each field; that of one may be spread over many runs, so it is read as a whole."""
    code = ""
    for node in root.iter(etree.Element):
        name = etree.QName(node).localname
        yield from (value for key, value in node.attrib.items() if etree.QName(key).localname == "instr")
        if name in _CODES:
            code += "".join(node.itertext())
        elif name == "fldChar" and (code or any(value == "begin" for value in node.attrib.values())):
            yield code
            code = ""
    yield code


def _refuse_references(root: Any) -> None:
    for node in root.iter(etree.Element):
        for key, value in node.attrib.items():
            local = etree.QName(key).localname
            if local == "macro" and value:
                raise Unfit("with an embedded object in it")
            if local in ("uri", "instr") or local in _LABELS and etree.QName(node).localname in ("docPr", "cNvPr"):
                continue
            if _TO_ELSEWHERE.match(value):
                raise Unfit("that fetches something from outside")


def _hides(root: Any) -> bool:
    """Whether words are there that nobody sees: switched off, struck by an editor, of no size, or white on white."""
    for node in root.iter(etree.Element):
        name, value = etree.QName(node).localname, node.get(f"{W}val") or ""
        if name in _OLD_TEXT or name in _HIDING and value not in ("0", "false", "off"):
            return True
        if name in ("docPr", "cNvPr") and node.get("hidden") in ("1", "true"):
            return True
        if name in ("sz", "szCs") and value.isdigit() and int(value) < _LEAST_HALF_POINTS:
            return True
        if name == "color" and _is_white(value) and not _is_on_colour(node):
            return True
    return False


def _is_white(value: str) -> bool:
    """Whether a colour as DOCX writes it cannot be told from paper."""
    known = re.fullmatch("[0-9A-Fa-f]{6}", value)
    return known is not None and contrast_ratio(from_hex(f"#{value}"), WHITE) < _LEAST_CONTRAST


def _is_on_colour(node: Any) -> bool:
    """Whether a run's property stands in a text box, or in a run, paragraph, cell or table that is filled."""
    for above in node.iterancestors():
        if etree.QName(above).localname == "drawing":
            return True
        fills = [
            shade.get(f"{W}fill", "auto") for shade in (*above.iterfind(f"{W}shd"), *above.iterfind(f"{W}*/{W}shd"))
        ]
        if any(fill != "auto" and not _is_white(fill) for fill in fills):
            return True
    return False
