"""What `docgen rows` prints: what was made of a spreadsheet, and what it has to ask."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from docgen.errors import Problem
from docgen.spreadsheet.asking import Question
from docgen.spreadsheet.understand import Understood

_MOST = 60


def made_text(read: Understood, source: Path, target: str) -> str:
    """What was made of each column, name and date, and how many rows that gives."""
    lines = [f"{source}:", *(f"  {sentence}" for sentence in read.says[:_MOST])]
    if len(read.says) > _MOST:
        lines.append(f"  and {len(read.says) - _MOST} more")
    n, days = len(read.rows), len({row["date"] for row in read.rows if row.get("date")})
    undated = sum(not row.get("date") for row in read.rows)
    beside = f", {undated} of them without a date," if undated else ""
    lines.append(f"{n} row{'' if n == 1 else 's'}{beside} on {days} day{'' if days == 1 else 's'} for {target}")
    return "\n".join(lines)


def questions_text(
    read: Understood, foreseen: Mapping[str, tuple[Question, ...]] = {}, certain: Sequence[Problem] = ()
) -> str:
    """Each question with the words that answer it, those that come only after an answer, and what is refused with each
    answer."""
    lines = ["These are to be settled first; nothing was written:"]
    lines += [f"  {question}" for question in read.questions[:_MOST]]
    if len(read.questions) > _MOST:
        lines.append(f"  and {len(read.questions) - _MOST} more")
    for answer, questions in foreseen.items():
        lines.append(f"and then, with {answer}:" if answer else "and then, with the first answer to each of these:")
        lines += [f"  {question}" for question in questions]
    lines += ["and this would be refused then, so mend it in the sheet first:"] if certain else []
    lines += [f"  {problem}" for problem in certain[:_MOST]]
    return "\n".join(lines)
