"""What `ruling_has_ground` says of each record."""

from __future__ import annotations

from changes import AS_GOOD, GOOD
from ready_case import ALT, STICK_AT
from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds

REFUSED = [("alternatives.3.ruled_out_by", "refusal"), ("alternatives.3.reason", "“I will not drive with my hand.”")]
BY_FEATURES = [("alternatives.4.ruled_out_by", "feature")]

RECORDS = Records(
    "ruling_has_ground",
    met=[
        ("the whole case", []),
        ("a refusal with its reason", REFUSED),
        ("a condition without a measure", [("alternatives.0.measure", GONE)]),
        ("features, with a measure", BY_FEATURES),
    ],
    not_met=[
        ("a ruling by a trial that does not bear it out", [], AS_GOOD),
    ],
    cannot_tell=[
        ("no alternative", [("alternatives", [])]),
        ("no ruling", [("alternatives.4.ruled_out_by", GONE)]),
        ("a trial without rows", [], GOOD),
        ("a trial without its method", [("alternatives.3.method", GONE)]),
        ("a refusal without a reason", [*REFUSED, ("alternatives.3.reason", GONE)]),
        ("a trial of two attempts", [], attempts("stick", "00") + GOOD),
        ("a trial whose interval reaches the requested control", [], attempts("stick", "11110") + GOOD),
        ("a try that was not a fair one", [("alternatives.3.ruled_out_by", "not_a_fair_try")]),
        ("a try that was not a fair one, without rows", [("alternatives.4.ruled_out_by", "not_a_fair_try")]),
        ("a condition without a reason", [("alternatives.4.reason", GONE)]),
        ("features at odds with nothing, and no measure", [*BY_FEATURES, ("alternatives.4.measure", GONE)]),
    ],
    ready={
        "met": [],
        "cannot_tell": [((ALT, STICK_AT, "ruled_out_by"), None)],
        "not_met": [(("configuration", "method"), "force_headrest")],
    },
    rests_on=(
        "alternatives.*.method",
        "alternatives.*.reason",
        "alternatives.*.ruled_out_by",
        "trial.methods.*",
        "trial.tasks",
    ),
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_control_that_the_trial_names_waits_for_its_rows_alone():
    assert "Take in the rows with stick" in ask("ruling_has_ground", grounds(changed(), GOOD)).to_settle
    unnamed = ask("ruling_has_ground", grounds(changed(("alternatives.3.method", GONE)), GOOD))
    assert "Fill in method" in unnamed.to_settle


def test_a_trial_too_small_to_tell_gives_its_numbers_and_how_far_luck_goes():
    # 0 of 2 against 24 of 24: one table of comb(26, 2) = 325 (Fisher's exact test, by hand)
    reason = ask("ruling_has_ground", grounds(changed(), attempts("stick", "00") + GOOD)).reason
    assert "0 of 2 attempts successful, requested control 24 of 24" in reason
    assert (
        "By Fisher's exact test, two equal controls would differ as much in less than 1% of trials of this size, if"
        in reason
    )


def test_a_device_that_the_client_refuses_is_said_to_be_refused():
    assert "refused by the client: the stick" in ask("ruling_has_ground", grounds(changed(*REFUSED), ROWS)).reason
