"""The last screen: what was read and approved, what has changed since, and the packet with what was chosen for it."""

from __future__ import annotations

import json
import re
import time

import pytest
import typer
from by_hand import write_by_hand
from pypdfium2 import PdfDocument
from support import run

from docgen.desk import kept

_REVIEWER = "Ephraim Example, OT"


@pytest.fixture
def case(tmp_path):
    return write_by_hand(tmp_path / "cases")


@pytest.fixture
def approved(visitor, at):
    _read_each(visitor, at)
    answer = visitor.post(f"{at}/approve", by=_REVIEWER)
    assert (answer.status, "Build the packet to mark its pages." in answer.text) == (200, True)


def _read_each(visitor, at):
    for paper in re.findall(rf'href="({at}/paper/\w+)"', visitor.get(f"{at}/finish").text):
        assert visitor.get(paper).status == 200


def _built(visitor, at, **chosen):
    """What the page says once the packet is whole."""
    assert visitor.post(f"{at}/build", **chosen).status == 303
    until_s = time.monotonic() + 60
    while "data-at-work" in (told := visitor.get(f"{at}/progress").text):
        assert time.monotonic() < until_s
        time.sleep(0.02)
    return told


def _changes(visitor, at, path, value, was):
    return visitor.post(f"{at}/who/answer", path=json.dumps(path), value=value, was=was)


def _pdf(n_pages):
    import io

    with PdfDocument.new() as document:
        for _ in range(n_pages):
            document.new_page(300, 300)
        data = io.BytesIO()
        document.save(data)
    return data.getvalue()


def test_what_changed_since_the_approval_stands_beside_what_was_approved(visitor, at, case, approved):
    page = visitor.get(f"{at}/finish").text
    assert f"Reviewed by {_REVIEWER} on " in page
    assert "Changed since" not in page
    assert _changes(visitor, at, ["client", "called"], "Cal", "Calla").status == 303
    page = visitor.get(f"{at}/finish").text
    assert "the chair that <del>Calla</del> (" in page and "the chair that <ins>Cal</ins> (" in page
    assert page.index("As approved:") < page.index("As it is now:")
    words = case / kept.FOLDER / "approved.json"
    assert words.stat().st_mode & 0o077 == 0
    status, told, _ = run("forget", case, "--out", case.parent / "out", "--yes")
    assert (status, words.exists()) == (0, False)
    assert "were not kept here" in visitor.get(f"{at}/finish").text


def test_the_words_of_an_approval_given_elsewhere_are_kept_once_the_desk_sees_it(visitor, at, case):
    assert run("approve", case, "--by", _REVIEWER)[0] == 0
    assert not (case / kept.FOLDER).exists()
    visitor.get(f"{at}/finish")
    assert _changes(visitor, at, ["client", "called"], "Cal", "Calla").status == 303
    assert "<ins>Cal</ins>" in visitor.get(f"{at}/finish").text


def test_a_packet_holds_what_was_chosen_for_it(visitor, at, case):
    told = _built(visitor, at, formats=["html", "docx"], langs="es")
    assert "The packet is built." in told
    out = case.parent / "out" / case.name
    names = {path.name for path in out.iterdir()}
    assert {"letter.html", "guide.docx", "guide.es.html"} <= names
    assert not [name for name in names if name.endswith(".pdf") or "_large" in name]
    chosen = visitor.get(f"{at}/finish").text
    assert re.findall(r'name="formats" value="(\w+)" checked', chosen) == ["docx", "html"]
    _built(visitor, at, formats="docx", large_print="yes")
    assert (out / "guide_large.docx").is_file()


def test_papers_are_read_before_they_are_kept_and_go_into_the_packet(visitor, at, case):
    for name, data, says in (
        ("note.pdf", b"%PDF-1.7 no", "The paper is no PDF that can be read"),
        ("../../note.pdf", b"", "The paper is empty"),
    ):
        refused = visitor.send(f"{at}/enclose", {"paper": (name, data)}, kind="encounter")
        assert (refused.status, says in refused.text) == (422, True)
    assert visitor.send(f"{at}/enclose", {"paper": ("note.pdf", _pdf(1))}, kind="../encounter").status == 422
    assert not [path for path in (case / kept.FOLDER).rglob("*") if path.is_file()]
    note = _pdf(3)
    taken = visitor.send(f"{at}/enclose", {"paper": ("note.pdf", note)}, kind="encounter")
    assert (taken.status, "Record of the face-to-face encounter: 3 pages" in taken.text) == (200, True)
    again = visitor.send(f"{at}/enclose", {"paper": ("note.pdf", note)}, kind="order")
    assert (again.status, "is enclosed once already" in again.text.lower()) == (422, True)
    assert "packet.pdf holds encounter.pdf as it came, 3 pages" in _built(visitor, at, formats="pdf")
    assert visitor.post(f"{at}/leave_out", kind="encounter").status == 200
    assert "Papers of others in packet.pdf (0)" in visitor.get(f"{at}/finish").text


def test_reading_counts_through_a_build_and_ends_with_a_change(visitor, at, case):
    _read_each(visitor, at)
    _built(visitor, at, formats="html")
    assert "Each was opened as it now is." in visitor.get(f"{at}/finish").text
    assert _changes(visitor, at, ["client", "called"], "Cal", "Calla").status == 303
    assert "0 of " in visitor.get(f"{at}/finish").text


def test_a_build_that_is_at_work_tells_how_far_it_is_and_is_not_begun_twice(visitor, at, case, monkeypatch):
    import threading

    go_on = threading.Event()
    real = __import__("docgen.desk.cases", fromlist=["build_packet"]).build_packet

    def waits(*given, **options):
        assert go_on.wait(30)
        return real(*given, **options)

    monkeypatch.setattr("docgen.desk.cases.build_packet", waits)
    for _ in range(2):
        assert visitor.post(f"{at}/build", formats="html").status == 303
    assert "At work" in visitor.get(f"{at}/finish").text
    assert sum(thread.name.startswith("packet") for thread in threading.enumerate()) == 1
    assert visitor.get(f"{at}/progress?done=0").status == 204  # no further than the page that waits tells already
    assert "At work" in visitor.get(f"{at}/progress?done=1").text
    go_on.set()
    assert "The packet is built." in _built(visitor, at, formats="html")
    waited = visitor.ask("GET", f"{at}/progress?done=0", hx_request="true")
    assert waited.status == 286 and 'hx-get="' in waited.text  # nothing more is asked but what can now be sent
    assert "hx-get" not in visitor.get(f"{at}/progress").text


def test_a_fault_of_the_program_ends_the_wait(visitor, at, monkeypatch):
    def fails(*given, **options):
        raise RuntimeError("a word of the case")

    monkeypatch.setattr("docgen.desk.cases.build_packet", fails)
    monkeypatch.setattr("threading.excepthook", lambda told: None)
    told = _built(visitor, at, formats="html")
    assert "by a fault of docgen" in told and "a word of the case" not in told


def test_the_folder_of_the_packet_is_shown_and_no_other(visitor, at, case, monkeypatch):
    shown = []
    monkeypatch.setattr(typer, "launch", lambda path: shown.append(path) or 0)
    assert visitor.post(f"{at}/open").status == 422
    _built(visitor, at, formats="html")
    assert visitor.post(f"{at}/open", folder="/").status == 200
    assert shown == [str(case.parent / "out" / case.name)]


def test_a_signed_letter_takes_the_place_of_the_letter(visitor, at, case, approved):
    assert "The letter, signed" not in visitor.get(f"{at}/finish").text
    _built(visitor, at, formats="pdf")
    assert "The letter, signed" in visitor.get(f"{at}/finish").text
    refused = visitor.send(f"{at}/signed", {"scan": ("scan.pdf", b"no pdf")}, by=_REVIEWER)
    assert (refused.status, [*case.glob("signed-letter*")]) == (422, [])
    with PdfDocument(case.parent / "out" / case.name / "letter.pdf") as letter:
        n_pages = len(letter)
    taken = visitor.send(f"{at}/signed", {"scan": ("scan.pdf", _pdf(n_pages))}, by=_REVIEWER)
    assert (taken.status, "is the letter, signed" in taken.text) == (200, True)
    assert "packet.pdf holds the scan signed-letter.pdf" in _built(visitor, at, formats="pdf")
