"""What is used of reportlab beyond what it promises still does what it is used for: each fails by its own name."""

from __future__ import annotations

import ast
import io
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFDocument
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

import docgen.rendering
from docgen.rendering.fonts import FACES, register
from docgen.rendering.pdf import inside

FACE = FACES[False, False]


@pytest.fixture
def canvas():
    register()
    file = io.BytesIO()
    made = Canvas(file, pagesize=(200, 100), pageCompression=0, invariant=1, initialFontName=FACE)
    made.file = file
    return made


def shown(canvas: Canvas, text: str) -> None:
    """The text painted by operators of our own."""
    document = inside.document_of(canvas)
    for subset, codes in inside.encoded(text, FACE, document):
        canvas.addLiteral(f"BT {subset} 12 Tf 1 0 0 1 10 50 Tm <{codes.hex()}> Tj ET")


def saved(canvas: Canvas) -> bytes:
    canvas.showPage()
    canvas.save()
    return canvas.file.getvalue()


def test_document_of_gives_the_document_that_is_written(canvas):
    assert isinstance(inside.document_of(canvas), PDFDocument)


def test_char_widths_are_those_that_string_width_adds_up():
    register()
    widths = inside.char_widths(FACE)
    text = "Stop the chair: 3.4 s, \u00e9"
    assert sum(widths[ord(char)] for char in text) / 1000 * 12 == pytest.approx(stringWidth(text, FACE, 12))


def test_encoded_words_are_read_back_by_another_library(canvas):
    shown(canvas, "Stop \u03a9 here")
    with pypdfium2.PdfDocument(saved(canvas)) as file:
        assert file[0].get_textpage().get_text_bounded().strip() == "Stop \u03a9 here"


def test_codes_given_are_those_that_encoded_gives(canvas):
    document = inside.document_of(canvas)
    assert inside.codes_given(FACE, document) == {}
    [(subset, codes)] = inside.encoded("Stop", FACE, document)
    given = inside.codes_given(FACE, document)
    assert bytes(given[ord(char)] for char in "Stop") == codes and subset == inside.first_subset(FACE, document)


def test_no_code_of_a_font_stands_for_nothing_once_the_unused_stand_for_a_space(canvas):
    shown(canvas, "Stop")
    inside.spaces_for_unused_codes([FACE], inside.document_of(canvas))
    with pikepdf.open(io.BytesIO(saved(canvas))) as pdf:
        [used] = [font for font in pdf.pages[0].Resources.Font.values() if "/ToUnicode" in font]
        mapped = used.ToUnicode.read_bytes().decode("latin-1")
    assert "<0020>" in mapped and "<0000>" not in mapped.partition("endcodespacerange")[2]


def test_a_reference_is_the_number_under_which_the_object_is_written(canvas):
    document = inside.document_of(canvas)
    held = inside.reference(document, PDFDictionary({"Kind": "(kept)"}))
    number = int(bytes(held.format(document)).split()[0])
    with pikepdf.open(io.BytesIO(saved(canvas))) as pdf:
        assert str(pdf.get_object(number, 0).Kind) == "kept"


def test_pages_enter_the_structure_and_the_catalog_names_it(canvas):
    canvas.showPage()
    document = inside.document_of(canvas)
    [page] = inside.pages_of(document)
    inside.enter_in_structure(page, 7, [])
    inside.mark_tagged(document, inside.reference(document, PDFDictionary({"Type": "/StructTreeRoot"})))
    canvas.save()
    with pikepdf.open(io.BytesIO(canvas.file.getvalue())) as pdf:
        assert int(pdf.pages[0].StructParents) == 7 and str(pdf.pages[0].Tabs) == "/S"
        assert bool(pdf.Root.MarkInfo.Marked) and str(pdf.Root.StructTreeRoot.Type) == "/StructTreeRoot"


def test_the_entries_of_one_page_leave_those_of_other_documents_alone(canvas):
    canvas.showPage()
    inside.enter_in_structure(inside.pages_of(inside.document_of(canvas))[0], 7, [])
    other = Canvas(io.BytesIO(), initialFontName=FACE)
    other.showPage()
    assert "StructParents" not in inside.pages_of(inside.document_of(other))[0].__NoDefault__


def test_streams_are_binary_inside_and_the_setting_is_put_back(canvas):
    before = rl_config.useA85
    with inside.without_ascii_armour():
        assert not rl_config.useA85
    assert rl_config.useA85 == before


def test_no_other_module_touches_a_private_name_of_reportlab():
    known = {"_doc", "face", "state", "splitString", "getSubsetInternalName", "assignments", "subsets", "charWidths"}
    known |= {"Reference", "Pages", "Catalog", "__NoDefault__", "StructParents", "rl_config"}
    users = [
        path
        for path in Path(docgen.rendering.__file__).parent.rglob("*.py")
        if "reportlab" in path.read_text(encoding="utf-8") and path.name != "inside.py"
    ]
    assert len(users) >= 4
    touched = {
        (path.name, node.attr)
        for path in users
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and node.attr in known and ast.unparse(node.value) != "piece.run"
    }
    assert not touched
