"""A photo as it came from a camera -> its pixels alone, as a smaller JPEG: no place, camera, day, comment or author."""

from __future__ import annotations

import io
import warnings

from msgspec import Struct

MOST_BYTES = 12_000_000  # of the file as it came
_MOST_PIXELS = 60_000_000
_WIDEST_PX, _QUALITY = 1000, 82  # 200 pixels to the inch at the width of a column and a half


class NoUsablePhoto(ValueError):
    """Why a file is no photo that can be printed, and what to do."""

    def __init__(self, what: str, do: str) -> None:
        super().__init__(what)
        self.what, self.do = what, do


class PlainPhoto(Struct, frozen=True):
    """A JPEG that holds pixels and nothing else, upright; width and height in pixels."""

    jpeg: bytes
    width_px: int
    height_px: int

    def __repr__(self) -> str:
        return f"PlainPhoto({self.width_px} x {self.height_px})"  # what it shows is in no message


def plain_photo(data: bytes) -> PlainPhoto:
    """The photo without its metadata. Raises NoUsablePhoto; its size is known from its head before a pixel is made."""
    from PIL import Image, ImageOps

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of the library, about sizes that are checked here
            with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as picture:
                if picture.width * picture.height > _MOST_PIXELS:
                    what = f"has {picture.width:,} by {picture.height:,} pixels, more than {_MOST_PIXELS:,} in all"
                    raise NoUsablePhoto(what, "Save a smaller one.")
                upright = ImageOps.exif_transpose(picture).convert("RGB")
    except NoUsablePhoto:
        raise
    except Image.DecompressionBombError:
        raise NoUsablePhoto(f"has far more than {_MOST_PIXELS:,} pixels", "Save a smaller one.") from None
    except Exception as failure:  # whatever a broken picture makes the library raise, it is this picture that is broken
        what = f"is not a whole PNG or JPEG picture ({type(failure).__name__})"
        raise NoUsablePhoto(what, "Save it again as JPEG.") from None
    upright.thumbnail((_WIDEST_PX, _WIDEST_PX))
    plain = Image.new("RGB", upright.size)  # so that nothing that came with the file is carried over
    plain.paste(upright)
    file = io.BytesIO()
    plain.save(file, "JPEG", quality=_QUALITY, optimize=False)
    return PlainPhoto(file.getvalue(), plain.width, plain.height)
