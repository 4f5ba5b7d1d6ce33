"""Stop rules of training: which are met, by which row, and whether driving went on. Limits: common practice, no
source."""

from __future__ import annotations

from datetime import date

from gathered import of_each

from docgen.case.session import SessionRow
from docgen.evidence.stop_rules import stopped

FIRST, NEXT = date(2026, 8, 10), date(2026, 8, 12)
STOPS = ("stop_word",)


def row(line, on=FIRST, task="left", success=True, **more):
    return SessionRow(line, on, 3, task, success, **more)


@of_each(
    ("more", "kind"),
    [
        ({"pain_after": 5.0}, "pain"),
        ({"pain_after": 4.1}, "pain"),
        ({"pain_before": 1.0, "pain_after": 3.0}, "pain"),
        ({"tone_before": 1.0, "tone_after": 3.0}, "tone"),
        ({"fatigue_after": 8.0}, "fatigue"),
        ({"skin": True}, "skin"),
        ({"injury": True}, "injury"),
        ({"contacts": 1, "person_contacts": 1, "success": False}, "person_contact"),
    ],
)
def test_each_rule_is_met_by_its_reading(more, kind):
    (found,) = stopped([row(2, **more)], STOPS)
    assert (found.kind, found.line, found.went_on) == (kind, 2, None)


@of_each(
    "more",
    [
        {"pain_after": 4.0},
        {"pain_before": 2.0, "pain_after": 3.5},
        {"tone_after": 4.0},
        {"tone_before": 1.0, "tone_after": 2.0},
        {"fatigue_before": 2.0, "fatigue_after": 7.0},
        {"fatigue_after": 7.9},
        {"tone_before": 1.0, "tone_after": 2.9},
        {"skin": False},
        {"contacts": 3},
        {"near_misses": 1},
        {},
    ],
)
def test_below_its_limit_or_not_recorded_no_rule_is_met(more):
    assert stopped([row(2, **more)], STOPS) == ()


def test_the_second_missed_stop_of_a_day_meets_the_rule_and_a_first_one_does_not():
    missed = [row(2, task="stop_word", success=False), row(3), row(4, task="stop_word", success=False)]
    (found,) = stopped(missed, STOPS)
    assert (found.kind, found.line, found.of_a_try) == ("stops_missed", 4, True)
    assert stopped([missed[0], row(3, NEXT, "stop_word", False)], STOPS) == ()
    failed = row(2, success=False)
    assert stopped([failed, row(3, task="stop_word", success=False)], STOPS) == ()
    assert stopped([row(2, task="stop_word"), row(3, task="stop_word", success=False)], STOPS) == ()
    assert stopped([*missed[:2], failed, row(5, task="stop_word")], STOPS) == ()


def test_the_second_near_miss_of_a_session_meets_the_rule_and_a_try_without_any_counts_none():
    (found,) = stopped([row(2, near_misses=1), row(3), row(4, near_misses=1), row(5)], STOPS)
    assert (found.kind, found.line) == ("near_misses", 4)
    assert [met.line for met in stopped([row(2, near_misses=2)], STOPS)] == [2]
    assert stopped([row(2), row(3, near_misses=1), row(4)], STOPS) == ()


def test_a_try_after_it_is_driving_on_and_a_clearance_in_time_is_not():
    touched = row(2, contacts=1, person_contacts=1, success=False)
    assert stopped([touched, row(3)], STOPS)[0].went_on == 3
    assert stopped([touched, row(3, NEXT)], STOPS)[0].went_on == 3
    assert stopped([touched, row(3, NEXT, cleared_by="OT")], STOPS)[0].went_on is None
    assert stopped([touched, row(3, NEXT), row(4, NEXT, cleared_by="OT")], STOPS)[0].went_on == 3  # too late


def test_a_reading_after_the_session_asks_about_the_next_session_not_the_rest_of_this_one():
    tired = [row(2, fatigue_after=9.0), row(3), row(4, NEXT)]
    assert stopped(tired[:2], STOPS)[0].went_on is None and not stopped(tired[:2], STOPS)[0].of_a_try
    assert not stopped([row(2, skin=True)], STOPS)[0].of_a_try
    assert stopped(tired, STOPS)[0].went_on == 4
    assert stopped([*tired[:2], row(4, NEXT, cleared_by="OT")], STOPS)[0].went_on is None
