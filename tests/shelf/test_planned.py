"""A trial planned: what to borrow, set-up, cards, order and number, what is left open, as page, sheets and JSON."""

from __future__ import annotations

import json
import re
from datetime import date

import pypdfium2
import pytest
from canaries import every_word, keys_in
from msgspec.structs import replace
from support import DEMO_FOLDERS, SMALL, run

from docgen.case.read import read_case
from docgen.case.trial_plan import TrialPlan
from docgen.console.trial_json import trial_json
from docgen.documents.planned import borrow_rows, set_up_rows, simpler_rows
from docgen.documents.planned_order import block_rows, chance_rows, holds_sentence, number_sentences, order_sentences
from docgen.errors import UserError
from docgen.evidence.planned_trial import visit_of
from docgen.filling import trial_files
from docgen.library import match_in, trial_in
from docgen.packet.assess import assess_file
from docgen.packet.trees import trees
from docgen.packet.trial_page import page_context, trial_page
from docgen.recording_sheet import trial_sheets
from docgen.rendering.formats import format_names
from docgen.shelf.read import SHIPPED, shipped_shelf

DEMOS = {path.name: path for path in DEMO_FOLDERS}
MARISOL, ILMARI, SAOIRSE = "marisol-quenneville-tran", "ilmari-okonjo-vale", "saoirse-villalobos-ng"
BOHDAN = "bohdan-lacroix-mbeki"
TWO_VISITS = {"methods": ("sip_puff", "head_pads"), "visits": 2, "visit_minutes": 75.0}


@pytest.fixture(scope="module")
def planned(planned_with):
    """The trial of a client, with what its plan and its trial hold instead."""
    return lambda name, plan=None, **of_trial: planned_with(name, plan, of_trial, {})


def page(result, suffix="html"):
    (data,) = trial_page(result.compared.assessed, result.compared.match, result.plan, [suffix]).values()
    return data


def text_of(result):
    text = re.sub(r"<[^>]+>", " ", page(result).decode("utf-8"))
    return " ".join(re.sub(r"&#x27;|&#39;", "'", text).split())


def sheet_texts(result):
    pdf = pypdfium2.PdfDocument(trial_sheets(result.case, result.plan))
    return [sheet.get_textpage().get_text_range() for sheet in pdf]


def test_two_visits_hold_one_comparison_of_two_controls_and_say_so(planned):
    result = planned(MARISOL, TWO_VISITS)
    assert holds_sentence(result.plan) == (
        "Two visits of 75 minutes hold one comparison of two controls, 14 counted attempts with each. "
        "With three controls they leave 4 each: enough to rule one out, not to compare."
    )
    blocks = [(row["visit"], row["letter"], row["id"], row["n_counted"]) for row in block_rows(result.plan)]
    assert blocks == [
        (1, "A", "sip_puff", 7),
        (1, "B", "head_pads", 7),
        (2, "B", "head_pads", 7),
        (2, "A", "sip_puff", 7),
    ]
    says = " ".join(order_sentences(result.plan, result.compared.match))
    assert "Each control comes first, and straight after each other one, as often as any." in says
    assert "steadily fall on all alike" in says and "Two alternations" in says and "weighs on A" in says
    text = text_of(result)
    assert (
        "10 for seating, skin, cards and scores + 1 x 12 for a change + 12 for the weight shift + 2 x 2 warm-up + "
        "2 x 7 attempts of 2 = 66 of 75 minutes; 9 are kept free"
    ) in text
    assert "reckoned by this program (common practice, no source): 10 minutes for seating, skin, cards" in text
    assert "power off, the other control mounted, drive locked and each command tried, the guard's stop tried" in text


def test_every_control_gets_the_same_cards(planned):
    for plan in (TWO_VISITS, TWO_VISITS | {"methods": ("sip_puff", "head_pads", "breath_and_head_switches")}):
        blocks = list(block_rows(planned(MARISOL, plan).plan))
        cards = {
            letter: sorted(number for row in blocks if row["letter"] == letter for number, _ in row["cards"])
            for letter in {row["letter"] for row in blocks}
        }
        assert len({tuple(each) for each in cards.values()}) == 1 and {*cards["A"]} == {1, 2, 3, 4}


def test_three_controls_in_two_such_visits_are_a_sieve(planned):
    three = ("finger_stick", "finger_beams", "chin_stick")
    result = planned(BOHDAN, TWO_VISITS | {"methods": three, "visit_minutes": 60.0})
    assert "rules out and compares nothing" in " ".join(order_sentences(result.plan, result.compared.match))
    four = planned(BOHDAN, TWO_VISITS | {"methods": (*three, "hand_stick"), "visit_minutes": 60.0})
    says = list(order_sentences(four.plan, four.compared.match))
    assert says == [
        "No order is written: 4 controls do not fit. Rule out by measure or a short try first, or plan longer visits."
    ]
    assert trial_sheets(four.case, four.plan) is None and "an order that compares" in text_of(four)


@pytest.mark.parametrize(
    ("plan", "phrase", "holds"),
    [
        ({"visits": 1}, "half a mirror", "One visit of 75 minutes holds, with two controls, 7 counted attempts"),
        ({"visits": 3}, "half a mirror", "Three visits of 75 minutes hold, with two controls, 21 counted attempts"),
        ({"both_mounted": True}, "Each comes once a visit, with a rest between: neck pain with use.", "18 counted"),
        ({"visit_minutes": 20.0}, "No order is written", "hold no comparison: not one counted attempt is left"),
        (
            {"methods": ("sip_puff",)},
            "One control alone is compared with nothing",
            "40 counted attempts with one control. Nothing is compared.",
        ),
    ],
)
def test_what_an_order_leaves_open_is_told(planned, plan, phrase, holds):
    result = planned(MARISOL, TWO_VISITS | plan)
    assert phrase in " ".join(order_sentences(result.plan, result.compared.match))
    assert holds in holds_sentence(result.plan)


def test_controls_that_are_mounted_at_once_alternate_within_a_visit_where_nothing_tires(planned):
    plan = {"methods": ("finger_stick", "finger_beams"), "visits": 2, "visit_minutes": 60.0, "both_mounted": True}
    result = planned(BOHDAN, plan)
    tires = bool(result.compared.match.client.site.keys() & {"hand_fatigues", "neck_fatigues", "fatigue_daily"})
    letters = "".join(row["letter"] for row in block_rows(result.plan))
    assert letters in ("ABBABAAB", "ABBA") and (letters == "ABBA") >= tires
    assert visit_of(result.plan.plan)[0].change == 5


def test_the_number_says_what_it_can_and_cannot_show(planned):
    result = planned(MARISOL, TWO_VISITS | {"difference_percent": 50.0})
    rows = {row["other"]: row for row in chance_rows(result.plan)}
    assert [*rows] == ["70 of 100", "50 of 100", "40 of 100", "30 of 100"]
    # exact sums with the Newcombe interval at 14 each: .9 v .5 .686, .9 v .4 .848; for 80 %: 19 and 13
    assert (rows["50 of 100"]["chance"], rows["50 of 100"]["fewest"]) == ("69 of 100 such trials", "19")
    assert (rows["40 of 100"]["chance"], rows["40 of 100"]["fewest"]) == ("85 of 100 such trials", "13")
    assert [row["role"] for row in rows.values()] == ["", "", "chosen", ""]
    says = " ".join(number_sentences(result.plan))
    assert "Equal counts do not show equal controls." in says and "no trial of this size shows" in says
    ten = planned(MARISOL, TWO_VISITS | {"visits": 1, "visit_minutes": 90.0})
    # 10 > 6, 9 > 4, 8 > 3; two equal controls at .8 look 15 points apart in .394, 30 in .157; none in 10: .2589
    says = " ".join(number_sentences(ten.plan))
    assert "10 beside 6 or fewer; 9 beside 4 or fewer; 8 beside 3 or fewer" in says
    assert "15 points or more apart in 39 of 100 such trials, 30 or more in 16" in says and "up to 26 of 100" in says
    many = planned(MARISOL, TWO_VISITS | {"visits": 12})
    assert "Reckoned with 70 attempts each; more are planned" in " ".join(number_sentences(many.plan))
    assert not [*number_sentences(planned(MARISOL).plan)] and not [*chance_rows(planned(MARISOL).plan)]


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda source: source.name)
def test_the_plan_of_each_demo_is_written_in_three_formats_with_its_gaps_marked(planned, source, tmp_path):
    result = planned(source.name)
    written = trial_files(result, None, tmp_path)
    assert [path.name for path in written] == [f"trial_plan.{suffix}" for suffix in format_names()]
    assert {path.read_bytes()[:4] for path in written} >= {b"%PDF", b"PK\x03\x04"}
    html = (tmp_path / "trial_plan.html").read_text(encoding="utf-8")
    for label in (
        "which controls are compared",
        "how many visits there are",
        "length of a visit",
        "the difference that would decide",
        "when a control that plainly fails is dropped, by the therapist",
    ):
        assert f"not recorded: {label}" in html
    for line in (
        "Who guards, at the stop, in every block",
        "How whoever guards stops the chair of the trial",
        "One speed for every control",
        "own signs that driving ends for the day",
        "What is worn in every visit: headwear, glasses, orthoses, belts",
    ):
        assert (
            html.index("Do not drive until this is filled in")
            < html.index(f"{line}: ____")
            < html.index("Safety First")
        )
    assert trial_files(result, None, tmp_path) == written  # the same again


def test_what_stands_first_is_to_be_borrowed_and_nothing_is_decided_in_its_place(planned):
    result = planned(ILMARI)
    (row,) = borrow_rows(result.plan)
    assert (row["letter"], row["name"]) == ("", "a head array of proximity switches")
    assert row["lent_by"] == "the clinic's own cupboard; checked September 14, 2026, from a try here"
    assert "Which of them are compared is not decided." in text_of(result)
    asked = planned("dunja-achterberg-rao")
    assert any(row["asks"] for row in borrow_rows(asked.plan))
    assert "Does it have:" in text_of(asked)


def test_a_control_with_an_unanswered_harm_gets_no_minutes_no_order_and_no_sheet(planned):
    for control in ("chin_stick", "hand_stick"):  # a method of which nobody said which device it is, and a device
        result = planned(MARISOL, TWO_VISITS | {"methods": ("sip_puff", control)})
        text = text_of(result)
        assert f"Not driven: B {result.plan.not_driven[0].name}. It" in text
        assert {row["letter"] for row in block_rows(result.plan)} == {"A"}
        assert all("B," not in sheet.partition("Stop at once")[0] for sheet in sheet_texts(result))
        assert [row["letter"] for row in set_up_rows(result.case, result.plan)] == ["A"]
    ground = {row["kind"]: row["ground"] for row in simpler_rows(result.plan.simpler)}
    assert ground["a hand-operated standard joystick"] == "ruled_out"
    assert planned(MARISOL, TWO_VISITS | {"methods": ("hand_stick",)}).plan.order is None


def test_the_outcome_of_the_trial_is_no_ground_before_it(planned):
    plan = TWO_VISITS | {"methods": ("sip_puff", "chin_stick")}
    grounds = {
        on: {row["kind"]: row["ground"] for row in simpler_rows(planned(MARISOL, plan | {"on": on}).plan.simpler)}
        for on in (date(2026, 2, 1), date(2026, 3, 1))
    }
    assert [each["a chin-operated standard joystick"] for each in grounds.values()] == ["offered", "ruled_out"]
    early = planned(MARISOL, plan | {"on": date(2026, 2, 1)})
    assert "checked" not in " ".join(row["lent_by"] for row in borrow_rows(early.plan))
    assert "findings it rests on are as late as" in text_of(early)


def test_starting_places_are_those_of_the_very_control_and_of_no_other(planned):
    result = planned(MARISOL, TWO_VISITS)
    rows = {row["name"]: row for row in set_up_rows(result.case, result.plan)}
    sip, pads = rows["sip-and-puff, momentary"], rows["proximity head array"]
    assert [(part["part"], part["gap_mm"], part["height_mm"]) for part in sip["parts"]] == [
        ("mouthpiece", 10, 660),
        ("cheek switch", 20, 680),
    ]
    assert pads["parts"] == () and pads["blank"] == (1, 2, 3)
    assert "where its parts stood on this chair" in text_of(result)


def test_a_choice_is_set_up_one_way_and_what_a_finding_speaks_against_is_left_off(planned):
    rows = {
        row["letter"]: row for row in set_up_rows(planned(MARISOL, TWO_VISITS).case, planned(MARISOL, TWO_VISITS).plan)
    }
    assert "momentary (unlatched) drive" in rows["A"]["set_with"]
    assert not any("latched drive" in each and "unlatched" not in each for each in rows["A"]["set_with"])
    assert any(each.startswith("latched drive (unpredictable spasms: A spasm throws") for each in rows["A"]["left_off"])


def test_a_simpler_control_is_compared_or_its_ground_is_told_or_asked_for(planned):
    grounds = {row["kind"]: row["ground"] for row in simpler_rows(planned(MARISOL, TWO_VISITS).plan.simpler)}
    assert (
        grounds["a hand-operated standard joystick"] == "ruled_out" and grounds["a sip-and-puff control"] == "compared"
    )
    pilar = {row["kind"]: row for row in simpler_rows(planned("pilar-nakashima-holt").plan.simpler)}
    assert pilar["a mini joystick"]["ground"] == "offered" and pilar["a mini joystick"]["says"]
    assert pilar["a sip-and-puff control"]["ground"] == "untold"
    bohdan = {row["kind"]: row["ground"] for row in simpler_rows(planned("bohdan-lacroix-mbeki").plan.simpler)}
    assert bohdan["a mini joystick"] == "borrowed"  # nothing is decided, so nothing is compared
    assert "not recorded: tried, or a ground" in text_of(planned("pilar-nakashima-holt"))


def test_where_the_kind_of_a_control_is_not_known_no_simpler_one_is_left_out(planned):
    trial = planned(MARISOL).case.trial
    methods = tuple(method.model_copy(update={"device": None}) for method in trial.methods)
    bare = planned(MARISOL, TWO_VISITS, methods=methods)
    assert len(list(simpler_rows(bare.plan.simpler))) == 7 > len(list(simpler_rows(planned(MARISOL).plan.simpler)))
    assert "not recorded: which device of the shelf it is" in text_of(bare)


def test_without_tasks_the_cards_are_a_stop_the_tightest_places_and_the_goals(planned):
    result = planned(MARISOL, TWO_VISITS, tasks=())
    assert [(card.of, card.name) for card in result.plan.cards] == [
        ("stop", "stop"),
        ("doorway", "bathroom door"),
        ("turning", "living room"),
        ("goal", "Get to the table and away from it without calling anyone."),
        ("goal", "Choose which room I am in while I am alone."),
    ]
    text = text_of(result)
    assert "Stop at the word, which comes without warning" in text and "850 mm (33 1/4 in)" in text
    assert "not recorded: what counts as done" in text and "Stop at the word" in text
    assert any("5: Choose which room" in sheet for sheet in sheet_texts(result))


def test_a_trial_without_a_stop_among_its_cards_says_so(planned):
    tasks = tuple(task for task in planned(MARISOL).case.trial.tasks if task.shows != "stop")
    assert "No card asks for a stop." in text_of(planned(MARISOL, TWO_VISITS, tasks=tasks))
    assert "No card asks for a stop." not in text_of(planned(MARISOL, TWO_VISITS))


def test_recording_sheets_come_filled_in_one_a_block(planned):
    sheets = sheet_texts(planned(MARISOL, TWO_VISITS))
    titles = (
        "Visit 1, block 1: A, sip-and-puff, momentary",
        "Visit 1, block 2: B, proximity head array",
        "Visit 2, block 1: B, proximity head array",
        "Visit 2, block 2: A, sip-and-puff, momentary",
    )
    assert all(title in sheet for title, sheet in zip(titles, sheets, strict=False))
    assert "head_pads" in sheets[1] and "Warm-up, stop on command" in sheets[1]
    assert (
        sheets[0].count("10 m) straight") == 2 and sheets[0].count("Park at") + sheets[0].count("park at") == 1
    )  # cards 1 to 4, then 1 to 3


def test_the_sheets_of_a_long_trial_are_made_too(planned):
    plan = TWO_VISITS | {"visits": 12, "visit_minutes": 240.0, "attempt_minutes": 0.5}
    sheets = sheet_texts(planned(MARISOL, plan))
    # two pages a block of the most attempts that one may have, 20 of four cards, in rows 12 mm high
    assert len(sheets) == 48 and "Visit 12, block 2" in sheets[46]
    assert [sheets[at].count("10 m) straight") + sheets[at + 1].count("10 m) straight") for at in range(0, 48, 2)] == [
        5
    ] * 24


def test_what_is_decided_stands_in_no_gap(planned):
    plan = TWO_VISITS | {
        "on": date(2026, 2, 1),
        "difference_percent": 40.0,
        "guard": "aide",
        "guard_stop": "The red switch behind.",
        "speed_m_s": 0.3,
        "worn": "belly binder",
        "stop_when": "Neck pain over 3.",
        "visits": 4,
        "drawn": "A coin, by the aide.",
    }
    text = text_of(planned(MARISOL, plan))
    for words in (
        "home aide",
        "The red switch behind.",
        "0.3 m/s",
        "belly binder",
        "for Marisol besides: Neck pain over 3",
        "A coin, by the",
    ):
        assert words in text
    assert "how it was drawn by lot" in text_of(planned(MARISOL, {**plan, "drawn": None}))
    assert "Which control is A" not in text_of(planned(MARISOL, {**plan, "visits": 2}))


def test_a_control_that_neither_trial_nor_shelf_holds_is_told_with_its_place(case_folder):
    folder = case_folder(SMALL + '\n[trial.plan]\nmethods = ["head_array_proximity", "head_aray"]\nvisits = 2\n')
    status, _, err = run("trial", folder, "--shelf", SHIPPED)
    assert status == 2 and re.search(r"case\.toml:\d+", err)
    assert "'head_aray' is no method of the trial and no device of" in err and "head_array_proximity" in err


def test_who_guards_is_one_of_the_people(case_folder):
    folder = case_folder(SMALL + '\n[trial.plan]\nguard = "nobody"\n')
    with pytest.raises(UserError, match="nobody"):
        read_case(folder)


# Written by hand: all that therapist and supplier need of a case to run the trial and to pack for it.
MAY_TELL = {
    "alternatives.reason",
    "cautions.says",
    "client.called",
    "client.emergency_number",
    "conditions.answers.says",
    "configuration.mounting.at",
    "configuration.mounting.part",
    "configuration.mounting.tool",
    "configuration.worn",
    "emergency.calls.call_if",
    "emergency.calls.name",
    "emergency.calls.phone",
    "emergency.signs.first",
    "emergency.signs.says",
    "emergency.signs.then",
    "findings.measure",
    "findings.says",
    "goals.says",
    "people.phone",
    "people.relation",
    "sitting.after.reached",
    "sitting.belts",
    "sitting.head",
    "sitting.pelvis",
    "sitting.trunk",
    "spaces.name",
    "trial.chair",
    "trial.counted_by",
    "trial.methods.name",
    "trial.methods.setup",
    "trial.place",
    "trial.plan.drawn",
    "trial.plan.guard_stop",
    "trial.plan.stop_when",
    "trial.plan.worn",
    "trial.seating",
    "trial.tasks.name",
    "trial.tasks.rule",
    "weight_shift.helper",
    "weight_shift.not_when",
}


@pytest.mark.parametrize("name", [MARISOL, SAOIRSE])
def test_the_page_tells_of_a_case_what_it_needs_and_nothing_else(name):
    assessed_case, words = every_word(name)
    case = assessed_case.file.case
    plan = TrialPlan(methods=tuple(method.id for method in case.trial.methods[:2]), visits=2, visit_minutes=45.0)
    trial = case.trial.model_copy(update={"plan": plan.model_copy(update={"guard": case.people[-1].id})})
    file = replace(assessed_case.file, case=case.model_copy(update={"trial": trial}))
    result = trial_in(match_in(replace(assessed_case, file=file), shipped_shelf()))
    context = page_context(result.compared.assessed, result.compared.match, result.plan)
    shown = {key.partition("@")[0] for key in keys_in(json.dumps(context) + str(sheet_texts(result)), words)}
    assert {"client.called", "goals.says", "people.relation", "trial.methods.setup"} <= shown
    assert sorted(shown - MAY_TELL) == []


def test_hostile_words_stand_as_they_are_written(planned):
    hostile = "a | b **bold** <b>x</b> [y](http://z) {{ 1 }} # h"
    plan = TWO_VISITS | {"guard_stop": hostile, "worn": hostile, "stop_when": hostile}
    tasks = tuple(
        task.model_copy(update={"name": hostile, "rule": hostile}) for task in planned(MARISOL).case.trial.tasks
    )
    methods = tuple(m.model_copy(update={"name": hostile}) for m in planned(MARISOL).case.trial.methods)
    result = planned(MARISOL, plan, tasks=tasks, methods=methods, chair=hostile)
    text = page(result).decode("utf-8")
    assert text.count("[y](http://z) {{ 1 }} # h") > 10 and "<b>x</b>" not in text and 'href="http://z"' not in text
    assert page(result, "pdf")[:4] == b"%PDF" and page(result, "docx")[:2] == b"PK"
    assert "Visit 2, block 2" in sheet_texts(result)[-2] + sheet_texts(result)[-1] + sheet_texts(result)[3]


def test_json_holds_what_the_page_says(planned):
    data = json.loads(json.dumps(trial_json(planned(MARISOL, TWO_VISITS))))
    assert data["format"] == "docgen trial plan 1" and data["attempts_each"] == 14
    assert [control["device"] for control in data["controls"]] == ["breath_tube", "head_array_proximity"]
    assert data["reckoned"] == ["fixed", "change", "attempt"] and data["order"]["kind"] == "two"
    assert [block["cards"] for block in data["blocks"]][0] == [1, 2, 3, 4, 1, 2, 3]
    bare = trial_json(planned(MARISOL))
    assert (bare["order"], bare["visits"], bare["attempts_each"]) == (None, None, None)


def test_the_command_writes_the_plan_and_never_over_another_file(tmp_path):
    status, out, _ = run("trial", DEMOS[MARISOL], "--shelf", SHIPPED, "--out", tmp_path, "--formats", "html")
    assert status == 0 and "trial_plan.html" in out and "fill in methods, visits and visit_minutes" in out
    (tmp_path / "trial_plan.html").write_text("a note", encoding="utf-8")
    status, _, err = run("trial", DEMOS[MARISOL], "--out", tmp_path, "--formats", "html")
    assert status == 2 and "is there already" in err
    assert (tmp_path / "trial_plan.html").read_text(encoding="utf-8") == "a note"
    status, out, _ = run("trial", DEMOS[MARISOL], "--json")
    assert status == 0 and json.loads(out)["case"] == MARISOL


def test_findings_alone_are_enough(case_folder):
    plan = '[trial.plan]\nmethods = ["foot_stick", "hand_stick"]\nvisits = 2\nvisit_minutes = 45\n'
    finding = '\n[[findings]]\nid = "foot_graded"\nsays = "She steers with her left foot."\n'
    folder = case_folder(SMALL.split("[trial]")[0] + finding + plan, rows="date,method,task,success\n")
    status, out, err = run("trial", folder, "--shelf", SHIPPED, "--formats", "pdf")
    assert (status, err) == (0, "") and "trial_sheets.pdf" in out


def test_the_letter_tells_what_a_plan_made_beforehand_kept_out(planned):
    plan = TWO_VISITS | {"methods": ("sip_puff", "chin_stick"), "guard": "aide"}
    said = (
        "The comparison of the sip-and-puff, momentary and the chin-operated standard joystick was planned on "
        "February 1, 2026, before its first attempt, so that"
    )

    def letter(on):
        result = planned(MARISOL, plan | {"on": on})
        file = result.compared.assessed.file
        (tree,) = trees(assess_file(file), ["letter"]).values()
        return " ".join("".join(node.text or "" for node in tree.walk()).split())

    before = letter(date(2026, 2, 1))
    assert said in before and "the tasks were the same" in before.partition(said)[2][:400]
    assert "none always came first" not in before.partition(said)[2][:400]  # it did: the plan was not kept in that
    assert "before its first attempt, so that" not in letter(date(2026, 3, 1))
