"""Every error a user can cause.

    UserError           one or more Problems; the command prints them and exits with status 2
        Problem         what is wrong, where, and what to do about it, in one sentence each
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake: `where` is a file with its line, `what` a clause without a full stop, `do` a sentence."""

    where: str
    what: str
    do: str = ""

    def __str__(self) -> str:
        return f"{self.where}: {self.what}." + (f" {self.do}" if self.do else "")


class UserError(Exception):
    """Something the user can mend. Carries every problem found, not only the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


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
