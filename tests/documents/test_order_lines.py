"""The lines to order: what a clerk enters, what each answers, and the standard parts that are asked about once."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from gathered import of_each
from in_full import text_in_full
from made import assessed
from support import ASSESSED, DEMO_FOLDERS, assess

from docgen.case.fitted import FittedSetting
from docgen.case.items import ASKED_PARTS, StandardPart
from docgen.case.known_on import known_on
from docgen.case.model import Case
from docgen.documents.as_fitted import settings_otherwise
from docgen.documents.lines import base_described, order_lines, unlined
from docgen.documents.standard_parts import standard_parts
from docgen.errors import UserError
from docgen.fit.in_force import in_force
from docgen.library import check_case
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording

WORDS = language_words()
ITEM = {"id": "pads", "name": "head array", "code": "E2330", "quantity": 1}


def _case(items: Any = (ITEM,), *, chair: Any = None, **more: Any) -> Case:
    configuration = {"items": tuple(items), "chair": {"name": "a chair", "base_code": "K0861"} | (chair or {})}
    return Case.model_validate(
        {"format": "docgen case 1", "id": "robin", "configuration": configuration | more.pop("configuration", {})}
        | more
    )


def _line(case: Case, number: int) -> Any:
    return next(line for line in order_lines(case, (), WORDS) if line["number"] == number)


# group, weight class, power options and seat of the bases, as the descriptors of the CMS file of 2019 have them
@of_each(
    ("code", "described"),
    [
        ("K0856", "group 3 standard, single power option, sling or solid seat and back"),
        ("K0861", "group 3 standard, multiple power option, sling or solid seat and back"),
        ("K0890", "group 5 pediatric, single power option, sling or solid seat and back"),
        ("K0857", "group 3 standard, single power option, captain's chair"),
        ("K9999", ""),
        (None, ""),
    ],
)
def test_a_base_is_described_as_its_code_has_it(code, described):
    assert base_described(code, WORDS) == described


def test_a_chair_says_which_line_its_power_seating_is_and_a_diagnosis_that_no_line_rests_on_is_told():
    seat = ITEM | {"id": "seat", "code": "E1007", "diagnosis_codes": ("G82.51",)}
    codes = tuple({"code": code, "name": "x"} for code in ("S14.114D", "G82.51"))
    case = _case([ITEM, seat], diagnoses=codes)
    assert _line(case, 1)["seated_by"] == "; its power seating is ordered as line 3"
    assert unlined(case) == ("S14.114D",)
    assert "seating" not in _line(_case(), 1)["described"].replace("seat and back", "") and unlined(_case()) == ()


@of_each(
    ("items", "billed"),
    [
        ([ITEM], "yes, by its code"),
        ([ITEM | {"billed": "separately"}], "yes"),
        ([ITEM | {"billed": "included"}], "no, included"),
        ([ITEM | {"code": "E9999"}], None),
        ([{"id": "pads", "name": "head array"}], None),
        ([{"id": "pads", "name": "head array", "billed": "separately"}], "yes"),
        # article A52504: E2325 includes its swing-away mounting hardware
        (
            [{"id": "swing", "name": "swing-away", "code": "E1032"}, ITEM | {"id": "sip", "code": "E2325"}],
            "no, included in E2325",
        ),
    ],
)
def test_a_line_is_billed_as_recorded_or_as_its_code_has_it(items, billed):
    assert _line(_case(items), 2)["billed"] == billed


def test_quantity_unit_modifiers_and_length_of_need_are_those_of_the_line():
    item = ITEM | {"quantity": 2, "unit": "pair", "modifier": "NU KX", "months_needed": 36}
    case = _case([item, ITEM | {"id": "more"}], request={"months_needed": 60})
    first, second = _line(case, 2), _line(case, 3)
    assert (first["quantity"], first["unit"], first["modifiers"], first["months"]) == (2, "pair", "NU KX", 36)
    assert (second["quantity"], second["unit"], second["modifiers"], second["months"]) == (1, "each", "", 60)


@pytest.mark.parametrize(
    ("codes", "named", "shown"),
    [
        (["G80.3"], (), "G80.3"),
        (["G80.3", "G25.0"], (), None),
        (["G80.3", "G25.0"], ("G25.0",), "G25.0"),
        (["G80.3", "G25.0"], ("G80.3", "G25.0"), "G80.3 and G25.0"),
        ([], (), None),
    ],
)
def test_a_line_names_its_diagnosis_and_of_several_none_is_guessed(codes, named, shown):
    case = _case([ITEM | {"diagnosis_codes": named}], diagnoses=tuple({"code": code, "name": "x"} for code in codes))
    assert _line(case, 2)["diagnoses"] == shown


@pytest.mark.parametrize(("kind", "codes"), [("new_chair", ["K0861", "E2330"]), ("control_only", ["E2330"])])
def test_a_chair_that_stays_is_no_line_and_its_parts_are_not_asked_about(kind, codes):
    case = _case(request={"kind": kind})
    assert [line["code"] for line in order_lines(case, (), WORDS)] == codes
    assert [line["number"] for line in order_lines(case, (), WORDS)] == [*range(1, len(codes) + 1)]
    assert len(list(standard_parts(case, WORDS))) == (len(ASKED_PARTS) if kind == "new_chair" else 0)


def test_the_payers_answer_stands_word_for_word_with_its_day():
    case = _case(
        [ITEM | {"payer_says": "APPROVED 1 EA", "payer_said_on": date(2026, 5, 15)}],
        dates={"written_on": date(2026, 5, 1)},
    )
    line = _line(case, 2)
    assert (line["payer_says"], line["payer_said_on"]) == ("APPROVED 1 EA", date(2026, 5, 15))


@of_each(
    ("part", "items", "comes", "line"),
    [
        ({"part": "batteries", "comes": "with_base"}, [ITEM], "with_base", 0),
        ({"part": "batteries", "comes": "line", "item": "pads"}, [ITEM], "line", 2),
        ({"part": "batteries"}, [ITEM], None, 0),
        # article A52504: the power seating codes include seat, back, armrests and legrests; E0955 is the headrest
        ({"part": "armrests"}, [ITEM | {"code": "E1007"}], "line", 2),
        ({"part": "armrests", "comes": "moves_over"}, [ITEM | {"code": "E1007"}], "moves_over", 0),
        ({"part": "headrest"}, [ITEM | {"code": "E0955"}], "line", 2),
        ({"part": "headrest"}, [ITEM], None, 0),
    ],
)
def test_a_standard_part_has_one_answer_or_none_that_is_guessed(part, items, comes, line):
    rows = list(standard_parts(_case(items, configuration={"standard_parts": (part,)}), WORDS))
    row = next(row for row in rows if row["part"] == WORDS["standard_part"][part["part"]])
    assert (row["comes"], row["line"]) == (comes, line)
    assert len(rows) == len(ASKED_PARTS)


def test_every_standard_part_and_where_it_comes_from_has_words():
    for key, table in (("part", "standard_part"), ("comes", "comes")):
        kind = str(StandardPart.model_fields[key].annotation)
        assert all(f"'{word}'" in kind for word in WORDS[table]) and kind.count("'") == 2 * len(WORDS[table])


@pytest.mark.parametrize(
    ("found", "instead", "said"),
    [
        (
            'diagnosis_codes = ["G82.51"]',
            'diagnosis_codes = ["G80.9"]',
            "'G80.9' is the code of no entry of [[diagnoses]]",
        ),
        ('part = "batteries"\n', 'part = "belt"\n', "the part 'belt' is there twice"),
        ('item = "seat_link"', 'item = "seat_lnk"', "'seat_lnk' is not an id in [[configuration.items]]"),
        (
            'comes = "line"\nitem = "seat_link"',
            'comes = "with_base"\nitem = "seat_link"',
            "an item is named, but the part comes by no line",
        ),
        (
            "gap_to_mm = 15",
            "gap_to_mm = 9",
            "gap_mm of the mouthpiece is 10, outside the range in which it works (gap_from_mm 5, gap_to_mm 9)",
        ),
        ("gap_from_mm = 5", "gap_from_mm = 16", "gap_from_mm is 16, gap_to_mm 15"),
        (
            "angle_to_deg = 20",
            "angle_to_deg = 14",
            "angle_deg of the mouthpiece is 15, outside the range in which it works (angle_from_deg 10,",
        ),
        (
            'angle_axis = "pitch"',
            'not_applicable = [{ of = "angle_deg", because = "round" }]',
            "angle_deg of the mouthpiece is recorded, and said not to apply",
        ),
    ],
)
def test_what_contradicts_itself_is_told_with_its_line(found, instead, said, demo):
    target = demo("marisol-quenneville-tran")
    text = text_in_full(target)
    assert found in text
    (target / "case.toml").write_text(text.replace(found, instead, 1), encoding="utf-8")
    with pytest.raises(UserError) as failure:
        check_case(target)
    assert said in str(failure.value) and "case.toml:" in str(failure.value)


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_the_page_holds_each_line_and_its_last_column_is_left_for_the_supplier(source):
    assessed = assess(source)
    tree = trees(assessed, ["order"])["order"]
    table = next(
        node for node in tree.walk() if node.kind == "table" and node.children[0].children[0].plain() == "Line"
    )
    head, *rows = [[cell.plain() for cell in row.children] for row in table.children]
    items = assessed.file.case.configuration.items
    assert head[-1] == "Manufacturer, model, part number" and {row[-1] for row in rows} == {""}
    assert len(rows) == len(items) + 1 and [row[0] for row in rows] == [str(n) for n in range(1, len(rows) + 1)]
    assert not [row for row in rows if "" in row[:-1]]


def test_a_quantity_that_nobody_wrote_is_a_gap():
    assert _line(_case([{"id": "pads", "name": "head array", "code": "E2330"}]), 2)["quantity"] is None


@pytest.mark.parametrize(("day", "shown"), [(date(2026, 5, 14), None), (date(2026, 5, 15), "APPROVED 1 EA")])
def test_an_answer_that_came_after_a_day_is_not_known_on_it(day, shown):
    answered = {"payer_says": "APPROVED 1 EA", "payer_said_on": date(2026, 5, 15)}
    case = known_on(_case([ITEM | answered], chair=answered), day)
    assert {line["payer_says"] for line in order_lines(case, (), WORDS)} == {shown}


@pytest.mark.parametrize(("day", "shown"), [(date(2026, 4, 17), None), (date(2026, 4, 20), "2026-04-20, by phone")])
def test_an_answer_to_the_request_that_came_after_a_day_is_not_known_on_it(day, shown):
    case = _case([ITEM], request={"payer_says": "2026-04-20, by phone", "payer_said_on": date(2026, 4, 20)})
    assert known_on(case, day).request.payer_says == shown


STOP = {"stop_switch": "black bar", "stop_switch_by": "helper"}


@of_each(
    ("configuration", "asked"),
    [
        ({"stop": STOP}, {"helper_stop"}),
        ({"stop": STOP, "features": ({"id": "attendant_stop", "with_base": True},)}, set()),  # told with the feature
        ({"stop": STOP, "features": ({"id": "attendant_stop"},)}, {"helper_stop"}),  # which says not where it is from
        ({"stop": {"stop_switch": "left cheek", "stop_switch_by": "driver"}}, set()),
        (
            {"stop": {"helper_switch": "orange button"}, "features": ({"id": "stop_switch"},)},
            {"helper_stop"},
        ),
        ({"stop": {"drive_off": "green lever"}}, {"drive_lock"}),
        ({"chair": {"seat_actuators": 2}}, {"seat_switch"}),
    ],
)
def test_each_means_of_stopping_that_the_record_names_is_asked_about(configuration, asked):
    case = Case.model_validate({"format": "docgen case 1", "id": "robin", "configuration": configuration})
    lacking = {row["part"] for row in standard_parts(case, WORDS) if row["comes"] is None}
    assert lacking - {WORDS["standard_part"][part] for part in ASKED_PARTS} == {
        WORDS["standard_part"][part] for part in asked
    }


def test_where_a_chair_is_to_be_delivered_is_known_before_it_is():
    case = _case(delivery={"place": "12 Hill Road"}, dates={"delivered_on": date(2026, 8, 1)})
    assert known_on(case, date(2026, 5, 1)).delivery.place == "12 Hill Road"


SLOWER = {"profile": "indoor", "setting": "forward_speed", "to": 0.45, "why": "He asked for it."}


def test_a_setting_fitted_otherwise_than_ordered_is_listed_and_holds_for_the_lessons():
    assessed = ASSESSED["marisol-quenneville-tran"]
    case = assessed.file.case.model_copy(update={"fitted_settings": (FittedSetting.model_validate(SLOWER),)})
    (listed,) = settings_otherwise(case, language_words())
    assert (listed["profile"], listed["why"]) == ("indoor", "He asked for it.")
    assert "0.5 m/s" in listed["trial"] and "0.45 m/s" in listed["fitted"]
    speeds = {force.profile.id: force.profile.speed_m_s for force in in_force(case)}
    assert speeds == {"training": 0.25, "tight": 0.3, "indoor": 0.45}
    assert not [*settings_otherwise(assessed.file.case, language_words())]


def test_the_order_has_room_for_each_setting_as_fitted_and_for_who_did_it():
    tree = trees(ASSESSED["marisol-quenneville-tran"], ["order"])["order"]
    captions = [str(node.attrs.get("caption", "")) for node in tree.walk() if node.kind == "table"]
    assert "Programmer" in tree.plain() and "As fitted" in tree.plain()
    assert any(caption.startswith("Done at the fitting: name and date") for caption in captions)


def test_a_line_without_a_code_brings_its_features_as_one_with_a_code_does():
    item = {"id": "array", "name": "switch array", "features": ("stop_switch",)}
    case = assessed(configuration={"features": ({"id": "stop_switch"},), "items": (item,)})
    told = trees(case, ["order"], wording())["order"].plain()
    assert "No line brings these" not in told
    brings = "mechanical stop switch with a contact that opens when pressed or a monitored cableNot recorded: code"
    assert f"ot recorded: code of the switch array{brings}" in told.replace("not r", "Not r")
