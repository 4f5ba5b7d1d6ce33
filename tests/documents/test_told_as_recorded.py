"""What pages say of who screened, who held a day of the trial, which base is meant and whom to call: as recorded."""

from __future__ import annotations

import pytest
from made import ILMARI, MARISOL, SAOIRSE
from support import ASSESSED
from test_asked_of_a_chair import configured, page

from docgen.case.awaited import asked_as, respondent_at
from docgen.case.model import Case
from docgen.criteria.emergency_signs import whom_to_call
from docgen.documents.phrase import inside
from docgen.documents.record_index import record_index
from docgen.packet.wording import language_words


@pytest.mark.parametrize(
    ("text", "inside_a_sentence"),
    [
        ("Larkspur's mid-wheel power chair.", "Larkspur's mid-wheel power chair"),
        ("Clinic's mid-wheel power chair", "clinic's mid-wheel power chair"),
        ("The clinic's chair", "the clinic's chair"),
    ],
)
def test_whoever_a_thing_belongs_to_keeps_the_capital_of_a_name(text, inside_a_sentence):
    assert inside(text) == inside_a_sentence


def test_a_screening_is_told_only_where_its_day_or_its_author_is_recorded():
    def undated(case: Case) -> Case:
        limits = tuple(
            limit.model_copy(update={"on": None, "by": None, "found": False, "says": "no skin wounds"})
            if limit.kind == "skin"
            else limit
            for limit in case.limits
        )
        return case.model_copy(update={"limits": limits})

    letter = page(MARISOL, "letter", undated)
    assert "skin the record says: no skin wounds." in letter and "skin was screened:" not in letter


def test_a_base_whose_words_and_code_say_other_power_options_is_asked_about_beside_its_line():
    said = configured(chair=lambda chair: chair.model_copy(update={"name": "a group 3 chair with one power option"}))
    told = "by its code a base with multiple power options; missing: which of the two is meant"
    assert told in page(MARISOL, "letter", said) and told not in page(MARISOL, "letter")


def test_a_day_of_the_trial_is_nobody_s_whose_visit_names_nobody():
    case = ASSESSED[SAOIRSE].file.case
    last = max(row.date for row in case.tried)
    visits = tuple(v.model_copy(update={"by": None}) if v.on == last else v for v in case.visits)
    rows = record_index(case.model_copy(update={"visits": visits}), frozenset(), language_words())
    nobody = [row for row in rows if row["by"] is None]
    assert [row for row in nobody if "equipment trial" in row["what"] and last in row["on"]]


def test_whoever_comes_on_a_call_is_named_where_the_page_names_nobody():
    case = ASSESSED[ILMARI].file.case
    desk = case.people[0].model_copy(update={"id": "desk", "role": "other", "phone": "555-0422", "answers": None})
    near = case.supervision[0].model_copy(update={"level": "on_call", "who": ("desk",)})
    bare = case.emergency.model_copy(update={"calls": ()})
    alone = case.model_copy(update={"people": (*case.people, desk), "supervision": (near,), "emergency": bare})
    assert [call.who for call in whom_to_call(alone)] == ["desk"]
    assert whom_to_call(case.model_copy(update={"emergency": bare, "supervision": ()})) == ()


@pytest.mark.parametrize(
    ("lives", "relation", "name"),
    [
        ("in a group home, whose staff is always awake", "staff person of the group home", {"family": "residence"}),
        ("in a group home, whose staff is always awake", "sister", {}),
        ("at home with his mother", "aide", {}),
    ],
)
def test_staff_of_a_residence_are_not_called_a_family(lives, relation, name):
    case = ASSESSED[ILMARI].file.case
    person = case.people[0].model_copy(update={"relation": relation})
    client = case.client.model_copy(update={"lives": lives})
    assert asked_as(case.model_copy(update={"people": (person,), "client": client})) == name


def test_whether_a_seizure_told_of_is_over_is_asked_of_the_practitioner():
    case = ASSESSED[ILMARI].file.case
    at = next(at for at, limit in enumerate(case.limits) if limit.kind == "seizures")
    open_ = case.limits[at].model_copy(update={"found": None, "says": "One in January 2025."})
    limits = tuple(open_ if index == at else limit for index, limit in enumerate(case.limits))
    assert respondent_at(case.model_copy(update={"limits": limits}), ("limits", at, "found")) == "practitioner"
    assert respondent_at(case, ("limits", at, "found")) == "therapist"
