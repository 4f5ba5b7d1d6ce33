"""What `no_unanswered_risk` says of each record."""

from __future__ import annotations

from ready_case import FEATURES, feature
from records import Records
from whole_case import ROWS, ask, changed, grounds

NECK = ("findings.+", {"id": "neck_restricted", "says": "No turning past 20 degrees."})

RECORDS = Records(
    "no_unanswered_risk",
    met=[
        ("the whole case", []),
    ],
    not_met=[
        ("a danger without an answer", [NECK]),
        (
            "speed by push where effort raises tone",
            [
                ("findings.+", {"id": "tone_rises_effort", "says": "Pushing stiffens."}),
                ("configuration.features.+", {"id": "force_graded_speed", "because": ["head_three_way"]}),
            ],
        ),
        ("latched drive without a stop switch", [("configuration.latched", True)]),
        ("one latched profile without a stop switch", [("configuration.profiles.0.latched", True)]),
        (
            "the head at rest on the pad that drives",
            [("findings.+", {"id": "head_rests_back", "says": "Rests back."}), ("configuration.mounting.0.gap_mm", 0)],
        ),
    ],
    cannot_tell=[
        ("no features", [("configuration.features", []), ("configuration.items", [])]),
        (
            "speed by push, answered, where the trial did not look at tone",
            [
                ("findings.+", {"id": "tone_rises_effort", "says": "Pushing stiffens."}),
                (
                    "configuration.features.+",
                    {"id": "force_graded_speed", "because": ["head_three_way"], "answer": "Watched."},
                ),
            ],
        ),
    ],
    ready={
        "met": [],
        "cannot_tell": [(FEATURES, [])],
        "not_met": [(FEATURES, feature("force_graded_speed", ["head_three_way"]))],
    },
    rests_on=("configuration.features", "findings"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_an_answer_in_words_settles_a_danger_but_not_a_missing_stop_switch():
    answer = ("configuration.features.0.answer", "Pads inside 20 degrees, set by the surgeon.")
    assert ask("no_unanswered_risk", grounds(changed(NECK, answer))).status == "met"
    assert ask("no_unanswered_risk", grounds(changed(("configuration.latched", True), answer))).status == "not_met"


def test_every_unanswered_risk_is_named_with_its_feature_and_finding():
    effort = ("findings.+", {"id": "tone_rises_effort", "says": "Pushing stiffens."})
    push = ("configuration.features.+", {"id": "force_graded_speed", "because": ["head_three_way"]})
    names = ask("no_unanswered_risk", grounds(changed(NECK, effort, push))).names
    assert any("cervical precautions" in name for name in names) and any(
        "tone increases with effort" in name for name in names
    )


PUSHES = ("findings.+", {"id": "head_push_extends", "says": "Pushing back brings extension of the whole body."})


FROM_THE_WORD = ("trial.release_from", "cue")


def _mend_with(rows, *more):
    mend = ask("no_unanswered_risk", grounds(changed(PUSHES, *more), rows)).mend
    assert mend is not None
    return mend.say


def test_before_the_trial_the_advice_says_what_would_make_an_answer_too_little_and_after_it_what_did():
    before, after = _mend_with([]), _mend_with([row | {"release_s": 1.5} for row in ROWS], FROM_THE_WORD)
    shows = "release, or stopping, takes 1 s or more"
    assert "Fill in answer" in before and f"where the trial shows what it does not record so far: {shows}" in before
    assert "another feature than head_array" in after and f"{shows} (1.5 s)" in after


def test_a_release_that_was_timed_from_nothing_on_record_neither_shows_a_danger_nor_rules_it_out():
    slow = [row | {"release_s": 1.5} for row in ROWS]
    not_told = ("trial.release_from", None)
    reason = ask("no_unanswered_risk", grounds(changed(PUSHES, not_told), slow)).reason
    assert "takes 1 s or more (1.5 s), and what that was timed from is not recorded" in reason
    assert "shows a sign of it" not in reason and "What can go wrong then: The push back" in reason
    answered = ("configuration.features.0.answer", "Pads to the side alone.")
    answer = ask("no_unanswered_risk", grounds(changed(PUSHES, not_told, answered), slow))
    assert answer.status == "cannot_tell" and "release_from" in answer.mend.say
    told = ask("no_unanswered_risk", grounds(changed(PUSHES, FROM_THE_WORD, answered), slow))
    assert told.status == "not_met" and "The trial shows a sign of it: release" in told.reason
