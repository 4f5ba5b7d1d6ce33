"""What a stranger must know in an emergency, and the conditions that make it necessary.

No step is ours: each comes from the case, with who gave it and when, or is a row of a condition's file that the clinic
has accepted (`Accepted`).
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import BeforeValidator, StringConstraints

from docgen.case.base import Id, Part, Words, key, many, must, part
from docgen.case.privacy import Privacy

Topic = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]{0,39}\.[a-z][a-z0-9_]{0,39}$")]  # condition.topic
RowId = Annotated[str, StringConstraints(pattern=r"^[A-Z][A-Z0-9]{0,3}-[0-9]{1,3}$")]  # of a condition's file
Moves = Literal["drive_off", "upright", "back", "straps_off", "nobody"]


def _in_a_list(value: object) -> object:
    """One id may stand by itself, as in older cases."""
    return (value,) if isinstance(value, str) else value


InOrder = Annotated[tuple[Id, ...], BeforeValidator(_in_a_list)]


class ConditionAnswer(Part):
    """What is answered to one question that a condition's file asks, in the form that it asks for."""

    ask: Id = must(Privacy.EMERGENCY, "what is asked of the condition", "ever")
    yes: bool | None = key(Privacy.EMERGENCY, "the answer, where it is yes or no", True)
    number: float | None = key(Privacy.EMERGENCY, "the answer, where it is a number", 30, ge=0, le=100_000)
    day: date | None = key(Privacy.EMERGENCY, "the answer, where it is a day", date(2026, 9, 1))
    who: tuple[Id, ...] = key(Privacy.EMERGENCY, "the answer, where it is people", ["aunt"], default=(), max_length=20)
    says: Words | None = key(Privacy.EMERGENCY, "the answer in words", "Twice since the injury, from a bent tube.")
    by: Id | None = key(Privacy.EMERGENCY, "who answered", "practitioner")
    on: date | None = key(Privacy.EMERGENCY, "date answered", date(2026, 3, 3))


class NamedCondition(Part):
    """A condition with its answers, or one that a diagnosis code suggests and that is not there."""

    id: Id = must(Privacy.DIAGNOSIS, "condition", "epilepsy")
    present: bool = key(
        Privacy.DIAGNOSIS, "whether it is there; false where only a code suggests it", True, default=True
    )
    level: str | None = key(
        Privacy.DIAGNOSIS, "level of a spinal cord injury", "T4", pattern=r"^(C[1-8]|T([1-9]|1[0-2])|L[1-5]|S[1-5])$"
    )
    says: Words | None = key(Privacy.DIAGNOSIS, "why it is not there, or what is particular about it", "Outgrown.")
    by: Id | None = key(Privacy.DIAGNOSIS, "who says so", "practitioner")
    on: date | None = key(Privacy.DIAGNOSIS, "date of that", date(2026, 3, 3))
    answers: tuple[ConditionAnswer, ...] = many("answers to what is asked of the condition")


class EmergencySign(Part):
    """What is seen, and the first move then: two that look alike stand side by side."""

    says: Words = must(Privacy.EMERGENCY, "what is seen, in the person's own words", "Pounding headache, red face.")
    any_one: bool | None = key(Privacy.EMERGENCY, "whether one alone of what it lists is enough", True)
    first: Words | None = key(Privacy.EMERGENCY, "the first move then, in words", "Seat all the way up.")
    then: Words | None = key(
        Privacy.EMERGENCY, "what comes after that, where no step is for it", "Do what the person at 911 says."
    )
    say: Words | None = key(Privacy.EMERGENCY, "what to tell the crew or the nurse then", "“autonomic dysreflexia”")
    moves: Moves | None = key(Privacy.EMERGENCY, "which way that moves the person", "upright")
    serves: tuple[Topic, ...] = key(
        Privacy.EMERGENCY, "what of a condition it serves", ["epilepsy.seizure"], default=(), max_length=10
    )
    by: Id | None = key(Privacy.EMERGENCY, "who gave it", "practitioner")
    on: date | None = key(Privacy.EMERGENCY, "date it was given", date(2026, 3, 3))


class EmergencyStep(Part):
    """One step, in the order of seconds, of the one list there is.

    Beside the step of a state that looks like it, each of its lines is a row, or each sentence where it has one line.
    """

    says: Words | None = key(Privacy.EMERGENCY, "the step in plain words", "Push the red button.")
    row: RowId | None = key(
        Privacy.EMERGENCY, "words that the clinic has accepted; own words then say who is meant", "C1-41"
    )
    if_seen: Words | None = key(Privacy.EMERGENCY, "when the step holds, if not always", "Headache or red face:")
    moves: Moves | None = key(
        Privacy.EMERGENCY, "what it does: drive off, seat or person upright, back, straps off, nobody", "drive_off"
    )
    with_help: Words | None = key(
        Privacy.EMERGENCY,
        "what is done besides once a second helper is there; the step itself is for one alone",
        "One holds her trunk: only then open the chest strap.",
    )
    needs: int | None = key(
        Privacy.EMERGENCY, "how many people the step itself takes, where it is not for one alone", 2, ge=1, le=5
    )
    alone: Words | None = key(
        Privacy.EMERGENCY, "what one helper alone does in its place", "Keep her up, leave the strap closed, call 911."
    )
    serves: tuple[Topic, ...] = key(
        Privacy.EMERGENCY, "what of a condition it serves", ["epilepsy.seizure"], default=(), max_length=10
    )
    by: Id | None = key(Privacy.EMERGENCY, "who gave it", "practitioner")
    on: date | None = key(Privacy.EMERGENCY, "date it was given", date(2026, 3, 3))


class EmergencyCall(Part):
    """Whom to call, and when they answer."""

    who: Id | None = key(
        Privacy.EMERGENCY, "person whose number it is, or who answers of nobody of the case", "practitioner"
    )
    name: Words | None = key(Privacy.EMERGENCY, "who answers, where it is nobody of the case", "Nurse line")
    phone: Words | None = key(Privacy.EMERGENCY, "the number, where it is nobody of the case", "555-0100")
    answers: Words | None = key(Privacy.EMERGENCY, "when they answer", "day and night")
    say: Words | None = key(Privacy.EMERGENCY, "what to say first", "Say “autonomic dysreflexia”.")
    call_if: Words | None = key(Privacy.EMERGENCY, "when to call them", "you were shown these steps")
    at_once: Words | None = key(
        Privacy.EMERGENCY,
        "limits at which they are called at once, whatever step it is at",
        "no better after 10 minutes",
    )


class EmergencyNumber(Part):
    """A number of this person that a helper must know, with who set it and when."""

    name: Words = must(Privacy.EMERGENCY, "what it is", "usual blood pressure")
    value: Words = must(Privacy.EMERGENCY, "the number with its unit", "100 over 60")
    by: Id | None = key(Privacy.EMERGENCY, "who set it", "practitioner")
    on: date | None = key(Privacy.EMERGENCY, "date it was set", date(2026, 3, 3))


class Settled(Part):
    """Two rows of conditions that conflict, and what the therapist decided."""

    conflict: str = must(Privacy.EMERGENCY, "conflict that was settled", "K-01", pattern=r"^[A-Z]+-[0-9]+$")
    says: Words | None = key(Privacy.EMERGENCY, "what was decided", "With a headache she stays up, whatever else.")
    by: Id | None = key(Privacy.EMERGENCY, "who decided", "practitioner")
    on: date | None = key(Privacy.EMERGENCY, "date decided", date(2026, 3, 3))


class Consent(Part):
    """Who agreed that the page exists and what it may tell."""

    given_by: Words | None = key(Privacy.EMERGENCY, "who agreed", "Robin")
    on: date | None = key(Privacy.EMERGENCY, "date agreed", date(2026, 3, 3))
    names_condition: bool | None = key(Privacy.EMERGENCY, "whether the page may name the condition", True)
    names_medicine: bool | None = key(
        Privacy.EMERGENCY, "whether the page may tell medicine, allergies, address and entry to whoever comes", True
    )
    names_birth_date: bool | None = key(
        Privacy.EMERGENCY, "whether the page that hangs may tell the date of birth to whoever comes", True
    )
    may_hang: Words | None = key(Privacy.EMERGENCY, "where the page may hang", "on the back of the chair")


class Emergency(Part):
    """The emergency page: what a stranger must know, in the order of seconds."""

    cannot: Words | None = key(
        Privacy.EMERGENCY, "what the person cannot do: speak, move, breathe alone", "move below the shoulders"
    )
    can: Words | None = key(Privacy.EMERGENCY, "how the person says yes, no and that something hurts", "She speaks.")
    condition: Words | None = key(
        Privacy.EMERGENCY, "the condition in plain words, where a stranger must know it", "Spinal cord injury."
    )
    signs: tuple[EmergencySign, ...] = many("what is seen, and the first move then")
    steps: tuple[EmergencyStep, ...] = many("steps of the emergency page, one list in the order of seconds")
    calls: tuple[EmergencyCall, ...] = many("whom to call")
    numbers: tuple[EmergencyNumber, ...] = many("numbers of this person that a helper must know")
    medicine: Words | None = key(
        Privacy.EMERGENCY,
        "medicine that a crew must know of, who gives it, or that there is none",
        "No medicine for blood pressure is prescribed.",
    )
    allergies: Words | None = key(Privacy.EMERGENCY, "allergies, or that none are known", "Latex.")
    address: Words | None = key(Privacy.EMERGENCY, "address to tell on the phone, with the floor", "12 Example Way")
    entry: Words | None = key(
        Privacy.EMERGENCY, "how whoever comes gets in: door, elevator, who has a key", "The neighbor in 4B has a key."
    )
    after: Words | None = key(
        Privacy.EMERGENCY, "after it: whether the control is still reached, and what comes first", "Check the pads."
    )
    restart_by: InOrder = key(
        Privacy.EMERGENCY,
        "who must say that driving may begin again: each of them, in this order",
        ["nurse", "practitioner"],
        default=(),
        max_length=5,
    )
    settled: tuple[Settled, ...] = many("conflicts between conditions that were settled")
    consent: Consent = part("consent to the emergency page", Consent)


class Accepted(Part):
    """A row of a condition's file that the clinic lets the emergency page print, in the words accepted."""

    row: RowId = must(Privacy.EMERGENCY, "row of a condition's file", "C1-41")
    prints: Words = must(Privacy.EMERGENCY, "the words accepted, as the file has them", "Belt always on.")
    in_language: Words | None = key(
        Privacy.EMERGENCY, "the same words in the language of the page, by the phrases of the case", "Siempre."
    )
    by: Words = must(Privacy.EMERGENCY, "who accepted it for the clinic, by name", "Jo Example, OTR/L")
    on: date = must(Privacy.EMERGENCY, "date accepted", date(2026, 3, 3))
