"""What goes out: the packet in one file, the cover that says where each answer is, the order's list of digests."""

from __future__ import annotations

import hashlib
import io
import re

import pikepdf
import pypdfium2
import pytest
from support import DEMO_FOLDERS, assess, pages_of
from typer.testing import CliRunner

from docgen.cli import app
from docgen.criteria.criterion import HEADINGS, criteria
from docgen.packet.places import sections_of
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import overlaid, wording

SENT = wording().sent
BACK = wording().words["outside"]["back"]
ONE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")


@pytest.fixture(scope="module", params=DEMO_FOLDERS[1:4], ids=lambda f: f.name)
def built(request):
    """A demo case and its files in PDF."""
    one = assess(request.param)
    return one, render(one, ["pdf"], SENT)


def _links(file):
    with pikepdf.open(io.BytesIO(file)) as pdf:
        numbers = {page.obj.objgen: at for at, page in enumerate(pdf.pages, 1)}
        return [
            (str(note.Contents), numbers[note.Dest[0].objgen])
            for page in pdf.pages
            for note in page.get("/Annots", [])
            if "/Dest" in note and not str(note.Contents).startswith(BACK)
        ]


def _furniture_out(page):
    """The words of a page without its number and without what leads back to the cover."""
    return re.sub(rf"Page \d+ of \d+|{BACK} page \d+(, page \d+)*", "", page).strip()


def test_each_page_that_answers_leads_back_to_the_question_on_the_cover(built):
    _, files = built
    forth, back = set(), set()
    with pikepdf.open(io.BytesIO(files["packet.pdf"])) as pdf:
        numbers = {page.obj.objgen: at for at, page in enumerate(pdf.pages, 1)}
        tops = {}
        for at, page in enumerate(pdf.pages, 1):
            for note in page.get("/Annots", []):
                to = numbers[note.Dest[0].objgen] if "/Dest" in note else 0
                if str(note.Contents).startswith(BACK):
                    assert str(note.Contents) == f"{BACK} page {to}" and float(note.Dest[3]) in tops[to]
                    back.add((to, at))
                elif to:
                    forth.add((at, to))
                    tops.setdefault(at, set()).add(float(note.Rect[3]))
    n_cover = max(at for at, _ in forth)
    assert back and back == {(at, to) for at, to in forth if to > n_cover}


def test_what_is_written_for_the_family_and_the_coach_is_not_among_what_is_sent():
    assert {"cover", "letter", "order"} <= set(SENT) and not {"guide", "plan", "lesson"} & set(SENT)


def test_the_packet_is_what_is_sent_page_for_page(built):
    _, files = built
    pages = pages_of(files["packet.pdf"])
    counts = [len(pages_of(files[f"{name}.pdf"])) for name in SENT]
    # the names before the page numbers in the cover's rows may make it longer alone
    assert 0 <= sum(counts) - len(pages) <= 1
    assert all(f"Page {at} of {len(pages)}" in text for at, text in enumerate(pages, 1))
    for at, name in enumerate(SENT[1:], 1):  # the cover is the first
        alone = pages_of(files[f"{name}.pdf"])
        start = len(pages) - sum(counts[at:])
        for own, bound in zip(alone, pages[start:], strict=False):
            assert _furniture_out(own) == _furniture_out(bound)


def test_each_place_the_cover_names_stands_on_the_page_it_names(built):
    one, files = built
    pages = pages_of(files["packet.pdf"])
    made = {name: sections_of(tree) for name, tree in trees(one).items()}
    titles = {
        wording().words["short_titles"].get(name, document.title): name
        for name, document in wording().documents.items()
    }
    named = {says for says, _ in _links(files["packet.pdf"]) if ": " in says}
    assert len(named) > 8
    for says, to in _links(files["packet.pdf"]):
        place, several, page, last = re.fullmatch(r"(.*) \(page(s?) (\d+)(?:-(\d+))?\)", says).groups()
        assert bool(several) == (last is not None)
        assert int(page) == to and (last is None or to < int(last) <= len(pages))
        title, _, section = place.partition(": ")
        if section:
            assert section.casefold() in made[titles[title]] and section in pages[to - 1]


def test_every_question_of_the_cover_is_told_where_it_is_shown(built):
    one, _ = built
    rows = [
        row
        for node in trees(one, ["cover"])["cover"].walk()
        if node.kind == "table" and node.children[0].children[0].plain() == "Criterion"
        for row in node.children[1:]
    ]
    asked = {v.criterion.claim for v in one.verdicts if v.bound and v.answer.status != "does_not_apply"}
    still_open = {v.criterion.claim for v in one.verdicts if v.bound and v.open}
    told, own = {row.children[0].plain() for row in rows}, wording().words["own_record"]
    assert still_open <= told < asked
    assert {v.criterion.claim for v in one.verdicts if v.criterion.quiet and not v.open}.isdisjoint(told)
    assert not any(row.children[1].plain() == "met" and row.children[3].plain() == own for row in rows)
    for row in rows:
        assert row.children[3].plain().strip(), row.plain()


def test_every_place_where_an_answer_is_shown_is_a_section_of_some_demo():
    found = set()
    for folder in DEMO_FOLDERS:
        for name, tree in trees(assess(folder)).items():
            found |= {f"{name}: {title}".casefold() for title in sections_of(tree)}
    named = [*wording().words["shown_in"].values(), *(criterion.shown_in for criterion in criteria().values())]
    entries = {entry for places in named for entry in places if not entry.startswith("paper: ")}
    assert entries and {entry for entry in entries if entry.casefold() not in found} == set()


def test_every_key_of_the_places_is_a_criterion_or_a_heading():
    assert set(wording().words["shown_in"]) <= {*criteria(), *HEADINGS}
    assert set(HEADINGS) <= set(wording().words["shown_in"]) and set(wording().words["headings"]) == set(HEADINGS)


def test_alone_the_cover_names_document_and_section_and_no_page():
    files = render(assess(ONE), ["pdf", "html"], ["cover"])
    text = " ".join(pages_of(files["cover.pdf"]))
    assert "Letter: Equipment Trial and Results" in text and "(page " not in text and _links(files["cover.pdf"]) == []
    assert "packet.pdf" not in files and 'href="#letter' not in files["cover.html"].decode()


@pytest.mark.parametrize(
    "enclose, added",
    [
        ([], []),
        (["plan"], ["Power Mobility Training Plan"]),
        (["plan", "guide"], ["Daily guide", "Power Mobility Training Plan"]),
        (["letter"], []),
    ],
)
def test_other_documents_are_enclosed_only_when_asked_for(enclose, added):
    files = render(assess(ONE), ["pdf"], {*SENT, *enclose}, enclose=enclose)
    with pypdfium2.PdfDocument(files["packet.pdf"]) as pdf:
        titles = [mark.get_title() for mark in pdf.get_toc() if mark.level == 0]
    assert titles == [*(wording().documents[name].title for name in SENT), *added]
    text = " ".join(pages_of(files["packet.pdf"]))
    others = re.search(r"Made for others, and not enclosed: (.*?)\. Coverage Criteria", text)[1]
    assert ("Power Mobility Training Plan" in others) == ("plan" not in enclose) and ("Daily guide" in others) == (
        "guide" not in enclose
    )


def test_what_a_payer_must_not_see_is_not_in_the_packet_unless_enclosed():
    one = assess(ONE)
    phones = [p.phone for p in one.file.case.with_role("caregiver") if p.phone]
    assert phones
    assert not any(phone in text for phone in phones for text in pages_of(render(one, ["pdf"], SENT)["packet.pdf"]))


@pytest.mark.parametrize(
    "words, names",
    [
        (["--formats", "html"], set()),
        (["--formats", "pdf", "--only", "cover,letter"], set()),
        (["--formats", "pdf", "--only", "cover,letter,order"], {"packet.pdf"}),
    ],
)
def test_a_packet_is_made_when_all_of_it_is(words, names, tmp_path):
    done = CliRunner().invoke(app, ["build", str(ONE), "--out", str(tmp_path), *words])
    assert done.exit_code == 0
    assert {p.name for p in (tmp_path / ONE.name).iterdir()} & {"packet.pdf"} == names


@pytest.mark.parametrize("formats, told", [("pdf", True), ("html", False)])
def test_whom_an_enclosure_is_written_for_is_told_when_it_goes_in(formats, told, tmp_path):
    done = CliRunner().invoke(
        app,
        [
            "build",
            str(ONE),
            "--out",
            str(tmp_path),
            "--formats",
            formats,
            "--only",
            "cover,letter,order,guide",
            "--enclose",
            "guide",
        ],
    )
    assert done.exit_code == 0
    assert ("packet.pdf holds the guide, which is written for family and aides" in done.stdout) == told


def test_an_enclosure_that_is_not_known_is_one_sentence(tmp_path):
    done = CliRunner().invoke(app, ["build", str(ONE), "--out", str(tmp_path), "--enclose", "giude"])
    assert (done.exit_code, done.stdout) == (2, "") and "Did you mean 'guide'?" in done.stderr


@pytest.mark.parametrize(
    "formats, suffix", [(["docx", "pdf", "html"], "pdf"), (["html", "docx"], "html"), (["docx"], "docx")]
)
def test_the_order_lists_what_is_sent_with_its_digest_and_not_itself(formats, suffix):
    one = assess(ONE)
    files = render(one, formats, {*SENT, "guide"})
    digests = {name: hashlib.sha256(files[f"{name}.{suffix}"]).hexdigest() for name in ("cover", "letter")}
    text = re.sub(r"<[^>]+>", " ", files["order.html"].decode()) if "html" in formats else ""
    if "pdf" in formats:
        text += " ".join(pages_of(files["order.pdf"]))
    if "docx" in formats:
        import docx

        rows = next(
            table.rows
            for table in docx.Document(io.BytesIO(files["order.docx"])).tables
            if table.cell(0, 0).text == "Document"
        )
        assert [tuple(cell.text for cell in row.cells) for row in rows[1:]] == [
            ("Prior Authorization Cover Sheet", f"cover.{suffix}", digests["cover"]),
            ("Letter of Medical Necessity", f"letter.{suffix}", digests["letter"]),
            ("Lines of the order, one line a row", "lines.csv", hashlib.sha256(files["lines.csv"]).hexdigest()),
        ]
    for name, digest in digests.items():
        assert not text or (digest in text and f"{name}.{suffix}" in text)
    assert f"order.{suffix}" not in text and "guide." not in text


@pytest.mark.parametrize(
    "printed", ["SHA-256 {{ one.sha256 }}", "{{ one.sha256 }}, of {{ one.file }}", "{{ one.sha256 }}"]
)
def test_a_template_of_ones_own_prints_the_digests_as_it_likes(tmp_path, printed):
    order = wording().paths["order.md"].read_text(encoding="utf-8")
    (tmp_path / "order.md").write_text(order.replace("{{ one.sha256 }}", printed), encoding="utf-8")
    files = render(assess(ONE), ["html"], SENT, overlaid(tmp_path))
    for name in ("cover", "letter"):
        assert hashlib.sha256(files[f"{name}.html"]).hexdigest() in files["order.html"].decode()


def test_an_order_made_alone_lists_nothing():
    assert "Enclosures" not in render(assess(ONE), ["html"], ["order"])["order.html"].decode()
