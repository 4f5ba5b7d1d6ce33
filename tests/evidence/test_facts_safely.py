"""Collisions, unintended and missed activations, and prompts, counted by hand."""

from __future__ import annotations

import pytest
from gathered import of_each
from small_trial import attempt, known, of_day, small_case

from docgen.evidence.facts import safely

UNMEANT = ("unintended activations, stick", 1)


def told(*rows, totals=()):
    return known(safely.facts, small_case(rows, totals))


def test_collisions_are_told_per_100_metres_and_unintended_activations_a_minute():
    rows = [attempt(2, contacts=2, distance_m=30.0, unintended=3, minutes=4.0)]
    rows += [attempt(3, contacts=0, distance_m=10.0, unintended=0, minutes=2.0)]
    facts = told(*rows)
    assert not [name for name in facts if name.endswith(".b")]
    contacts, unintended = facts["contacts.a"], facts["unintended.a"]
    assert (contacts.value, contacts.k, contacts.kind, contacts.note) == (5.0, 2, "rate_100_m", "2 in 40 m")
    assert (unintended.value, unintended.k, unintended.kind) == (0.5, 3, "rate_minute")
    assert unintended.note == "3 in 6 minutes" and "contacts_counted.a" not in facts
    assert told(rows[1])["contacts.a"].note == "none in 10 m"


@pytest.mark.parametrize(
    ("days", "note"),
    [
        ((4,), "1 in 50 m; 1 session lacks counts or distance and is left out"),
        ((4, 5), "1 in 50 m; 2 sessions lack counts or distance and are left out"),
    ],
)
def test_a_session_that_lacks_a_count_or_its_distance_is_left_out_and_said(days, note):
    whole = attempt(2, contacts=1, distance_m=50.0)
    fact = told(whole, *(attempt(at, day=at, contacts=2) for at in days))["contacts.a"]
    assert (fact.value, fact.n, fact.note) == (2.0, 1, note)


def test_what_was_not_recorded_is_named():
    facts = told(attempt(2))
    assert facts["contacts.a"].note == "collisions, pads: counts with their distance"
    assert facts["unintended.a"].note == "unintended activations, pads: counts with their minutes"
    assert facts["contacts.a"].value is None is facts["unintended.a"].value
    assert set(facts) == {"contacts.a", "unintended.a"}


@of_each(
    ("rows", "counted"),
    [
        # no distance at all: told by attempts, and how many do not record it
        ([attempt(2, contacts=2), attempt(3, contacts=1), attempt(4)], (3, 2, "1 of 3 attempts do not record it")),
        ([attempt(2, contacts=0)], (0, 1, "")),
        # the rate leaves out the day without a distance, and two collisions with it
        ([attempt(2, contacts=1, distance_m=5.0), attempt(3, day=4, contacts=2)], (3, 2, "")),
        # it leaves out a day without any: the rate says them all
        ([attempt(2, contacts=1, distance_m=5.0), attempt(3, day=4, contacts=0)], None),
        ([attempt(2, contacts=0, distance_m=5.0), attempt(3, day=4, contacts=1)], (1, 2, "")),
        ([attempt(2, distance_m=5.0)], None),
    ],
)
def test_events_are_told_by_attempts_where_the_rate_does_not_hold_them_all(rows, counted):
    fact = told(*rows).get("contacts_counted.a")
    assert (fact and (fact.k, fact.n, fact.note)) == counted


def test_where_one_control_is_told_by_attempts_the_other_can_be_set_beside_it():
    stick = attempt(3, "b", contacts=4, distance_m=20.0, unintended=1, minutes=2.0)
    facts = told(attempt(2, contacts=2, unintended=3), stick)
    names = {"contacts_in_attempts.b": ("collisions, stick", 4), "unintended_in_attempts.b": UNMEANT}
    beside = {name: fact for name, fact in facts.items() if "_in_attempts." in name}
    assert {name: (fact.label, fact.k) for name, fact in beside.items()} == names
    assert not any(fact.listed for fact in beside.values())
    assert (beside["contacts_in_attempts.b"].n, facts["contacts_counted.a"].listed) == (1, True)


def test_a_distance_is_told_to_the_tenth_of_a_meter():
    assert told(attempt(2, contacts=1, distance_m=40.04), attempt(3, contacts=0, distance_m=0.12))[
        "contacts.a"
    ].note == ("1 in 40.2 m")


def test_missed_activations_are_of_those_made_and_missed_together():
    rows = [
        attempt(2, activations=6, missed=2),
        attempt(3, activations=0, missed=1),
        attempt(4, activations=3, missed=0),
    ]
    fact = told(*rows, attempt(5, activations=50), attempt(6, missed=9))["missed.a"]
    assert (fact.k, fact.n, fact.value, fact.rows) == (3, 12, 0.25, (2, 3, 4))
    facts = told(attempt(2, activations=0, missed=0), attempt(3, missed=4))
    assert "missed.a" not in facts and (facts["missed_counted.a"].k, facts["missed_counted.a"].n) == (4, 2)


def test_what_is_summed_says_in_how_many_attempts():
    facts = told(attempt(2, prompts_verbal=2, prompts_physical=0), totals=[of_day(3, 9, 9, prompts_verbal=4)])
    spoken, hands_on = facts["prompts_verbal.a"], facts["prompts_physical.a"]
    assert (spoken.value, spoken.n, spoken.note, spoken.rows, spoken.totals) == (6, 10, "in 10 attempts", (2,), (3,))
    assert hands_on.value == 0 and "person_contacts.a" not in facts


def with_minutes(minutes, *rows):
    case = small_case(rows)
    pads, stick = case.trial.methods
    trial = case.trial.model_copy(update={"methods": (pads.model_copy(update={"minutes": minutes}), stick)})
    return known(safely.facts, case.model_copy(update={"trial": trial}))["unintended.a"]


def test_minutes_told_for_all_rows_of_a_method_give_a_rate_where_the_rows_have_none():
    rate = with_minutes(20.0, attempt(2, unintended=3), attempt(3, unintended=1))
    assert (rate.value, rate.k, rate.kind, rate.n) == (0.2, 4, "rate_minute", 2)
    assert rate.note == "4 in 20 minutes, told for all of its rows" and rate.keys == ("trial.methods.0.minutes",)


def test_minutes_of_the_rows_count_before_those_told_for_all_of_them():
    assert with_minutes(20.0, attempt(2, unintended=3, minutes=6.0)).value == 0.5


def test_minutes_of_all_rows_give_no_rate_where_a_row_does_not_record_its_events():
    assert with_minutes(20.0, attempt(2, unintended=3), attempt(3)).value is None
