"""Numbers that dial and places to jump to, in documents for daily use."""

from __future__ import annotations

import pytest
from gathered import of_each
from support import ASSESSED

from docgen.packet.dial import jumps_of, numbers_of, with_dialling
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import wording
from docgen.rendering.tree import parse

ILMARI = ASSESSED["ilmari-okonjo-vale"]


def linked(markdown: str, **client) -> list[tuple[str, str]]:
    case = ILMARI.file.case
    people = tuple(
        person.model_copy(update={"phone": client.pop("phone")}) if "phone" in client else person
        for person in case.people
    )
    tree = with_dialling(parse(markdown), case.model_copy(update={"people": people}))
    return [(node.target, node.plain()) for node in tree.walk() if node.kind == "link"]


@of_each(
    "words, found",
    [
        ("Call 911 now.", [("tel:911", "911")]),
        ("Call 911. Then 555-0177.", [("tel:911", "911"), ("tel:5550177", "555-0177")]),
        ("- **911**\n- a", [("tel:911", "911")]),
        ("| a |\n|--|\n| 911 |", [("tel:911", "911")]),
        ("Not 9110, 1911 or 555-911.", []),
        ("## Call 911", []),
        ("[911](tel:112)", [("tel:112", "911")]),
    ],
)
def test_a_number_of_the_case_is_a_link_where_it_stands_by_itself(words, found):
    assert linked(words) == found


def test_a_number_with_an_area_code_and_a_country_dials_its_digits():
    assert linked("Call +1 (207) 555-0131.", phone="+1 (207) 555-0131") == [("tel:+12075550131", "+1 (207) 555-0131")]


def test_words_in_the_place_of_a_number_dial_nothing():
    case = ILMARI.file.case
    person = case.people[0].model_copy(update={"phone": "by text only"})
    assert "by text only" not in numbers_of(case.model_copy(update={"people": (person,)}))


def test_numbers_dial_in_papers_of_every_day_and_stay_words_in_the_letter():
    files = render(ILMARI, ["html"], ["card", "letter"])
    assert b'href="tel:911"' in files["card.html"] and b'<a href="tel:' not in files["letter.html"]


@pytest.mark.parametrize("made", [("card",), ("guide",), ("card", "guide")])
def test_a_page_jumps_to_what_is_made_with_it_and_nowhere_else(made):
    worded = wording()
    targets = {name: [target for _, target in jumps_of(name, trees(ILMARI, made), worded)] for name in made}
    if "card" in made:
        assert targets["card"] == ["#stop-the-chair", "#who-to-call", "#before-each-drive"]
    if "guide" in made:
        beside = ["card.html#stop-the-chair", "card.html#who-to-call"] if "card" in made else []
        assert targets["guide"] == [*beside, "#what-is-wrong-and-what-to-do"]
