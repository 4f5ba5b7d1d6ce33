"""The emergency page: what a stranger must know, in the order of seconds; nothing on it is ours.

A step stands there in the words of whoever gave it, with the day, or in those of a row that the clinic has accepted;
else there is a gap in its place. The condition is named only where that was agreed to.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from typing import TypedDict

from docgen.case.emergency import Accepted, EmergencySign, EmergencyStep
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.documents.emergency_answers import answers_on_card, answers_on_page, label_on_page
from docgen.documents.emergency_steps import columns, n_first, n_shared, step_row, two_states
from docgen.documents.made_from import made_from
from docgen.documents.measures import Words, decimal
from docgen.documents.phrase import inside
from docgen.fit.condition import answer_to, emergency_wanted, of_case, printable
from docgen.fit.condition_asked import asked_of

MADE_FROM = {
    # the day of birth is told by this page alone, and only where the client agreed to that: so it is of its class
    "emergency_sheet": made_from(
        "emergency",
        Privacy.NAME,
        restart=("people.name", "people.relation", "people.phone"),
        given=("people.name", "people.relation"),
        born_on="emergency.consent",
    ),
    "emergency_limits": made_from("emergency.calls", phone=("people.phone",)),
    "emergency_signs": made_from("emergency.signs"),
    "emergency_first": made_from("emergency.steps"),
    "emergency_steps": made_from("emergency.steps"),
    "emergency_columns": made_from("emergency.steps"),
    "emergency_calls": made_from("emergency.calls", name=("people.name",), phone=("people.phone",)),
    "emergency_numbers": made_from("emergency.numbers", "conditions.answers", by="people.name"),
}

_TO_WRITE_IN = "______________"  # in place of a name
_BY_ROLE = "emergency_roles"


class Sheet(TypedDict):
    """What the page says besides its lists; empty where nothing is recorded and nothing is missed.

    wanted    whether a condition or a step calls for the page at all
    alarm     the signs at which the person is first brought upright, whatever else they may be taken for; empty where
              no condition has any
    first_state, second_state
              the two states that the steps tell apart, over a column each; empty where the steps are one list
    first_name, second_name
              what each is called: the word before its signs, where it has one
    call_first  what is said on the phone at signs that move nobody and whose first move is the call itself
    from_delivery  the chair that the page tells of is not there yet
    medicine, allergies, address, entry, born_on
              empty unless it was agreed that the page may tell them
    crew      whether that was agreed of medicine, address and what a crew needs besides
    restart   who must say that driving may begin again, each with role and number, in this order
    limits_wanted  there are steps, and such limits are not recorded
    given     who gave or accepted a step, each with the day
    """

    wanted: bool
    alarm: str | None
    cannot: str | None
    can: str
    condition: str
    first_state: str
    second_state: str
    first_name: str
    second_name: str
    call_first: tuple[str, ...]
    from_delivery: bool
    medicine: str
    allergies: str
    address: str
    entry: str | None
    born_on: date | str | None
    crew: bool
    after: str
    restart: tuple[str, ...]
    limits_wanted: bool
    given: tuple[str, ...]
    agreed_by: str | None
    agreed_on: date | None
    may_hang: str | None
    _labels: dict[str, str]


class Limit(TypedDict):
    """A number that is called at once, and at what, whatever step it is at: each sign by itself."""

    phone: str
    signs: tuple[str, ...]


class Sign(TypedDict):
    """What is seen, the first move then, what comes after it, and what to say on the phone.

    any_one  one alone of what it lists is enough
    then     empty where the steps of the page are for it
    """

    says: str
    any_one: bool
    first: str | None
    then: str | None
    say: str | None
    _labels: dict[str, str]


class Call(TypedDict):
    """Whom to call."""

    name: str | None
    phone: str | None
    answers: str | None
    say: str
    call_if: str
    at_once: str
    _labels: dict[str, str]


class NumberSet(TypedDict):
    """A number of this person, with who set it and when, and what is done at it; says is "" where nothing is told."""

    name: str
    value: str
    says: str
    by: str | None
    on: date | None
    _labels: dict[str, str]


_CANNOT = re.compile(r"^(?:(?:s?he|they|el|ella) )?(?:cannot|can not|can['’]t|no puede) ", re.IGNORECASE)


def emergency_tables(case: Case, words: Words) -> dict[str, object]:
    """The tables of the emergency page, by name."""
    emergency, consent = case.emergency, case.emergency.consent
    may_tell_crew = bool(consent.names_medicine and consent.given_by)
    states = two_states(case)
    sheet: Sheet = {
        "wanted": emergency_wanted(case),
        "alarm": _alarm(case, words),
        "cannot": _CANNOT.sub("", emergency.cannot) if emergency.cannot else None,
        "can": emergency.can or "",
        "condition": _agreed_text(emergency.condition, bool(consent.names_condition and consent.given_by)),
        "first_state": states[0] if states else "",
        "second_state": states[1] if states else "",
        "first_name": states[0].partition(":")[0] if states else "",
        "second_name": states[1].partition(":")[0] if states else "",
        "call_first": tuple(_call_first(case)),
        "from_delivery": not case.dates.delivered_on,
        "medicine": _agreed_text(emergency.medicine, may_tell_crew),
        "allergies": _agreed_text(emergency.allergies, may_tell_crew),
        "address": _agreed_text(emergency.address, may_tell_crew),
        "entry": emergency.entry if may_tell_crew else "",
        "born_on": _born_on(case) if may_tell_crew else "",
        "crew": may_tell_crew,
        "after": emergency.after or "",
        "restart": cleared_by(case, words),
        "limits_wanted": bool(emergency.steps) and not any(call.at_once for call in emergency.calls),
        "given": tuple(_given(case, words)),
        "agreed_by": consent.given_by,
        "agreed_on": consent.on,
        "may_hang": consent.may_hang,
        "_labels": {
            "cannot": "what the client cannot do",
            "alarm": "the signs at which the emergency page comes first",
            "entry": "how whoever comes gets in",
            "born_on": "whether the date of birth may be told, and that date",
            "may_hang": "where this page may hang",
            "agreed_by": "who agreed to this page",
            "agreed_on": "when this page was agreed to",
        },
    }
    return {
        "emergency_sheet": sheet,
        "emergency_limits": tuple(_limits(case)),
        "emergency_signs": tuple(_signs(case)),
        "emergency_answers": tuple(answers_on_page(case, words)),
        "daily_answers": tuple(answers_on_card(case, words)),
        "emergency_first": tuple(step_row(case, step) for step in emergency.steps[: n_first(case)]),
        "emergency_steps": tuple(step_row(case, step) for step in emergency.steps[n_first(case) : n_shared(case)]),
        "emergency_columns": tuple(columns(case)),
        "emergency_calls": tuple(_calls(case)),
        "emergency_numbers": tuple(_numbers(case, words)),
    }


def _agreed_text(text: str | None, is_agreed: bool) -> str:
    """A text that is told with consent alone; "" without, and where none is recorded."""
    return text if text and is_agreed else ""


def _alarm(case: Case, words: Words) -> str | None:
    """Signs that come before whatever else they may be taken for, in the case's words, and after them those at which
    the seat goes back instead: "" where no condition has any that come first, None where one has and nobody gave them.
    """
    first = {f"{c.id}.{topic.id}" for c in of_case(case).values() for topic in c.page if topic.comes_first}
    if not first:
        return ""
    signs_first = tuple(_signs(case, first))
    signs = "; ".join(inside(sign["says"], case.client.called or "") for sign in signs_first)
    is_one_enough = bool(signs_first) and all(sign["any_one"] for sign in signs_first)
    parts = {"signs": signs[:1].upper() + signs[1:], "besides": _besides(case, words)}
    return (str(words["any_one"]).format(**parts) if is_one_enough else signs[:1].upper() + signs[1:]) or None


def _besides(case: Case, words: Words) -> str:
    """Signs at which the seat goes back, as they follow in the sentence; "" where there are none.

    What such a sign leaves out follows a comma: without that more people open the page, and the page sorts them.
    """
    back = [sign for sign in case.emergency.signs if sign.serves and sign.moves == "back"]
    of_back = [sign.says if sign.any_one else sign.says.partition(",")[0] for sign in back]
    return str(words["any_one_besides"]).format(signs=", ".join(of_back)) if of_back else ""


def cleared_by(case: Case, words: Words) -> tuple[str, ...]:
    """Who must say, after an emergency, that driving may begin again: each with role and number, in this order.

    Whoever has no name on record must agree all the same: in place of the name is room to write it.
    """
    names = (_with_role(case, who, words, _TO_WRITE_IN, with_phone=True) for who in case.emergency.restart_by)
    return tuple(name for name in names if name)


def _call_first(case: Case) -> Iterator[str]:
    """Each sign at which the person is not moved and the call itself comes first."""
    number = case.client.emergency_number
    for sign in case.emergency.signs:
        is_call = bool(number and number in (sign.first or ""))
        if sign.by is not None and sign.on is not None and sign.moves == "nobody" and is_call:
            yield sign.says


def _limits(case: Case) -> Iterator[Limit]:
    """Each number that is called at once, with the signs that the record parts by a semicolon."""
    for call in case.emergency.calls:
        person = case.person(call.who)
        phone = call.phone or (person.phone if person else None)
        if phone and call.at_once:
            yield {"phone": phone, "signs": tuple(sign.strip(" .") for sign in call.at_once.split(";"))}


def _signs(case: Case, serving: frozenset[str] | set[str] = frozenset()) -> Iterator[Sign]:
    """Signs with who gave them and when; only those of a topic in `serving` where it names any."""
    labels = {"first": "the first move then", "then": "what comes after that", "say": "what to say on the phone then"}
    stepped = {topic.partition(".")[0] for step in case.emergency.steps for topic in step.serves}
    for sign in case.emergency.signs:
        if sign.by is not None and sign.on is not None and (not serving or serving & set(sign.serves)):
            has_steps = stepped & {topic.partition(".")[0] for topic in sign.serves}
            then = sign.then or ("" if has_steps else None)
            yield {
                "says": sign.says,
                "any_one": bool(sign.any_one),
                "first": sign.first,
                "then": then,
                "say": sign.say,
                "_labels": labels,
            }


def _born_on(case: Case) -> date | str | None:
    """The date of birth where it may be told, "" where the client said no; None where nobody asked, or it lacks."""
    return (
        ""
        if case.emergency.consent.names_birth_date is False
        else (case.client.born_on if case.emergency.consent.names_birth_date else None)
    )


def _calls(case: Case) -> Iterator[Call]:
    for call in case.emergency.calls:
        person = case.person(call.who)
        yield {
            "name": call.name or (person.name if person else None),
            "phone": call.phone or (person.phone if person else None),
            "answers": call.answers,
            "say": call.say or "",
            "call_if": call.call_if or "",
            "at_once": call.at_once or "",
            "_labels": {"name": "who is called", "phone": "their number", "answers": "when they answer"},
        }


def _numbers(case: Case, words: Words) -> Iterator[NumberSet]:
    """Numbers of the case, and answers that a helper must know."""
    labels = {"by": "who set it", "on": "when it was set"}
    for number in case.emergency.numbers:
        set_by, name, value = _name(case, number.by), number.name, number.value
        yield {"name": name, "value": value, "says": "", "by": set_by, "on": number.on, "_labels": labels}
    for condition, question in asked_of(case):
        given = answer_to(case, condition.id, question.id)
        if not question.on_page or given is None:
            continue
        value = decimal(f"{given.number:g}", words) if given.number is not None else ""
        if given.day is not None:
            value = _day(given.day, words)
        if value:
            name = label_on_page(condition.id, question, words)
            says, set_by = given.says or "", _name(case, given.by)
            yield {"name": name, "value": value, "says": says, "by": set_by, "on": given.on, "_labels": labels}


def _given(case: Case, words: Words) -> Iterator[str]:
    """Who gave the steps and signs that the page shows, day by day, and who accepted them for the clinic."""
    accepted: dict[str, Accepted] = {row.row: row for row in case.accepted}
    entries: tuple[EmergencySign | EmergencyStep, ...] = (*case.emergency.signs, *case.emergency.steps)
    given: dict[date, dict[str, None]] = {}
    accepting: dict[str, None] = {}
    for entry in entries:
        if isinstance(entry, EmergencyStep) and entry.row is not None:
            if printable(case, entry.row) is not None:
                row = accepted[entry.row]
                by = row.by.partition(",")[0]
                accepting[words["accepted_by"].format(name=by, day=_day(row.on, words))] = None
        elif (name := _with_role(case, entry.by, words)) and entry.on is not None:
            given.setdefault(entry.on, {})[name] = None
    for day, names in given.items():
        yield words["given_by"].format(name="; ".join(names), day=_day(day, words))
    yield from accepting


def _name(case: Case, person_id: str | None) -> str | None:
    person = case.person(person_id)
    return person.name if person else None


def _with_role(
    case: Case, person_id: str | None, words: Words, unnamed: str | None = None, *, with_phone: bool = False
) -> str | None:
    """The name of a person or what stands in its place, what they are to the client, and their number where it is
    asked for."""
    person = case.person(person_id)
    name = (person.name or unnamed) if person else None
    if person is None or name is None:
        return None
    role = person.relation or words.get(_BY_ROLE, {}).get(person.role, "")
    number = person.phone if with_phone else None
    is_told = ", ".join(words_of for words_of in (role, number) if words_of)
    return f"{name} ({is_told})" if is_told else name


def _day(day: date, words: Words) -> str:
    return str(words["date"].format(day=day.day, month=words["months"][day.month - 1], year=day.year))
