"""A trial planned: what to borrow, how each control is set up, its simpler one, what stays open."""

from __future__ import annotations

from datetime import date

from trials_planned import ILMARI, MARISOL, TWO_VISITS, sheet_texts, text_of

from docgen.documents.planned import borrow_rows, set_up_rows, simpler_rows
from docgen.documents.planned_order import block_rows


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
        for on in (date(2026, 2, 1), date(2026, 3, 7))
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
