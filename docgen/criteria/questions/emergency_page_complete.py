"""The emergency page says what a stranger must know.

Asks: Where a condition calls for an emergency page, whether it has what the person cannot do, a step for everything
    that the condition's file names, whom to call and at which limits at once, and what comes after; whether one helper
    alone can do each step, and whether one sign alone is enough where several are listed; each step from the case, with
    who gave it and when, or from a row whose source was read and whose words the clinic has accepted.
Why a payer asks: A payer does not. A helper who does not know may do what harms.
What settles it: [emergency] with cannot, can, [[emergency.steps]] with serves, by and on, or row, and alone where needs
    is more than one; any_one of [[emergency.signs]]; [[emergency.calls]] with at_once; after and restart_by where a
    step moves the person; the clinic's accepted.toml.
Source: the rows of docgen/conditions; what belongs on such a page is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.emergency import EmergencySign, EmergencyStep
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.conditions import undiagnosed
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.emergency_signs import whom_to_call
from docgen.criteria.sentences import counted, listed
from docgen.fit.condition import printable, rows, to_ask

HEADING = "safety"
CLAIM = "The emergency page says what a stranger must know"
DANGER = True
SETTINGS: dict[str, object] = {}

_LIST = re.compile(r"[,;]|\b(?:and|or)\b")  # a sign that may be several
_Missing = tuple[str, KeyPath]  # what the page lacks, and where it belongs


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    topics = {f"{c.id}.{topic.id}": f"{topic.says} ({c.name})" for c in to_ask(case).values() for topic in c.page}
    emergency = case.emergency
    if not topics and not emergency.steps and not emergency.signs and not case.diagnoses:
        return undiagnosed("whether an emergency page is needed")
    if not topics and not emergency.steps and not emergency.signs:
        return does_not_apply("No condition that calls for an emergency page is recorded.", ("diagnoses",))
    if refused := _never_printed(emergency.steps):
        return refused
    entries: tuple[EmergencyStep | EmergencySign, ...] = (*emergency.steps, *emergency.signs)
    served = {topic for entry in entries if _prints(case, entry) for topic in entry.serves}
    missing: list[_Missing] = [
        *((says, ("emergency", "steps")) for topic, says in topics.items() if topic not in served),
        *_missing_of_page(case),
        *_unsigned(case),
    ]
    if missing:
        return cannot_tell(
            f"The emergency page lacks {listed(dict.fromkeys(what for what, _ in missing))}.",
            *dict.fromkeys(where for _, where in missing),
            mend=_mend(topics, served, case),
            danger=True,
            bare="The emergency page lacks what a stranger must know.",
        )
    return met(
        f"The emergency page has {counted(len(emergency.steps), 'step', 'steps')}, each given or accepted by name.",
        ("emergency",),
    )


def _on_call(case: Case) -> str:
    """Who comes on a call where the client is alone, in brackets: perhaps whom the page is to name."""
    people = [person for call in whom_to_call(case) if call.who and (person := case.person(call.who))]
    known = listed(f"{person.name or person.id}, {person.phone}," for person in people if person.phone)
    comes = "comes" if len(people) == 1 else "come"
    return f" ({known} {comes} on a call where the client is alone)" if known else ""


def _missing_of_page(case: Case) -> Iterator[_Missing]:
    """What every emergency page must have and this one lacks."""
    emergency = case.emergency
    if not emergency.cannot:
        yield "what the person cannot do", ("emergency", "cannot")
    if not any(_has_number(case, at) for at in range(len(emergency.calls))):
        yield f"whom to call, and the number{_on_call(case)}", ("emergency", "calls")
    if any(not call.answers for call in emergency.calls):
        yield "when those answer who are called", ("emergency", "calls")
    if emergency.steps and not any(call.at_once for call in emergency.calls):
        yield "at which limits help is called at once, whatever step it is at", ("emergency", "calls")
    for at, step in enumerate(emergency.steps):
        if (step.needs or 1) > 1 and not step.alone:
            yield f"what one helper alone does at step {at + 1}", ("emergency", "steps", at, "alone")
    for at, sign in enumerate(emergency.signs):
        if sign.any_one is None and _LIST.search(sign.says):
            yield "whether one sign alone is enough where several are listed", ("emergency", "signs", at, "any_one")
    if _moves_person(emergency.steps) and not (emergency.after and emergency.restart_by):
        yield (
            "after the person is moved, whether the control is still reached and who lets driving begin again",
            ("emergency", "after"),
        )


def _unsigned(case: Case) -> Iterator[_Missing]:
    """Steps and numbers without who gave them and when."""
    for at, step in enumerate(case.emergency.steps):
        if not _prints(case, step):
            yield f"who gave step {at + 1} and when, or the row accepted", ("emergency", "steps", at)
    for at, number in enumerate(case.emergency.numbers):
        if number.by is None or number.on is None:
            yield f"who set {number.name} and when", ("emergency", "numbers", at)


def _never_printed(steps: tuple[EmergencyStep, ...]) -> Answer | None:
    """A row asked for that no acceptance makes printable, for its source was not read."""
    for at, step in enumerate(steps):
        row = rows().get(step.row or "")
        if row is not None and not row.prints:
            return not_met(
                f"Step {at + 1} asks for row {row.id}, which is marked {row.mark} and has no words to print.",
                ("emergency", "steps", at, "row"),
                mend="Write the step in the words of whoever gives it, with by and on.",
            )
    return None


def _prints(case: Case, entry: EmergencyStep | EmergencySign) -> bool:
    """Whether an entry has words that may stand on the page."""
    if isinstance(entry, EmergencyStep) and entry.row is not None:
        return printable(case, entry.row) is not None
    return bool(entry.says) and entry.by is not None and entry.on is not None


def _has_number(case: Case, at: int) -> bool:
    call = case.emergency.calls[at]
    person = case.person(call.who)
    return bool(call.phone or (person and person.phone))


def _calls_lead_on(case: Case) -> bool:
    """Whether there are calls, each with what its answers lead to and one at least with a number."""
    calls = case.emergency.calls
    return all(call.answers for call in calls) and any(_has_number(case, at) for at in range(len(calls)))


def _moves_person(steps: tuple[EmergencyStep, ...]) -> bool:
    return any(step.moves in ("upright", "back", "straps_off") for step in steps)


def _mend(topics: dict[str, str], served: set[str], case: Case) -> str:
    emergency = case.emergency
    lacks = {
        "cannot under [emergency]": not emergency.cannot,
        "[[emergency.calls]] with answers and a phone": not _calls_lead_on(case),
        "at_once of [[emergency.calls]]": bool(emergency.steps) and not any(call.at_once for call in emergency.calls),
        "alone of each step that takes two": any((step.needs or 1) > 1 and not step.alone for step in emergency.steps),
        "any_one of [[emergency.signs]]": any(
            sign.any_one is None and _LIST.search(sign.says) for sign in emergency.signs
        ),
        "after and restart_by under [emergency]": _moves_person(emergency.steps)
        and not (emergency.after and emergency.restart_by),
        **{f"[[emergency.steps]] of {topic}": topic not in served for topic in topics},
        "by and on of each step and number": bool([*_unsigned(case)]),
    }
    unaccepted = [step.row for step in emergency.steps if step.row and printable(case, step.row) is None]
    accept = f" The clinic has not accepted {listed(dict.fromkeys(unaccepted))}, as worded." if unaccepted else ""
    steps = "; a step has says, by and on, or names a row that accepted.toml holds" if topics.keys() - served else ""
    return f"Write {listed(part for part, is_lacking in lacks.items() if is_lacking)}{steps}.{accept}"
