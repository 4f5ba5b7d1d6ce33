"""Each file carries its own seal: known anywhere as it was written, and as changed after any change."""

from __future__ import annotations

import io

import pikepdf
import pypdfium2
import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from support import DEMO_FOLDERS, assess

from docgen.case.key import mark_of
from docgen.packet.render import render
from docgen.rendering.formats import format_names
from docgen.rendering.seal import _SEALS, _suffix, mark_in, sealed, unedited

CASE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")
SEALED = {*_SEALS, "docx"}
NAMES = ["plan.docx", "plan.html", "plan.pdf", "training.ics"]


@pytest.fixture(scope="module")
def files():
    return render(assess(CASE), only=["plan"])


@pytest.mark.parametrize("name", NAMES)
def test_a_file_is_known_by_itself_and_tells_its_case(name, files):
    assert unedited(name, files[name])
    key = assess(CASE).file.key
    assert mark_in(name, files[name]) == mark_of(key) and key.encode() not in files[name]


def test_every_file_of_a_packet_is_sealed():
    files = render(assess(CASE))
    assert len(files) > 20 and "packet.pdf" in files
    assert {"docx", "html", "pdf", "ics"} <= SEALED
    assert [name for name, data in files.items() if _suffix(name) in SEALED and not unedited(name, data)] == []


def test_a_file_that_can_hold_no_seal_stays_as_it_is_and_is_known_by_its_manifest_alone():
    assert sealed("plan.txt", b"Plan") == b"Plan" and not unedited("plan.txt", b"Plan")
    assert set(format_names()) & SEALED == {"docx", "html", "pdf"}


@settings(max_examples=200, deadline=None)
@given(name=st.sampled_from(NAMES[1:]), place=st.floats(0, 1, exclude_max=True), bits=st.integers(1, 255))
def test_a_byte_more_less_or_other_anywhere_is_a_change(name, place, bits, files):
    data = files[name]
    at = int(place * len(data))
    for changed in (
        data[:at] + bytes([data[at] ^ bits]) + data[at + 1 :],
        data[:at] + data[at + 1 :],
        data[:at] + bytes([bits]) + data[at:],
        data[:at],
    ):
        assert changed == data or not unedited(name, changed)


@of_each("name", NAMES)
@of_each("data", [b"", b"mine", b"startxref END:VCALENDAR"])
def test_what_has_no_seal_is_not_ours(name, data):
    assert not unedited(name, data) and mark_in(name, data) == ""


@of_each("suffix", ["html", "ics", "pdf"])
@of_each("mark", ["", "0123456789abcdef"])
def test_another_mark_breaks_the_seal(suffix, mark):
    data = b"page\r\nEND:VCALENDAR\r\nstartxref\n9\n%%EOF\n"
    file = sealed(f"a.{suffix}", data, mark)
    assert unedited(f"a.{suffix}", file) and mark_in(f"a.{suffix}", file) == mark
    if mark:
        assert not unedited(f"a.{suffix}", file.replace(mark.encode(), b"fedcba9876543210"))


def test_a_page_saved_by_another_program_is_a_change_that_still_tells_its_case(files):
    """Checked with qpdf (pikepdf), which writes a whole file anew, and by appending as the format allows."""
    with pikepdf.open(io.BytesIO(files["plan.pdf"])) as pdf:
        saved = io.BytesIO()
        pdf.save(saved)
    assert not unedited("plan.pdf", saved.getvalue())
    appended = files["plan.html"].replace(b"</main>", b"<p>mine</p></main>")
    assert not unedited("plan.html", appended)
    assert mark_in("plan.html", appended) == mark_in("plan.html", files["plan.html"]) != ""


def test_a_sealed_pdf_is_read_by_other_libraries_and_ends_as_the_format_says(files):
    """Source: ISO 32000-1:2008, 7.5.5: startxref, its number and %%EOF are the last lines."""
    data = files["plan.pdf"]
    *_, word, number, end = data.split()
    assert word == b"startxref" and end == b"%%EOF" and data[int(number) :].startswith(b"xref")
    with pikepdf.open(io.BytesIO(data)) as pdf, pypdfium2.PdfDocument(data) as other:
        assert pdf.check_pdf_syntax() == [] and len(pdf.pages) == len(other)
