"""A clinic's letterhead on every format, and every way in which its files can be wrong or hostile."""

from __future__ import annotations

import base64
import io
import re
import struct
import zipfile
import zlib
from datetime import date

import docx
import pypdfium2
import pytest
from docx.shared import Mm
from PIL import Image, PngImagePlugin
from support import DEMO_FOLDERS
from typer.testing import CliRunner

from docgen.cli import app
from docgen.errors import UserError
from docgen.packet.assess import assess
from docgen.packet.letterhead import read_letterhead
from docgen.packet.render import render
from docgen.rendering.formats import to_docx, to_html, to_pdf
from docgen.rendering.page import Page
from docgen.rendering.tree import parse

CASE = next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")
TOML = """\
name = "Shoal Street Seating Clinic"
address = ["12 Shoal Street", "Harbour 00000"]
phone = "555-0142"
accent = "#1f4e79"
logo = "logo.png"
logo_alt = "A wheel over waves"
"""
BODY = (
    "# A letter\n\nFirst words.\n\n## Part\n\n- one\n- two\n\n1. first\n\n![Name](sign:)\n\n| A | B "
    "|\n|:--|--:|\n| x | 1 |\n"
)


def _picture(kind="PNG", size=(60, 20), mode="RGB", **options):
    file = io.BytesIO()
    Image.new(mode, size, {"RGBA": (31, 78, 121, 128), "RGB": (31, 78, 121), "CMYK": (9, 9, 9, 9)}.get(mode, 1)).save(
        file, kind, **options
    )
    return file.getvalue()


def _png_head(width, height):
    """A PNG that claims a size and holds next to nothing."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    chunks = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0" * 1000)), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(d)) + n + d + struct.pack(">I", zlib.crc32(n + d)) for n, d in chunks
    )


@pytest.fixture
def clinic(tmp_path):
    """A folder with a letterhead."""

    def make(toml=TOML, logo=None, reference=None):
        target = tmp_path / "clinic"
        target.mkdir(exist_ok=True)
        for name, data in (
            ("letterhead.toml", toml and toml.encode()),
            ("logo.png", logo or _picture()),
            ("letterhead.docx", reference),
        ):
            if data is not None:
                (target / name).write_bytes(data)
        return target

    return make


def _page(letterhead, **more):
    return Page(
        "A letter", "Robin Example, letter", date(2026, 11, 25), "Draft: for review", letterhead=letterhead, **more
    )


def _template(change=None):
    """A DOCX of a clinic, as bytes."""
    document = docx.Document()
    section = document.sections[0]
    section.page_width, section.left_margin, section.right_margin = Mm(210), Mm(35), Mm(30)
    document.styles["Normal"].font.name = "Georgia"
    document.styles["Heading 1"].font.name = "Georgia"
    section.header.paragraphs[0].text = "Shoal Street Seating Clinic"
    section.footer.paragraphs[0].text = "Harbour 00000"
    document.add_paragraph("The body of the model is ignored.")
    if change:
        change(document, section)
    file = io.BytesIO()
    document.save(file)
    return file.getvalue()


# what it looks like


def test_name_and_address_stand_above_the_text_of_every_format(clinic):
    page = _page(read_letterhead(clinic()))
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

    page = _page(read_letterhead(clinic()))
    html = to_html.render(parse(BODY), page, {}).decode()
    assert 'alt="A wheel over waves"' in html and "img-src data:" in html
    body = zipfile.ZipFile(io.BytesIO(to_docx.render(parse(BODY), page, {}))).read("word/document.xml").decode()
    assert 'descr="A wheel over waves"' in body
    with pikepdf.open(io.BytesIO(to_pdf.render(parse(BODY), page, {}))) as pdf:
        alts = [str(o.Alt) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/S") == "/Figure"]
    assert alts == ["A wheel over waves"]


def test_without_a_letterhead_nothing_is_different(clinic):
    page = _page(None)
    assert "img-src" not in to_html.render(parse(BODY), page, {}).decode()
    assert docx.Document(io.BytesIO(to_docx.render(parse(BODY), page, {}))).paragraphs[0].text == "A letter"


@pytest.mark.parametrize(
    "logo",
    [
        _picture(),
        _picture("JPEG"),
        _picture(mode="RGBA"),
        _picture("JPEG", mode="CMYK"),
        _picture(mode="P"),
        _picture(mode="1"),
        _picture(size=(3000, 400)),
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
        page = _page(read_letterhead(clinic(logo=logo)))
        assert module.render(parse(BODY), page, {}) == module.render(parse(BODY), page, {})


def test_nothing_that_came_with_the_picture_goes_out_with_the_packet(clinic):
    info = PngImagePlugin.PngInfo()
    info.add_text("Author", "someone at home")
    file = io.BytesIO()
    Image.new("RGB", (60, 20)).save(file, "PNG", pnginfo=info)
    assert b"someone at home" in file.getvalue()
    html = to_html.render(parse(BODY), _page(read_letterhead(clinic(logo=file.getvalue()))), {}).decode()
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
    files = render(assess(CASE), ["docx"], ["letter"], letterhead=read_letterhead(clinic(reference=_template())))
    words = docx.Document(io.BytesIO(files["letter.docx"]))
    assert words.sections[0].header.paragraphs[0].text == "Shoal Street Seating Clinic"


# a DOCX as a model


def _modelled(clinic, change=None, toml=None):
    letterhead = read_letterhead(clinic(toml=toml, reference=_template(change)))
    return docx.Document(io.BytesIO(to_docx.render(parse(BODY), _page(letterhead), {})))


def test_styles_page_head_and_foot_come_from_the_model_and_its_body_does_not(clinic):
    made = _modelled(clinic)
    section = made.sections[0]
    assert (section.page_width, section.left_margin, section.right_margin) == tuple(
        getattr(docx.Document(io.BytesIO(_template())).sections[0], name)
        for name in ("page_width", "left_margin", "right_margin")
    )
    assert made.styles["Normal"].font.name == made.styles["Heading 1"].font.name == "Georgia"
    assert [p.text for p in section.header.paragraphs] == [
        "Shoal Street Seating Clinic",
        "Robin Example, letter, November 25, 2026",
        "Draft: for review",
    ]
    assert [p.text for p in section.footer.paragraphs] == ["Harbour 00000", "Page 1 of 1"]
    text = [p.text for p in made.paragraphs]
    assert "The body of the model is ignored." not in text and text[0] == "A letter" and "First words." in text
    assert next(p for p in made.paragraphs if p.text == "A letter").style.name.lower() == "heading 1"


def test_every_style_that_is_used_is_there_and_brings_no_typeface_of_its_own(clinic):
    file = to_docx.render(parse(BODY), _page(read_letterhead(clinic(reference=_template()))), {})
    archive = zipfile.ZipFile(io.BytesIO(file))
    styles = archive.read("word/styles.xml").decode()
    defined = set(re.findall(r'w:styleId="([^"]+)"', styles))
    for name in archive.namelist():
        if name.startswith("word/") and name.endswith(".xml"):
            assert (
                set(re.findall(r'<w:(?:pStyle|rStyle|tblStyle) w:val="([^"]+)"', archive.read(name).decode()))
                <= defined
            )
    ours = re.search(r'<w:style [^>]*w:styleId="TableText".*?</w:style>', styles, re.S)[0]
    assert "rFonts" not in ours and "w:numPr" not in styles


def test_a_model_that_tells_the_first_page_apart_still_shows_the_draft_mark_on_it(clinic):
    def first(document, section):
        section.different_first_page_header_footer = True

    made = _modelled(clinic, first)
    section = made.sections[0]
    assert section.different_first_page_header_footer
    for header in (section.header, section.first_page_header):
        assert header.paragraphs[-1].text == "Draft: for review"


def test_even_pages_of_a_model_show_the_draft_mark_too(clinic):
    made = _modelled(clinic, lambda d, s: setattr(d.settings, "odd_and_even_pages_header_footer", True))
    assert made.settings.odd_and_even_pages_header_footer
    assert made.sections[0].even_page_header.paragraphs[-1].text == "Draft: for review"


def test_a_picture_in_the_models_head_comes_along(clinic):
    made = _modelled(clinic, lambda d, s: s.header.paragraphs[0].add_run().add_picture(io.BytesIO(_picture())))
    (image,) = [r for r in made.sections[0].header.part.rels.values() if r.reltype.endswith("/image")]
    with Image.open(io.BytesIO(image.target_part.blob)) as picture:
        assert picture.size == (60, 20)


def test_a_picture_in_the_models_head_may_not_be_larger_than_a_logo(clinic):
    whole = _template(lambda d, s: s.header.paragraphs[0].add_run().add_picture(io.BytesIO(_picture())))
    (name,) = [name for name in zipfile.ZipFile(io.BytesIO(whole)).namelist() if name.startswith("word/media/")]
    for picture, told in (
        (_png_head(4001, 4000), "of more than 16,000,000 pixels"),
        (b"GIF89a", "neither PNG nor JPEG"),
    ):
        with pytest.raises(UserError, match=told):
            read_letterhead(clinic(reference=_rezipped(whole, {name: picture})))


def test_page_numbers_of_the_model_are_not_doubled(clinic):
    def numbered(document, section):
        from docx.oxml import parse_xml

        w = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'
        section.footer.paragraphs[0]._p.append(
            parse_xml(f'<w:fldSimple {w} w:instr=" PAGE "><w:r><w:t>1</w:t></w:r></w:fldSimple>')
        )

    assert len(_modelled(clinic, numbered).sections[0].footer.paragraphs) == 1


def test_a_modelled_docx_is_still_sealed_and_the_same_twice(clinic):
    from docgen.rendering.docx.seal import unedited

    page = _page(read_letterhead(clinic(reference=_template())))
    file = to_docx.render(parse(BODY), page, {})
    assert unedited(file) and file == to_docx.render(parse(BODY), page, {})


# what can be wrong


@pytest.mark.parametrize(
    "change, told",
    [
        (("accent = ", "acent = "), ":4: unknown key 'acent'. Did you mean 'accent'?"),
        (
            ("#1f4e79", "#777777"),
            ":4: accent #777777 has a contrast of 4.48 to 1 on white, less than the 4.5 to 1 that text needs.",
        ),
        (("#1f4e79", "blue"), ":4: accent 'blue' is not a color of the form #1f4e79."),
        (('"#1f4e79"', "7"), ":4: accent is not text in quotes."),
        (('name = "Shoal Street Seating Clinic"\n', ""), ":1: name is missing."),
        (('logo_alt = "A wheel over waves"\n', ""), ":5: logo_alt is missing."),
        (("logo.png", "lgoo.png"), ":5: there is no logo 'lgoo.png'."),
        (("logo.png", "aux.png"), ":5: the logo cannot be used: 'aux.png' is the name of a device on Windows."),
        (("logo.png", "my:logo.png"), ":5: the logo cannot be used: 'my:logo.png' holds a character that no name has"),
        (("logo.png", "../clinic/logo.png"), ":5: '../clinic/logo.png' leads out of the folder."),
        (("logo.png", "/etc/hostname"), ":5: '/etc/hostname' leads out of the folder."),
        (('"12 Shoal Street"', "12"), ":2: address is not a list of at most 6 lines of text."),
        (('["12 Shoal Street", "Harbour 00000"]', '"12 Shoal Street"'), ":2: address is not a list of lines."),
        (("Shoal Street Seating", "\u738b Seating"), ":1: name holds '\u738b' U+738B"),
        (("555-0142", "555\\u202e0142"), ":3: phone holds the character U+202E"),
        (("555-0142", " "), ":3: phone is empty"),
        (("12 Shoal Street", "x" * 200), ":2: address is more than one line of 120 characters"),
        (('"555-0142"', '"555'), ":3: is not valid TOML"),
    ],
)
def test_a_mistake_in_the_file_is_one_sentence_with_its_line(change, told, clinic, tmp_path):
    assert change[0] in TOML
    folder = clinic(TOML.replace(*change))
    done = CliRunner().invoke(app, ["build", str(CASE), "--letterhead", str(folder), "--out", str(tmp_path / "out")])
    assert (done.exit_code, done.stdout, done.stderr.count("\n")) == (2, "", 1)
    assert done.stderr.startswith(f"{folder / 'letterhead.toml'}{told}") and not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    "logo, told",
    [
        (_png_head(50_000, 50_000), "the logo is of far more than the 16,000,000 pixels allowed"),
        (_png_head(4001, 4000), "the logo is 4,001 by 4,000 pixels, more than the 16,000,000 allowed in all"),
        (_picture()[:60], "is not a whole PNG or JPEG picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is not a whole PNG or JPEG picture"),
        (_picture("GIF"), "is not a whole PNG or JPEG picture"),
        (b"", "is not a whole PNG or JPEG picture"),
        (_png_head(0, 10), "is not a whole PNG or JPEG picture"),
        (b"\x89PNG" * 2_000_000, "bytes, more than the 5,000,000 allowed"),
    ],
    ids=["bomb", "a little too large", "cut", "svg", "gif", "empty", "no width", "heavy"],
)
def test_a_broken_or_hostile_logo_is_refused(logo, told, clinic):
    folder = clinic()
    (folder / "logo.png").write_bytes(logo)
    with pytest.raises(UserError) as failure:
        read_letterhead(folder)
    (problem,) = failure.value.problems
    assert problem.where == f"{folder / 'letterhead.toml'}:5" and told in problem.what


def test_a_folder_without_a_letterhead_is_refused(tmp_path):
    with pytest.raises(UserError, match="holds neither letterhead.toml nor letterhead.docx"):
        read_letterhead(tmp_path)


def _rezipped(file, changes):
    """The DOCX with the text of some parts changed, or parts added."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(file)) as archive, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        names = archive.namelist()
        for name in names:
            data = archive.read(name)
            if name in changes:
                changed = changes[name](data.decode()).encode() if callable(changes[name]) else changes[name]
                assert changed != data
                data = changed
            made.writestr(name, data)
        for name in changes:
            if name not in names:
                made.writestr(name, changes[name])
    return out.getvalue()


_RELS = "word/_rels/header1.xml.rels"


def _header(text):
    return {"word/header1.xml": lambda s: s.replace("</w:p>", f"{text}</w:p>", 1)}


def _relation(kind, target, mode="External"):
    return {
        _RELS: (
            "<Relationships "
            'xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
            f'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/{kind}" '
            f'Target="{target}" TargetMode="{mode}"/>'
            "</Relationships>"
        ).encode()
    }


_HOSTILE = {
    "no zip": (b"not a zip at all", "is not a whole DOCX file"),
    "cut": (lambda f: f[: len(f) // 2], "is not a whole DOCX file"),
    "another zip": (lambda f: _zip({"a": b"b"}), "lacks a part that a DOCX must hold"),
    "bomb": (lambda f: _zip({"word/document.xml": b"\0" * 50_000_000}), "unpacks to more than"),
    "many parts": (lambda f: _zip({f"p{at}": b"" for at in range(3000)}), "unpacks to more than"),
    "entities": (
        {
            "word/styles.xml": b'<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><w:styles xmlns:w='
            b'"http://schemas.openxmlformats.org/wordprocessingml/2006/main">&b;</w:styles>'
        },
        "holds something else where its styles should be",
    ),
    "an outside file": (
        {
            "word/styles.xml": b'<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>'
            b'<w:styles xmlns:w="x">&a;</w:styles>'
        },
        "holds something else where its styles should be",
    ),
    "broken xml": ({"word/styles.xml": b"<w:styles"}, "a part (styles) that is not well-formed XML"),
    "other xml": ({"word/styles.xml": b"<html/>"}, "holds something else where its styles should be"),
    "a picture from outside": (
        _relation("image", "http://elsewhere.example/pixel.png"),
        "something from outside or active in it (image)",
    ),
    "a template from outside": (
        _relation("attachedTemplate", "http://elsewhere.example/x.dotm"),
        "outside or active in it (attachedTemplate)",
    ),
    "a link that runs": (_relation("hyperlink", "javascript:alert(1)"), "outside or active in it (hyperlink)"),
    "an object": (_relation("oleObject", "embeddings/x.bin", "Internal"), "outside or active in it (oleObject)"),
    "a chunk": (_header("<w:altChunk/>"), "with an embedded object in it"),
    "a field that includes": (
        _header('<w:fldSimple w:instr=" INCLUDETEXT &quot;c:/x&quot; "/>'),
        "with the field INCLUDETEXT",
    ),
    "a field that runs": (
        _header(
            '<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText> DD</w:instrText></w:r><w:r>'
            "<w:instrText>EAUTO c:\\\\x </w:instrText></w:r>"
        ),
        "with the field DDEAUTO",
    ),
    "a field in a field": (
        _header(
            '<w:r><w:fldChar w:fldCharType="begin"/><w:instrText> PAGE </w:instrText><w:fldChar w:fldCharType="begin"/>'
            "<w:instrText> QUOTE x </w:instrText></w:r>"
        ),
        "with the field QUOTE",
    ),
    "a picture by address": (
        _header(
            '<w:r><w:pict><v:shape xmlns:v="urn:schemas-microsoft-com:vml"><v:imagedata '
            'src="http://elsewhere.example/a"/>'
            "</v:shape></w:pict></w:r>"
        ),
        "fetches something from outside",
    ),
    "a picture by the address of a link": (
        {
            **_relation("hyperlink", "https://elsewhere.example/a.png"),
            **_header(
                '<w:r><w:drawing><a:blip xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" r:link="rId1" '
                'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"/></w:drawing></w:r>'
            ),
        },
        "fetches something from outside",
    ),
    "a picture by the path of a file": (
        _header('<w:r><w:t w:src="file:c.png">x</w:t></w:r>'),
        "fetches something from",
    ),
    "a drawing in the old form": (
        _header('<w:r><w:pict><v:rect xmlns:v="urn:schemas-microsoft-com:vml"/></w:pict></w:r>'),
        "in a form that cannot be checked",
    ),
    "a field in another namespace": (
        _header('<s:fldSimple xmlns:s="http://purl.oclc.org/ooxml/wordprocessingml/main" s:instr="LINK x"/>'),
        "with the field LINK",
    ),
    "a field that was deleted": (_header("<w:r><w:delInstrText>DDE x</w:delInstrText></w:r>"), "with the field DDE"),
    "a field that shows a path": (_header('<w:fldSimple w:instr="FILENAME \\p"/>'), "shows where a file lies"),
    "hidden text": (_header("<w:r><w:rPr><w:vanish/></w:rPr><w:t>x</w:t></w:r>"), "with hidden text in it"),
    "text of no size": (_header('<w:r><w:rPr><w:sz w:val="2"/></w:rPr><w:t>x</w:t></w:r>'), "with hidden text in it"),
    "white text": (
        _header('<w:r><w:rPr><w:color w:val="FEFEFE"/></w:rPr><w:t>x</w:t></w:r>'),
        "with hidden text in it",
    ),
    "deleted text": (_header("<w:del><w:r><w:delText>x</w:delText></w:r></w:del>"), "with hidden text in it"),
    "a style from outside": (
        {"word/styles.xml": lambda s: s.replace("</w:styles>", '<w:style w:x="http://elsewhere.example"/></w:styles>')},
        "fetches something from outside",
    ),
    "a part that is not there": (
        _header(
            '<w:r><w:t r:id="rId77" '
            'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"/></w:r>'
        ),
        "names a part it does not hold",
    ),
    "no page": ({"word/document.xml": lambda s: re.sub(r"<w:pgSz[^>]*/>", "", s)}, "holds no page setup"),
    "no room": (
        {"word/document.xml": lambda s: re.sub(r'w:left="\d+"', 'w:left="11000"', s)},
        "leaves no usable room for text",
    ),
    "no number": (
        {"word/document.xml": lambda s: re.sub(r'w:left="\d+"', 'w:left="wide"', s)},
        "without a size or margins",
    ),
}


def _zip(entries):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return file.getvalue()


@pytest.mark.parametrize("name", _HOSTILE)
def test_a_broken_or_hostile_docx_is_one_sentence_with_its_place(name, clinic, tmp_path):
    change, told = _HOSTILE[name]
    whole = _template()
    file = change if isinstance(change, bytes) else change(whole) if callable(change) else _rezipped(whole, change)
    folder = clinic(reference=file)
    done = CliRunner().invoke(app, ["build", str(CASE), "--letterhead", str(folder), "--out", str(tmp_path / "out")])
    assert (done.exit_code, done.stdout, done.stderr.count("\n")) == (2, "", 1), done.stderr
    assert (
        done.stderr.startswith(f"{folder / 'letterhead.docx'}: ")
        and told in done.stderr
        and not (tmp_path / "out").exists()
    )


def test_macros_and_settings_of_the_model_do_not_come_along(clinic):
    file = _rezipped(_template(), {"word/vbaProject.bin": b"macro"})
    made = to_docx.render(parse(BODY), _page(read_letterhead(clinic(reference=file))), {})
    names = zipfile.ZipFile(io.BytesIO(made)).namelist()
    assert (
        "word/vbaProject.bin" not in names
        and "attachedTemplate" not in zipfile.ZipFile(io.BytesIO(made)).read("word/settings.xml").decode()
    )


def test_what_word_adds_without_need_is_taken_out_of_a_model(clinic):
    alternate = (
        '<mc:AlternateContent xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"><mc:Fallback><w:r>'
        "<w:t>tantamount</w:t></w:r></mc:Fallback></mc:AlternateContent>"
    )
    name = (
        '<w:r w:rsidR="00A1"><w:drawing><wp:docPr xmlns:wp="http://schemas.openxmlformats.org/drawingml/2006/'
        'wordprocessingDrawing" id="1" name="C:\\Users\\tantamount.png" descr="a wheel"/></w:drawing></w:r>'
    )
    hiding = '<w:style w:type="paragraph" w:styleId="x"><w:name w:val="x"/><w:rPr><w:vanish/></w:rPr></w:style>'
    changes = {
        **_header(alternate + name),
        "word/styles.xml": lambda s: s.replace("</w:styles>", f"{hiding}</w:styles>"),
    }
    file = to_docx.render(parse(BODY), _page(read_letterhead(clinic(None, None, _rezipped(_template(), changes)))), {})
    with zipfile.ZipFile(io.BytesIO(file)) as archive:
        parts = {name: archive.read(name).decode() for name in archive.namelist() if name.endswith(".xml")}
    assert not [part for part, text in parts.items() if "tantamount" in text or "vanish" in text or "rsid" in text]
    assert 'descr="a wheel"' in parts["word/header1.xml"] and 'w:styleId="x"' in parts["word/styles.xml"]


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_of_pictures_in_a_model_and_of_a_logo_only_the_pixels_go_out(kind, clinic):
    exif = Image.Exif()
    exif[0x010E], exif[0x0112] = "tantamount", 6  # a description; turned by a quarter
    picture = _picture(
        kind, exif=exif, icc_profile=b"tantamount", **({"comment": "tantamount"} if kind == "JPEG" else {})
    )
    assert b"tantamount" in picture
    model = _template(lambda _, section: section.header.paragraphs[0].add_run().add_picture(io.BytesIO(picture)))
    letterhead = read_letterhead(clinic(logo=picture, reference=model))
    ((suffix, data),) = letterhead.reference.headers["default"].pictures.values()
    for made in (data, letterhead.logo.png):
        assert suffix == "png" and b"tantamount" not in made
        assert Image.open(io.BytesIO(made)).size == (20, 60) and Image.open(io.BytesIO(made)).info == {}


@pytest.mark.parametrize(
    "run",
    [
        '<w:r><w:rPr><w:color w:val="1F4E79"/><w:sz w:val="14"/></w:rPr><w:t>555-0142</w:t></w:r>',
        '<w:r><w:rPr><w:shd w:fill="1F4E79"/><w:color w:val="FFFFFF"/></w:rPr><w:t>x</w:t></w:r>',
        '<w:r><w:rPr><w:vanish w:val="0"/></w:rPr><w:t>https and all</w:t></w:r>',
        "<w:fldSimple w:instr=' date \\@ \"d MMMM yyyy\" '/>",
    ],
)
def test_a_model_as_clinics_have_them_is_taken(run, clinic):
    assert read_letterhead(clinic(None, None, _rezipped(_template(), _header(run)))).reference
