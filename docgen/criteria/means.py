"""Switches and levers that a step names, held against those on record."""

from __future__ import annotations

import re

from docgen.case.model import Case

# a means as people point it out: one word that tells it from others, and what it is
_MEANS = re.compile(r"\b([a-z]+) (switch|button|lever|key|knob|plug|bar|paddle)\b", re.IGNORECASE)
_NO_NAME = frozenset(
    "a an any each her his its one same that the their this".split()
    + "hold press pull push swing turn use".split()  # an act, as in "turn key B on"
)


def record_it(means: str) -> str:
    """What settles that such a switch or lever is not on record."""
    return f"Record the {means} under [configuration.stop], or as seat_switch under [sitting]."


def names_of(words: str) -> tuple[str, ...]:
    """Each switch or lever that these words name, in lower case, as "green lever"."""
    return tuple(f"{name} {kind}".lower() for name, kind in _MEANS.findall(words) if name.lower() not in _NO_NAME)


def means_not_recorded(case: Case, words: str) -> str | None:
    """The first switch or lever that these words name and that no key of the stop, the seat or the commands holds."""
    configuration, sitting = case.configuration, case.sitting
    recorded = [str(value) for value in vars(configuration.stop).values() if isinstance(value, str)]
    recorded += [text for text in (sitting.seat_switch, sitting.stuck, sitting.no_power) if text]
    recorded += [command.input for command in configuration.commands if command.input]
    recorded += [command.input for command in sitting.commands]
    recorded += [text for text in (configuration.rest, configuration.choose) if text]
    known = " ".join(recorded).lower()
    return next((name for name in names_of(words) if name not in known), None)
