"""What only an electronic request needs: `submission.toml` beside the case, filled in by the supplier's biller.

No page shows any of it and no approval holds it. No code list of ASC X12 is here and no value has a default: the
biller, or the payer's companion guide, gives each code.
"""

import os
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Annotated, Any, Literal

from msgspec import Struct
from pydantic import AfterValidator, StringConstraints, ValidationError
from pydantic.fields import FieldInfo

from docgen.case.base import Id, Part, Words, key, many, must, part, part_of
from docgen.case.files import leads_out, text_of
from docgen.case.keys import choices_in
from docgen.case.lines import KeyPath, dotted
from docgen.case.mistakes import field_of, toml_of
from docgen.case.privacy import Privacy
from docgen.case.toml import Toml, frozen, read_toml
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.request.npi import is_npi

FILE = "submission.toml"
_MOST_BYTES, _MOST_PROBLEMS = 200_000, 50

# forms of the numbers by which a payer is known: NAIC company code, NPI, taxpayer identification number
_PAYER_ID_FORMS: dict[str, tuple[Callable[[str], bool], str]] = {
    "naic": (lambda text: bool(re.fullmatch(r"[0-9]{5}", text)), "NAIC code of five digits"),
    "npi": (is_npi, "NPI whose last digit checks"),
    "tin": (lambda text: bool(re.fullmatch(r"[0-9]{2}-?[0-9]{7}", text)), "taxpayer number of nine digits"),
}

Gender = Literal["female", "male", "other", "unknown"]
Relationship = Literal["self", "child", "spouse", "parent", "common", "other"]
PayerIdKind = Literal["payer", "naic", "npi", "tin"]


def _with_check_digit(text: str) -> str:
    if not is_npi(text):
        raise ValueError("is no NPI: its last digit does not check, or it has not ten digits")
    return text


Npi = Annotated[str, AfterValidator(_with_check_digit)]
X12 = Annotated[str, StringConstraints(pattern=r"^[A-Z0-9]{1,3}$")]
Uri = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9+.-]*:[^\s<>\"{}|\\^`]+$", max_length=300)]


class Address(Part):
    """An address of the United States, as it is sent."""

    line: tuple[Words, ...] = key(
        Privacy.BILLING, "street and number, or box", ["12 Example Street"], default=(), max_length=4
    )
    city: Words | None = key(Privacy.BILLING, "city", "Example Bay")
    state: str | None = key(Privacy.BILLING, "state, by its two letters", "CA", pattern=r"^[A-Z]{2}$")
    postal_code: str | None = key(Privacy.BILLING, "ZIP code", "90001-0001", pattern=r"^[0-9]{5}(-[0-9]{4})?$")


class Sender(Part):
    """Who asks, and how."""

    by: Id | None = key(Privacy.BILLING, "who sends the request, by the id of [people] in the case", "supplier")
    priority: Literal["normal", "stat"] | None = key(
        Privacy.BILLING, "how soon the payer is asked to decide: normal or stat", "normal"
    )
    place_of_service: str | None = key(
        Privacy.BILLING, "place of service, by its two digits of the list of CMS", "12", pattern=r"^[0-9]{2}$"
    )
    trace: Words | None = key(Privacy.BILLING, "number under which the sender keeps this request", "R-0001")
    sender: Words | None = key(Privacy.BILLING, "number of the sender that goes with the trace number", "9012345678")
    units: Words | None = key(
        Privacy.BILLING, "what a quantity counts, in words; without it no quantity is sent", "units"
    )


class Named(Part):
    """The client as the payer's record has them."""

    family: Words | None = key(Privacy.BILLING, "client's family name, as the payer's record has it", "Example")
    given: tuple[Words, ...] = key(
        Privacy.BILLING, "client's given names, in their order", ["Robin"], default=(), max_length=6
    )
    gender: Gender | None = key(Privacy.BILLING, "client's gender, as the payer's record has it", "unknown")
    address: Address = part("client's address", Address)


class Subscriber(Part):
    """Whose membership it is, where it is not the client's own."""

    member_id: Words | None = key(Privacy.BILLING, "subscriber's member number with the payer", "ABC-0001")
    family: Words | None = key(Privacy.BILLING, "subscriber's family name", "Example")
    given: tuple[Words, ...] = key(
        Privacy.BILLING, "subscriber's given names, in their order", ["Jo"], default=(), max_length=6
    )
    gender: Gender | None = key(Privacy.BILLING, "subscriber's gender, as the payer's record has it", "unknown")


class Membership(Part):
    """The payer, and the client's membership there."""

    relationship: Relationship | None = key(
        Privacy.BILLING, "what the client is to the subscriber; self where it is the client's own", "self"
    )
    member_system: Uri | None = key(
        Privacy.BILLING,
        "address (URI) of the payer's system of member numbers, which the payer gives",
        "https://payer.example/members",
    )
    payer_id: Words | None = key(Privacy.BILLING, "number by which the payer is known", "00000")
    payer_id_kind: PayerIdKind | None = key(Privacy.BILLING, "what that number is: payer, naic, npi or tin", "payer")
    payer_id_system: Uri | None = key(
        Privacy.BILLING,
        "address (URI) of the system of that number, where its kind is payer",
        "https://clearinghouse.example/payers",
    )
    group: Words | None = key(Privacy.BILLING, "group number", "G-0001")
    plan: Words | None = key(Privacy.BILLING, "plan number", "P-0001")
    subscriber: Subscriber = part("the subscriber, where that is not the client", Subscriber)


class LineCategory(Part):
    """A service type for one line of the order that has another than the rest."""

    item: Id = must(Privacy.BILLING, "item of the order, by its id, or chair for the base", "head_array")
    category: X12 = must(Privacy.BILLING, "code of X12 element 1365 for this line", "00")


class X12Codes(Part):
    """Codes of ASC X12 that the payer asks for; the biller or the payer gives them."""

    request_type: X12 | None = key(Privacy.BILLING, "code of X12 element 1525: kind of request", "00")
    certification: X12 | None = key(Privacy.BILLING, "code of X12 element 1322: type of certification", "0")
    category: X12 | None = key(Privacy.BILLING, "code of X12 element 1365: service type of the lines", "00")
    report: X12 | None = key(Privacy.BILLING, "code of X12 element 755: kind of the attached report", "00")
    transmission: X12 | None = key(Privacy.BILLING, "code of X12 element 756: how the report is sent", "00")
    relationship: X12 | None = key(Privacy.BILLING, "code of X12 element 1069: relationship", "00")
    lines: tuple[LineCategory, ...] = many("lines with a service type of their own")


class Professional(Part):
    """Someone of [people] in the case who signs, evaluates or sends the request."""

    id: Id = must(Privacy.BILLING, "who it is, by the id of [people] in the case", "doctor")
    family: Words | None = key(Privacy.BILLING, "family name", "Example")
    given: tuple[Words, ...] = key(Privacy.BILLING, "given names, in their order", ["Jo"], default=(), max_length=6)
    npi: Npi | None = key(Privacy.BILLING, "NPI of the person, ten digits", "1234567893")
    organisation_npi: Npi | None = key(Privacy.BILLING, "NPI of the organization, ten digits", "1234567893")
    address: Address = part("address of the organization", Address)


class Submission(Part):
    """The whole file."""

    format: Literal["docgen submission 1"] = must(Privacy.BILLING, "format of this file", "docgen submission 1")
    request: Sender = part("who asks, and how", Sender)
    client: Named = part("the client as the payer's record has them", Named)
    coverage: Membership = part("the payer, and the client's membership there", Membership)
    x12: X12Codes = part("codes of ASC X12, as the biller or the payer gives them", X12Codes)
    people: tuple[Professional, ...] = many("those who sign, evaluate and send")

    def person(self, person_id: str | None) -> Professional | None:
        """The entry of this id, or None."""
        return next((person for person in self.people if person.id == person_id), None)


class SubmissionFile(Struct, frozen=True):
    """A submission as read. `read` is None where there is no file: then nothing of it is recorded."""

    submission: Submission
    path: Path
    read: Toml | None = None

    def where(self, *path: str | int) -> str:
        """File and line of a key, or of the nearest table above it that is written down."""
        return self.read.where(*path) if self.read else str(self.path)

    def where_of(self, person_id: str) -> str:
        """File and line of the entry of a person, else of the file."""
        ids = [person.id for person in self.submission.people]
        return self.where("people", ids.index(person_id)) if person_id in ids else self.where()


def read_submission(folder: Path) -> SubmissionFile:
    """The submission beside a case, empty where there is none. Raises UserError with every problem found."""
    path = folder / FILE
    if not os.path.lexists(path):
        return SubmissionFile(Submission(format="docgen submission 1"), path)
    if leads_out(path, folder):
        raise UserError(
            [Problem(str(path), "is a link that leads out of the case folder", "Put the file itself there.")]
        )
    read = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    try:
        file = SubmissionFile(Submission.model_validate(frozen(read.tables)), path, read)
    except ValidationError as failure:
        errors = failure.errors(include_url=False)[:_MOST_PROBLEMS]
        raise UserError([_problem(error, read) for error in errors]) from None
    if problems := [*_disagreeing(file)]:
        raise UserError(problems)
    return file


def _disagreeing(file: SubmissionFile) -> Iterator[Problem]:
    """Values that do not go together."""
    coverage, people = file.submission.coverage, file.submission.people
    kind, number = coverage.payer_id_kind, coverage.payer_id
    form = _PAYER_ID_FORMS.get(kind or "")
    if form and number and not form[0](number):
        yield Problem(file.where("coverage", "payer_id"), f"'{brief(number)}' is no {form[1]}", "Look it up again.")
    for at, person in enumerate(people):
        if person.id in [earlier.id for earlier in people[:at]]:
            what = f"'{person.id}' is there twice"
            yield Problem(file.where("people", at, "id"), what, "Keep one entry for each person.")


def _problem(error: Any, read: Toml) -> Problem:
    """One mistake in words: which key, what is wrong, and one form that it takes."""
    path: KeyPath = tuple(error["loc"])
    where, name = read.where(*path), brief(dotted(path))
    field = field_of(path, Submission)
    if error["type"] == "missing":
        return Problem(where, f"{name} is missing", f"Write {path[-1]} = {_example(field)}.")
    if error["type"] == "extra_forbidden":
        table = field_of(path[:-1], Submission)
        model = (part_of(table.annotation) if table else None) or Submission
        return Problem(where, f"there is no key {name}", did_you_mean(str(path[-1]), model.model_fields))
    if error["type"] == "value_error":
        return Problem(where, f"{name} {error['ctx']['error']}", "Look it up again.")
    return Problem(
        where, f"{name} is {brief(error['input'])!r}, which it cannot hold", f"Write it as {_example(field)}."
    )


def _example(field: FieldInfo | None) -> str:
    if options := choices_in(field.annotation) if field else ():
        return " or ".join(toml_of(option) for option in options)
    return toml_of(field.examples[0]) if field and field.examples else "a table"


def fields_in(model: type[Part]) -> Iterator[tuple[str, FieldInfo]]:
    """Keys of a table that hold a value of their own, in their order."""
    for name, field in model.model_fields.items():
        if part_of(field.annotation) is None:
            yield name, field
