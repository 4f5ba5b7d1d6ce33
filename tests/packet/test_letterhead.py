"""A clinic's letterhead on every format: name, address and logo."""

from __future__ import annotations

import base64
import io
import re
import zipfile

import docx
import pypdfium2
import pytest
from letterheads_made import BODY, model_docx, page_under, picture_file
from PIL import Image, PngImagePlugin
from support import DEMO_FOLDERS
from typer.testing import CliRunner

from docgen.cli import app
from docgen.packet.assess import assess
from docgen.packet.letterhead import read_letterhead
from docgen.packet.render import render
from docgen.rendering.formats import to_docx, to_html, to_pdf
from docgen.rendering.tree import parse

CASE = next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")


def test_name_and_address_stand_above_the_text_of_every_format(clinic):
    page = page_under(read_letterhead(clinic()))
    with pypdfium2.PdfDocument(to_pdf.render(parse(BODY), page, {})) as pdf:
        text = pdf[0].get_textpage().get_text_range()
    words = docx.Document(io.BytesIO(to_docx.render(parse(BODY), page, {})))
    html = to_html.render(parse(BODY), page, {}).decode()
    for shown in (
        text,
        "\n".join(p.text for p in words.paragraphs),
        re.sub(r"<style>.*?</style>", "", html, flags=re.S),
    ):
        place = [
            shown.index(part)
            for part in ("Shoal Street Seating Clinic", "12 Shoal Street, Harbour 00000, 555-0142", "First words.")
        ]
        assert place == sorted(place)


def test_the_logo_is_described_in_every_format(clinic):
    import pikepdf

    page = page_under(read_letterhead(clinic()))
    html = to_html.render(parse(BODY), page, {}).decode()
    assert 'alt="A wheel over waves"' in html and "img-src data:" in html
    body = zipfile.ZipFile(io.BytesIO(to_docx.render(parse(BODY), page, {}))).read("word/document.xml").decode()
    assert 'descr="A wheel over waves"' in body
    with pikepdf.open(io.BytesIO(to_pdf.render(parse(BODY), page, {}))) as pdf:
        alts = [str(o.Alt) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
    assert alts == ["A wheel over waves"]


def test_without_a_letterhead_nothing_is_different(clinic):
    page = page_under(None)
    assert "img-src" not in to_html.render(parse(BODY), page, {}).decode()
    assert docx.Document(io.BytesIO(to_docx.render(parse(BODY), page, {}))).paragraphs[0].text == "A letter"


@pytest.mark.parametrize(
    "logo",
    [
        picture_file(),
        picture_file("JPEG"),
        picture_file(mode="RGBA"),
        picture_file("JPEG", mode="CMYK"),
        picture_file(mode="P"),
        picture_file(mode="1"),
        picture_file(size=(3000, 400)),
    ],
    ids=["rgb", "jpeg", "alpha", "cmyk", "palette", "bits", "wide"],
)
def test_pictures_of_each_kind_become_a_plain_png_that_fits(logo, clinic):
    made = read_letterhead(clinic(logo=logo)).logo
    with Image.open(io.BytesIO(made.png)) as picture:
        assert picture.format == "PNG" and picture.size == (made.width_px, made.height_px) and max(picture.size) <= 1200
        assert picture.mode in ("RGB", "RGBA")
    assert made.size[0] <= 170.0001 and made.size[1] <= 46.0001
    for module in (to_pdf, to_html, to_docx):
        page = page_under(read_letterhead(clinic(logo=logo)))
        assert module.render(parse(BODY), page, {}) == module.render(parse(BODY), page, {})


def test_nothing_that_came_with_the_picture_goes_out_with_the_packet(clinic):
    info = PngImagePlugin.PngInfo()
    info.add_text("Author", "someone at home")
    file = io.BytesIO()
    Image.new("RGB", (60, 20)).save(file, "PNG", pnginfo=info)
    assert b"someone at home" in file.getvalue()
    html = to_html.render(parse(BODY), page_under(read_letterhead(clinic(logo=file.getvalue()))), {}).decode()
    assert b"someone at home" not in base64.b64decode(re.search(r"base64,([^\"]+)", html)[1])


def test_build_takes_a_letterhead(clinic, tmp_path):
    done = CliRunner().invoke(
        app,
        [
            "build",
            str(CASE),
            "--letterhead",
            str(clinic()),
            "--out",
            str(tmp_path / "out"),
            "--formats",
            "html",
            "--only",
            "letter",
        ],
    )
    assert done.exit_code == 0
    assert "Shoal Street Seating Clinic</p>" in (tmp_path / "out" / CASE.name / "letter.html").read_text(
        encoding="utf-8"
    )


def test_a_letter_of_a_demo_case_still_agrees_with_its_letterhead(clinic):
    files = render(assess(CASE), ["docx"], ["letter"], letterhead=read_letterhead(clinic(reference=model_docx())))
    words = docx.Document(io.BytesIO(files["letter.docx"]))
    assert words.sections[0].header.paragraphs[0].text == "Shoal Street Seating Clinic"
