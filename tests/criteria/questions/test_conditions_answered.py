"""What `conditions_answered` says of each record."""

from __future__ import annotations

from datetime import date

import pytest
from ready_case import place
from records import Records
from whole_case import ask, changed, grounds

_SEEN = {"by": "doctor", "on": date(2026, 3, 3)}


def answers(condition, **given):
    """An entry of [[conditions]]; each answer in its form, given by name and date."""
    forms = {bool: "yes", str: "says", date: "day", tuple: "who"}
    return {
        "id": condition,
        "answers": [{"ask": name, forms.get(type(value), "number"): value, **_SEEN} for name, value in given.items()],
    }


EPILEPSY = answers("epilepsy", kind="absence", last=date(2026, 1, 2), warning="none", drive_rule="never alone")
PUMP = answers("baclofen_pump", refill_due=date(2026, 6, 1), alarm_known=("aunt",), team_phone="555-0100, always")
VENTILATOR = answers(
    "ventilator", minutes_alone=0, minutes_without_machine=20, trained=("aunt",), kit="bag, suction; the aunt"
)
WITHOUT_DATE = {"id": "epilepsy", "answers": [{**entry, "on": None} for entry in EPILEPSY["answers"]]}

RECORDS = Records(
    "conditions_answered",
    met=[
        ("epilepsy", [("conditions", [EPILEPSY])]),
        ("a pump that is filled in time", [("conditions", [PUMP])]),
        ("a ventilator, and the coach is trained", [("conditions", [VENTILATOR])]),
        (
            "a pump that is to be filled on the day of the documents",
            [
                (
                    "conditions",
                    [
                        PUMP
                        | {
                            "answers": [
                                given | ({"day": date(2026, 4, 14)} if given["ask"] == "refill_due" else {})
                                for given in PUMP["answers"]
                            ]
                        }
                    ],
                )
            ],
        ),
    ],
    not_met=[
        (
            "a pump whose day has passed",
            [("conditions", [answers("baclofen_pump", refill_due=date(2026, 4, 1), alarm_known=("aunt",))])],
        ),
        (
            "a ventilator, and the coach is not trained",
            [("conditions", [answers("ventilator", minutes_alone=0, trained=("doctor",))])],
        ),
    ],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", []), ("conditions", [])]),
        ("a seizure found in screening", [("limits.3.found", True)]),
        ("a condition named without answers", [("conditions", [{"id": "epilepsy"}])]),
        ("answers without a day", [("conditions", [WITHOUT_DATE])]),
        ("a pump without its day", [("conditions", [answers("baclofen_pump", alarm_known=("aunt",))])]),
        ("an injury of the spinal cord by code", [("diagnoses.0.code", "S24.114A")]),
        ("a code of the pump", [("diagnoses.0.code", "Z45.49")]),
        ("eight questions of two conditions", [("conditions", [{"id": "epilepsy"}, {"id": "ventilator"}])]),
    ],
    does_not_apply=[
        ("the whole case", []),
        (
            "a code alone suggests it",
            [
                ("diagnoses.0.code", "G40.909"),
                ("conditions", [{"id": "epilepsy", "present": False, "says": "Outgrown."}]),
            ],
        ),
    ],
    ready={"met": [], "cannot_tell": [(("conditions", place("conditions", "id", "no_speech"), "answers"), [])]},
    rests_on=("diagnoses.*",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_code_that_may_have_another_cause_is_told_with_how_to_deny_it():
    quadriplegia = changed(("diagnoses.0.code", "G82.50"))
    answer = ask("conditions_answered", grounds(quadriplegia))
    assert "Write spinal_cord_injury = { present = true } under [conditions]" in answer.to_settle
    assert "{ present = false } with says and by" in answer.to_settle
    # one question, and what follows only from a yes
    assert answer.names == ("spinal cord injury",) and "pressure" not in answer.reason + answer.to_settle
    named = grounds(changed(("diagnoses.0.code", "G82.50"), ("conditions", [{"id": "spinal_cord_injury"}])))
    assert ask("conditions_answered", named).names == ("autonomic dysreflexia", "spinal cord injury")
    denied = {"id": "spinal_cord_injury", "present": False, "says": "It is of the brain.", "by": "doctor"}
    assert ask(
        "conditions_answered", grounds(changed(("diagnoses.0.code", "G82.50"), ("conditions", [denied])))
    ).status in (
        "does_not_apply",
        "met",
    )
    injured = ask("conditions_answered", grounds(changed(("diagnoses.0.code", "S14.101A"))))
    assert "present = false" not in injured.to_settle


@pytest.mark.parametrize("left", ["kind", "last", "warning", "drive_rule"])
def test_not_asked_is_not_no(left):
    """Each question alone holds the packet back, by its own words."""
    entry = {"id": "epilepsy", "answers": [given for given in EPILEPSY["answers"] if given["ask"] != left]}
    answer = ask("conditions_answered", grounds(changed(("conditions", [entry]))))
    assert answer.status == "cannot_tell" and f"of epilepsy: {left}" in answer.to_settle


LAST = next(at for at, entry in enumerate(EPILEPSY["answers"]) if entry["ask"] == "last")


def last_seizure(**given):
    """Epilepsy with this answer in the place of the day of the last seizure."""
    answered = [entry if at != LAST else {"ask": "last", **given} for at, entry in enumerate(EPILEPSY["answers"])]
    return ask("conditions_answered", grounds(changed(("conditions", [{"id": "epilepsy", "answers": answered}]))))


def test_an_answer_that_is_begun_is_told_the_key_it_lacks():
    answer = last_seizure(says="Long ago.", **_SEEN)
    assert answer.status == "cannot_tell" and "epilepsy.last lacks day" in answer.reason
    assert "only the year is known" in answer.to_settle
    assert "epilepsy.last lacks by and on" in last_seizure(day=date(2026, 1, 2)).reason


def test_a_number_that_was_answered_in_words_is_asked_as_a_number():
    said = [
        given if given["ask"] != "minutes_without_machine" else {"ask": given["ask"], "says": "Some.", **_SEEN}
        for given in VENTILATOR["answers"]
    ]
    answer = ask("conditions_answered", grounds(changed(("conditions", [VENTILATOR | {"answers": said}]))))
    assert "minutes_without_machine (number, besides what is said:" in answer.to_settle


def test_a_past_day_of_which_the_year_is_known_may_stand_in_words():
    assert last_seizure(says="Two in 2023, none since.", **_SEEN).status == "met"


@pytest.mark.parametrize(
    ("says", "is_open"),
    [
        ("A bag and suction; the aunt. Whether a cough machine comes along is not recorded.", True),
        ("It is not known yet", True),
        ("Unclear; the clinic was asked.", True),
        ("A bag and suction; the aunt is known to all.", False),
        ("Suction is not recorded in a log, and the aunt has it.", False),
    ],
)
def test_words_that_leave_a_part_open_answer_nothing(says, is_open):
    kit = [given | ({"says": says} if given["ask"] == "kit" else {}) for given in VENTILATOR["answers"]]
    answer = ask("conditions_answered", grounds(changed(("conditions", [VENTILATOR | {"answers": kit}]))))
    assert (answer.status == "cannot_tell") is is_open
    assert ("ventilator.kit lacks what it says is not known yet" in answer.reason) is is_open
