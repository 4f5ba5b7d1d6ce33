"""Who is near while the client drives, place by place, as the letter tells it: each a sentence that reads whole,
however the helpers are named."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import date, time
from typing import TypedDict, get_args

from docgen.case.model import Case
from docgen.case.stage import STEPS
from docgen.case.supervision import HoursAlone, LooksIn, Supervision
from docgen.case.training import Day
from docgen.criteria.alone import not_settled, ruled_out_by, unsettled
from docgen.criteria.near import IN_REACH, parted
from docgen.documents.as_fitted import as_fitted
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words
from docgen.evidence.training import stage_now

MADE_FROM = {
    "supervised": made_from("supervision", timed=("people.relation",)),
    "alone_hours": made_from("supervision", looks_in=("people.name", "people.phone")),
    "step_away": made_from("supervision", reach_before="fitted", hand_first="fitted"),
}

DAYS: tuple[str, ...] = get_args(Day)
_STAYS = ("hands_on_stop", "arms_length", "same_room", "never_alone")  # levels at which nobody steps away

# what cannot stand between a person and a verb: a list, an aside, where somebody is or by what they are called
_BREAKS = re.compile(r"[,;:()]| (?:from|by|with|at|on|in|away)\b")


class SupervisedRow(TypedDict):
    """One place.

    who    subject of the sentence: the helpers where their name reads as one, else how many
    named  the helpers where the sentence before could not hold them; empty else
    after  of a later arrangement: what must be reliable first; empty for what holds now
    until  until when; a step of training by what is then reliable, never by its name
    until_mine  the same as the therapist says it who signs the page
    released  the therapist lets the client drive there; else what stands here holds from that day
    open   of hours alone: in words, what must be settled before nobody need be near; empty where nothing is
    against   of hours alone: in words, what the record holds against them
    reach_s  seconds in which the stop was reached from there, and on what day; None where nobody measured it, or not
             by the day of the letter
    stands_clear  where they stand so that the chair keeps the floor that it turns on; empty where that is not told
    clear_reach_s  seconds in which it was stopped from there; None where nobody measured it
    timed  who of those who may be near was timed, by what they are to the client; empty where that is not told
    no_stop_from  from where nobody reaches a stop; empty where that is not told
    """

    place: str
    who: str | None
    level: str
    named: str
    after: str
    until: str
    until_mine: str
    released: bool
    open: tuple[str, ...]
    against: tuple[str, ...]
    reach_s: float | None
    reach_on: date | None
    stands_clear: str
    clear_reach_s: float | None
    timed: str
    no_stop_from: str
    _labels: dict[str, str]


def supervised(case: Case, words: Words) -> Iterator[SupervisedRow]:
    """Each place of the case, in its order; what holds only later comes last."""
    written = case.dates.written_on
    for place in sorted(case.supervision, key=lambda place: place.is_later):
        apart = bool(place.by and _BREAKS.search(place.by))
        timed = place.reach_on is not None and written is not None and place.reach_on <= written
        yield {
            "place": place.place,
            "who": _how_many(place, words) if apart else place.by,
            "level": _level(place),
            "named": _in_one(place.by) if apart and place.by else "",
            "after": _reliable_then(place.after_stage, words),
            "until": _until(place, words),
            "until_mine": _mine(_until(place, words), words),
            "released": place.released,
            "open": alone_open(case, place, words),
            "against": alone_against(case, place, words),
            "reach_s": place.reach_s if timed else None,
            "reach_on": place.reach_on if timed else None,
            "stands_clear": place.stands_clear or "",
            "clear_reach_s": place.clear_reach_s if timed else None,
            "timed": person.relation or "" if timed and (person := case.person(place.reach_by)) else "",
            "no_stop_from": place.no_stop_from or "",
            "_labels": {"who": "how many people" if apart else "who is near"},
        }


def _level(place: Supervision) -> str:
    """How near they stay; where the record puts some of them out of arm's reach, that one of them is within it."""
    near, far = parted(place.by or "")
    return "one_in_reach" if place.level in IN_REACH and near and far else place.level


def _how_many(place: Supervision, words: Words) -> str | None:
    if place.needs is None and len(place.who) > 1:  # one of them, or all: that is not recorded
        return None
    n = place.needs or 1
    numbers: list[str] = words["numbers"]
    return str(words["someone"] if n == 1 else words["people"].format(n=numbers[n]))


def _in_one(by: str) -> str:
    """The helpers as one phrase: what a colon or a bracket sets off follows a comma."""
    return re.sub(r"\s*[;:(]\s*", ", ", by.replace(")", "")).rstrip("., ")


def _reliable_then(stage: int | None, words: Words) -> str:
    return "" if stage is None else str(words["step_waits"][STEPS[stage]])


def _mine(text: str, words: Words) -> str:
    for others, mine in words["mine"].items():
        text = text.replace(others, mine)
    return text


def _until(place: Supervision, words: Words) -> str:
    until = place.until or ""
    if place.until_stage is None:
        return until
    _, _, then = until.partition(";")
    waits = _reliable_then(place.until_stage, words)
    return f"{waits}; {then.strip()}" if then.strip() else waits


class StepAwayRow(TypedDict):
    """One place, and whether whoever is near may leave the client there.

    leaving  what whoever leaves the client alone does with the chair, in its order
    open     in words, what is not recorded and must be settled before someone may step away; empty where nothing is
    against  in words, what the record holds against it
    rule     how near they stay and where they stand, in the words of every sheet
    near     they stay so near that nobody steps away
    stands   where they stand is recorded
    barred   what holds for now comes before every rule of driving there
    reach_s  seconds in which its stop must be reached; None where nobody measured it
    state    the chair in hours alone, where it may not drive; empty elsewhere
    seen     they stay where they see the chair, and no nearer
    away     they may be away from the chair, so that the time matters on the card
    hand_first    an arm's length is near enough there only once the stop of this chair was timed, which it is not: a
                  hand stays on the stop till then
    reach_before  that time was measured before the delivered chair was fitted, or on no recorded day
    """

    place: str
    level: str
    rule: str
    near: bool
    stands: bool
    stops_with: str | None
    barred: bool
    by: str | None
    for_now: str
    leaving: tuple[str, ...]
    open: tuple[str, ...]
    against: tuple[str, ...]
    alone: bool
    state: str | None
    seen: bool
    reach_s: float | None
    away: bool
    reach_on: date | None
    reach_before: bool
    hand_first: bool
    needs: int | None
    driven: str | None
    pushed: str | None
    slopes: bool
    backs_out: str
    _labels: dict[str, str]


def is_timed_on_another(case: Case, place: Supervision) -> bool:
    """Whether the time to the stop was measured before the delivered chair was fitted, or on no recorded day."""
    fitted_on = as_fitted(case)["on"]
    return not fitted_on or not place.reach_on or place.reach_on < fitted_on


def is_hand_first(case: Case, place: Supervision) -> bool:
    """Whether an arm's length is not near enough yet: at another place the stop was timed, on another chair, and the
    hand stays on the stop there until this one is timed."""
    if place.level != "arms_length" or place.is_later or place.for_now:
        return False
    return any(
        other.reach_s and other.level in ("same_room", "in_sight") and is_timed_on_another(case, other)
        for other in case.supervision
        if not other.is_later and not other.for_now
    )


def step_away(case: Case, words: Words) -> Iterator[StepAwayRow]:
    """Each place of the case, in its order, as it holds today: no arrangement for a later step."""
    for place in case.supervision:
        if place.is_later:
            continue
        alone = not place.is_near
        yield {
            "place": place.place,
            "level": place.level,
            "rule": near_rule(case, place, words),
            "near": place.level in _STAYS,
            "stands": place.stands is not None,
            "stops_with": place.stops_with,
            "barred": is_barred(place),
            "by": place.by,
            "for_now": place.for_now or "",
            "leaving": place.before_leaving,
            "open": alone_open(case, place, words),
            "against": alone_against(case, place, words),
            "alone": alone,
            "state": place.chair_state if alone and place.chair_state in ("off", "seat_only", "in_bed") else "",
            "seen": place.level == "in_sight",
            "reach_s": place.reach_s,
            "away": place.level in ("same_room", "in_sight"),
            "reach_on": place.reach_on,
            "reach_before": is_timed_on_another(case, place),
            "hand_first": is_hand_first(case, place),
            "needs": place.needs,
            "driven": place.driven,
            "pushed": place.pushed,
            "slopes": bool(place.driven or place.pushed),
            "backs_out": place.backs_out or "",
            "_labels": {
                "by": "who",
                "stops_with": "with what they stop the chair from there",
                "reach_on": "date that time was measured",
                "driven": "what was driven at a ramp or slope so far, with what help and when",
                "pushed": "how the chair is pushed at a ramp or slope, by how many, or that it is not",
            },
        }


class AloneHours(TypedDict):
    """When the client is alone in a place, and who comes by then.

    hours     days and hours, "" where none are recorded
    looks_in  each a time, a person with their number, and what they do
    """

    place: str
    hours: str
    looks_in: tuple[str, ...]


def alone_hours(case: Case, words: Words) -> Iterator[AloneHours]:
    """Each place in which the client is alone, in the order of the case."""
    for place in case.supervision:
        if not place.is_near:
            yield {
                "place": place.place,
                "hours": "; ".join(_hours(entry, words) for entry in place.hours) or _at_a_stretch(place, words),
                "looks_in": tuple(_looks_in(case, entry, words) for entry in place.looks_in),
            }


def _hours(entry: HoursAlone, words: Words) -> str:
    weekdays: Sequence[str] = words["weekdays"]
    on_days = [weekdays[DAYS.index(day)] for day in entry.days]
    days = str(words["every_day"]) if len(on_days) == len(weekdays) else ", ".join(on_days)
    pattern = "from_to" if days else "from_to_alone"
    return str(words[pattern]).format(
        days=days, starts=_clock(entry.starts_at, words), ends=_clock(entry.ends_at, words)
    )


def _at_a_stretch(place: Supervision, words: Words) -> str:
    """How long the client is alone there at most, where no hours are set; "" where that is not recorded."""
    if place.longest_min is None:
        return ""
    hours, rest = divmod(place.longest_min, 60)
    name = "up_to_hours" if not rest and hours > 1 else "up_to_hour" if not rest and hours else "up_to_minutes"
    return str(words[name]).format(n=f"{hours if not rest else place.longest_min:g}")


def _looks_in(case: Case, entry: LooksIn, words: Words) -> str:
    person = case.person(entry.who)
    who = ", ".join(part for part in ((person.name, person.phone) if person else ()) if part) or entry.who
    return str(words["looks_in"]).format(at=_clock(entry.at, words), who=who, does=entry.helps_with)


def _clock(at: time, words: Words) -> str:
    if (at.hour, at.minute) == (12, 0):
        return str(words["noon"])
    half = words["halves"][at.hour >= 12]
    return str(words["clock"]).format(hour=at.hour, hour12=at.hour % 12 or 12, minute=f"{at.minute:02d}", half=half)


def near_rule(case: Case, place: Supervision, words: Words) -> str:
    """How near whoever is there stays, and where they stand: one wording for card and guide.

    Beside or behind is on the side of the stop switch, where its place on the chair is recorded.
    """
    apart = place.stands is not None and (place.level, place.stands) != ("same_room", "in_the_room")
    _, site = case.configuration.stop.at_hand
    side = (site or "").rpartition("_")[2]
    sided = place.stands in ("beside", "behind") and side in ("left", "right") and place.stops_with == "stop_switch"
    where = str(words["stands"][f"{place.stands}_{side}" if sided else place.stands]) if apart else ""
    return str(words["step_away"][place.level]).format(where=where)


def is_barred(place: Supervision) -> bool:
    """Whether something else holds for now at a place driven with someone near: then no rule of driving does."""
    return place.is_near and not place.is_later and bool(place.for_now)


def barred_settings(case: Case) -> tuple[str, ...]:
    """Names of the settings that belong to barred places alone."""
    barred = {covered for place in case.supervision if is_barred(place) for covered in place.covers}
    names = []
    for profile in case.configuration.profiles:
        used_at = {space.id for space in case.spaces if space.profile == profile.id}
        if used_at and used_at <= barred:
            names.append(profile.name)
    return tuple(names)


def settings_waiting(case: Case) -> tuple[str, ...]:
    """Names of the settings that nobody uses yet: while one is used until a step of training is passed, every setting
    without such a step waits for it. A step that no record shows as passed is not."""
    now = stage_now(case)
    steps = [profile.until_stage for profile in case.configuration.profiles if profile.until_stage is not None]
    if not any(now is None or now <= step for step in steps):
        return ()
    return tuple(profile.name for profile in case.configuration.profiles if profile.until_stage is None)


def alone_open(case: Case, place: Supervision, words: Words) -> tuple[str, ...]:
    """In words, what of hours alone is not recorded; empty where someone is near."""
    return () if place.is_near else tuple(words["alone_open"][key] for key in not_settled(case, place))


def alone_against(case: Case, place: Supervision, words: Words) -> tuple[str, ...]:
    """In words, what the record holds against hours alone, all that is open as one; () where someone is near."""
    if place.is_near:
        return ()
    against, is_open = ruled_out_by(case, place), unsettled(case, place)
    sentences = [str(words["alone_against"][name]) for name in against if name not in is_open]
    if is_open:
        what = ", ".join(words["alone_unsettled"][name] for name in is_open)
        sentences.append(str(words["alone_unsettled"]["says"]).format(what=what))
    return tuple(sentences)
