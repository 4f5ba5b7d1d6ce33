"""Who: the request, the client, the diagnoses, the people and the dates."""

import re
from collections.abc import Sequence
from datetime import date, time
from typing import Literal

from docgen.case import usual
from docgen.case.base import Degrees, DiagnosisCode, Id, Language, Part, Words, key, many, must, part
from docgen.case.privacy import Privacy
from docgen.case.training import Day
from docgen.case.usual import Usual

KINDS = {
    "new_chair": "a chair with its control",
    "control_only": "another control on a chair already there, which stays",
    "replacement": "a chair in place of one that was lost or cannot be repaired, not a control alone",
}
_PHONE = re.compile(r"\b(?:tele)?phone\b", re.IGNORECASE)
KINDS_SAY = "; ".join(f"{kind}: {means}" for kind, means in KINDS.items())


ORDINALS = ("second", "third", "fourth", "fifth")  # of payers after the first
MOST_LATER_PAYERS = len(ORDINALS)


class LaterPayer(Part):
    """A payer that is asked once those before it have answered: its rules, its name, the client's number there."""

    payer: str = must(Privacy.FUNDING, "payer rules to check against", "medicaid_adult", pattern=r"^[a-z][a-z0-9_]*$")
    payer_name: Words | None = key(Privacy.FUNDING, "name of the payer", "Harbor State Medicaid")
    member_id: Words | None = key(Privacy.IDENTITY, "client's member number with this payer", "ABC-0000")
    plan_holder: Words | None = key(
        Privacy.IDENTITY, "whose plan it is, where the client is not the subscriber", "his mother, Jo Example"
    )


class Request(Part):
    """What is asked of whom."""

    payer: str = key(
        Privacy.FUNDING, "payer rules to check against", "general", default="general", pattern=r"^[a-z][a-z0-9_]*$"
    )
    payer_name: Words | None = key(Privacy.FUNDING, "name of the payer", "Harbor State Health Plan")
    plan_holder: Words | None = key(
        Privacy.IDENTITY, "whose plan it is, where the client is not the subscriber", "his father, Jo Example"
    )
    requested_on: date | None = key(Privacy.FUNDING, "date of the request", date(2026, 5, 4))
    kind: Literal["new_chair", "control_only", "replacement"] | None = key(
        Privacy.FUNDING, f"kind of request ({KINDS_SAY})", "new_chair"
    )
    months_needed: int | None = key(
        Privacy.FUNDING, "how many months the chair is needed", 60, ge=0, le=1200, usual=Usual(3, 240, usual.PRACTICE)
    )
    months_at_most: int | None = key(
        Privacy.FUNDING,
        "how many months it is needed at most, where a span is expected",
        84,
        ge=0,
        le=1200,
        usual=Usual(3, 240, usual.PRACTICE),
    )
    chair_now: Words | None = key(
        Privacy.NEED, "chair in use now, why it will not do, what happens to it", "A manual chair, outgrown; ..."
    )
    chair_now_kind: Literal["manual", "power"] | None = key(
        Privacy.NEED, "what kind of chair that is; the client's own, where there is another", "manual"
    )
    chair_now_history: Words | None = key(
        Privacy.NEED,
        "age, source, state of repair and hours on the meter of the chair in use now",
        "It was delivered in June 2021, paid for by the same plan, and is sound.",
    )
    chair_now_seat: Words | None = key(
        Privacy.ORDER,
        "what cushion and back the chair in use now has, once its own have moved to the new one and until it goes back",
        "a cushion and back that the supplier lends, fitted to her first",
    )
    chair_now_stays: bool | None = key(
        Privacy.NEED, "whether the chair in use now stays on for some time after the new one is delivered", True
    )
    chair_now_owned: bool | None = key(
        Privacy.NEED, "whether the client has a chair in use now that is not on loan", True
    )
    chair_now_delivered_by: date | None = key(
        Privacy.NEED,
        "day by which it had been delivered; the last of the month or year where no day is known",
        date(2021, 6, 30),
    )
    keeps_other_chair: bool | None = key(
        Privacy.FUNDING, "whether a second wheelchair paid for by the payer is kept", False
    )
    corrects: Words | None = key(
        Privacy.NEED, "how the device corrects, improves or maintains what the condition takes", "Moves by ..."
    )
    growth: Words | None = key(
        Privacy.ORDER, "how growth and development are planned for", "Seat grows 50 mm; looked at each half year."
    )
    reviewed_on: date | None = key(Privacy.FUNDING, "date the practitioner last reviewed the need", date(2026, 2, 20))
    local_rules: Words | None = key(
        Privacy.FUNDING, "state or plan rules that were reviewed, with their date", "Plan manual of 2026-01"
    )
    local_rules_say: Words | None = key(
        Privacy.FUNDING,
        "what these rules say of such a control, word for word, or that they say nothing of it",
        "Section 4: “A head control is covered where no hand control serves.”",
    )
    route: Words | None = key(
        Privacy.FUNDING, "way to ask for an item that is on no list", "exception form, page 2 of the manual"
    )
    payer_phone: Words | None = key(Privacy.FUNDING, "number at which the payer answers a supplier", "555-0100")
    payer_says: Words | None = key(
        Privacy.FUNDING, "what the payer answered where its sources disagree, and when", "2026-05-04, by phone"
    )
    payer_said_on: date | None = key(
        Privacy.FUNDING, "date of that answer: a paper of an earlier day does not tell it", date(2026, 5, 4)
    )
    later_payers: tuple[LaterPayer, ...] = many(
        "payers asked after the first, in their order", at_most=MOST_LATER_PAYERS
    )


class Head(Part):
    """Head and neck as measured, where a control is near them: sizes in mm, movement each way in degrees.

    The sizes are what the control is fitted to, and are drawn beside it.
    """

    width_mm: float | None = key(
        Privacy.DEVICE, "width of the head over the ears in mm", 148, gt=50, lt=400, usual=Usual(105, 185, usual.HEAD)
    )
    length_mm: float | None = key(
        Privacy.DEVICE, "length of the head, brow to back, in mm", 190, gt=50, lt=400, usual=Usual(130, 235, usual.HEAD)
    )
    circumference_mm: float | None = key(
        Privacy.DEVICE, "circumference of the head in mm", 550, gt=200, lt=1000, usual=Usual(400, 650, usual.HEAD)
    )
    forward_deg: Degrees | None = key(Privacy.CLINICAL, "neck flexion in degrees", 40, usual=Usual(0, 70, usual.NECK))
    back_deg: Degrees | None = key(Privacy.CLINICAL, "neck extension in degrees", 35, usual=Usual(0, 90, usual.NECK))
    left_deg: Degrees | None = key(
        Privacy.CLINICAL, "lateral flexion to the left in degrees", 30, usual=Usual(0, 65, usual.NECK)
    )
    right_deg: Degrees | None = key(
        Privacy.CLINICAL, "lateral flexion to the right in degrees", 30, usual=Usual(0, 65, usual.NECK)
    )
    turn_left_deg: Degrees | None = key(
        Privacy.CLINICAL, "rotation to the left in degrees", 60, usual=Usual(0, 95, usual.NECK)
    )
    turn_right_deg: Degrees | None = key(
        Privacy.CLINICAL, "rotation to the right in degrees", 60, usual=Usual(0, 95, usual.NECK)
    )
    limit: Words | None = key(
        Privacy.CLINICAL, "limit set for the neck, and by whom", "No extension past upright, Dr Example, 2026-02-12."
    )


class Client(Part):
    """The person who will drive."""

    name: Words | None = key(Privacy.NAME, "client's full name", "Robin Example")
    called: Words | None = key(Privacy.NAME, "name the client goes by", "Robin")
    name_in_own_script: Words | None = key(
        Privacy.NAME, "client's full name in its own script, where name holds it in Latin letters", "Робин Пример"
    )
    name_language: str | None = key(
        Privacy.NAME,
        "language of that script, by its tag, such as ar, he, zh-Hant",
        "ru",
        pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$",
    )
    pronouns: Literal["she", "he", "they"] | None = key(Privacy.NAME, "client's pronouns", "they")
    born_on: date | None = key(Privacy.IDENTITY, "client's date of birth", date(1990, 1, 31))
    member_id: Words | None = key(Privacy.IDENTITY, "client's member number with the payer", "ABC-0000")
    member_id_with: Words | None = key(
        Privacy.IDENTITY, "who has the member number, while it is not recorded here", "the biller of the clinic"
    )
    height_mm: float | None = key(
        Privacy.IDENTITY, "client's height in mm", 1650, gt=200, lt=2600, usual=Usual(600, 2150, usual.GROWTH)
    )
    weight_kg: float | None = key(
        Privacy.IDENTITY, "client's weight in kg", 61, gt=1, lt=400, usual=Usual(5, 250, usual.GROWTH, bears=True)
    )
    lives: Words | None = key(
        Privacy.NARRATIVE, "where and with whom the client lives", "in a ground-floor apartment with a sister"
    )
    not_measured: tuple[Words, ...] = key(
        Privacy.HOME, "rooms and doors of the home that were not measured", ["her bedroom"], default=(), max_length=10
    )
    way_out_measured: bool | None = key(
        Privacy.HOME, "whether each door, step and ramp on the way out of the home was measured", False
    )
    between_rooms: Literal["adjoin", "measured", "left_out"] | None = key(
        Privacy.HOME,
        "what is known of the way between two rooms that were measured, where no corridor is a place of its own",
        "adjoin",
    )
    function: Words | None = key(
        Privacy.NARRATIVE, "what the client's body can and cannot do, in the therapist's words", "Robin ..."
    )
    day: Words | None = key(Privacy.NARRATIVE, "a typical day, in the therapist's words", "Up at seven; ...")
    works: Words | None = key(
        Privacy.NARRATIVE, "work or school of the client, as a whole sentence", "She is in second grade."
    )
    head: Head = part("head and neck", Head)
    wants_it: bool | None = key(Privacy.NARRATIVE, "whether the client wants the chair", True)
    willing: Words | None = key(
        Privacy.NARRATIVE,
        "what the client says of the chair that is requested",
        "Asked to keep it after the first trial.",
    )
    communicates: Words | None = key(Privacy.NARRATIVE, "how the client communicates", "by speech, softly")
    reads: tuple[Language, ...] = key(
        Privacy.CARE, "languages that the client reads, by tag, best first", ["es", "en"], default=(), max_length=6
    )
    interpreter: Words | None = key(
        Privacy.CARE, "who goes through what is not in a language of the client's", "the clinic's interpreter, by video"
    )
    emergency_number: str | None = key(
        Privacy.CONTACT, "number to call in an emergency where the client lives", "911", pattern=r"^[0-9+*# -]{2,20}$"
    )


class Diagnosis(Part):
    """One diagnosis behind the need."""

    code: DiagnosisCode | None = key(Privacy.BILLING, "diagnosis code", "G14")
    name: Words = must(Privacy.DIAGNOSIS, "name of the diagnosis", "postpolio syndrome")
    since: Words | None = key(Privacy.DIAGNOSIS, "since when", "birth")
    course: Literal["stable", "slow_progressive", "fast_progressive", "recovering"] | None = key(
        Privacy.DIAGNOSIS, "course of the condition", "stable"
    )
    group: Literal["neurological", "myopathy", "skeletal_deformity", "other"] | None = key(
        Privacy.DIAGNOSIS,
        "kind of condition: neurological, of the muscles, a skeletal deformity from birth, other",
        "neurological",
    )


Role = Literal["evaluator", "practitioner", "supplier", "caregiver", "coach", "school", "respiratory", "payer", "other"]
AT_WORK: tuple[Role, ...] = ("evaluator", "practitioner", "supplier", "payer")  # roles that work on the request


class HoursThere(Part):
    """Hours in which somebody is there; where they end before they start, on the next day."""

    days: tuple[Day, ...] = key(
        Privacy.CIRCLE,
        "days of the week; every day where none is named",
        ["monday", "friday"],
        default=(),
        max_length=7,
    )
    starts_at: time = must(Privacy.CIRCLE, "from when this person is there", time(8, 0))
    ends_at: time = must(Privacy.CIRCLE, "until when", time(16, 0))


# of an address, or a calling in words: people who may not order are called so too
_CALLINGS = frozenset(
    "DR DOCTOR PROF PROFESSOR PHYSICIAN SURGEON NEUROLOGIST PHYSIATRIST PEDIATRICIAN NURSE PRACTITIONER ASSISTANT "
    "THERAPIST OCCUPATIONAL PHYSICAL CLINICAL SPECIALIST LICENSED REGISTERED CERTIFIED".split()
)


class Person(Part):
    """Someone around the client."""

    id: Id = must(Privacy.CIRCLE, "short id used elsewhere in the case", "evaluator")
    role: Role = must(Privacy.CIRCLE, "role", "evaluator")
    name: Words | None = key(Privacy.CIRCLE, "name", "Jo Example")
    credential: Words | None = key(Privacy.CREDENTIALS, "credential", "OTR/L")
    specialty: Words | None = key(
        Privacy.CREDENTIALS, "medical specialty of a practitioner", "pediatric rehabilitation medicine"
    )
    license: Words | None = key(Privacy.CREDENTIALS, "license number", "OT-0000")
    experience: Words | None = key(
        Privacy.CREDENTIALS,
        "an evaluator's training and experience with power wheelchairs and their controls",
        "Wheelchair evaluations since 2012, half of them for other drive controls.",
    )
    organisation: Words | None = key(Privacy.CREDENTIALS, "organization", "Example Seating Clinic")
    phone: Words | None = key(Privacy.CONTACT, "phone number", "555-0100")
    email: Words | None = key(Privacy.CONTACT, "email address", "jo@example.org")
    relation: Words | None = key(Privacy.CIRCLE, "relation to the client", "grandmother")
    call_for: Words | None = key(
        Privacy.CONTACT, "what to call this person for", "a loose part, a cable, a smell, the battery"
    )
    answers: Words | None = key(Privacy.CONTACT, "when this person answers a call", "Monday to Friday, 8 to 5")
    employed_by_supplier: bool | None = key(
        Privacy.CREDENTIALS, "whether the supplier pays or employs this person", False
    )
    statement_on: date | None = key(
        Privacy.CREDENTIALS, "date of the signed statement of no financial relationship", date(2026, 3, 11)
    )
    employment: Literal["employee", "contract"] | None = key(
        Privacy.CREDENTIALS, "how the supplier's ATP is employed", "employee"
    )
    took_part: Literal["in_person", "video", "on_paper"] | None = key(
        Privacy.CREDENTIALS, "how this person took part in the choice", "in_person"
    )
    own_record: Words | None = key(
        Privacy.CREDENTIALS,
        "what this person's own record says was chosen, and why",
        "Chose a head array: no force needed.",
    )
    is_parent: bool | None = key(Privacy.CIRCLE, "whether it is a parent or guardian of the client", True)
    informed_on: date | None = key(
        Privacy.CIRCLE, "date the client agreed that this person is informed", date(2026, 3, 3)
    )
    reads: tuple[Language, ...] = key(
        Privacy.CIRCLE, "languages that this person reads, by tag, best first", ["es", "en"], default=(), max_length=6
    )

    @property
    def credential_in_words(self) -> bool:
        """Whether what is recorded as the credential is a title or a calling, "physician", and not its letters."""
        parts = (self.credential or "").replace(",", " ").replace(".", "").upper().split()
        return bool(parts) and _CALLINGS.issuperset(parts)

    interpreter: Words | None = key(
        Privacy.CIRCLE,
        "who goes through what is not in a language of this person's",
        "the clinic's interpreter, by video",
    )
    available: Words | None = key(Privacy.CIRCLE, "when this person is there, in words", "every day, all day")
    there: tuple[HoursThere, ...] = many("hours in which this person is there, which sessions and places are held to")
    private_note: Words | None = key(Privacy.PRIVATE, "note no document shows", "prefers calls after six")

    @property
    def called(self) -> str:
        """Who this is in a sentence: by name, else as the client's relation or by the role, never by the id."""
        return (
            self.name
            or self.relation
            or ("someone whose name is not recorded" if self.role == "other" else f"the {self.role}, name not recorded")
        )

    @property
    def called_by_relation(self) -> str:
        """Who this is to the client: the relation, else as `called`."""
        return self.relation or self.called

    def privacy(self, name: str) -> Privacy:
        """The class of one key: who works on the request is called and reached at work, which is nothing private."""
        own = self.privacy_of(name)
        return Privacy.OFFICE if self.role in AT_WORK and own in (Privacy.CIRCLE, Privacy.CONTACT) else own


class Dates(Part):
    """The steps of the request, each on its day."""

    referred_on: date | None = key(Privacy.FUNDING, "date of referral", date(2026, 2, 2))
    encounter_on: date | None = key(
        Privacy.FUNDING, "date of the practitioner's encounter about mobility", date(2026, 2, 20)
    )
    evaluated_on: date | None = key(Privacy.FUNDING, "date of the therapist's evaluation report", date(2026, 4, 2))
    accepted_on: date | None = key(Privacy.FUNDING, "date the practitioner concurred with the report", date(2026, 4, 8))
    supplier_assessed_on: date | None = key(
        Privacy.FUNDING, "date the supplier's ATP saw the client in person", date(2026, 3, 3)
    )
    ordered_on: date | None = key(Privacy.FUNDING, "date of the practitioner's order for the chair", date(2026, 4, 10))
    home_visit_on: date | None = key(
        Privacy.FUNDING, "date of the home visit, on which the home was seen and measured", date(2026, 4, 1)
    )
    home_report_on: date | None = key(
        Privacy.FUNDING,
        "date of the written report of the home visit, where that is another day than the visit",
        date(2026, 4, 3),
    )
    written_on: date | None = key(Privacy.FUNDING, "date on the documents", date(2026, 4, 14))
    delivered_on: date | None = key(Privacy.FUNDING, "date of delivery", date(2026, 8, 1))


class Visit(Part):
    """One visit: an entry that names it was recorded on its day by who made it, unless it says otherwise."""

    id: Id = must(Privacy.CLINICAL, "short id", "clinic_1")
    on: date = must(Privacy.CLINICAL, "date of the visit", date(2026, 3, 3))
    by: Id | None = key(Privacy.CLINICAL, "who made the visit", "evaluator")
    also: tuple[Id, ...] = key(
        Privacy.CLINICAL, "who else was there in person", ["supplier"], default=(), max_length=10
    )
    place: Words | None = key(Privacy.CLINICAL, "where it was", "clinic")
    mode: Literal["in_person", "telehealth", "phone"] | None = key(
        Privacy.CLINICAL, "how it was held: a phone call is no day of the evaluation", "in_person"
    )

    @property
    def is_call(self) -> bool:
        """Whether the client was not seen: a phone call, said so or by the place that is given for it."""
        return self.mode == "phone" or (self.mode is None and bool(_PHONE.search(self.place or "")))


def by_initials(people: Sequence[Person], letters: str) -> Person | None:
    """Who has these initials; None where nobody does, or more than one."""
    having = [person for person in people if person.name and initials(person.name) == letters]
    return having[0] if len(having) == 1 else None


def initials(name: str) -> str:
    """The first letter of each word of a name, of each half of one with a hyphen."""
    return "".join(word[0] for word in name.replace("-", " ").split())
