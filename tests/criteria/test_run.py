"""Every requirement in force gets exactly one answer, worst first, and no question fails in silence."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from msgspec.structs import replace
from whole_case import GONE, ROWS, WHOLE, attempts, changed, grounds

import docgen.criteria.run
from docgen.criteria.criterion import HEADINGS, Answer, criteria, met
from docgen.criteria.payer import Payer, Requirement, load
from docgen.criteria.run import Verdict, blocking, verdicts

GENERAL = load("general", "case.toml:1")
TODAY = date(2026, 5, 4)
CHANGES = (
    ("people.0.license", GONE),
    ("client.willing", GONE),
    ("goals", []),
    ("limits.1.found", False),
    ("spaces.0.clear_width_mm", 630),
    ("alternatives.2.ruled_out_by", "nothing"),
)
WORSE = grounds(changed(*CHANGES), ROWS[:16] + attempts("pads", "0110" * 6))


def _row(**keys):
    given = {
        "id": "row",
        "criterion": "client_willing",
        "severity": "query",
        "from": date(2020, 1, 1),
        "citation": "text",
        "known": "read",
    }
    return Requirement(**{**given, **keys})


def _payer(*rows):
    return Payer(id="harbour", name="Harbour", reviewed_on=TODAY, review_by=date(2027, 1, 1), requirements=rows)


def test_each_requirement_in_force_has_one_answer_and_each_criterion_is_asked():
    found = verdicts(WORSE, GENERAL, TODAY)
    bound = sorted(v.requirement.id for v in found if v.requirement in GENERAL.requirements)
    assert bound == sorted(row.id for row in GENERAL.in_force(TODAY))
    assert {v.criterion.id for v in found} == set(criteria())


def test_the_worst_stand_first_and_then_by_heading():
    found = verdicts(WORSE, GENERAL, TODAY)
    statuses = ["not_met", "cannot_tell", "met", "does_not_apply"]

    def weight(v):
        status, severity = statuses.index(v.answer.status), ["blocks", "query", "advise"].index(v.requirement.severity)
        place = list(HEADINGS).index(v.criterion.heading)
        return (not v.open, severity, status, place, v.requirement.id)

    assert [weight(v) for v in found] == sorted(weight(v) for v in found)
    assert {v.answer.status for v in found} == set(statuses)


@of_each(
    ("status", "danger", "holds", "told", "severity", "blocks"),
    [
        # status, DANGER and HOLDS of the criterion, danger of the answer -> what it weighs where a row only advises
        ("not_met", False, False, False, "advise", False),
        ("not_met", True, False, False, "blocks", True),
        ("cannot_tell", True, False, False, "advise", False),
        ("cannot_tell", "untold", False, False, "blocks", True),
        ("not_met", "untold", False, False, "blocks", True),
        ("met", "untold", False, False, "advise", False),
        ("cannot_tell", False, False, True, "blocks", True),
        ("cannot_tell", False, True, False, "blocks", True),
        ("met", False, True, False, "advise", False),
        ("does_not_apply", True, True, False, "advise", False),
    ],
)
def test_what_can_hurt_or_holds_everything_blocks_while_it_is_open(status, danger, holds, told, severity, blocks):
    criterion = replace(criteria()["goals_set"], danger=danger, holds=holds)
    verdict = Verdict(_row(severity="advise"), criterion, Answer(status, "So.", ("id",), danger=told))
    assert (verdict.severity, verdict.blocks) == (severity, blocks)
    assert verdict.holds is (holds and status == "cannot_tell") and verdict.bound
    assert verdict.open is (status in ("not_met", "cannot_tell"))


def test_a_danger_holds_by_itself_and_not_as_what_nothing_is_approved_without():
    criterion = replace(criteria()["goals_set"], danger=True, holds=True)
    verdict = Verdict(_row(severity="advise"), criterion, Answer("not_met", "So.", ("id",)))
    assert verdict.dangerous and not verdict.holds and verdict.blocks


def test_what_blocks_is_open_and_bound_by_a_row_that_blocks():
    found = verdicts(WORSE, GENERAL, TODAY)
    assert {v.criterion.id for v in blocking(found)} == {
        "evaluator_named",
        "client_willing",
        "fits_the_home",
        "lesser_mobility_ruled_out",
        "ruling_has_ground",  # 4 of 16 against 12 of 24: the interval reaches the requested control
    }
    assert "goals_set" in {v.criterion.id for v in found if v.open and not v.blocks}
    assert not blocking(verdicts(grounds(WHOLE), GENERAL, TODAY))


def test_a_criterion_that_no_row_binds_is_asked_as_good_practice():
    found = verdicts(WORSE, _payer(_row()), TODAY)
    assert {v.criterion.id for v in found} == set(criteria())
    unbound = [v for v in found if v.requirement.id != "row"]
    assert not any(v.bound for v in unbound) and next(v for v in found if v.requirement.id == "row").bound
    assert all(v.requirement.severity == "advise" and v.requirement.id == v.criterion.id for v in unbound)
    assert all("asked of every case" in v.requirement.citation for v in unbound) and not blocking(found)


def test_a_row_out_of_force_leaves_its_criterion_as_good_practice():
    retired = _row(severity="blocks", until=date(2020, 12, 31))
    found = {v.criterion.id: v for v in verdicts(WORSE, _payer(retired), TODAY)}
    assert found["client_willing"].requirement.severity == "advise"
    then = {v.criterion.id: v for v in verdicts(WORSE, _payer(retired), date(2020, 6, 1))}
    assert then["client_willing"].blocks


def test_two_rows_on_one_criterion_are_both_answered_each_with_its_settings():
    rows = [_row(id=f"in_{n}", criterion="encounter_before_order", settings={"months": n}) for n in (1, 6)]
    found = {v.requirement.id: v.answer.status for v in verdicts(grounds(WHOLE), _payer(*rows), TODAY)}
    assert found["in_1"] == "not_met" and found["in_6"] == "met"


def test_a_question_that_raises_is_not_swallowed(monkeypatch):
    def fails(on, **settings):
        raise ZeroDivisionError

    broken = {
        c.id: replace(c, ask=fails) if c.id == "goals_set" else replace(c, ask=lambda on, **s: met(".", ("id",)))
        for c in criteria().values()
    }
    monkeypatch.setattr(docgen.criteria.run, "criteria", lambda: broken)
    with pytest.raises(ZeroDivisionError):
        verdicts(WORSE, GENERAL, TODAY)


@pytest.mark.parametrize(("done", "blocks"), [("1011", True), ("0111", False)])
def test_a_client_who_misses_most_stops_is_held_back_whoever_pays(done, blocks):
    held = grounds(WHOLE, ROWS[:16] + attempts("pads", done * 6))  # the second of four tasks is the stop
    for payer in (GENERAL, load("charity_or_school", ""), _payer(_row())):
        assert ("stops_on_request" in {v.criterion.id for v in blocking(verdicts(held, payer, TODAY))}) is blocks


def test_a_chair_that_nobody_is_told_how_to_stop_is_held_back_whoever_pays():
    held = grounds(changed(("configuration.stop.helper", GONE)), ROWS)
    for payer in (GENERAL, load("charity_or_school", ""), _payer(_row())):
        (found,) = (v for v in blocking(verdicts(held, payer, TODAY)) if v.criterion.id == "others_can_stop_it")
        assert found.dangerous and found.answer.status == "cannot_tell"
