"""What stands once in a case is written out where it is meant, and the short form gives the same pages as the long."""

from __future__ import annotations

import re
import tomllib
from datetime import date

import pytest
from gathered import of_each
from in_full import text_in_full

from docgen.case.model import Case
from docgen.case.read import read_case
from docgen.case.short_form import written_out
from docgen.codes.hcpcs import codes
from docgen.errors import UserError
from docgen.resources import folder

ILMARI = folder("cases") / "ilmari-okonjo-vale"
_ENTRY = re.compile(
    r"(?ms)^\[\[(limits|findings|activities|spaces|alternatives|configuration\.mounting)\]\]\n.*?(?=\n\n|\Z)"
)


def _case(**tables):
    return Case.model_validate({"format": "docgen case 1", "id": "robin-example", **tables})


VISIT = {"id": "clinic_1", "on": date(2026, 3, 3), "by": "evaluator"}


def test_an_entry_has_the_day_and_the_clinician_of_its_visit():
    case = _case(visits=(VISIT,), findings=({"id": "head_three_way", "says": "Seen.", "visit": "clinic_1"},))
    assert (case.findings[0].on, case.findings[0].by) == (date(2026, 3, 3), "evaluator")


@pytest.mark.parametrize("own", [{"on": date(2026, 3, 4)}, {"by": "doctor"}])
def test_what_an_entry_says_itself_counts(own):
    case = _case(visits=(VISIT,), findings=({"id": "head_three_way", "says": "Seen.", "visit": "clinic_1", **own},))
    expected = {"on": date(2026, 3, 3), "by": "evaluator"} | own
    assert {"on": case.findings[0].on, "by": case.findings[0].by} == expected


def test_a_visit_reaches_the_tables_within_tables():
    mount = {"id": "rear", "part": "rear pad", "site": "head_back", "visit": "clinic_1"}
    case = _case(visits=(VISIT,), configuration={"mounting": (mount,)})
    assert case.configuration.mounting[0].on == date(2026, 3, 3)


def test_without_a_visit_nothing_is_given():
    case = _case(visits=(VISIT,), findings=({"id": "head_three_way", "says": "Seen."},))
    assert case.findings[0].on is None and case.findings[0].by is None


def test_a_visit_that_is_not_there_is_told_with_its_line(tmp_path):
    case = tmp_path / "robin-example"
    case.mkdir()
    lines = [
        'format = "docgen case 1"',
        'id = "robin-example"',
        "[[findings]]",
        'id = "head_three_way"',
        'says = "Seen."',
        'visit = "home"',
    ]
    (case / "case.toml").write_text("\n".join(lines), encoding="utf-8")
    (case / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    with pytest.raises(UserError) as refusal:
        read_case(case)
    assert [str(problem.where).rpartition(":")[2] for problem in refusal.value.problems] == ["6"]
    assert "'home' is not an id in [[visits]]" in str(refusal.value)


@pytest.mark.parametrize("line", ["E2377", {"code": "E2377"}])
def test_a_line_of_the_order_may_be_its_code(line):
    item = _case(configuration={"items": (line,)}).configuration.items[0]
    assert (item.id, item.code, item.name) == ("e2377", "E2377", codes()["E2377"].words)


def test_a_line_keeps_its_own_words():
    item = _case(configuration={"items": ({"code": "E2377", "name": "controller", "id": "box"},)}).configuration.items[
        0
    ]
    assert (item.id, item.name) == ("box", "controller")


def test_a_person_alone_in_a_role_needs_no_id():
    people = (
        {"role": "evaluator", "name": "Jo Example"},
        {"role": "caregiver", "id": "aunt"},
        {"role": "caregiver", "id": "son"},
    )
    assert [person.id for person in _case(people=people).people] == ["evaluator", "aunt", "son"]


@of_each(
    "raw",
    [
        {"visits": 3},
        {"visits": [3]},
        {"findings": "x"},
        {"people": {}},
        {"configuration": {"items": 4}},
        {"people": [{"role": []}]},
    ],
)
def test_what_has_another_form_is_left_for_the_model_to_tell(raw):
    assert written_out(raw, Case).keys() == raw.keys()


def test_a_demo_in_short_form_is_the_same_case():
    text = text_in_full(ILMARI)
    visits = {}

    def short(match):
        block = match[0]
        on, by = re.search(r"(?m)^on = (\S+)\n?", block), re.search(r'(?m)^by = "(\w+)"\n?', block)
        if not on or not by:
            return block
        visit = visits.setdefault((on[1], by[1]), f"visit_{len(visits) + 1}")
        return block.replace(on[0], "").replace(by[0], "").rstrip("\n") + f'\nvisit = "{visit}"'

    shorter = _ENTRY.sub(short, text)
    shorter += "".join(f'\n[[visits]]\nid = "{v}"\non = {on}\nby = "{by}"\n' for (on, by), v in visits.items())
    long, brief = (Case.model_validate(_strict(tomllib.loads(each))) for each in (text, shorter))
    assert len(visits) > 3 and shorter.count("visit = ") > 30
    keep = {"visit", "visits"}
    assert _plain(long, keep) == _plain(brief, keep)


def _strict(value):
    if isinstance(value, list):
        return tuple(map(_strict, value))
    return {name: _strict(entry) for name, entry in value.items()} if isinstance(value, dict) else value


def _plain(value, leave):
    if isinstance(value, Case):
        value = value.model_dump()
    if isinstance(value, dict):
        return {name: _plain(entry, leave) for name, entry in value.items() if name not in leave}
    return [_plain(entry, leave) for entry in value] if isinstance(value, (list, tuple)) else value


def test_the_visit_named_encounter_and_the_one_named_home_give_their_days():
    encounter = {"id": "encounter", "on": date(2026, 2, 20), "by": "doctor", "mode": "in_person"}
    case = _case(visits=(encounter, {"id": "home", "on": date(2026, 3, 1)}))
    assert (case.dates.encounter_on, case.dates.home_visit_on) == (date(2026, 2, 20), date(2026, 3, 1))
    assert (case.encounter.by, case.encounter.mode) == ("doctor", "in_person")


def test_a_day_that_the_case_gives_itself_counts_before_that_of_a_visit():
    home = {"id": "home", "on": date(2026, 3, 1), "by": "evaluator"}
    case = _case(visits=(VISIT, home), dates={"home_visit_on": date(2026, 3, 2)})
    assert (case.dates.home_visit_on, case.dates.encounter_on, case.encounter.by) == (date(2026, 3, 2), None, None)


@pytest.mark.parametrize("of", ["therapist", "supplier", "practitioner", "family", "school", "payer"])
def test_an_open_question_may_stand_under_who_answers_it(of):
    (question,) = _case(awaited=({"id": "pads", of: "whether pads may stay on", "holds": False},)).awaited
    assert (question.of, question.what, question.holds) == (of, "whether pads may stay on", False)


def test_an_entry_may_run_over_several_lines_each_key_told_at_its_own(tmp_path):
    lines = [
        'format = "docgen case 2"',
        'id = "robin-example"',
        "[spaces]",
        'hall = { kind = "corridor",  # the long one',
        '  floor = "tile",',
        "  clear_width_mm = 30, }",
        "front_door = 840",
    ]
    case = tmp_path / "robin-example"
    case.mkdir()
    (case / "case.toml").write_text("\n".join(lines), encoding="utf-8")
    (case / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    with pytest.raises(UserError) as refusal:
        read_case(case)
    assert [str(problem.where).rpartition(":")[2] for problem in refusal.value.problems] == ["6"]
    (case / "case.toml").write_text("\n".join(lines).replace("= 30", "= 900"), encoding="utf-8")
    file = read_case(case)
    assert [(space.kind, space.floor, space.clear_width_mm) for space in file.case.spaces] == [
        ("corridor", "tile", 900),
        ("doorway", None, 840),
    ]
    assert file.where("spaces", 0, "floor").endswith(":5") and file.where("spaces", 1).endswith(":7")


PEOPLE = ({"id": "jo", "role": "evaluator"}, {"id": "ana", "role": "caregiver"}, {"id": "bo", "role": "caregiver"})


@pytest.mark.parametrize(
    ("by", "meant"), [("evaluator", "jo"), ("therapist", "jo"), ("jo", "jo"), ("caregiver", "caregiver")]
)
def test_whoever_alone_has_a_role_can_be_named_by_it(by, meant):
    case = _case(
        people=PEOPLE,
        visits=({"id": "clinic_1", "on": date(2026, 3, 3), "by": by},),
        weight_shift={"by": by},
        emergency={"restart_by": (by, "bo")},
    )
    assert (case.visits[0].by, case.weight_shift.by, case.emergency.restart_by) == (meant, meant, (meant, "bo"))


def test_words_that_are_no_name_of_somebody_stay_as_they_are():
    case = _case(people=PEOPLE, supervision=({"place": "at home", "level": "same_room", "by": "evaluator"},))
    assert case.supervision[0].by == "evaluator"


@pytest.mark.parametrize(("codes_of_lines", "item"), [(("E2330", "E1002"), "pads"), (("E2330", "E2330"), "E2330")])
def test_a_part_can_name_its_line_by_the_one_code(codes_of_lines, item):
    lines = tuple(
        {"id": name, "name": name, "code": code} for name, code in zip(("pads", "tilt"), codes_of_lines, strict=True)
    )
    parts = ({"id": "rear", "part": "rear pad", "item": "E2330"},)
    raw = written_out({"configuration": {"items": lines, "mounting": parts}}, Case)
    assert raw["configuration"]["mounting"][0]["item"] == item


DOCTORS = ({"id": "doctor", "role": "practitioner"}, {"id": "nurse", "role": "practitioner"})


def test_who_held_the_visit_named_encounter_is_whoever_the_record_names():
    people = tuple({"name": f"Dr. {person['id']}", **person} for person in DOCTORS[:1])
    visit = {"id": "encounter", "on": date(2026, 3, 3)}
    unsaid, told = _case(visits=(visit,), people=people), _case(visits=({**visit, "by": "doctor"},), people=people)
    assert unsaid.dates.encounter_on == date(2026, 3, 3)
    assert (unsaid.encounter.by, told.encounter.by) == (None, "doctor")
