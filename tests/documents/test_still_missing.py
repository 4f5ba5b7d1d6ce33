"""Drafts: what is missing is a short mark in its sentence, and gathered once on a last sheet by who can answer."""

from __future__ import annotations

import re
import shutil
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

import pytest
from in_full import text_in_full
from made import BOHDAN, FOLDERS, ILMARI, items
from support import ASSESSED, assess

from docgen.case.model import Case
from docgen.case.respondents import respondents
from docgen.documents.still_missing import still_missing
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.rendering.tree import Node

SHEET = "Still missing"
# keys taken out of every table of a whole case, so that its letter has forty gaps and more
TAKEN = """height_mm weight_kg born_on member_id license experience statement_on mode evaluated_on accepted_on
encounter_on supplier_assessed_on written_on base_code turning_mm width_mm climbs_mm electronics_delay_s
deceleration_m_s2 floor clear_width_mm clear_ahead_mm threshold_mm why without reason before with_device
minutes_before minutes_with says start_on sessions_a_week minutes stage_why place months_needed code quantity phone
organisation credential function day lives""".split()
# tables that stay whole: they load only with those keys
WHOLE = ("cautions", "conditions", "conditions.answers", "findings", "goals", "supervision", "taught", "training.week")
KEYS = re.compile(r"\b[a-z]+_[a-z_]+\b|\[\[|\bdocgen\b|\.toml|\bfill in\b", re.I)


@cache
def _draft(name: str) -> dict[str, Node]:
    """Letter and cover of a demo; of "forty", of one that has lost these keys."""
    if name != "forty":
        return trees(ASSESSED[name], ["letter", "cover"])
    folder = Path(mkdtemp()) / ILMARI
    shutil.copytree(FOLDERS[ILMARI], folder)
    path = folder / "case.toml"
    kept, table = [], ""
    for line in text_in_full(folder).split("\n"):
        table = line.strip("[]") if line.startswith("[") else table
        needed = table in WHOLE or table.startswith("emergency")
        if needed or not re.match(rf"(?:{'|'.join(TAKEN)}) = ", line):
            kept.append(line)
    path.write_text("\n".join(kept), encoding="utf-8")
    try:
        return trees(assess(folder), ["letter", "cover"])
    finally:
        shutil.rmtree(folder.parent)


def _marks(tree: Node) -> list[str]:
    return [node.plain() for node in tree.walk() if node.kind == "gap"]


def test_a_case_can_have_forty_gaps_and_still_be_a_letter():
    assert len(_marks(_draft("forty")["letter"])) >= 40


@pytest.mark.parametrize("name", [BOHDAN, "forty"])
@pytest.mark.parametrize("document", ["letter", "cover"])
def test_no_page_of_a_draft_shows_a_key_or_a_command(name, document):
    text = _draft(name)[document].plain()
    assert len(text) > 2000 and not KEYS.search(text)


@pytest.mark.parametrize("name", [BOHDAN, "forty"])
def test_every_mark_reads_aloud_as_what_is_missing(name):
    marks = _marks(_draft(name)["letter"])
    assert marks and all(re.fullmatch(r"[Mm]issing(?:: \S.*)?", mark) for mark in marks)


@pytest.mark.parametrize("name", [BOHDAN, "forty"])
@pytest.mark.parametrize("document", ["letter", "cover"])
def test_one_list_at_the_end_gathers_what_is_missing_by_who_can_answer(name, document):
    blocks = _draft(name)[document].children
    headings = [block.plain() for block in blocks if block.kind == "heading"]
    assert headings.count(SHEET) == 1
    start = headings.index(SHEET)
    who = [respondent.name.capitalize() for respondent in respondents().values()]
    asked = headings[start + 1 :]
    assert asked and [name for name in who if name in asked] == asked  # in the order in which they are asked
    at = next(n for n, block in enumerate(blocks) if block.kind == "heading" and block.plain() == SHEET)
    assert blocks[at - 1].kind == "page_break"  # a sheet of its own, which is taken off before the rest is sent


def test_a_point_stands_once_with_its_place_and_those_that_block_come_first():
    letter = _draft(BOHDAN)["letter"]
    rows = [
        [cell.plain() for cell in row.children]
        for block in letter.children
        if block.kind == "table" and block.children[0].plain().startswith("What is missing")
        for row in block.children[1:]
    ]
    says = [row[0] for row in rows]
    assert len(says) == len(set(says)) and ["Weight", "The head of the first page"] in rows
    assert "The evaluator's license is not recorded." in says and "License number" not in says
    assert rows[0][1] == "Must be settled before this is sent"


def test_a_ready_letter_has_no_such_sheet():
    letter = _draft(ILMARI)["letter"]
    assert SHEET not in letter.plain() and not _marks(letter) and items(letter, "Equipment Requested")


@pytest.mark.parametrize(("people", "who"), [((), "family"), (({"id": "aide", "role": "school"},), "school")])
def test_the_place_of_training_is_asked_of_a_school_only_where_somebody_of_one_is_recorded(people, who):
    case = Case.model_validate({"format": "docgen case 2", "id": "robin", "people": people})
    gap = Node("gap", attrs={"name": "training.place"}, children=[Node("text", text="where training is")])
    draft = Node("document", children=[Node("paragraph", children=[gap])])
    assert [asked["who"] for asked in still_missing(draft, (), case, language_words())] == [respondents()[who].name]
