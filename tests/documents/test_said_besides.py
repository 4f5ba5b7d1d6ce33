"""Questions of the payer, things left out and people still to be taught have a place on a page."""

from __future__ import annotations

from made import ILMARI, rebuilt

ASKED = """
[[awaited]]
id = "payer_1"
what = "how far the joystick was tried"
of = "therapist"
asked_by = "payer"
asked_on = 2026-04-01
answer = "On two days, 20 attempts each."
answered_on = 2026-04-02
"""
LEFT_OUT = """
[[left_out]]
id = "recline"
what = "power recline"
asked_by = "the school"
why_not = "Tilt relieves his seat."
"""
TO_TEACH = """
[[to_teach]]
who = "grandmother"
what = "standby and the stop"
planned_on = 2026-09-14
"""


def _page(tmp_path, document, added):
    made = rebuilt(tmp_path, ILMARI, (document,), case_toml=lambda text: text + added)
    return " ".join(made[document].plain().split())


def test_the_letter_answers_what_the_payer_asked(tmp_path):
    words = _page(tmp_path / "answered", "letter", ASKED)
    assert "asked how far the joystick was tried. My answer of April 2, 2026: On two days, 20 attempts each." in words
    own = _page(tmp_path / "own", "letter", ASKED.replace('asked_by = "payer"\n', ""))
    assert "how far the joystick was tried" not in own


def test_what_was_asked_for_and_is_not_requested_stands_with_its_reason(tmp_path):
    words = _page(tmp_path / "told", "letter", LEFT_OUT)
    assert "Not requested: power recline. Asked for by the school. Tilt relieves his seat." in words
    silent = _page(tmp_path / "silent", "letter", LEFT_OUT.replace('why_not = "Tilt relieves his seat."\n', ""))
    assert "Asked for by the school. Missing: why" in silent and "Why power recline is not requested" in silent


def test_the_plan_names_who_has_still_to_be_taught_and_on_which_day(tmp_path):
    words = _page(tmp_path / "planned", "plan", TO_TEACH)
    assert "Still to be taught: " in words and "standby and the stop, planned for September 14, 2026." in words
    open_day = _page(tmp_path / "open", "plan", TO_TEACH.replace("planned_on = 2026-09-14\n", ""))
    assert "not recorded: day on which standby and the stop is to be taught" in open_day


def test_nothing_is_told_as_asked_for_where_nobody_is_recorded_who_asked(tmp_path):
    words = _page(tmp_path, "letter", LEFT_OUT.replace('asked_by = "the school"\n', ""))
    assert "Not requested: power recline. Missing: who asked for power recline." in words
    assert "Asked for by" not in words


def test_that_the_therapist_has_still_to_settle_something_is_told_with_what_others_answer(tmp_path):
    boot, base = 'boot = { therapist = "which boot" }\n', 'base = { supplier = "which base" }\n'
    both = _page(tmp_path / "both", "letter", f"\n[awaited]\n{boot}{base}")
    mine = "once I have settled what is mine to settle."
    assert f"I ask for it only once this is answered: which base (by the supplier); and {mine}" in both
    assert "which boot (by" not in both
    alone = _page(tmp_path / "alone", "letter", f"\n[awaited]\n{boot}")
    assert f"I ask for it only {mine}" in alone
