"""A limit of mobility significantly impairs a daily activity in the home.

Asks: Which daily activity at home is prevented, unsafe or too slow without the device, and how that is known.
    A room or door that such an activity names and that was not measured is told, and so is a room that the chair
    leaves backward or by turning in place where that was no task of the trial; the answer is then met in part.
Why a payer asks: Coverage rests on need in the home; need outside is kept apart.
What settles it: One entry in [[activities]] with at_home = true, barrier, before and what happens now.
Source: US national coverage determination 280.3, question 1; L33789 criterion A.
"""

from __future__ import annotations

from typing import get_args

from docgen.case.model import Case
from docgen.case.need import Activity
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.gains_waiting import places_unmeasured, ways_out_untried
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "independence"
CLAIM = "A mobility-related activity of daily living (MRADL) in the home requires it"
SETTINGS = {"kinds": ["toileting", "feeding", "dressing", "grooming", "bathing"]}
CHOICES = {"kinds": get_args(get_args(Activity.model_fields["needed_for"].annotation)[0])}


def answer(grounds: Grounds, kinds: list[str]) -> Answer:
    home = [(i, a) for i, a in enumerate(grounds.case.activities) if a.at_home and a.needed_for in kinds]
    if open_place := place_not_recorded(grounds.case):
        return open_place
    if not home:
        return _none_of_these(grounds.case, kinds)
    shown = [(i, a) for i, a in home if a.barrier and a.before and a.before not in ("set_up", "alone")]
    if not shown:
        return cannot_tell(
            f"How the limit shows is not recorded for: {listed(a.name for _, a in home)}.",
            *(("activities", i) for i, _ in home),
            mend=fill_in(
                {"barrier": '<"prevents", "unsafe" or "too_slow">', "before": "<help needed now>"}, " in [[activities]]"
            ),
        )
    return _shown_at_home(grounds.case, shown, _not_shown(grounds.case, kinds))


def _none_of_these(case: Case, kinds: list[str]) -> Answer:
    """The answer while no activity at home is recorded for any of these kinds: those of no kind come first."""
    if unnamed := [(i, a) for i, a in enumerate(case.activities) if a.at_home and a.needed_for is None]:
        return cannot_tell(
            f"Which daily activity it belongs to is not recorded: {listed(a.name for _, a in unnamed)}.",
            *(("activities", i) for i, _ in unnamed),
            mend=fill_in({"needed_for": f"<{listed(map(_quoted, (*kinds, 'other')), 'or')}>"}, " in [[activities]]"),
        )
    return cannot_tell(
        f"No activity at home is recorded for {listed(kinds, 'or')}.",
        ("activities",),
        mend=add_entry("activities", "needed_for", "barrier", "before", at_home=True),
    )


def _not_shown(case: Case, kinds: list[str]) -> list[str]:
    """Names of the activities at home of which it is not recorded how the limit shows, or whether they are of these
    kinds."""
    return [
        a.name
        for a in case.activities
        if a.at_home and (a.needed_for is None or (a.needed_for in kinds and not (a.barrier and a.before)))
    ]


def _shown_at_home(case: Case, shown: list[tuple[int, Activity]], not_shown: list[str]) -> Answer:
    """Met by these activities, in part where a way out that one needs was not tried, a place not measured, or more of
    what is recorded would show need and does not say how."""
    activities_shown = [a for _, a in shown]
    untried = [
        f" {what}: {listed(names)}."
        for what, waiting in ways_out_untried(case)
        if (names := [a.name for a in activities_shown if a in waiting])
    ]
    unmeasured = places_unmeasured(case, activities_shown)
    return met(
        f"{counted(len(shown), 'activity', 'activities')} at home: {listed(a.name for _, a in shown)}."
        + (
            f" Not recorded is how the limit shows, or which daily activity it is, of: {listed(not_shown)}."
            if not_shown
            else ""
        )
        + "".join(untried)
        + (f" Not measured, and named by these or on the way: {listed(unmeasured)}." if unmeasured else ""),
        *(("activities", i) for i, _ in shown),
        limit="in_part" if untried or unmeasured or not_shown else "",
    )


def _quoted(word: str) -> str:
    return f'"{word}"'


def place_not_recorded(case: Case) -> Answer | None:
    """The answer while it is open whether activities are done at home or away; None where it is recorded of each."""
    unplaced = [(i, a) for i, a in enumerate(case.activities) if a.at_home is None]
    if not unplaced:
        return None
    return cannot_tell(
        f"Whether it is done at home is not recorded: {listed(a.name for _, a in unplaced)}.",
        *(("activities", i) for i, _ in unplaced),
        mend=fill_in({"at_home": "<true or false>"}, " in [[activities]]"),
    )
