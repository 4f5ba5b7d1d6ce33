"""The line at the foot of a terminal."""

from __future__ import annotations

import io
import time

import pytest
from gathered import of_each

from docgen.console.progress import Progress, progress_line, waited_for, waiting


class _Terminal(io.StringIO):
    def isatty(self):
        return True


@of_each(
    "n_done, n, n_worked, spent_s, line",
    [
        (0, 8, 0, 0.0, "[........................] 0 of 8"),
        (2, 8, 2, 3.0, "[######..................] 2 of 8, about 9 s left"),
        (1000, 4000, 1000, 800.0, "[######..................] 1,000 of 4,000, about 40 min left"),
        (6, 8, 2, 3.0, "[##################......] 6 of 8, about 3 s left"),
        (100, 10_000, 100, 100.0, "[........................] 100 of 10,000, about 2 h 45 min left"),
        (8, 8, 8, 3.0, "[########################] 8 of 8"),
        (4, 8, 0, 0.1, "[############............] 4 of 8"),
    ],
    ids=["nothing yet", "a quarter", "minutes", "most were there already", "hours", "all", "all were there already"],
)
def test_the_line_tells_how_many_are_done_and_how_long_the_rest_takes(n_done, n, n_worked, spent_s, line):
    assert progress_line(n_done, n, n_worked, spent_s) == line


def test_only_a_terminal_with_more_than_one_thing_to_do_shows_it_and_it_is_cleared_away():
    terminal, times = _Terminal(), iter([0.0, 2.0, 4.0])
    progress = Progress(4, terminal, lambda: next(times))
    progress.show(1)
    progress.clear()
    assert terminal.getvalue() == "\r\x1b[K[######..................] 1 of 4, about 6 s left\r\x1b[K"
    for n, stream in ((4, io.StringIO()), (1, _Terminal())):
        quiet = Progress(n, stream, lambda: 0.0)
        quiet.show(1)
        quiet.clear()
        assert stream.getvalue() == ""


def test_a_single_case_that_takes_long_is_seen_to_be_worked_on():
    stream = _Terminal()
    with waiting(stream, 0.02, 0.02):
        time.sleep(0.2)
    assert stream.getvalue().count("at work, 0 s") > 1 and stream.getvalue().endswith("\r\x1b[K")


@pytest.mark.parametrize("is_one, patience_s", [(False, 0.0), (True, 60.0)])
def test_nothing_is_shown_where_nobody_looks_or_of_what_is_done_soon(is_one, patience_s):
    stream = _Terminal() if is_one else io.StringIO()
    with waiting(stream, patience_s):
        pass
    assert stream.getvalue() == ""


def test_what_is_waited_for_comes_as_it_is():
    assert [*waited_for(range(3), _Terminal())] == [0, 1, 2]
