"""A scan of the signed letter: where it stands, what it is tied to, and when it is left out."""

from __future__ import annotations

import hashlib
import io
import json
import shutil
from datetime import date

import pikepdf
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas
from support import DEMO_FOLDERS, NOT_REVIEWED, pages_of, run

from docgen.building import approve_case, build_packet
from docgen.errors import UserError
from docgen.packet.contents import case_contents
from docgen.packet.sent import to_send
from docgen.packet.signed import FILE
from docgen.packet.wording import wording

ONE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")
BY, ON = "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 4, 20)
SENT = wording().sent


def scan(n_pages: int, of: str = "SCANNED") -> bytes:
    file = io.BytesIO()
    canvas = Canvas(file, invariant=1)
    for n in range(1, n_pages + 1):
        canvas.drawString(72, 700, f"{of} SHEET {n}")
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def _built(case, out):
    return build_packet(case, out, formats=["pdf"], only=SENT)


@pytest.fixture(scope="module")
def approved(tmp_path_factory):
    """A demo approved and built, beside whose case a scan of the signed letter lies."""
    under = tmp_path_factory.mktemp("signed")
    case = shutil.copytree(ONE, under / "cases" / ONE.name, ignore=NOT_REVIEWED)
    approve_case(case, BY, ON)
    packet = _built(case, under / "out")
    assert packet.verdict == "approved"
    n_pages = len(pages_of(packet.folder / "letter.pdf"))
    (case / "signed.pdf").write_bytes(scan(n_pages))
    return under, n_pages


@pytest.fixture
def ready(approved, tmp_path):
    """The same to be changed: the case, the folder of packets, pages of the letter."""
    shutil.copytree(approved[0], tmp_path / "clinic")
    return tmp_path / "clinic" / "cases" / ONE.name, tmp_path / "clinic" / "out", approved[1]


@pytest.fixture(scope="module")
def signed(approved, tmp_path_factory):
    """The same with the scan recorded and the packet built anew."""
    under = tmp_path_factory.mktemp("recorded") / "clinic"
    shutil.copytree(approved[0], under)
    case = under / "cases" / ONE.name
    approve_case(case, BY, signed_letter=case / "signed.pdf", out=under / "out")
    return under, _built(case, under / "out"), approved[1]


def test_the_scan_stands_in_the_place_of_the_letter_and_what_leads_to_it_lands(signed):
    _, packet, n_pages = signed
    data = (packet.folder / "packet.pdf").read_bytes()
    pages = pages_of(data)
    first = next(at for at, text in enumerate(pages) if "SCANNED SHEET 1" in text)
    assert [f"SCANNED SHEET {n + 1}" in pages[first + n] for n in range(n_pages)] == [True] * n_pages
    alone = pages_of(packet.folder / "letter.pdf")
    words_of_letter = alone[0].partition("Letter of Medical Necessity")[2][:200]
    assert words_of_letter and not any(words_of_letter in text for text in pages)
    with pypdfium2.PdfDocument(data) as opened:
        marks = {mark.get_title(): mark.get_dest().get_index() for mark in opened.get_toc()}
    assert marks["Letter of Medical Necessity"] == first
    for n, text in enumerate(alone):
        if "Alternatives Considered and Ruled Out" in text:
            assert marks["Alternatives Considered and Ruled Out"] == first + n
    with pikepdf.open(io.BytesIO(data)) as opened:
        part = next(part for part in opened.Root.StructTreeRoot.K[0].K if str(part.T) == "Letter of Medical Necessity")
        assert f"Page 1 of {n_pages} of the signed" in str(part.K[0].Alt)


def test_the_manifest_and_the_build_tell_it_and_the_same_gives_the_same_bytes(signed):
    under, packet, n_pages = signed
    manifest = json.loads((packet.folder / "manifest.json").read_bytes())
    digest = hashlib.sha256(scan(n_pages)).hexdigest()
    assert manifest["signed_letter"] == {"file": "signed.pdf", "sha256": digest}
    assert "packet.pdf holds the scan signed.pdf in place of the letter" in packet.remarks
    before = (packet.folder / "packet.pdf").read_bytes()
    again = build_packet(packet_case(under), under / "out", formats=["pdf"], only=SENT, force=True)
    assert again.verdict == "approved" and (packet.folder / "packet.pdf").read_bytes() == before


def packet_case(under):
    return under / "cases" / ONE.name


def test_a_changed_case_leaves_the_scan_out_and_says_so_also_when_it_is_approved_again(ready):
    case, out, _ = ready
    approve_case(case, BY, signed_letter=case / "signed.pdf", out=out)
    text = (case / "case.toml").read_text(encoding="utf-8")
    changed = text.replace("months_needed = 60", "months_needed = 59")
    assert changed != text
    (case / "case.toml").write_text(changed, encoding="utf-8")
    packet = _built(case, out)
    assert packet.is_draft and "signed.pdf is left out of packet.pdf: the packet has changed" in str(packet.remarks)
    assert "SCANNED" not in "".join(pages_of(packet.folder / "packet.pdf"))
    approve_case(case, BY, ON)
    packet = _built(case, out)
    assert packet.verdict == "approved" and "another letter was signed than this one" in str(packet.remarks)
    assert "SCANNED" not in "".join(pages_of(packet.folder / "packet.pdf"))
    assert "signed_letter" not in json.loads((packet.folder / "manifest.json").read_bytes())
    with pytest.raises(UserError, match="was recorded before as another letter"):
        approve_case(case, BY, signed_letter=case / "signed.pdf", out=out)


def _no_approval(case, out):
    (case / "approval.toml").unlink()


def _other_length(case, out):
    (case / "signed.pdf").write_bytes(scan(1))


def _no_pdf(case, out):
    (case / "signed.pdf").write_bytes(b"a picture")


def _edited(case, out):
    path = out / ONE.name / "letter.pdf"
    path.write_bytes(path.read_bytes() + b"%")


def _not_built(case, out):
    shutil.rmtree(out)


@pytest.mark.parametrize(
    "change, says",
    [
        (_no_approval, "has no approval, so no letter of it can be taken as signed"),
        (_other_length, "has 1 page, and the letter has"),
        (_no_pdf, "is no PDF that can be read"),
        (_edited, "is not the approved letter of this case as it was built"),
        (_not_built, "is not the approved letter of this case as it was built"),
    ],
)
def test_what_cannot_be_the_signed_letter_is_one_sentence(change, says, ready):
    case, out, _ = ready
    change(case, out)
    status, told, error = run("approve", case, "--by", BY, "--signed-letter", case / "signed.pdf", "--out", out)
    assert (status, told) == (2, "") and says in error and error.count("\n") == 1
    assert not (case / FILE).exists()


def test_a_scan_from_elsewhere_or_by_another_is_refused(ready, tmp_path):
    case, out, n_pages = ready
    (tmp_path / "signed.pdf").write_bytes(scan(n_pages))
    with pytest.raises(UserError, match="does not lie in the case folder"):
        approve_case(case, BY, signed_letter=tmp_path / "signed.pdf", out=out)
    with pytest.raises(UserError, match="did not approve it"):
        approve_case(case, "Someone Else, OTR/L", signed_letter=case / "signed.pdf", out=out)


def test_another_file_under_the_name_of_the_scan_is_refused(ready):
    case, out, n_pages = ready
    approve_case(case, BY, signed_letter=case / "signed.pdf", out=out)
    (case / "signed.pdf").write_bytes(scan(n_pages, "FORGED"))
    with pytest.raises(UserError, match="is not the scan that was recorded"):
        _built(case, out)
    (case / FILE).write_text((case / FILE).read_text().replace("signed.pdf", "other.pdf"))
    with pytest.raises(UserError, match="is not as 'docgen approve --signed-letter' wrote it"):
        _built(case, out)


def test_it_goes_into_no_copy_about_nobody_and_to_no_cluster(signed):
    under, _, _ = signed
    case = packet_case(under)
    packet = build_packet(case, under / "copies", formats=["pdf"], only=SENT, deidentified=True)
    assert "SCANNED" not in "".join(pages_of(packet.folder / "packet.pdf"))
    contents = case_contents(case)
    assert {FILE, "signed.pdf"} <= contents.files.keys()
    with pytest.raises(UserError, match="is sent to no cluster"):
        to_send(contents)
