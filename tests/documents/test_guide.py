"""The caregiver guide: easy to read, stop first, and about exactly what this chair has."""

from __future__ import annotations

import re

import pypdfium2
import pytest
from guide_sheets import DEMOS, SHEETS, card, guide, text_of
from in_full import text_in_full
from made import assessed
from msgspec.structs import replace
from support import DEMO_FOLDERS, assess

from docgen.packet.hard_words import HardSentence, ease
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording
from docgen.rendering.readability import read_text, reading, sentences, words_of
from docgen.rendering.style import LARGE
from docgen.rendering.tree import Node

# ---- how it reads -------------------------------------------------------------------------------


@DEMOS
def test_no_sentence_of_card_and_log_is_longer_than_one_of_the_guide(folder):
    for tree in trees(assess(folder), ["card", "log"]).values():
        long = [one for one in sentences(read_text(tree)) if len(words_of(one)) > 18]
        assert not long and reading(tree, language_words()["plain"]).terms == ()


@DEMOS
def test_the_guide_is_at_grade_six_or_below_by_both_formulas_and_by_a_general_library(folder):
    import textstat

    found = reading(guide(folder))
    text = "\n".join(sentences(read_text(guide(folder))))
    # textstat 0.7.8 counts syllables by the CMU dictionary, ours by another word list: half a grade of play
    assert found.grade == pytest.approx(textstat.flesch_kincaid_grade(text), abs=0.5)
    assert found.smog == pytest.approx(textstat.smog_index(text), abs=0.5)
    assert max(found.grade, found.smog, textstat.flesch_kincaid_grade(text), textstat.smog_index(text)) <= 6
    assert found.words_per_sentence < 15
    assert max(len(words_of(sentence)) for sentence in sentences(read_text(guide(folder)))) <= 17


@DEMOS
def test_the_guide_uses_no_term_of_the_trade(folder):
    assert reading(guide(folder), language_words()["plain"]).terms == ()


LONG = (
    "Whenever Ilmari demonstrates considerable fatigability subsequent to prolonged participation, "
    "discontinue the activity and immediately "
    "communicate with the responsible rehabilitation professional."
)


def test_a_hard_sentence_of_the_therapist_is_named_with_its_place_and_the_grade_it_makes(tmp_path):
    import shutil

    source = next(folder for folder in DEMO_FOLDERS if folder.name == "ilmari-okonjo-vale")
    target = tmp_path / source.name
    shutil.copytree(source, target)
    toml = text_in_full(target)
    before = ease(assess(target))
    assert before.easy and not before.shorten
    text = toml.replace(
        "[[taught]]",
        "\n".join(f'[[cautions]]\nabout = "other"\nsays = "{LONG}"\n' for _ in range(9)) + "\n[[taught]]",
        1,
    )
    (target / "case.toml").write_text(text, encoding="utf-8")
    after = ease(assess(target))
    assert not after.easy and after.reading.smog > 6
    assert [one.says for one in after.shorten if one.says == LONG] == [LONG]
    hard = next(one for one in after.shorten if one.says == LONG)
    path, _, line = hard.where.rpartition(":")
    assert path.endswith("case.toml") and LONG in text.split("\n")[int(line) - 1]
    # 20 words and 66 syllables, counted by hand; a word list may differ by two
    assert hard.n_words == 20 and hard.grade == pytest.approx(0.39 * 20 + 11.8 * 66 / 20 - 15.59, abs=11.8 * 2 / 20)


def test_check_names_the_sentences_to_shorten_only_when_there_are_some():
    from datetime import date

    from docgen.console.check import check_report
    from docgen.console.check_page import check_text
    from docgen.results import CaseCheck

    one = assess(DEMO_FOLDERS[0])
    easy = ease(one)
    hard = replace(
        easy, reading=replace(easy.reading, grade=7.25), shorten=(HardSentence(LONG, 20, 31.2, "case.toml:7"),)
    )
    today = date(2026, 5, 4)
    assert "WORDS FOR THE FAMILY" not in check_text(check_report(CaseCheck(one, today, guide=easy)))
    page = " ".join(check_text(check_report(CaseCheck(one, today, guide=hard))).split())
    assert "school grade 7.2 (Flesch-Kincaid)" in page and f"Shorten, 20 words: {LONG} case.toml:7" in page
    assert check_report(CaseCheck(one, today))["reading"] is None


# ---- the card and what leads to it -----------------------------------------------------------------


def pages(tree: Node) -> list[list[Node]]:
    """The blocks between the page breaks that a sheet asks for."""
    found: list[list[Node]] = [[]]
    for block in tree.children:
        found.append([]) if block.kind == "page_break" else found[-1].append(block)
    return found


@DEMOS
def test_the_card_says_when_to_step_away_and_whom_to_call(folder):
    case = assess(folder).file.case
    told = "\n".join(block.plain() for block in card(folder).children)
    for place in case.supervision:
        assert place.place[1:] in told
    for role in ("evaluator", "supplier"):
        person = next(iter(case.with_role(role)), None)
        assert (person and person.phone or "not recorded: phone number") in told


@DEMOS
def test_how_to_stop_stands_on_the_card_alone_and_the_guide_leads_there(folder):
    stop, side = assess(folder).file.case.configuration.stop, " ".join(b.plain() for b in pages(card(folder))[0])
    wanted = ('"stop"', stop.at_hand[0], stop.power_off, stop.other_way or "another way", "Call 911", "Leave it off")
    places = [side.lower().index(words.lower()) for words in wanted]
    assert places == sorted(places)
    told = guide(folder).plain()
    assert "First read the card." in told and "Stop it as the card shows." in told
    assert not stop.other_way or stop.other_way.lower() not in told.lower()
    assert (stop.again or "Not recorded: what makes it drive again").rstrip(".") in told


@pytest.mark.parametrize("lang, switch", [("en", "stop switch"), ("es", "botón de paro")])
def test_a_chair_without_a_stop_switch_is_stopped_by_its_power_switch(lang, switch):
    stop = {
        "driver": "lets go",
        "has_switch": False,
        "power_off": "knob at the front",
        "helper": "turn the knob off",
        "freewheel": "below",
    }
    one = assessed(
        client={"called": "Robin", "pronouns": "she"}, configuration={"works": "It goes when asked.", "stop": stop}
    )
    worded = wording(lang)
    text = "\n".join(tree.plain() for tree in trees(one, SHEETS, worded).values())
    assert text.count(switch) == 1 and "knob at the front" in text  # said once: there is none
    assert not re.search(r"where the stop switch is|botón de paro está|\bA\.\s", text)


@pytest.mark.parametrize(
    "level, answer",
    [
        ("hands_on_stop", "no."),
        ("arms_length", "no."),
        ("same_room", "no."),
        ("in_sight", "not out of sight. Stay where you see"),
        ("on_call", "only so. The chair is off. Then yes."),
        ("alone", "only so. The chair is off. Then yes"),
    ],
)
def test_each_level_of_supervision_answers_whether_to_step_away(level, answer):
    settled = {"chair_state": "off", "calls_by": "by a bell", "call_needs_chair": False, "help_after_min": 5}
    settled["settled"] = ("call_without_voice", "call_fails", "fire", "no_answer")
    place = {"place": "at home", "level": level, "by": "an aunt", "fire_plan": "A neighbor comes."} | settled
    told = text_of(assessed(supervision=(place,)))
    assert f"At home: {answer}" in told and "Turn the chair off before you leave" in told
    for_now = text_of(assessed(supervision=(place | {"for_now": "Off when alone"},)))
    alone = level in ("on_call", "alone")
    # with someone near nobody drives meanwhile: no rule of driving stands there
    only = "At home: only so. Off when alone. Then yes" if alone else "At home: no. For now: Off when alone."
    assert only in for_now and not re.search(r"At home: (no|not out of sight)\. (Stay|Keep)", for_now)
    assert "Turn the chair off before you leave" in for_now  # it is off there too: there is no exception
    locked = place | {"for_now": "Off when alone", "chair_state": "seat_only", "if_stuck": "Calls."}
    seat = text_of(assessed(supervision=(locked,), configuration={"stop": {"drive_off": "green lever"}}))
    # where someone must be near, nothing is left on for nobody
    assert ("Except as above, turn the chair off before you leave" in seat) is alone


def test_what_the_record_lacks_shows_as_a_gap_on_the_card():
    first = trees(assessed(), ["card"])["card"].plain()
    for label in (
        "where the stop switch is",
        "where the power switch is",
        "how the driver stops it",
        "who must stay near, and when you may step away",
        "phone number",
    ):
        assert f"not recorded: {label}" in first


@DEMOS
def test_the_card_names_the_emergencies_and_the_guide_leads_to_it(folder):
    number = assess(folder).file.case.client.emergency_number
    calls = next(block for block in card(folder).children if block.kind == "table")
    row = next(row.plain() for row in calls.children if row.plain().startswith(number))
    assert all(word in row for word in ("cannot breathe", "will not wake", "hurt", "trapped", "seizure"))
    assert "a seizure or medicine" not in row
    log = trees(assess(folder), ["log"])["log"].plain()
    assert "Emergency, night, supplier, therapist: the card." in log and "Who else to call:" in guide(folder).plain()


# ---- large print --------------------------------------------------------------------------------


def test_the_large_print_guide_says_the_same_in_letters_of_eighteen_points():
    made = render(assess(DEMO_FOLDERS[0]), ["pdf"], ["guide"])
    both = [
        " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(made[name]))
        for name in ("guide.pdf", "guide_large.pdf")
    ]
    few, many = (set(re.findall(r"[A-Za-z]{3,}", text)) for text in both)
    assert few == many
    assert all(role.size >= 18 for role in (LARGE.body, LARGE.item, LARGE.cell, LARGE.caption, *LARGE.headings))
    for phrase in ("In this order, as on the card", "What moves the chair", "You see or hear"):
        assert _letter_size(made["guide_large.pdf"], phrase) >= 18 > _letter_size(made["guide.pdf"], phrase), phrase


def _letter_size(pdf: bytes, phrase: str) -> float:
    """Size in points of the first letter of a phrase."""
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        if (found := text.search(phrase).get_next()) is not None:
            return pypdfium2.raw.FPDFText_GetFontSize(text, found[0])
    raise AssertionError(f"{phrase!r} stands on no page")
