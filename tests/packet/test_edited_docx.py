"""A DOCX edited by hand is known as such, kept through every rebuild, and never taken for one of ours."""

from __future__ import annotations

import io
import zipfile

import docx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from written_packets import CASE

from docgen.packet.recipe import Selection
from docgen.packet.write import build
from docgen.rendering.docx.seal import PART, unedited


def test_an_edited_docx_survives_ten_rebuilds(assessed, letter, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    document = docx.Document(folder / "letter.docx")
    document.add_paragraph("She asked me to add that the garden gate is narrow.")
    document.save(folder / "letter.docx")
    mine = (folder / "letter.docx").read_bytes()
    for _ in range(10):
        packet = build(assessed, tmp_path, Selection(("docx",), ("letter",)))
        assert (packet.kept, packet.written) == (["letter.docx"], ["letter.new.docx"])
        assert (folder / "letter.docx").read_bytes() == mine
        assert (folder / "letter.new.docx").read_bytes() == letter
    assert {path.name for path in folder.iterdir()} == {"letter.docx", "letter.new.docx", "manifest.json"}


def test_the_new_file_beside_an_edited_one_is_itself_kept_once_it_is_edited(assessed, letter, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    for name in ("letter.docx", "letter.new.docx", "letter.new-2.docx"):
        docx.Document(folder / name).save(folder / name)
        build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    assert (folder / "letter.new-3.docx").read_bytes() == letter
    assert not any(
        unedited((folder / name).read_bytes()) for name in ("letter.docx", "letter.new.docx", "letter.new-2.docx")
    )


@pytest.mark.parametrize("edited", [False, True])
def test_a_docx_is_known_without_its_manifest(edited, assessed, letter, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    if edited:
        docx.Document(folder / "letter.docx").save(folder / "letter.docx")
    (folder / "manifest.json").unlink()
    packet = build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    assert packet.kept == (["letter.docx"] if edited else [])
    assert (
        (folder / "letter.docx").read_bytes() != letter if edited else (folder / "letter.docx").read_bytes() == letter
    )


def test_older_output_that_nobody_touched_is_replaced_wherever_it_was_moved(assessed, letter, tmp_path):
    """A packet of another version, moved without its manifest: its DOCX is recognised by itself."""
    with zipfile.ZipFile(io.BytesIO(letter)) as archive:
        entries = {info.filename: archive.read(info) for info in archive.infolist() if info.filename != PART}
    from docgen.rendering.docx.seal import properties_xml

    entries["word/settings.xml"] += b"<!-- an older version -->"
    older = _zipped({**entries, PART: properties_xml(entries.items()).encode()})
    assert older != letter and unedited(older)
    (tmp_path / CASE.name).mkdir()
    (tmp_path / CASE.name / "letter.docx").write_bytes(older)
    assert build(assessed, tmp_path, Selection(("docx",), ("letter",))).kept == []
    assert (tmp_path / CASE.name / "letter.docx").read_bytes() == letter


def _zipped(entries):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return file.getvalue()


def _changed(letter, change):
    with zipfile.ZipFile(io.BytesIO(letter)) as archive:
        entries = {info.filename: archive.read(info) for info in archive.infolist()}
    change(entries)
    return _zipped(entries)


@pytest.mark.parametrize(
    "change",
    [
        lambda e: e.update({"word/document.xml": e["word/document.xml"].replace(b"<w:t", b"<w:t ", 1)}),
        lambda e: e.pop(PART),
        lambda e: e.pop("word/settings.xml"),
        lambda e: e.update({"word/comments.xml": b"<x/>"}),
        lambda e: e.update({PART: e[PART].replace(b"docgen.sha256", b"other.sha256")}),
        lambda e: e.update({"word/document.xml": e["word/styles.xml"], "word/styles.xml": e["word/document.xml"]}),
    ],
    ids=["a letter", "no digest", "a part less", "a part more", "another property", "two parts changed about"],
)
def test_any_other_content_is_recognised_as_edited(change, letter):
    assert unedited(letter) and not unedited(_changed(letter, change))


@pytest.mark.parametrize("data", [b"", b"PK", b"mine", b"PK\x03\x04" + bytes(100)])
def test_a_file_that_is_no_docx_is_not_ours(data):
    assert not unedited(data)


@settings(max_examples=60, deadline=None)
@given(place=st.floats(0, 1, exclude_max=True), bits=st.integers(1, 255))
def test_a_docx_cut_or_bent_anywhere_is_not_ours_and_never_an_error(place, bits, letter):
    at = int(place * len(letter))
    bent = letter[:at] + bytes([letter[at] ^ bits]) + letter[at + 1 :]
    assert not unedited(letter[:at])
    assert isinstance(unedited(bent), bool)  # a bit of the zip's own book-keeping changes nothing a reader sees


def test_the_digest_is_a_custom_property_as_the_format_has_them(letter):
    """Source: ECMA-376 part 1, 15.2.12.2 and 22.3 (custom file properties)."""
    import xml.etree.ElementTree as ET

    archive = zipfile.ZipFile(io.BytesIO(letter))
    custom = ET.fromstring(archive.read(PART))
    ns = "{http://schemas.openxmlformats.org/officeDocument/2006/custom-properties}"
    (one,) = custom
    assert custom.tag == f"{ns}Properties" and one.get("pid") == "2" and one.get("name") == "docgen.sha256"
    relations = ET.fromstring(archive.read("_rels/.rels"))
    assert any(r.get("Target") == PART and r.get("Type").endswith("/custom-properties") for r in relations)
    kinds = ET.fromstring(archive.read("[Content_Types].xml"))
    assert any(
        k.get("PartName") == f"/{PART}" and k.get("ContentType").endswith("custom-properties+xml") for k in kinds
    )
