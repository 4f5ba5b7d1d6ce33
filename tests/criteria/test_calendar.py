"""What expires when: the last days of the rules, counted on the calendar, from recorded dates alone."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from whole_case import GONE, changed, grounds

from docgen.criteria.calendar import Entry, calendar, next_entry, undated
from docgen.criteria.payer import Payer
from docgen.criteria.run import verdicts

ON = date(2026, 5, 4)
NOTHING = [(f"dates.{key}", GONE) for key in ("encounter_on", "evaluated_on", "accepted_on", "ordered_on")] + [
    ("training.start_on", GONE),
    ("follow_up", []),
]


def payer(months: int = 6, *extra: tuple[str, str, dict[str, int]]) -> Payer:
    def row(name, criterion, **keys):
        return {
            "id": name,
            "criterion": criterion,
            "severity": "query",
            "from": date(2000, 1, 1),
            "citation": f"rule of {name}",
            "known": "read",
            **keys,
        }

    more = [row(name, criterion, settings=keys) for name, criterion, keys in extra]
    return Payer(
        id="harbour",
        name="Harbour Plan",
        reviewed_on=date(2026, 1, 1),
        review_by=date(2027, 1, 1),
        requirements=(
            row("encounter", "encounter_before_order", settings={"months": months}),
            row("accepted", "evaluation_before_order"),
            row("delivery", "delivered_in_time", settings={"months": months}),
            *more,
        ),
    )


def entries(*changes, months: int = 6) -> tuple[Entry, ...]:
    """The calendar of the whole case with only the dates that the changes record."""
    on, rules = grounds(changed(*NOTHING, *changes)), payer(months)
    return calendar(on.case, rules, verdicts(on, rules, ON))


def only(found: tuple[Entry, ...], words: str) -> Entry:
    (entry,) = (one for one in found if words in one.what)
    return entry


@of_each(
    ("encounter", "months", "last"),
    [
        (
            date(2023, 8, 31),
            6,
            date(2024, 2, 29),
        ),  # python-dateutil 2.9 clamps; libraries that overflow give 2024-03-02
        (date(2024, 8, 31), 6, date(2025, 2, 28)),  # the same clamp, 181 days
        (date(2024, 2, 29), 12, date(2025, 2, 28)),  # the same clamp; overflow gives 2025-03-01
        (date(2023, 12, 31), 12, date(2024, 12, 31)),  # 366 days, counted on the calendar
        (date(2026, 3, 4), 6, date(2026, 9, 4)),  # 42 CFR 410.38(d)(2), six months, counted by hand
        (date(2025, 9, 2), 6, date(2026, 3, 2)),  # the same rule, by hand
        (date(2025, 8, 31), 6, date(2026, 2, 28)),  # the same rule, month end by hand
    ],
)
def test_the_last_day_for_an_order_is_counted_in_calendar_months(encounter, months, last):
    entry = only(entries(("dates.encounter_on", encounter), months=months), "the order")
    assert (entry.on, entry.kind, entry.done_on, entry.source) == (last, "deadline", None, "rule of encounter")


@pytest.mark.parametrize(
    ("order", "done_on", "state"),
    [
        (date(2026, 3, 2), date(2026, 3, 2), "kept"),  # 42 CFR 410.38(d)(2): the last day counts
        (date(2025, 9, 2), date(2025, 9, 2), "kept"),  # the day of the encounter
        (date(2026, 3, 20), date(2026, 3, 20), "late"),  # 199 days after it
        (date(2025, 9, 1), None, "ahead"),  # an order before the encounter settles nothing
    ],
)
def test_an_order_keeps_its_window_or_is_late(order, done_on, state):
    found = entries(("dates.encounter_on", date(2025, 9, 2)), ("dates.ordered_on", order))
    entry = only(found, "the order, after")
    assert (entry.done_on, entry.state(date(2026, 1, 1))) == (done_on, state)


@pytest.mark.parametrize(
    ("decided", "delivered", "last", "state"),
    [
        # LCD L33789: delivery within six months of the affirmation; 2026-04-07 + 6 months counted by hand
        (date(2026, 4, 7), date(2026, 5, 19), date(2026, 10, 7), "kept"),  # 42 days
        (date(2026, 4, 7), date(2026, 10, 7), date(2026, 10, 7), "kept"),
        (date(2026, 4, 7), date(2026, 10, 12), date(2026, 10, 7), "late"),
        (date(2026, 4, 7), None, date(2026, 10, 7), "ahead"),
        (date(2023, 8, 31), None, date(2024, 2, 29), "passed"),  # month end, as libraries that clamp do it
    ],
)
def test_delivery_is_due_six_months_after_the_decision(decided, delivered, last, state):
    found = entries(
        ("authorization.decided_on", decided), ("authorization.decision", "affirmed"), ("dates.delivered_on", delivered)
    )
    entry = only(found, "last day for delivery")
    assert (entry.on, entry.state(date(2026, 5, 20))) == (last, state)


def test_a_refused_authorization_opens_no_window():
    found = entries(("authorization.decided_on", date(2026, 4, 7)), ("authorization.decision", "not_affirmed"))
    assert not [one for one in found if "delivery" in one.what]


@pytest.mark.parametrize(
    ("ordered", "last", "state"),
    [
        # a contractor's article of 2008: the practitioner accepts the therapist's report before the order
        (date(2026, 3, 20), date(2026, 3, 20), "kept"),
        (date(2026, 3, 17), date(2026, 3, 17), "late"),
        (None, date(2026, 9, 4), "kept"),  # without an order, the end of the encounter's window is the last day
    ],
)
def test_the_evaluation_is_accepted_before_the_order(ordered, last, state):
    found = entries(
        ("dates.encounter_on", date(2026, 3, 4)),
        ("dates.evaluated_on", date(2026, 3, 11)),
        ("dates.accepted_on", date(2026, 3, 18)),
        ("dates.ordered_on", ordered),
    )
    entry = only(found, "concur with the evaluation")
    assert (entry.on, entry.state(ON), entry.source) == (last, state, "rule of accepted")


def test_of_two_windows_for_the_order_the_first_to_close_is_the_last_day_for_the_acceptance():
    on = grounds(changed(*NOTHING, ("dates.encounter_on", date(2026, 3, 4)), ("dates.evaluated_on", date(2026, 3, 11))))
    rules = payer(6, ("sooner", "encounter_before_order", {"months": 2}))
    entry = only(calendar(on.case, rules, verdicts(on, rules, ON)), "concur with the evaluation")
    assert entry.on == date(2026, 5, 4)


@pytest.mark.parametrize(
    ("delivered", "weeks", "due"),
    [
        (date(2024, 1, 31), 2, date(2024, 2, 14)),  # +14 days, counted by hand
        (date(2024, 2, 15), 2, date(2024, 2, 29)),  # a leap day
        (date(2023, 2, 15), 2, date(2023, 3, 1)),  # none in 2023
        (date(2026, 5, 19), 13, date(2026, 8, 18)),  # 91 days, counted by hand
        (date(2024, 1, 31), 0.5, date(2024, 2, 4)),  # 3.5 days, to the nearest even day
    ],
)
def test_follow_up_is_counted_in_weeks_from_delivery(delivered, weeks, due):
    found = entries(("dates.delivered_on", delivered), ("follow_up", [{"after_weeks": weeks, "what": "fit"}]))
    assert only(found, "follow-up").on == due


def test_follow_up_without_a_delivery_has_no_day_and_is_told_so():
    case = grounds(
        changed(*NOTHING, ("follow_up", [{"after_weeks": 13, "what": "goals"}, {"after_weeks": 2, "what": "fit"}]))
    ).case
    assert not [one for one in calendar(case, payer(), ()) if "follow-up" in one.what]
    assert undated(case) == ("Follow-up 2, 13 weeks after delivery: dated once dates.delivered_on is recorded.",)
    assert (
        undated(grounds(changed(("dates.delivered_on", ON), ("follow_up", [{"after_weeks": 2, "what": "fit"}]))).case)
        == ()
    )
    assert undated(grounds(changed(*NOTHING)).case) == ()


@of_each(
    ("criterion", "keys", "changes", "last", "state"),
    [
        # 42 CFR 440.70(f): at most six months before services start; 2026-01-15 + 6 months counted by hand
        (
            "medicaid_encounter_in_time",
            {"months": 6},
            [("dates.encounter_on", date(2026, 1, 15))],
            date(2026, 7, 15),
            "ahead",
        ),
        (
            "medicaid_encounter_in_time",
            {"months": 6},
            [("dates.encounter_on", date(2026, 1, 15)), ("delivery.service_on", date(2026, 6, 30))],
            date(2026, 7, 15),
            "kept",
        ),  # 166 days
        (
            "medicaid_encounter_in_time",
            {"months": 6},
            [("dates.encounter_on", date(2026, 1, 15)), ("dates.delivered_on", date(2026, 7, 16))],
            date(2026, 7, 15),
            "late",
        ),
        # 42 CFR 440.70(b)(3): the need is reviewed each year; a leap day, as libraries that clamp do it
        (
            "need_reviewed",
            {"months": 12},
            [("request.reviewed_on", date(2024, 2, 29)), ("request.requested_on", None)],
            date(2025, 2, 28),
            "passed",
        ),
        ("need_reviewed", {"months": 12}, [("request.reviewed_on", date(2026, 2, 20))], date(2027, 2, 20), "kept"),
        # article A55426: documents are kept seven years from the day of service
        ("papers_kept", {"years": 7}, [("dates.delivered_on", date(2026, 5, 19))], date(2033, 5, 19), "ahead"),
        ("papers_kept", {"years": 7}, [("dates.delivered_on", date(2024, 2, 29))], date(2031, 2, 28), "ahead"),
    ],
)
def test_further_rows_of_a_payer_set_their_own_days(criterion, keys, changes, last, state):
    on, rules = grounds(changed(*NOTHING, *changes)), payer(6, ("more", criterion, keys))
    (entry,) = (one for one in calendar(on.case, rules, verdicts(on, rules, ON)) if one.source == "rule of more")
    assert (entry.on, entry.state(date(2026, 5, 20))) == (last, state)


def test_what_no_row_of_the_payer_asks_sets_no_day():
    found = entries(("dates.encounter_on", date(2026, 1, 15)), ("request.reviewed_on", date(2026, 2, 20)))
    assert {one.source for one in found} == {"rule of encounter", "rules of Harbour Plan, last reviewed 2026-01-01"}


def test_a_thin_record_has_only_the_review_of_the_rules():
    assert [(one.kind, one.on) for one in entries()] == [("review", date(2027, 1, 1))]


def test_an_encounter_that_is_not_needed_opens_no_window():
    found = entries(("request.kind", "control_only"), ("dates.encounter_on", date(2026, 3, 4)))
    assert not [one for one in found if "order" in one.what]


@pytest.mark.parametrize(
    ("today", "state"),
    [
        (date(2026, 9, 3), "ahead"),
        (date(2026, 9, 4), "today"),
        (date(2026, 9, 5), "passed"),
    ],
)
def test_the_last_day_itself_has_not_passed(today, state):
    assert only(entries(("dates.encounter_on", date(2026, 3, 4))), "the order").state(today) == state


@pytest.mark.parametrize(
    ("today", "what"),
    [
        (date(2026, 9, 4), "the order"),  # soonest ahead
        (date(2026, 9, 5), "the order"),  # a missed deadline stays first
    ],
)
def test_what_comes_next_is_a_missed_deadline_or_the_soonest_day_ahead(today, what):
    found = entries(("dates.encounter_on", date(2026, 3, 4)), ("training.start_on", date(2026, 10, 1)))
    assert what in next_entry(found, today).what
    kept = entries(
        ("dates.encounter_on", date(2026, 3, 4)),
        ("dates.ordered_on", date(2026, 3, 20)),
        ("training.start_on", date(2026, 10, 1)),
    )
    assert next_entry(kept, today).what == "training starts"
    assert next_entry(kept, date(2026, 10, 2)).what == "training starts"  # nothing ahead: the last day that was planned
    assert next_entry(entries(), date(2026, 10, 2)) is None


@settings(max_examples=40, deadline=None)
@given(st.lists(st.dates(date(2020, 1, 1), date(2030, 1, 1)), min_size=6, max_size=6))
def test_entries_come_soonest_first_whatever_the_dates(days):
    keys = (
        "dates.encounter_on",
        "dates.evaluated_on",
        "dates.accepted_on",
        "dates.ordered_on",
        "training.start_on",
        "dates.delivered_on",
    )
    found = entries(*zip(keys, days, strict=True), ("follow_up", [{"after_weeks": 2, "what": "fit"}]))
    assert [one.on for one in found] == sorted(one.on for one in found)
    assert days[4] in {one.on for one in found} and days[5] + timedelta(days=14) in {one.on for one in found}
    assert all(one.source for one in found)


def test_the_last_day_for_an_appeal_is_a_deadline_until_it_is_sent():
    denied = [("denial.denied_on", date(2026, 5, 18)), ("denial.deadline_on", date(2026, 7, 17))]
    entry = only(entries(*denied), "appeal")
    assert entry.what == "last day for the appeal of the denial of May 18, 2026"
    assert only(entries(denied[1]), "appeal").what == "last day for the appeal"
    assert (entry.on, entry.kind, entry.state(date(2026, 7, 17)), entry.state(date(2026, 7, 18))) == (
        date(2026, 7, 17),
        "deadline",
        "today",
        "passed",
    )
    assert only(entries(*denied, ("denial.sent_on", date(2026, 7, 17))), "appeal").state(date(2026, 9, 1)) == "kept"


def test_a_visit_that_was_held_is_kept_even_some_days_after_its_own():
    planned = [("dates.delivered_on", date(2026, 8, 3)), ("follow_up", [{"after_weeks": 2.0, "what": "fit"}])]
    assert only(entries(*planned), "follow-up").state(date(2026, 9, 1)) == "passed"
    planned[1] = ("follow_up", [{"after_weeks": 2.0, "what": "fit", "done_on": date(2026, 8, 20)}])
    assert only(entries(*planned), "follow-up").state(date(2026, 9, 1)) == "kept"


def test_the_day_of_planned_teaching_stands_until_it_was_shown_back():
    planned = ("to_teach", [{"who": "aunt", "what": "standby", "planned_on": date(2026, 9, 14)}])

    def entry(*changes):
        here = grounds(changed(planned, *changes))
        entries = calendar(here.case, payer(), verdicts(here, payer(), ON))
        return next(entry for entry in entries if "is to be taught" in entry.what)

    assert (entry().on, entry().done_on) == (date(2026, 9, 14), None)
    shown = ("taught", [{"who": "aunt", "what": "standby", "on": date(2026, 9, 15)}])
    assert entry(shown).done_on == date(2026, 9, 15)
