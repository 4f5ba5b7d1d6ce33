"""Parts of a package and what leads from one to another (Open Packaging Conventions, ECMA-376 part 2): the words of its
lists of content types, of relations and of core properties."""

from __future__ import annotations

import posixpath
from collections.abc import Iterable, Iterator, Mapping
from datetime import date

from msgspec import Struct

from docgen.rendering.markup import escaped

_SCHEMAS = "http://schemas.openxmlformats.org"
_OFFICE, _PACKAGE = f"{_SCHEMAS}/officeDocument/2006/relationships", f"{_SCHEMAS}/package/2006"
_KIND = "application/vnd.openxmlformats"
_HEAD = "<?xml version='1.0' encoding='UTF-8' standalone='yes'?>\n"
CORE = "docProps/core.xml"
KIND_OF_CORE = f"{_KIND}-package.core-properties+xml"
CORE_RELATION = f"{_PACKAGE}/relationships/metadata/core-properties"
_KIND_OF_RELATIONS = f"{_KIND}-package.relationships+xml"
THEME_KIND = f"{_KIND}-officedocument.theme+xml"
_PROPERTY_LIMIT = 255  # characters a core property may have


def word_kind(what: str) -> str:
    """Content type of a part of a text document: document.main, styles, header and others."""
    return f"{_KIND}-officedocument.wordprocessingml.{what}+xml"


def office_relation(what: str) -> str:
    """Relation to such a part: officeDocument, styles, image, hyperlink and others."""
    return f"{_OFFICE}/{what}"


class _Relation(Struct, frozen=True):
    """Where a part leads: a part of the package, or an address outside."""

    kind: str
    target: Part | str


class Part:
    """A part by its name in the package without a slash before it; the package itself is the part without a name."""

    def __init__(self, name: str = "", kind: str = "", blob: bytes = b"") -> None:
        self.name, self.kind, self.blob = name, kind, blob
        self._relations: dict[str, _Relation] = {}

    @property
    def n_relations(self) -> int:
        """How many parts and addresses it leads to."""
        return len(self._relations)

    def relate(self, target: Part | str, kind: str) -> str:
        """Id of the relation to a part or an address, the same whenever it is asked for."""
        for id, relation in self._relations.items():
            if relation.kind == kind and relation.target == target:
                return id
        return self.relate_as(f"rId{len(self._relations) + 1}", target, kind)

    def relate_as(self, id: str, target: Part | str, kind: str) -> str:
        """A relation under an id that words of the part use already."""
        self._relations[id] = _Relation(kind, target)
        return id

    def below(self) -> Iterator[Part]:
        """Every part that it leads to, however far, each after the one that leads there. None leads to two."""
        for relation in self._relations.values():
            if isinstance(relation.target, Part):
                yield relation.target
                yield from relation.target.below()

    @property
    def relations_name(self) -> str:
        """Name of the list of its relations."""
        folder, file = posixpath.split(self.name)
        return posixpath.join(folder, "_rels", f"{file}.rels")

    def relations_xml(self) -> bytes:
        """The list of its relations."""
        entries = "".join(self._relation_xml(id, relation) for id, relation in self._relations.items())
        return f'{_HEAD}<Relationships xmlns="{_PACKAGE}/relationships">{entries}</Relationships>'.encode()

    def _relation_xml(self, id: str, relation: _Relation) -> str:
        target, mode = relation.target, ' TargetMode="External"'
        if isinstance(target, Part):
            target, mode = posixpath.relpath(target.name, posixpath.dirname(self.name) or "."), ""
        return f'<Relationship Id="{escaped(id)}" Type="{relation.kind}" Target="{escaped(target)}"{mode}/>'


def content_types_xml(suffixes: Mapping[str, str], parts: Iterable[Part]) -> bytes:
    """The list of content types: of the names that end in a suffix, and of each part by itself."""
    defaults = {**suffixes, "rels": _KIND_OF_RELATIONS, "xml": "application/xml"}
    entries = [f'<Default Extension="{suffix}" ContentType="{kind}"/>' for suffix, kind in defaults.items()]
    entries += [f'<Override PartName="/{part.name}" ContentType="{part.kind}"/>' for part in parts]
    return f'{_HEAD}<Types xmlns="{_PACKAGE}/content-types">{"".join(entries)}</Types>'.encode()


def core_xml(title: str, author: str, lang: str, on: date) -> bytes:
    """The core properties: all of them as given, none from the clock or the machine."""
    title, author = escaped(title[:_PROPERTY_LIMIT]), escaped(author[:_PROPERTY_LIMIT])
    day = f'xsi:type="dcterms:W3CDTF">{on:%Y-%m-%d}T00:00:00Z'
    return (
        f'{_HEAD}<cp:coreProperties xmlns:cp="{_PACKAGE}/metadata/core-properties" '
        'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" '
        'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">'
        f"<dc:title>{title}</dc:title><cp:lastModifiedBy>{author}</cp:lastModifiedBy><cp:revision>1</cp:revision>"
        f"<dcterms:modified {day}</dcterms:modified><dc:language>{escaped(lang)}</dc:language>"
        f"<dc:creator>{author}</dc:creator><dcterms:created {day}</dcterms:created></cp:coreProperties>"
    ).encode()
