"""Steps of a request: which have no day, and whether a delivery is only still to come."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from whole_case import grounds

from docgen.criteria.steps import STEPS, day_of, not_delivered, undated

EMPTY = {"format": "docgen case 1", "id": "robin-example"}
ON = date(2026, 3, 2)


def _case(*paths: tuple[object, ...]):
    raw = dict(EMPTY)
    for table, key in paths:
        raw[str(table)] = {str(key): ON}
    return grounds(raw, ()).case


@pytest.mark.parametrize("under_way", [("request", "requested_on"), ("dates", "ordered_on"), ("dates", "written_on")])
def test_a_request_under_way_has_its_delivery_still_to_come(under_way):
    answer = not_delivered(_case(under_way), "until then nothing is asked")
    assert answer is not None and answer.status == "does_not_apply"
    assert answer.reason == "No delivery is recorded yet; until then nothing is asked."


def test_nothing_recorded_at_all_cannot_be_told_and_a_delivery_can():
    assert not_delivered(_case(), "then").status == "cannot_tell"
    assert not_delivered(_case(("dates", "delivered_on")), "then") is None


@of_each("step", STEPS)
def test_a_step_has_the_day_of_its_key_or_is_told_to_have_none(step):
    dated, other = _case(STEPS[step]), next(name for name in STEPS if STEPS[name][0] != STEPS[step][0])
    assert day_of(dated, step) == ON and undated(dated, step) is None
    answer = undated(dated, step, other)
    assert answer.reason == f"Not recorded: the day of the {other}." and answer.where == (STEPS[other],)


def test_a_request_without_a_day_is_asked_for_that_day_and_for_nothing_of_a_delivery():
    answer = not_delivered(_case(), "then it is asked")
    assert answer is not None and answer.status == "cannot_tell"
    assert answer.mend is not None and answer.mend.fill == ("request.requested_on",)


def test_a_trial_without_a_day_of_a_request_has_its_delivery_still_to_come():
    visits = grounds(dict(EMPTY) | {"visits": [{"id": "clinic_1", "on": ON}]}, ()).case
    assert not_delivered(visits, "then").status == "does_not_apply"
    used = dict(EMPTY) | {"visits": [{"id": "clinic_1", "on": ON}], "delivery": {"signed_by": "client"}}
    assert not_delivered(grounds(used, ()).case, "then").status == "cannot_tell"
