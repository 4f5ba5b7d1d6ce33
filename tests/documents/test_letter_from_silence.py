"""What the record does not hold, the letter neither counts by, nor calls unmet, nor makes worse than it was said."""

from __future__ import annotations

import csv
import io
import re

import pytest
from made import ILMARI, page, rebuilt
from support import DEMO_FOLDERS


def letter(tmp_path, change) -> str:
    """The words of the letter of a demo whose case.toml was changed by this function."""
    return " ".join(rebuilt(tmp_path, ILMARI, ("letter",), case_toml=change)["letter"].plain().split())


def test_a_release_timed_from_nothing_recorded_is_a_gap(tmp_path):
    words = letter(tmp_path, lambda text: text.replace('release_from = "cue"\n', ""))
    assert 'Release time runs from the word "stop"' not in words and "What it was timed from" in words


def test_when_a_try_counts_as_done_is_a_gap_where_no_rule_is_recorded(tmp_path):
    words = letter(tmp_path, lambda text: re.sub(r"^rule = .*\n", "", text, flags=re.MULTILINE))
    assert "the rule of the task is kept" not in words
    assert "When a try counts as done, and the rule of each task" in words


@pytest.mark.parametrize(
    ("finding", "says", "unmet"),
    [
        ("wears_head_items", "He wears glasses.", False),
        ("rides_in_vehicle", "He rides in his own van.", False),
        ("pressure_risk", "His skin breaks down.", True),
    ],
)
def test_only_a_finding_that_can_hurt_is_called_unmet(finding, says, unmet, tmp_path):
    added = f'\n[[findings]]\nid = "{finding}"\nsays = "{says}"\n'
    words = letter(tmp_path, lambda text: text + added)
    assert says.rstrip(".") in words
    assert ("Nothing requested meets this." in words) == unmet


def test_a_finding_on_which_nothing_requested_rests_is_told_of_the_person_and_not_among_what_is_requested(tmp_path):
    added = '\n[[findings]]\nid = "rides_in_vehicle"\nsays = "He rides in his own van."\n'
    words = letter(tmp_path, lambda text: text + added)
    of_person = words[words.index("Functional Status") : words.index("Mobility Limitation")]
    assert "He rides in his own van." in of_person and words.count("He rides in his own van.") == 1


def test_an_activity_that_is_not_safe_is_not_called_a_danger_to_life(tmp_path):
    words = letter(tmp_path, lambda text: re.sub(r"^barrier = .*", 'barrier = "unsafe"', text, flags=re.MULTILINE))
    assert ": not safe." in words and "mortality" not in words


def test_a_place_of_which_nothing_was_measured_has_a_floor_alone(tmp_path):
    ramp = '\n[[spaces]]\nid = "back_ramp"\nname = "back ramp"\nkind = "ramp"\nat_home = true\nfloor = "brick"\n'
    assert "The back ramp has a floor of brick" in letter(tmp_path, lambda text: text + ramp)


def test_where_the_birth_date_is_there_the_day_is_what_an_age_lacks(tmp_path):
    days = re.compile(r"^(written_on|requested_on|evaluated_on) = .*\n", re.MULTILINE)
    words = letter(tmp_path, lambda text: days.sub("", text))
    assert "Day of the request or the letter, by which the age is told" in words and "Client's age" not in words


AWAITED = """
[[awaited]]
id = "shunt"
what = "whether a pad may sit beside the shunt"
of = "practitioner"
"""


@pytest.mark.parametrize(
    ("more", "asks"),
    [
        (AWAITED, False),
        (AWAITED + 'answer = "A pad may."\n', False),  # without the day on which it came
        (AWAITED + 'answer = "A pad may."\nanswered_on = 2026-04-08\n', True),
        (AWAITED + 'answer = "A pad may."\nanswered_on = 2026-04-18\n', False),  # the day after the letter
        (AWAITED + "asked_on = 2026-04-18\n", True),  # of the letter nothing was known of it
        (AWAITED + "holds = false\n", True),
    ],
)
def test_nothing_is_asked_for_while_the_request_waits_for_an_answer(more, asks, tmp_path):
    words = letter(tmp_path, lambda text: text + more)
    waits = "I ask for it only once this is answered: whether a pad may sit beside the shunt (by the practitioner)."
    assert ("I ask for a head array" in words) is asks
    assert ("I prepare to ask for a head array" in words and waits in words) is not asks


def test_where_no_diagnosis_is_recorded_there_is_a_gap_and_where_one_lacks_its_code_it_is_told(tmp_path):
    without = re.compile(r"^\[\[diagnoses\]\]\n(?:[a-z].*\n)*", re.MULTILINE)
    assert "His diagnosis: missing: diagnosis." in letter(tmp_path / "none", lambda text: without.sub("", text))
    uncoded = re.compile(r'^code = "G80.3"\n', re.MULTILINE)
    words = letter(tmp_path / "uncoded", lambda text: uncoded.sub("", text))
    assert "dyskinetic cerebral palsy (missing: diagnosis code)" in words


def test_the_day_of_a_report_is_not_taken_for_that_of_the_evaluation(tmp_path):
    """Where no visit of the evaluator is recorded, the trial still has its days, and the report has only its own."""
    visits = re.compile(r"^by = \"therapist\"\n", re.MULTILINE)
    words = letter(tmp_path, lambda text: visits.sub('by = "doctor"\n', text))
    days = "Specialty evaluation and trial of March 3, 10, 17 and 24, 2026"
    assert f"{days} by Perpetua Lindqvist-Amadi, OTR/L; report of April 2, 2026" in words


def _of_the_trial(tmp_path, change) -> str:
    """What the letter of a demo without rows tells of its trial."""
    made = rebuilt(
        tmp_path, ILMARI, ("letter",), trial_csv=lambda text: text.partition("\n")[0] + "\n", case_toml=change
    )
    words = " ".join(made["letter"].plain().split())
    return words.partition("Equipment Trial and Results")[2].partition("Safety and Home Environment")[0]


def test_where_no_trial_was_possible_the_letter_says_why_and_marks_nothing_else_of_it(tmp_path):
    why = "No head array could be lent before the date of the order."
    told = _of_the_trial(tmp_path / "why", lambda text: text.replace("\n[trial]\n", f'\n[trial]\nnone_why = "{why}"\n'))
    assert told.startswith(f"No trial with the requested control was possible. {why}")
    assert "issing: " not in told and "The trial was held" not in told
    told = _of_the_trial(tmp_path / "silent", lambda text: text + "\n")
    assert "missing: rows of a trial with the requested control" in told


def test_a_refusal_by_the_client_is_said_as_one(tmp_path):
    ground = re.compile(r'^ruled_out_by = "trial"$', re.MULTILINE)
    words = letter(tmp_path, lambda text: ground.sub('ruled_out_by = "refusal"', text))
    assert "A force-sensing headrest. Ilmari will not have it." in words
    assert words.count("will not have it.") == 2  # of the devices that were tried, and of no other


def test_a_try_that_was_not_a_fair_one_is_told_as_such_and_rules_nothing_out(tmp_path):
    ground = re.compile(r'^ruled_out_by = "trial"$', re.MULTILINE)
    words = letter(tmp_path, lambda text: ground.sub('ruled_out_by = "not_a_fair_try"', text))
    assert words.count("That was not a fair try, so how he would do with ") == 2
    assert "so how he would do with a force-sensing headrest is not known." in words


def test_each_column_of_the_trial_is_in_one_measure(tmp_path):
    """Of a method without minutes unintended activations are told by attempts, and of the others too then."""
    cells = _unintended(tmp_path / "with", lambda rows: rows)
    assert len(cells) > 1 and not any("attempts" in cell for cell in cells)
    cells = _unintended(tmp_path / "without", _without_minutes_of_one)
    assert len(cells) > 1 and all(re.fullmatch(r"(?:\d+|none) in \d+ attempts", cell) for cell in cells), cells


def _unintended(tmp_path, change) -> list[str]:
    """Unintended activations of each method, as the table of the trial tells them."""
    made = rebuilt(tmp_path, ILMARI, ("letter",), trial_csv=lambda text: _written(change([*_read(text)])) + "\n")
    table = next(
        node for node in made["letter"].walk() if node.kind == "table" and "unintended" in (node.caption or "")
    )
    assert ("a minute" in (table.caption or "")) is (change([{"method": "x", "minutes": "1"}])[0]["minutes"] == "1")
    return [row.children[-2].plain() for row in table.children[1:]]


def _read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(text.splitlines()))


def _written(rows: list[dict[str, str]]) -> str:
    file = io.StringIO()
    writer = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return file.getvalue()


def _without_minutes_of_one(rows: list[dict[str, str]]) -> list[dict[str, str]]:
    return [row | ({"minutes": ""} if row["method"] == rows[0]["method"] else {}) for row in rows]


def test_done_is_not_said_to_be_without_help_where_no_help_was_recorded(tmp_path):
    def bare(text: str) -> str:
        return _written([row | {"prompts_physical": "", "prompts_verbal": ""} for row in _read(text)])

    kept = rebuilt(tmp_path / "kept", ILMARI, ("letter",), trial_csv=lambda text: text + "\n")["letter"].plain()
    assert "without a collision, hands-on help or a missed stop" in kept
    silent = rebuilt(tmp_path / "silent", ILMARI, ("letter",), trial_csv=bare)["letter"].plain()
    assert "hands-on help or a missed stop" not in silent
    assert "Whether an attempt with hands-on help counted as done" in silent  # among what is missing


@pytest.mark.parametrize("gone", ["figures_from", "figures_from|electronics_delay_s|deceleration_m_s2"])
def test_figures_are_of_a_chair_only_where_there_are_figures(gone, tmp_path):
    words = letter(tmp_path, lambda text: re.sub(rf"^({gone}) = .*\n", "", text, flags=re.MULTILINE))
    assert "a chair that is not recorded" not in words
    assert ("On which chair they were measured is not recorded" in words) is (gone == "figures_from")


def test_an_activity_of_another_kind_is_called_so_and_not_denied(tmp_path):
    words = letter(tmp_path, lambda text: text.replace('needed_for = "feeding"', 'needed_for = "other"'))
    assert "(other daily activity)" in words and "not an MRADL" not in words


def test_an_activity_of_which_nobody_said_where_it_is_done_is_not_told_as_away_from_home(tmp_path):
    written = 'name = "come to the kitchen table"\nat_home = true'
    folder = next(demo for demo in DEMO_FOLDERS if demo.name == "ilmari-okonjo-vale")
    words = page(tmp_path, "letter", folder, ("case.toml", written, written.partition("\n")[0]))
    assert "Come to the kitchen table (not at home)" not in words and "Come to the kitchen table (" in words


def test_a_record_of_somebody_unnamed_is_told_without_a_gap_as_its_writer(tmp_path):
    record = '\n[[outside_records]]\nwhat = "surgeon\'s letter"\nyear = 2015\nsays = "The scar is healed."\n'
    words = letter(tmp_path, lambda text: text + record)
    assert "Written in 2015: surgeon's letter. Missing: who wrote it. The scar is healed." in words


def test_the_control_asked_for_worn_otherwise_stands_beside_its_result(tmp_path):
    """The same control, set or worn otherwise and weighed as no alternative, is no other control."""
    said = "With the same control otherwise, as force-sensing headrest, he completed 1 of 7 attempts (3% to 51%)."
    head = re.compile(r'^device = "head_control_by_force"\n', re.MULTILINE)

    def as_one(text):
        return head.sub('device = "head_array_proximity"\n', text)

    assert said not in letter(tmp_path / "weighed", as_one)
    unweighed = re.compile(r'^method = "force_headrest"\n', re.MULTILINE)
    assert said in letter(tmp_path / "unweighed", lambda text: unweighed.sub("", as_one(text)))


def test_what_releases_were_timed_from_is_asked_only_where_one_was_timed(tmp_path):
    def bare(text: str) -> str:
        return _written([row | {"release_s": ""} for row in _read(text)]) + "\n"

    def no_start(text: str) -> str:
        return text.replace('release_from = "cue"\n', "")

    made = rebuilt(tmp_path, ILMARI, ("letter",), trial_csv=bare, case_toml=no_start)
    words = " ".join(made["letter"].plain().split())
    assert "Release time runs" not in words and "timed, and the release leaves" not in words
