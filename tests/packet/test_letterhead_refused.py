"""Every way in which the files of a letterhead can be wrong or hostile, told in one sentence with its place."""

from __future__ import annotations

import re

import pytest
from letterheads_made import TOML, in_head, model_docx, picture_file, png_head, rezipped, zipped
from support import DEMO_FOLDERS
from typer.testing import CliRunner

from docgen.cli import app
from docgen.errors import UserError
from docgen.packet.letterhead import read_letterhead

CASE = next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")


_RELS = "word/_rels/header1.xml.rels"


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
        (png_head(50_000, 50_000), "the logo is of far more than the 16,000,000 pixels allowed"),
        (png_head(4001, 4000), "the logo is 4,001 by 4,000 pixels, more than the 16,000,000 allowed in all"),
        (picture_file()[:60], "is not a whole PNG or JPEG picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is not a whole PNG or JPEG picture"),
        (picture_file("GIF"), "is not a whole PNG or JPEG picture"),
        (b"", "is not a whole PNG or JPEG picture"),
        (png_head(0, 10), "is not a whole PNG or JPEG picture"),
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


_HOSTILE = {
    "no zip": (b"not a zip at all", "is not a whole DOCX file"),
    "cut": (lambda f: f[: len(f) // 2], "is not a whole DOCX file"),
    "another zip": (lambda f: zipped({"a": b"b"}), "lacks a part that a DOCX must hold"),
    "bomb": (lambda f: zipped({"word/document.xml": b"\0" * 50_000_000}), "unpacks to more than"),
    "many parts": (lambda f: zipped({f"p{at}": b"" for at in range(3000)}), "unpacks to more than"),
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
    "a chunk": (in_head("<w:altChunk/>"), "with an embedded object in it"),
    "a field that includes": (
        in_head('<w:fldSimple w:instr=" INCLUDETEXT &quot;c:/x&quot; "/>'),
        "with the field INCLUDETEXT",
    ),
    "a field that runs": (
        in_head(
            '<w:r><w:fldChar w:fldCharType="begin"/></w:r><w:r><w:instrText> DD</w:instrText></w:r><w:r>'
            "<w:instrText>EAUTO c:\\\\x </w:instrText></w:r>"
        ),
        "with the field DDEAUTO",
    ),
    "a field in a field": (
        in_head(
            '<w:r><w:fldChar w:fldCharType="begin"/><w:instrText> PAGE </w:instrText><w:fldChar w:fldCharType="begin"/>'
            "<w:instrText> QUOTE x </w:instrText></w:r>"
        ),
        "with the field QUOTE",
    ),
    "a picture by address": (
        in_head(
            '<w:r><w:pict><v:shape xmlns:v="urn:schemas-microsoft-com:vml"><v:imagedata '
            'src="http://elsewhere.example/a"/>'
            "</v:shape></w:pict></w:r>"
        ),
        "fetches something from outside",
    ),
    "a picture by the address of a link": (
        {
            **_relation("hyperlink", "https://elsewhere.example/a.png"),
            **in_head(
                '<w:r><w:drawing><a:blip xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" r:link="rId1" '
                'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"/></w:drawing></w:r>'
            ),
        },
        "fetches something from outside",
    ),
    "a picture by the path of a file": (
        in_head('<w:r><w:t w:src="file:c.png">x</w:t></w:r>'),
        "fetches something from",
    ),
    "a drawing in the old form": (
        in_head('<w:r><w:pict><v:rect xmlns:v="urn:schemas-microsoft-com:vml"/></w:pict></w:r>'),
        "in a form that cannot be checked",
    ),
    "a field in another namespace": (
        in_head('<s:fldSimple xmlns:s="http://purl.oclc.org/ooxml/wordprocessingml/main" s:instr="LINK x"/>'),
        "with the field LINK",
    ),
    "a field that was deleted": (in_head("<w:r><w:delInstrText>DDE x</w:delInstrText></w:r>"), "with the field DDE"),
    "a field that shows a path": (in_head('<w:fldSimple w:instr="FILENAME \\p"/>'), "shows where a file lies"),
    "hidden text": (in_head("<w:r><w:rPr><w:vanish/></w:rPr><w:t>x</w:t></w:r>"), "with hidden text in it"),
    "text of no size": (in_head('<w:r><w:rPr><w:sz w:val="2"/></w:rPr><w:t>x</w:t></w:r>'), "with hidden text in it"),
    "white text": (
        in_head('<w:r><w:rPr><w:color w:val="FEFEFE"/></w:rPr><w:t>x</w:t></w:r>'),
        "with hidden text in it",
    ),
    "deleted text": (in_head("<w:del><w:r><w:delText>x</w:delText></w:r></w:del>"), "with hidden text in it"),
    "a style from outside": (
        {"word/styles.xml": lambda s: s.replace("</w:styles>", '<w:style w:x="http://elsewhere.example"/></w:styles>')},
        "fetches something from outside",
    ),
    "a part that is not there": (
        in_head(
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


@pytest.mark.parametrize("name", _HOSTILE)
def test_a_broken_or_hostile_docx_is_one_sentence_with_its_place(name, clinic, tmp_path):
    change, told = _HOSTILE[name]
    whole = model_docx()
    file = change if isinstance(change, bytes) else change(whole) if callable(change) else rezipped(whole, change)
    folder = clinic(reference=file)
    done = CliRunner().invoke(app, ["build", str(CASE), "--letterhead", str(folder), "--out", str(tmp_path / "out")])
    assert (done.exit_code, done.stdout, done.stderr.count("\n")) == (2, "", 1), done.stderr
    assert (
        done.stderr.startswith(f"{folder / 'letterhead.docx'}: ")
        and told in done.stderr
        and not (tmp_path / "out").exists()
    )
