"""A photo is taken in by a file field: its pixels alone stand beside the case, nothing where its entry is refused."""

from __future__ import annotations

import io
import json

import pytest
from PIL import Image

from docgen.case.read import read_case

_SECRET = b"52.5200N 13.4050E"


def _photo():
    """A picture with a place, a camera and a comment in it."""
    picture, file = Image.new("RGB", (60, 40), "navy"), io.BytesIO()
    exif = picture.getexif()
    exif[0x010F], exif[0x9286] = "A maker", _SECRET
    exif.get_ifd(0x8825)[2] = (52.0, 31.0, 12.0)
    picture.save(file, "JPEG", exif=exif, comment=b"<script>alert(1)</script>")
    return file.getvalue()


_KEYS = {
    "key.instead_of": "stops",
    "key.alt": "The chair from behind",
    "key.agreed_by": "the client",
    "key.agreed_on": "2026-02-05",
}


def _send(visitor, at, data, name="../../Chair Behind.JPG", **keys):
    return visitor.send(f"{at}/living/add", {"key.file": (name, data)}, path='["photos"]', **keys)


def test_a_photo_is_kept_as_its_pixels_alone(visitor, at, case):
    assert _SECRET in _photo() and b"Exif" in _photo()
    answer = _send(visitor, at, _photo(), **_KEYS)
    assert answer.status == 303, answer.text
    photo = read_case(case).case.photos[0]
    assert (photo.file, photo.instead_of) == ("chair_behind.jpg", "stops")
    kept = (case / photo.file).read_bytes()
    assert not any(secret in kept for secret in (_SECRET, b"Exif", b"A maker", b"script"))
    assert Image.open(io.BytesIO(kept)).size == (60, 40)
    assert (case / photo.file).stat().st_mode & 0o077 == 0
    page = visitor.get(f"{at}/living").text
    assert 'enctype="multipart/form-data"' in page and 'type="file" accept="image/jpeg,image/png"' in page


def test_another_photo_takes_its_place_under_another_name(visitor, at, case):
    _send(visitor, at, _photo(), **_KEYS)
    path = json.dumps(["photos", 0, "file"])
    sent = {"value": ("chair behind.jpg", _photo())}
    answer = visitor.send(f"{at}/living/answer", sent, path=path, was="chair_behind.jpg")
    assert answer.status == 303, answer.text
    assert read_case(case).case.photos[0].file == "chair_behind_2.jpg"


@pytest.mark.parametrize(
    ("data", "keys", "says"),
    [
        (b"GIF89a", _KEYS, "is not a whole PNG or JPEG picture"),
        (b"<svg onload='alert(1)'/>", _KEYS, "is not a whole PNG or JPEG picture"),
        (_photo(), _KEYS | {"key.agreed_on": "soon"}, "is not one day"),
        (_photo(), {"key.instead_of": "stops"}, "alt"),
    ],
    ids=["gif", "svg", "no_day", "no_words"],
)
def test_what_is_refused_leaves_nothing_beside_the_case(data, keys, says, visitor, at, case):
    before = sorted(path.name for path in case.iterdir())
    answer = _send(visitor, at, data, **keys)
    assert answer.status == 422 and says in answer.text
    assert sorted(path.name for path in case.iterdir() if path.name != ".desk") == before
