"""Six people as their therapists' notes have them: short to write, and read without a word of complaint."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from statistics import median

import pytest
import tomli
from test_usual_case import MOST_KEYS, MOST_LINES, WIDTH, keys_and_entries

from docgen.case.read import read_case

CASES = sorted(Path(__file__).with_name("written_up").iterdir())
SAME_FOR_ALL = 2  # that the person is invented, and the comment above the file


@cache
def text_of(case):
    return (case / "case.toml").read_text(encoding="utf-8").rstrip("\n")


def test_half_of_them_have_at_most_250_lines_and_no_line_is_longer_than_110_characters():
    lines = [text_of(case).split("\n") for case in CASES]
    assert len(lines) == 6 and max(len(line) for each in lines for line in each) <= WIDTH
    assert 150 < median(len(each) - SAME_FOR_ALL for each in lines) <= MOST_LINES


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_each_has_at_most_350_keys_and_entries_to_write_and_is_read(case):
    tables = tomli.loads(text_of(case))
    tables.get("training", {}).pop("totals", None)  # copied from what docgen rows makes of the log
    assert 200 < keys_and_entries(tables) <= MOST_KEYS
    read = read_case(case).case
    assert read.findings and read.alternatives and read.configuration.items and read.tried
