"""One way each in which a request can be wrong, and the rule that has to say so.

A mutation is (rule, what to do, path, value). A path begins with a type of resource, its first entry, or `Bundle`;
`without` takes the element away, `put` sets it, `twice` has the entry of a list stand once more.
"""

from __future__ import annotations

import copy
import re
from typing import Any

PAS = "http://hl7.org/fhir/us/davinci-pas/StructureDefinition/"
X12 = "https://codesystem.x12.org/005010/"
_LINE = "Claim.item[0]"
_WRONG = {"coding": [{"system": "http://example.org/codes", "code": "zz"}]}
_TEXT = {"text": "in words alone"}

MUTATIONS: tuple[tuple[str, str, str, Any], ...] = (
    # names, lists, choices and forms of R4
    ("resource", "put", "Patient.resourceType", "Patent"),
    ("unknown", "put", "Claim.colour", "blue"),
    ("unknown", "put", "Patient.name[0].surname", "Example"),
    ("unknown", "put", "Coverage.member", "A"),
    ("unknown", "put", f"{_LINE}.price", 1),
    ("unknown", "put", "DocumentReference.content[0].attachment.name", "a"),
    ("unknown", "put", "Organization.phone", "555"),
    ("unknown", "put", "Practitioner._name", {"extension": []}),
    ("unknown", "put", "Bundle.entry[0].url", "urn:uuid:0"),
    ("list", "put", "Patient.identifier", {"value": "1"}),
    ("list", "put", "Claim.item", {}),
    ("list", "put", "Claim.type.coding", {"code": "professional"}),
    ("list", "put", "Claim.status", ["active"]),
    ("list", "put", "Patient.birthDate", ["2016-11-02"]),
    ("list", "put", "Claim.patient", [{"reference": "x"}]),
    ("list", "put", "Patient.name[0].given", "Jo"),
    ("empty", "put", "Claim.careTeam", []),
    ("empty", "put", "Patient.name[0]", {}),
    ("empty", "put", "Claim.priority", {}),
    ("empty", "put", f"{_LINE}.modifier", []),
    ("empty", "put", "Organization.address", [{}]),
    ("form", "put", "Patient.birthDate", "02.11.2016"),
    ("form", "put", "Patient.birthDate", "2016-02-30"),
    ("form", "put", "Claim.created", "2026-13-01"),
    ("form", "put", "Bundle.timestamp", "2026-04-21"),
    ("form", "put", "Bundle.timestamp", "2026-04-21T25:00:00Z"),
    ("form", "put", "Organization.active", "true"),
    ("form", "put", f"{_LINE}.sequence", "1"),
    ("form", "put", f"{_LINE}.sequence", 0),
    ("form", "put", f"{_LINE}.quantity.value", "1"),
    ("form", "put", "Patient.name[0].family", ""),
    ("form", "put", "Patient.name[0].family", 7),
    ("form", "put", "Claim.patient", "Patient"),
    ("form", "put", "DocumentReference.content[0].attachment.data", "not base 64 at all!"),
    ("form", "put", "DocumentReference.content[0].attachment.data", "QUJ"),
    ("form", "put", "Patient.identifier[0].system", "two words"),
    ("form", "put", "Claim.id", "with spaces in it"),
    ("form", "put", "Claim.insurance[0].focal", 1),
    ("code", "put", "Patient.gender", "f"),
    ("code", "put", "Claim.status", "sent"),
    ("code", "put", "Claim.use", "prior"),
    ("code", "put", "Bundle.type", "claim"),
    ("code", "put", "Coverage.status", "valid"),
    ("code", "put", "DocumentReference.status", "final"),
    ("code", "put", "DeviceRequest.intent", "wish"),
    ("code", "put", "PractitionerRole.telecom[0].system", "mobile"),
    ("code", "put", "PractitionerRole.telecom[0].use", "office"),
    ("required", "without", "Claim.insurance[0].coverage", None),
    ("required", "without", "Claim.careTeam[0].provider", None),
    ("required", "without", "Claim.supportingInfo[0].category", None),
    ("required", "without", f"{_LINE}.extension[0].url", None),
    ("required", "without", "DocumentReference.content", None),
    ("choice", "put", f"{_LINE}.locationReference", {"reference": "x"}),
    ("choice", "put", "DeviceRequest.codeReference", {"reference": "x"}),
    ("choice", "put", "Claim.supportingInfo[0].valueString", "see above"),
    ("ext-1", "without", f"{_LINE}.extension[0].valueCodeableConcept", None),
    ("ext-1", "put", f"{_LINE}.extension[0].extension", [{"url": "a", "valueString": "b"}]),
    # what the profiles of the guide count
    ("min", "without", "Bundle.identifier", None),
    ("min", "without", "Bundle.timestamp", None),
    ("min", "without", "Bundle.entry[3].fullUrl", None),
    ("min", "without", "Bundle.entry[3].resource", None),
    ("min", "without", "Claim.identifier", None),
    ("min", "without", "Claim.identifier[0].system", None),
    ("min", "without", "Claim.identifier[0].value", None),
    ("min", "without", "Claim.type", None),
    ("min", "without", "Claim.patient", None),
    ("min", "without", "Claim.insurer", None),
    ("min", "without", "Claim.provider", None),
    ("min", "without", "Claim.priority", None),
    ("min", "without", "Claim.created", None),
    ("min", "without", "Claim.insurance", None),
    ("min", "without", "Claim.item", None),
    ("min", "without", "Claim.careTeam[0].extension", None),
    ("min", "without", "Claim.careTeam[0].sequence", None),
    ("min", "without", "Claim.diagnosis[0].diagnosisCodeableConcept", None),
    ("min", "without", f"{_LINE}.sequence", None),
    ("min", "without", f"{_LINE}.category", None),
    ("min", "without", f"{_LINE}.productOrService", None),
    ("min", "without", f"{_LINE}.locationCodeableConcept", None),
    ("min", "without", f"{_LINE}.extension[0]", None),
    ("min", "without", f"{_LINE}.extension[1]", None),
    ("min", "without", f"{_LINE}.quantity.value", None),
    ("min", "without", "Claim.supportingInfo[0].extension", None),
    ("min", "without", "Claim.supportingInfo[0].extension[0].extension[0]", None),
    ("min", "without", "Claim.supportingInfo[0].valueReference", None),
    ("min", "without", "Patient.identifier", None),
    ("min", "without", "Patient.identifier[0].system", None),
    ("min", "without", "Patient.identifier[0].value", None),
    ("min", "without", "Patient.name", None),
    ("min", "without", "Patient.gender", None),
    ("min", "without", "Coverage.identifier", None),
    ("min", "without", "Coverage.identifier[0].type", None),
    ("min", "without", "Coverage.status", None),
    ("min", "without", "Coverage.beneficiary", None),
    ("min", "without", "Coverage.relationship", None),
    ("min", "without", "Coverage.payor", None),
    ("min", "without", "Organization.active", None),
    ("min", "without", "Organization.name", None),
    ("min", "without", "Practitioner.identifier", None),
    ("min", "without", "Practitioner.name", None),
    ("min", "without", "Practitioner.name[0].family", None),
    ("min", "without", "PractitionerRole.practitioner", None),
    ("min", "without", "DeviceRequest.codeCodeableConcept", None),
    ("min", "without", "DeviceRequest.subject", None),
    ("min", "without", "DeviceRequest.intent", None),
    ("min", "without", "DocumentReference.type", None),
    ("min", "without", "DocumentReference.category", None),
    ("min", "without", "DocumentReference.subject", None),
    ("min", "without", "DocumentReference.content[0].attachment.data", None),
    ("max", "put", "Claim.related", [{"reference": {"value": "1"}}]),
    ("max", "put", "Claim.supportingInfo[0].timingDate", "2026-04-21"),
    ("max", "put", "Bundle.entry[0].request", {"method": "POST", "url": "Claim"}),
    ("max", "put", "Bundle.entry[0].search", {"mode": "match"}),
    ("max", "put", "Coverage.payor", [{"reference": "x"}, {"reference": "y"}]),
    # what they fix, bind and hold to
    ("pattern", "put", "Claim.status", "draft"),
    ("pattern", "put", "Claim.use", "claim"),
    ("pattern", "put", "Bundle.type", "batch"),
    ("pattern", "put", "Coverage.status", "draft"),
    ("min", "put", "Coverage.identifier[0].type.coding[0].code", "MC"),
    ("fixed", "put", "DeviceRequest.intent", "plan"),
    ("binding", "put", "Claim.type", _WRONG),
    ("binding", "put", "Claim.type", _TEXT),
    ("binding", "put", "Claim.diagnosis[0].diagnosisCodeableConcept", _WRONG),
    ("binding", "put", f"{_LINE}.productOrService", _WRONG),
    ("binding", "put", f"{_LINE}.productOrService", _TEXT),
    ("binding", "put", f"{_LINE}.modifier", [_WRONG]),
    ("binding", "put", f"{_LINE}.locationCodeableConcept", _WRONG),
    ("binding", "put", "DeviceRequest.codeCodeableConcept", _WRONG),
    ("binding", "put", "Coverage.relationship", {"coding": [{"system": "http://example.org/r", "code": "me"}]}),
    ("binding", "put", f"{_LINE}.category", _TEXT),
    ("x12-system", "put", f"{_LINE}.category", _WRONG),
    ("x12-system", "put", f"{_LINE}.category.coding[0].system", f"{X12}1525"),
    ("x12-system", "put", f"{_LINE}.extension[0].valueCodeableConcept", _WRONG),
    ("x12-system", "put", f"{_LINE}.extension[1].valueCodeableConcept.coding[0].system", f"{X12}1"),
    ("us-core-16", "put", "Practitioner.identifier[0].value", "12345"),
    ("us-core-17", "put", "Practitioner.identifier[0].value", "1234567890"),
    ("us-core-6", "put", "Patient.name", [{"text": "Robin Example"}]),
    ("us-core-6", "put", "Patient.name[0].extension", "absent and there"),
    ("self-beneficiary", "without", "Coverage.subscriber", None),
    ("pd-1", "without", "PractitionerRole.telecom", None),
    ("org-3", "put", "Organization.telecom", [{"system": "phone", "value": "555-0100", "use": "home"}]),
    ("org-2", "put", "Organization.address", [{"city": "Example Bay", "use": "home"}]),
    ("sqty-1", "put", f"{_LINE}.quantity.comparator", "<"),
    ("qty-3", "put", f"{_LINE}.quantity.code", "UN"),
    ("FullDateRule", "put", f"{_LINE}.servicedDate", "2026-04"),
    ("bdl-1", "put", "Bundle.total", 3),
    ("type", "put", f"{_LINE}.extension[2].valueReference", "as a string"),
    ("slice", "put", "Claim.supportingInfo[0]", "an event of a day and an hour"),
    ("bdl-7", "twice", "Bundle.entry[2]", None),
    ("bdl-8", "put", "Bundle.entry[2].fullUrl", "http://example.org/Organization/1/_history/2"),
    # references
    ("reference", "put", "Claim.patient.reference", "urn:uuid:00000000-0000-4000-8000-000000000000"),
    ("reference", "put", "Claim.insurance[0].coverage.reference", "Coverage/1"),
    ("reference", "put", "Claim.supportingInfo[0].valueReference.reference", "#here"),
    ("reference", "put", "PractitionerRole.practitioner.reference", "Practitioner/9"),
    ("reference", "without", "Bundle.entry[2]", None),
    ("target", "put", "Claim.patient.reference", "->Organization"),
    ("target", "put", "Claim.insurer.reference", "->Patient"),
    ("target", "put", "Claim.provider.reference", "->Coverage"),
    ("target", "put", "Coverage.payor[0].reference", "->Practitioner"),
    ("target", "put", "DeviceRequest.subject.reference", "->DocumentReference"),
    ("unreachable", "without", "Claim.supportingInfo", None),
    ("unreachable", "without", f"{_LINE}.extension[2]", None),
    # the guide's text
    ("first", "first", "Bundle.entry[1]", None),
    ("full-url", "put", "Bundle.entry[0].fullUrl", "Claim/1"),
    ("full-url", "put", "Bundle.entry[0].fullUrl", "urn:uuid:6f1b2c3d-0000-5000-8000-000000000000"),
    ("full-url", "put", "Bundle.entry[0].fullUrl", "urn:uuid:6f1b2c3d-0000-4000-c000-000000000000"),
    ("once", "twice", "Bundle.entry[1]", None),
    ("id", "put", "Bundle.entry[0].resource.id", "another"),
    ("sequence", "twice", "Claim.item[0]", None),
    ("sequence", "twice", "Claim.careTeam[0]", None),
    ("sequence", "twice", "Claim.diagnosis[0]", None),
    ("sequence", "twice", "Claim.supportingInfo[0]", None),
    ("prof-2", "without", f"{_LINE}.quantity.unit", None),
    ("prof-3", "put", f"{_LINE}.quantity", {"value": 1, "code": "1", "system": "http://unitsofmeasure.org"}),
    ("extension", "put", f"{_LINE}.extension[2].url", f"{PAS}extension-requestedServices"),
    ("context", "put", "Claim.extension", [{"url": f"{PAS}extension-requestedService", "valueReference": {}}]),
    ("context", "put", "Patient.extension", [{"url": f"{PAS}extension-certificationType", "valueString": "I"}]),
)


def mutated(bundle: dict[str, Any], what: str, path: str, value: Any) -> dict[str, Any]:
    """A copy of a request with one thing wrong."""
    wrong = copy.deepcopy(bundle)
    steps: list[str | int] = [int(part) if part.isdigit() else part for part in re.findall(r"[^.\[\]]+", path)]
    at: Any = wrong if steps[0] == "Bundle" else _first(wrong, str(steps[0]))
    for step in steps[1:-1]:
        at = at[step]
    last = steps[-1]
    if isinstance(value, str) and value.startswith("->"):
        value = next(e["fullUrl"] for e in wrong["entry"] if e["resource"]["resourceType"] == value[2:])
    if value == "as a string":
        at, last, value = at, "valueString", at.pop(last)["reference"]
    if value == "an event of a day and an hour":
        events = "http://hl7.org/fhir/us/davinci-pas/CodeSystem/PASTempCodes"
        category = {"coding": [{"system": events, "code": "patientEvent"}]}
        value = {"sequence": 1, "category": category, "timingTiming": {"event": ["2026-04-21"]}}
    if value == "absent and there":
        absent = "http://hl7.org/fhir/StructureDefinition/data-absent-reason"
        value = [{"url": absent, "valueCode": "unknown"}]
    if what == "without":
        del at[last]
    elif what == "twice":
        at.append(copy.deepcopy(at[last]))
    elif what == "first":
        at.insert(0, at.pop(last))
    else:
        at[last] = copy.deepcopy(value)
    return wrong


def _first(bundle: dict[str, Any], kind: str) -> Any:
    return next(e["resource"] for e in bundle["entry"] if e["resource"]["resourceType"] == kind)
