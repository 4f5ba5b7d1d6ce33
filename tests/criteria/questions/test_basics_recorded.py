"""What `basics_recorded` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ask, changed, grounds

NO_CODES = [(f"configuration.items.{place}.code", GONE) for place in range(6)]

RECORDS = Records(
    "basics_recorded",
    met=[
        ("the whole case", []),
        ("a line that has no code", [*NO_CODES, ("configuration.items.0.no_code", True)]),
        ("a second evaluator whose name is not recorded", [("people.+", {"id": "second", "role": "evaluator"})]),
    ],
    cannot_tell=[
        ("no name", [("client.name", GONE)]),
        ("a name that is x", [("client.name", "x")]),
        ("no date of birth", [("client.born_on", GONE)]),
        ("no evaluator", [("people.0.role", "other")]),
        ("an evaluator without a name", [("people.0.name", "tbd")]),
        ("no code", NO_CODES),
        ("no line", [("configuration.items", [])]),
        ("no word on who reaches the power switch", [("configuration.stop.power_off_by", GONE)]),
        ("no word on who reaches the stop switch", [("configuration.stop.stop_switch_by", GONE)]),
        ("another way to cut the power that nobody reaches", [("configuration.stop.other_way", "a plug behind")]),
        ("no rows", [], []),
        ("no rows and no name", [("client.name", GONE)], []),
    ],
    rests_on=(
        "client.born_on",
        "client.name",
        "configuration.items",
        "configuration.stop.driver",
        "configuration.stop.power_off",
        "configuration.stop.power_off_by",
        "configuration.stop.stop_switch_by",
        "people.*.name",
        "trial.methods",
        "trial.tasks",
    ),
    only_recorded=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_trial_without_rows_needs_a_reason_why_none_was_possible():
    none = grounds(changed(("trial.none_why", "No chair with this control could be lent.")), [])
    assert ask("basics_recorded", none).status == "met"
    untried = ask("basics_recorded", grounds(changed(("trial.methods", [])), []))
    assert "why none was possible" in untried.reason and untried.mend.fill == ("trial.none_why",)


def test_where_methods_are_named_their_rows_are_asked_for_and_not_why_there_was_no_trial():
    answer = ask("basics_recorded", grounds(changed(), []))
    assert answer.reason == "A row of the trial is not recorded."
    assert "docgen rows" in answer.to_settle and not answer.mend.fill


def test_unlike_things_are_told_apart_and_those_of_one_part_together():
    stop = [(f"configuration.stop.{key}", GONE) for key in ("power_off", "power_off_by")]
    answer = ask("basics_recorded", grounds(changed(*stop), []))
    assert answer.reason == "Not recorded: a row of the trial; where the power switch is and who reaches it."


def test_between_two_switches_each_is_named_for_whom_it_is_asked():
    stop = [(f"configuration.stop.{key}", GONE) for key in ("power_off", "power_off_by", "stop_switch_by")]
    assert (
        "who reaches the stop switch and who reaches the power switch"
        in ask("basics_recorded", grounds(changed(*stop))).reason
    )
