"""Help with daily life: minutes a day before and with the device, and levels of help that change."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.case.need import HELP_LEVELS, Activity
from docgen.evidence.fact import Fact

ORDER = 66
QUESTION = "Does the client become more independent?"


def facts(case: Case) -> Iterator[Fact]:
    """minutes_before, minutes_with and their difference, in all, at home, and of MRADLs at home where other activities
    stand beside them; help_gained, activities with less help."""
    places = tuple(enumerate(case.activities))
    yield from _minutes("", "all activities", places)
    at_home = tuple((i, a) for i, a in places if a.at_home)
    yield from _minutes("_home", "activities at home", at_home)
    mradls = tuple((i, a) for i, a in at_home if a.needed_for not in (None, "other"))
    if any(a.minutes_before and a.needed_for == "other" for _, a in at_home):
        yield from _minutes("_mradl", "MRADLs at home", mradls)
    rated = [(i, a) for i, a in places if a.before and a.with_device]
    if rated:
        gained = [i for i, a in rated if HELP_LEVELS.index(a.with_device or "") > HELP_LEVELS.index(a.before or "")]
        yield Fact(
            "help_gained",
            "helped",
            "activities that need less help with the device",
            "proportion",
            len(gained) / len(rated),
            len(rated),
            len(gained),
            keys=tuple(f"activities.{i}.with_device" for i, _ in rated),
            formula="activities whose level of help is nearer to alone",
            source="own ordinal scale of six levels",
        )


def _minutes(suffix: str, label: str, places: tuple[tuple[int, Activity], ...]) -> Iterator[Fact]:
    """Sums over the activities that record both; one that records neither or only one is left out and said."""
    both = [(i, a) for i, a in places if a.minutes_before is not None and a.minutes_with is not None]
    if not both:
        return
    left_out = len(places) - len(both)
    note = f"{left_out} of {len(places)} activities lack minutes and are left out" if left_out else ""
    before = sum(a.minutes_before or 0 for _, a in both)
    with_device = sum(a.minutes_with or 0 for _, a in both)
    for name, words, value, key in (
        ("minutes_before", "minutes of help now", before, "minutes_before"),
        ("minutes_with", "minutes of help with the device, as recorded", with_device, "minutes_with"),
        ("minutes_fewer", "minutes of help fewer", before - with_device, "minutes_with"),
    ):
        yield Fact(
            f"{name}{suffix}",
            "helped",
            f"{words}, {label}",
            "minutes_a_day",
            value,
            len(both),
            keys=tuple(f"activities.{i}.{key}" for i, _ in both),
            formula="sum over activities",
            note=note,
        )
