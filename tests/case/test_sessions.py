"""sessions.csv and the keys of training and denial: read, or told with file and line."""

from __future__ import annotations

from datetime import date, time
from types import SimpleNamespace

import pytest
from gathered import of_each
from msgspec.structs import replace

from docgen.case.asked import Configuration
from docgen.case.privacy import Privacy
from docgen.case.read import frozen, read_case
from docgen.case.record import COLUMNS as OF_TRIAL
from docgen.case.schema import schema
from docgen.case.session import COLUMNS, HELP, SESSIONS, SessionRow, help_rung
from docgen.case.stage import STAGES, TASKS, stage_of_space, tasks_of
from docgen.errors import UserError

HEAD = "date,stage,task,success,contacts,person_contacts,minutes,skin\n"


def problems(folder):
    with pytest.raises(UserError) as failure:
        read_case(folder)
    return [str(problem) for problem in failure.value.problems]


def test_each_column_is_a_field_of_a_row_and_shared_columns_are_the_trials_own():
    names = [column.name for column in COLUMNS]
    assert sorted(names) == sorted(name for name in SessionRow.__struct_fields__ if name != "line")
    of_trial = {column.name: column for column in OF_TRIAL}
    shared = [column for column in COLUMNS if column.name in of_trial]
    own = [replace(column, privacy=Privacy.TRIAL) == of_trial[column.name] for column in shared]
    assert sum(own) > 12
    assert {column.privacy for column in shared} == {Privacy.TRAINING}
    assert SESSIONS.required == ("date", "stage", "task", "success")
    assert list(schema()["$defs"]["SessionRow"]["properties"]) == names


def test_rows_are_read_with_tasks_of_the_stages_of_the_trial_and_places_of_the_case(case_folder):
    folder = case_folder()
    toml = (folder / "case.toml").read_text() + '\n[[spaces]]\nid = "hall"\nname = "hall"\nkind = "corridor"\n'
    (folder / "case.toml").write_text(toml)
    (folder / "sessions.csv").write_text(
        HEAD + "2026-08-10,each_way,left,1,0,0,12,0\n2026-08-10,tight,hall,no,1,0,,\n2026-08-11,each_way,door,yes,,,,\n"
    )
    rows = read_case(folder).case.sessions
    assert [(row.stage, row.task, row.success) for row in rows] == [
        (3, "left", True),
        (5, "hall", False),
        (3, "door", True),
    ]
    assert (rows[0].minutes, rows[0].skin, rows[2].contacts, rows[1].line) == (12, False, None, 3)


def test_a_case_without_the_file_has_no_sessions(case_folder):
    assert read_case(case_folder()).case.sessions == ()


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("2026-08-10,9,left,1,,,,", "stage is '9', but it must be a step of training: ready, touch"),
        ("2026-08-10,3,left,1,,,,", "stage is '3', but stage 3 is now 'each_way'"),
        ("2026-08-10,each_way,lefft,1,,,,", "unknown task 'lefft'. Did you mean 'left'?"),
        ("2026-08-10,,left,1,,,,", "stage is blank"),
        ("2026-08-10,each_way,left,1,0,2,,", "2 collisions with a person, but 0 collisions"),
        (
            "2026-08-10,each_way,left,1,,,12,\n2026-08-10,each_way,left,1,,,13,\n2026-08-10,each_way,left,1,,,,",
            "minutes stands on 2 of the 3 rows of the session of 2026-08-10",
        ),
    ],
)
def test_a_wrong_row_is_told_with_its_line(case_folder, row, told):
    folder = case_folder()
    (folder / "sessions.csv").write_text(HEAD + row + "\n")
    found = problems(folder)
    assert any(told in one and f"{folder / 'sessions.csv'}:" in one for one in found), found


def test_an_unknown_column_and_a_link_out_of_the_folder_are_told(case_folder, tmp_path):
    folder = case_folder()
    (folder / "sessions.csv").write_text("date,stage,task,success,happy\n")
    assert any("unknown column 'happy'" in one for one in problems(folder))
    (folder / "sessions.csv").unlink()
    (tmp_path / "else.csv").write_text(HEAD)
    (folder / "sessions.csv").symlink_to(tmp_path / "else.csv")
    assert any("leads out of the case folder" in one for one in problems(folder))


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ('[training]\nzone = "Middle/Earth"\n', "is not the name of a time zone"),
        ('[[training.week]]\nday = "monday"\nfree = true\n', "needs starts_at and ends_at"),
        ('[[training.week]]\nday = "monday"\nfree = false\nstarts_at = 10:00:00\n', "needs both starts_at and ends_at"),
        (
            '[[training.week]]\nday = "monday"\nfree = true\nstarts_at = 18:00:00\nends_at = 17:00:00\n',
            "must start before it ends",
        ),
        (
            (
                '[[training.week]]\nday = "monday"\nfree = true\nstarts_at = 10:00:00\nends_at = 11:00:00\nwho = '
                '"nobody"\n'
            ),
            "'nobody' is not an id in [[people]]",
        ),
        ('[denial]\nby = "nobody"\n', "'nobody' is not an id in [[people]]"),
        ('[[denial.reasons]]\nquestions = ["stops_on_request"]\n', "says is missing"),
    ],
)
def test_a_wrong_key_of_training_or_denial_is_told(case_folder, keys, told):
    folder = case_folder()
    (folder / "case.toml").write_text((folder / "case.toml").read_text() + "\n" + keys)
    assert any(told in one for one in problems(folder)), problems(folder)


def test_hours_are_read_as_local_times(case_folder):
    folder = case_folder()
    week = (
        '\n[training]\nzone = "America/Chicago"\ntaken_on = [2026-11-26]\n[[training.week]]\nday = "monday"\nfree '
        "= true\nstarts_at = 18:30:00\nends_at = 20:00:00\n"
    )
    (folder / "case.toml").write_text((folder / "case.toml").read_text() + week)
    training = read_case(folder).case.training
    assert training.week[0].starts_at == time(18, 30) and training.taken_on == (date(2026, 11, 26),)


@pytest.mark.parametrize(
    "keys, backs",
    [
        ({}, None),
        ({"commands": [{"does": does, "input": "x"} for does in ("forward", "left", "right")]}, False),
        ({"commands": [{"does": does, "input": "x"} for does in ("forward_left", "forward_right")]}, False),
        ({"commands": [{"does": "stop", "input": "x"}]}, None),
        ({"commands": [{"does": "stop", "input": "x"}], "without_reverse": "It turns."}, False),
        ({"commands": [{"does": "stop", "input": "x"}], "has_reverse": False}, False),
        ({"commands": [{"does": "stop", "input": "x"}], "has_reverse": True}, None),
        ({"commands": [{"does": "forward", "input": "x"}, {"does": "back", "input": "y"}]}, True),
        (
            {
                "commands": [{"does": "forward", "input": "x"}],
                "features": [{"id": "reverse_access.direction_change", "because": ["growth"]}],
            },
            True,
        ),
        (
            {
                "commands": [{"does": "forward", "input": "x"}],
                "profiles": [{"id": "in", "name": "in", "reverse_m_s": 0.2}],
            },
            None,
        ),
    ],
    ids=[
        "nothing recorded",
        "no way back",
        "two at once",
        "a stop alone",
        "how it does without",
        "nobody can drive it backward",
        "somebody can drive it backward",
        "a command",
        "a feature",
        "a speed but no command",
    ],
)
def test_whether_a_control_backs_up_is_told_only_where_it_is_recorded(keys, backs):
    assert Configuration.model_validate(frozen(keys)).backs is backs


@pytest.mark.parametrize(
    "keys",
    [
        {"latched": True},
        {"profiles": [{"id": "in", "name": "in", "latched": True}]},
        {"features": [{"id": "latched_drive", "because": ["growth"]}]},
    ],
    ids=["the control", "one profile", "the feature"],
)
def test_a_latch_counts_wherever_it_is_recorded(keys):
    assert Configuration.model_validate(frozen(keys)).is_latched and not Configuration().is_latched


def test_steps_have_an_order_and_places_of_the_case_are_their_tasks():
    assert [stage.number for stage in STAGES] == list(range(9)) and len(set(TASKS)) == len(TASKS)

    class Space:
        def __init__(self, one, kind, at_home):
            self.id, self.kind, self.at_home = one, kind, at_home

    def case(spaces, backs=None):
        return SimpleNamespace(spaces=spaces, configuration=SimpleNamespace(backs=backs))

    spaces = [Space("bath", "doorway", True), Space("ramp", "ramp", True), Space("yard", "stopping", False)]
    assert [stage_of_space(space) for space in spaces] == [5, 7, 7]
    assert tasks_of(STAGES[5], case(spaces)) == ("bath",) and tasks_of(STAGES[7], case(spaces)) == ("ramp", "yard")
    assert tasks_of(STAGES[5], case([])) == ("own_door",)
    assert tasks_of(STAGES[3], case(spaces, backs=True)) == ("left", "right", "back")
    for backs in (False, None):  # a way back that nobody recorded is not practiced
        assert tasks_of(STAGES[3], case(spaces, backs=backs)) == ("left", "right")


@of_each("number", range(len(HELP)))
def test_a_prompt_level_is_read_by_its_letters(number):
    assert help_rung(HELP[number]) == help_rung(HELP[number].lower()) == number
    assert (help_rung("Alone"), help_rung("helped")) == (0, 1)  # the marks of the lesson card


@of_each(("number", "letters"), [*enumerate(("I", "G", "IV", "DV", "D", "PP", "FP", "T"))])
def test_an_old_number_of_a_prompt_level_is_told_its_letters(number, letters):
    with pytest.raises(ValueError, match=f"^help {number} is now '{letters}'$"):
        help_rung(str(number))


@pytest.mark.parametrize("wrong", ["", "8", "X", "-1", "IVDV"])
def test_what_is_no_prompt_level_is_told_all_of_them(wrong):
    with pytest.raises(ValueError, match="it must be a prompt level: I, H, G, IV, DV, D, PP, FP, T"):
        help_rung(wrong)
