"""Whole demo cases held against each payer: what blocks, what is asked, and how the payers differ."""

from __future__ import annotations

from functools import cache

import pytest
from gathered import of_each
from support import DEMOS

from docgen.console.check import check_report
from docgen.console.check_page import check_text
from docgen.criteria.payer import load, payers
from docgen.packet.assess import Assessed, assess
from docgen.resources import folder
from docgen.results import CaseCheck

PAYERS = [payer.id for payer in payers()]
TODAY = load("general", "").reviewed_on

# what blocks in an unfinished or unfounded case, whoever pays and asks the common ground
COMMON = {
    "anselm-kirawira-boone": {"standard_joystick", "reason_for_each_option", "no_risk"},
    "bohdan-lacroix-mbeki": {"grounds", "home", "supervision", "evaluator"},
}
# what could hurt someone, and so blocks whoever pays
DANGERS = {
    "anselm-kirawira-boone": {"no_risk"},
    "pilar-nakashima-holt": {"no_risk", "stops_in_space"},
}
# papers of Medicare's own: what is missing of them in a case that was recorded for other payers
PAPERS = {
    "anselm-kirawira-boone": {"authorization_packet"},  # the evaluation in it does not explain each option
    "bohdan-lacroix-mbeki": {
        "encounter_held",
        "encounter_signed",
        "claims_in_record",
        "specialist_record",
        "order_whole",
        "order_first",
        "one_practitioner",
        "signer",
        "items_on_order",
        "weight",
        "base_code",
        "one_chair",
    },
}
# rows of Medicare's that are a plan's own affair, and so never block under a plan that follows it
PLAN_OWN = {"authorization", "authorization_replacement", "authorization_packet", "delivery_in_time"}


@cache
def held(demo: str, payer: str) -> Assessed:
    """The demo case with the answers to one payer's rows."""
    return assess(folder("cases") / demo, load(payer, ""))


def of_other_age(demo: str, payer: str) -> set[str]:
    """The row that asks whether the rules are for the client's age, where they are not."""
    born = held(demo, payer).file.case.client.born_on
    young = born is not None and born.year > 2006
    return {"age"} if payer == ("medicaid_adult" if young else "medicaid_under_21") else set()


def blocked(demo: str, payer: str) -> set[str]:
    return {v.requirement.id for v in held(demo, payer).open}


def asked(demo: str, payer: str) -> set[str]:
    return {
        v.requirement.id for v in held(demo, payer).verdicts if v.open and v.bound and v.requirement.severity == "query"
    }


@pytest.mark.parametrize(
    "demo", sorted({*COMMON} | {"ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng"})
)
@pytest.mark.parametrize(
    ("payer", "expected"),
    [
        ("general", lambda demo: COMMON.get(demo, set())),
        ("medicare_part_b", lambda demo: COMMON.get(demo, set()) | PAPERS.get(demo, set())),
        ("private_following_medicare", lambda demo: (COMMON.get(demo, set()) | PAPERS.get(demo, set())) - PLAN_OWN),
        ("medicaid_adult", lambda demo: DANGERS.get(demo, set())),
        # a girl of four whose record does not say what the device corrects or improves
        (
            "medicaid_under_21",
            lambda demo: DANGERS.get(demo, set()) | ({"corrects"} if demo == "bohdan-lacroix-mbeki" else set()),
        ),
        ("charity_or_school", lambda demo: DANGERS.get(demo, set())),
    ],
)
def test_what_blocks_in_a_demo_case_under_each_payer(demo, payer, expected):
    assert blocked(demo, payer) == expected(demo) | of_other_age(demo, payer)


@pytest.mark.parametrize("demo", DEMOS)
def test_a_plan_that_follows_medicare_blocks_what_medicare_blocks_but_for_its_own_affairs(demo):
    assert blocked(demo, "private_following_medicare") == blocked(demo, "medicare_part_b") - PLAN_OWN
    assert blocked(demo, "medicare_part_b") >= blocked(demo, "general") - PLAN_OWN
    rules = held(demo, "private_following_medicare").file.case.request.local_rules
    assert ("local_rules" in asked(demo, "private_following_medicare")) is (rules is None)


@of_each("demo", DEMOS)
def test_a_charity_blocks_nothing_but_danger_and_still_asks_of_safety(demo):
    assert blocked(demo, "charity_or_school") == DANGERS.get(demo, set())
    unsafe = {
        v.criterion.id
        for v in held(demo, "general").verdicts
        if v.answer.status == "not_met" and v.criterion.heading == "safety" and v.bound
    }
    bound = {row.criterion for row in load("charity_or_school", "").requirements}
    told = {
        v.criterion.id
        for v in held(demo, "charity_or_school").verdicts
        if v.requirement.id in asked(demo, "charity_or_school")
    }
    assert told >= unsafe & bound and {"stops_on_request", "no_unanswered_risk"} <= bound


def test_a_charity_is_told_of_the_danger_first_and_then_that_stops_were_missed():
    page = check_text(check_report(CaseCheck(held("anselm-kirawira-boone", "charity_or_school"), TODAY)))
    assert "1 point must be settled first" in page.split("\n")[0]
    assert (
        "Someone could be hurt: this holds the packet back whatever the payer asks." in page
        and "4 of 6 stops on command were made" in page
        and "Charity, fund or school" in page
    )


@of_each("demo", DEMOS)
@of_each("payer", ["medicaid_adult", "medicaid_under_21"])
def test_medicaid_blocks_on_federal_law_and_danger_alone_and_asks_the_rest(demo, payer):
    federal = {"encounter", "corrects", "age"}
    assert blocked(demo, payer) - DANGERS.get(demo, set()) <= federal
    common = {v.criterion.id for v in held(demo, "general").open}
    told = {v.criterion.id for v in held(demo, payer).verdicts if v.open and v.bound}
    assert common & {row.criterion for row in load(payer, "").requirements} <= told


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("payer", PAYERS)
def test_every_row_in_force_is_answered_once_and_the_page_says_whose_rules_they_are(demo, payer):
    one = held(demo, payer)
    rows = load(payer, "").in_force(one.file.case.request.requested_on)
    assert sorted(v.requirement.id for v in one.verdicts if v.bound) == sorted(row.id for row in rows)
    told = check_report(CaseCheck(one, TODAY))
    page = check_text(told)
    assert f"Rules: {load(payer, '').name}" in page and told["blocking"] == len(blocked(demo, payer))
    assert ("MUST BE SETTLED FIRST" in page) is bool(told["blocking"]) is (told["verdict"] == "gaps")


@pytest.mark.parametrize(
    ("payer", "asks"),
    [("general", False), ("medicare_part_b", True), ("private_following_medicare", True), ("medicaid_adult", False)],
)
def test_only_medicare_and_who_follows_it_ask_for_a_modifier_on_each_line(payer, asks):
    # article A52504: each accessory line carries KX, GA, GZ or GY; no line of this case carries any
    one = held("ilmari-okonjo-vale", payer)
    assert not [item for item in one.file.case.configuration.items if item.modifier]
    assert ("modifiers" in asked("ilmari-okonjo-vale", payer)) is asks and "modifiers" not in blocked(
        "ilmari-okonjo-vale", payer
    )
