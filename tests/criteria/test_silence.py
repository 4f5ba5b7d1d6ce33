"""Silence is never a pass: what is not recorded is never met, and nothing left out makes a question fail."""

from __future__ import annotations

import pytest
from pydantic import ValidationError
from trail_cases import LATER
from whole_case import GONE, ROWS, WHOLE, ask, changed, grounds, key_paths

from docgen.criteria.criterion import criteria

NOTHING = grounds({"format": "docgen case 1", "id": "robin-example"}, ())
TABLES = [name for name in WHOLE if name not in ("format", "id")]


@pytest.mark.parametrize("criterion", criteria())
def test_an_empty_case_meets_nothing(criterion):
    answer = ask(criterion, NOTHING)
    assert answer.status == "cannot_tell"
    assert answer.reason.endswith(".") and answer.mend and answer.where


@pytest.mark.parametrize("criterion", criteria())
def test_rows_alone_or_a_case_without_rows_meet_only_what_needs_no_other_half(criterion):
    tables = {"trial": WHOLE["trial"], "configuration": {"method": "pads"}}
    rows_alone = ask(criterion, grounds({"format": "docgen case 1", "id": "robin-example", **tables}))
    no_more = (
        "drives_reliably",
        "stops_on_request",
        "simpler_controls_compared",
        "driver_is_safe",
        "driving_shown",
        "lessons_can_begin",
    )
    assert rows_alone.status != "met" or criterion in no_more
    of_the_trial = (
        "drives_reliably",
        "settings_within_evidence",
        "stops_on_request",
        "stops_within_space",
        "simpler_controls_compared",
        "ruling_has_ground",
        "driver_is_safe",
        "driving_shown",
        "lessons_can_begin",
        "latch_is_limited",
        *LATER,
    )
    assert (ask(criterion, grounds(WHOLE, ())).status == "met") is (criterion not in of_the_trial)


def test_each_table_left_out_is_missed_by_some_criterion():
    for table in TABLES:
        left = grounds({key: value for key, value in WHOLE.items() if key != table}, () if table == "trial" else ROWS)
        assert any(ask(criterion, left).status == "cannot_tell" for criterion in criteria()), table


def test_any_one_key_left_out_gives_every_question_exactly_one_answer():
    asked, refused = 0, 0
    for path in key_paths(WHOLE):
        try:
            left = grounds(changed((path, GONE)))
        except ValidationError:  # a key that its table cannot do without
            refused += 1
            continue
        for criterion in criteria():
            answer = ask(criterion, left)
            assert answer.status in ("met", "not_met", "cannot_tell", "does_not_apply"), (path, criterion)
            assert bool(answer.mend) is (answer.status in ("not_met", "cannot_tell")), (path, criterion)
            asked += 1
    assert asked > 3000 and 0 < refused < 150


# One key of the whole case -> the criteria that rest on it and so cannot stay met without it
RESTS_ON = {
    "configuration.chair.deceleration_m_s2": {"settings_within_evidence", "stops_within_space"},
    "configuration.chair.electronics_delay_s": {"settings_within_evidence", "stops_within_space"},
    "configuration.chair.width_mm": {"fits_the_home"},
    "configuration.method": {
        "attendant_control_grounds",
        "driver_is_safe",
        "lessons_can_begin",
        "driving_shown",
        "drives_reliably",
        "simpler_controls_compared",
        "settings_within_evidence",
        "stops_on_request",
        "stops_within_space",
    },
    "configuration.stop.helper": {"others_can_stop_it"},
    "client.willing": {"client_willing"},
    "dates.accepted_on": {"evaluation_before_order"},
    "dates.encounter_on": {"encounter_before_order", "medicaid_encounter_in_time", "specialist_after_encounter"},
    "dates.home_visit_on": {"fits_the_home", "home_report_before_delivery"},
    "dates.ordered_on": {"encounter_before_order", "evaluation_before_order", "order_before_delivery"},
    "dates.supplier_assessed_on": {"packet_whole", "specialist_after_encounter", "supplier_saw_client"},
    "limits.1.answer": {"limits_answered"},
    "people.0.license": {"evaluator_named", "packet_whole"},
    "people.0.statement_on": {"evaluator_independent", "packet_whole"},
    "order.codes": {"papers_agree"},
    "client.weight_kg": {"weight_within_class"},
    "client.born_on": {"corrects_or_improves", "growth_planned"},
    "diagnoses.0.group": {"base_group_fits_diagnosis"},
    "encounter.signed": {"encounter_documented", "packet_whole"},
    "findings.0.by": {"record_dated"},
    "order.has": {"order_is_complete", "packet_whole"},
    "order.received_on": {"order_before_delivery"},
    "order.signed_by": {"same_practitioner", "signer_may_order"},
    "people.2.informed_on": {"sharing_agreed"},
    "request.chair_now": {"one_chair"},
    "request.months_needed": {"need_lasts"},
    "request.reviewed_on": {"need_reviewed"},
    "spaces.0.clear_width_mm": {"fits_the_home"},
    "spaces.0.threshold_mm": {"fits_the_home"},
    "spaces.1.floor": {"fits_the_home"},
    "supervision.0.by": {"supervision_stated"},
    "taught.0.on": {"caregivers_taught"},
    "training.stage": {"training_planned"},
}


@pytest.mark.parametrize(("path", "resting"), RESTS_ON.items(), ids=list(RESTS_ON))
def test_without_a_key_exactly_the_criteria_that_rest_on_it_cannot_be_told(path, resting):
    left = grounds(changed((path, GONE)))
    assert {criterion for criterion in criteria() if ask(criterion, left).status == "cannot_tell"} == resting
