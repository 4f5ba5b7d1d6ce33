"""What one who can answer is asked: each key once, in the words of the case, and nothing that they may not see."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from whole_case import GONE, changed, grounds

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.who import Person
from docgen.criteria.asked_questions import Question, questions_for
from docgen.criteria.criterion import Answer, cannot_tell, criteria, met
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.payer import Requirement
from docgen.criteria.run import Verdict

ROW = Requirement.model_validate(
    {
        "id": "row",
        "criterion": "goals_set",
        "severity": "query",
        "from": date(2020, 1, 1),
        "citation": "text",
        "known": "read",
    }
)
BARE = grounds(
    changed(
        ("spaces.0.clear_width_mm", GONE),
        ("spaces.0.at_home", None),
        ("spaces.1.at_home", None),
        ("configuration.chair.turning_mm", None),
        ("people.1.employment", None),
        ("request.requested_on", None),
        ("dates.supplier_assessed_on", None),
        ("configuration.programmable", []),
        ("training.week", [{"day": "monday", "free": False}]),
        ("supervision", [{"place": "kitchen", "level": "same_room"}]),
    )
).case


def _verdict(answer: Answer) -> Verdict:
    return Verdict(ROW, criteria()["goals_set"], answer)


def _asked(mend: Mend | str, *where: KeyPath, of: str = "supplier", case: Case = BARE) -> tuple[Question, ...]:
    return questions_for(of, case, [_verdict(cannot_tell("Not recorded.", *where, mend=mend))])


@of_each(
    ("where", "key", "words", "form"),
    [
        (("spaces", 0), "clear_width_mm", "Bathroom door: clear width in mm", "number"),
        (("spaces", 0), "at_home", "Bathroom door: whether it is in the home", "yes_no"),
        (("configuration", "chair"), "turning_mm", None, "number"),
        (("people", 1), "employment", "Kim Example: how the supplier's ATP is employed", "choice"),
        (("dates",), "supplier_assessed_on", None, "date"),
        (("configuration",), "programmable", None, "list"),
    ],
)
def test_a_key_is_asked_for_in_words_and_in_the_form_of_its_answer(where, key, words, form):
    (question,) = _asked(fill_in({key: ""}), where)
    assert question.path == (*where, key) and question.form == form
    assert question.words == words or (words is None and question.about == "" and question.words[0].isupper())
    assert bool(question.choices) == (form in ("yes_no", "choice", "list"))
    assert question.heading == type(BARE).model_fields[where[0]].description


@pytest.mark.parametrize(
    ("where", "key", "choices"),
    [
        (("spaces", 0), "at_home", (("true", "yes"), ("false", "no"))),
        (("people", 1), "employment", (("employee", "employee"), ("contract", "contract"))),
        (
            ("configuration",),
            "programmable",
            (
                ("speed", "speed"),
                ("tremor_dampening", "tremor dampening"),
                ("acceleration", "acceleration"),
                ("braking", "braking"),
                ("throw", "throw"),
                ("dead_zone", "dead zone"),
            ),
        ),
    ],
)
def test_a_choice_is_offered_in_words(where, key, choices):
    assert _asked(fill_in({key: ""}), where)[0].choices == choices


def test_people_are_offered_by_the_names_that_the_reader_may_see():
    (question,) = _asked(fill_in({"who": ""}), ("supervision", 0), of="family")
    assert question.about == "kitchen" and question.form == "list"  # several may be near
    assert question.choices == (("ot", "Jo Example"), ("atp", "Kim Example"), ("doctor", "Sam Example"))


def test_only_a_practitioner_is_offered_as_who_signed_an_order():
    asked = fill_in({"signed_by": "", "completed_by": ""})
    unsigned = BARE.model_copy(
        update={"order": BARE.order.model_copy(update={"signed_by": None, "completed_by": None})}
    )
    questions = _asked(asked, ("order",), of="practitioner", case=unsigned)
    assert [question.path[-1] for question in questions if question.choices == (("doctor", "Sam Example"),)] != []
    assert len({question.choices for question in questions}) == 1
    others = tuple(person for person in BARE.people if person.role != "practitioner")
    nobody = unsigned.model_copy(update={"people": others})
    assert _asked(asked, ("order",), of="practitioner", case=nobody) == ()


def test_an_entry_without_a_name_is_told_by_its_list():
    (question,) = _asked(fill_in({"starts_at": ""}), ("training", "week", 0), of="family")
    assert question.words == "Week: first of these hours"


def test_somebody_without_a_name_is_told_by_what_they_are_to_the_client():
    people = (*BARE.people, Person(id="sibling", role="caregiver", relation="brother, 14"))
    case = BARE.model_copy(update={"people": people})
    (question,) = _asked(fill_in({"informed_on": ""}), ("people", len(people) - 1), of="client", case=case)
    assert question.about == "brother, 14"


def test_an_entry_of_which_somebody_else_must_say_a_part_is_not_asked_for_by_halves():
    assert _asked(add_entry("supervision", "by", "who"), of="family") == ()
    assert len(_asked(fill_in({"by": "", "level": "", "stands": ""}), ("supervision", 0), of="family")) <= 1


@pytest.mark.parametrize(
    ("table", "key", "about", "of"),
    [
        ("spaces", "clear_width_mm", "a place not yet recorded", "supplier"),
        ("configuration.standard_parts", "comes", "not yet recorded", "supplier"),
    ],
)
def test_an_entry_to_be_added_is_told_as_not_yet_recorded(table, key, about, of):
    asked = {question.path[-1]: question for question in _asked(add_entry(table, key), of=of)}
    assert asked[key].about == about
    *head, place, _ = asked[key].path
    assert place == {"spaces": 2}.get(table, len(BARE.configuration.standard_parts))


def test_each_key_is_asked_once_in_the_order_of_a_case_and_of_nobody_else():
    widths = fill_in({"clear_width_mm": "", "at_home": ""})
    chair = fill_in({"configuration.chair.turning_mm": "", "dates.supplier_assessed_on": "", "people.license": ""})
    verdicts = [
        _verdict(cannot_tell("Not recorded.", ("configuration", "chair"), mend=chair)),
        _verdict(cannot_tell("Not recorded.", ("spaces", 0), ("spaces", 1), mend=widths)),
        _verdict(cannot_tell("Not recorded.", ("spaces", 0), mend=widths)),
        _verdict(met("So.", ("spaces", 0))),
        _verdict(Answer("met", "So.", (("people", 1),), mend=fill_in({"employment": ""}))),
    ]
    order = list(type(BARE).model_fields)
    asked = [question.path for question in questions_for("supplier", BARE, verdicts)]
    assert asked == sorted(dict.fromkeys(asked), key=lambda path: order.index(str(path[0])))
    assert set(asked) == {
        ("dates", "supplier_assessed_on"),
        ("spaces", 0, "clear_width_mm"),
        ("spaces", 0, "at_home"),
        ("spaces", 1, "clear_width_mm"),
        ("spaces", 1, "at_home"),
        ("configuration", "chair", "turning_mm"),
    }
    assert questions_for("therapist", BARE, verdicts) == ()  # whose sheet may show nothing of a case


def test_what_a_reader_may_not_see_is_not_asked_of_them():
    assert not _asked(fill_in({"received_on": ""}), ("order",), of="family")
    assert not _asked("Say so.", ("spaces", 0))


def test_a_client_is_asked_in_the_second_person_and_a_feature_goes_by_its_name():
    adult = {"client.wants_it": None, "client.born_on": date(1980, 1, 1), "limits": []}
    (question,) = _asked(fill_in({"client.wants_it": ""}), of="client", case=grounds(changed(*adult.items())).case)
    assert question.words == "Whether you want the chair"
    (with_base,) = _asked(fill_in({"with_base": ""}), ("configuration", "features", 0))
    assert with_base.words.startswith("Head array: whether it comes with the base")


def test_staff_of_a_residence_are_asked_what_a_family_would_be_as_far_as_they_may_see_it():
    both = fill_in({"call_needs_chair": "", "help_after_min": ""})
    of_staff, of_family = (_asked(both, ("supervision", 0), of=who) for who in ("residence", "family"))
    assert of_staff == of_family and len(of_staff) == 2
    minutes = fill_in({"minutes_before": ""})
    home = grounds(changed(("activities.0.minutes_before", GONE))).case
    assert _asked(minutes, ("activities", 0), of="family", case=home)
    assert not _asked(minutes, ("activities", 0), of="residence", case=home)
