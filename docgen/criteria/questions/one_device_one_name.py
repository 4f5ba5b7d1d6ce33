"""One device stands in the record once, by one name.

Asks: Whether two controls of the trial share one name, two devices that are ruled out are one control of the trial, or
    one control has two setups.
Why a payer asks: Two rows for one device are two release times for one hand, and nobody knows which one holds.
What settles it: One entry for one device; for two settings of one control, names that say how they differ.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.namesakes import letters_and_digits
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import capital, listed

HEADING = "record"
CLAIM = "Each device has one name throughout the record"
SHOWN_IN = ("letter: Equipment Trial and Results",)
SETTINGS: dict[str, object] = {}
_SMALL = frozenset("a an the of with at by in on for".split())


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    methods = case.trial.methods
    if not methods:
        return cannot_tell("No control was tried.", ("trial", "methods"), mend=add_entry("trial.methods"))
    for index, method in enumerate(methods):
        for place, other in enumerate(methods[:index]):
            if _key(method.name) == _key(other.name):
                return not_met(
                    f"“{other.name}” and “{method.name}” are one name for two controls of the trial"
                    f"{_releases(case, other.id, method.id)}.",
                    ("trial", "methods", place),
                    ("trial", "methods", index),
                    mend="Make them one control, or say in their names how they differ.",
                )
    for index, device in enumerate(case.alternatives):
        for place, earlier in enumerate(case.alternatives[:index]):
            if device.method is not None and device.method == earlier.method:
                return not_met(
                    f"{capital(listed([earlier.name, device.name]))} are one control of the trial.",
                    ("alternatives", place, "method"),
                    ("alternatives", index, "method"),
                    mend="Make them one entry, or name the control of the trial that each was.",
                )
    if twice := [*_set_up_twice(case)]:
        return cannot_tell(
            f"The setup of {listed(name for name, _ in twice)} is told twice, and not alike.",
            *(path for _, paths in twice for path in paths),
            mend="Write the whole setup into setup of the method, and take it out of the alternative.",
        )
    return met("Each control of the trial has a name of its own.", ("trial", "methods"))


def _set_up_twice(case: Case) -> Iterator[tuple[str, tuple[KeyPath, ...]]]:
    """Controls whose setup stands in the trial and among the alternatives in other words, with both places."""
    setups = {method.id: (at, method.setup) for at, method in enumerate(case.trial.methods) if method.setup}
    for index, device in enumerate(case.alternatives):
        in_trial = setups.get(device.method or "")
        if in_trial and device.setup and letters_and_digits(in_trial[1]) != letters_and_digits(device.setup):
            yield device.name, (("trial", "methods", in_trial[0], "setup"), ("alternatives", index, "setup"))


def _key(name: str) -> frozenset[str]:
    return frozenset(letters_and_digits(name)) - _SMALL


def _releases(case: Case, *methods: str) -> str:
    """The slowest release of each, where both have one."""
    slowest = [
        max((row.slowest_s for row in case.tried if row.method == method and row.slowest_s is not None), default=None)
        for method in methods
    ]
    if any(seconds is None for seconds in slowest):
        return ""
    return f", with a slowest release of {listed(f'{seconds:g} s' for seconds in slowest)}"
