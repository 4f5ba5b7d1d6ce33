"""What `methods_accounted_for` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE, ROWS, WHOLE, ask, attempts, changed, grounds

STICK = next(at for at, device in enumerate(WHOLE["alternatives"]) if device.get("method") == "stick")
OTHER = ("trial.methods.+", {"id": "other", "name": "another control"})

RECORDS = Records(
    "methods_accounted_for",
    met=[
        ("the whole case", []),
        ("a control that was listed and never driven", [OTHER]),
    ],
    cannot_tell=[
        ("a control that was driven and stands nowhere", [(f"alternatives.{STICK}.method", GONE)]),
        ("no attempt", [], []),
    ],
    does_not_apply=[("no control of the trial is asked for", [("configuration.method", GONE)])],
    only_recorded=True,
    needs_rows=True,
    rests_on=("alternatives.*.method", "trial.methods", "trial.tasks"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_the_requested_control_set_otherwise_is_another_control():
    rows = [*ROWS, *attempts("other", "11")]
    answer = ask("methods_accounted_for", grounds(changed(OTHER), rows))
    assert answer.status == "cannot_tell" and "another control (2 of 2)" in answer.reason


def test_the_requested_control_driven_in_other_shoes_is_no_rival_of_itself():
    asked = next(at for at, m in enumerate(WHOLE["trial"]["methods"]) if m["id"] == WHOLE["configuration"]["method"])
    features = ["head_array"]
    own = (f"trial.methods.{asked}.features", features)
    in_boots = ("trial.methods.+", {"id": "other", "name": "in boots", "features": features, "footwear": "a boot"})
    rows = [*ROWS, *attempts("other", "11")]
    assert ask("methods_accounted_for", grounds(changed(own, in_boots), rows)).status == "met"
    barefoot = ("trial.methods.+", {"id": "other", "name": "as it was", "features": features})
    assert ask("methods_accounted_for", grounds(changed(own, barefoot), rows)).status == "cannot_tell"
