"""The programming notes beside the setup record: one distance for one stop, and what of a change is not known."""

from __future__ import annotations

import re
from datetime import date

import pytest
from msgspec.structs import replace
from support import ASSESSED, DEMO_FOLDERS
from test_asked_of_a_chair import configured, page

from docgen.case.model import Case
from docgen.figures import room_plans
from docgen.fit.settings import moved
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

STEP = "turn acceleration down one step, by the supplier"


def _words(name: str, document: str) -> str:
    return trees(ASSESSED[name], [document])[document].plain().replace("\xa0", " ")


def _plans(name: str) -> list[str]:
    """What stands under the plans of the places, line by line."""
    assessed = ASSESSED[name]
    scene = room_plans.scene(assessed.file.case, assessed.evidence, language_words()["figures"] | room_plans.WORDS)
    return [text for shape in scene.shapes if (text := getattr(shape, "text", ""))]


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_a_stop_at_a_place_has_one_distance_on_cover_and_plan(source):
    """The cover tells the place with the least room; its mm stand under a plan of the notes."""
    if not (least := re.search(r"the chair stops in [^(]*\((\d+) mm\)", _words(source.name, "cover"))):
        assert source.name not in ("ilmari-okonjo-vale", "marisol-quenneville-tran")  # whose cover tells it in mm
        return
    needed = [line for line in _plans(source.name) if line.startswith("a stop needs: ")]
    assert [line for line in needed if re.search(rf"\b{least[1]} mm", line)]


def test_a_stop_measured_on_a_slope_is_told_as_measured():
    assert re.search(r"longest stop measured: [^:]*\b1200 mm", " ".join(_plans("saoirse-villalobos-ng")))


def test_a_change_without_its_value_is_a_gap_and_a_delivered_chair_goes_by_these_notes():
    kept = ASSESSED["saoirse-villalobos-ng"].file.case.sessions
    unvalued = tuple(replace(row, changed=STEP) if row.changed_setting == "turn_acceleration" else row for row in kept)
    words = page("saoirse-villalobos-ng", "programming", lambda case: case.with_sessions(unvalued))
    assert f"{STEP}. Not recorded: the new value: Tobiah" in words
    assert words.count("ot recorded: the new value") == 1  # of the turning speed the value is known
    as_it_is = _words("saoirse-villalobos-ng", "programming")  # no profile holds a turn acceleration: words tell it
    assert (
        "now at least 1.3 s to full turning speed (was 1.0 s), by the supplier." in as_it_is
        and "the new value" not in as_it_is
    )
    assert "Since delivery the values of this page count: where the two differ, what stands here holds." in words
    assert "Since delivery" not in _words("ilmari-okonjo-vale", "programming")


def test_no_time_out_is_looked_at_where_nothing_is_latched():
    assert "latched-drive time-out" not in _words("marisol-quenneville-tran", "programming")


@pytest.mark.parametrize(
    ("whole", "profile", "is_looked_at"),
    [(False, None, False), (False, True, True), (None, False, False), (None, None, True), (True, False, True)],
)
def test_a_profile_that_says_nothing_of_a_latch_is_as_the_control(whole, profile, is_looked_at):
    assessed = ASSESSED["marisol-quenneville-tran"]
    case, asked = assessed.file.case, assessed.file.case.configuration
    profiles = tuple(each.model_copy(update={"latched": profile}) for each in asked.profiles)
    changed = asked.model_copy(update={"latched": whole, "profiles": profiles})
    settings = moved(case.model_copy(update={"configuration": changed}), assessed.evidence)
    assert ("latched-drive time-out" in {change.setting.name for change in settings}) is is_looked_at


@pytest.mark.parametrize(
    ("name", "hardest"),
    [
        ("marisol-quenneville-tran", "to 1.0 (video, each of ten; 1.2 threw her)"),
        ("ilmari-okonjo-vale", "to 1.1 (video, each of ten; at 1.3 his head left the roll)"),
    ],
)
def test_harder_braking_is_looked_at_together_with_the_hardest_that_passes(name, hardest):
    row = _words(name, "programming").partition("deceleration (braking): up")[2].partition("an abrupt stop")[0]
    assert hardest in row
    assert "Never below that value, never beyond what passes" in row


@pytest.mark.parametrize(
    ("setting", "recorded", "is_time"),
    [
        ("turning acceleration: down", "1.5 s to full turning speed", True),
        ("turning deceleration: up", "0.5 s to standstill", True),
        ("time a lost input is ignored: off", "0 ms", False),
    ],
)
def test_a_setting_recorded_as_a_time_says_which_way_its_seconds_go(setting, recorded, is_time):
    row = _words("marisol-quenneville-tran", "programming").partition(setting)[2].partition(recorded)[2]
    assert row.startswith("; down is more seconds, up is fewer") is is_time and row


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_braking_is_never_raised_without_its_ceiling_or_a_gap_for_it(source):
    for row in _words(source.name, "programming").split("deceleration (braking): up")[1:]:
        told = row.partition("an abrupt stop")[0]
        assert (
            "Never below that value, never beyond what passes" in told or "ot recorded: the hardest that passes" in told
        )


def test_what_was_missed_before_this_step_is_not_told_as_nothing_seen():
    words = _words("saoirse-villalobos-ng", "programming")
    assert "Nothing that was found" not in words
    assert 'Seen before, and not at this step: "A stop is missed", "Late release"' in words
    assert "Emeka Strand-Whitlock, 555-0112, decides" in words.partition("Seen before")[2]


def test_torque_names_no_missed_stop_as_its_ground_and_the_slowest_profile_comes_last():
    words = _words("ilmari-okonjo-vale", "programming")
    torque = words.partition("low-speed torque:")[2].partition("the chair may lunge")[0]
    assert "may not start on carpet" in torque and "a stop was missed" not in torque and "Seen" not in torque
    assert 'maximum forward speed: down, first in "indoor"; the slowest profile last' in words


def test_notes_of_a_delivered_chair_tell_what_is_known_of_its_stop_tests():
    name = "saoirse-villalobos-ng"
    told = (
        "passed with each part as fitted, July 6, 2026; every stop on the level tried again and passed, August 24, 2026"
    )
    assert f"Stop tests of the delivered chair: {told}" in _words(name, "programming")

    between = " (no test between the change of July 31, 2026 and that day is recorded: ask Tobiah Renwick-Suarez)"
    assert f"{told}{between}" in _words(name, "programming")
    passed = configured(stop=lambda stop: stop.model_copy(update={"passed_on": date(2026, 7, 31)}))
    assert "no test between" not in page(name, "programming", passed)

    def untested(case: Case) -> Case:
        return case.model_copy(update={"fitted": case.fitted[1:]})

    lacking = "Stop tests of the delivered chair: Not recorded: whether they were passed with each part as fitted"
    assert lacking.lower() in page(name, "programming", untested).lower()
    assert "Stop tests of the delivered chair" not in _words("ilmari-okonjo-vale", "programming")


def test_the_longest_stop_on_a_slope_is_told_with_its_day_and_from_what_it_counts():
    words = _words("saoirse-villalobos-ng", "programming")
    stop = "The longest stop down the ramp at the front door, 1200 mm (47 1/4 in), was measured on July 20, 2026"
    assert f"{stop} and counts from the word too." in words
    # 0.35 x (1.7 + 0.15) + 0.35^2 / 1.6 = 0.724 m on the level; 1.2 + 0.35 x 1.7 = 1.795 m with such a release on top
    assert "On the level one needs 730 mm (28 3/4 in): the chair brakes less on the way down." in words
    late = "one of 1.7 s at 0.35 m/s (0.78 mph) could make it 1800 mm (71 in)"
    assert f"{late}. It does not count yet: whether each switch stops the empty chair there, down and up" in words

    def short(case: Case) -> Case:
        spaces = (
            entry.model_copy(update={"clear_ahead_mm": 1700}) if entry.id == "front_ramp" else entry
            for entry in case.spaces
        )
        return case.model_copy(update={"spaces": tuple(spaces)})

    assert f"{late}, more than is free there." in page("saoirse-villalobos-ng", "programming", short)


def test_a_profile_changed_on_the_day_of_its_last_test_is_barred_in_its_row():
    row = "backing out was not tried; not before it is tested again"
    assert row in _words("saoirse-villalobos-ng", "programming")

    def later(case: Case) -> Case:
        stop = case.configuration.stop.model_copy(update={"passed_on": date(2026, 8, 25)})
        return case.model_copy(update={"configuration": case.configuration.model_copy(update={"stop": stop})})

    assert "before it is tested again" not in page("saoirse-villalobos-ng", "programming", later)


def test_a_figure_of_the_plans_says_of_which_chair_and_by_which_rule_it_is():
    corner = "needs half the length of the chair plus its width, divided by the square root of two"
    for source in DEMO_FOLDERS:
        words = _words(source.name, "programming")
        assert (corner in words) == any(line.startswith("a corner needs") for line in _plans(source.name))
    drawn = "The chair is drawn in the size of the clinic's trial chair"
    assert f"{drawn}." in _words("ilmari-okonjo-vale", "programming")
    larger = f"{drawn}; where the delivered one is larger, less is free: Tobiah"
    assert larger in _words("saoirse-villalobos-ng", "programming")


def test_a_limit_of_the_setup_record_is_told_as_a_limit():
    """A chair that was fitted slower than the limit is not raised to it."""
    words = _words("saoirse-villalobos-ng", "programming")
    assert "≤ 0.35 m/s" in words and "≤ 30 degrees/s" in words
    assert "what was fitted slower or softer stays so" in words
    assert "In the setup record: ≥ 1.5 s to full turning speed" in _words("marisol-quenneville-tran", "programming")
