"""A trial planned: its cards, the order for the visits there are, what its number can show, the sheets a block."""

from __future__ import annotations

import pytest
from trials_planned import MARISOL, TWO_VISITS, sheet_texts, text_of

from docgen.documents.planned_order import block_rows, chance_rows, holds_sentence, number_sentences, order_sentences
from docgen.evidence.planned_trial import visit_of
from docgen.recording_sheet import trial_sheets

BOHDAN = "bohdan-lacroix-mbeki"


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
