"""Addresses and code systems of the guide that a request follows, in the two versions that can be written.

Da Vinci Prior Authorization Support (PAS), hl7.fhir.us.davinci-pas, 2.2.1 (2026) and 2.0.1 (2023), on HL7 FHIR R4
(4.0.1). FHIR is a trademark of HL7. The type of an attached document is a code of LOINC: this material contains content
from LOINC (https://loinc.org), copyright Regenstrief Institute and the LOINC Committee, available at no cost under the
license at https://loinc.org/license. Codes of ASC X12 are not here: those who send a request have them.
"""

from __future__ import annotations

from msgspec import Struct

PAS = "http://hl7.org/fhir/us/davinci-pas/StructureDefinition/"
_US_CORE = "http://hl7.org/fhir/us/core/StructureDefinition/"
X12 = "https://codesystem.x12.org/005010/"
HCPCS = "http://www.cms.gov/Medicare/Coding/HCPCSReleaseCodeSets"
ICD10 = "http://hl7.org/fhir/sid/icd-10-cm"
NPI = "http://hl7.org/fhir/sid/us-npi"
PLACES_OF_SERVICE = "https://www.cms.gov/Medicare/Coding/place-of-service-codes/Place_of_Service_Code_Set"
IDENTIFIER_TYPES = "http://terminology.hl7.org/CodeSystem/v2-0203"
CLAIM_TYPES = "http://terminology.hl7.org/CodeSystem/claim-type"
PRIORITIES = "http://terminology.hl7.org/CodeSystem/processpriority"
RELATIONSHIPS = "http://terminology.hl7.org/CodeSystem/subscriber-relationship"
COVERAGE_CLASSES = "http://terminology.hl7.org/CodeSystem/coverage-class"
INFORMATION_KINDS = "http://hl7.org/fhir/us/davinci-pas/CodeSystem/PASTempCodes"
DOCUMENT_CATEGORIES = "http://hl7.org/fhir/us/core/CodeSystem/us-core-documentreference-category"
LOINC = "http://loinc.org"
FUNCTIONAL_STATUS_NOTE = "47420-5"  # LOINC: Functional status assessment note
REASONS = "http://terminology.hl7.org/CodeSystem/v3-ActReason"
PAYER_ID_TYPE = "http://hl7.org/fhir/us/carin-bb/CodeSystem/C4BBIdentifierType"
PAYER_ID_SYSTEMS = {
    "naic": "urn:oid:2.16.840.1.113883.6.300",
    "npi": NPI,
    "tin": "http://terminology.hl7.org/NamingSystem/USEIN",
}
ABSENT_REASON = "http://hl7.org/fhir/StructureDefinition/data-absent-reason"
URI_SYSTEM = "urn:ietf:rfc:3986"

MOST_DIAGNOSES = 12  # that the X12 278 request made from it has room for
MOST_IN_CARE_TEAM = 14


class Guide(Struct, frozen=True):
    """One version of the guide.

    document_profile      address of the profile of an attached document
    describes_documents   whether an attachment tells its kind by the extension that came with 2.2
    """

    version: str
    document_profile: str
    describes_documents: bool


GUIDES = {
    "2.2.1": Guide("2.2.1", f"{PAS}profile-documentreference", True),
    "2.0.1": Guide("2.0.1", f"{_US_CORE}us-core-documentreference", False),
}
LATEST = "2.2.1"
