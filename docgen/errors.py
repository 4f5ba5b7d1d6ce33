"""Every error a user can cause.

    UserError           one or more Problems; the command prints them and exits with status 2
        Problem         what is wrong, where, and what to do about it, in one sentence each
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

_MOST = 100  # problems told at once


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: `where` is a file with its line, `what` a clause without a full stop, `do` a sentence."""

    where: str
    what: str
    do: str = ""

    def __str__(self) -> str:
        return brief(self.where, 1000) + f": {brief(self.what, 600)}." + (f" {brief(self.do, 600)}" if self.do else "")


class UserError(Exception):
    """Something the user can mend. Carries every problem found, not only the first, up to a hundred."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        told = tuple(problems)
        if len(told) > _MOST:
            more = Problem(told[_MOST].where, "is where telling stopped, after so many problems", "Mend these first.")
            told = (*told[:_MOST], more)
        self.problems = told
        super().__init__("\n".join(str(problem) for problem in self.problems))


def brief(value: object, most: int = 60) -> str:
    """A value in one line of at most that many characters, with nothing in it that could steer a terminal."""
    if isinstance(value, int) and abs(value) > 10**most:
        return "a number too large to be meant"
    text = str(value)
    text = text if len(text) <= most else f"{text[: most - 3]}..."
    return "".join(c if c.isprintable() or c in "\u00a0\u202f" else "?" for c in text)


def did_you_mean(wrong: str, allowed: Iterable[str]) -> str:
    """A sentence that names the nearest allowed word, or all of them when none is near."""
    words = sorted(allowed)
    near = difflib.get_close_matches(wrong, words, n=1, cutoff=0.6)
    if near:
        return f"Did you mean '{near[0]}'?"
    if not words:
        return ""
    shown = ", ".join(words[:20]) + (", ..." if len(words) > 20 else "")
    return f"Allowed: {shown}."
