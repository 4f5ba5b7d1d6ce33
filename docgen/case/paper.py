"""The paper trail: the encounter, the order, the authorization, delivery, and a caregiver who drives instead."""

from datetime import date
from typing import Literal

from docgen.case.base import Id, Part, Words, key, many, must
from docgen.case.privacy import Privacy

Element = Literal["client", "items", "quantity", "date", "practitioner", "signature"]
Question = Literal["what_limits", "cane_or_walker", "manual_chair", "scooter", "drives_safely"]
Codes = tuple[str, ...]


class OutsideRecord(Part):
    """A record that someone outside the clinic wrote, and that the request rests on."""

    what: Words = must(Privacy.CLINICAL, "what kind of record it is", "swallowing study")
    author: Words | None = key(Privacy.CLINICAL, "who wrote it", "Ada Example, MD")
    organisation: Words | None = key(Privacy.CLINICAL, "where it was written", "Example General Hospital")
    on: date | None = key(Privacy.CLINICAL, "date of the record", date(2026, 1, 20))
    year: int | None = key(Privacy.CLINICAL, "year of the record, where its day is not known", 2015, ge=1900, le=2199)
    says: Words | None = key(Privacy.CLINICAL, "what of it bears on the request", "Thin liquids are swallowed safely.")


class Encounter(Part):
    """The practitioner's visit about mobility; its day is dates.encounter_on."""

    by: Id | None = key(Privacy.FUNDING, "who held the encounter", "doctor")
    mode: Literal["in_person", "telehealth"] | None = key(Privacy.FUNDING, "how the encounter was held", "in_person")
    narrative: bool | None = key(
        Privacy.FUNDING, "whether it is written up in the practitioner's own words, not on a form", True
    )
    mobility_was_reason: bool | None = key(
        Privacy.FUNDING, "whether the note shows that mobility was a main reason for it", True
    )
    separates_home_and_outside: bool | None = key(
        Privacy.FUNDING, "whether the note keeps need at home and need outside apart", True
    )
    signed: bool | None = key(Privacy.FUNDING, "whether its author signed the note", True)
    sent_on: date | None = key(Privacy.FUNDING, "date the note went to the supplier", date(2026, 3, 2))
    answers: tuple[Question, ...] = key(
        Privacy.FUNDING, "questions the note answers", ["what_limits", "scooter"], default=(), max_length=5
    )


class Order(Part):
    """The practitioner's written order for the chair; its day is dates.ordered_on."""

    signed_by: Id | None = key(Privacy.FUNDING, "who signed the order", "doctor")
    completed_by: Id | None = key(Privacy.FUNDING, "who filled in the parts of the order", "doctor")
    received_on: date | None = key(Privacy.FUNDING, "date the order reached the supplier", date(2026, 4, 10))
    has: tuple[Element, ...] = key(
        Privacy.FUNDING, "what the order holds", ["client", "items", "date"], default=(), max_length=6
    )
    codes: Codes = key(
        Privacy.FUNDING, "codes the order names, the base first", ["K0861", "E2330"], default=(), max_length=60
    )
    in_plan_of_care: bool | None = key(Privacy.FUNDING, "whether the order is part of a plan of care", True)
    base_looked_up_on: date | None = key(
        Privacy.FUNDING, "date the base code was verified on the PDAC product list", date(2026, 4, 9)
    )


class Authorization(Part):
    """Prior authorization by the payer."""

    needed: bool | None = key(
        Privacy.FUNDING, "whether the payer wants prior authorization, by its own word or list", True
    )
    requested_on: date | None = key(Privacy.FUNDING, "date prior authorization was requested", date(2026, 4, 14))
    decided_on: date | None = key(Privacy.FUNDING, "date of the decision", date(2026, 4, 24))
    decision: Literal["affirmed", "not_affirmed", "partly"] | None = key(
        Privacy.FUNDING, "decision on prior authorization", "affirmed"
    )
    tracking: Words | None = key(Privacy.FUNDING, "tracking number of the decision", "UTN-0000")
    valid_from: date | None = key(Privacy.FUNDING, "first day on which the authorization holds", date(2026, 4, 24))
    valid_until: date | None = key(Privacy.FUNDING, "last day on which the authorization holds", date(2026, 10, 24))
    codes: Codes = key(
        Privacy.FUNDING, "codes the request names, the base first", ["K0861", "E2330"], default=(), max_length=60
    )


class Reason(Part):
    """One reason a payer states for saying no."""

    says: Words = must(
        Privacy.DENIAL, "the reason in the payer's own words", "Safe operation of the requested control is not shown."
    )
    questions: tuple[str, ...] = key(
        Privacy.DENIAL,
        "questions that it touches",
        ["stops_on_request"],
        default=(),
        max_length=20,
    )
    adds: Words | None = key(
        Privacy.DENIAL,
        "what the evaluator adds to the answer, in own words",
        "The stops can be repeated before the deadline.",
    )


class Denial(Part):
    """A request that was denied, in the payer's own words."""

    denied_on: date | None = key(Privacy.DENIAL, "date of the denial", date(2026, 5, 18))
    deadline_on: date | None = key(Privacy.DENIAL, "last day for the appeal", date(2026, 7, 17))
    reference: Words | None = key(Privacy.DENIAL, "reference number of the denial", "D-0000")
    by: Id | None = key(Privacy.DENIAL, "who speaks for the payer", "reviewer")
    reasons: tuple[Reason, ...] = many("reasons the payer states")
    written_on: date | None = key(Privacy.DENIAL, "date on the appeal", date(2026, 6, 1))
    sent_on: date | None = key(Privacy.DENIAL, "date the appeal was sent", date(2026, 6, 2))


class Delivery(Part):
    """Handing over the chair; its day is dates.delivered_on."""

    street: Words | None = key(Privacy.FUNDING, "street and number of the delivery", "12 Hill Road")
    city: Words | None = key(Privacy.FUNDING, "city of the delivery", "Harbor Falls")
    state: Words | None = key(Privacy.FUNDING, "state of the delivery, in two letters", "OR")
    postal_code: Words | None = key(Privacy.FUNDING, "postal code of the delivery", "00000")
    place: Words | None = key(
        Privacy.FUNDING,
        "what to know of the place of delivery: floor, door, who is there and when; no number of the family",
        "second floor, by the elevator; her aunt opens, after three",
    )
    to_lessons: Words | None = key(
        Privacy.ORDER,
        "how the chair comes from there to the first place of training, while the way out is not measured",
        "The supplier takes it, empty, to the clinic, where it stays for the lessons there.",
    )
    signed_by: Literal["client", "family", "caregiver", "supplier", "other"] | None = key(
        Privacy.FUNDING, "who signed for the chair", "client"
    )
    signed_on: date | None = key(Privacy.FUNDING, "date on the proof of delivery", date(2026, 8, 1))
    lists_items: bool | None = key(
        Privacy.FUNDING, "whether the proof of delivery lists name, address, items and quantities", True
    )
    keep_until: date | None = key(Privacy.FUNDING, "date until which the records are kept", date(2033, 8, 1))
    service_on: date | None = key(Privacy.FUNDING, "first day of service", date(2026, 8, 1))


class Attendant(Part):
    """A caregiver who drives, where the client cannot with any control."""

    drives: bool | None = key(Privacy.NEED, "whether a caregiver drives instead of the client", False)
    by: Id | None = key(Privacy.NEED, "who drives", "aunt")
    client_cannot: Words | None = key(
        Privacy.NEED, "why the client cannot drive with any control", "Does not start or stop on a word."
    )
    cannot_push: Words | None = key(
        Privacy.NEED, "why this caregiver cannot push a manual chair", "Both shoulders, 20 m at most."
    )
    drives_safely: Words | None = key(
        Privacy.NEED, "how this caregiver drove in the trial", "40 minutes, no collision."
    )
    willing: bool | None = key(Privacy.NEED, "whether this caregiver is there, willing and able", True)
