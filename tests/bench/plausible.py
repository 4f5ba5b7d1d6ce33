"""Two hundred plausible variations of the demos, of which nothing is said; and each measured key of the demos ten times
too large and too small, of which those that a stop or a load hangs on must each be a danger.

    python tests/bench/plausible.py [how many]
"""

from __future__ import annotations

import pickle
import sys
from pathlib import Path

from docgen.case.read import _validated, read_case
from docgen.criteria.criterion import Grounds, criteria
from docgen.criteria.measured import measured
from docgen.evidence.fact import Evidence
from docgen.fit.match import fit

sys.path[:0] = [str(Path(__file__).parents[1]), str(Path(__file__).parents[1] / "criteria")]


def main(number: int) -> int:
    """1 when something is said of a variation, or nothing of a slip that matters."""
    return min(variations(number) + slips(), 1)


def variations(number: int) -> int:
    """How many answers are not met, each told."""
    from variations import QUESTIONS, varied  # beside the tests of criteria

    said = 0
    for seed in range(number):
        grounds = varied(seed)
        for name in QUESTIONS:
            answer = criteria()[name].ask(grounds, **criteria()[name].settings)
            if answer.status != "met":
                said += 1
                print(f"{seed} {name}: {answer.reason}")
    print(f"{number} variations, {said} answers that are not met")
    return said


def slips() -> int:
    """How many slips of ten times hold nothing though a stop or a load hangs on the value, each told."""
    from in_full import tables_in_full  # beside the tests
    from support import DEMO_FOLDERS

    n_tried = n_told = n_bearing = n_missed = 0
    for folder in DEMO_FOLDERS:
        raw = tables_in_full(folder)
        case = read_case(folder).case
        for _, path, name, value, usual in [*measured(case)]:
            for factor in (10, 0.1):
                changed = pickle.loads(pickle.dumps(raw))
                if not value or not _put(changed, path, round(value * factor, 6)):
                    continue
                told, held = _asked(case, changed)
                n_tried, n_told, n_bearing = n_tried + 1, n_told + told, n_bearing + usual.bears
                if usual.bears and not held:
                    n_missed += 1
                    print(f"{folder.name} {name}: {value:g} times {factor:g} holds nothing")
    print(f"{n_tried} slips, {n_told} told; {n_bearing} that a stop or a load hangs on, {n_missed} that hold nothing")
    return n_missed


def _put(raw, path, value) -> bool:
    """Whether the key stands in the data, which then holds the value; a default stands nowhere."""
    try:
        for part in path[:-1]:
            raw = raw[part]
    except KeyError:
        return False
    raw[path[-1]] = value
    return True


def _asked(case, raw) -> tuple[bool, bool]:
    """Whether anything is said of the data, and whether it holds the packet."""
    changed, problems = _validated(raw, lambda *path: "case.toml:1", frozenset())
    if problems or changed is None:
        return True, True
    changed = changed.with_records(case.records).with_sessions(case.sessions)
    grounds = Grounds(changed, Evidence(()), fit(changed, lambda *path: "case.toml:1"))
    asked = [criteria()[name] for name in ("values_are_usual", "values_agree", "weight_within_class")]
    answers = [criterion.ask(grounds, **criterion.settings) for criterion in asked]
    return any(a.status == "not_met" for a in answers), any(a.status == "not_met" and a.danger for a in answers)


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 200))
