"""Every fact of a case, in the order of the questions they answer."""

from __future__ import annotations

from functools import cache
from types import ModuleType

from docgen.case.model import Case
from docgen.discover import modules_in
from docgen.evidence.fact import Evidence
from docgen.evidence.stopping_rule import stopping


@cache
def _topics() -> tuple[ModuleType, ...]:
    import docgen.evidence.facts as facts

    return tuple(sorted(modules_in(facts), key=lambda module: (module.ORDER, module.__name__)))


def questions() -> dict[str, str]:
    """Short name of each question -> the question, in order."""
    return {module.__name__.rpartition(".")[2]: module.QUESTION for module in _topics()}


def evidence(case: Case) -> Evidence:
    """What the record of this case supports. Never raises for a case that could be read."""
    return Evidence((fact for module in _topics() for fact in module.facts(case)), stopping(case))
