"""The therapist's photos: in the papers for daily use alone, without what a camera writes into them."""

from __future__ import annotations

import base64
import io
import re
import shutil

import pytest
from gathered import of_each
from PIL import Image
from support import DEMO_FOLDERS

from docgen.case.photo_files import photos_named
from docgen.case.read import read_case
from docgen.errors import UserError
from docgen.packet.approval import parts
from docgen.packet.assess import assess
from docgen.packet.contents import case_contents
from docgen.packet.render import render
from docgen.packet.sent import to_send
from docgen.packet.teaching import teaching_copy
from docgen.packet.wording import wording
from docgen.photo import plain_photo

DEMO = next(folder for folder in DEMO_FOLDERS if folder.name == "pilar-nakashima-holt")
ENTRY = """
[photos.chair_behind]
file = "behind.jpg"
instead_of = "stops"
alt = "Her own chair from behind, the yellow knob at the right"
agreed_by = "her father"
agreed_on = 2026-06-20
arrows = [
    { x = 0.7, y = 0.2, says = "Yellow knob: press it" },
    { x = 0.3, y = 0.6, says = "The headrest itself", part = "headrest" },
]
"""
GPS, MAKE = 0x8825, 0x010F


def camera(color=(200, 40, 40), size=(1600, 1200), turned=1) -> bytes:
    """A JPEG as a camera writes it, with its place, its make, a comment and how it was held."""
    picture = Image.new("RGB", size, color)
    exif = Image.Exif()
    exif[MAKE], exif[0x0112] = "Example Camera", turned
    exif.get_ifd(GPS)[1] = "N"
    exif.get_ifd(GPS)[2] = (43.0, 39.0, 12.0)
    file = io.BytesIO()
    picture.save(file, "JPEG", exif=exif, comment=b"taken at home")
    return file.getvalue()


CAMERA = camera()


@pytest.fixture
def case(tmp_path):
    """Writes the demo with one photo; more keys or another file on demand."""

    def written(entry=ENTRY, photo=CAMERA):
        folder = tmp_path / DEMO.name
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(DEMO, folder)
        toml = folder / "case.toml"
        toml.write_text(toml.read_text(encoding="utf-8") + entry, encoding="utf-8")
        if photo is not None:
            (folder / "behind.jpg").write_bytes(photo)
        return folder

    return written


def pictures(html: bytes) -> list[bytes]:
    return [base64.b64decode(found) for found in re.findall(rb'href="data:image/jpeg;base64,([^"]+)"', html)]


def test_a_photo_stands_in_place_of_its_drawing_with_its_arrows_its_words_and_the_names_of_the_switches(case):
    html = render(assess(case()), ["html"], ["card"])["card.html"]
    (jpeg,) = pictures(html)
    shown = html.decode()
    assert Image.open(io.BytesIO(jpeg)).size == (1000, 750)
    assert "<title id=" in shown and "Her own chair from behind, the yellow knob at the right." in shown
    assert "Yellow knob: press it" in shown and "From behind</text>" not in shown
    # what each letter is still stands there: of A and B in their steps, of C and D below the photo
    assert "A: <strong>yellow knob on the push handle" in shown and "B: <strong>slide switch at the front" in shown
    assert ">C</text>" in shown and ">Brake release levers<" in shown
    assert ">D</text>" in shown and ">If both fail<" in shown
    assert ">a</text>" in shown and ">1</text>" in shown  # a part has the number that it has in the record
    assert "img-src data:" in shown


def test_it_stands_in_pdf_and_docx_too(case):
    import pypdfium2
    import pypdfium2.raw as pdfium

    files = render(assess(case()), ["pdf", "docx"], ["card"])
    with pypdfium2.PdfDocument(files["card.pdf"]) as pdf:
        kinds = [kind.type for page in pdf for kind in page.get_objects()]
    assert pdfium.FPDF_PAGEOBJ_IMAGE in kinds
    plain = render(assess(DEMO), ["docx"], ["card"])["card.docx"]
    assert files["card.docx"] != plain


def test_nothing_that_a_camera_wrote_goes_out_with_it(case):
    came = camera()
    assert b"Example Camera" in came and b"taken at home" in came and Image.open(io.BytesIO(came)).getexif()
    files = render(assess(case()), ["html", "pdf"], ["card"])
    (jpeg,) = pictures(files["card.html"])
    out = Image.open(io.BytesIO(jpeg))
    assert not out.getexif() and set(out.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert all(b"Example Camera" not in data and b"taken at home" not in data for data in files.values())


def test_a_photo_that_was_held_sideways_stands_upright():
    plain = plain_photo(camera(turned=6))
    assert (plain.width_px, plain.height_px) == (750, 1000)


def test_no_paper_that_is_sent_and_no_other_shows_it(case):
    files = render(assess(case()), ["html"])
    shown = {name for name, data in files.items() if pictures(data) or b"Her own chair from behind" in data}
    assert shown == {"card.html"}
    may = {name for name, document in wording().documents.items() if "photo" in document.may_see}
    assert may == {"card", "guide"} and not may & set(wording().sent)


def test_a_copy_about_nobody_has_none(case, tmp_path):
    assessed = assess(case())
    copy = teaching_copy(assessed, wording(), tmp_path / "out")
    assert copy.file.case.photos == ()
    files = render(copy, ["html"], ["card", "guide"])
    assert not any(pictures(data) or b"Her own chair" in data for data in files.values())


def test_another_picture_under_the_same_name_is_another_content(case):
    first, second = (
        (case_contents(folder).digest, parts(assess(folder), wording())["photo files"])
        for folder in (case(photo=photo) for photo in (camera(), camera((10, 90, 10))))
    )
    assert first[0] != second[0] and first[1] != second[1]
    assert "behind.jpg" in case_contents(case()).files


def test_a_case_with_photos_goes_to_no_cluster(case):
    with pytest.raises(UserError, match="photos, which are sent to no cluster"):
        to_send(case_contents(case()))


@of_each(
    "toml, names",
    [
        (b'[photos.a]\nfile = "a.jpg"\n', ("a.jpg",)),
        (b'[[photos]]\nid = "a"\nfile = "a.jpg"\n[[photos]]\nid = "b"\nfile = "../b.jpg"\n', ("a.jpg",)),
        (b"photos = 3\n", ()),
        (b"[photos\n", ()),
        (b"", ()),
    ],
)
def test_the_names_of_photos_are_found_without_reading_the_case(toml, names):
    assert photos_named(toml) == names


@pytest.mark.parametrize(
    "entry, photo, line, told",
    [
        (ENTRY, None, 'file = "behind.jpg"', "there is no photo 'behind.jpg' beside case.toml"),
        (
            ENTRY,
            b"GIF89a not a photo",
            'file = "behind.jpg"',
            "the photo 'behind.jpg' is not a whole PNG or JPEG picture",
        ),
        (ENTRY, camera()[:900], 'file = "behind.jpg"', "the photo 'behind.jpg' is not a whole PNG or JPEG picture"),
        (ENTRY, b"\0" * 12_000_001, 'file = "behind.jpg"', "is 12,000,001 bytes, more than the 12,000,000 allowed"),
        (ENTRY.replace("behind.jpg", "../behind.jpg"), camera(), "file = ", "leads out of the folder"),
        (ENTRY.replace('part = "headrest"', 'part = "pad"'), camera(), "part = ", "'pad'"),
        (ENTRY.replace('agreed_by = "her father"\n', ""), camera(), "[photos.chair_behind]", "agreed_by"),
        (ENTRY + ENTRY.replace("chair_behind", "other"), camera(), "", "both stand in place of stops"),
    ],
    ids=["missing", "no picture", "cut", "heavy", "outside", "no part", "no consent", "two"],
)
def test_a_photo_that_cannot_be_used_is_told_with_its_line(case, entry, photo, line, told):
    folder = case(entry, photo)
    with pytest.raises(UserError) as failure:
        read_case(folder)
    text = (folder / "case.toml").read_text(encoding="utf-8").splitlines()
    (problem,) = (each for each in failure.value.problems if told in each.what)
    file, _, number = problem.where.rpartition(":")
    assert file == str(folder / "case.toml") and line in text[int(number) - 1] and problem.do


def test_a_photo_of_far_too_many_pixels_is_refused_from_its_head():
    file = io.BytesIO()
    Image.new("1", (9000, 9000)).save(file, "PNG")
    with pytest.raises(ValueError, match="9,000 by 9,000 pixels, more than 60,000,000"):
        plain_photo(file.getvalue())
