"""A document's own parts fitted to a reference: styles by their name, head and foot with our lines below."""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping
from typing import Any

from lxml import etree

from docgen.rendering.docx.cleared import W
from docgen.rendering.docx.reference import Kind, Reference
from docgen.rendering.docx.xml import NAMESPACES
from docgen.rendering.markup import escaped

_STYLE_USE = re.compile(r'(<w:(?:pStyle|rStyle|tblStyle) w:val=")([^"]+)(")')


def styles(reference: Reference, ours: str) -> tuple[bytes, dict[str, str]]:
    """The reference's styles with those of ours it lacks, and our style id -> the id to use instead.

    A style of the same kind and name is the reference's. A style of ours that is added gives up its
    typeface, so that the reference's rules; numbering of the reference's styles is not taken over.
    """
    root, names = copy.deepcopy(reference.styles), dict[str, str]()
    for number in list(root.iter(f"{W}numPr")):
        _take_out(number)
    reference_ids = {(s.get(f"{W}type"), _name(s).lower()): s.get(f"{W}styleId", "") for s in root.findall(f"{W}style")}
    taken = set(reference_ids.values())
    added = []
    for style in etree.fromstring(ours.encode()).findall(f"{W}style"):
        id, known = style.get(f"{W}styleId", ""), reference_ids.get((style.get(f"{W}type"), _name(style).lower()))
        if known:
            names[id] = known
        else:
            names[id] = f"docgen{id}" if id in taken else id
            added.append(style)
    for style in added:
        style.set(f"{W}styleId", names[style.get(f"{W}styleId", "")])
        if f"{W}default" in style.attrib:
            del style.attrib[f"{W}default"]
        for fonts in style.findall(f"{W}rPr/{W}rFonts"):
            _take_out(fonts)
        for link in style.iter(f"{W}basedOn", f"{W}next"):
            used = link.get(f"{W}val", "")
            link.set(f"{W}val", names.get(used, used))
        root.append(style)
    return _bytes(root), {ours: used for ours, used in names.items() if ours != used}


def _take_out(element: etree._Element) -> None:
    if (above := element.getparent()) is not None:
        above.remove(element)


def renamed(content: str, names: Mapping[str, str]) -> str:
    """XML of ours with the style ids the reference uses."""
    return _STYLE_USE.sub(lambda m: f"{m[1]}{escaped(names.get(m[2], m[2]))}{m[3]}", content)


def margin(
    reference: Reference, what: str, kind: Kind, lines: str
) -> tuple[bytes, dict[str, tuple[str, bytes]], dict[str, str]]:
    """A head or foot of the reference with our paragraphs below: its XML, its pictures and its links by relation id."""
    margins = reference.headers if what == "header" else reference.footers
    root = f"<w:{'hdr' if what == 'header' else 'ftr'} {NAMESPACES}>{lines}</w:{'hdr' if what == 'header' else 'ftr'}>"
    ours = etree.fromstring(root.encode())
    given = margins.get(kind)
    if given is None:
        return _bytes(ours), {}, {}
    whole = copy.deepcopy(given.xml)
    whole.extend(list(ours))
    return _bytes(whole), dict(given.pictures), dict(given.links)


def paper(reference: Reference) -> str:
    """w:pgSz and w:pgMar as the reference has them."""
    size, margins = (" ".join(f'w:{key}="{escaped(value)}"' for key, value in part.items()) for part in reference.paper)
    return f"<w:pgSz {size}/><w:pgMar {margins}/>"


def _name(style: Any) -> str:
    name = style.find(f"{W}name")
    return "" if name is None else name.get(f"{W}val", "")


def _bytes(root: Any) -> bytes:
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
