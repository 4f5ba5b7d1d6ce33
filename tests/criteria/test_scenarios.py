"""Sixteen invented requests: each published rule gives the answer that its text gives."""

from __future__ import annotations

from datetime import date

import pytest
from scenarios import (
    CHILD,
    CHILD_EXPECTED,
    DIFFERS,
    ELSEWHERE,
    FIRST_EXPECTED,
    FIRST_ROWS,
    NOT_MODELLED,
    RULES,
    SCENARIOS,
    YOUNG_RULES,
    scenario,
)
from whole_case import grounds

from docgen.criteria.payer import load
from docgen.criteria.run import verdicts

MEDICARE, YOUNG = load("medicare_part_b", ""), load("medicaid_under_21", "")
WORST = ("not_met", "cannot_tell", "met", "does_not_apply")


def answers(payer, changes, rows, on):
    """Row id -> its answer on that day."""
    return {v.requirement.id: v.answer for v in verdicts(grounds(scenario(changes), rows), payer, on)}


def status_of(rows, found):
    """The worst answer of these rows; a row that is not in force on that day does not apply."""
    return min((found[row].status if row in found else "does_not_apply" for row in rows), key=WORST.index)


@pytest.mark.parametrize("name", SCENARIOS)
def test_each_rule_gives_the_answer_of_its_text(name):
    told = SCENARIOS[name]
    case = scenario(told["changes"])
    found = answers(MEDICARE, told["changes"], told.get("rows", FIRST_ROWS), case["request"]["requested_on"])
    expected = FIRST_EXPECTED | told.get("expected", {}) | {rule: ours for (one, rule), (ours, _) in DIFFERS.items() if one == name.split()[0]}
    wrong = {rule: (status_of(rows, found), expected[rule], [found[row].reason for row in rows if row in found])
             for rule, rows in RULES.items() if status_of(rows, found) != expected[rule]}
    assert not wrong, "\n".join(f"{rule}: {told}" for rule, told in wrong.items())


def test_a_thin_file_fails_nothing():
    thin = next(name for name in SCENARIOS if name.startswith("S7 "))
    found = answers(MEDICARE, SCENARIOS[thin]["changes"], (), date(2026, 3, 26))
    assert not [row for rows in RULES.values() for row in rows if row in found and found[row].status == "not_met"]


def test_a_child_under_medicaid():
    found = answers(YOUNG, CHILD, FIRST_ROWS, date(2026, 4, 1))
    assert {rule: status_of(YOUNG_RULES[rule], found) for rule in CHILD_EXPECTED} == CHILD_EXPECTED


def test_rules_of_medicare_alone_weigh_nothing_under_medicaid():
    only = {"need_at_home", "order_before_delivery", "order_is_complete", "same_practitioner", "encounter_before_order", "encounter_documented",
            "evaluation_before_order", "authorization_before_delivery", "delivered_in_time", "papers_agree", "packet_whole"}
    assert not only & {row.criterion for row in YOUNG.requirements}
    found = verdicts(grounds(scenario(CHILD), FIRST_ROWS), YOUNG, date(2026, 4, 1))
    assert only <= {v.criterion.id for v in found} and not [v for v in found if v.criterion.id in only and v.blocks]


def test_every_rule_is_bound_or_has_its_reason():
    """Every rule noted from the texts is bound here, asked with the codes, or listed with why it is not."""
    ids = [*(f"NCD-{n}" for n in (*range(10), "9c")), "SEL-1", "SEL-2", *(f"ORD-{n}" for n in range(1, 7)), *(f"F2F-{n}" for n in range(1, 8)),
           "LCMP-1", "LCMP-2", *(f"DOC-{n}" for n in range(1, 7)),
           *(f"PMD-{n}" for n in ("A B C POV JK L M N O DUR OUT G12 SPO MPO G3 G3P G4 G5 CUST SPEC FIN ATP ATPD HOME SEAT ONE CODED".split())),
           "PA-1", "PA-2", *(f"ACC-{n}" for n in range(1, 29)), "SEA-1", "SEA-2", *(f"SUP-{n}" for n in range(1, 7)),
           *(f"CON-{n}" for n in range(1, 10)), *(f"MCD-{n}" for n in range(1, 7)), *(f"EPS-{n}" for n in range(1, 4)),
           *(f"HIP-{n}" for n in range(1, 8)), *(f"T-{n}" for n in range(1, 20)), "T-X", *(f"C-{n}" for n in range(1, 7))]
    assert not {*RULES} & {*NOT_MODELLED} and not {*RULES} & ELSEWHERE
    assert {*RULES} | {*YOUNG_RULES} | ELSEWHERE | {*NOT_MODELLED} == set(ids)
    assert {row for rows in RULES.values() for row in rows} <= {row.id for row in MEDICARE.requirements}
    assert {row for rows in YOUNG_RULES.values() for row in rows} <= {row.id for row in YOUNG.requirements}


@pytest.mark.parametrize(("one", "rule"), DIFFERS)
def test_a_difference_is_a_real_one_and_says_why(one, rule):
    ours, why = DIFFERS[one, rule]
    told = next(told for name, told in SCENARIOS.items() if name.split()[0] == one)
    assert why and ours != (FIRST_EXPECTED | told.get("expected", {}))[rule]
