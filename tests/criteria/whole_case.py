"""One small invented case that meets every criterion, and how to change it: what is needed to ask a question."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Iterable, Iterator
from contextlib import suppress
from datetime import date
from functools import cache
from typing import Any

from criteria.whole_papers import AUTHORIZED, CAREGIVER_DRIVES, DELIVERED
from criteria.whole_record import GONE, ROWS, TASKS, WHOLE, attempts
from pydantic import ValidationError

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.session import SessionRow
from docgen.criteria.advice import Step, shortest_way
from docgen.criteria.criterion import Answer, Grounds, criteria
from docgen.criteria.payer import load
from docgen.criteria.run import Verdict, blocking, verdicts
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

# all of the case, for whoever asks
__all__ = ["AUTHORIZED", "CAREGIVER_DRIVES", "DELIVERED", "GONE", "ROWS", "TASKS", "WHOLE", "attempts"]


GENERAL, ON = load("general", ""), date(2026, 5, 4)  # the rules that are asked, and the day
# changes after which no finding, limit or answer of the whole case speaks of a condition
NOTHING_FOUND = (
    ("findings.2.id", "transfer_slide"),
    ("configuration.features.3.because", ["transfer_slide"]),
    ("configuration.items.4.because", ["transfer_slide"]),
    ("limits.1.found", False),
    ("conditions", []),
)


def changed(*changes: tuple[str, Any]) -> dict[str, Any]:
    """The whole case with each dotted key set to its value; GONE takes it out, "+" at the end adds an entry."""
    raw = pickle.loads(pickle.dumps(WHOLE))  # a quarter of the time of deepcopy
    for path, value in changes:
        *parents, last = path.split(".")
        node: Any = raw
        for part in parents:
            node = node[int(part)] if isinstance(node, list) else node.setdefault(part, {})
        value = value if value is GONE else copy.deepcopy(value)  # a later change may alter it
        if last == "+":
            node.append(value)
        elif value is GONE:
            del node[int(last) if isinstance(node, list) else last]
        else:
            node[int(last) if isinstance(node, list) else last] = value
    return raw


def _frozen(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _frozen(one) for key, one in value.items()}
    return tuple(_frozen(one) for one in value) if isinstance(value, list) else value


def _rows(rows: Iterable[dict[str, Any]]) -> tuple[Row, ...]:
    return tuple(Row(line=line, **row) for line, row in enumerate(rows, start=2))


@cache
def _own_rows() -> tuple[Row, ...]:
    """The rows that most of these cases have, read once: nobody can change a row."""
    return _rows(ROWS)


def grounds(raw: dict[str, Any], rows: Iterable[dict[str, Any]] = ROWS) -> Grounds:
    """All that an answer may rest on. Rows of a method or task that the case lacks are left out, as in reading."""
    raw = dict(raw)
    tries = raw.pop("sessions", ())  # rows of training, which stand in a file of their own
    case = Case.model_validate(_frozen(raw)).with_sessions(
        tuple(SessionRow(line=line, **row) for line, row in enumerate(tries, start=2))
    )
    named = {part.id for part in (*case.trial.methods, *case.trial.tasks)}
    read = _own_rows() if rows is ROWS else _rows(rows)
    case = case.with_records(tuple(row for row in read if {row.method, row.task} <= named))
    return Grounds(case, evidence(case), fit(case, lambda *path: "case.toml:1"))


def ask(criterion: str, on: Grounds, **settings: Any) -> Answer:
    """The answer of one criterion, with its own settings unless others are given."""
    asked = criteria()[criterion]
    return asked.ask(on, **{**asked.settings, **settings})


def key_paths(raw: Any, path: str = "") -> Iterator[str]:
    """Dotted path of every key and every entry of a list, outermost first."""
    pairs = raw.items() if isinstance(raw, dict) else enumerate(raw) if isinstance(raw, list) else ()
    for key, value in pairs:
        here = f"{path}.{key}" if path else str(key)
        yield here
        yield from key_paths(value, here)


def answers(on: Grounds) -> tuple[Verdict, ...]:
    """What the general rules say."""
    return verdicts(on, GENERAL, ON)


def blocks(raw: dict[str, Any]) -> set[str]:
    """Ids of the rows that hold a case back."""
    return {verdict.requirement.id for verdict in blocking(answers(grounds(raw)))}


def steps(raw: dict[str, Any]) -> tuple[Step, ...]:
    """The shortest way to ready."""
    on = grounds(raw)
    return shortest_way(on, answers(on))


@cache
def without_each_key() -> dict[str, tuple[Grounds, tuple[Verdict, ...]]]:
    """Key or entry of the whole case -> the case without it alone, and what the general rules say of that; where its
    table can do without. Once in a process: what needs it stands in test_each_key_left_out.py."""
    left = {}
    for path in key_paths(WHOLE):
        with suppress(ValidationError):
            without = grounds(changed((path, GONE)))
            left[path] = (without, answers(without))
    return left
