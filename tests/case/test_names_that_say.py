"""What the name of an entry says more, and what is said where it says nothing or a measure can be several."""

from __future__ import annotations

import pytest
from gathered import of_each

from docgen import check_case
from docgen.case.read import read_case
from docgen.console.check import check_report
from docgen.errors import UserError

HEAD = 'format = "docgen case 2"\nid = "robin-example"\n[request]\npayer = "general"\nkind = "new_chair"\n'


def case(tmp_path, text):
    folder = tmp_path / "robin-example"
    folder.mkdir(exist_ok=True)
    (folder / "case.toml").write_text(HEAD + text, encoding="utf-8")
    (folder / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    return folder


def mistake(tmp_path, text):
    with pytest.raises(UserError) as failure:
        read_case(case(tmp_path, text))
    return str(failure.value)


@pytest.mark.parametrize(
    ("written", "role", "relation"),
    [
        ("dad = {}", "caregiver", "father"),
        ("neighbor = {}", "caregiver", "neighbor"),
        ("staff = {}", "caregiver", "staff"),
        ("trainer = {}", "coach", None),
        ('del = { role = "therapist" }', "evaluator", None),
        ('del = { role = "brother" }', "caregiver", "brother"),
        ('del = { role = "home_aide", relation = "his aide" }', "caregiver", "his aide"),
    ],
)
def test_a_word_for_somebody_says_their_role_as_a_name_or_under_role(written, role, relation, tmp_path):
    (person,) = read_case(case(tmp_path, f"[people]\n{written}\n")).case.people
    assert (person.role, person.relation) == (role, relation)


@pytest.mark.parametrize("written", ["del = {}", 'del = { role = "manager" }'])
def test_whose_role_no_word_says_is_asked_with_what_each_role_is(written, tmp_path):
    said = mistake(tmp_path, f"[people]\n{written}\n")
    assert ":7: people.role" in said
    assert 'Write it as: role = "caregiver". Allowed: caregiver for whoever helps the client' in said


def test_a_name_with_a_capital_is_offered_as_an_id(tmp_path):
    assert "write [people.del_b], or the id as a key" in mistake(tmp_path, '[people]\n"Del B" = { role = "coach" }\n')


@pytest.mark.parametrize(("name", "kind"), [("door_1", "doorway"), ("door_36", "doorway"), ("doors", "doorway")])
def test_a_door_with_a_number_is_a_doorway(name, kind, tmp_path):
    (space,) = read_case(case(tmp_path, f'[spaces]\n{name} = "36 in"\n')).case.spaces
    assert (space.kind, space.clear_width_mm) == (kind, 914)


def test_a_room_without_its_kind_is_asked_with_a_line_to_write(tmp_path):
    assert 'bathroom_door = "34 in"' in mistake(tmp_path, '[spaces]\nbathroom = "34 in"\n')


@of_each(("name", "first"), [("front_ramp", "length_mm"), ("elevator", "clear_width_mm")])
def test_one_measure_of_a_ramp_or_an_elevator_is_asked_which_it_is(name, first, tmp_path):
    said = mistake(tmp_path, f'[spaces]\n{name} = "12 ft"\n')
    assert f'Write {name} = {{ {first} = "12 ft" }}' in said


def test_two_entries_that_a_finding_needs_are_two(tmp_path):
    checked = check_case(case(tmp_path, '[spaces]\nback_ramp = { length_mm = "12 ft" }\n'))
    added = [step for step in checked.steps if step.kind == "add" and step.table == ("spaces",)]
    assert {dict(step.keys)["kind"] for step in added} >= {'"doorway"', '"turning"'}
    assert check_report(checked)


@pytest.mark.parametrize("year", ["2015", '"2015"'])
def test_a_record_of_which_the_year_alone_is_known_has_it(year, tmp_path):
    (record,) = read_case(case(tmp_path, f'[outside_records]\n"eye test" = {{ on = {year} }}\n')).case.outside_records
    assert (record.on, record.year) == (None, 2015)


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ('[outside_records]\n"eye test" = { on = "March 2015" }', "Leave on out, and write year = 2015"),
        (
            '[conditions.epilepsy.answers]\nlast = { on = "January 2025" }',
            "Leave on out until the day is known and tell “January 2025” in says.",
        ),
        ('[dates]\nordered_on = "June 2026"', "Leave ordered_on out until the day is known."),
    ],
)
def test_a_month_in_place_of_a_day_is_told_where_it_can_stand(written, says, tmp_path):
    said = mistake(tmp_path, f"{written}\n")
    assert "which is not a date" in said and says in said


def test_an_answer_of_which_the_month_alone_is_known_is_one(tmp_path):
    known = 'last = { says = "In January 2025.", by = "doctor", on = 2026-06-01 }'
    people = '[people]\ndoctor = "Ann Ash"\n[diagnoses]\n"G40.909" = "epilepsy"\n[conditions.epilepsy.answers]\n'

    def left(text):
        checked = check_case(case(tmp_path, text)).open
        return next(one.answer for one in checked if one.criterion.id == "conditions_answered")

    assert "last seizure" not in left(people + known).reason
    mend = left(people).mend
    assert mend and "last (day; says, where only its month or year is known: “When was the last seizure?”)" in mend.say


def test_an_answer_in_the_wrong_table_is_shown_its_own(tmp_path):
    said = mistake(tmp_path, '[conditions.epilepsy]\nlast = "In January 2025."\n')
    assert '[conditions.epilepsy.answers]: last = "In January 2025."' in said


def test_hours_below_an_entry_in_braces_are_told_where_they_go(tmp_path):
    said = mistake(tmp_path, '[people]\naide = { name = "Jo" }\n[[people.aide.there]]\nstarts_at = 08:00:00\n')
    assert "write [people.aide] with its keys below it, before [[people.aide.there]]" in said
    assert "there = [{ ... }] within the braces" in said


def test_a_call_by_the_name_of_nobody_of_the_case_is_one_to_that_name(tmp_path):
    calls = '[emergency.calls]\n911 = "day and night"\nnurse_line = { phone = "555-0100" }\naide = { phone = "5" }\n'
    read = read_case(case(tmp_path, f'[people]\naide = "Jo"\n{calls}')).case.emergency.calls
    assert [(call.who, call.name, call.phone) for call in read] == [
        (None, "911", "911"),
        (None, "nurse line", "555-0100"),
        ("aide", None, "5"),
    ]
    said = mistake(tmp_path, '[emergency.calls]\ncrew = "by day"\n')
    assert "'crew' is no" in said and "or give a phone here, of nobody of the case" in said


def test_answers_below_an_entry_in_braces_are_told_where_they_go(tmp_path):
    said = mistake(tmp_path, '[conditions]\nepilepsy = { present = true }\n[conditions.epilepsy.answers]\nlast = "x"\n')
    assert "write [conditions.epilepsy] with its keys below it, before [conditions.epilepsy.answers]" in said
    assert "answers = { ... } within the braces" in said


@pytest.mark.parametrize(
    ("written", "reads"), [("a soft sip", "uses a soft sip"), ("lifts the foot off", "lifts the foot off")]
)
def test_how_the_driver_stops_goes_on_after_the_name(written, reads, tmp_path):
    read = read_case(case(tmp_path, f'[configuration.stop]\ndriver = "{written}"\n')).case
    assert read.configuration.stop.driver == reads
