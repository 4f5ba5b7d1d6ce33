"""The card and the log: what can be counted of a sheet that is read at one glance, and of one that is filled in."""

from __future__ import annotations

import re
from datetime import date
from functools import cache

import pypdfium2
import pytest
from made import assessed
from msgspec.structs import replace
from support import ASSESSED, DEMOS

from docgen.case.sheets import Sheets
from docgen.documents.document import dated_on
from docgen.figures import ready_card
from docgen.figures.stop_sites import switches_of
from docgen.packet.approval import Review
from docgen.packet.languages import in_language
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording
from docgen.rendering.style import STYLES
from docgen.rendering.tree import Node
from docgen.scene import Text

BOTH = pytest.mark.parametrize("lang", ["en", "es"])
DEMO = pytest.mark.parametrize("name", DEMOS)
# actions and their words: common practice, no source; letters: RNIB and APH ask for 12 points at the least
MOST_ACTIONS, MOST_WORDS, LEAST_PT = 5, 10, 12.0


@cache
def sheet(name: str, lang: str, document: str = "card") -> Node:
    case = ASSESSED[name]
    return trees(case, [document])[document] if lang == "en" else in_language(case, lang, [document]).trees[document]


def actions(tree: Node) -> list[str]:
    """What is done to stop the chair: the bold line of each step of the first list."""
    steps = next(block for block in tree.children if block.kind == "list" and block.ordered)
    return [step.children[0].plain() for step in steps.children if step.children[0].children[0].kind == "strong"]


@BOTH
@DEMO
def test_the_chair_is_stopped_in_five_actions_of_ten_words(name, lang):
    told = actions(sheet(name, lang))
    assert 3 <= len(told) <= MOST_ACTIONS
    assert max(len(re.findall(r"\w+", action)) for action in told) <= MOST_WORDS


@DEMO
def test_side_one_says_how_to_stop_where_each_switch_is_and_who_to_call_with_hours(name):
    case, tree = ASSESSED[name].file.case, sheet(name, "en")
    at = [block.kind for block in tree.children].index("page_break")
    side = " ".join(block.plain() for block in tree.children[:at])
    stop = case.configuration.stop
    wanted = (
        stop.at_hand[0],
        stop.power_off,
        stop.other_way or "not recorded: another way",
        "Call 911",
        "Leave it off",
        "They answer",
        "Smoke or fire",
    )
    assert all(wanted)
    places = [side.lower().index(words.lower()) for words in wanted]
    assert places == sorted(places)
    assert [block.name for block in tree.children[:at] if block.kind == "figure"] == ["stop_card"]
    calls = next(block for block in tree.children[:at] if block.kind == "table")
    for row in calls.children[1:]:
        number, _, hours = (cell.plain() for cell in row.children)
        assert re.fullmatch(r"[\d-]+", number) and hours and "not recorded" not in hours


@DEMO
def test_side_two_says_ready_check_stop_test_and_who_may_step_away(name):
    case, tree = ASSESSED[name].file.case, sheet(name, "en")
    at = [block.kind for block in tree.children].index("page_break")
    side = " ".join(block.plain() for block in tree.children[at:])
    for mount in case.configuration.mounting:
        kind = "hinge" if mount.mark_kind == "lines" and mount.swings else mount.mark_kind
        assert (language_words()["mark_seen"][kind] if kind else mount.mark or "") in side
        assert mount.gap_to_mm is None or f"{mount.gap_from_mm:g} to {mount.gap_to_mm:g} mm" in side
    assert "must move" in side and "must stop" in side and "it must stay still" in side
    assert all(place.place[1:] in side for place in case.supervision if not place.is_later)


def test_the_steps_of_getting_ready_are_named_in_the_drawing_which_has_no_number_of_a_part():
    words = language_words()["figures"]
    picture = ready_card.scene(ASSESSED[DEMOS[0]].file.case, ASSESSED[DEMOS[0]].evidence, words)
    drawn = [shape.text for shape in picture.shapes if isinstance(shape, Text)]
    lists = [block for block in sheet(DEMOS[0], "en").children if block.kind == "list" and block.ordered]
    steps = next(block for block in lists if block.plain().startswith("Hips"))
    told = [step.plain().lower() for step in steps.children]
    for number, parts in enumerate((("hips",), ("belt",), ("feet",), ("shoulders", "head")), 1):
        assert all(part in told[number - 1] and part in drawn for part in parts)
        assert f"{number} {parts[0]}" in picture.alt
    assert not [words for words in drawn if words[0].isdigit()]  # those of this side are of the parts in the table


def test_a_number_that_is_missing_an_hour_and_a_night_are_gaps():
    told = trees(assessed(client={"called": "Robin"}), ["card"])["card"].plain()
    assert told.count("not recorded: when this person answers a call") == 2
    assert (
        "ot recorded: who is there at night" in told and "ot recorded: what comes first here at smoke or fire" in told
    )


@pytest.mark.parametrize(
    "commands, told",
    [
        ((), "Keep out of its path, front and behind. Reach its back from the side. "),
        (
            ({"does": "back", "input": "a sip"},),
            "Keep out of its path, front and behind: it can back up. Reach its back from the side. ",
        ),
    ],
)
def test_nobody_is_sent_behind_a_chair_that_may_back_up(commands, told):
    text = trees(assessed(configuration={"commands": commands}), ["card"])["card"].plain()
    assert told in text and "or behind it" not in text


def test_behind_is_safe_only_where_a_record_says_that_the_chair_has_no_reverse():
    told = {name: sheet(name, "en").plain() for name in DEMOS}
    without = {name for name in DEMOS if ASSESSED[name].file.case.configuration.is_without_reverse}
    assert {name for name in DEMOS if "Stay beside it or behind it" in told[name]} == without
    assert without and without != set(DEMOS)


@DEMO
def test_that_no_gap_is_set_stands_in_the_warning_of_side_one_and_that_gaps_are_set_before_the_steps(name):
    """CDC item 10: what forbids to drive at all comes first, on card and booklet."""
    one, two = sheet(name, "en").plain().split("Before each drive")
    told = " ".join(trees(ASSESSED[name], ["guide"])["guide"].plain().split())
    unset = "No gap (space from body to part) is set yet: no driving without the therapist." in one
    assert unset == (
        "No gap (space from body to part) is set on this chair yet." in told.split("What this control does")[0]
    )
    assert unset == ("a gap is not set on this chair yet, and the therapist is not there." in told)
    if unset:
        assert one.index("No gap (space") < one.index("Press the stop")
    else:
        assert two.index("As fitted on this chair") < two.index("Hips back")


def test_what_comes_before_a_drive_and_what_to_do_on_a_ramp_stand_on_the_card():
    ready, ramp = "Mute the device.", "Stuck? Turn it off."
    cautions = ({"about": "ready", "says": ready}, {"about": "slope", "says": ramp})
    pages = trees(assessed(cautions=cautions), ["card", "guide"])
    assert pages["card"].plain().index(ready) < pages["card"].plain().index("Hips back")
    assert f"On the ramp. {ramp}" in pages["card"].plain()
    assert ready not in pages["guide"].plain()


def test_a_ramp_without_a_word_on_it_is_a_gap_on_the_card():
    case = ASSESSED["saoirse-villalobos-ng"]
    kept = tuple(caution for caution in case.file.case.cautions if caution.about != "slope")
    assert len(kept) < len(case.file.case.cautions)
    file = replace(case.file, case=case.file.case.model_copy(update={"cautions": kept}))
    told = trees(replace(case, file=file), ["card"])["card"].plain()
    assert "ot recorded: who stands where, up and down, and what comes first when the chair is stuck" in told


@DEMO
def test_a_printed_card_has_two_sides_each_with_status_edition_and_date(name):
    with pypdfium2.PdfDocument(render(ASSESSED[name], ["pdf"], ["card"])["card.pdf"]) as pdf:
        texts = [page.get_textpage().get_text_range() for page in pdf]
    assert len(texts) == 2 and "Stop the chair" in texts[0] and "Before each drive" in texts[1]
    assert all("card, edition 1" in text and "Draft:" in text and "2026" in text for text in texts)


@DEMO
def test_a_printed_card_in_spanish_has_two_sides_too(name):
    files = in_language(ASSESSED[name], "es", ["card"]).render(["pdf"])
    with pypdfium2.PdfDocument(files["card.es.pdf"]) as pdf:
        assert len(pdf) == 2


@DEMO
def test_a_spanish_card_has_two_sides_once_its_english_one_is_reviewed(name):
    """Head or foot then names whoever reviewed it."""
    one = ASSESSED[name]
    evaluator = next(iter(one.file.case.with_role("evaluator")))
    review = Review(f"{evaluator.name}, {evaluator.credential}", date(2026, 9, 21), "docgen 0.3.0", ())
    head = "Borrador, traducción sin revisar" if one.open else f"Solo inglés revisado: {evaluator.name}"
    with pypdfium2.PdfDocument(in_language(one, "es", ["card"]).render(["pdf"], review=review)["card.es.pdf"]) as pdf:
        texts = [" ".join(page.get_textpage().get_text_range().split()) for page in pdf]
    assert len(texts) == 2 and all(head in text for text in texts)


@pytest.mark.parametrize("style", ["card", "card_long", "booklet", "booklet_long", "form", "form_long"])
def test_the_last_line_of_a_page_is_above_its_foot(style):
    """In Arimo a letter is 0.72 of its size high and hangs 0.21 below its line."""
    roles = STYLES[style]
    spare = (roles.body.leading - roles.body.size * (0.905 + 0.212)) / 2
    last_line = roles.margin_bottom + spare + 0.212 * roles.body.size
    assert last_line > roles.edge + 0.716 * roles.furniture.size


@pytest.mark.parametrize("style", ["card", "card_long", "booklet", "booklet_long", "form", "form_long"])
def test_nothing_that_a_helper_reads_on_paper_is_smaller_than_twelve_points(style):
    roles = STYLES[style]
    sizes = [
        role.size for role in (roles.body, roles.item, roles.cell, roles.caption, roles.furniture, *roles.headings)
    ]
    assert min(sizes) >= LEAST_PT
    assert min(role.leading / role.size for role in (roles.body, roles.item)) >= 1.15  # ACB 2022


def test_sheets_of_one_edition_have_one_day():
    """Also where the chair came, or was set anew, after the request: a loose sheet of another day looks outdated."""
    case = ASSESSED["saoirse-villalobos-ng"].file.case
    documents = wording().documents
    days = {dated_on(documents[name], case) for name in ("card", "guide", "log", "emergency")}
    assert len(days) == 1 and days.pop() > case.dates.delivered_on


def test_a_sheet_without_a_recorded_edition_says_so_in_its_head():
    case = assessed(client={"called": "Robin"}, people=({"id": "aunt", "role": "caregiver", "name": "An aunt"},))
    with pypdfium2.PdfDocument(render(case, ["pdf"], ["log"])["log.pdf"]) as pdf:
        assert "not recorded: edition" in pdf[0].get_textpage().get_text_range()


def test_a_new_edition_lists_which_sheets_to_collect():
    entries = (
        {"what": "card", "who": "aunt", "edition": 1},
        {"what": "guide", "who": "aunt", "edition": 2},
        {"what": "emergency", "hangs": "on the door", "edition": 1, "back_on": date(2026, 9, 1)},
    )
    sheets = Sheets.model_validate({"edition": 2, "handed_out": entries})
    assert [(held.what, held.who) for held in sheets.to_collect] == [("card", "aunt")]
    assert not Sheets.model_validate({"handed_out": entries}).to_collect


@BOTH
def test_the_log_has_a_line_filled_in_and_a_box_for_each_check(lang):
    table = next(block for block in sheet(DEMOS[0], lang, "log").children if block.kind == "table")
    head, example, *days = table.children
    right, wrong = {"en": ("yes", "no"), "es": ("sí", "no")}[lang]
    answers = [cell.plain() for cell in example.children]
    assert example.role == "chosen" and {right, wrong} <= set(answers) and len(days) == 6
    to_fill = [[cell.plain() for cell in day.children].count("____") for day in days]
    assert set(to_fill) == {answers.count(right) + answers.count(wrong) + 1}  # initials besides
    assert len(head.children) == 7 and not re.search(r"\d", " ".join(day.plain() for day in days))


@pytest.mark.parametrize("no_switch", [True, False])
def test_a_chair_without_a_stop_switch_has_four_actions_and_no_letter_a(no_switch):
    stop = {"power_off": "knob in front", "helper": "turn the knob", "other_way": "pull the plug"}
    stop |= {"has_switch": False} if no_switch else {"stop_switch": "here"}
    tree = trees(assessed(client={"called": "Robin"}, configuration={"stop": stop}), ["card"], wording())["card"]
    assert len(actions(tree)) == (4 if no_switch else 5)
    assert bool(re.search(r"\bA\b", " ".join(actions(tree)))) is not no_switch


def test_places_that_are_barred_stand_on_the_card_of_a_growing_child():
    case = ASSESSED["ilmari-okonjo-vale"].file.case
    barred = next(a.says for c in case.conditions for a in c.answers if a.ask == "places_barred")
    told = sheet("ilmari-okonjo-vale", "en").plain()
    assert f"Places not allowed. {barred}" in told


@pytest.mark.parametrize("known", [True, False])
def test_a_child_of_whom_nobody_said_which_places_are_barred_shows_a_gap(known):
    given = {"ask": "places_barred", "says": "The waterfront.", "by": "aunt", "on": date(2026, 3, 3)}
    case = assessed(
        client={"called": "Robin", "born_on": date(2018, 3, 3)},
        dates={"written_on": date(2026, 3, 3)},
        people=({"id": "aunt", "role": "caregiver", "name": "An aunt"},),
        conditions=({"id": "growing_child", "answers": (given,) if known else ()},),
    )
    told = trees(case, ["card"])["card"].plain()
    assert ("The waterfront." in told) is known and ("not recorded: places not allowed" in told.lower()) is not known


def test_every_switch_that_the_emergency_page_names_stands_there_with_its_place():
    """A stranger reads the page that hangs, and no legend of letters."""
    case = ASSESSED["marisol-quenneville-tran"].file.case
    named = [case.sitting.seat_switch, case.configuration.stop.drive_off]
    steps = [step.says for step in case.emergency.steps if step.says]
    for text in filter(None, named):
        part, *_ = re.split(r",| on ", text)
        (letter,) = (letter for letter, _, _, where, _ in switches_of(case) if part in where.lower())
        assert any(part in step for step in steps), part
        assert all(re.search(rf"{part} \(?{letter}\b", step) for step in steps if part in step), part


@pytest.mark.parametrize("paper", ["card", "guide"])
@pytest.mark.parametrize("name", DEMOS)
def test_a_part_has_the_number_of_the_record_in_the_table_as_in_the_drawings(name, paper):
    mounting = ASSESSED[name].file.case.as_fitted.configuration.mounting
    tree = trees(ASSESSED[name], [paper])[paper]
    (table,) = (node for node in tree.walk() if node.kind == "table" and node.children[0].children[0].plain() == "Part")
    firsts = [row.children[0].plain() for row in table.children[1:]]
    assert [first.lower() for first in firsts] == [f"{n} {mount.part}".lower() for n, mount in enumerate(mounting, 1)]
