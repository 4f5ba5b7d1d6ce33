"""Every fact of a case, in the order of the questions they answer."""

from __future__ import annotations

from functools import cache
from itertools import chain
from types import ModuleType

from docgen.case.model import Case
from docgen.discover import modules_in
from docgen.evidence.done import counted
from docgen.evidence.done import facts as facts_of_done
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
    by_rule = counted(case)
    topics = (fact for module in _topics() for fact in module.facts(by_rule))
    return Evidence(chain(topics, facts_of_done(case)), stopping(by_rule))
