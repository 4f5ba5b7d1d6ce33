"""The training plan says what the case holds: its own way to stop, the warnings of every site, who is near, what is not
known."""

from __future__ import annotations

import re
import shutil
from datetime import date

import pytest
from gathered import of_each
from in_full import file_in_full
from msgspec.structs import replace
from support import ASSESSED, DEMO_FOLDERS, assess

from docgen.case.asked import ChosenFeature
from docgen.case.need import Limit
from docgen.case.session import SessionRow
from docgen.case.supervision import Supervision
from docgen.case.training import SessionTotal
from docgen.documents.driving_errors import errors_of
from docgen.documents.lesson_cards import lesson_tasks
from docgen.documents.phrase import missing
from docgen.documents.stages import step_aim
from docgen.documents.training import training_tables
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

WORDS = language_words()
FOLDERS = {folder.name: folder for folder in DEMO_FOLDERS}
SAOIRSE, MARISOL, ILMARI = "saoirse-villalobos-ng", "marisol-quenneville-tran", "ilmari-okonjo-vale"
BOHDAN = "bohdan-lacroix-mbeki"


def with_features(*asked):
    case = ASSESSED[ILMARI].file.case
    chosen = tuple(ChosenFeature(id=one, because=("head_three_way",)) for one in asked)
    return case.model_copy(update={"configuration": case.configuration.model_copy(update={"features": chosen})})


def made(tmp_path, name, document, **changes):
    """One document of a demo whose files were changed, as text: file -> function of its text, None takes the file
    away."""
    target = shutil.copytree(FOLDERS[name], tmp_path / name)
    for file, change in changes.items():
        path = target / file.replace("_", ".")
        if change is None:
            path.unlink()
            continue
        text = file_in_full(path)
        changed = change(text)
        assert changed != text
        path.write_text(changed, encoding="utf-8")
    return trees(assess(target), [document])[document].plain()


# ---- what the control lacks ---


def test_a_plan_speaks_of_no_rest_and_no_reverse_that_the_control_lacks():
    case = with_features("head_array")
    commands = tuple(command for command in case.configuration.commands if command.does != "rest")
    case = case.model_copy(update={"configuration": case.configuration.model_copy(update={"commands": commands})})
    assert "rest" not in errors_of(case, WORDS)["unintended_often"]["coach"].split("Find")[0]
    assert "in rest" in errors_of(with_features("head_array", "standby"), WORDS)["unintended_often"]["coach"]
    assert "rest" not in step_aim(0, case, WORDS) and "in rest" in step_aim(0, with_features("standby"), WORDS)
    assert "rest" not in step_aim(6, case, WORDS) and "rest and wake" in step_aim(6, with_features("standby"), WORDS)
    assert case.configuration.backs is False and "reverse" not in step_aim(3, case, WORDS)
    assert "reverse" in step_aim(3, ASSESSED[MARISOL].file.case, WORDS)
    nothing = {"commands": (), "without_reverse": None, "has_reverse": None}
    silent = case.model_copy(update={"configuration": case.configuration.model_copy(update=nothing)})
    assert silent.configuration.backs is None and "reverse" not in step_aim(3, silent, WORDS)


# ---- errors ----------------------------------------------------------------------------------------


def test_a_control_at_mouth_and_head_keeps_the_warnings_of_both():
    said = errors_of(with_features("two_site_commands.breath_and_head"), WORDS)
    assert "a head that turns to look can drive" in said["contacts_often"]["coach"]
    assert "Hair, a hat" in said["unintended_often"]["look"] and "water in the tube" in said["unintended_often"]["look"]
    assert "breath out" not in said["release_late"]["coach"] and "Mouthpiece out" in said["unintended_often"]["coach"]
    assert said["missed_often"]["name"] == WORDS["errors"]["missed_often"]["name"]  # a pad is no puff


@pytest.mark.parametrize(
    "asked, words",
    [
        ("chin_site", "a chin that moves to look can drive"),
        ("pneumatic_four_command", "can lose the mouthpiece"),
        ("head_array", "a head that turns to look can drive"),
        ("foot_site", "Look to that side, then drive"),
    ],
)
def test_looking_before_a_place_with_bumps_is_told_for_each_site(asked, words):
    assert words in errors_of(with_features(asked), WORDS)["contacts_often"]["coach"]


def test_stops_are_practiced_by_the_drivers_own_way_to_stop(tmp_path):
    says = "takes the lips off the mouthpiece"
    text = made(
        tmp_path,
        MARISOL,
        "plan",
        case_toml=lambda t: re.sub(r'(\[configuration.stop\]\ndriver = )"[^"]*"', rf'\1"{says}"', t),
    )
    late = text.partition("Say nothing about breath")[2].partition("In the trial")[0]
    assert f"To stop, Marisol {says}." in late and "sip" not in late


def test_errors_stand_under_where_they_were_seen(tmp_path):
    told = made(tmp_path / "both", SAOIRSE, "plan").partition("When It Does Not Go Well")[2]
    assert "Seen in the sessions. Stop the chair first." in told and "Seen in the trial" not in told
    # lessons without a stage to start from are lessons all the same
    told = made(tmp_path / "no_stage", SAOIRSE, "plan", case_toml=lambda t: t.replace('\nstage = "corners"\n', "\n"))
    told = told.partition("When It Does Not Go Well")[2]
    assert "Seen in the sessions." in told and "Seen in the trial" not in told and "In all sessions: bumps" in told


def test_what_nobody_saw_is_not_told_as_seen(tmp_path):
    told = made(tmp_path, ILMARI, "plan", trial_csv=lambda t: t.split("\n")[0] + "\n").partition(
        "When It Does Not Go Well"
    )[2]
    expected = "To be expected from what was found, or with this control. Stop the chair first here too."
    assert "Seen in" not in told and expected in told
    assert "Common with this control." in told


# ---- profiles, who is near, letters ----------------------------------------------------------------


def stage_tables(case, stage=4):
    found = training_tables(
        case.model_copy(update={"training": case.training.model_copy(update={"stage": stage})}),
        ASSESSED[SAOIRSE].evidence,
        WORDS,
    )
    return found["stages"][stage]


def test_the_slowest_profile_is_never_guessed(tmp_path):
    case = ASSESSED[SAOIRSE].file.case
    assert stage_tables(case)["profiles"] == ("training",) and set(stage_tables(case)["task_profile"]) == {"training"}
    profiles = tuple(
        one.model_copy(update={"speed_m_s": None}) if one.id == "training" else one
        for one in case.configuration.profiles
    )
    unknown = case.model_copy(update={"configuration": case.configuration.model_copy(update={"profiles": profiles})})
    assert stage_tables(unknown)["profiles"] == ()
    gap = missing(WORDS)("configuration.profiles", "which setting is the slowest")
    assert {one.__html__() for one in stage_tables(unknown)["task_profile"]} == {gap.__html__()}
    # a place whose profile is recorded keeps its name
    assert set(stage_tables(unknown, 5)["task_profile"]) == set(stage_tables(case, 5)["task_profile"])


NEAR = WORDS["near"]


@of_each(
    "places, told",
    [
        ([("arms_length", "her aide", None)], f"{NEAR['arms_length']}: her aide"),
        ([("in_sight", "her aide", None)], NEAR["arms_length"]),  # the stage asks for more than the aide was requested
        (
            [("hands_on_stop", "her aide", None), ("arms_length", "her sister", None)],
            f"{NEAR['hands_on_stop']}: her aide",
        ),
        ([("hands_on_stop", None, None), ("in_sight", "her sister", None)], NEAR["hands_on_stop"]),
        (
            [("arms_length", "her aide", None), ("arms_length", "her sister", None)],
            f"{NEAR['arms_length']}: her aide or her sister",
        ),
        ([("alone", "by phone", "The chair is off.")], f"{NEAR['arms_length']}. For now, place 0: The chair is off."),
        (
            [("arms_length", "her aide", None), ("on_call", "by phone", "It rests; nobody drives.")],
            f"{NEAR['arms_length']}: her aide. For now, place 1: It rests; nobody drives.",
        ),
    ],
)
def test_who_is_near_is_the_person_of_the_place_that_asks_for_it(places, told):
    supervision = tuple(
        Supervision(place=f"place {at}", level=level, by=by, for_now=for_now, covers=("corner",))
        for at, (level, by, for_now) in enumerate(places)
    )
    # her stops wait for the therapist; before any lesson none did
    case = ASSESSED[SAOIRSE].file.case.with_sessions(())
    found = stage_tables(case.model_copy(update={"supervision": supervision}))
    assert found["task_near"][found["counted"].index("drive around a corner")] == told
    assert found["near"] == told.partition(": ")[0].partition(". ")[0]  # and the stage says no less than its tasks


def test_a_card_has_two_tasks_however_many_there_are():
    case = ASSESSED[SAOIRSE].file.case
    space = next(one for one in case.spaces if one.kind == "doorway" and one.at_home)
    spaces = tuple(space.model_copy(update={"id": f"door_{n}", "name": f"door {n}"}) for n in range(5))
    training = case.training.model_copy(update={"stage": 5})
    tasks = [*lesson_tasks(case.model_copy(update={"spaces": spaces, "training": training}).with_sessions(()), WORDS)]
    assert [(task["letter"], task["name"]) for task in tasks] == [
        (letter, f"door {n} (in; out backward: clear of the door, hand at stop)") for n, letter in enumerate("ABABA")
    ]


# ---- what is not recorded, and what is -------------------------------------------------------------


def test_how_pain_shows_is_told_of_anyone_for_whom_it_is_recorded(tmp_path):
    told = made(
        tmp_path,
        MARISOL,
        "plan",
        case_toml=lambda t: t.replace("\nstop_word = ", '\npain_shows = "goes quiet"\nstop_word = '),
    )
    assert "Go by what you see as well: she goes quiet" in told


def test_lessons_a_week_that_are_not_recorded_are_one_gap(tmp_path):
    told = made(tmp_path, ILMARI, "plan", case_toml=lambda t: t.replace("sessions_a_week = 4\n", ""))
    line = told.partition("How often: ")[2].partition("How long")[0]
    assert (
        line.count("not recorded: ") == 1 == line.count("not recorded: training sessions a week")
        and "lessons a week" not in line
    )


@pytest.mark.parametrize(
    "change, says, never",
    [
        (
            lambda t: t.replace("free = true", "free = false"),
            "not recorded: free hours of the trainer's week",
            "no room",
        ),
        (
            lambda t: t.replace("minutes = 20\nplace", "minutes = 400\nplace"),
            "the week has no room for a session as long as this",
            "free hours of the trainer's week",
        ),
    ],
    ids=["no free hours", "no room"],
)
def test_a_week_without_room_is_no_gap(tmp_path, change, says, never):
    told = made(tmp_path, ILMARI, "plan", case_toml=change).partition("How often: ")[2].partition("How long")[0]
    assert says in told and never not in told


def test_a_stage_that_is_not_recorded_is_one_gap(tmp_path):
    told = made(tmp_path, ILMARI, "plan", case_toml=lambda t: t.replace('\nstage = "each_way"\n', "\n")).partition(
        "Before you begin"
    )[0]
    assert told.count("not recorded: step to train at") == 1


def test_a_check_is_told_with_its_last_day():
    case = ASSESSED[SAOIRSE].file.case
    limits = tuple(Limit(kind="vision", found=False, on=on) for on in (date(2026, 3, 3), date(2026, 5, 4), None))
    found = training_tables(case.model_copy(update={"limits": limits}), ASSESSED[SAOIRSE].evidence, WORDS)["checked"]
    assert [one["on"] for one in found] == [date(2026, 5, 4), None, None]


def test_a_value_that_a_change_left_unsure_is_a_gap_beside_the_change(tmp_path):
    says = "speed of the training profile set back 0.3 to 0.2 m/s"
    was_said = "turn speed of the training profile now at most 16 degrees/s (was 20), by the supplier"
    before = f'"{was_said}",training,turn_speed,16'
    unsure = f"{says},training,forward_speed,"
    told = made(tmp_path, SAOIRSE, "programming", sessions_csv=lambda t: t.replace(before, unsure))
    assert (
        "not recorded: speed of the training profile now, see the change" in told and f"July 31, 2026: {says}." in told
    )


def test_the_least_room_is_told_only_where_no_measured_room_stays_unknown(tmp_path):
    """Without the length of the chair, the room in a doorway measured from the door may be the least."""
    held = "a stop must end inside it."
    assert f"{held} The least measured is in the bathroom door" in made(tmp_path / "whole", BOHDAN, "plan")
    less = made(tmp_path / "less", BOHDAN, "plan", case_toml=lambda text: re.sub(r"(?m)^length_mm = 880\n", "", text))
    assert held in less and "The least measured is in" not in less


def test_sums_of_sessions_are_told_in_order_with_what_is_not_recorded(tmp_path):
    gravel, start = (
        f"[[training.totals]]\non = {on}\n{keys}\n"
        for on, keys in (
            ("2026-10-08", 'task = "gravel"\ntries = 8\ndone = 4\nminutes = 35\nplace = "drive"'),
            ("2026-09-24", 'task = "start and stop"\ntries = 10\nby = "his wife"'),
        )
    )
    told = made(tmp_path, ILMARI, "plan", case_toml=lambda t: f"{t}\n{gravel}\n{start}")
    table = told.partition("Verbal and physical prompts")[2].partition("Prompt Levels")[0]
    assert table.index("start and stop") < table.index("October 8, 2026, drivegravel4 of 835")
    assert "Not recorded: successful attempts of start and stop of 10" in table and "With his wife." in table


def test_more_attempts_done_than_tried_are_refused():
    with pytest.raises(ValueError, match="has 9 done of 8 tries"):
        SessionTotal(on=date(2026, 9, 24), task="gravel", tries=8, done=9)


def sessions_of(*days, changed=None):
    """Saoirse's case with days of five tries of one task, A for alone and 0 for not."""
    case = ASSESSED[SAOIRSE].file.case
    rows = [
        SessionRow(2 + 5 * day + at, date(2026, 10, 1 + day), 4, "corner", mark == "A", help=0)
        for day, marks in enumerate(days)
        for at, mark in enumerate(marks)
    ]
    if changed is not None:
        rows[changed] = replace(rows[changed], changed="hip pad, by the therapist")
    return case.with_sessions(tuple(rows))


@pytest.mark.parametrize(
    ("days", "changed", "told"),
    [
        (("A0000", "A0000"), None, [("drive around a corner", "1, 1", "look, and change one thing")]),
        (("A0000", "A0000", "AA000"), 10, []),  # something was changed since
        (("AAAAA", "AAAAA"), None, []),
        (
            ("AAAAA", "AAAAA", "AA000"),
            None,
            [("drive around a corner", "2", "passed before, has fallen: look the same day")],
        ),
    ],
)
def test_what_is_to_be_looked_at_is_told_until_something_is_changed(days, changed, told):
    case = sessions_of(*days, changed=changed)
    tables = training_tables(case, ASSESSED[SAOIRSE].evidence, WORDS)
    assert [(row["task"], row["rows"], row["says"]) for row in tables["to_look"]] == told


def test_a_plan_says_that_help_was_not_recorded_and_counts_no_failures_alone(tmp_path):
    source = shutil.copytree(FOLDERS[SAOIRSE], tmp_path / SAOIRSE)
    file = source / "sessions.csv"
    head, *lines = file.read_text(encoding="utf-8").splitlines()
    at = head.split(",").index("help")
    bare = [",".join("" if n == at else cell for n, cell in enumerate(line.split(","))) for line in lines]
    file.write_text("\n".join([head, *bare]) + "\n", encoding="utf-8")
    words = " ".join(trees(assess(source), ["plan"])["plan"].plain().split())
    assert words.count("help not recorded") == 3 and "0 of 3" not in words
    assert "help not recorded" not in trees(ASSESSED[SAOIRSE], ["plan"])["plan"].plain()
