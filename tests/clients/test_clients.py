"""The ten invented clients through check and build, held against what a competent reviewer concludes of each.

Shares, differences, intervals and stopping distances were worked out outside the program, by the score interval and its
hybrid for differences. What a short case lacks is a gap or cannot be told, and never a refusal of the person.
"""

from __future__ import annotations

import pytest
from gathered import of_each

from clients.made import assessed, write
from docgen.errors import UserError
from docgen.fit.condition import of_case
from docgen.packet.assess import assess
from docgen.packet.trees import trees

ILMARI, MARISOL, TADEO = "ilmari-okonjo-vale", "marisol-quenneville-tran", "tadeo-bramblecourt"
YEWANDE, ANSELM, PILAR = "yewande-sollingcrest", "anselm-kirawira-boone", "pilar-nakashima-holt"
BOHDAN, DUNJA, KOA = "bohdan-lacroix-mbeki", "dunja-achterberg-rao", "koa-fennimore-diallo"
SAOIRSE = "saoirse-villalobos-ng"
TEN = (ILMARI, MARISOL, TADEO, YEWANDE, ANSELM, PILAR, BOHDAN, DUNJA, KOA, SAOIRSE)


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    """A client as assessed, by name, each once."""
    known = {}

    def of(name):
        if name not in known:
            known[name] = assessed(name, tmp_path_factory.mktemp("client"))
        return known[name]

    return of


def statuses(one):
    """Criterion -> its answers in the payer's rows."""
    given = {}
    for verdict in one.verdicts:
        given.setdefault(verdict.criterion.id, set()).add(verdict.answer.status)
    return given


@pytest.mark.parametrize(
    ("name", "method", "done", "tried", "low", "high"),
    [
        (ILMARI, "hand_stick", 2, 20, 3, 30),
        (ILMARI, "head_pads", 38, 46, 69, 91),
        (ILMARI, "force_headrest", 1, 7, None, None),
        (MARISOL, "sip_puff", 25, 28, 73, 96),
        (MARISOL, "chin_stick", 6, 16, None, None),
        (MARISOL, "head_pads", 8, 16, None, None),
        (TADEO, "mini_stick", 29, 32, 76, 97),
        (TADEO, "compact_stick", 0, 4, None, None),
        (YEWANDE, "foot_stick", 25, 28, 73, 96),
        (YEWANDE, "head_pads", 3, 8, None, None),
        (YEWANDE, "sip_puff", 1, 6, None, None),
        (ANSELM, "hand_midline", 18, 20, 70, 97),
        (ANSELM, "head_pads", 16, 20, 58, 92),
        (PILAR, "head_pads", 18, 20, None, None),
        (PILAR, "force_headrest", 13, 20, None, None),
        (BOHDAN, "finger_beams", 5, 6, 44, 97),
        (DUNJA, "hand_morning", 9, 10, None, None),
        (DUNJA, "hand_afternoon", 4, 10, None, None),
        (DUNJA, "chin_morning", 8, 10, None, None),
        (DUNJA, "chin_stick", 8, 10, None, None),
        (KOA, "foot_switches", 4, 6, None, None),
        (SAOIRSE, "foot_stick", 29, 32, 76, 97),
        (SAOIRSE, "head_pads", 7, 16, None, None),
        (SAOIRSE, "hand_stick", 2, 8, None, None),
    ],
)
def test_what_was_done_of_what_was_tried(client, name, method, done, tried, low, high):
    fact = client(name).evidence.of("success", method)
    assert (fact.k, fact.n) == (done, tried)
    assert low is None or (round(fact.low * 100), round(fact.high * 100)) == (low, high)


@of_each(
    ("name", "other", "points", "low", "high"),
    [
        (ILMARI, "hand_stick", 73, 48, 84),
        (MARISOL, "chin_stick", 52, 23, 72),
        (MARISOL, "head_pads", 39, 12, 62),
        (YEWANDE, "head_pads", 52, 16, 77),
        (ANSELM, "hand_midline", -10, -33, 13),
        (PILAR, "head_pads", -25, -48, 1),
        (DUNJA, "hand_afternoon", 40, -2, 67),
        (SAOIRSE, "head_pads", 47, 19, 68),
        (SAOIRSE, "hand_stick", 66, 28, 85),
    ],
)
def test_by_how_much_the_requested_control_differs(client, name, other, points, low, high):
    fact = client(name).evidence.of("difference", other)
    assert [round(value * 100) for value in (fact.value, fact.low, fact.high)] == [points, low, high]


@of_each(
    ("name", "criterion", "status"),
    [
        # supported
        (ILMARI, "standard_stick_ruled_out", "met"),
        (MARISOL, "simpler_controls_compared", "met"),
        (MARISOL, "emergency_page_complete", "met"),
        (SAOIRSE, "standard_stick_ruled_out", "met"),
        # supported; what the breathing machine and the disease must be asked is open, and so is the call
        (TADEO, "drives_reliably", "met"),
        (TADEO, "conditions_answered", "cannot_tell"),
        (TADEO, "emergency_page_complete", "cannot_tell"),
        (TADEO, "alone_is_provided_for", "cannot_tell"),
        # supported and urgent
        (YEWANDE, "simpler_controls_compared", "met"),
        (YEWANDE, "drives_reliably", "met"),
        # not justified: the simpler control does as well
        (ANSELM, "standard_stick_ruled_out", "not_met"),
        (ANSELM, "simpler_controls_compared", "not_met"),
        # not justified as configured: it does not stop in the space there is
        (PILAR, "stops_within_space", "not_met"),
        (PILAR, "no_unanswered_risk", "not_met"),
        # incomplete: ask, do not deny
        (BOHDAN, "drives_reliably", "cannot_tell"),
        (BOHDAN, "fits_the_home", "cannot_tell"),
        # partly: one day alone
        (DUNJA, "asked_for_shown_enough", "not_met"),
        (DUNJA, "drives_reliably", "cannot_tell"),
        # cannot proceed
        (KOA, "dangerous_findings_met", "not_met"),
        (KOA, "conditions_answered", "cannot_tell"),
        (KOA, "medicaid_encounter_in_time", "not_met"),
        (KOA, "no_unanswered_risk", "not_met"),
        (KOA, "asked_for_shown_enough", "not_met"),
        (KOA, "supervision_stated", "cannot_tell"),
    ],
)
def test_the_check_says_what_a_reviewer_concludes(client, name, criterion, status):
    assert statuses(client(name))[criterion] == {status}


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_a_supported_request_is_held_by_nothing(client, name):
    assert [verdict.criterion.id for verdict in client(name).verdicts if verdict.blocks] == []


@of_each("name", [name for name in TEN if name not in (ILMARI, MARISOL, SAOIRSE)])
def test_any_other_is_held_back(client, name):
    assert any(verdict.blocks for verdict in client(name).verdicts)


@of_each(
    ("name", "conditions"),
    [
        (MARISOL, {"spinal_cord_injury", "autonomic_dysreflexia", "pressure_injury"}),
        (TADEO, {"duchenne_dystrophy", "ventilator"}),
        (YEWANDE, {"fast_progressive_disease", "weak_neck_or_breathing"}),
        (ANSELM, {"brain_injury_or_stroke"}),
        (BOHDAN, {"weak_neck_or_breathing", "growing_child"}),
        (DUNJA, {"ms_and_heat"}),
        (KOA, {"epilepsy", "growing_child"}),
    ],
)
def test_the_conditions_that_bear_on_safety_are_found(client, name, conditions):
    assert conditions <= set(of_case(client(name).file.case))


def test_a_chair_with_a_foot_plate_beside_it_still_passes_the_door(client):
    """660 mm and 60 mm of foot plate in 815 mm: 47.5 mm on each side."""
    case = client(YEWANDE)
    assert case.evidence.of("margin", "bedroom_door").value == pytest.approx(47.5)


def test_a_stop_of_the_graded_pads_is_longer_than_the_space_at_the_ramp_and_one_of_the_present_pads_is_not(client):
    """At 0.6 m/s, 2.8 s and 0.6 s of release, 0.15 s of delay and 0.8 m/s2: 2.00 m and 0.68 m of 1.2 m, by hand."""
    one = client(PILAR)
    chair = one.file.case.configuration.chair
    delay, braking = chair.electronics_delay_s, chair.deceleration_m_s2
    graded, present = (0.6 * (release + delay) + 0.6**2 / (2 * braking) for release in (2.8, 0.6))
    (ramp,) = [there for there in one.evidence.stopping.places if there.space.id == "ramp_foot"]
    assert present < ramp.room_m == 1.2 < graded <= ramp.distance_m and ramp.stops is False


def test_a_sheet_without_a_day_is_refused_with_its_line(tmp_path):
    with pytest.raises(UserError, match=r"trial\.csv:8.*date"):
        assess(write(KOA, tmp_path, undated=True))


@pytest.mark.parametrize("name", TEN)
def test_each_of_its_pages_is_made_and_tells_what_is_missing(client, name):
    one = client(name)
    made = trees(one, ["letter", "guide", "plan", "order"])
    assert set(made) >= {"letter", "guide", "plan", "order"}
    pages = {document: tree.plain() for document, tree in made.items()}
    assert all(one.file.case.client.called in text for text in pages.values())
    complete = name in (ILMARI, MARISOL, SAOIRSE)
    assert complete or any("not recorded" in text for text in pages.values())
    assert not [document for document, text in pages.items() if "None" in text.split()]


@pytest.mark.parametrize("name", [TADEO, KOA])
def test_an_emergency_page_without_a_step_says_so_and_makes_none_up(client, name):
    page = trees(client(name), ["emergency"])["emergency"].plain()
    assert "not recorded: what to do, step by step" in page and "not recorded: whom to call" in page


def test_the_letter_does_not_say_what_the_record_does_not_bear(client):
    """Fourteen words and four hands on in 12 tries: that he drives by himself is not shown."""
    assert "own_words_hold" in {v.criterion.id for v in client(KOA).verdicts if v.answer.status == "not_met"}
