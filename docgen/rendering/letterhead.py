"""A clinic's letterhead, as the renderers need it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from docgen.rendering.contrast import Colour

if TYPE_CHECKING:
    from docgen.rendering.docx.reference import Reference

LOGO_HEIGHT, LOGO_WIDTH = 46.0, 170.0  # points, the most a logo may take


@dataclass(frozen=True, slots=True)
class Logo:
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


@dataclass(frozen=True, slots=True)
class Letterhead:
    """What stands above the first page of a document, and the DOCX that Word output is modelled on.

    name       of the clinic; empty when there is a reference alone
    contact    address and telephone in one line
    accent     colour of the name and of the rule below
    reference  styles, page set-up, head and foot for the DOCX
    """

    name: str = ""
    contact: str = ""
    accent: Colour = (0.0, 0.0, 0.0)
    logo: Logo | None = None
    reference: Reference | None = None
