"""When a task of training is learned: rows of five counted tries, looked at only when a row is full.

The first five tries of a task each day count, and of these only what the driver did alone adds to a row. The numbers of
the rule are a choice, no source; what they do to made-up learners is worked out here exactly. A stop is not judged by
it: see stops_in_a_row.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from operator import mul
from typing import Literal

from msgspec import Struct

from docgen.evidence.checked import count, number

Decision = Literal["move_on", "change", "go_on", "therapist"]

FULL, MOST_ROWS = 5, 8
TWO_TO_MOVE, THREE_TO_MOVE, THREE_ALONE_TO_MOVE = 10, 13, 14  # of two rows, of three; of three with nobody near
FEWEST, FEW = 2, 6  # of the last two rows: at most so many ask for a change
_CLOSE = 1e-12


class Course(Struct, frozen=True):
    """What the rule does to one learner: chance of moving on, and of being told to change something, at each row.

    Both hold one chance a row, from the first row on.
    """

    move_on: tuple[float, ...]
    change: tuple[float, ...]

    @property
    def p_move_on(self) -> float:
        """Chance of moving on by the last row."""
        return math.fsum(self.move_on)

    @property
    def p_change(self) -> float:
        """Chance of being told to change something by the last row."""
        return math.fsum(self.change)

    @property
    def p_neither(self) -> float:
        """Chance that the last row settles nothing, so that the therapist is called."""
        return max(0.0, 1 - self.p_move_on - self.p_change)

    @property
    def rows_to_move_on(self) -> float | None:
        """Mean number of rows of those who move on; None where nobody does."""
        return _mean_row(self.move_on)

    @property
    def rows_to_change(self) -> float | None:
        """Mean number of rows of those told to change something; None where nobody is."""
        return _mean_row(self.change)


def _mean_row(by_row: Sequence[float]) -> float | None:
    whole = math.fsum(by_row)
    return math.fsum(row * chance for row, chance in enumerate(by_row, 1)) / whole if whole > 0 else None


def decide(rows: Sequence[int], nobody_near: bool = False) -> Decision:
    """What the full rows of a count say.

    rows         tries done alone in each full row, from 0 to 5, in order; may be empty
    nobody_near  whether nobody is at arm's length at this step, which takes three rows

    Raises ValueError naming a row that no row of five can hold.

    Source: a choice, no source; looked at after each full row, so that few looks pass few drivers by chance.
    Check:  5 5 move on; 5 4 go on; 5 4 4 move on; 3 3 3 3 change; 2 3 3 3 go on, for it rises; 1 1 change; eight rows
            of 4 and 3 in turn, therapist (by hand).
    """
    for full in rows:
        count("rows", full, 0, FULL)
    last_two, last_three, two_before = sum(rows[-2:]), sum(rows[-3:]), sum(rows[-4:-2])
    if len(rows) >= 3 and last_three >= (THREE_ALONE_TO_MOVE if nobody_near else THREE_TO_MOVE):
        return "move_on"
    if len(rows) >= 2 and last_two == TWO_TO_MOVE and not nobody_near:
        return "move_on"
    if (len(rows) >= 2 and last_two <= FEWEST) or (len(rows) >= 4 and last_two <= min(FEW, two_before)):
        return "change"
    return "therapist" if len(rows) >= MOST_ROWS else "go_on"


def falls(rows: Sequence[int]) -> bool:
    """Whether the rows of a task that was passed are to be looked at the same day.

    rows  tries done alone in each full row since the pass, or since the last look, in order

    Source: a choice, no source.
    Check:  2; 3 3; 4 2 fall; 3; 3 4; 5 3 do not (by hand).
    """
    return bool(rows) and (rows[-1] <= FEWEST or (len(rows) >= 2 and sum(rows[-2:]) <= FEW))


def course(chances: Sequence[float], nobody_near: bool = False) -> Course:
    """Exact course of a learner whose chance of doing each counted try alone is known.

    chances      one a counted try, in order, each from 0 to 1; five a row, whole rows alone are looked at
    nobody_near  as in decide

    Raises ValueError naming a chance outside.

    Source: sum over all rows that are still open, row by row (no approximation); tries as independent.
    Check:  at .60: moved on .0904, changed .8809; at .90: .9874, .0096, after 2.956 rows (dynamic programming in the
            worked out apart from this program, 2026-11-28).
    """
    steps = _steps(nobody_near)
    open_counts = [1.0] + [0.0] * (len(steps) - 1)  # all are at the first, which has no row yet
    move_on, change = [], []
    for row in range(min(len(chances) // FULL, MOST_ROWS)):
        alone = _of_a_row(chances[FULL * row : FULL * (row + 1)])
        after = [0.0] * (len(steps) + 2)
        for still_open, step in zip(open_counts, steps, strict=True):
            if still_open:
                for chance, leads_to in zip(alone, step, strict=True):
                    after[leads_to] += still_open * chance
        change.append(after.pop())
        move_on.append(after.pop())
        open_counts = after
    return Course(tuple(move_on), tuple(change))


_MOVES_ON, _CHANGES = -2, -1  # places behind those of the open counts, see _steps


@cache
def _steps(nobody_near: bool) -> tuple[tuple[int, ...], ...]:
    """What the next row of each open count leads to, by the tries done alone in it: the place in this list of the count
    that is open after it, or that it moves on or changes. The first count has no row yet.

    Open counts are put together that no later look tells apart: the same last three rows.
    """
    open_counts: list[tuple[int, ...]] = [()]
    places: dict[tuple[int, ...], int] = {}
    steps = []
    for before in open_counts:  # grows as it is walked
        step = []
        for n_alone in range(FULL + 1):
            rows = (*before, n_alone)
            answer = decide(rows, nobody_near)
            if answer in ("move_on", "change"):
                step.append(_MOVES_ON if answer == "move_on" else _CHANGES)
                continue
            last_three = rows[-3:]
            if last_three not in places:
                places[last_three] = len(open_counts)
                open_counts.append(last_three)
            step.append(places[last_three])
        steps.append(tuple(step))
    return tuple(steps)


def _of_a_row(chances: Sequence[float]) -> list[float]:
    """Chance of each number of tries done alone in one row."""
    alone = [1.0]
    for chance in chances:
        p = number("chances", chance, 0, high=1)
        alone = [
            (alone[k] if k < len(alone) else 0.0) * (1 - p) + (alone[k - 1] * p if k else 0.0)
            for k in range(len(alone) + 1)
        ]
    return alone


def steady(share: float, nobody_near: bool = False) -> Course:
    """The course of a learner who does each try alone at one rate.

    share        from 0 to 1
    nobody_near  as in decide

    Source: course.
    Check:  as in course; with nobody near, at .60 moved on .0198, changed .9362; at .90 .9206, .0219 (apart).
    """
    return course([share] * (FULL * MOST_ROWS), nobody_near)


def rising(low: float, high: float, over: int) -> Course:
    """The course of a learner whose rate rises in even steps, five tries a lesson.

    low, high  shares at the first try, and at the last of the rise and from then on
    over       tries over which it rises, the first and the last among them, at least 2

    Source: course.
    Check:  from .50 to .95 over 12 tries: moved on .9963, changed .0033 (worked out apart, 2026-11-28).
    """
    count("over", over, 2)
    return course([low + (high - low) * min(1.0, at / (over - 1)) for at in range(FULL * MOST_ROWS)])


def tries_to_a_look(share: float) -> float:
    """Mean number of tries of a task that was passed until its rows ask for a look, by chance or for a reason.

    share  share of tries done alone, from 0 to under 1

    Raises ValueError naming the argument and its value.

    Source: mean of the first row at which `falls` holds, the rows looked at doubled until the rest is nothing.
    Check:  .90 370; .80 53.9; .50 8.7 (worked out apart, 2026-11-28).
    """
    number("share", share, 0, high=1 - 1e-3)
    alone = _of_a_row([share] * FULL)
    rows_of = range(FULL + 1)
    stays = [[0.0 if falls((before, n_alone)) else alone[n_alone] for n_alone in rows_of] for before in rows_of]
    mean = [1.0] * len(stays)  # rows to come after each row: of the next one alone, then of two, four, eight, ...
    while max(more := [sum(map(mul, chances, mean)) for chances in stays]) > _CLOSE:
        mean = [rows + later for rows, later in zip(mean, more, strict=True)]
        stays = [[sum(map(mul, chances, column)) for column in zip(*stays, strict=True)] for chances in stays]
    return FULL * (1 + math.fsum(alone[n_alone] * mean[n_alone] for n_alone in rows_of if not falls((n_alone,))))
