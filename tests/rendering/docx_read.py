"""A DOCX read back as plain XML: a part of it, its body, values of attributes and words."""

from __future__ import annotations

import io
import re
import xml.etree.ElementTree as ET
import zipfile

import docx

from docgen.rendering.docx.xml import NAMESPACES
from docgen.rendering.formats import to_docx
from docgen.rendering.tree import Node, parse

PREFIXES = dict(re.findall(r'xmlns:(\w+)="([^"]+)"', NAMESPACES))


def qualified(name):
    prefix, _, local = name.partition(":")
    return f"{{{PREFIXES[prefix]}}}{local}"


def opened(file):
    return docx.Document(io.BytesIO(file))


def part_of(file, name):
    return ET.fromstring(zipfile.ZipFile(io.BytesIO(file)).read(name))


def body_of(markdown, page, scenes=None, **options):
    document = markdown if isinstance(markdown, Node) else parse(markdown)
    file = to_docx.render(document, page, scenes or {}, **options)
    return part_of(file, "word/document.xml").find("w:body", PREFIXES)


def values_of(element, path, attribute="w:val"):
    return [found.get(qualified(attribute)) for found in element.iterfind(path, PREFIXES)]


def words_of(element):
    return "".join(text.text or "" for text in element.iter(qualified("w:t")))
