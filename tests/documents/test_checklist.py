"""The papers that are looked for first on the cover: their days, and what the criteria say of each."""

from __future__ import annotations

import shutil
from datetime import date
from typing import Any

import pytest
from gathered import of_each
from support import ASSESSED, DEMO_FOLDERS, assess

from docgen.case.model import Case
from docgen.documents.checklist import checklist
from docgen.packet.assess import Assessed
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.resources import folder

WORDS = language_words()


def _case(**more: Any) -> Case:
    return Case.model_validate({"format": "docgen case 1", "id": "robin"} | more)


@of_each(
    ("authorization", "said", "on"),
    [
        ({}, "not recorded whether it is needed", None),
        ({"needed": True}, "needed, no request recorded", None),
        ({"needed": False}, "not needed", None),
        (
            {"requested_on": date(2026, 4, 14)},
            "needed, requested on April 14, 2026, no decision recorded",
            date(2026, 4, 14),
        ),
        ({"decision": "affirmed", "decided_on": date(2026, 4, 24)}, "affirmed", date(2026, 4, 24)),
        ({"decision": "not_affirmed", "decided_on": date(2026, 4, 24)}, "non-affirmed", date(2026, 4, 24)),
    ],
)
def test_prior_authorization_is_told_as_far_as_it_is_recorded(authorization, said, on):
    *_, row = checklist(_case(authorization=authorization), (), WORDS)
    assert (row["paper"], row["authorization"], row["on"]) == ("Prior authorization", said, on)


def test_a_request_with_a_day_asks_for_the_authorization_that_is_needed():
    """The cover that says so is itself headed by that day."""
    *_, row = checklist(_case(authorization={"needed": True}, request={"requested_on": date(2026, 4, 14)}), (), WORDS)
    assert row["authorization"] == "needed, requested with this packet on April 14, 2026, no decision recorded"


def test_a_paper_without_a_day_is_never_in_order():
    marisol = ASSESSED["marisol-quenneville-tran"]
    case = marisol.file.case
    whole = list(checklist(case, marisol.verdicts, WORDS))
    assert {row["status"] for row in whole[:-1]} == {"met"} and all(row["on"] for row in whole[:-1])
    bare = case.model_copy(update={"dates": case.dates.model_copy(update={"ordered_on": None})})
    first, *rest = checklist(bare, marisol.verdicts, WORDS)
    assert (first["on"], first["status"]) == (None, "cannot_tell") and {row["status"] for row in rest[:-1]} == {"met"}


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_the_cover_answers_the_papers_before_any_question_of_the_program(source):
    tree = trees(ASSESSED[source.name], ["cover"])["cover"]
    headings = [node.plain() for node in tree.walk() if node.kind == "heading"]
    assert headings.index("Documentation Checklist") < headings.index("Coverage Criteria and Location in the Record")
    table = next(node for node in tree.walk() if node.kind == "table")
    rows = [[cell.plain() for cell in row.children] for row in table.children]
    assert (
        rows[0] == ["Document", "Date", "By the record", "Enclosed"]
        and len(rows) == 9
        and not [row for row in rows if "" in row]
    )


def _enclosed(assessed: Assessed) -> dict[str, str]:
    tree = trees(assessed, ["cover"])["cover"]
    table = next(node for node in tree.walk() if node.kind == "table")
    return {row.children[0].plain().partition(":")[0]: row.children[3].plain() for row in table.children}


def test_a_paper_that_is_not_enclosed_says_whom_to_call_for_it():
    cells = _enclosed(ASSESSED["ilmari-okonjo-vale"])
    assert cells["Written order, complete and signed"] == "no, call 555-0119"  # the practitioner's
    assert cells["Home assessment"] == "no, call 555-0177"  # of the supplier, who measured the home
    assert cells["Statement of no financial relationship, signed"] == "no, call 555-0142"
    assert cells["Prior authorization"] == "not applicable"


def test_a_letter_of_a_later_day_is_not_the_report_that_the_practitioner_concurred_with(tmp_path):
    report = WORDS["papers"]["evaluation"]
    assert _enclosed(ASSESSED["ilmari-okonjo-vale"])[report].startswith("no, call 555-0142; summarized in the Letter")
    shutil.copytree(folder("cases") / "ilmari-okonjo-vale", tmp_path / "ilmari-okonjo-vale")
    toml = tmp_path / "ilmari-okonjo-vale/case.toml"
    toml.write_text(toml.read_text().replace("written_on = 2026-04-17", "written_on = 2026-04-02"))
    assert _enclosed(assess(tmp_path / "ilmari-okonjo-vale"))[report].startswith("Letter of Medical Necessity")


def test_whoever_signed_the_order_and_held_the_encounter_stands_beside_it():
    people = [
        {"id": "first", "role": "practitioner", "name": "Ann First", "credential": "MD"},
        {"id": "second", "role": "practitioner", "name": "Bea Second", "credential": "NP"},
    ]
    for order, encounter, by in (
        ({}, {}, ["Ann First, MD"] * 3),
        ({"signed_by": "second"}, {}, ["Bea Second, NP", "Ann First, MD", "Ann First, MD"]),
        ({}, {"by": "second"}, ["Bea Second, NP"] * 3),
    ):
        rows = {
            row["paper"]: row["by"]
            for row in checklist(_case(people=people, order=order, encounter=encounter), (), WORDS)
        }
        assert [rows[WORDS["papers"][paper]] for paper in ("order", "encounter", "concurrence")] == by


def test_the_cover_names_every_paper_that_is_not_in_the_packet():
    words = " ".join(trees(ASSESSED["marisol-quenneville-tran"], ["cover"])["cover"].plain().split())
    papers = WORDS["papers"]
    kinds = ("order", "encounter", "evaluation", "statement", "concurrence", "supplier", "home")
    said = "A reviewer may ask for these papers, which are not in this packet: "
    assert f"{said}{'; '.join(papers[kind] for kind in kinds)}." in words
