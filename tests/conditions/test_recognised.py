"""Each way a condition is found, at its edge; which questions are asked; when one is answered; what may be printed."""

from __future__ import annotations

from contextlib import nullcontext
from datetime import date
from typing import Any

import pytest
from gathered import of_each
from pydantic import ValidationError

from docgen.case.emergency import Accepted
from docgen.case.model import Case
from docgen.fit.condition import (
    Condition,
    Conflict,
    Question,
    Row,
    answer_to,
    conditions,
    conflicts_of,
    of_case,
    printable,
    rows,
)
from docgen.fit.condition_asked import asked_of, is_answered

BORN = {"client": {"born_on": date(2008, 5, 4)}}  # 18 on May 4, 2026
ON = date(2026, 4, 1)


def _case(**tables: Any) -> Case:
    return Case.model_validate({"format": "docgen case 1", "id": "x"} | tables)


def _named(condition: str, present: bool = True, **keys: Any) -> dict[str, Any]:
    return {"id": condition, "present": present} | keys


def _answered(condition: str, ask: str, **keys: Any) -> dict[str, Any]:
    return _named(condition, answers=({"ask": ask, "by": "ot", "on": ON} | keys,))


RECOGNISED = [
    ("epilepsy", {"diagnoses": ({"code": "G40.9", "name": "epilepsy"},)}, True),
    ("epilepsy", {"diagnoses": ({"code": "G41.0", "name": "epilepsy"},)}, False),
    ("epilepsy", {"diagnoses": ({"name": "epilepsy"},)}, False),
    ("epilepsy", {"findings": ({"id": "seizure_active", "says": "Seen."},)}, True),
    ("epilepsy", {"findings": ({"id": "neck_pain", "says": "Seen."},)}, False),
    ("epilepsy", {"limits": ({"kind": "seizures", "found": True},)}, True),
    ("epilepsy", {"limits": ({"kind": "seizures", "found": False},)}, False),
    ("epilepsy", {"limits": ({"kind": "seizures", "says": "None since 2022, with medicine."},)}, False),
    ("epilepsy", {"limits": ({"kind": "vision", "found": True},)}, False),
    ("fast_progressive_disease", {"diagnoses": ({"name": "a disease", "course": "fast_progressive"},)}, True),
    ("fast_progressive_disease", {"diagnoses": ({"name": "a disease", "course": "stable"},)}, False),
    # autonomic dysreflexia: an injury at T6 or above
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury", level="T6"),)}, True),
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury", level="T7"),)}, False),
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury", level="C8"),)}, True),
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury", level="L1"),)}, False),
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury", level="T12"),)}, False),
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury", False, level="T6"),)}, False),
    ("autonomic_dysreflexia", {"conditions": (_named("spinal_cord_injury"),)}, False),
    (
        "autonomic_dysreflexia",
        {"conditions": (_answered("spinal_cord_injury", "dysreflexia_ever", yes=True),)},
        True,
    ),
    (
        "autonomic_dysreflexia",
        {"conditions": (_answered("spinal_cord_injury", "dysreflexia_ever", yes=False),)},
        False,
    ),
    (
        "autonomic_dysreflexia",
        {"conditions": (_answered("spinal_cord_injury", "faints_on_sitting_up", yes=True),)},
        False,
    ),
    # a child to the day before the eighteenth birthday
    ("growing_child", BORN | {"dates": {"written_on": date(2026, 5, 3)}}, True),
    ("growing_child", BORN | {"dates": {"written_on": date(2026, 5, 4)}}, False),
    ("growing_child", BORN | {"dates": {"written_on": date(2026, 4, 30)}}, True),
    ("growing_child", BORN | {"dates": {"written_on": date(2026, 6, 1)}}, False),
    ("growing_child", BORN | {"request": {"requested_on": date(2026, 5, 3)}}, True),
    ("growing_child", BORN | {"request": {"requested_on": date(2026, 5, 4)}}, False),
    ("growing_child", {"client": {"born_on": date(2026, 1, 2)}, "dates": {"written_on": date(2026, 5, 3)}}, True),
    ("growing_child", BORN, False),
    ("growing_child", {"dates": {"written_on": date(2026, 5, 3)}}, False),
    # what the case says of a condition by name holds over what was found
    (
        "epilepsy",
        {"diagnoses": ({"code": "G40.9", "name": "epilepsy"},), "conditions": (_named("epilepsy", False),)},
        False,
    ),
    ("epilepsy", {"conditions": (_named("epilepsy"),)}, True),
]


@of_each(("condition", "tables", "found"), RECOGNISED)
def test_a_condition_is_found_by_each_of_its_marks_and_not_by_another(condition, tables, found):
    assert (condition in of_case(_case(**tables))) is found


@pytest.mark.parametrize(("features", "asked"), [(["foot_site"], True), (["head_array"], False), ([], False)])
def test_a_question_about_a_control_is_asked_only_where_that_control_is_asked_for(features, asked):
    """Two of the four questions are about a control at the foot."""
    foot = conditions()["no_feeling_in_the_foot"].asks
    everywhere, all_of_them = {question.id for question in foot if not question.where}, {q.id for q in foot}
    case = _case(
        conditions=(_named("no_feeling_in_the_foot"),),
        configuration={"features": tuple({"id": name} for name in features)},
    )
    found = {question.id for condition, question in asked_of(case) if condition.id == "no_feeling_in_the_foot"}
    assert everywhere < all_of_them and found == (all_of_them if asked else everywhere)


FORMS = [
    ("yes", {"yes": False}, True),
    ("yes", {"number": 3.0}, False),
    ("number", {"number": 0.0}, True),
    ("number", {"yes": True}, False),
    ("day", {"day": ON}, True),
    ("day_to_come", {"day": ON}, True),
    ("people", {"who": ("ot",)}, True),
    ("people", {"who": ()}, False),
    ("words", {"says": "So."}, True),
    ("words", {"day": ON}, False),
]


@of_each(("form", "answer", "answered"), FORMS)
def test_a_question_is_answered_in_its_form_with_who_and_when(form, answer, answered):
    epilepsy = conditions()["epilepsy"]
    question = epilepsy.asks[0].model_copy(update={"form": form, "answered_by": ""})
    given = _answered("epilepsy", question.id, **answer)
    assert is_answered(_case(conditions=(given,)), epilepsy, question) is answered
    for key in ("by", "on"):
        [entry] = given["answers"]
        left = given | {"answers": ({name: value for name, value in entry.items() if name != key},)}
        assert not is_answered(_case(conditions=(left,)), epilepsy, question)
    assert not is_answered(_case(), epilepsy, question)


@pytest.mark.parametrize(
    ("key", "tables", "answered"),
    [
        ("request.growth", {"request": {"growth": "Pads move."}}, True),
        ("request.growth", {}, False),
        ("emergency.calls", {"emergency": {"calls": ({"who": "aunt"},)}}, True),
        ("emergency.calls", {"emergency": {"calls": ()}}, False),
    ],
)
def test_another_key_of_the_case_answers_a_question_too(key, tables, answered):
    child = conditions()["growing_child"]
    question = child.asks[0].model_copy(update={"answered_by": key})
    assert is_answered(_case(**tables), child, question) is answered


def test_the_answer_to_a_question_is_that_of_its_condition_and_of_no_other():
    case = _case(conditions=(_answered("epilepsy", "kind", says="Focal."), _named("ventilator")))
    answer = answer_to(case, "epilepsy", "kind")
    assert answer is not None and answer.says == "Focal."
    assert answer_to(case, "epilepsy", "last") is None
    assert answer_to(case, "ventilator", "kind") is None and answer_to(case, "baclofen_pump", "kind") is None


def test_words_are_printed_only_as_they_were_accepted():
    row = next(row for row in rows().values() if row.prints)
    without = next(row for row in rows().values() if not row.prints)
    accepted = Accepted(row=row.id, prints=row.prints, by="the clinic", on=ON)

    def printed(row_id: str, *entries: Accepted) -> str | None:
        return printable(_case().with_accepted(entries), row_id)

    assert printed(row.id, Accepted(row=without.id, prints="Others.", by="the clinic", on=ON), accepted) == row.prints
    assert printed(row.id, Accepted(row=row.id, prints="Others.", by="the clinic", on=ON)) is None
    assert printed(row.id, Accepted(row=without.id, prints=row.prints, by="the clinic", on=ON)) is None
    assert printed(without.id, accepted) is None and printed("Z-999", accepted) is None and printed(row.id) is None


ROW = {"id": "A-1", "says": "So.", "source": "A text.", "mark": "read"}
ASKED = {"id": "kind", "asks": "Which?", "changes": "The page."}


def test_a_question_holds_nothing_and_stands_nowhere_unless_its_file_says_so():
    question = Question.model_validate(ASKED)
    assert not question.holds and not question.in_lessons and not question.on_page and question.form == "words"
    assert Conflict(id="C-1", says="Both.").rides_in_chair is False


@pytest.mark.parametrize(
    ("changed", "refused"),
    [
        ({"prints": "So it is."}, False),
        ({"mark": "weak"}, False),
        ({"mark": "weak", "prints": "So it is."}, True),
    ],
)
def test_only_a_row_that_was_read_may_have_words_to_print(changed, refused):
    with pytest.raises(ValidationError, match="only a row that was read may print") if refused else nullcontext():
        assert Row.model_validate(ROW | changed).id == "A-1"


@pytest.mark.parametrize(
    ("changed", "refused"),
    [
        ({}, False),
        ({"asks": [ASKED | {"rows": ["A-1"]}], "page": [{"id": "first", "says": "Off.", "rows": ["A-1"]}]}, False),
        ({"asks": [ASKED | {"rows": ["A-2"]}]}, True),
        ({"page": [{"id": "first", "says": "Off.", "rows": ["A-2"]}]}, True),
    ],
)
def test_a_file_names_only_rows_that_it_holds(changed, refused):
    with pytest.raises(ValidationError, match="A-2") if refused else nullcontext():
        assert Condition.model_validate({"id": "x", "name": "x", "rows": [ROW]} | changed).id == "x"


@pytest.mark.parametrize(("rides", "conflicts"), [(True, True), (False, False), (None, False)])
def test_a_conflict_of_the_ride_is_one_only_for_someone_who_rides_in_the_chair(rides, conflicts):
    [(condition, conflict), *_] = [
        (condition, conflict)
        for condition in conditions().values()
        for conflict in condition.conflicts
        if conflict.rides_in_chair
    ]
    case = _case(conditions=(_named(condition.id),), transport={"rides_in_chair": rides})
    assert (conflict.id in {entry.id for _, entry in conflicts_of(case)}) is conflicts


DENIED = {"id": "spinal_cord_injury", "present": False, "says": "It is of a brain injury.", "by": "evaluator"}


@pytest.mark.parametrize(
    ("code", "denial", "is_asked"),
    [
        ("G82.50", None, True),
        ("G82.50", DENIED, False),
        ("G82.50", DENIED | {"says": None}, True),
        ("G82.50", DENIED | {"by": None}, True),
        ("S14.114A", DENIED, True),
    ],
)
def test_a_denied_injury_of_the_cord_takes_dysreflexia_with_it_unless_the_code_is_of_the_cord(code, denial, is_asked):
    case = Case.model_validate(
        {
            "format": "docgen case 1",
            "id": "small",
            "people": ({"id": "evaluator", "role": "evaluator", "name": "Jo Example"},),
            "diagnoses": ({"code": code, "name": "quadriplegia"},),
            "conditions": (denial,) if denial else (),
        }
    )
    assert ("autonomic_dysreflexia" in of_case(case)) is is_asked
