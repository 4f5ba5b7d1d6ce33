"""Sheets of questions for those who can answer, and their answers taken back into the case."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil

import docx
import lxml.html
import pypdfium2
import pytest
from in_full import tables_in_full
from support import DEMO_FOLDERS
from test_commands import run

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.respondents import respondents
from docgen.criteria.forms import form, stand_ins
from docgen.filling import ask_sheet
from docgen.packet.wording import wording
from docgen.resources import folder

BOHDAN = folder("cases") / "bohdan-lacroix-mbeki"
TODAY = ("--today", "2026-11-25")
ASKED = [who for who, respondent in respondents().items() if respondent.may_see]


@pytest.fixture
def case(tmp_path):
    copied = tmp_path / BOHDAN.name
    shutil.copytree(BOHDAN, copied)
    return copied


def questions(page):
    """The words of each question of the page in HTML -> the path of its key."""
    tree = lxml.html.fromstring(page.read_bytes())
    fields = tree.xpath("//*[@data-path]")
    words = {label.get("for"): label.text for label in tree.xpath("//label[@for]")}
    groups = {
        id(field): group.get("aria-label") for group in tree.xpath("//*[@role='group']") for field in group.iter()
    }
    return {words.get(field.get("id")) or groups[id(field)]: json.loads(field.get("data-path")) for field in fields}


def answers_file(tmp_path, rows, who="supplier", case_id=BOHDAN.name, by="Matthias Corran-Li", **more):
    path = tmp_path / "answers.json"
    content = {"format": "docgen answers 1", "case": case_id, "for": who, "by": by}
    content["answers"] = [{"path": key, "values": values} for key, values in rows]
    path.write_text(json.dumps(content | more), encoding="utf-8")
    return path


def test_the_three_formats_ask_the_same(case):
    assert run("ask", case, "--for", "supplier")[0] == 0
    asked = list(questions(case / "ask-supplier.html"))
    assert {"Bedroom door: clear width in mm", "Date the order reached the supplier"} <= set(asked)
    cells = [row.cells[0].text for table in docx.Document(case / "ask-supplier.docx").tables for row in table.rows]
    assert [cell for cell in cells if cell in asked] == list(dict.fromkeys(asked))
    pages = list(pypdfium2.PdfDocument(case / "ask-supplier.pdf"))
    text = " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())
    assert len(pages) <= 2 and all(question in text for question in asked)


@pytest.mark.parametrize("who", ASKED)
@pytest.mark.parametrize("demo", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_a_sheet_has_at_most_two_pages_and_holds_nothing_for_another_reader(demo, who, tmp_path):
    written = ask_sheet(demo, who, tmp_path, ["pdf", "html"])
    if not written:
        return
    assert len(pypdfium2.PdfDocument(tmp_path / f"ask-{who}.pdf")) <= 2
    page = (tmp_path / f"ask-{who}.html").read_text(encoding="utf-8")
    tables = tables_in_full(demo)
    notes = [person["private_note"] for person in tables["people"] if "private_note" in person]
    phones = [person["phone"] for person in tables["people"] if person["role"] == "caregiver" and "phone" in person]
    secrets = [*notes, *([] if who == "family" else [*phones, tables["client"].get("day", "")])]
    for secret in filter(None, secrets):
        assert secret not in page


@pytest.mark.parametrize(
    ("who", "document"),
    [
        ("supplier", "order"),
        ("practitioner", "letter"),
        ("family", "guide"),
        ("client", "guide"),
        ("school", "plan"),
        ("payer", "cover"),
    ],
)
def test_a_sheet_shows_no_class_that_the_document_for_its_reader_keeps_back(who, document):
    may_see = wording().documents[document].may_see
    extra = respondents()[who].may_see - may_see
    # what one is asked for, one knows: an encounter's author, a supplier's specialist, a client and a family about
    # themselves; medicine and limits of an emergency come from the practitioner
    of_themselves = {
        Privacy.HOME,
        Privacy.TRAINING,
        Privacy.IDENTITY,
        Privacy.NARRATIVE,
        Privacy.NEED,
        Privacy.GOALS,
        Privacy.FUNDING,
    }
    known_to_them = {
        "supplier": set(),
        "practitioner": {Privacy.EMERGENCY},
        "family": of_themselves,
        "client": of_themselves,
        "school": set(),
        "payer": {Privacy.DENIAL},
    }
    assert extra <= known_to_them[who], sorted(extra)


def test_the_page_asks_no_other_machine_and_runs_its_own_script_alone(case):
    run("ask", case, "--for", "supplier", "--formats", "html")
    page = (case / "ask-supplier.html").read_text(encoding="utf-8")
    script = re.search(r"<script>(.*?)</script>", page, re.S)[1]
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert "default-src 'none'" in page and f"script-src 'sha256-{digest}'" in page
    assert "http:" not in page and "https:" not in page and page.count("<script") == 1


def test_what_comes_back_is_shown_and_written_beside_who_answered(case, tmp_path):
    run("ask", case, "--for", "supplier", "--formats", "html")
    asked = questions(case / "ask-supplier.html")
    file = answers_file(
        tmp_path,
        [
            (asked["Bedroom door: clear width in mm"], ["812,5"]),
            (asked["Date the order reached the supplier"], ["2026-05-04"]),
            (asked["Matthias Corran-Li: how the supplier's ATP is employed"], ["employee"]),
        ],
    )

    def widths_asked():
        checked = " ".join(run("check", case, "--for", "supplier", *TODAY)[1].split())
        [doors] = re.findall(r"Not recorded: the clear width of the (.*?)\.", checked)
        return set(re.findall(r"(\w+) door", doors))

    assert widths_asked() == {"bedroom", "bathroom"}
    before = (case / "case.toml").read_text(encoding="utf-8")
    status, page, _ = run("answers", case, file, "--yes", *TODAY)
    assert status == 0 and "clear_width_mm = 812.5" in page and "case.toml:" in page
    assert re.search(r"^employment = \"employee\"  in \[people[^0-9]*\]", page, re.M)  # by its name, not its number
    after = (case / "case.toml").read_text(encoding="utf-8")
    tables = tables_in_full(case)
    door = next(space for space in tables["spaces"] if space["id"] == "bedroom_door")
    assert door["clear_width_mm"] == 812.5 and tables["order"]["received_on"].isoformat() == "2026-05-04"
    assert "clear_width_mm = 812.5  # Matthias Corran-Li, 2026-11-25" in after
    left = [line for line in after.split("\n") if "# Matthias Corran-Li, 2026-11-25" not in line and line != "[order]"]
    assert [line for line in left if line] == [line for line in before.split("\n") if line and line != "[order]"]
    assert widths_asked() == {"bathroom"}


def test_a_place_not_yet_recorded_is_asked_for_all_that_an_entry_needs(case):
    """Its kind too, which a sentence of the program fixes: without it the answers could not be written."""
    toml = case / "case.toml"
    text = toml.read_text(encoding="utf-8")
    text = text.replace('kind = "turning", turning_mm = 1600', 'kind = "corridor"')
    toml.write_text(text, encoding="utf-8")
    run("ask", case, "--for", "supplier", "--formats", "html")
    new = [words for words in questions(case / "ask-supplier.html") if words.startswith("A place not yet recorded")]
    assert any(words.endswith("kind of space") for words in new) and any("free floor" in words for words in new)


def test_a_new_entry_comes_with_an_id_from_its_name(case, tmp_path):
    tables = tables_in_full(case)
    at = len(tables["spaces"])
    rows = [
        (["spaces", at, "name"], ["Laundry door"]),
        (["spaces", at, "kind"], ["doorway"]),
        (["spaces", at, "clear_width_mm"], ["790"]),
    ]
    assert run("answers", case, answers_file(tmp_path, rows), "--yes", *TODAY)[0] == 0
    added = tables_in_full(case)["spaces"][at]
    assert added == {"id": "laundry_door", "name": "Laundry door", "kind": "doorway", "clear_width_mm": 790}


@pytest.mark.parametrize(
    ("path", "values", "reason"),
    [
        (["letter", "safety"], ["I judge that he is safe."], "is not asked of the supplier"),
        (["people", 0, "license"], ["OT-1"], "is not asked of the supplier"),
        (["spaces", 0, "name"], ["another"], "is recorded already, and stays as it is"),
        (["spaces", 99, "clear_width_mm"], ["800"], "is no key of this case"),
        (["spaces", -1, "clear_width_mm"], ["800"], "is no key of this case"),
        (["spaces", 0, "clear_width_mm"], ["31 in"], "is not a number alone; its unit is in the question"),
        (["order", "received_on"], ["04/05/2026"], "is not a date such as 2026-03-31"),
        (["no", "such"], ["1"], "is no key of this case"),
        ("spaces", ["1"], "names no key of a case"),
        (["order", "received_on"], [], "has no answer"),
    ],
)
def test_an_answer_that_cannot_be_taken_in_is_left_out_with_its_reason(case, tmp_path, path, values, reason):
    before = (case / "case.toml").read_bytes()
    status, page, _ = run("answers", case, answers_file(tmp_path, [(path, values)]), "--yes", *TODAY)
    assert status == 0 and "left out: " in page and reason in " ".join(page.split())
    assert (case / "case.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("more", "reason"),
    [
        ({"case": "someone-else"}, "holds answers for 'someone-else'"),
        ({"format": "other"}, "is not a file of answers"),
        ({"for": "plumber"}, "does not say for whom"),
        ({"answers": 3}, "holds no list of answers"),
    ],
)
def test_a_file_of_other_content_is_refused(case, tmp_path, more, reason):
    status, _, err = run("answers", case, answers_file(tmp_path, [], **more), "--yes")
    assert status == 2 and reason in " ".join(err.split())


def test_a_name_with_line_breaks_writes_no_line_of_its_own(case, tmp_path):
    rows = [(["order", "received_on"], ["2026-05-04"])]
    file = answers_file(tmp_path, rows, by='Pat\nsigned_by = "doctor"')
    assert run("answers", case, file, "--yes", *TODAY)[0] == 0
    tables = tables_in_full(case)
    assert "signed_by" not in tables["order"] and tables["order"]["received_on"].isoformat() == "2026-05-04"


def test_nothing_is_written_without_a_yes(case, tmp_path):
    before = (case / "case.toml").read_bytes()
    file = answers_file(tmp_path, [(["order", "received_on"], ["2026-05-04"])])
    status, _, told = run("answers", case, file, *TODAY)
    assert status == 2 and "Nothing was written. Nobody answered at the terminal" in told
    assert (case / "case.toml").read_bytes() == before


def test_a_sheet_that_someone_may_have_answered_on_is_not_replaced(case):
    run("ask", case, "--for", "supplier", "--formats", "docx")
    (case / "ask-supplier.docx").write_bytes(b"answered")
    status, _, err = run("ask", case, "--for", "supplier")
    assert status == 2 and "may hold answers" in " ".join(err.split())
    assert (case / "ask-supplier.docx").read_bytes() == b"answered" and not (case / "ask-supplier.html").exists()


def test_a_case_that_says_no_step_of_training_can_be_asked_about(tmp_path):
    new = tmp_path / "robin"
    assert run("new", new)[0] == 0 and run("ask", new, "--for", "supplier")[0] == 0


@pytest.mark.parametrize("path", [("training", "stage"), ("supervision", 0, "until_stage")])
def test_a_step_of_training_is_asked_for_by_its_name(path):
    empty = Case.model_validate({"format": "docgen case 1", "id": "x"})
    assert {type(value) for value in stand_ins(empty, path)} == {int}
    assert form(path).startswith('<"ready", "touch"')


@pytest.mark.parametrize("who", ["at_delivery", "therapist"])
def test_those_for_whom_no_sheet_is_written_are_refused_with_those_who_have_one(case, who):
    status, *texts = run("ask", case, "--for", who)
    said = " ".join(" ".join(texts).split())
    assert status == 2 and f"no sheet is written for '{who}'" in said
    assert "One of: supplier, " in said and "therapist," not in said
