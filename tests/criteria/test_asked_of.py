"""Which keys an open answer asks for, and of whom."""

from __future__ import annotations

import json

from gathered import of_each

from docgen.case.model import Case
from docgen.case.respondents import FIRST_ASKED, respondent_of
from docgen.criteria.asked_of import asked_of, keys_asked, keys_of_entry, keys_to_fill
from docgen.criteria.criterion import cannot_tell, met
from docgen.criteria.mend import NewEntry, add_entry, fill_in


@of_each(
    ("where", "keys", "paths"),
    [
        ([("dates",)], ["dates.ordered_on"], [("dates", "ordered_on")]),
        ([("people", 1)], ["license"], [("people", 1, "license")]),
        ([("people", 1, "name")], ["license", "wattage"], [("people", 1, "license")]),
        ([("people",)], ["license"], [("people", 0, "license"), ("people", 1, "license")]),
        ([("people", 0), ("people",)], ["license"], [("people", 0, "license"), ("people", 1, "license")]),
        ([], ["license"], []),
    ],
)
def test_a_key_is_filled_in_at_its_own_path_or_in_the_tables_pointed_to(where, keys, paths):
    assert keys_to_fill(where, keys, lambda table: 2) == paths


def test_one_entry_stands_for_all_where_their_number_is_not_asked_for():
    assert keys_to_fill([("people",)], ["license"]) == [("people", 0, "license")]


def test_a_new_entry_is_asked_for_what_it_cannot_do_without_and_what_its_mend_names():
    new = NewEntry("alternatives", ("reason", "reason", "wattage"), (("kind", '"scooter"'),))
    keys = keys_of_entry(("alternatives", 0), new)
    assert "reason" in keys and keys.count("reason") == 1 and not {"id", "kind", "wattage"} & set(keys)


def _open(mend):
    return cannot_tell("Not recorded.", ("people", 0), mend=mend)


def test_what_is_asked_for_is_told_by_keys_and_an_entry_of_none_by_its_table():
    assert keys_asked(met("So.", ("id",))) == ()
    assert keys_asked(_open(fill_in({"license": "", "dates.ordered_on": ""}))) == ("dates.ordered_on", "people.license")
    assert "alternatives.reason" in keys_asked(_open(add_entry("alternatives", "reason")))
    assert keys_asked(_open(add_entry("trial.rows"))) == ("trial.rows",)


def test_whoever_can_answer_most_is_asked_first_and_the_therapist_for_what_no_key_settles():
    case = Case.model_validate({"format": "docgen case 2", "id": "new"})
    assert asked_of(_open("Say so."), case) == (FIRST_ASKED,)
    keys = dict.fromkeys(("order.received_on", "dates.ordered_on", "order.codes", "spaces.name", "order.has"), "")
    whose = [respondent_of(key) for key in keys]
    assert len(set(whose)) > 1
    counted = asked_of(_open(fill_in(keys)), case)
    assert counted == ("practitioner", "supplier") and [whose.count(who) for who in counted] == [3, 2]


def test_an_entry_of_which_they_could_answer_half_and_a_key_of_no_entry_are_the_therapists():
    case = Case.model_validate({"format": "docgen case 2", "id": "new"})
    assert asked_of(_open(add_entry("supervision", "by", "who")), case) == (FIRST_ASKED,)
    nobody = cannot_tell("Open.", ("supervision",), mend=fill_in({"no_answer": ""}))
    assert asked_of(nobody, case) == (FIRST_ASKED,)
    there = case.model_validate(
        {"format": "docgen case 2", "id": "new", "supervision": [{"place": "x", "level": "alone"}]}
    )
    assert asked_of(nobody, there) == ("family",)


def test_a_school_is_asked_only_where_somebody_of_one_is_recorded():
    week = _open(fill_in({"training.week": ""}))
    assert asked_of(week, Case.model_validate({"format": "docgen case 2", "id": "new"})) == ("family",)
    people = [{"id": "aide", "role": "school", "name": "Ann Example"}]
    at_school = Case.model_validate({"format": "docgen case 2", "id": "new", "people": people})
    assert asked_of(week, at_school) == ("school",)


def test_steps_that_no_key_settles_are_asked_of_whoever_gave_them():
    people = [{"id": name, "role": role} for name, role in (("doc", "practitioner"), ("ot", "evaluator"))]
    steps = [{"says": "Up.", "by": "doc"}, {"says": "Off.", "by": "ot"}]
    given = {"format": "docgen case 2", "id": "robin", "people": people, "emergency": {"steps": steps}}
    case = Case.model_validate(given)
    answers = [cannot_tell("Wrong.", ("emergency", "steps", at), mend="Ask.") for at in (0, 1)]
    assert [asked_of(answer, case) for answer in answers] == [("practitioner",), (FIRST_ASKED,)]


def test_an_adult_is_asked_what_is_the_clients_to_say_and_a_child_or_whoever_needs_help_is_not_asked_alone():
    wants = _open(fill_in({"client.wants_it": "", "client.willing": ""}))
    near = [{"id": "mother", "role": "caregiver", "name": "Ann Example"}]

    def whose(answer, born="1984-07-30", people=near, **more):
        case = {"format": "docgen case 2", "id": "new", "client": {"born_on": born}, "people": people}
        return asked_of(
            answer, Case.model_validate_json(json.dumps(case | {"dates": {"written_on": "2026-10-20"}} | more))
        )

    assert whose(wants) == ("client",)
    assert whose(wants, born="2009-07-30") == ("family",)
    found = [{"kind": "cognition", "found": True}]
    assert whose(wants, limits=found) == ("family",) and whose(wants, limits=[{"kind": "vision", "found": True}]) == (
        "client",
    )
    # what the family alone knows is theirs, as long as there is one
    there = _open(fill_in({"transport.vehicle": ""}))
    assert whose(there) == ("family",)
    assert whose(there, people=[{"id": "ot", "role": "evaluator", "name": "Jo Example"}]) == ("client",)
