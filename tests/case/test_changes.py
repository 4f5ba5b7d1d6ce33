"""Keys of a changed setting, in sessions.csv and in [[follow_up.changed]]: read, or refused with file and line."""

from __future__ import annotations

from pathlib import Path

import pytest

from docgen.case.change import VALUE_OF
from docgen.case.profile import Profile
from docgen.case.read import read_case
from docgen.case.starter import starter
from docgen.errors import UserError
from docgen.fit.settings import drive_settings
from docgen.terms import renamed

PROFILE = """
[[configuration.profiles]]
id = "training"
name = "training"
turn_deg_s = 20
"""
HEAD = "date,stage,task,success,changed,changed_profile,changed_setting,changed_to\n"
OLD, NEW = next(iter(renamed("settings").items()))


def problems(folder: Path) -> list[str]:
    with pytest.raises(UserError) as failure:
        read_case(folder)
    return [str(problem) for problem in failure.value.problems]


def with_row(folder: Path, cells: str) -> Path:
    """The case with a profile and one lesson; `cells` are those of the change."""
    toml = folder / "case.toml"
    toml.write_text(toml.read_text() + PROFILE)
    (folder / "sessions.csv").write_text(f"{HEAD}2026-08-10,each_way,left,1,{cells}\n")
    return folder


def with_visit(folder: Path, keys: str, done_on: str = "done_on = 2026-08-17") -> Path:
    """The case with a profile and a visit that changed a setting."""
    toml = folder / "case.toml"
    visit = f'[[follow_up]]\nafter_weeks = 6\nwhat = "settings"\n{done_on}\n[[follow_up.changed]]\n{keys}\n'
    toml.write_text(toml.read_text() + PROFILE + visit)
    return folder


@pytest.mark.parametrize(
    "cells, read",
    [
        ("slower,training,turn_speed,16", ("slower", "training", "turn_speed", 16)),
        ("slower,training,turn_speed,", ("slower", "training", "turn_speed", None)),
        ("down one step,training,turn_acceleration,", ("down one step", "training", "turn_acceleration", None)),
        ("training profile slower,,,", ("training profile slower", None, None, None)),
        (",,,", (None, None, None, None)),
    ],
)
def test_a_change_in_a_lesson_is_read(case_folder, cells, read):
    row = read_case(with_row(case_folder(), cells)).case.sessions[0]
    assert (row.changed, row.changed_profile, row.changed_setting, row.changed_to) == read


def test_a_change_at_a_visit_is_read(case_folder):
    keys = 'profile = "training"\nsetting = "turn_speed"\nto = 16\nsays = "20 to 16"'
    (change,) = read_case(with_visit(case_folder(), keys)).case.follow_up[0].changed
    assert (change.profile, change.setting, change.to, change.says) == ("training", "turn_speed", 16, "20 to 16")


WRONG = [
    (
        "profile",
        "trainin",
        "turn_speed",
        "",
        "'trainin' is not an id in [[configuration.profiles]]. Did you mean 'training'?",
    ),
    ("setting", "training", "turn_sped", "", "unknown setting 'turn_sped'. Did you mean 'turn_speed'?"),
    ("setting", "training", OLD, "", f"'{OLD}' is now '{NEW}'"),
    ("to", "training", "turn_speed", "400", "to of turn_speed is 400: it should be less than 360"),
    ("to", "training", "turn_speed", "0", "to of turn_speed is 0: it should be greater than or equal to 0.1"),
    ("to", "training", "forward_speed", "5", "to of forward_speed is 5: it should be less than 5"),
    ("to", "training", "latch_timeout", "600", "to of latch_timeout is 600: it should be less than 600"),
    ("to", "training", "turn_acceleration", "20", "to is 20, but no profile holds a value of turn_acceleration"),
]


@pytest.mark.parametrize("wrong, profile, setting, to, told", WRONG)
def test_a_wrong_change_in_a_lesson_is_told_with_its_line(case_folder, wrong, profile, setting, to, told):
    folder = with_row(case_folder(), f"slower,{profile},{setting},{to}")
    (problem,) = problems(folder)
    told = f"changed_{told}" if wrong == "to" else told
    assert problem.startswith(f"{folder / 'sessions.csv'}:2: ") and told in problem


@pytest.mark.parametrize("wrong, profile, setting, to, told", WRONG)
def test_a_wrong_change_at_a_visit_is_told_with_its_line(case_folder, wrong, profile, setting, to, told):
    keys = [f'says = "slower"\nprofile = "{profile}"', f'setting = "{setting}"', *([f"to = {to}"] if to else [])]
    folder = with_visit(case_folder(), "\n".join(keys))
    (problem,) = problems(folder)
    lines = (folder / "case.toml").read_text().splitlines()
    assert problem.startswith(f"{folder / 'case.toml'}:{1 + _last(lines, wrong)}: ") and told in problem


def _last(lines: list[str], name: str) -> int:
    """Index of the last line that sets a key."""
    return max(at for at, line in enumerate(lines) if line.startswith(f"{name} = "))


@pytest.mark.parametrize(
    "cells, blank",
    [
        ("slower,training,,", ["changed_setting"]),
        ("slower,,turn_speed,16", ["changed_profile"]),
        (",training,turn_speed,16", ["changed"]),
        (",,,16", ["changed", "changed_profile", "changed_setting"]),
    ],
)
def test_a_change_half_filled_in_is_told(case_folder, cells, blank):
    folder = with_row(case_folder(), cells)
    where = f"{folder / 'sessions.csv'}:2: "
    told = problems(folder)
    assert len(told) == len(blank)
    assert all(problem.startswith(f"{where}{name} is blank") for problem, name in zip(told, blank, strict=True))


@pytest.mark.parametrize("missing", ["profile", "setting", "says"])
def test_a_change_at_a_visit_needs_its_keys(case_folder, missing):
    keys = {"profile": "training", "setting": "turn_speed", "says": "slower"}
    lines = "\n".join(f'{name} = "{value}"' for name, value in keys.items() if name != missing)
    assert any(f"{missing} is missing" in problem for problem in problems(with_visit(case_folder(), lines)))


def test_a_change_at_a_visit_that_was_not_held_is_told(case_folder):
    folder = with_visit(
        case_folder(), 'profile = "training"\nsetting = "turn_speed"\nto = 16\nsays = "slower"', done_on=""
    )
    (problem,) = problems(folder)
    assert "not recorded as held" in problem and "done_on" in problem


def test_each_setting_with_a_value_is_a_setting_and_each_value_a_key_of_a_profile():
    assert set(VALUE_OF) <= set(drive_settings())
    assert set(VALUE_OF.values()) <= set(Profile.model_fields)


def test_a_new_case_offers_the_keys():
    told = starter("robin-example")
    table = told[told.index("[[follow_up.NAME.changed]]") :].split("\n\n")[0]
    assert all(f"# {name} =" in table for name in ("profile", "setting", "to", "says"))
