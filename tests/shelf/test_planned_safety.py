"""A trial planned, as whoever runs it tomorrow reads it: what may hurt, what to bring, what so few attempts show."""

from __future__ import annotations

import re
from datetime import date

import pypdfium2
import pytest

from docgen.documents.planned_order import difference_words, holds_sentence, number_sentences, stop_attempts
from docgen.documents.planned_packing import common_rows, once_rows, pack_rows
from docgen.documents.planned_safety import (
    cautions,
    hold_sentences,
    other_speeds,
    sensing_sentences,
    stop_limit,
    stop_limit_mm,
    stop_rules,
    to_fill_in,
)
from docgen.packet.trial_page import page_context
from docgen.recording_sheet import trial_sheets

MARISOL, ILMARI, BOHDAN = "marisol-quenneville-tran", "ilmari-okonjo-vale", "bohdan-lacroix-mbeki"
PLAN = {
    MARISOL: {"methods": ("sip_puff", "head_pads"), "visits": 2, "visit_minutes": 75.0, "speed_m_s": 0.3},
    BOHDAN: {"methods": ("finger_stick", "chin_stick"), "visits": 2, "visit_minutes": 60.0, "speed_m_s": 0.3},
    ILMARI: {"methods": ("head_pads",), "visits": 2, "visit_minutes": 60.0, "speed_m_s": 0.3},
}
FILLED = {"guard": "therapist", "guard_stop": "red button", "worn": "nothing on the head", "stop_when": "Neck pain."}


@pytest.fixture(scope="module")
def planned(planned_with):
    """The trial of a demo, with what its plan and its case hold instead."""
    return lambda name, plan=(), **of_case: planned_with(name, PLAN[name] | dict(plan), {}, of_case)


def sheet_texts(result):
    pdf = pypdfium2.PdfDocument(trial_sheets(result.case, result.plan))
    return [" ".join(sheet.get_textpage().get_text_range().split()) for sheet in pdf]


def test_nobody_drives_before_stop_signs_and_clothing_are_filled_in(planned):
    left = list(to_fill_in((result := planned(MARISOL)).case, result.plan))
    assert len(left) == 5 and any("who tilts it" in line for line in left)
    assert list(to_fill_in((done := planned(MARISOL, FILLED | {"tilted_by": "the aide"})).case, done.plan)) == []
    (slow,) = to_fill_in((without := planned(ILMARI, FILLED | {"speed_m_s": None})).case, without.plan)
    assert slow == "One speed for every control"


def test_another_speed_of_the_record_is_named_as_another(planned):
    says = " ".join(other_speeds((result := planned(ILMARI)).case, result.plan))
    assert "0.4 m/s for A: not the speed of this trial" in says and "name another speed" in says
    assert not [*other_speeds((same := planned(ILMARI, {"speed_m_s": 0.4})).case, same.plan)]


def test_a_gap_within_what_a_sensor_reaches_is_told_with_what_to_do(planned):
    (says,) = sensing_sentences((result := planned(ILMARI)).case, result.plan)
    assert "senses at 20 mm" in says and "rear pad 12 mm" in says and "right side pad 20 mm" in says
    assert "neck roll" not in says and "knee" not in says and "drive locked: two minutes at rest" in says
    mounting = tuple(mount.model_copy(update={"gap_mm": 21}) for mount in result.case.configuration.mounting)
    far = planned(ILMARI, configuration=result.case.configuration.model_copy(update={"mounting": mounting}))
    assert not [*sensing_sentences(far.case, far.plan)]
    (unmeasured,) = sensing_sentences(planned(MARISOL).case, planned(MARISOL).plan)
    assert "B senses at 20 mm" in unmeasured and "no gap at rest is recorded" in unmeasured


def test_a_command_held_for_long_asks_for_a_rest(planned):
    result = planned(MARISOL)
    (says, *_) = hold_sentences(result.case, result.compared.match, result.plan)
    assert "card 1 takes 33 s" in says and "held 22 to 27 s" in says  # 10 m at 0.3 m/s
    quick = planned(MARISOL, {"speed_m_s": 2.5})
    assert not [*hold_sentences(quick.case, quick.compared.match, quick.plan)]


@pytest.mark.parametrize(
    ("name", "limit", "place"),
    # kitchen: 900 ahead of the chair; elevator: 1800 from the way in, less a chair of 1140
    [(ILMARI, 900, "kitchen"), (MARISOL, 660, "elevator of the building")],
)
def test_a_stop_counts_within_the_shortest_way_of_the_record(planned, name, limit, place):
    result = planned(name)
    assert stop_limit(result.case) == {"limit_mm": pytest.approx(limit), "place": place}
    assert stop_limit_mm(result.case, result.plan) == pytest.approx(limit)  # shorter than the 1 m of its card
    nowhere = planned(name, spaces=())
    assert stop_limit(nowhere.case) is None and stop_limit_mm(nowhere.case, nowhere.plan) == 1000


def test_no_seizure_is_named_where_none_is_recorded(planned):
    result = planned(ILMARI)
    assert "seizure" not in " ".join(stop_rules(result.case, result.plan))
    limits = tuple(
        limit.model_copy(update={"found": True}) if limit.kind == "seizures" else limit for limit in result.case.limits
    )
    with_them = planned(ILMARI, limits=limits)
    assert "Ilmari has a seizure or faints" in " ".join(stop_rules(with_them.case, with_them.plan))


def test_emergency_signs_and_the_call_stand_on_the_page(planned):
    result = planned(MARISOL)
    safety = page_context(result.compared.assessed, result.compared.match, result.plan)["safety"]
    first = [sign["first"] for sign in safety["signs"]]
    assert first[:3] == [
        "call 911",
        "call 911",
        "step 2; then seat, backrest fully up, legs down",
    ]  # gray and no answer: 911 too
    assert ("nurse line", "555-0190") in [(call["name"], call["phone"]) for call in safety["calls"]]
    assert "headache, red or sweaty face or neck, goose bumps" in " ".join(safety["stop_rules"])


def test_cautions_of_lifts_weather_and_meals_are_left_out(planned):
    says = " ".join(cautions(planned(MARISOL).case))
    assert not re.search("sling|metal|Swing the mouthpiece|911", says) and "In a spasm" in says


def test_supports_are_the_same_for_every_control_and_all_parts_are_packed(planned):
    result = planned(ILMARI)
    assert any("neck roll" in words for _, words in common_rows(result.case, result.plan))
    packed = {row["item"]: row["why"] for row in pack_rows(result.case, result.plan)}
    assert {"A: rear pad", "A: knee switch", "neck roll", "4 mm hex key, supplier only"} <= {*packed}
    assert packed["programmer of the chair, charger"] == "" and "A: neck roll" not in packed
    assert any("mouthpiece and tube" in row["item"] for row in pack_rows(planned(MARISOL).case, planned(MARISOL).plan))


def test_goals_and_commands_that_no_card_covers_are_shown_once(planned):
    marisol = " ".join(row["drive"] for row in once_rows(planned(MARISOL).case, planned(MARISOL).plan))
    assert "Back out" in marisol and "drive to seat" in marisol and "Turn around" in marisol
    ilmari = " ".join(row["drive"] for row in once_rows(planned(ILMARI).case, planned(ILMARI).plan))
    assert "speech device" in ilmari and "seat" not in ilmari


def test_visits_too_short_for_a_block_say_how_long_they_would_have_to_be(planned):
    # 10 seating + 12 change + 6 weight shift + 2 x 2 warm-up + 2 x 5 x 2 attempts + 4 kept free = 56, rounded up
    says = holds_sentence(planned(MARISOL, {"visit_minutes": 45.0}).plan)
    assert "4 counted attempts with each. That is 2 a block; single-case standards ask for 5" in says
    assert "Visits of 60 minutes would hold them." in says


def test_numbers_begin_with_one_plain_sentence_and_stops_are_counted_apart(planned):
    result = planned(MARISOL, {"difference_percent": 40.0})
    first, *rest = number_sentences(result.plan)
    assert first.startswith("Too few attempts to prefer one control unless the gap is large")
    assert difference_words(result.plan) == "6 more of 14 done"  # 40 of 100 is 5.6 of 14
    assert stop_attempts(result.plan) == 4  # 14 attempts of 4 cards, each card from where the last block ended
    assert "4 with each control. None missed of 4 may still be up to 53 missed of 100." in rest[-1]  # 1 - 0.05^(1/4)
    context = page_context(result.compared.assessed, result.compared.match, result.plan)
    assert "squares" not in context["source"]


def test_each_sheet_has_the_stop_rules_of_the_plan_ticks_and_no_id_but_at_its_foot(planned):
    result = planned(MARISOL, FILLED | {"on": date(2026, 2, 1)})
    sheets = sheet_texts(result)
    assert len(sheets) == 4
    for sheet in sheets:
        assert all(rule in sheet for rule in stop_rules(result.case, result.plan))
        body, _, foot = sheet.partition("For the office")
        assert not re.search("head_pads|sip_puff|straight_10|stop_request|speed_m_s|marisol-", body)
        assert "straight_10" in foot and "Key." in body and "red button" in body and "w s t o" in body
        for words in ("Scored by", "Skin looked at", "Why stopped early", "own words", "it counts within 0.66 m"):
            assert words in body


def test_what_has_to_be_settled_before_a_control_is_driven_stands_on_its_sheets_too(planned):
    sheets = sheet_texts(planned(BOHDAN))  # no movement of the chin is recorded
    unsettled = ["Not driven until this is settled" in sheet for sheet in sheets if "Key." in sheet]
    assert unsettled == [False, True, True, False]
