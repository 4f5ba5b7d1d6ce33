"""A picture from anywhere -> its pixels alone, as PNG: no place, camera, author, profile or comment goes out with
it."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image


def plain_png(picture: Image, most_px: int) -> tuple[bytes, int, int]:
    """The picture upright and at most so many pixels wide and high, as PNG; its width and height in pixels."""
    from PIL import Image, ImageOps

    clear = "A" in picture.getbands() or "transparency" in picture.info
    turned = ImageOps.exif_transpose(picture).convert("RGBA" if clear else "RGB")
    turned.thumbnail((most_px, most_px))
    plain = Image.new(turned.mode, turned.size)  # so that nothing that came with the file is carried over
    plain.paste(turned)
    file = io.BytesIO()
    plain.save(file, "PNG", optimize=False)
    return file.getvalue(), plain.width, plain.height
