"""What settles a finding: the fewest keys and entries, tried on criteria that say what they want."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from msgspec.structs import replace
from whole_case import GONE, changed, grounds

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, criteria, met, not_met
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.payer import load
from docgen.criteria.run import Verdict
from docgen.criteria.settle import Trial, all_settled, unset_keys

BARE = grounds(
    changed(
        ("dates.ordered_on", GONE),
        ("dates.encounter_on", GONE),
        ("request.months_needed", None),
        ("goals", []),
        ("taught", []),
    ),
    (),
)
ROW = next(row for row in load("general", "").requirements if row.criterion == "goals_set")


def _finding(*wanted: tuple[Callable[[Case], Any], Mend], name: str = "row", severity: str = "blocks") -> Verdict:
    """A finding that wants one thing after another, each with the mend that is told while it is missing."""

    def ask(on: Grounds, **settings: Any) -> Answer:
        for is_there, mend in wanted:
            if not is_there(on.case):
                return cannot_tell(f"Not recorded: {mend.say}", ("dates",), ("goals",), mend=mend)
        return met("So.", ("dates",))

    return _asking(ask, name, severity)


def _asking(ask: Callable[..., Answer], name: str = "row", severity: str = "blocks") -> Verdict:
    criterion = replace(criteria()["goals_set"], ask=ask, settings={})
    row = ROW.model_copy(update={"id": name, "severity": severity, "settings": {}})
    return Verdict(row, criterion, ask(BARE))


def _settled(*findings: Verdict) -> list[Trial | None]:
    return [trial for _, trial in all_settled(BARE, findings)]


def _ordered(case: Case) -> bool:
    return case.dates.ordered_on is not None


BOTH_DAYS = fill_in({"dates.ordered_on": "", "dates.encounter_on": ""})
ORDERED, ENCOUNTER = ("dates", "ordered_on"), ("dates", "encounter_on")


def test_a_key_that_it_can_do_without_is_dropped_unless_another_finding_needs_it():
    (trial,) = _settled(_finding((_ordered, BOTH_DAYS)))
    assert trial.fills == (ORDERED,) and trial.added == ()
    either = _finding((lambda case: case.dates.ordered_on or case.dates.encounter_on, BOTH_DAYS), name="either")
    assert _settled(either)[0].fills == (ENCOUNTER,)
    assert [trial.fills for trial in _settled(_finding((_ordered, BOTH_DAYS)), either)] == [(ORDERED,), (ORDERED,)]


@pytest.mark.parametrize(("least", "settles"), [(60, True), (240, True), (241, False)])
def test_a_number_is_tried_as_its_example_and_four_times_as_much(least, settles):
    wants = (lambda case: (case.request.months_needed or 0) >= least, fill_in({"request.months_needed": ""}))
    (trial,) = _settled(_finding(wants))
    assert (trial is not None) is settles


def test_a_number_is_tried_as_a_quarter_of_its_example_too():
    wants = (lambda case: (case.request.months_needed or 99) <= 15, fill_in({"request.months_needed": ""}))
    assert _settled(_finding(wants))[0].fills == (("request", "months_needed"),)


def test_one_thing_wanted_after_another_is_settled_and_what_no_key_settles_is_not():
    entry = (lambda case: case.goals, add_entry("goals"))
    (trial,) = _settled(_finding(entry, (_ordered, fill_in({"dates.ordered_on": ""}))))
    assert trial.added == ((("goals", 0), ()),) and ORDERED in trial.fills
    assert _settled(_finding((_ordered, Mend("Say so.")))) == [None]
    assert _settled(_finding((lambda case: False, BOTH_DAYS))) == [None]


def test_only_what_blocks_is_settled():
    assert _settled(_finding((_ordered, BOTH_DAYS), severity="query")) == []


def test_a_new_entry_of_which_nothing_is_fixed_becomes_one_that_another_finding_fixes():
    count = len(BARE.case.people)
    payer = _finding(
        (lambda case: any(p.role == "payer" for p in case.people), add_entry("people", role="payer")), name="fixed"
    )
    anyone = _finding((lambda case: len(case.people) > count, add_entry("people", "name")), name="anyone")
    for findings in ((payer, anyone), (anyone, payer)):
        trials = dict(zip([verdict.requirement.id for verdict in findings], _settled(*findings), strict=True))
        assert {trial.added for trial in trials.values()} == {((("people", count), (("role", '"payer"'),)),)}


def test_an_entry_of_a_list_within_a_table_becomes_the_one_that_another_finding_fixes():
    table, count = ("configuration", "commands"), len(BARE.case.configuration.commands)
    back = _finding(
        (
            lambda case: any(command.does == "back" for command in case.configuration.commands[count:]),
            add_entry("configuration.commands", "input", does="back"),
        ),
        name="fixed",
    )
    any_command = _finding(
        (lambda case: len(case.configuration.commands) > count, add_entry("configuration.commands", "input")),
        name="anyone",
    )
    for trial in _settled(any_command, back):
        assert trial.added == (((*table, count), (("does", '"back"'),)),)
        assert trial.shared((*table, count, "input")) == (*table, '+does = "back"', "input")


@pytest.mark.parametrize("at_home", [True, False])
def test_a_new_entry_holds_what_its_mend_fixes(at_home):
    count = len(BARE.case.activities)
    wants = (
        lambda case: any(activity.at_home is at_home for activity in case.activities[count:]),
        add_entry("activities", "before", at_home=at_home),
    )
    (trial,) = _settled(_finding(wants))
    assert trial is not None and trial.grounds().case.activities[count].at_home is at_home


def test_a_key_is_tried_first_as_its_example():
    months = ("request", "months_needed")
    assert Trial(BARE.case, fills=(months,)).grounds().case.request.months_needed == 60


def _months(case: Case) -> int | None:
    return case.request.months_needed


def test_an_answer_that_asks_for_more_is_followed_before_one_that_asks_for_nothing():
    def ask(on: Grounds, **settings: Any) -> Answer:
        if _months(on.case) is None:
            return cannot_tell("How long?", ("request",), mend=fill_in({"request.months_needed": ""}))
        if _months(on.case) != 60:
            return not_met("Another number.", mend="Say so.")
        return met("So.") if _ordered(on.case) else cannot_tell("When?", ("dates",), mend=BOTH_DAYS)

    (trial,) = _settled(_asking(ask))
    assert trial is not None and set(trial.fills) == {("request", "months_needed"), ORDERED}


def test_stand_ins_that_a_criterion_cannot_read_settle_nothing():
    def ask(on: Grounds, **settings: Any) -> Answer:
        if _ordered(on.case):
            raise ValueError("no such day")
        return cannot_tell("When?", ("dates",), mend=fill_in({"dates.ordered_on": ""}))

    assert _settled(_asking(ask)) == [None]


@pytest.mark.parametrize(("n_wanted", "settles"), [(7, True), (8, False)])
def test_seven_things_wanted_one_after_another_are_settled_and_no_more(n_wanted, settles):
    wanted = [
        (lambda case, n=n: len(case.goals) > n, replace(add_entry("goals"), say=f"Add goal {n}."))
        for n in range(n_wanted)
    ]
    (trial,) = _settled(_finding(*wanted))
    assert (trial is not None and len(trial.added) == n_wanted) is settles


def test_of_several_empty_lists_the_first_one_named_gets_an_entry():
    def ask(on: Grounds, **settings: Any) -> Answer:
        if on.case.goals:
            return met("So.")
        return cannot_tell("None yet.", ("goals",), ("taught",), mend=Mend("Say it.", fill=("says",)))

    (trial,) = _settled(_asking(ask))
    assert trial is not None and [entry for entry, _ in trial.added] == [("goals", 0)]


def test_an_entry_that_must_name_someone_settles_nothing_where_nobody_is_named():
    nobody = grounds(changed(("people", []), ("taught", []), ("supervision", [])), ())
    wants = _finding((lambda case: case.taught, add_entry("taught")))
    assert [trial for _, trial in all_settled(nobody, [wants])] == [None]


def test_only_keys_that_are_not_filled_yet_are_asked_for():
    filled = BARE.case.model_copy(update={"dates": BARE.case.dates.model_copy(update={"ordered_on": None})})
    assert unset_keys(filled, (), ("dates.ordered_on", "request.requested_on")) == [ORDERED]


def test_an_entry_takes_over_what_another_finding_fills_in_and_keeps_the_entries_beside_it():
    count = len(BARE.case.people)

    def new(case: Case) -> Any:
        return case.people[count:]

    payer = _finding(
        (
            lambda case: any(p.role == "payer" and p.phone for p in new(case)),
            add_entry("people", "phone", role="payer"),
        ),
        name="fixed",
    )
    anyone = _finding(
        (lambda case: any(p.phone or p.email for p in new(case)), add_entry("people", "phone", "email")),
        (lambda case: case.goals, add_entry("goals")),
        name="anyone",
    )
    host = (("people", count), (("role", '"payer"'),))
    for findings in ((payer, anyone), (anyone, payer)):
        trials = dict(zip([verdict.requirement.id for verdict in findings], _settled(*findings), strict=True))
        trial = trials["anyone"]
        assert trial is not None and trial.added == (host, (("goals", 0), ()))
        assert ("people", count, "phone") in trial.fills and ("people", count, "email") not in trial.fills
