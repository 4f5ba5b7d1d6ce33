"""What `standard_stick_ruled_out` says of each record."""

from __future__ import annotations

from datetime import date

from changes import AS_GOOD, GOOD, STICK
from ready_case import ALT, STICK_AT, without
from records import Records
from whole_case import GONE, WHOLE, ask, attempts, changed, grounds

OTHER_STICK = {"id": "moved", "name": "joystick in the midline", "standard_stick": True}
CHIN_TRIED = WHOLE["alternatives"][4] | {"ruled_out_by": "trial", "method": "pads"}
OTHER_CHIN = WHOLE["alternatives"][4] | {"id": "other_cup", "name": "the other cup"}
MARKED = ("trial.methods.1.standard_stick", True)
OWN_STICK = [MARKED, ("configuration.items.0", GONE)]

APART = attempts("stick", "0" * 12) + [row | {"date": date(2026, 3, 10)} for row in attempts("pads", "1" * 24)]

RECORDS = Records(
    "standard_stick_ruled_out",
    met=[
        ("the whole case", []),
        ("joysticks that were not tried", [("alternatives.3.method", GONE)]),
    ],
    not_met=[
        ("a joystick that did as well", [], AS_GOOD),
        (
            "a joystick in a better place than the one pointed to",
            [("trial.methods.+", OTHER_STICK)],
            STICK + GOOD + attempts("moved", "1" * 10 + "01"),
        ),
        ("a joystick tried but not marked as one", [("trial.methods.0.standard_stick", False)], AS_GOOD),
        ("a joystick as what is requested", [MARKED]),
        ("what is requested as the joystick at the chin", [("alternatives.4", CHIN_TRIED)]),
        (
            "one of two joysticks at the chin as what is requested, with no other control",
            [("alternatives.4", CHIN_TRIED), ("alternatives.+", OTHER_CHIN), *OWN_STICK],
        ),
        ("a joystick as what is requested, with no attempt", [MARKED], STICK),
        ("a joystick as what is requested, with no attempt done", [MARKED], attempts("pads", "0" * 24)),
        ("a joystick that is not ruled out", [("alternatives.4.ruled_out_by", "nothing")]),
    ],
    cannot_tell=[
        ("nothing about the chin", [("alternatives.4", GONE)]),
        ("nothing about the hand", [("alternatives.3", GONE)]),
        ("a try at the chin that was not a fair one", [("alternatives.4.ruled_out_by", "not_a_fair_try")]),
        (
            "a try by hand that was not a fair one, however it went",
            [("alternatives.3.ruled_out_by", "not_a_fair_try")],
            AS_GOOD,
        ),
        ("no reason at the chin", [("alternatives.4.reason", GONE)]),
        ("no ruling at the hand", [("alternatives.3.ruled_out_by", GONE)]),
    ],
    does_not_apply=[
        ("the own joystick of the chair", OWN_STICK),
    ],
    ready={
        "met": [],
        "cannot_tell": [((ALT,), without(kind="stick_by_chin"))],
        "not_met": [((ALT, STICK_AT, "ruled_out_by"), "nothing")],
    },
    rests_on=("alternatives.*.reason", "alternatives.*.ruled_out_by"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_joystick_that_did_as_well_is_named_with_both_counts():
    answer = ask("standard_stick_ruled_out", grounds(WHOLE, attempts("stick", "1" * 15 + "0") + GOOD))
    assert "15 of 16" in answer.reason and "24 of 24" in answer.reason and "Joystick by hand" in answer.reason
    assert {"difference.stick", "success.stick", "success.pads"} <= set(answer.facts)


def test_shared_days_that_tell_nothing_leave_it_met_in_part():
    """The comparison of simpler controls says the same of it."""
    answer = ask("standard_stick_ruled_out", grounds(WHOLE, APART))
    assert answer.stands == ask("simpler_controls_compared", grounds(WHOLE, APART)).stands == "in_part"
    assert "never driven on a day of the requested control" in answer.reason


def test_a_joystick_not_ruled_out_by_a_trial_needs_no_shared_day():
    by_condition = changed(("alternatives.3.ruled_out_by", "condition"))
    assert ask("standard_stick_ruled_out", grounds(by_condition, APART)).stands == "met"
