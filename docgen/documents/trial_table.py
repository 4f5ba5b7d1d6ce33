"""The trial as the letter tells it: a row a method, the sessions with the requested control, what may be unfair."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, TypedDict

from docgen.case.model import Case
from docgen.case.totals import DayTotal, Tried
from docgen.case.tried import Method
from docgen.documents.made_from import made_from
from docgen.documents.phrase import InWords, Words
from docgen.evidence.done import done_is_open, help_is_recorded
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.planned_trial import is_planned_before, kept, kept_out, planned_methods

MADE_FROM = {
    "methods": made_from("trial.methods"),
    "chosen": made_from("trial.methods"),
    "counted_by": made_from("trial.methods"),
    "done_told": made_from("trial.methods"),
    "tasks_apart": made_from("trial.tasks"),
    "trial_sessions": made_from("trial.methods"),
    "unfair": made_from("trial.methods"),
    "trial_ends": made_from("trial.release_from"),
    "trial_planned": made_from("trial.plan.methods"),
}


def method_row(case: Case, method: Method, evidence: Evidence, shown: InWords, words: Words) -> dict[str, Any]:
    """One method of the trial: what was counted with it, as numbers or gaps; `role` sets off the one asked for."""
    names = (
        "success",
        "stop_request",
        "contacts",
        "unintended",
        "release",
        "release_slowest",
        "stop_time",
        "days",
        "difference",
        "fatigue_rise",
        "tone_rise",
        "attempts",
        "stops_missed",
        "stops_since",
        "success_until",
        "success_since",
        "stops_untimed",
        "done_recorded",
        "done_strict",
        "from_totals",
        "prompted",
        "prompted_done",
        "prompt_marked",
    )
    values = {name: shown(evidence.of(name, method.id)) for name in names}
    for name in ("contacts", "unintended"):  # all by attempts where the rate of one does not hold them all
        in_attempts = evidence.of(f"{name}_counted", method.id) or evidence.of(f"{name}_in_attempts", method.id)
        values[name] = shown(in_attempts) or values[name]
    values |= prompts(case, method.id, evidence, shown)
    difference = evidence.of("difference", method.id)
    stops = evidence.of("stop_request", method.id)
    if method.id != case.configuration.method and not (stops and stops.n):
        values["stop_request"] = words["no_value"]  # none was asked for with it: nothing is missing
    timed, untimed = timed_days(case, method.id)
    return values | {
        "notes_count": _otherwise(method.done_in_notes, evidence.of("success", method.id)),
        "notes_stops": _otherwise(method.stops_in_notes, stops),
        "notes_say": method.notes_say or "",
        "id": method.id,
        "name": method.name,
        "setup": _setup(method, words),
        "changed": method.changed or "",
        "changed_on": method.changed_on,
        "chair": method.chair or "",
        "speed_m_s": method.speed_m_s,
        "asked_for": method.id == case.configuration.method,
        "role": "chosen" if method.id == case.configuration.method else "",
        "is_same_control": is_same_control(case, method),
        "tried": evidence.of("success", method.id) is not None,
        "by_task": tuple(
            shown(evidence.of("success", method.id, row["id"])) or words["no_value"] for row in tasks_apart(case)
        ),
        "verdict": difference.verdict if difference else "",
        "timed_on": timed,
        "untimed_on": untimed,
        "n_missed": stops.n - int(stops.k or 0) if stops else 0,
        "_labels": {"setup": f"how the {method.name} was set", **{name: _label(name) for name in names}},
    }


def _otherwise(in_notes: tuple[int, int] | None, counted: Fact | None) -> str:
    """A count of notes, where the rows do not count the same; "" for none."""
    differs = counted and in_notes and in_notes != (counted.k, counted.n)
    return "{} of {}".format(*in_notes) if in_notes and differs else ""


def is_same_control(case: Case, method: Method) -> bool:
    """Whether it is the control asked for, set up or worn otherwise, and no alternative that is weighed for itself."""
    asked = case.requested_method
    weighed = {device.method for device in case.alternatives}
    return bool(
        asked and asked.device and method.device == asked.device and method.id != asked.id and method.id not in weighed
    )


def _setup(method: Method, words: Words) -> str:
    """How a control was set, with what was worn on the foot."""
    worn = words["footwear"].format(footwear=method.footwear) if method.footwear else ""
    return "; ".join(filter(None, (method.setup, worn)))


def prompts(case: Case, method: str, evidence: Evidence, shown: InWords) -> dict[str, Any]:
    """Spoken prompts and those by hand with a method, each None where a block of its attempts does not record them, and
    whether there were any by hand."""
    tried: dict[date, list[Tried]] = {}
    for row in case.tried:
        if row.method == method:
            tried.setdefault(row.date, []).append(row)
    counts = {
        name: shown(evidence.of(name, method))
        if all(any(getattr(row, name) is not None for row in rows) for rows in tried.values())
        else None
        for name in ("prompts_verbal", "prompts_physical")
    }
    by_hand = evidence.of("prompts_physical", method)
    return counts | {"helped_by_hand": bool(by_hand and by_hand.k)}


def trial_ends(case: Case) -> dict[str, bool]:
    """Whether every attempt was ended by the word: releases are timed from it, and each has its own."""
    return {
        "by_word": case.trial.release_from == "cue"
        and bool(case.tried)
        and all(row.slowest_s is not None for row in case.tried)
    }


def timed_days(case: Case, method: str) -> tuple[tuple[date, ...], tuple[date, ...]]:
    """Days on which releases were timed, and those of which it holds stops and none was; () where each day was, or
    none."""
    stop_tasks = case.trial.stop_tasks
    timed, with_stops = set[date](), set[date]()
    for tried in case.tried:
        if tried.method == method:
            timed |= {tried.date} if tried.slowest_s is not None else set()
            asked = tried.task in stop_tasks or (isinstance(tried, DayTotal) and tried.stops_asked)
            with_stops |= {tried.date} if asked else set()
    untimed = with_stops - timed
    return (tuple(sorted(timed)), tuple(sorted(untimed))) if timed and untimed else ((), ())


def done_told(case: Case) -> dict[str, bool]:
    """Whether it is known of the attempts written down as done that nobody helped by hand: by the rule that is
    recorded, or by what the rows record; and whether it is known what done means at all: totals of a clinic's own
    sheet do not say it."""
    return {"help": case.trial.done_rule == "no_contact_no_help" or help_is_recorded(case), "open": done_is_open(case)}


def counted_by(case: Case, evidence: Evidence) -> dict[str, bool]:
    """Whether the table of the methods tells collisions by distance and unintended activations by minutes; else both
    are told by attempts."""
    return {
        amount: not any(evidence.of(f"{name}_counted", method.id) for method in case.trial.methods)
        for name, amount in (("contacts", "distance"), ("unintended", "minutes"))
    }


_MOST_TASKS = 4


def tasks_apart(case: Case) -> Iterator[dict[str, str]]:
    """Tasks whose attempts a table tells apart: all but stops, which have a column of their own; none where they would
    be too many for the width of a page."""
    tasks = case.trial.driving_tasks
    for task in tasks if len(tasks) <= _MOST_TASKS else ():
        yield {"id": task.id, "name": task.name}


def _label(name: str) -> str:
    return {
        "success": "successful attempts",
        "stop_request": "stops on command",
        "contacts": "contacts and distance",
        "unintended": "unintended activations and minutes",
        "release": "release times",
        "release_slowest": "release times",
        "stop_time": "times to stop",
        "fatigue_rise": "fatigue before and after",
        "tone_rise": "stiffness before and after",
    }.get(name, name.replace("_", " "))


def chosen_method(case: Case, evidence: Evidence, shown: InWords, words: Words) -> dict[str, Any]:
    """The row of the method asked for; one of gaps alone where none is named."""
    method = case.requested_method
    if method is None:
        method = Method(id="none", name="requested control")
        return method_row(case, method, evidence, shown, words) | {
            "name": None,
            "_labels": {"name": "requested control"},
        }
    return method_row(case, method, evidence, shown, words)


def trial_sessions(case: Case, evidence: Evidence, shown: InWords) -> Iterator[dict[str, Any]]:
    """Successful attempts with the requested control, day by day; nothing where there was one day alone."""
    days = sorted({row.date for row in case.tried if row.method == case.configuration.method})
    for day in days if len(days) > 1 else ():
        yield {
            "on": day,
            "success": shown(evidence.of("session", case.configuration.method, day.isoformat(), "success")),
            "_labels": {"success": "successful attempts"},
        }


def trial_places(case: Case) -> Iterator[dict[str, Any]]:
    """The places of the trial, each with its days in their order, as the visits of these days name them; None of days
    whose visit names none. Nothing where the trial itself names its place, or no visit does."""
    days = sorted({row.date for row in case.tried})
    place_on = {visit.on: visit.place for visit in case.visits if visit.place and not visit.is_call}
    places: dict[str, list[date]] = {}
    unplaced = [day for day in days if day not in place_on]
    if case.trial.place is None and len(unplaced) < len(days):
        for day in days:
            places.setdefault(place_on.get(day, ""), []).append(day)
    for place, on in places.items():
        yield {"place": place or None, "on": tuple(on), "_labels": {"place": "where it was held then"}}


def unfair(case: Case, evidence: Evidence, words: Words) -> Iterator[dict[str, Any]]:
    """Signs that something other than the control may explain a difference, as sentences."""
    names = {method.id: method.name for method in case.trial.methods}
    offered = {device.method for device in case.alternatives if device.method}  # another set-up of it is no rival
    compared = {name.split(".")[-1] for name in evidence if name.startswith("difference.")}
    others = compared & offered or compared
    of_code: dict[str, list[str]] = {}
    for fact in evidence.values():
        if fact.id.startswith("unfair.") and fact.verdict != "none":
            method = fact.id.split(".")[1]
            if method in offered or not offered:
                of_code.setdefault(fact.verdict, []).append(method)
    for code, methods in of_code.items():
        all_others = len(methods) > 1 and others == set(methods)
        listed = (
            words["other_controls"]
            if all_others
            else words["lists"]["or"].join(words["the"].format(names[m]) for m in methods)
        )
        yield {"sign": words["unfair"][code].format(method=listed)}


class TrialPlanned(TypedDict):
    """What a plan made before the first attempt kept out; nothing where there was none, or where it kept out nothing.

    so     each as words that follow "so that"
    names  of the controls of the plan that have rows
    """

    on: date | None
    names: tuple[str, ...]
    so: tuple[str, ...]


def trial_planned(case: Case, words: Words) -> TrialPlanned:
    """The plan of the trial, as far as the rows show that it was kept."""
    pairs = kept(case) if is_planned_before(case) else ()
    codes = kept_out(pairs)
    names = {method.id: method.name for method in case.trial.methods}
    return {
        "on": case.trial.plan.on if codes else None,
        "names": tuple(names[method] for method in planned_methods(pairs)),
        "so": tuple(says for code, says in words["kept_out"].items() if code in codes),
    }
