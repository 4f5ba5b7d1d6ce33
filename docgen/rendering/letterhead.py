"""A clinic's letterhead, as the renderers need it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import asdict

from docgen.rendering.contrast import Colour

if TYPE_CHECKING:
    from docgen.rendering.docx.reference import Reference

LOGO_HEIGHT, LOGO_WIDTH = 46.0, 170.0  # points, the most a logo may take


class Logo(Struct, frozen=True):
    """A picture as PNG, its size in pixels, and what it shows in words."""

    png: bytes
    width_px: int
    height_px: int
    alt: str

    @property
    def size(self) -> tuple[float, float]:
        """Width and height in points on the page."""
        scale = min(LOGO_WIDTH / self.width_px, LOGO_HEIGHT / self.height_px)
        return self.width_px * scale, self.height_px * scale


class Letterhead(Struct, frozen=True):
    """What stands above the first page of a document, and the DOCX that Word output is modelled on.

    name       of the clinic; empty when there is a reference alone
    contact    address and telephone in one line
    accent     colour of the name and of the rule below
    reference  styles, page setup, head and foot for the DOCX
    """

    name: str = ""
    contact: str = ""
    accent: Colour = (0.0, 0.0, 0.0)
    logo: Logo | None = None
    reference: Reference | None = None

    @property
    def digest(self) -> str:
        """SHA-256 of all that it puts on a page."""
        return hashlib.sha256(json.dumps(_plain(self), sort_keys=True).encode()).hexdigest()


def _plain(value: object) -> object:
    """A value as JSON has it: bytes and XML as their digest."""
    if isinstance(value, Struct):
        return {name: _plain(part) for name, part in asdict(value).items()}
    if isinstance(value, Mapping):
        return {str(name): _plain(part) for name, part in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(part) for part in value]
    if value is None or isinstance(value, str | int | float):
        return value
    return hashlib.sha256(value if isinstance(value, bytes) else _canonical(value)).hexdigest()


def _canonical(element: Any) -> bytes:
    """XML as canonical XML has it, whatever program wrote it."""
    from lxml import etree

    return etree.tostring(element, method="c14n")
