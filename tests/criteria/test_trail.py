"""The paper trail and the rules of single payers: one small case, changed in one way at a time."""

from __future__ import annotations

import re

import pytest
from trail_cases import DELIVERED, LATER, LESSONS, TOUCHED, TRAIL, TRAIL_ONLY_RECORDED
from whole_case import AUTHORIZED, GONE, WHOLE, ask, changed, grounds

EXAMPLES = [
    pytest.param(criterion, status, record, id=f"{criterion}: {status}, {record[0]}")
    for criterion, answers in TRAIL.items()
    for status, records in answers.items()
    for record in records
]


@pytest.mark.parametrize(("criterion", "status", "record"), EXAMPLES)
def test_the_record_gives_the_expected_answer(criterion, status, record):
    _, changes, *rows = record
    answer = ask(criterion, grounds(changed(*changes), *rows))
    assert answer.status == status, answer.reason
    assert (
        answer.reason.endswith(".") and not re.search(r"\bNone\b(?! of)", answer.reason) and "  " not in answer.reason
    )
    assert answer.where and bool(answer.mend) == (status in ("not_met", "cannot_tell"))


def test_a_stop_rule_that_waits_is_not_told_as_cleared():
    told = {
        cleared: ask(
            "stop_rules_kept", grounds(changed(*DELIVERED, ("sessions", [LESSONS[0], TOUCHED | cleared_by])))
        ).reason
        for cleared, cleared_by in ((True, {"cleared_by": "OT, by phone"}), (False, {}))
    }
    assert (
        "driving went on only after it was cleared" in told[True]
        and "nobody has driven since the last, which is not cleared yet" in told[False]
    )


@pytest.mark.parametrize("criterion", TRAIL)
def test_each_criterion_has_a_record_for_each_answer_it_can_give(criterion):
    answers = set(TRAIL[criterion])
    assert {"met", "cannot_tell"} <= answers and ("not_met" in answers) != (criterion in TRAIL_ONLY_RECORDED)


@pytest.mark.parametrize("criterion", sorted(LATER))
def test_before_its_time_a_question_is_not_met_by_silence(criterion):
    assert ask(criterion, grounds(WHOLE)).status == "does_not_apply"


@pytest.mark.parametrize(
    ("criterion", "settings", "changes", "status"),
    [
        ("encounter_documented", {"keys": ["mode", "sent_on", "answers"]}, [], "met"),
        ("encounter_documented", {"keys": ["sent_on"]}, [("encounter.sent_on", GONE)], "cannot_tell"),
        ("encounter_documented", {"keys": ["answers"]}, [("encounter.answers", ["scooter"])], "cannot_tell"),
        ("encounter_documented", {"keys": ["signed"]}, [("encounter.narrative", False)], "met"),
        ("signer_may_order", {"credentials": ["MD"]}, [], "not_met"),
        ("signer_may_order", {"plan_of_care": True}, [], "met"),
        ("signer_may_order", {"plan_of_care": True}, [("order.in_plan_of_care", False)], "not_met"),
        ("signer_may_order", {"plan_of_care": True}, [("order.in_plan_of_care", GONE)], "cannot_tell"),
        (
            "papers_agree",
            {"papers": ["order"], "parts": ["items"]},
            [*AUTHORIZED, ("authorization.codes.0", "K0861")],
            "met",
        ),
        ("papers_agree", {"papers": ["authorization"]}, [], "does_not_apply"),
        ("papers_agree", {"parts": ["base"]}, [("order.codes.3", GONE)], "met"),
        ("authorization_before_delivery", {"kinds": ["replacement"]}, [], "does_not_apply"),
        ("authorization_decided_in_time", {"working_days": 7}, AUTHORIZED, "not_met"),
        (
            "medicaid_encounter_in_time",
            {"months": 5},
            [("dates.delivered_on", WHOLE["dates"]["encounter_on"].replace(month=8))],
            "not_met",
        ),
        ("need_reviewed", {"months": 2}, [], "not_met"),
        ("weight_within_class", {"groups": ["1", "2"]}, [], "does_not_apply"),
        ("specialist_in_person", {"keys": ["took_part"]}, [("people.1.own_record", GONE)], "met"),
        ("local_rules_known", {"keys": ["route"]}, [("request.local_rules", GONE)], "met"),
        ("seating_has_ground", {"codes": ["E2298"]}, [], "does_not_apply"),
        (
            "seating_has_ground",
            {"findings": ["spasm_sudden"]},
            [("configuration.items.4.purpose", "catheterisation in the chair")],
            "met",
        ),
        (
            "seating_has_ground",
            {"findings": ["spasm_sudden"], "dependent": ["transfer_slide"]},
            [("configuration.items.4.purpose", "catheterisation in the chair")],
            "cannot_tell",
        ),
        ("specialist_in_person", {"asks_all": False}, [("people.1.own_record", GONE)], "does_not_apply"),
        ("specialist_in_person", {"asks_all": False}, [("people.1.took_part", "on_paper")], "not_met"),
        ("settings_recorded", {"codes": ["E2330"]}, [("configuration.profiles.0.turn_deg_s", GONE)], "cannot_tell"),
        ("settings_recorded", {"codes": ["E2330"], "programmable": ["speed", "braking"]}, [], "met"),
        (
            "settings_recorded",
            {"codes": ["E2330"], "programmable": ["speed", "braking"]},
            [("configuration.programmable", ["speed"])],
            "cannot_tell",
        ),
        (
            "settings_recorded",
            {"codes": ["E2330"], "programmable": ["speed"]},
            [("configuration.programmable", GONE)],
            "cannot_tell",
        ),
        ("settings_recorded", {"codes": ["E2312"]}, [("configuration.profiles.0.turn_deg_s", GONE)], "does_not_apply"),
        ("overlap_explained", {"points": ["headrest"]}, [], "does_not_apply"),
        ("record_dated", {"tables": ["findings", "limits"]}, [("limits", [])], "met"),
        ("modifiers_fit", {"on_each_line": True}, [("configuration.items.0.modifier", GONE)], "cannot_tell"),
        ("modifiers_fit", {}, [("request.kind", "replacement"), ("configuration.items.0.modifier", "KX KC")], "met"),
        (
            "modifiers_fit",
            {},
            [
                ("request.kind", "replacement"),
                ("configuration.items.0.modifier", "KX KC"),
                ("configuration.items.0.why", GONE),
            ],
            "cannot_tell",
        ),
        ("packet_whole", {}, [("configuration.chair.base_code", "K0890")], "does_not_apply"),
        ("sources_settled", {"points": ["unlisted_base"]}, [("request.kind", "replacement")], "does_not_apply"),
    ],
)
def test_a_setting_changes_the_answer(criterion, settings, changes, status):
    assert ask(criterion, grounds(changed(*changes)), **settings).status == status
