"""With the device the client needs less help with a daily activity at home.

Asks: Whether help at home falls in level or in minutes with the device, compared with now; what of it waits, because
    the way out of a room was not tried or is not yet reliable there, a table was not parked at surely or a place was
    not measured; what help the minutes leave out; and in how many activities help by hand stays.
Why a payer asks: The device must improve participation in daily life, and theory alone is not accepted.
What settles it: before and with_device, or minutes_before and minutes_with, for activities at home, from the trial or a
    diary.
Source: L33789 criterion N; US Program Integrity Manual 5.11.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import HELP_LEVELS, Activity
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.gains_waiting import Waiting, gains_waiting
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, add_entry
from docgen.criteria.questions.need_at_home import place_not_recorded
from docgen.criteria.sentences import capital, counted, listed
from docgen.criteria.ways_out import in_rooms_pushed_out_of
from docgen.evidence.fact import Fact

HEADING = "independence"
CLAIM = "Less help is needed at home with it"
SETTINGS: dict[str, object] = {}

_Numbered = tuple[int, Activity]
_MINUTES = ("minutes_before_home", "minutes_with_home", "minutes_before_mradl", "minutes_with_mradl")
_RATE = Mend(
    "Fill in with_device, or minutes_before and minutes_with, for activities at home.",
    fill=("with_device", "minutes_before", "minutes_with"),
)
_RECONSIDER = Mend(
    "Write in with_device and minutes_with of [[activities]] <the help needed with it>; "
    "if none falls, reconsider the request.",
    fill=("with_device", "minutes_with"),
    work=True,
)


def answer(grounds: Grounds) -> Answer:
    if open_place := place_not_recorded(grounds.case):
        return open_place
    home = [(i, activity) for i, activity in enumerate(grounds.case.activities) if activity.at_home]
    rated = [(i, gain) for i, activity in home if (gain := _levels_gained(activity)) is not None]
    minutes = [grounds.evidence.of(name) for name in _MINUTES]
    if not rated and not minutes[0]:
        return cannot_tell(
            "Help at home with the device is not recorded.",
            ("activities",),
            mend=_RATE if home else add_entry("activities", *_RATE.fill, at_home=True),
        )
    facts = tuple(fact.id for fact in minutes if fact)
    gained = [i for i, gain in rated if gain > 0]
    waits = gains_waiting(grounds)
    reasons = [*_gains(home, gained, len(rated), waits), *_in_minutes(*minutes)]
    if not reasons:
        return _nothing_gained(home, gained, _entries(rated), waits, facts)
    but = "".join(
        (
            _but_worse(grounds.case.activities),
            _but_uncounted(home),
            _but_waiting(home, waits),
            _but_left_out(grounds.case, home),
        )
    )
    places = [("activities", i) for i in gained] or _entries(home)
    return met(f"{capital(listed(reasons))}.{but}", *places, facts=facts, limit="in_part" if but else "")


def _gains(home: Sequence[_Numbered], gained: Sequence[int], n_rated: int, waits: Waiting) -> list[str]:
    """What falls in level at home, and what is begun there that waits for nothing.

    gained   numbers of the activities in which the level of help falls
    n_rated  of how many activities at home both levels are recorded
    """
    waiting = [activity for _, activities in waits for activity in activities]
    begun = [activity for activity in _begun_with_it(home, gained) if activity not in waiting]
    eased = [activity for i, activity in home if i in gained and activity.before != "not_done"]
    return [*_in_levels(eased, n_rated, [activity for _, activity in home]), *_begun(len(begun))]


def _nothing_gained(
    home: Sequence[_Numbered], gained: Sequence[int], at: Sequence[KeyPath], waits: Waiting, facts: tuple[str, ...]
) -> Answer:
    """The answer where no help falls at home: open while something that nobody does now is begun and waits."""
    if _begun_with_it(home, gained):
        return cannot_tell(
            f"Each gain at home still waits.{_but_waiting(home, waits)}",
            *at,
            facts=facts,
            mend=Mend("Measure or try what it waits for, and record it.", work=True),
        )
    return not_met("No activity at home needs less help with the device.", *at, facts=facts, mend=_RECONSIDER)


def _begun_with_it(home: Sequence[_Numbered], gained: Sequence[int]) -> list[Activity]:
    """Activities that nobody does now and that are done with the device."""
    return [activity for i, activity in home if i in gained and activity.before == "not_done"]


def _entries(numbered: Iterable[tuple[int, object]]) -> list[KeyPath]:
    """Where the activities with these numbers stand in the case."""
    return [("activities", i) for i, _ in numbered]


def _but_worse(activities: Iterable[Activity]) -> str:
    """What takes more help with the device, as a sentence after others; empty for nothing."""
    worse = [activity.name for activity in activities if _more_help(activity)]
    return f" More help is needed to {listed(worse)}." if worse else ""


def _but_uncounted(home: Iterable[_Numbered]) -> str:
    """What is done with help whose minutes nobody counted, as a sentence after others; empty for nothing."""
    uncounted = [activity.name for _, activity in home if _is_uncounted(activity)]
    if not uncounted:
        return ""
    return f" No minutes are counted for help to {listed(uncounted)}, though with the device someone is needed."


def _but_waiting(home: Iterable[_Numbered], waits: Waiting) -> str:
    """What each gain waits for, as sentences after others, with the minutes of the MRADLs without what waits; empty
    where nothing does."""
    if not waits:
        return ""
    named = [(what, listed(activity.name for activity in activities)) for what, activities in waits]
    says = "".join(f" {what}, which this waits for: {names}." for what, names in named)
    waiting = [activity for _, activities in waits for activity in activities]
    mradls = [activity for _, activity in home if activity.needed_for not in (None, "other")]
    left = [activity for activity in mradls if activity not in waiting]
    if len(left) == len(mradls):
        return says
    if not left:
        return f"{says} Each MRADL at home still waits for one of these."
    before, after = (sum(getattr(a, key) or 0 for a in left) for key in ("minutes_before", "minutes_with"))
    return f"{says} Without that the help for MRADLs falls from {before:g} to {after:g} minutes."


def _but_left_out(case: Case, home: Iterable[_Numbered]) -> str:
    """What help by hand the minutes with the device leave out for now, as a sentence after others; empty for none."""
    pushed = ["being pushed out of a room until the client comes out of it reliably"]
    left_out = [
        *(pushed if in_rooms_pushed_out_of(case) else []),
        *(activity.not_counted.rstrip(". ") for _, activity in home if activity.not_counted),
    ]
    return f" The minutes with it leave out {listed(left_out)}." if left_out else ""


def _in_levels(eased: Sequence[Activity], rated: int, home: Sequence[Activity]) -> list[str]:
    """That help falls in level, where it does, and in how many activities at home help by hand stays,
    those that nobody does now among them."""
    if not eased:
        return []
    falls = f"help falls in level in {counted(len(eased), 'activity', 'activities')} of {rated} at home"
    by_hand = sum(bool(activity.left) for activity in home)
    stays = f"help by hand with the activity itself stays in {by_hand} of {len(home)}"
    return [falls, *([stays] if by_hand else [])]


def _begun(n: int) -> list[str]:
    """That what nobody does now is done with the device, which is no help that falls."""
    return [f"{counted(n, 'activity is', 'activities are')} done that {'is' if n == 1 else 'are'} not done now"] * bool(
        n
    )


def _in_minutes(
    before: Fact | None, after: Fact | None, of_mradls: Fact | None, mradls_after: Fact | None
) -> list[str]:
    """That help falls in minutes a day, where it does, and by how much of it with MRADLs alone."""
    if before is None or after is None or recorded(before.value) <= recorded(after.value):
        return []
    apart = ""
    if of_mradls and mradls_after:
        apart = f" (with MRADLs alone, from {of_mradls.value:g} to {mradls_after.value:g})"
    return [
        f"help by hand at home falls from {before.value:g} to {after.value:g} minutes a day{apart} by the therapist's "
        "estimate, with watching counted in neither"
    ]


def _levels_gained(activity: Activity) -> int | None:
    """By how many levels help falls with the device; None where either is not recorded."""
    if not activity.before or not activity.with_device:
        return None
    return HELP_LEVELS.index(activity.with_device) - HELP_LEVELS.index(activity.before)


def _is_uncounted(activity: Activity) -> bool:
    """Whether help with an activity is put at no minutes, now and with the device, though some is needed with it."""
    is_helped = activity.with_device is not None and activity.with_device != HELP_LEVELS[-1]
    return is_helped and activity.minutes_before == activity.minutes_with == 0


def _more_help(activity: Activity) -> bool:
    """Whether an activity, at home or not, takes more help with the device: in level or in minutes."""
    before, after = activity.minutes_before, activity.minutes_with
    gained = _levels_gained(activity)
    return (gained is not None and gained < 0) or (before is not None and after is not None and after > before)
