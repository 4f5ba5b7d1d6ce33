"""What an order holds: lines with and without a code, controls, seat motors, the base and the day that counts."""

from __future__ import annotations

from datetime import date

import pytest
from changes import LINE
from gathered import of_each
from whole_case import GONE, changed, grounds

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.criteria.ordered import (
    base,
    code_of,
    control_alone,
    controls,
    day_that_counts,
    lines,
    motors_of_codes,
    no_codes,
    seat_motors,
    tells,
    thing_asked_for,
    without_code,
)

SENSES = {"features": ["proximity_sensing"]}


def _item(code: str | None, **keys: object) -> dict[str, object]:
    item = {key: value for key, value in (LINE | {"code": code} | keys).items() if value is not None}
    return item | {"id": f"line_{code or 'bare'}".lower()}


def _order(*items: dict[str, object], **chair: object) -> Case:
    keys = (
        ("configuration.features", [{"id": "proximity_sensing", "because": []}]),
        ("configuration.items", list(items)),
        ("configuration.chair", chair),
    )
    return grounds(changed(*keys)).case


def test_lines_are_told_apart_by_their_codes():
    case = _order(_item("E1002"), _item(None), _item("E2330"))
    assert [i for i, _ in lines(case)] == [0, 2] and [i for i, _ in lines(case, ("E2330",))] == [2]
    assert [i for i, _ in without_code(case)] == [1]
    assert no_codes(case) is None and no_codes(_order(_item(None))).reason == "No item has a code."


@pytest.mark.parametrize(
    ("item", "is_control"),
    [
        (_item("E2330"), True),
        (_item("K0108", **SENSES), True),
        (_item("K0108"), False),  # nothing says that it senses the driver
        (_item("E1002", **SENSES), False),
    ],
)
def test_a_control_is_one_by_its_code_or_by_how_it_senses_the_driver(item, is_control):
    assert bool(controls(_order(item))) is is_control


@of_each(
    ("name", "purpose", "words", "expected"),
    [
        ("Two lamps", None, ("lamp",), True),
        ("Switchboxes", None, ("switchbox", "radio"), True),
        ("Box", "To switch the radio", ("lamp", "radio"), True),
        ("Clamp", None, ("lamp",), False),
        ("None", None, ("none",), True),
        ("Box", None, ("none",), False),
    ],
)
def test_a_line_tells_of_a_word_by_its_name_or_purpose(name, purpose, words, expected):
    item = Item.model_validate({"id": "line", "name": name, "purpose": purpose})
    assert tells(item, words) is expected


@pytest.mark.parametrize(
    ("delivered", "requested", "ordered", "expected"),
    [
        (5, 4, 3, (date(2026, 5, 1), "the day of delivery")),
        (None, 4, 3, (date(2026, 4, 1), "the day of the request")),
        (None, None, 3, (date(2026, 3, 1), "the day of the order")),
        (None, None, None, None),
    ],
)
def test_codes_are_judged_by_delivery_else_request_else_order(delivered, requested, ordered, expected):
    keys = {"dates.delivered_on": delivered, "request.requested_on": requested, "dates.ordered_on": ordered}
    changes = [("dates.delivered_on", None), *((key, m and date(2026, m, 1)) for key, m in keys.items())]
    assert day_that_counts(grounds(changed(*changes)).case) == expected


@pytest.mark.parametrize(("kind", "thing"), [("control_only", "control"), ("new_chair", "chair"), (GONE, "chair")])
def test_a_control_is_asked_for_where_the_request_says_so(kind, thing):
    case = grounds(changed(("request.kind", kind))).case
    assert thing_asked_for(case) == thing and control_alone(case) is (thing == "control")


@pytest.mark.parametrize(
    ("chair", "on_order", "code"),
    [("K0861", "K0848", "K0861"), (None, "K0848", "K0848"), ("K0861", "E1002", "K0861"), (None, "E1002", None)],
)
def test_the_base_is_that_of_the_chair_else_a_line_of_the_order(chair, on_order, code):
    power_base = base(_order(_item(on_order), **({"base_code": chair} if chair else {})))
    assert (power_base.id if power_base else None) == code


@pytest.mark.parametrize(
    ("codes", "motors"),
    [
        ([("E1006", None), ("E1002", None)], 3),  # tilt and recline of two, and tilt of one
        ([("E1002", 2)], 2),
        ([("E1009", None)], 0),
        ([("E2330", None)], 0),  # a control moves no seat
        ([("E1012", None), ("E1002", None)], None),  # one known by inference alone
        ([("E1010", None), ("E1002", None)], None),  # one that does not say
    ],
)
def test_seat_motors_are_those_of_the_seating_codes_where_each_says_how_many(codes, motors):
    case = _order(*(_item(code, quantity=n) for code, n in codes))
    assert motors_of_codes(case) == motors and seat_motors(case) == (motors or None)
    assert seat_motors(_order(*(_item(code, quantity=n) for code, n in codes), seat_actuators=4)) == 4


def test_a_code_outside_the_list_is_none_that_a_line_was_chosen_by():
    assert code_of(Item.model_validate({"id": "line", "name": "tilt", "code": "E1002"})).motors == 1
    with pytest.raises(LookupError, match="E9999 is not in the list"):
        code_of(Item.model_validate({"id": "line", "name": "tilt", "code": "E9999"}))
