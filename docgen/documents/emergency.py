"""The emergency page: what a stranger must know, in the order of seconds; nothing on it is ours.

A step stands there in the words of whoever gave it, with the day, or in those of a row that the clinic has accepted;
else there is a gap in its place. The condition is named only where that was agreed to.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import zip_longest
from typing import TypedDict

from docgen.case.emergency import Accepted, EmergencySign, EmergencyStep
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words, decimal
from docgen.fit.condition import answer_to, asked_of, of_case, printable

MADE_FROM = {
    "emergency_sheet": made_from("emergency", Privacy.NAME, restart="people.name", given="people.name"),
    "emergency_signs": made_from("emergency.signs"),
    "emergency_steps": made_from("emergency.steps"),
    "emergency_columns": made_from("emergency.steps"),
    "emergency_calls": made_from("emergency.calls", name=("people.name",), phone=("people.phone",)),
    "emergency_numbers": made_from("emergency.numbers", "conditions.answers", by="people.name"),
}

_STEP_LABEL = "the step, in the words of whoever gives it"
_COLUMNS = ("first", "second")


class Sheet(TypedDict):
    """What the page says besides its lists; empty where nothing is recorded and nothing is missed.

    wanted    whether a condition or a step calls for the page at all
    first_state, second_state
              the two states that the steps tell apart, over a column each; empty where the steps are one list
    medicine, allergies, address
              empty unless it was agreed that the page may tell them
    given     who gave or accepted a step, each with the day
    """

    wanted: bool
    cannot: str | None
    can: str
    condition: str
    first_state: str
    second_state: str
    medicine: str
    allergies: str
    address: str
    after: str
    restart: str
    given: tuple[str, ...]
    agreed_by: str | None
    agreed_on: date | None
    may_hang: str | None
    _labels: dict[str, str]


class Sign(TypedDict):
    """What is seen, the first move then, and what to say on the phone."""

    says: str
    first: str | None
    say: str | None
    _labels: dict[str, str]


class Step(TypedDict):
    """One step; None where it is in nobody's words, which shows as a gap."""

    says: str | None
    if_seen: str
    _labels: dict[str, str]


class SideBySide(TypedDict):
    """What is done at the same turn in each of two states that look alike; "" below the last step of one of them."""

    number: str
    first: str | None
    second: str | None
    _labels: dict[str, str]


class Call(TypedDict):
    """Whom to call."""

    name: str | None
    phone: str | None
    answers: str | None
    say: str
    call_if: str
    _labels: dict[str, str]


class NumberSet(TypedDict):
    """A number of this person, with who set it and when."""

    name: str
    value: str
    by: str | None
    on: date | None
    _labels: dict[str, str]


def emergency_wanted(case: Case) -> bool:
    """Whether the case has an emergency page: a condition calls for one, or steps are recorded."""
    return bool(case.emergency.steps) or any(condition.page for condition in of_case(case).values())


def emergency_tables(case: Case, words: Words) -> dict[str, object]:
    """The tables of the emergency page, by name."""
    emergency, consent = case.emergency, case.emergency.consent
    may_tell_crew = bool(consent.names_medicine and consent.given_by)
    states = _two_states(case)
    sheet: Sheet = {
        "wanted": emergency_wanted(case),
        "cannot": emergency.cannot,
        "can": emergency.can or "",
        "condition": (emergency.condition or "") if consent.names_condition and consent.given_by else "",
        "first_state": states[0] if states else "",
        "second_state": states[1] if states else "",
        "medicine": (emergency.medicine or "") if may_tell_crew else "",
        "allergies": (emergency.allergies or "") if may_tell_crew else "",
        "address": (emergency.address or "") if may_tell_crew else "",
        "after": emergency.after or "",
        "restart": _name(case, emergency.restart_by) or "",
        "given": tuple(dict.fromkeys(_given(case, words))),
        "agreed_by": consent.given_by,
        "agreed_on": consent.on,
        "may_hang": consent.may_hang,
        "_labels": {
            "cannot": "what the client cannot do",
            "may_hang": "where this page may hang",
            "agreed_by": "who agreed to this page",
            "agreed_on": "when this page was agreed to",
        },
    }
    return {
        "emergency_sheet": sheet,
        "emergency_signs": tuple(_signs(case)),
        "emergency_steps": tuple(_step(case, step) for step in emergency.steps[: _n_shared(case)]),
        "emergency_columns": tuple(_columns(case)),
        "emergency_calls": tuple(_calls(case)),
        "emergency_numbers": tuple(_numbers(case, words)),
    }


def _signs(case: Case) -> Iterator[Sign]:
    labels = {"first": "the first move then", "say": "what to say on the phone then"}
    for sign in case.emergency.signs:
        if sign.by is not None and sign.on is not None:
            yield {"says": sign.says, "first": sign.first, "say": sign.say, "_labels": labels}


def _step(case: Case, step: EmergencyStep) -> Step:
    own = step.says if step.by is not None and step.on is not None else None
    says = _row_words(case, step.row) if step.row is not None else own
    return {
        "says": says,
        "if_seen": (step.if_seen or "") if says else "",
        "_labels": {"says": _STEP_LABEL},
    }


def _two_states(case: Case) -> tuple[str, str] | None:
    """The two states that the steps tell apart; None where they tell of one, or of more than a page holds abreast."""
    states = tuple(dict.fromkeys(step.if_seen for step in case.emergency.steps if step.if_seen))
    return (states[0], states[1]) if len(states) == 2 else None


def _n_shared(case: Case) -> int:
    """How many steps come first, whatever is seen; all of them where no two states are told apart."""
    steps = case.emergency.steps
    return next(at for at, step in enumerate(steps) if step.if_seen) if _two_states(case) else len(steps)


def _columns(case: Case) -> Iterator[SideBySide]:
    """The steps after the shared ones, for two states side by side.

    A step that holds always stands in both, so that whoever reads one column down misses nothing.
    """
    n_shared = _n_shared(case)
    later = case.emergency.steps[n_shared:]
    states = [
        [_step(case, step)["says"] for step in later if step.if_seen in (None, s)] for s in _two_states(case) or ()
    ]
    for at, (first, second) in enumerate(zip_longest(*states, fillvalue=""), n_shared + 1):
        yield {"number": f"{at}.", "first": first, "second": second, "_labels": dict.fromkeys(_COLUMNS, _STEP_LABEL)}


def _row_words(case: Case, row_id: str) -> str | None:
    """The words of an accepted row, in the language of the page; None where it may not be printed."""
    prints = printable(case, row_id)
    return next((row.in_language or prints for row in case.accepted if row.row == row_id), None) if prints else None


def _calls(case: Case) -> Iterator[Call]:
    for call in case.emergency.calls:
        person = case.person(call.who)
        yield {
            "name": call.name or (person.name if person else None),
            "phone": call.phone or (person.phone if person else None),
            "answers": call.answers,
            "say": call.say or "",
            "call_if": call.call_if or "",
            "_labels": {"name": "who is called", "phone": "their number", "answers": "when they answer"},
        }


def _numbers(case: Case, words: Words) -> Iterator[NumberSet]:
    """Numbers of the case, and answers that a helper must know."""
    labels = {"by": "who set it", "on": "when it was set"}
    for number in case.emergency.numbers:
        set_by, name, value = _name(case, number.by), number.name, number.value
        yield {"name": name, "value": value, "by": set_by, "on": number.on, "_labels": labels}
    for condition, question in asked_of(case):
        given = answer_to(case, condition.id, question.id)
        if not question.on_page or given is None:
            continue
        value = decimal(f"{given.number:g}", words) if given.number is not None else ""
        if given.day is not None:
            value = _day(given.day, words)
        if value:
            translated = words.get("emergency_labels", {}).get(f"{condition.id}.{question.id}")
            name = translated or str(words.get("original", "{text}")).replace("{text}", question.on_page)
            yield {"name": name, "value": value, "by": _name(case, given.by), "on": given.on, "_labels": labels}


def _given(case: Case, words: Words) -> Iterator[str]:
    """Who gave the steps and signs that the page shows, or accepted them for the clinic, with the day."""
    accepted: dict[str, Accepted] = {row.row: row for row in case.accepted}
    entries: tuple[EmergencySign | EmergencyStep, ...] = (*case.emergency.signs, *case.emergency.steps)
    for entry in entries:
        if isinstance(entry, EmergencyStep) and entry.row is not None:
            if printable(case, entry.row) is not None:
                row = accepted[entry.row]
                yield words["accepted_by"].format(name=row.by, day=_day(row.on, words))
        elif (name := _name(case, entry.by)) and entry.on is not None:
            yield words["given_by"].format(name=name, day=_day(entry.on, words))


def _name(case: Case, person_id: str | None) -> str | None:
    person = case.person(person_id)
    return person.name if person else None


def _day(day: date, words: Words) -> str:
    return str(words["date"].format(day=day.day, month=words["months"][day.month - 1], year=day.year))
