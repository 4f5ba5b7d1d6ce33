"""What `simpler_controls_compared` says of each record."""

from __future__ import annotations

from datetime import timedelta

import pytest
from changes import GOOD, STICK
from records import Records
from scipy.stats import fisher_exact
from whole_case import GONE, WHOLE, ask, attempts, changed, grounds

FIVE_OF_TEN = attempts("stick", "0101010101") + attempts("pads", "1111111101")
NONE_WORKED = attempts("stick", "0" * 16) + attempts("pads", "0" * 23 + "1")

RECORDS = Records(
    "simpler_controls_compared",
    met=[
        (
            "a simpler control that was worse so far, with another helper and at another speed",
            [],
            [row | {"supervisor": "aunt", "speed_m_s": 0.3} for row in attempts("stick", "0" * 16)]
            + [row | {"supervisor": "ot", "speed_m_s": 0.4} for row in GOOD],
        ),
        ("the whole case", []),
        (
            "a simpler control that cannot be told apart, and the reason that rules it out with its measure",
            [
                ("alternatives.3.ruled_out_by", "feature"),
                ("alternatives.3.reason", "The hand catches under the knob."),
                ("alternatives.3.measure", "15 of 16"),
            ],
            attempts("stick", "1" * 15 + "0") + GOOD,
        ),
    ],
    not_met=[
        (
            "a simpler control that is better, whatever the reason against it",
            [("alternatives.3.ruled_out_by", "condition"), ("alternatives.3.reason", "The hand cramps.")],
            attempts("stick", "1" * 16) + attempts("pads", "01" * 12),
        ),
        ("a simpler control that cannot be told apart", [], attempts("stick", "1" * 15 + "0") + GOOD),
        ("a simpler control that is better", [], attempts("stick", "1" * 16) + attempts("pads", "01" * 12)),
    ],
    cannot_tell=[
        ("no rows of the simpler control", [], GOOD),
        ("no rows of the requested control", [], STICK),
        ("two attempts with the simpler control", [], attempts("stick", "00") + GOOD),
        ("an interval that reaches the requested control", [], FIVE_OF_TEN),
        ("a requested control that is not in the trial", [("configuration.method", "other")]),
        ("a try that was not a fair one", [("alternatives.3.ruled_out_by", "not_a_fair_try")]),
        ("no requested control", [("configuration.method", GONE)]),
    ],
    does_not_apply=[
        ("no simpler control in the trial", [("trial.methods.0", GONE), ("alternatives.3", GONE)], GOOD),
    ],
    ready={
        "met": [],
        "cannot_tell": [(("configuration", "method"), None)],
        "not_met": [(("configuration", "method"), "force_headrest")],
        "does_not_apply": [(("configuration", "method"), "hand_stick")],
    },
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks"),
    rows_suffice=True,
    needs_rows=True,
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_difference_that_luck_could_make_is_told_with_how_often_it_would():
    # 9 of 10 against 5 of 10: 40 points, -0.24 to 67.59 (Newcombe 1998, method 10); the test as scipy has it
    reason = ask("simpler_controls_compared", grounds(WHOLE, FIVE_OF_TEN)).reason
    assert "40 percentage points (0 to 68)" in reason
    assert "5 of 10 attempts successful, requested control 9 of 10" in reason
    chance = fisher_exact([[9, 1], [5, 5]]).pvalue
    assert f"By Fisher's exact test, two equal controls would differ as much in {chance:.0%} of trials" in reason


@pytest.mark.parametrize("criterion", ["simpler_controls_compared", "standard_stick_ruled_out"])
def test_a_control_that_did_not_work_is_not_advised(criterion):
    answer = ask(criterion, grounds(WHOLE, NONE_WORKED))
    assert answer.status == "not_met" and "train, change the setup" in answer.to_settle
    assert "Ask for" not in answer.to_settle
    as_good = ask(criterion, grounds(WHOLE, attempts("stick", "1" * 16) + GOOD))
    assert "Request the" in as_good.to_settle


def _later(rows, days):
    return [row | {"date": row["date"] + timedelta(days=days)} for row in rows]


def test_days_that_two_controls_do_not_share_show_a_difference_in_part():
    apart = ask("simpler_controls_compared", grounds(WHOLE, _later(STICK, 30) + GOOD))
    assert (apart.status, apart.stands) == ("met", "in_part")
    assert "Joystick by hand was never driven on a day of the requested control." in apart.reason
    assert ask("simpler_controls_compared", grounds(WHOLE)).stands == "met"


def test_of_two_simpler_controls_one_that_shares_no_day_shows_a_difference_in_part():
    pads = WHOLE["trial"]["methods"][1]
    chin = {"id": "chin", "name": "chin joystick"}
    three = changed(("trial.methods.1", chin), ("trial.methods.+", pads))
    never = [row | {"method": "chin"} for row in _later(STICK, 30)]
    answer = ask("simpler_controls_compared", grounds(three, STICK + never + GOOD))
    assert (answer.status, answer.stands) == ("met", "in_part")
    both = [row | {"method": "chin"} for row in STICK]
    assert ask("simpler_controls_compared", grounds(three, STICK + both + GOOD)).stands == "met"


def test_shared_days_that_do_not_tell_two_controls_apart_are_told_with_their_counts():
    # on the shared day 2 of 4 against 4 of 4, p = 0.43 (scipy); over all days 2 of 16 against 24 of 24
    rows = attempts("stick", "1100", days=1) + _later(attempts("stick", "0" * 12), 30)
    asked = attempts("pads", "1111", days=1) + _later(attempts("pads", "1" * 20), 60)
    answer = ask("simpler_controls_compared", grounds(WHOLE, rows + asked))
    assert fisher_exact([[2, 2], [4, 0]]).pvalue > 0.05
    assert answer.stands == "in_part"
    assert "the joystick by hand did 2 of 4 and the requested control 4 of 4, which chance alone" in answer.reason


def test_help_before_the_start_is_counted_as_help_too_and_what_then_could_be_luck_is_shown_in_part():
    # 4 of 16 against 24 of 24, and with 12 of these set again before the start against 12 of 24
    rows = attempts("stick", "1111" + "0" * 12) + attempts("pads", "1" * 24)
    for n_helped, share, stands in ((0, "", "met"), (2, "22 of 24", "met"), (12, "12 of 24", "in_part")):
        answer = ask(
            "simpler_controls_compared", grounds(changed(("trial.methods.1.help_before_start", n_helped)), rows)
        )
        assert (answer.status, answer.stands) == ("met", stands)
        assert (f"the requested one did {share}; chance alone would then" in answer.reason) == bool(share)
    chance = fisher_exact([[12, 12], [4, 12]]).pvalue
    assert (
        chance > 0.05 and f"so large a difference in {chance:.0%} for the joystick by hand (4 of 16)" in answer.reason
    )
