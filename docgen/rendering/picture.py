"""A scene as a PNG picture, painted by the same code as in the PDF, for formats that need pixels."""

from __future__ import annotations

from functools import lru_cache
from io import BytesIO
from typing import Any, cast

from docgen.scene import Scene

_N_SHADES = 64  # greys; enough to tell a ground of 0.97 from white, few enough to pack well
_POINTS_PER_INCH = 72
_PACKING = 4  # of zlib's nine levels: two thirds of the time of the usual 6 for a file 3 % larger


@lru_cache(maxsize=64)  # the same drawing stands in several documents of a packet
def png(scene: Scene, dpi: int = 200) -> bytes:
    """The drawing as a grey palette PNG on white, `dpi` pixels to the inch.

    A character that the typeface lacks is drawn as its code point.
    """
    import pypdfium2
    from PIL import Image

    document = pypdfium2.PdfDocument(_one_page(scene))
    try:
        bitmap = document[0].render(scale=dpi / _POINTS_PER_INCH, grayscale=True)
        grey = bitmap.to_pil()
    finally:
        document.close()
    step = 255 / (_N_SHADES - 1)
    indices = grey.point([round(value / step) for value in range(256)])
    picture = Image.frombytes("P", grey.size, indices.tobytes())
    picture.putpalette([round(at * step) for at in range(_N_SHADES) for _ in "rgb"])
    file = BytesIO()
    picture.save(file, "PNG", dpi=(dpi, dpi), compress_level=_PACKING)
    return file.getvalue()


def _one_page(scene: Scene) -> bytes:
    """A PDF whose only page is the drawing."""
    from reportlab.pdfgen.canvas import Canvas

    from docgen.rendering.fonts import FACES, register
    from docgen.rendering.pdf.drawing import paint
    from docgen.rendering.pdf.inside import without_ascii_armour

    register()
    file = BytesIO()
    face = cast(Any, FACES[False, False])  # its stubs ask for a number
    canvas = Canvas(file, pagesize=(scene.w, scene.h), pageCompression=0, invariant=1, initialFontName=face)
    paint(scene, canvas, 0, 0)
    canvas.showPage()
    with without_ascii_armour():
        canvas.save()
    return file.getvalue()
