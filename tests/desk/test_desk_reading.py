"""From a sentence of a page to the answers and rows behind it, and from a number to its formula."""

from __future__ import annotations

import csv
import re

import pytest
from support import ASSESSED, DEMO_FOLDERS

from docgen.case.read import read_case
from docgen.packet.sentences import sentences
from docgen.packet.trees import trees

_DEMO = DEMO_FOLDERS[1]


@pytest.fixture
def source():
    return _DEMO


def _sentence(words):
    letter = trees(ASSESSED[_DEMO.name], ("letter",))["letter"]
    return next(sentence for sentence in sentences(letter) if words in sentence.text)


def test_each_sentence_of_a_page_has_a_mark_and_each_number_a_way_to_its_formula(visitor, at):
    page = visitor.get(f"{at}/page/letter")
    letter = trees(ASSESSED[_DEMO.name], ("letter",))["letter"]
    marks = re.findall(rf'<a class="from" id="([^"]+)" href="{at}/behind/letter/([^"]+)" target="behind"', page.text)
    assert marks == [(sentence.id, sentence.id) for sentence in sentences(letter)]
    numbers = re.findall(rf'href="{at}/number/letter/([^"]+)"', page.text)
    assert numbers == [node.name for node in letter.walk() if node.kind == "fact"]
    assert "script" not in page.text and page.headers["content-security-policy"].startswith("default-src 'none'")


def test_a_gap_of_a_page_leads_to_its_question(visitor, at):
    assert f'<a href="{at}/who#client-height_mm" target="_top">' in visitor.get(f"{at}/page/letter").text


def test_behind_a_sentence_stand_its_answers_with_their_lines_and_fields(visitor, at, case):
    said = _sentence("The home visit was on ")
    shown = visitor.get(f"{at}/behind/letter/{said.id}")
    line = read_case(case).where("dates", "home_visit_on").rpartition("/")[2]
    answers = re.findall(r'<li><a href="([^"]+)" target="_top">([^<]+)</a>: ([^<]*) <span class="where">', shown.text)
    assert [href for href, _, _ in answers] == [f"{at}/papers#dates-home_visit_on"]
    assert line in shown.text and "That is all of them." in shown.text
    assert f"{at}/page/letter#{said.id}" in shown.text


def test_behind_a_sentence_with_a_number_stand_its_rows(visitor, at, case):
    said = _sentence("stopped on command in")
    shown = visitor.get(f"{at}/behind/letter/{said.id}").text
    with (case / "trial.csv").open(newline="") as file:
        stops = [line for line, row in enumerate(csv.DictReader(file), 2) if row["task"] == "stop_request"]
    assert re.findall(r'<tr><th scope="row">(\d+)</th><td>', shown) == list(map(str, stops))
    assert "Worked out as: " in shown and "It changes with the rows of the trial with the " in shown


def test_a_number_is_shown_with_its_formula_and_its_answers(visitor, at):
    fact = next(fact for fact in _sentence("The bathroom door").facts if fact.startswith("room_left."))
    shown = visitor.get(f"{at}/number/letter/{fact}")
    number = ASSESSED[_DEMO.name].evidence[fact]
    assert number.formula in shown.text.replace("&#39;", "'").replace("&gt;", ">")
    assert len(re.findall(r'<li><a href="[^"]+" target="_top">', shown.text)) == len(number.keys)


@pytest.mark.parametrize(
    "path", ["read/nothing", "page/../app", "behind/letter/0", "number/letter/no.such", "chart/x/y", "behind/none/0"]
)
def test_what_is_not_there_is_not_found(path, visitor, at):
    assert visitor.get(f"{at}/{path}").status == 404


def test_a_page_that_is_shown_for_reading_on_is_not_taken_as_read_by_a_reviewer(visitor, at):
    visitor.get(f"{at}/page/letter")
    assert "letter: opened" not in visitor.get(f"{at}/finish").text.replace("</a>", "")


def test_only_a_frame_of_the_desk_itself_shows_what_is_behind(visitor, at):
    for path in (f"{at}/behind", f"{at}/behind/letter/0"):
        assert "frame-ancestors 'self'" in visitor.get(path).headers["content-security-policy"]
    assert "frame-ancestors 'none'" in visitor.get(f"{at}/read/letter").headers["content-security-policy"]


def test_the_sections_of_a_page_can_be_gone_to_past_its_marks(visitor, at):
    page = visitor.get(f"{at}/page/letter").text
    links = re.findall(r'<a href="#([^"]+)">', page.partition('class="sections"')[2].partition("</nav>")[0])
    assert links == re.findall(r'<h2 id="([^"]+)"', page) and len(links) > 4
    assert "is listed once the packet is built" in visitor.get(f"{at}/read/order").text
    assert "is listed once the packet is built" not in visitor.get(f"{at}/read/letter").text


def test_what_is_shown_in_a_frame_does_not_offer_to_close_the_desk(visitor, at):
    said = _sentence("The home visit was on ")
    for path in ("behind", f"behind/letter/{said.id}", "behind/letter/0", "number/letter/stopping.indoor"):
        assert "Close the desk" not in visitor.get(f"{at}/{path}").text
    assert "Close the desk" in visitor.get(f"{at}/read/letter").text
