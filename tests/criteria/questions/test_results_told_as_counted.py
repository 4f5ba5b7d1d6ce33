"""What `results_told_as_counted` says of each record: the stick of the whole case did 4 of 16."""

from __future__ import annotations

from records import Records
from whole_case import ask, changed, grounds

REASON, MEASURE = "alternatives.3.reason", "alternatives.3.measure"

RECORDS = Records(
    "results_told_as_counted",
    met=[
        ("the whole case, with tries of something else", []),
        ("as the rows count", [(MEASURE, "4 of 16")]),
        ("as the rows count, in a sentence", [(REASON, "She did 4 of 16 attempts, and hit the door.")]),
        ("notes that hold the count of the rows", [("trial.methods.0.notes_count", "4/16")]),
        ("notes that hold the stops of the rows", [("trial.methods.0.notes_stops", "0 of 4")]),
        ("a count of something else beside one of the attempts", [(MEASURE, "4/16; hand lost in 9 of 16")]),
        ("as many tries of something smaller", [(MEASURE, "2 of 3, push force 0 N")]),
    ],
    not_met=[
        ("another count of the same attempts", [(MEASURE, "6 of 16")]),
        ("another count with a stroke, beside another measure", [(MEASURE, "push force 0 N; 6/16")]),
        ("notes that hold another count than the rows", [("trial.methods.0.notes_count", "6 of 10")]),
        ("notes that hold another count of stops", [("trial.methods.0.notes_stops", "1 of 9")]),
        ("another count of them in a sentence", [(REASON, "She did 6 of 16 attempts.")]),
    ],
    does_not_apply=[
        ("a count of something else", [(MEASURE, "hand lost in 9 of 16 placements")]),
        ("a device that was not tried", [("alternatives.0.measure", "6 of 16"), (MEASURE, "push force 0 N")]),
    ],
    cannot_tell=[("no rows", [], [])],
    ready={"does_not_apply": []},
    rests_on=("trial.tasks", "trial.methods"),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_two_counts_of_one_trial_hold_the_request_and_a_trial_to_come_does_not():
    wrong = ask("results_told_as_counted", grounds(changed(("trial.methods.0.notes_count", "6 of 10"))))
    assert (wrong.status, wrong.holds) == ("not_met", True)
    assert len(wrong.names) == 1 and "6 of 10" in wrong.names[0] and "4 of 16" in wrong.names[0]
    assert not ask("results_told_as_counted", grounds(changed(), [])).holds
