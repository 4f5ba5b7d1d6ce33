"""A case and its submission -> the Bundle that `Claim/$submit` of the guide takes, and every value that it lacks."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.read import CaseFile, by_place
from docgen.documents.lines import is_included, orders_chair
from docgen.errors import Problem, brief, did_you_mean
from docgen.request.bundle import ABSENT, Absent, Asking, Bundle, Json, concept, guid_of, plain
from docgen.request.guide import (
    CLAIM_TYPES,
    DOCUMENT_CATEGORIES,
    FUNCTIONAL_STATUS_NOTE,
    HCPCS,
    ICD10,
    INFORMATION_KINDS,
    LOINC,
    MOST_DIAGNOSES,
    MOST_IN_CARE_TEAM,
    PAS,
    PLACES_OF_SERVICE,
    PRIORITIES,
    REASONS,
    URI_SYSTEM,
    X12,
    Guide,
)
from docgen.request.parties import care_team, coverage, insurer, patient, professional, requestor
from docgen.request.submission import SubmissionFile, X12Codes

_ICD10 = re.compile(
    r"[A-Z][0-9][0-9A-Z](\.[0-9A-Z]{1,4})?"
)  # ICD-10-CM guidelines, section I.A: a letter, a digit, ...
_NO_SIGNER = "Write signed_by under [order]: the id of the practitioner."


class Line(Struct, frozen=True):
    """One line that is billed. `where` is its place in the case; `code` and `quantity` None where not recorded."""

    item: str
    code: str | None
    quantity: int | None
    modifiers: tuple[str, ...]
    where: str
    no_code: bool = False


class Request(Struct, frozen=True):
    """The Bundle, and what is missing in it; one with gaps is for nobody but who fills them."""

    bundle: Json
    gaps: tuple[Problem, ...]


def request(
    file: CaseFile,
    submission: SubmissionFile,
    guide: Guide,
    attached: Mapping[str, bytes],
    draft: bool = False,
) -> Request:
    """The request for prior authorization of a case.

    attached  name -> bytes of each PDF that goes with it
    draft     whether it says that it is one, which no conforming server takes
    """
    case, asking, bundle = file.case, Asking(), Bundle(file.case.id)
    sent = submission.submission.request
    client = patient(file, submission, asking, bundle)
    payer = insurer(file, submission, asking, bundle)
    supplier = requestor(file, submission, asking, bundle)
    membership = coverage(file, submission, asking, bundle, client, payer)
    asking.needed(case.person(case.order.signed_by), file.where("order"), "who signed the order", _NO_SIGNER)
    people = care_team(case)
    roles = {person.id: professional(person, file, submission, asking, bundle) for person in people}
    day = _day_of(file, asking)
    items = [
        _item(number, line, file, submission, asking, bundle, client, roles)
        for number, line in enumerate(lines(file), 1)
    ]
    documents = [
        _attachment(number, name, data, submission, asking, bundle, client, guide)
        for number, (name, data) in enumerate(attached.items(), 1)
    ]
    asking.needed(items, file.where("configuration"), "a line that is billed", "Write the items of the order.")
    asking.gaps += _unknown_names(file, submission)
    content: Json = {
        "status": "draft" if draft else "active",
        "type": concept(CLAIM_TYPES, "professional"),
        "use": "preauthorization",
        "patient": client,
        "created": day,
        "insurer": payer,
        "provider": supplier,
        "priority": concept(
            PRIORITIES,
            asking.needed(
                sent.priority,
                submission.where("request"),
                "how soon the payer is asked to decide",
                "Write priority under [request]: normal or stat.",
            ),
        ),
        "careTeam": [
            {
                "extension": [{"url": f"{PAS}extension-careTeamClaimScope", "valueBoolean": True}],
                "sequence": number,
                "provider": roles[person.id],
            }
            for number, person in enumerate(people, 1)
        ],
        "supportingInfo": documents,
        "diagnosis": _diagnoses(file, asking),
        "insurance": [{"sequence": 1, "focal": True, "coverage": membership}],
        "item": items,
    }
    _too_many(people, MOST_IN_CARE_TEAM, "people who signed or evaluated", file.where("people"), asking)
    identifier = _identifier(submission, case, content, asking)
    bundle.add("Claim", "profile-claim", {"identifier": [identifier], **content}, first=True)
    invented = {"security": [{"system": REASONS, "code": "HTEST"}]} if case.invented else {}
    noon = ABSENT if isinstance(day, Absent) else f"{day}T12:00:00Z"  # that day in every zone of the United States
    return Request(bundle.whole(noon, invented), tuple(sorted(asking.gaps, key=by_place)))


def _unknown_names(file: CaseFile, submission: SubmissionFile) -> Iterator[Problem]:
    """Entries of the submission for lines and people that the case does not have."""
    known_lines, known_people = [line.item for line in lines(file)], [person.id for person in file.case.people]
    for at, entry in enumerate(submission.submission.x12.lines):
        if entry.item not in known_lines:
            what = f"'{brief(entry.item)}' is no line that is billed"
            yield Problem(submission.where("x12", "lines", at, "item"), what, did_you_mean(entry.item, known_lines))
    for at, person in enumerate(submission.submission.people):
        if person.id not in known_people:
            what = f"'{brief(person.id)}' is nobody in [people] of the case"
            yield Problem(submission.where("people", at, "id"), what, did_you_mean(person.id, known_people))


def lines(file: CaseFile) -> Iterator[Line]:
    """The lines that are billed: the chair, unless it stays, then each item that comes with no other."""
    case, chair = file.case, file.case.configuration.chair
    if orders_chair(case):
        where = file.where("configuration", "chair")
        yield Line("chair", chair.base_code, 1, tuple((chair.modifier or "").split()), where)
    for at, item in enumerate(case.configuration.items):
        if is_included(case, item):
            continue
        where = file.where("configuration", "items", at)
        yield Line(item.id, item.code, item.quantity, tuple((item.modifier or "").split()), where, bool(item.no_code))


def _day_of(file: CaseFile, asking: Asking) -> str | Absent:
    """The day of the request, else of its papers."""
    on: date | None = file.case.request.requested_on or file.case.dates.written_on
    day = asking.needed(on, file.where("request"), "the date of the request", "Write requested_on under [request].")
    return day if isinstance(day, Absent) else day.isoformat()


def _identifier(submission: SubmissionFile, case: Case, content: Json, asking: Asking) -> Json:
    """The sender's own number where it has one, else one that follows from the content."""
    sent = submission.submission.request
    if not sent.trace:
        return {"system": URI_SYSTEM, "value": f"urn:uuid:{guid_of(case.id, 'Claim', 'identifier', plain(content))}"}
    sender = asking.needed(
        sent.sender,
        submission.where("request", "trace"),
        "the number of the sender that goes with the trace number",
        "Write sender under [request], or leave trace out.",
    )
    return {"system": sender if isinstance(sender, Absent) else f"urn:trnorg:{sender}", "value": sent.trace}


def _diagnoses(file: CaseFile, asking: Asking) -> list[Json]:
    case = file.case
    codes = {
        asking.needed(
            diagnosis.code,
            file.where("diagnoses", at),
            f"the diagnosis code of {diagnosis.name}",
            "Write code for it in [diagnoses].",
        ): None
        for at, diagnosis in enumerate(case.diagnoses)
    }
    if not case.diagnoses:
        asking.needed(None, file.where("diagnoses"), "a diagnosis with its code", "Write it in [diagnoses].")
    for at, diagnosis in enumerate(case.diagnoses):
        if diagnosis.code and not _ICD10.fullmatch(diagnosis.code):
            what = f"'{diagnosis.code}' has not the form of an ICD-10-CM code"
            asking.gaps.append(Problem(file.where("diagnoses", at), what, "Look it up: G80.3."))
    _too_many([*codes], MOST_DIAGNOSES, "diagnoses", file.where("diagnoses"), asking)
    return [
        {"sequence": number, "diagnosisCodeableConcept": concept(ICD10, code)} for number, code in enumerate(codes, 1)
    ]


def _item(
    number: int,
    line: Line,
    file: CaseFile,
    submission: SubmissionFile,
    asking: Asking,
    bundle: Bundle,
    client: Json,
    roles: Mapping[str, Json],
) -> Json:
    """One line of the claim, and the request of the device that it stands for."""
    case, sent = file.case, submission.submission.request
    do = (
        "The case says that there is none: ask the payer how it takes such a line."
        if line.no_code
        else "Write code for it."
    )
    code = asking.needed(line.code, line.where, f"the procedure code of line {number}", do)
    device = bundle.add(
        "DeviceRequest",
        "profile-devicerequest",
        {
            "status": "active",
            "intent": "order",
            "codeCodeableConcept": concept(HCPCS, code),
            "subject": client,
            "authoredOn": case.dates.ordered_on.isoformat() if case.dates.ordered_on else None,
            "requester": roles.get(case.order.signed_by or ""),
        },
        name=line.item,
    )
    quantity: Json | None = None
    if sent.units:
        counted = asking.needed(line.quantity, line.where, f"the quantity of line {number}", "Write quantity for it.")
        quantity = {"value": counted, "unit": sent.units}
    of_line = [
        {
            "url": f"{PAS}extension-{extension}",
            "valueCodeableConcept": concept(f"{X12}{element}", _x12(name, submission, asking)),
        }
        for extension, element, name in (
            ("serviceItemRequestType", "1525", "request_type"),
            ("certificationType", "1322", "certification"),
        )
    ]
    own = next((entry.category for entry in submission.submission.x12.lines if entry.item == line.item), None)
    return {
        "extension": [*of_line, {"url": f"{PAS}extension-requestedService", "valueReference": device}],
        "sequence": number,
        "category": concept(f"{X12}1365", own or _x12("category", submission, asking)),
        "productOrService": concept(HCPCS, code),
        "modifier": [concept(HCPCS, modifier) for modifier in line.modifiers],
        "locationCodeableConcept": concept(
            PLACES_OF_SERVICE,
            asking.needed(
                sent.place_of_service,
                submission.where("request"),
                "the place of service",
                "Write place_of_service under [request], by its two digits.",
            ),
        ),
        "quantity": quantity,
    }


def _x12(name: str, submission: SubmissionFile, asking: Asking) -> str | Absent:
    """The code under a key of [x12]."""
    meaning = X12Codes.model_fields[name].description or ""
    return asking.needed(
        getattr(submission.submission.x12, name),
        submission.where("x12"),
        f"the {meaning}",
        f"Write {name} under [x12]; your biller or the payer gives the code.",
    )


def _attachment(
    number: int,
    name: str,
    data: bytes,
    submission: SubmissionFile,
    asking: Asking,
    bundle: Bundle,
    client: Json,
    guide: Guide,
) -> Json:
    """A PDF that goes with the request, whole."""
    x12 = submission.submission.x12
    document = bundle.add(
        "DocumentReference",
        guide.document_profile,
        {
            "status": "current",
            "type": concept(LOINC, FUNCTIONAL_STATUS_NOTE),
            "category": [concept(DOCUMENT_CATEGORIES, "clinical-note")],
            "subject": client,
            "content": [
                {"attachment": {"contentType": "application/pdf", "data": base64.b64encode(data).decode("ascii")}}
            ],
        },
        name=name,
    )
    extension: list[Json] = []
    if guide.describes_documents:
        parts: list[Json] = [
            {
                "url": "reportTypeCode",
                "valueCodeableConcept": concept(f"{X12}755", _x12("report", submission, asking)),
            }
        ]
        if x12.transmission:
            parts.append({"url": "transmissionMethod", "valueCodeableConcept": concept(f"{X12}756", x12.transmission)})
        parts.append({"url": "description", "valueString": name})
        extension = [{"url": f"{PAS}extension-documentInformation", "extension": parts}]
    return {
        "extension": extension,
        "sequence": number,
        "category": concept(INFORMATION_KINDS, "additionalInformation"),
        "valueReference": document,
    }


def _too_many(entries: Sequence[object], most: int, what: str, where: str, asking: Asking) -> None:
    if len(entries) > most:
        asking.gaps.append(
            Problem(where, f"holds {len(entries)} {what}, and a request takes {most}", "Leave some out.")
        )
