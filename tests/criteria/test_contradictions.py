"""Where published texts differ, a case is asked about it with both of them named, on the page too, and nothing is
decided."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from whole_case import DELIVERED, GONE, ROWS, changed, grounds

from docgen.case.read import CaseFile
from docgen.console.check import check_report
from docgen.console.check_page import check_text
from docgen.criteria.payer import load, payers
from docgen.criteria.run import verdicts
from docgen.packet.assess import Assessed
from docgen.results import CaseCheck

MEDICARE = load("medicare_part_b", "")
ON = date(2026, 11, 25)
ELECTRONICS_ALONE = ("configuration.items.0", GONE)
SECOND = {
    "id": "second",
    "name": "attendant control",
    "code": "E2331",
    "why": "Steers it.",
    "because": ["transfer_sling"],
}

# point on which texts differ -> its row, a case it touches, the two texts, and where the payer's answer goes
POINTS = {
    "hardware of a head control": (
        "head_hardware",
        [("configuration.items.3.payer_says", GONE)],
        ("E1032 (joint notice", "article A52504 lists"),
        "configuration.items.3.payer_says",
    ),
    "no order before delivery": (
        "order_missing",
        [*DELIVERED, ("order.received_on", date(2026, 8, 4))],
        ("LCD L33789 and article A52504", "older contractor article"),
        "request.payer_says",
    ),
    "a replacement": (
        "replacement_encounter",
        [("request.kind", "replacement")],
        ("Program Integrity Manual 5.4.1", "contractor notice of 2024"),
        "request.payer_says",
    ),
    "an attendant control": (
        "attendant_line",
        [("configuration.items.+", SECOND)],
        ("article A52504 defines", "LCD L33792"),
        "configuration.items.6.payer_says",
    ),
    "the motors that count": (
        "motor_count",
        [ELECTRONICS_ALONE],
        ("article A52504 counts", "Power Wheelchair Electronics Clarification"),
        None,
    ),
    "a base on no list": (
        "base_on_no_list",
        [("configuration.chair.base_code", "K0890")],
        ("list of 2026-07-29", "42 CFR 410.38"),
        "request.payer_says",
    ),
}


def page(here):
    """The page of a case held against Medicare's rows."""
    file = CaseFile(here.case, Path("case"), {}, "")
    return check_text(
        check_report(CaseCheck(Assessed(file, here.evidence, here, MEDICARE, verdicts(here, MEDICARE, ON)), ON))
    )


@pytest.mark.parametrize(("row", "changes", "texts", "says"), POINTS.values(), ids=list(POINTS))
def test_a_point_on_which_texts_differ_is_a_query_with_both_and_is_settled_by_the_payer_alone(
    row, changes, texts, says
):
    found = next(v for v in verdicts(grounds(changed(*changes), ROWS), MEDICARE, ON) if v.requirement.id == row)
    assert found.requirement.severity == "query" and found.answer.status == "cannot_tell" and not found.blocks
    assert all(text in found.requirement.citation for text in texts) and "sk the payer" in found.answer.to_settle
    told = " ".join(page(grounds(changed(*changes), ROWS)).split())
    asked = told.split("A REVIEWER MAY ASK")[1].split("SHORTEST WAY TO READY")[0].split("WHAT EXPIRES WHEN")[0]
    assert all(text in asked for text in texts) and found.answer.reason in asked
    if says:
        settled = grounds(changed(*changes, (says, "2026-05-04, by phone: yes.")), ROWS)
        assert {v.requirement.id: v.answer.status for v in verdicts(settled, MEDICARE, ON)}[row] == "met"


def test_the_case_that_no_point_touches_is_asked_about_none():
    untouched = {
        v.requirement.id: v.answer.status
        for v in verdicts(grounds(changed(("configuration.items.3", GONE))), MEDICARE, ON)
    }
    assert {untouched[row] for row, *_ in POINTS.values()} == {"does_not_apply"}


def test_no_payer_decides_such_a_point_by_blocking():
    for payer in payers():
        assert all(
            row.severity != "blocks"
            for row in payer.requirements
            if row.criterion in ("unclear_lines_settled", "sources_settled")
        )


def test_electronics_by_motors_alone_ask_for_the_number_first_where_it_is_not_recorded():
    bare = [ELECTRONICS_ALONE, ("configuration.chair.seat_actuators", GONE), ("configuration.items.3.code", "E1010")]
    found = next(v for v in verdicts(grounds(changed(*bare)), MEDICARE, ON) if v.requirement.id == "motor_count")
    assert found.answer.status == "cannot_tell" and "here they are not recorded" in found.answer.reason
    assert found.answer.to_settle.startswith(
        "Fill in configuration.chair.seat_actuators <number of seat motors>; then ask the payer"
    )
    assert ("configuration", "chair", "seat_actuators") in found.answer.where
    counted = next(
        v for v in verdicts(grounds(changed(ELECTRONICS_ALONE)), MEDICARE, ON) if v.requirement.id == "motor_count"
    )
    assert (
        "1 move the seat, 1 of them tilt and recline" in counted.answer.reason
        and counted.answer.to_settle.startswith("Ask the payer")
    )
