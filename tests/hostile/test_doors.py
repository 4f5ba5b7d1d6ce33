"""Seeded hostile input at every door, as the fuzzing script feeds it: refused in a sentence with its place, or
valid."""

from __future__ import annotations

from random import Random

import pytest
from doors import BUILT, DOORS, INSTEAD, REFUSED, VALID, make

N_INPUTS = 16  # tests/bench/fuzz.py feeds as many as one likes


@pytest.fixture
def home(tmp_path):
    return make(tmp_path.resolve() / "home")


@pytest.mark.parametrize("name", DOORS)
def test_hostile_input_is_refused_with_its_place_or_is_valid(name, home):
    came = [
        DOORS[name].tried(home, DOORS[name].hostile(Random(f"suite {name} {at}")), at % 16 == 0)
        for at in range(N_INPUTS)
    ]
    assert set(came) <= {REFUSED, VALID}
    assert came.count(REFUSED) > N_INPUTS // 8


@pytest.mark.parametrize("name", DOORS)
def test_the_files_the_changes_start_from_are_valid(name, home):
    door = DOORS[name]
    assert door.tried(home, door.seeds[0], 2) == BUILT


@pytest.mark.parametrize("kind", INSTEAD)
@pytest.mark.parametrize("name", DOORS)
def test_what_is_no_plain_file_in_the_folder_is_refused(name, kind, tmp_path):
    home, door = make(tmp_path.resolve() / "home"), DOORS[name]
    path, there = door.place(home, door.seeds[0]), tmp_path.resolve() / "elsewhere"
    path.unlink(missing_ok=True)
    there.write_bytes(door.seeds[0])
    INSTEAD[kind](path, there)
    # a payer, a feature and a wording are named by their user, and may lie behind a link; training may not have begun
    may = {
        "a link out of the folder": (
            "payer",
            "feature",
            "template overlay",
            "words overlay",
            "letterhead.toml",
            "letterhead.docx",
        ),
        "nothing": ("totals.csv", "sessions.csv", "letterhead.docx"),
    }
    assert door.tried(home, door.seeds[0], 0, path) == (VALID if name in may.get(kind, ()) else REFUSED)
