"""What may block: only rows whose text was seen, whose numbers are the text's own, and whose first day is no
recollection."""

from __future__ import annotations

import re
from datetime import date

import pytest
from gathered import of_each
from pydantic import ValidationError
from whole_case import GONE, ask, changed, grounds

from docgen.codes import hcpcs
from docgen.criteria.criterion import criteria
from docgen.criteria.payer import Requirement, load, payers, read_payer
from docgen.errors import UserError

SEEN = ("read", "passage", "summary")
BLOCKING = [
    pytest.param(row, id=f"{payer.id}.{row.id}")
    for payer in payers()
    for row in payer.requirements
    if row.severity == "blocks"
]

# every number on which a blocking row may rest -> where it is published
PUBLISHED = {
    ("encounter_before_order", "months", 6): "42 CFR 410.38(d)(2): within 6 months before the order",
    ("medicaid_encounter_in_time", "months", 6): "42 CFR 440.70(f): at most 6 months before the start of services",
    ("delivered_in_time", "months", 6): "LCD L33789: delivery within 6 months after the affirmation",
    ("need_lasts", "months", 3): "LCD L33789, miscellaneous part: not under 3 months for a reversible condition",
    (
        "electronics_have_a_trigger",
        "motors",
        3,
    ): "Power Wheelchair Electronics Clarification: three or more seat motors",
    ("corrects_or_improves", "under_years", 21): "42 USC 1396d(r)(5): under 21",
    ("rules_for_this_age", "years", 21): "42 USC 1396d(r)(5): under 21",
    ("fits_the_home", "least_side_mm", 0.0): "geometry: a chair wider than the door does not pass",
}


def numbers(row):
    """Settings of a row that are numbers, its own or those of its criterion."""
    settings = {**criteria()[row.criterion].settings, **row.settings}
    return {
        (row.criterion, name, value)
        for name, value in settings.items()
        if isinstance(value, (int, float)) and not isinstance(value, bool)
    }


@of_each("row", BLOCKING)
def test_a_row_that_blocks_was_seen_and_its_numbers_are_published(row):
    assert row.known in SEEN and row.version
    assert numbers(row) <= set(PUBLISHED), "a number of ours may only query"


@of_each("row", BLOCKING)
def test_a_row_that_blocks_admits_to_no_memory_inference_or_number_of_ours(row):
    assert not re.search(
        r"memory|inference|no source|is ours|our reading|common practice", f"{row.citation} {row.version}"
    )


def test_each_published_number_is_used_by_a_row_that_blocks():
    assert {one for param in BLOCKING for one in numbers(param.values[0])} == set(PUBLISHED)


@pytest.mark.parametrize("criterion", ["driver_is_safe", "drives_reliably", "stops_on_request"])
def test_a_floor_of_ours_queries(criterion):
    rows = [row for payer in payers() for row in payer.requirements if row.criterion == criterion]
    assert rows and all(row.severity != "blocks" and row.known == "inference" for row in rows)


@pytest.mark.parametrize("known", ["memory", "inference"])
def test_a_payer_file_with_a_row_that_blocks_on_hearsay_is_refused(tmp_path, known):
    path = tmp_path / "plan.toml"
    path.write_text(
        f"""\
id = "plan"
name = "Plan"
extends = "general"
reviewed_on = 2026-01-01
review_by = 2027-01-01

[[requirements]]
id = "home"
criterion = "fits_the_home"
severity = "blocks"
from = 2020-01-01
citation = "text"
known = "{known}"
""",
        encoding="utf-8",
    )
    with pytest.raises(UserError) as caught:
        read_payer(path)
    assert str(caught.value) == (
        f"{path}:10: a row known from {known} cannot block. Make it query or advise until someone has read the source."
    )
    path.write_text(path.read_text(encoding="utf-8").replace('"blocks"', '"query"'), encoding="utf-8")
    assert next(row for row in read_payer(path).requirements if row.id == "home").severity == "query"


def test_a_row_cannot_be_known_in_a_way_that_nobody_has_thought_about():
    with pytest.raises(ValidationError):
        Requirement(
            id="row",
            criterion="goals_set",
            severity="blocks",
            **{"from": date(2020, 1, 1)},
            citation="text",
            known="hearsay",
        )


# Severities of the published texts where they are less than a ground for refusal: a reviewer asks, and does not refuse.
@of_each(
    ("payer", "row"),
    [
        ("general", "electronics"),
        ("medicare_part_b", "modifiers"),
        ("medicare_part_b", "settings"),
        ("medicare_part_b", "specialist_later"),
        ("medicare_part_b", "encounter_narrative"),
        ("medicare_part_b", "encounter_answers"),
        ("medicare_part_b", "need_apart"),
        ("medicare_part_b", "request_items"),
        ("medicare_part_b", "request_base"),
        ("medicare_part_b", "specialist_own"),
        ("general", "report_accepted"),
        ("general", "limits_screened"),
        ("general", "parts_with_controls"),
        ("general", "joystick_class"),
    ],
)
def test_what_the_texts_only_ask_does_not_block(payer, row):
    assert next(one for one in load(payer, "").requirements if one.id == row).severity == "query"


@of_each(
    "code",
    [code for code in hcpcs.codes().values() if code.status != "in_use" or code.from_on or code.until_on],
    ids=lambda code: code.id,
)
def test_a_code_that_can_be_refused_for_its_status_or_day_was_seen(code):
    assert code.known in SEEN and code.source


@pytest.mark.parametrize("code", ["E1005", "E1012"])
def test_motors_known_by_inference_settle_no_connection_code(code):
    assert hcpcs.code(code).known == "inference" and hcpcs.code(code).motors
    here = grounds(changed(("configuration.items.4.code", code), ("configuration.chair.seat_actuators", GONE)))
    assert ask("connection_code_fits_motors", here).status == "cannot_tell"
