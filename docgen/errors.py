"""Every error a user can cause.

UserError           one or more Problems; the command prints them and exits with status 2
    Problem         what is wrong, where, and what to do about it, in one sentence each
"""

from __future__ import annotations

import difflib
import re
import traceback
from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path

from msgspec import Struct

_MOST = 100  # problems told at once
_MOST_WORDS = 20  # words allowed that are named all together
_LIKE = 0.75  # likeness from which one word is another with a slip in it; below, they only share letters
_ALIKE = 5  # problems of one kind in the rows of a file, told one by one


class Problem(Struct, frozen=True):
    """One mistake: `where` is a file with its line, `what` a clause without a full stop, `do` a sentence."""

    where: str
    what: str
    do: str = ""

    def __str__(self) -> str:
        return brief(self.where, 1000) + f": {brief(self.what, 600)}." + (f" {brief(self.do, 600)}" if self.do else "")


class UserError(Exception):
    """Something the user can mend. Carries every problem found, not only the first, up to a hundred; of many alike the
    first few."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        shown = tuple(_few_alike(tuple(problems)))
        if len(shown) > _MOST:
            more = Problem(
                shown[_MOST].where, "is where the list stops, after so many problems", "Correct these first."
            )
            shown = (*shown[:_MOST], more)
        self.problems = shown
        super().__init__("\n".join(str(problem) for problem in self.problems))


def _few_alike(problems: tuple[Problem, ...]) -> Iterator[Problem]:
    """The problems; of those in rows that differ in nothing but line and value the first few, and how many more there
    are."""
    kinds = [
        (problem.where.rpartition(":")[0], re.sub("'[^']*'", "''", problem.what), problem.do) for problem in problems
    ]
    n_alike, n_seen = Counter(kinds), Counter[tuple[str, str, str]]()
    for kind, problem in zip(kinds, problems, strict=True):
        n_seen[kind] += 1
        if n_seen[kind] <= _ALIKE or n_alike[kind] == _ALIKE + 1 or not kind[0].endswith(".csv"):
            yield problem
        elif n_seen[kind] == _ALIKE + 1:
            yield Problem(
                problem.where, f"has the same mistake, and so have {n_alike[kind] - n_seen[kind]} more", problem.do
            )


def place_of_fault(fault: BaseException) -> str:
    """Kind and place of a fault of the program, without its words, which may be those of a case."""
    root = Path(__file__).parent
    own = [step for step in traceback.extract_tb(fault.__traceback__) if root in Path(step.filename).parents]
    place = f" in {Path(own[-1].filename).relative_to(root.parent)}:{own[-1].lineno}" if own else ""
    return type(fault).__name__ + place


def brief(value: object, most: int = 60) -> str:
    """A value in one line of at most that many characters, with nothing in it that could steer a terminal."""
    if isinstance(value, int) and abs(value) > 10**most:
        return "a number too large to be meant"
    text = str(value)
    text = text if len(text) <= most else f"{text[: most - 3]}..."
    return "".join(c if c.isprintable() or c in "\u00a0\u202f" else "?" for c in text)


def word_meant(wrong: str, allowed: Iterable[str]) -> str:
    """The allowed word that a wrong one is, with a slip in it; "" where none is near."""
    return next(iter(difflib.get_close_matches(wrong, sorted(allowed), n=1, cutoff=_LIKE)), "")


def did_you_mean(wrong: str, allowed: Iterable[str], all_by: str = "") -> str:
    """A sentence that names the nearest allowed word; where none is near, all of them, or of many the five nearest.

    all_by  the command that lists all
    """
    words = sorted(allowed)
    if near := word_meant(wrong, words):
        return f"Did you mean '{near}'?"
    if not words:
        return ""
    if len(words) <= _MOST_WORDS:
        return f"Allowed: {', '.join(words)}."
    alike = difflib.get_close_matches(wrong, words, n=5, cutoff=0.0)
    return f"The nearest of the {len(words)} there are: {', '.join(alike)}." + (
        f" All of them: {all_by}." if all_by else ""
    )
