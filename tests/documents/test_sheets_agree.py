"""Card, booklet, log and emergency page say one thing of each thing: letters, order, parts, people."""

from __future__ import annotations

import re
from functools import cache

import pytest
from support import ASSESSED, DEMOS

from docgen.figures.stop_sites import switches_of
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.rendering.tree import Node

DEMO = pytest.mark.parametrize("name", DEMOS)
SHEETS = ("card", "guide", "log", "emergency")
ORDER = ("hips", "belt", "feet", "shoulders", "head")


@cache
def sheets(name: str) -> dict[str, Node]:
    return trees(ASSESSED[name], SHEETS)


def tables(tree: Node) -> dict[str, Node]:
    """The tables of a sheet by the words of their first heading."""
    return {block.children[0].children[0].plain(): block for block in tree.children if block.kind == "table"}


@DEMO
def test_a_letter_means_one_switch_on_every_sheet_and_in_the_drawing(name):
    case = ASSESSED[name].file.case
    drawn = {letter: text for letter, _, _, text, _ in switches_of(case)}
    card = sheets(name)["card"].plain()
    for letter, place in drawn.items():
        if letter in "AB":
            assert f"{letter}: {place}" in card
        if letter == "E":
            assert f"Switch E: {place}" in card or f"presses E: {place}" in card
    if "D" in drawn:
        assert "Use D." in card and drawn["D"].rstrip(".").lower() in card.lower()
    # the other sheets name no letter that the drawing of the card lacks, but for D where no other way is recorded
    told = {letter for tree in sheets(name).values() for letter in re.findall(r"\b([A-G])(?=[.,;:)])", tree.plain())}
    own = {initial for person in case.people if person.name for initial in re.findall(r"\b([A-G])\.", person.name)}
    assert told - own - {"A", "B"} <= drawn.keys() | {"D"}
    guide = sheets(name)["guide"].plain()
    assert ("(C)" in guide) is ("C" in drawn) and ("Turn F: driving is off" in card) is ("F" in drawn)


@DEMO
def test_no_part_of_the_control_has_the_name_of_another_switch(name):
    """Two stop switches, one at the cheek and one on the back, had one name: a helper checked the wrong one."""
    case = ASSESSED[name].file.case
    names = {language_words()["figures"][word].lower() for _, _, word, _, _ in switches_of(case)}
    parts = [mount.part.lower() for mount in case.configuration.mounting]
    assert not names & set(parts) and len(parts) == len(set(parts))


@DEMO
def test_the_body_is_set_in_one_order_on_card_and_booklet(name):
    card, guide = sheets(name)["card"], sheets(name)["guide"]
    lists = [block for block in card.children if block.kind == "list" and block.ordered]
    steps = next(block for block in lists if block.plain().startswith("Hips"))
    told = " ".join(step.plain().lower() for step in steps.children[:4])
    sentence = next(item for item in re.split(r"(?<=\.)", guide.plain()) if "In this order, as on the card" in item)
    for text in (told, sentence.lower()):
        places = [text.index(part) for part in ORDER]
        assert places == sorted(places)


@DEMO
def test_every_part_of_the_control_is_checked_placed_and_put_back(name):
    case = ASSESSED[name].file.case
    card, guide = sheets(name)["card"], sheets(name)["guide"]
    for number, mount in enumerate(case.configuration.mounting, 1):  # the number of the part in the drawings
        part = f"{number} {mount.part[:1].upper()}{mount.part[1:]}"
        checked = [row for row in tables(card)["Part"].children if row.children[0].plain() == part]
        placed = [row for row in tables(guide)["Part"].children if row.children[0].plain() == part]
        assert len(checked) == len(placed) == 1
        kind = "hinge" if mount.mark_kind == "lines" and mount.swings else mount.mark_kind
        assert (language_words()["mark_seen"][kind] if kind else mount.mark or "") in checked[0].plain()
    if case.configuration.mounting:
        moving = guide.plain().partition("Moving in and out")[2].partition("Meals")[0]
        assert "slings clear of the control and its cables" in moving and "gap again" in moving
        assert {"pad_layout", "gap_gauge"} <= {block.name for block in guide.children if block.kind == "figure"}


@DEMO
def test_whoever_a_sheet_asks_to_be_near_is_on_the_list_of_the_log(name):
    case = ASSESSED[name].file.case
    if not case.taught:  # then both sheets forbid driving
        return
    listed = {row.children[0].plain() for row in tables(sheets(name)["log"])["Name"].children[1:]}
    near = {who for place in case.supervision if not place.is_later for who in place.who} | {case.training.coach}
    for who in near - {None}:
        person = case.person(who)
        assert person and person.name in listed, who
        skills = {skill for taught in case.taught if taught.who == who for skill in taught.skills}
        assert "stop" in skills, f"{who} is to be near and was not shown the stop"


@DEMO
def test_a_night_a_fire_and_a_stop_are_told_on_the_card_and_only_led_to_elsewhere(name):
    made = sheets(name)
    card, guide = made["card"].plain(), made["guide"].plain()
    assert card.count("At night.") == card.count("Smoke or fire:") == 1
    assert "Who is near at night: the card." in guide and "Smoke or fire: the card." in guide
    assert "Do the stop test of the card" in guide and "it must stay still" not in guide
