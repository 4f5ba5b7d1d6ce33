"""Papers of others in packet.pdf: where they stand, who points to them, what is refused and what is left out."""

from __future__ import annotations

import hashlib
import io
import json
import re

import pikepdf
import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas
from support import DEMO_FOLDERS, assess, pages_of, run

from docgen.building import build_packets
from docgen.errors import UserError
from docgen.packet.forget import left_by
from docgen.packet.papers import read_papers
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import wording
from docgen.rendering.pdf.outside import MOST_BYTES, Sheet, laid_over

ONE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")
SENT = wording().sent
KINDS = wording().words["enclosed_papers"]


def pdf(*pages: str, size=(612, 792), turned: int = 0, field: str = "") -> bytes:
    """A PDF of these lines, one a page."""
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=size, invariant=1)
    for line in pages:
        canvas.setPageRotation(turned)
        canvas.drawString(72, size[1] - 72, line)
        if field:
            canvas.acroForm.textfield(name="name", value=field, x=72, y=200, width=200, height=20)
        canvas.showPage()
    canvas.save()
    return file.getvalue()


def changed(data: bytes, change) -> bytes:
    """The same after a change of its objects."""
    file = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as opened:
        keywords = change(opened) or {}
        opened.save(file, deterministic_id="encryption" not in keywords, **keywords)
    return file.getvalue()


ORDER, STUDY = pdf("ORDERED BY HAND", "SECOND PAGE OF THE ORDER"), pdf("NIGHT OF THE STUDY", size=(792, 612), turned=90)


@pytest.fixture(scope="module")
def papers(tmp_path_factory):
    folder = tmp_path_factory.mktemp("papers")
    (folder / "order.pdf").write_bytes(ORDER)
    (folder / "night.pdf").write_bytes(STUDY)
    return read_papers([str(folder / "order.pdf"), f"Sleep study={folder / 'night.pdf'}"], KINDS)


@pytest.fixture(scope="module")
def files(papers):
    return render(assess(ONE), ["pdf"], {*SENT, "guide"}, papers=papers)


def _links(opened):
    numbers = {page.obj.objgen: at for at, page in enumerate(opened.pages, 1)}
    return [
        (at, str(note.Contents), numbers[note.Dest[0].objgen])
        for at, page in enumerate(opened.pages, 1)
        for note in page.get("/Annots", [])
        if "/Dest" in note
    ]


def test_each_paper_stands_behind_the_documents_with_its_bookmark_and_its_pages_counted_through(files):
    pages = pages_of(files["packet.pdf"])
    assert "ORDERED BY HAND" in pages[-3] and "SECOND PAGE OF THE ORDER" in pages[-2]
    assert "NIGHT OF THE STUDY" in pages[-1]
    assert all(f"Page {at} of {len(pages)}" in text for at, text in enumerate(pages, 1))
    with pypdfium2.PdfDocument(files["packet.pdf"]) as opened:
        marks = [(mark.get_title(), mark.get_dest().get_index()) for mark in opened.get_toc() if mark.level == 0]
    assert marks[-2:] == [(KINDS["order"], len(pages) - 3), ("Sleep study", len(pages) - 1)]
    for page in pages[-3:]:
        assert "Enclosed as it came" in page and "reviewed" not in page.lower() and "Draft" not in page


def test_the_cover_lists_each_paper_with_day_pages_and_digest_and_its_rows_lead_to_it(files):
    pages = pages_of(files["packet.pdf"])
    first = len(pages) - 2
    cover = pages[0]
    for data, row in ((ORDER, r"April 16, 2026 2"), (STUDY, "stands on it 1")):
        digest = hashlib.sha256(data).hexdigest()
        assert re.search(rf"{row} {digest}", cover), cover
    by = "Casimir Thornbury-Osei, MD"
    assert f"Written order, complete and signed: {by} April 16, 2026 yes {KINDS['order']} (page {first})" in cover
    assert f"Face-to-face encounter, in time: {by} February 24, 2026 yes no" in cover
    with pikepdf.open(io.BytesIO(files["packet.pdf"])) as opened:
        to_order = [at for at, says, to in _links(opened) if says == f"{KINDS['order']} (page {first})" and to == first]
        rows = "".join(pages[: max(to_order)])
    assert len(to_order) >= 3  # the list, the row of the papers, and a question that the order answers
    assert "the practitioner's order" not in rows and "the practitioner's encounter note and order" in rows


def test_the_letter_names_as_enclosed_only_what_is(files):
    text = " ".join(pages_of(files["letter.pdf"]))
    assert f"Papers of others that I enclose: {KINDS['order']} and Sleep study." in text
    assert "Papers of others" not in trees(assess(ONE), ["letter"])["letter"].plain()


def test_the_same_case_and_papers_give_the_same_bytes(files, papers):
    assert render(assess(ONE), ["pdf"], SENT, papers=papers)["packet.pdf"] == files["packet.pdf"]


def test_no_other_file_holds_a_page_of_a_paper(files):
    held = {name for name in files if name.endswith(".pdf") and "ORDERED BY HAND" in "".join(pages_of(files[name]))}
    assert held == {"packet.pdf"} and "guide.pdf" in files


def test_a_page_from_outside_is_a_picture_that_says_so_and_the_file_claims_no_standard(files):
    with pikepdf.open(io.BytesIO(files["packet.pdf"])) as opened:
        document = opened.Root.StructTreeRoot.K[0]
        order = document.K[-2]
        assert (str(order.S), str(order.T)) == ("/Part", KINDS["order"])
        figure = order.K[0]
        assert str(figure.S) == "/Figure" and "Page 1 of 2 of an enclosed paper" in str(figure.Alt)
        number, content = int(figure.K[0]), b"\n".join(part.read_bytes() for part in figure.Pg.Contents)
        assert b"/Figure <</MCID %d>> BDC" % number in content
        assert b"pdfuaid:part" not in opened.Root.Metadata.read_bytes()
    with pikepdf.open(io.BytesIO(files["letter.pdf"])) as opened:
        assert b"pdfuaid:part" in opened.Root.Metadata.read_bytes()


def test_what_is_filled_in_comes_along_and_scripts_and_attached_files_do_not(tmp_path):
    def dangerous(opened):
        opened.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="app.alert('SCRIPT')")
        opened.Root.Names = pikepdf.Dictionary(
            JavaScript=pikepdf.Dictionary(
                Names=["run", pikepdf.Dictionary(S=pikepdf.Name.JavaScript, JS="app.alert('SCRIPT')")]
            )
        )
        opened.attachments["secret.txt"] = b"SECRET" * 20

    (tmp_path / "form.pdf").write_bytes(changed(pdf("A form", field="FILLED IN"), dangerous))
    (form,) = read_papers([str(tmp_path / "form.pdf")], KINDS)
    assert form.pdf.left_out == ("scripts", "attached files")
    packet = render(assess(ONE), ["pdf"], SENT, papers=[form])["packet.pdf"]
    assert "FILLED IN" in pages_of(packet)[-1]
    with pikepdf.open(io.BytesIO(packet)) as opened:
        assert not opened.attachments and not {"/OpenAction", "/Names", "/AcroForm"} & set(opened.Root.keys())
        everything = b"".join(
            thing.read_bytes() if isinstance(thing, pikepdf.Stream) else str(thing).encode() for thing in opened.objects
        )
    assert b"SCRIPT" not in everything and b"SECRET" not in everything


def test_a_page_comes_upright_and_whole_whatever_its_crop_and_turn(tmp_path):
    def cropped(opened):
        opened.pages[0].CropBox = pikepdf.Array([60, 300, 700, 600])
        opened.pages[0].Rotate = 90

    data = changed(pdf("CORNER", size=(792, 612)), cropped)
    own = pdf("ours")
    with pypdfium2.PdfDocument(laid_over(own, [Sheet(0, (100, 100, 500, 700), "Figure", 0, data, 0)])) as opened:
        text = opened[0].get_textpage()
        at = text.search("CORNER").get_next()[0]
        boxes = [text.get_charbox(at + n) for n in range(6)]
    left, bottom, right, top = (pick(box[side] for box in boxes) for side, pick in enumerate((min, min, max, max)))
    # the page is 640 x 300 before its turn, so 300 x 640 after it: scaled by 600/640 to fill the height of the box
    scale = 600 / 640
    x0 = 100 + (400 - 300 * scale) / 2
    assert top == pytest.approx(700 - (72 - 60) * scale, abs=1.5) and bottom < top - 30 * scale
    # its line stood at 540, which is 240 above the crop: from left to right of a page turned to the right
    assert x0 + (540 - 300 - 4) * scale < left < right < x0 + (540 - 300 + 12) * scale


BAD = {
    "empty": (b"", "is empty"),
    "words": (b"no pdf at all", "is no PDF that can be read"),
    "cut": (ORDER[:200], "is no PDF that can be read"),
    "large": (b"%PDF-1.7\n" + b"0" * MOST_BYTES, "is larger than 20 MB"),
    "locked": (
        changed(ORDER, lambda _: {"encryption": pikepdf.Encryption(owner="o", user="u")}),
        "is encrypted",
    ),
    "limited": (
        changed(ORDER, lambda _: {"encryption": pikepdf.Encryption(owner="o", user="")}),
        "is encrypted",
    ),
    "long": (pdf(*["x"] * 201), "has 201 pages, more than 200"),
}


@pytest.mark.parametrize("kind", BAD)
def test_a_file_that_cannot_be_laid_in_is_one_sentence(kind, tmp_path):
    data, says = BAD[kind]
    path = tmp_path / "bad.pdf"
    path.write_bytes(data)
    with pytest.raises(UserError) as refused:
        read_papers([str(path)], KINDS)
    (problem,) = refused.value.problems
    assert str(path) in problem.where and problem.what == says and problem.do


@pytest.mark.parametrize(
    "words, says",
    [
        (["{}/none.pdf"], "is no file"),
        (["{}"], "is no file"),
        (["a.pdf={}/order.pdf", "b={}/order.pdf"], "is enclosed once already, as a.pdf"),
        (["x" * 81 + "={}/order.pdf"], "needs a name of 1 to 80 letters"),
    ],
)
def test_a_name_that_leads_to_no_paper_is_one_sentence(words, says, tmp_path):
    (tmp_path / "order.pdf").write_bytes(ORDER)
    with pytest.raises(UserError) as refused:
        read_papers([word.format(tmp_path) for word in words], KINDS)
    assert [problem.what for problem in refused.value.problems] == [says]


@pytest.mark.parametrize(
    "cases, options, says",
    [
        (DEMO_FOLDERS[:2], {}, "this build is of 2 cases"),
        ([ONE], {"deidentified": True}, "goes into no de-identified copy"),
        ([ONE], {"cluster": "tls://10.0.0.5:8786"}, "is sent to no cluster"),
    ],
)
def test_a_paper_of_one_person_goes_nowhere_else(cases, options, says, tmp_path):
    (tmp_path / "order.pdf").write_bytes(ORDER)
    with pytest.raises(UserError, match=says):
        build_packets(cases, tmp_path / "out", enclose=[str(tmp_path / "order.pdf")], **options)
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("formats, only", [(["docx"], ()), (["pdf"], ["letter"])])
def test_without_a_packet_to_stand_in_a_paper_is_refused(formats, only, papers):
    with pytest.raises(UserError, match="which this build does not make"):
        render(assess(ONE), formats, only, papers=papers)


def test_a_build_with_a_paper_tells_it_lists_it_and_is_forgotten(demo, tmp_path):
    case, out = demo(ONE.name), tmp_path / "out"
    (tmp_path / "order.pdf").write_bytes(ORDER)
    words = ["build", case, "--out", out, "--formats", "pdf", "--only", ",".join(SENT), "--enclose"]
    status, told, _ = run(*words, f"order={tmp_path / 'order.pdf'}")
    assert status in (0, 1) and "packet.pdf holds order.pdf as it came, 2 pages" in told
    assert json.loads((out / case.name / "manifest.json").read_bytes())["enclosed"] == [
        {"name": "order", "file": "order.pdf", "pages": 2, "sha256": hashlib.sha256(ORDER).hexdigest()}
    ]
    assert "packet.pdf" in left_by(case, out).names and left_by(case, out).stays == ()
    (tmp_path / "order.pdf").write_bytes(b"")
    status, told, problems = run(*words, f"order={tmp_path / 'order.pdf'}")
    assert (status, told) == (2, "") and problems.count("\n") == 1 and "is empty" in problems
