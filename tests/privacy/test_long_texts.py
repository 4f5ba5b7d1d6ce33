"""The work on one free text goes with its length, also where one run of it is as long as the text."""

from __future__ import annotations

import time
from collections import defaultdict
from datetime import date, timedelta

import pytest

from docgen.case.nobody.names import Names
from docgen.case.nobody.text import FreeText

SHORT = 1000
LONG = 4 * SHORT  # what a text of a case may hold; work that went with the square would be 16 times as much
UNITS = ["1-", "1.", "1/", "1,", "1", "a", "a-", "a.", "A-", "A.", "A. "]


def seconds(text: str) -> float:
    """Processor time that all of the search takes."""
    names = Names((), (), (text,), lambda kind: kind)
    free = FreeText(names, (), timedelta(weeks=5), date(2026, 3, 1), defaultdict(lambda: "x"))
    begun = time.process_time()
    for _word in free.doubtful(text):
        pass
    return time.process_time() - begun


@pytest.mark.parametrize("unit", UNITS)
def test_four_times_the_text_is_about_four_times_the_work(unit: str) -> None:
    """Once, and up to twice more where something else on the machine made the long one late."""
    taken = ([seconds((unit * size)[:size]) for size in (SHORT, LONG)] for _ in range(3))
    assert any(long < 9 * short + 0.05 for short, long in taken)
