"""A DOCX of the clinic as the model of ours: what comes along from it, and what never does."""

from __future__ import annotations

import io
import re
import zipfile

import docx
import pytest
from letterheads_made import BODY, in_head, model_docx, page_under, picture_file, png_head, rezipped
from PIL import Image

from docgen.errors import UserError
from docgen.packet.letterhead import read_letterhead
from docgen.rendering.formats import to_docx
from docgen.rendering.tree import parse


def _modelled(clinic, change=None, toml=None):
    letterhead = read_letterhead(clinic(toml=toml, reference=model_docx(change)))
    return docx.Document(io.BytesIO(to_docx.render(parse(BODY), page_under(letterhead), {})))


def test_styles_page_head_and_foot_come_from_the_model_and_its_body_does_not(clinic):
    made = _modelled(clinic)
    section = made.sections[0]
    assert (section.page_width, section.left_margin, section.right_margin) == tuple(
        getattr(docx.Document(io.BytesIO(model_docx())).sections[0], name)
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
    file = to_docx.render(parse(BODY), page_under(read_letterhead(clinic(reference=model_docx()))), {})
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
    made = _modelled(clinic, lambda d, s: s.header.paragraphs[0].add_run().add_picture(io.BytesIO(picture_file())))
    (image,) = [r for r in made.sections[0].header.part.rels.values() if r.reltype.endswith("/image")]
    with Image.open(io.BytesIO(image.target_part.blob)) as picture:
        assert picture.size == (60, 20)


def test_a_picture_in_the_models_head_may_not_be_larger_than_a_logo(clinic):
    whole = model_docx(lambda d, s: s.header.paragraphs[0].add_run().add_picture(io.BytesIO(picture_file())))
    (name,) = [name for name in zipfile.ZipFile(io.BytesIO(whole)).namelist() if name.startswith("word/media/")]
    for picture, told in (
        (png_head(4001, 4000), "of more than 16,000,000 pixels"),
        (b"GIF89a", "neither PNG nor JPEG"),
    ):
        with pytest.raises(UserError, match=told):
            read_letterhead(clinic(reference=rezipped(whole, {name: picture})))


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

    page = page_under(read_letterhead(clinic(reference=model_docx())))
    file = to_docx.render(parse(BODY), page, {})
    assert unedited(file) and file == to_docx.render(parse(BODY), page, {})


def test_macros_and_settings_of_the_model_do_not_come_along(clinic):
    file = rezipped(model_docx(), {"word/vbaProject.bin": b"macro"})
    made = to_docx.render(parse(BODY), page_under(read_letterhead(clinic(reference=file))), {})
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
        **in_head(alternate + name),
        "word/styles.xml": lambda s: s.replace("</w:styles>", f"{hiding}</w:styles>"),
    }
    letterhead = read_letterhead(clinic(None, None, rezipped(model_docx(), changes)))
    file = to_docx.render(parse(BODY), page_under(letterhead), {})
    with zipfile.ZipFile(io.BytesIO(file)) as archive:
        parts = {name: archive.read(name).decode() for name in archive.namelist() if name.endswith(".xml")}
    assert not [part for part, text in parts.items() if "tantamount" in text or "vanish" in text or "rsid" in text]
    assert 'descr="a wheel"' in parts["word/header1.xml"] and 'w:styleId="x"' in parts["word/styles.xml"]


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_of_pictures_in_a_model_and_of_a_logo_only_the_pixels_go_out(kind, clinic):
    exif = Image.Exif()
    exif[0x010E], exif[0x0112] = "tantamount", 6  # a description; turned by a quarter
    picture = picture_file(
        kind, exif=exif, icc_profile=b"tantamount", **({"comment": "tantamount"} if kind == "JPEG" else {})
    )
    assert b"tantamount" in picture
    model = model_docx(lambda _, section: section.header.paragraphs[0].add_run().add_picture(io.BytesIO(picture)))
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
    assert read_letterhead(clinic(None, None, rezipped(model_docx(), in_head(run)))).reference
