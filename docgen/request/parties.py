"""Who takes part in a request: the client, their membership, the payer, the supplier, those who sign and evaluate.

Caregivers are none of the payer's business here: nothing of them goes into a request.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.case.who import Person
from docgen.errors import Problem
from docgen.request.bundle import ABSENT, Absent, Asking, Bundle, Json, concept
from docgen.request.guide import (
    COVERAGE_CLASSES,
    IDENTIFIER_TYPES,
    NPI,
    PAYER_ID_SYSTEMS,
    PAYER_ID_TYPE,
    RELATIONSHIPS,
    X12,
)
from docgen.request.submission import Address, SubmissionFile


def patient(file: CaseFile, submission: SubmissionFile, asking: Asking, bundle: Bundle) -> Json:
    """The client."""
    client, named = file.case.client, submission.submission.client
    where = submission.where("client")
    member_id = asking.needed(
        client.member_id, file.where("client"), "the client's member number", "Write member_id under [client]."
    )
    return bundle.add(
        "Patient",
        "profile-beneficiary",
        {
            "identifier": [_member(member_id, submission, asking)],
            "name": [
                {
                    "family": asking.needed(
                        named.family, where, "the client's family name", "Write family under [client]."
                    ),
                    "given": named.given,
                }
            ],
            "gender": asking.needed(
                named.gender,
                where,
                "the client's gender, as the payer's record has it",
                "Write gender under [client]: female, male, other or unknown.",
            ),
            "birthDate": _day(
                asking.needed(
                    client.born_on, file.where("client"), "the client's date of birth", "Write born_on under [client]."
                )
            ),
            "address": _addresses(named.address),
        },
    )


def insurer(file: CaseFile, submission: SubmissionFile, asking: Asking, bundle: Bundle) -> Json:
    """The payer."""
    coverage, where = submission.submission.coverage, submission.where("coverage")
    name = asking.needed(
        file.case.request.payer_name, file.where("request"), "the payer's name", "Write payer_name under [request]."
    )
    kind = asking.needed(
        coverage.payer_id_kind,
        where,
        "what kind of number the payer's is",
        "Write payer_id_kind under [coverage]: payer, naic, npi or tin.",
    )
    number = asking.needed(
        coverage.payer_id, where, "the number by which the payer is known", "Write payer_id under [coverage]."
    )
    system: str | Absent = ABSENT if isinstance(kind, Absent) else PAYER_ID_SYSTEMS.get(kind, ABSENT)
    if kind == "payer":
        system = asking.needed(
            coverage.payer_id_system,
            where,
            "the address of the system of the payer's number",
            "Write payer_id_system under [coverage], as the payer or the clearinghouse gives it.",
        )
    of_payer = {"type": concept(PAYER_ID_TYPE, "payerid")} if kind == "payer" else {}
    return bundle.add(
        "Organization",
        "profile-insurer",
        {"identifier": [{**of_payer, "system": system, "value": number}], "active": True, "name": name},
    )


def requestor(file: CaseFile, submission: SubmissionFile, asking: Asking, bundle: Bundle) -> Json:
    """The organization that sends the request: the supplier's."""
    by = asking.needed(
        submission.submission.request.by,
        submission.where("request"),
        "who sends the request",
        "Write by under [request]: the id of the supplier in [people] of the case.",
    )
    person_id = by if isinstance(by, str) else ""
    person, added = file.case.person(person_id), submission.submission.person(person_id)
    name: str | Absent = ABSENT
    if person is not None:
        name = asking.needed(
            person.organisation,
            where_of_person(file, person_id),
            "the name of the supplier's organization",
            "Write organisation for the supplier in [people].",
        )
    elif person_id:
        asking.needed(
            None, submission.where("request", "by"), f"'{person_id}' in [people] of the case", "Name someone there."
        )
    if person is not None and person.role != "supplier":
        what = f"'{person_id}' is the {person.role} of the case, and a supplier asks"
        asking.gaps.append(Problem(submission.where("request", "by"), what, "Name the supplier of [people]."))
    return bundle.add(
        "Organization",
        "profile-requestor",
        {
            "identifier": [
                {
                    "system": NPI,
                    "value": asking.needed(
                        added.organisation_npi if added else None,
                        submission.where_of(person_id),
                        "the NPI of the supplier's organization",
                        _write("organisation_npi", person_id),
                    ),
                }
            ],
            "active": True,
            "name": name,
            "telecom": _telecom(person.phone if person else None),
            "address": _addresses(added.address) if added else None,
        },
    )


def coverage(
    file: CaseFile, submission: SubmissionFile, asking: Asking, bundle: Bundle, client: Json, payer: Json
) -> Json:
    """The client's membership with the payer. A subscriber is always named: where it is the client, the same one."""
    given, where = submission.submission.coverage, submission.where("coverage")
    relationship = asking.needed(
        given.relationship,
        where,
        "what the client is to the subscriber",
        "Write relationship under [coverage]: self, child, spouse, parent, common or other.",
    )
    x12 = submission.submission.x12.relationship
    codings = [{"system": RELATIONSHIPS, "code": relationship}]
    if x12:
        codings.append({"system": f"{X12}1069", "code": x12})
    subscriber = client if isinstance(relationship, Absent) or relationship == "self" else None
    classes = [(kind, value) for kind, value in (("group", given.group), ("plan", given.plan)) if value]
    return bundle.add(
        "Coverage",
        "profile-coverage",
        {
            "identifier": [_member(file.case.client.member_id or ABSENT, submission, asking)],
            "status": "active",
            "subscriber": subscriber or _subscriber(submission, asking, bundle),
            "beneficiary": client,
            "relationship": {"coding": codings},
            "payor": [payer],
            "class": [{"type": concept(COVERAGE_CLASSES, kind), "value": value} for kind, value in classes],
        },
    )


def professional(person: Person, file: CaseFile, submission: SubmissionFile, asking: Asking, bundle: Bundle) -> Json:
    """A reference to the role of someone who signs the order or evaluates."""
    added, where = submission.submission.person(person.id), submission.where_of(person.id)
    called = person.called
    someone = bundle.add(
        "Practitioner",
        "profile-practitioner",
        {
            "identifier": [
                {
                    "system": NPI,
                    "value": asking.needed(
                        added.npi if added else None, where, f"the NPI of {called}", _write("npi", person.id)
                    ),
                }
            ],
            "name": [
                {
                    "family": asking.needed(
                        added.family if added else None,
                        where,
                        f"the family name of {called}",
                        _write("family", person.id),
                    ),
                    "given": added.given if added else (),
                }
            ],
        },
    )
    phone = asking.needed(
        person.phone,
        where_of_person(file, person.id),
        f"the phone number of {called}",
        "Write phone for this person in [people].",
    )
    role: Json = {"practitioner": someone, "telecom": _telecom(phone)}
    return bundle.add("PractitionerRole", "profile-practitionerrole", role)


def where_of_person(file: CaseFile, person_id: str) -> str:
    """File and line of a person of the case."""
    ids = [person.id for person in file.case.people]
    return file.where("people", ids.index(person_id)) if person_id in ids else file.where("people")


def care_team(case: Case) -> list[Person]:
    """Who signed the order, then the evaluators."""
    signer = case.person(case.order.signed_by)
    evaluators = [person for person in case.with_role("evaluator") if person is not signer]
    return [*([signer] if signer else []), *evaluators]


def _subscriber(submission: SubmissionFile, asking: Asking, bundle: Bundle) -> Json:
    someone, where = submission.submission.coverage.subscriber, submission.where("coverage", "subscriber")
    do = "Write it under [coverage.subscriber]."
    member_id = asking.needed(someone.member_id, where, "the subscriber's member number (member_id)", do)
    return bundle.add(
        "Patient",
        "profile-subscriber",
        {
            "identifier": [_member(member_id, submission, asking)],
            "name": [
                {
                    "family": asking.needed(someone.family, where, "the subscriber's family name (family)", do),
                    "given": someone.given,
                }
            ],
            "gender": asking.needed(someone.gender, where, "the subscriber's gender (gender)", do),
        },
    )


def _member(member_id: str | Absent, submission: SubmissionFile, asking: Asking) -> Json:
    system = asking.needed(
        submission.submission.coverage.member_system,
        submission.where("coverage"),
        "the address of the payer's system of member numbers",
        "Write member_system under [coverage]; the payer gives it.",
    )
    return {"type": concept(IDENTIFIER_TYPES, "MB"), "system": system, "value": member_id}


def _addresses(address: Address) -> list[Json]:
    whole = {
        "line": address.line,
        "city": address.city,
        "state": address.state,
        "postalCode": address.postal_code,
    }
    return [{**whole, "country": "US"}] if any(whole.values()) else []


def _telecom(phone: str | Absent | None) -> list[Json]:
    return [{"system": "phone", "value": phone, "use": "work"}] if phone else []


def _write(name: str, person_id: str) -> str:
    return f'Write {name} under the [[people]] that has id = "{person_id or "supplier"}".'


def _day(value: object) -> str | Absent:
    return ABSENT if isinstance(value, Absent) else str(value)
