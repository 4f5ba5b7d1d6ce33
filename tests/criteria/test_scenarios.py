"""Sixteen invented requests: each published rule gives the answer that its text gives."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from gathered import of_each
from scenarios import (
    ABSENT,
    CHILD,
    CHILD_EXPECTED,
    DIFFERS,
    ELSEWHERE,
    FIRST_EXPECTED,
    FIRST_ROWS,
    NARROWED,
    NOT_MODELLED,
    RULES,
    SCENARIOS,
    YOUNG_RULES,
    scenario,
)
from whole_case import ask, changed, grounds

from docgen.criteria.calendar import calendar
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


def text_of(name):
    """What the texts say of a scenario: rule -> answer."""
    return FIRST_EXPECTED | SCENARIOS[name].get("expected", {})


@pytest.mark.parametrize("name", SCENARIOS)
def test_each_rule_gives_the_answer_of_its_text(name):
    told = SCENARIOS[name]
    case, rows = scenario(told["changes"]), told.get("rows", FIRST_ROWS)
    found = answers(MEDICARE, told["changes"], rows, case["request"]["requested_on"])
    here = grounds(case, rows)
    expected = text_of(name) | {rule: ours for (one, rule), (ours, _) in DIFFERS.items() if one == name.split()[0]}
    given = {rule: status_of(ids, found) for rule, ids in RULES.items()} | {
        rule: ask(criterion, here, **settings).status for rule, (criterion, settings) in NARROWED.items()
    }
    absent = {rule for rule in ABSENT if expected[rule] == "does_not_apply" and given[rule] == "met"}
    wrong = {
        rule: (given[rule], expected[rule], [found[row].reason for row in RULES.get(rule, ()) if row in found])
        for rule in expected
        if given[rule] != expected[rule] and rule not in absent
    }
    assert not wrong, "\n".join(f"{rule}: {told}" for rule, told in wrong.items())


def test_a_rule_of_what_is_absent_is_met_where_nothing_of_the_kind_is_ordered():
    found = answers(MEDICARE, (), FIRST_ROWS, date(2026, 3, 26))
    assert {rule: status_of(RULES[rule], found) for rule in ABSENT} == dict.fromkeys(ABSENT, "met")


@pytest.mark.parametrize(
    ("name", "row", "words"),
    [
        ("S5 late order, other signer", "encounter", "had to follow by March 2, 2026"),
        ("S15 late delivery", "delivery_in_time", "the last day for it was October 7, 2026"),
        ("S1", "decision_time", "8 business days later"),
        ("S11 wrong base", "weight", "318 lb (144.2 kg), and K0823 is for 0 to 300 lb"),
        ("S4 breath control taken apart", "included_parts", "E2325"),
        ("S8 swing-away for the table", "hardware_purpose", "roll under kitchen table"),
        (
            "S2 special control as the only power option",
            "joystick_class",
            "takes about 25 g and moves at most 5 mm (3/16 in); measured: pinch 35 g",
        ),
        ("S6 evaluator and specialist", "specialist_record", "took part by video"),
        ("S14 privacy", "only_what_bears", "1 diagnosis and 1 sentence"),
    ],
)
def test_the_reason_names_the_limit_or_the_line(name, row, words):
    told = SCENARIOS[name]
    found = answers(
        MEDICARE, told["changes"], told.get("rows", FIRST_ROWS), scenario(told["changes"])["request"]["requested_on"]
    )
    assert words in found[row].reason


def test_an_order_on_the_last_day_of_the_month_is_in_time_and_said_to_be_borderline():
    case = scenario(SCENARIOS["S16 month end"]["changes"])
    found = verdicts(grounds(case, FIRST_ROWS), MEDICARE, case["request"]["requested_on"])
    answer = next(v.answer for v in found if v.requirement.id == "encounter")
    # 2025-08-31 plus 180 days is 2026-02-27, counted on the calendar; six months clamp to 2026-02-28
    assert answer.status == "met" and "had to follow by February 28, 2026" in answer.reason
    entry = next(
        e
        for e in calendar(grounds(case, FIRST_ROWS).case, MEDICARE, found)
        if "the order, after the encounter" in e.what
    )
    assert entry.note == "Borderline: 181 days; whoever counts 180 days instead of 6 months ends on February 27, 2026."
    assert entry.state(date(2026, 3, 26)) == "kept"


def test_a_control_for_a_chair_already_there_needs_no_new_encounter():
    # Program Integrity Manual 5.11.2; the encounter, the base order and the authorization belong to the chair
    case = changed(("request.kind", "control_only"), ("encounter", {}), ("dates.encounter_on", date(2020, 1, 1)))
    found = {v.requirement.id: v for v in verdicts(grounds(case), MEDICARE, date(2026, 5, 4))}
    rows = (
        "encounter",
        "encounter_held",
        "encounter_signed",
        "encounter_narrative",
        "encounter_answers",
        "need_apart",
        "one_practitioner",
        "authorization",
        "authorization_packet",
    )
    assert {found[row].answer.status for row in rows} == {"does_not_apply"}


def test_a_thin_file_fails_nothing():
    thin = next(name for name in SCENARIOS if name.startswith("S7 "))
    found = answers(MEDICARE, SCENARIOS[thin]["changes"], (), date(2026, 3, 26))
    assert not [row for rows in RULES.values() for row in rows if row in found and found[row].status == "not_met"]


def test_a_child_under_medicaid():
    found = answers(YOUNG, CHILD, FIRST_ROWS, date(2026, 4, 1))
    assert {rule: status_of(YOUNG_RULES[rule], found) for rule in CHILD_EXPECTED} == CHILD_EXPECTED


def test_rules_of_medicare_alone_weigh_nothing_under_medicaid():
    only = {
        "need_at_home",
        "order_before_delivery",
        "order_is_complete",
        "same_practitioner",
        "encounter_before_order",
        "encounter_documented",
        "evaluation_before_order",
        "authorization_before_delivery",
        "delivered_in_time",
        "papers_agree",
        "packet_whole",
    }
    assert not only & {row.criterion for row in YOUNG.requirements}
    found = verdicts(grounds(scenario(CHILD), FIRST_ROWS), YOUNG, date(2026, 4, 1))
    assert only <= {v.criterion.id for v in found} and not [v for v in found if v.criterion.id in only and v.blocks]


def test_every_rule_is_bound_or_has_its_reason():
    """Every rule noted from the texts is bound here, asked with the codes, or listed with why it is not."""
    ids = [
        *(f"NCD-{n}" for n in (*range(10), "9c")),
        "SEL-1",
        "SEL-2",
        *(f"ORD-{n}" for n in range(1, 7)),
        *(f"F2F-{n}" for n in range(1, 8)),
        "LCMP-1",
        "LCMP-2",
        *(f"DOC-{n}" for n in range(1, 7)),
        *(
            f"PMD-{n}"
            for n in (
                (
                    "A B C POV JK L M N O DUR OUT G12 SPO MPO G3 G3P G4 G5 CUST SPEC FIN ATP ATPD HOME SEAT ONE CODED"
                ).split()
            )
        ),
        "PA-1",
        "PA-2",
        *(f"ACC-{n}" for n in range(1, 29)),
        "SEA-1",
        "SEA-2",
        *(f"SUP-{n}" for n in range(1, 7)),
        *(f"CON-{n}" for n in range(1, 10)),
        *(f"MCD-{n}" for n in range(1, 7)),
        *(f"EPS-{n}" for n in range(1, 4)),
        *(f"HIP-{n}" for n in range(1, 8)),
        *(f"T-{n}" for n in range(1, 20)),
        "T-X",
        *(f"C-{n}" for n in range(1, 7)),
    ]
    kinds = ({*RULES} | {*YOUNG_RULES}, {*NARROWED}, {*ELSEWHERE}, {*NOT_MODELLED})
    assert set().union(*kinds) == set(ids) and sum(map(len, kinds)) == len(ids)
    assert len(NOT_MODELLED) < 10 and all(NOT_MODELLED.values())
    written = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_*.py"))
    assert not [name for name in ELSEWHERE.values() if f"def {name}(" not in written]
    assert {row for rows in RULES.values() for row in rows} <= {row.id for row in MEDICARE.requirements}
    assert {row for rows in YOUNG_RULES.values() for row in rows} <= {row.id for row in YOUNG.requirements}


@of_each(("one", "rule"), DIFFERS)
def test_a_difference_is_a_real_one_and_says_why(one, rule):
    ours, why = DIFFERS[one, rule]
    name = next(name for name in SCENARIOS if name.split()[0] == one)
    assert why and ours != text_of(name)[rule]


def test_all_sixteen_scenarios_are_asked():
    assert {name.split()[0].rstrip("b") for name in SCENARIOS} | {"S9"} == {f"S{n}" for n in range(1, 17)}
