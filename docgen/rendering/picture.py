"""Scenes as PNG pictures, painted by the same code as in the PDF, for formats that need pixels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from io import BytesIO
from typing import TYPE_CHECKING, Any, cast

from docgen.scene import Scene

if TYPE_CHECKING:
    from PIL.Image import Image

_N_SHADES = 64  # greys; enough to tell a ground of 0.97 from white, few enough to pack well
_POINTS_PER_INCH = 72
_PACKING = 2  # of zlib's nine levels: two fifths of the time of the usual 6 for a file a sixth larger
_MOST_KEPT = 128
_kept: dict[tuple[Scene, int], bytes] = {}  # the same drawing stands in several documents of a packet


def png(scene: Scene, dpi: int = 200) -> bytes:
    """One drawing, as of `pngs`."""
    return pngs((scene,), dpi)[scene]


def pngs(scenes: Iterable[Scene], dpi: int = 200) -> dict[Scene, bytes]:
    """Each drawing as a grey palette PNG on white, `dpi` pixels to the inch; several take half as long together.

    A character that the typeface lacks is drawn as its code point.
    """
    wanted = [*dict.fromkeys(scenes)]
    pictures = {scene: _kept.pop((scene, dpi)) for scene in wanted if (scene, dpi) in _kept}
    missing = [scene for scene in wanted if scene not in pictures]
    pictures |= zip(missing, _drawn(missing, dpi), strict=True)
    _kept.update({(scene, dpi): picture for scene, picture in pictures.items()})
    for oldest in [*_kept][:-_MOST_KEPT]:
        del _kept[oldest]
    return pictures


def forget_pictures() -> None:
    """Keep none of the drawings made so far."""
    _kept.clear()


def _drawn(scenes: list[Scene], dpi: int) -> Iterator[bytes]:
    if not scenes:
        return
    import pypdfium2

    document = pypdfium2.PdfDocument(_a_page_each(scenes))
    try:
        for page in document:
            yield _packed(page.render(scale=dpi / _POINTS_PER_INCH, grayscale=True).to_pil(), dpi)
    finally:
        document.close()


def _packed(grey: Image, dpi: int) -> bytes:
    step = 255 / (_N_SHADES - 1)
    picture = grey.point([round(value / step) for value in range(256)])
    picture.putpalette([round(at * step) for at in range(_N_SHADES) for _ in "rgb"])
    file = BytesIO()
    picture.save(file, "PNG", dpi=(dpi, dpi), compress_level=_PACKING)
    return file.getvalue()


def _a_page_each(scenes: Iterable[Scene]) -> bytes:
    """A PDF with a page for each drawing, as large as the drawing."""
    from reportlab.pdfgen.canvas import Canvas

    from docgen.rendering.fonts import FACES, register
    from docgen.rendering.pdf.drawing import paint
    from docgen.rendering.pdf.inside import without_ascii_armour

    register()
    file = BytesIO()
    face = cast(Any, FACES[False, False])  # its stubs ask for a number
    canvas = Canvas(file, pageCompression=0, invariant=1, initialFontName=face)
    for scene in scenes:
        canvas.setPageSize((scene.w, scene.h))
        paint(scene, canvas, 0, 0)
        canvas.showPage()
    with without_ascii_armour():
        canvas.save()
    return file.getvalue()
