"""Payers that extend another, rules past their review, and rows that change with the day of the request."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each
from whole_case import AUTHORIZED, DELIVERED, WHOLE, changed, grounds

from docgen.criteria.criterion import HEADINGS, criteria
from docgen.criteria.payer import load, payers, read_payer
from docgen.criteria.run import blocking, verdicts
from docgen.errors import UserError

MEDICARE = load("medicare_part_b", "")
TODAY = date(2026, 11, 25)
DELIVERED_AND_STOPPED = (*DELIVERED, ("configuration.stop.passed_on", date(2026, 8, 3)))
HEAD = """\
id = "{0}"
name = "{0} plan"
reviewed_on = 2026-01-01
review_by = {1}
"""
ROW = """
[[requirements]]
id = "{0}"
criterion = "{1}"
severity = "{2}"
from = 2020-01-01
citation = "text"
known = "read"
"""


@pytest.fixture
def plan(tmp_path):
    """Write a payer file into one folder; returns its path."""

    def write(name, *rows, extends=None, review_by="2027-01-01", requirements=None):
        text = HEAD.format(name, review_by) + (f'extends = "{extends}"\n' if extends else "")
        text += "".join(ROW.format(*row) for row in rows) if requirements is None else requirements
        path = tmp_path / f"{name}.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_a_payer_takes_over_the_rows_of_the_one_it_extends_and_replaces_those_it_names(plan):
    plan("parent", ("goals", "goals_set", "advise"), ("willing", "client_willing", "blocks"))
    child = read_payer(
        plan("child", ("goals", "goals_set", "query"), ("home", "fits_the_home", "query"), extends="parent")
    )
    assert [(row.id, row.severity) for row in child.requirements] == [
        ("goals", "query"),
        ("willing", "blocks"),
        ("home", "query"),
    ]
    assert child.id == "child" and child.extends == "parent"


def test_rows_come_down_from_the_payer_that_the_parent_extends(plan):
    plan("first", ("goals", "goals_set", "advise"))
    plan("second", ("willing", "client_willing", "query"), extends="first")
    third = read_payer(plan("third", ("home", "fits_the_home", "query"), extends="second"))
    assert [row.id for row in third.requirements] == ["goals", "willing", "home"]


def test_a_local_payer_may_extend_one_that_comes_with_the_program(plan):
    local = read_payer(plan("local", ("encounter", "encounter_before_order", "query"), extends="general"))
    general = load("general", "")
    assert [row.id for row in local.requirements] == [row.id for row in general.requirements]
    assert next(row for row in local.requirements if row.id == "encounter").severity == "query"


@pytest.mark.parametrize(
    ("extends", "words"),
    [
        ("parrent", "unknown payer 'parrent'. Did you mean 'parent'?"),
        ("child", "'child' extends this payer in turn"),
        ("other", "extends this payer in turn"),
    ],
)
def test_a_wrong_extends_is_named_with_its_line(plan, extends, words):
    plan("parent", ("goals", "goals_set", "advise"))
    plan("other", ("goals", "goals_set", "advise"), extends="child")
    path = plan("child", ("home", "fits_the_home", "query"), extends=extends)
    with pytest.raises(UserError) as caught:
        read_payer(path)
    (problem,) = caught.value.problems
    assert problem.where.endswith(".toml:5") and words in str(problem)


def test_a_mistake_in_the_parent_is_named_in_the_parent(plan):
    parent = plan("parent", ("goals", "goals_st", "advise"))
    with pytest.raises(UserError) as caught:
        read_payer(plan("child", ("home", "fits_the_home", "query"), extends="parent"))
    assert str(caught.value).startswith(f"{parent}:8: unknown criterion 'goals_st'")


@pytest.mark.parametrize(
    ("on", "overdue"), [(date(2026, 12, 31), False), (date(2027, 1, 1), False), (date(2027, 1, 2), True)]
)
def test_rules_are_overdue_from_the_day_after_their_review(plan, on, overdue):
    assert read_payer(plan("one", ("goals", "goals_set", "advise"))).overdue(on) is overdue


def test_a_payer_is_overdue_with_the_one_it_extends(plan):
    plan("parent", ("goals", "goals_set", "advise"), review_by="2026-06-30")
    child = read_payer(plan("child", ("home", "fits_the_home", "query"), extends="parent"))
    assert child.review_by == date(2026, 6, 30) and child.overdue(date(2026, 7, 1))
    sooner = plan("sooner", ("home", "fits_the_home", "query"), extends="parent", review_by="2026-03-31")
    assert read_payer(sooner).review_by == date(2026, 3, 31)


# ---- the payers that come with the program -----------------------------------------------------------------


def test_the_six_payers_are_there():
    assert {payer.id for payer in payers()} >= {
        "general",
        "medicare_part_b",
        "medicaid_adult",
        "medicaid_under_21",
        "private_following_medicare",
        "charity_or_school",
    }


def test_medicare_binds_about_eighty_requirements_under_every_heading():
    rows = MEDICARE.in_force(TODAY)
    assert len(rows) >= 80 and {criteria()[row.criterion].heading for row in rows} == set(HEADINGS)


def test_a_charity_blocks_nothing():
    rows = load("charity_or_school", "").requirements
    assert {row.severity for row in rows} == {"advise", "query"}
    assert {criteria()[row.criterion].heading for row in rows if row.severity == "query"} == {"safety"}


def test_a_private_plan_asks_what_medicare_asks_and_blocks_less():
    private, of_medicare = load("private_following_medicare", ""), {row.id for row in MEDICARE.requirements}
    assert {row.id for row in private.requirements} >= of_medicare
    assert sum(row.severity == "blocks" for row in private.requirements) < sum(
        row.severity == "blocks" for row in MEDICARE.requirements
    )


@pytest.mark.parametrize("point", ["order_missing", "replacement_encounter", "base_on_no_list"])
def test_points_on_which_sources_differ_only_query_and_cite_both(point):
    row = next(row for row in MEDICARE.requirements if row.id == point)
    assert row.severity == "query" and " against " in row.citation


def test_the_whole_case_is_ready_for_medicare_before_and_after_delivery():
    for changes in ((), AUTHORIZED, DELIVERED_AND_STOPPED):
        assert not blocking(verdicts(grounds(changed(*changes)), MEDICARE, TODAY)), changes


def retired():
    return [pytest.param(row, id=row.id) for row in MEDICARE.requirements if row.until_on]


@of_each("row", retired())
def test_a_row_that_ended_stays_with_its_last_day_and_is_asked_until_then(row):
    assert row in MEDICARE.in_force(row.until_on) and row not in MEDICARE.in_force(row.until_on + timedelta(days=1))


def test_the_rules_that_ended_with_2019_are_listed():
    # LCD L33789, revision history R6: seven elements, 45 days, 120 days, detailed description
    ended = {row.id for row in MEDICARE.requirements if row.until_on == date(2019, 12, 31)}
    assert ended == {
        "order_seven_elements",
        "order_received_45_days",
        "delivery_120_days",
        "detailed_description",
        "encounter_45_days",
    }


@pytest.mark.parametrize(
    ("changes", "row", "before", "after"),
    [
        # contractor notices of 2024-05: replacements need authorization from 2024-06-02
        (
            [*DELIVERED, ("request.kind", "replacement"), ("authorization.decision", "not_affirmed")],
            "authorization_replacement",
            (date(2024, 6, 1), None),
            (date(2024, 6, 2), "not_met"),
        ),
        # LCD L33789, revision history R6: delivery within 120 days ended with 2019; February 20 to August 3 is more
        # than 4 months
        (DELIVERED, "delivery_120_days", (date(2019, 12, 31), "not_met"), (date(2020, 1, 1), None)),
        # 71 FR 17021: 45 days, counted as 2 months, ended with 2019; from 2020 six months (42 CFR 410.38)
        (
            [("dates.ordered_on", date(2026, 5, 20))],
            "encounter_45_days",
            (date(2019, 12, 31), "not_met"),
            (date(2020, 1, 1), None),
        ),
        ([("dates.ordered_on", date(2026, 5, 20))], "encounter", (date(2019, 12, 31), None), (date(2020, 1, 1), "met")),
        # Program Integrity Manual 5.4.1, effective 2026-04-20
        (
            [("request.kind", "replacement")],
            "replacement_encounter",
            (date(2026, 4, 19), None),
            (date(2026, 4, 20), "cannot_tell"),
        ),
    ],
    ids=["replacement", "120 days", "45 days", "six months", "sources differ"],
)
def test_the_day_of_the_request_changes_the_verdict_at_the_boundary(changes, row, before, after):
    here = grounds(changed(*changes))
    for on, status in (before, after):
        found = {v.requirement.id: v.answer.status for v in verdicts(here, MEDICARE, on)}
        assert found.get(row) == status, on


def test_the_request_date_alone_turns_a_case_from_ready_to_not_ready():
    here = grounds(changed(*DELIVERED, ("request.kind", "replacement"), ("authorization.decision", "not_affirmed")))
    blocked = [
        {v.requirement.id for v in blocking(verdicts(here, MEDICARE, on))}
        for on in (date(2024, 6, 1), date(2024, 6, 2))
    ]
    assert blocked[1] - blocked[0] == {"authorization_replacement"}


def test_every_payer_answers_the_whole_case_without_a_failure():
    for payer in payers():
        found = verdicts(grounds(WHOLE), payer, TODAY)
        failed = {v.requirement.id for v in found if v.answer.status == "not_met"}
        other_age = {"age"} if payer.id == "medicaid_under_21" else set()  # the whole case is an adult's
        assert {v.criterion.id for v in found} == set(criteria()) and failed == other_age, payer.id
