"""A Bundle held against everything that the published guide says of a request, by its definitions and by its text."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

from definitions import PAS, Definitions, definitions
from profiles import Holder, claimed
from r4 import Issue, structure

_GUID_4 = re.compile(r"urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_SERVER = re.compile(r"https?://\S+")
_BASE = "http://hl7.org/fhir/StructureDefinition/"
_US_CORE_TYPES = {
    "patient": "Patient",
    "practitioner": "Practitioner",
    "organization": "Organization",
    "documentreference": "DocumentReference",
    "questionnaireresponse": "QuestionnaireResponse",
    "location": "Location",
    "condition": "Condition",
}


class Verdict:
    """What is wrong with a Bundle, what could not be verified, and which invariants could not be evaluated."""

    def __init__(self, bundle: Any, version: str) -> None:
        known = definitions(version)
        self._holder = Holder(known, bundle)
        self.issues = [*_all(bundle, known, self._holder)]
        self.unverifiable = self._holder.unverifiable
        self.not_evaluated = self._holder.not_evaluated

    @property
    def errors(self) -> list[Issue]:
        return [issue for issue in self.issues if issue.severity == "error"]

    @property
    def rules(self) -> set[str]:
        return {issue.rule for issue in self.issues}


def _all(bundle: Any, known: Definitions, holder: Holder) -> Iterator[Issue]:
    yield from structure(bundle, known)
    if not isinstance(bundle, dict) or not isinstance(bundle.get("entry"), list):
        return
    yield from holder.profile(bundle, f"{PAS}profile-pas-request-bundle", "Bundle")
    entries = [
        entry for entry in bundle["entry"] if isinstance(entry, dict) and isinstance(entry.get("resource"), dict)
    ]
    for at, entry in enumerate(entries):
        resource = entry["resource"]
        path = f"entry[{at}].{resource.get('resourceType')}"
        for profile in claimed(resource, known):
            yield from holder.profile(resource, profile, path)
        yield from _extensions(resource, resource.get("resourceType", ""), holder, path)
    yield from _references(entries, known, holder)
    yield from _text(entries, known)


def _references(entries: list[Any], known: Definitions, holder: Holder) -> Iterator[Issue]:
    """Each reference leads to a resource of the bundle, of a type and profile that may stand there."""
    held: set[tuple[int, str]] = set()
    waiting = [*holder.references]
    while waiting:
        path, reference, targets = waiting.pop(0)
        at = _resolved(reference, entries)
        if at is None:
            yield Issue("reference", path, f"leads nowhere: {reference}")
            continue
        resource = entries[at]["resource"]
        kinds = {_type_of(target, known) for target in targets}
        if kinds and None not in kinds and "Resource" not in kinds and resource.get("resourceType") not in kinds:
            yield Issue("target", path, f"leads to a {resource.get('resourceType')}, not to {kinds}")
            continue
        wanted = [target for target in targets if target in known.profiles]
        of_type = [target for target in wanted if known.profiles[target]["type"] == resource.get("resourceType")]
        if not of_type or any(target in claimed(resource, known) for target in of_type):
            continue
        for profile in of_type[:1] if len(of_type) == 1 else []:
            if (at, profile) not in held:
                held.add((at, profile))
                before = len(holder.references)
                yield from holder.profile(resource, profile, f"entry[{at}] as {profile.rpartition('/')[2]}")
                waiting += holder.references[before:]


def _resolved(reference: str, entries: list[Any]) -> int | None:
    for at, entry in enumerate(entries):
        full = entry.get("fullUrl", "")
        if full == reference or (re.fullmatch(r"[A-Z]\w+/[\w.-]+", reference) and full.endswith(f"/{reference}")):
            return at
    return None


def _type_of(target: str, known: Definitions) -> str | None:
    """Type of resource that a profile is of; None for one that is not published here."""
    if target in known.profiles:
        return str(known.profiles[target]["type"])
    if target.startswith(_BASE):
        return target.removeprefix(_BASE)
    return _US_CORE_TYPES.get(target.rpartition("us-core-")[2])


def _extensions(value: Any, where: str, holder: Holder, path: str) -> Iterator[Issue]:
    """Extensions of the guide's own address: each is one of the package and stands where it may."""
    if isinstance(value, list):
        for each in value:
            yield from _extensions(each, where, holder, path)
    elif isinstance(value, dict):
        for extension in value.get("extension", ()) if isinstance(value.get("extension"), list) else ():
            url = extension.get("url", "") if isinstance(extension, dict) else ""
            if str(url).startswith(PAS):
                known = holder.known
                if url not in known.profiles:
                    yield Issue("extension", path, f"{url} is no extension of this version")
                elif not _may_stand(where, known.profiles[url].get("context", ())):
                    yield Issue("context", path, f"{url} may not stand in {where}")
                else:
                    yield from holder.profile(extension, url, f"{path}.extension")
        for key, inner in value.items():
            if key != "extension":
                yield from _extensions(inner, f"{where}.{key}", holder, f"{path}.{key}")


def _may_stand(where: str, contexts: Any) -> bool:
    """Whether an extension of these contexts, elements or the type Identifier, may stand at an element."""
    return where in contexts or ("Identifier" in contexts and where.endswith(".identifier"))


def _text(entries: list[Any], known: Definitions) -> Iterator[Issue]:
    """Rules that the guide's text has and no profile: spec-13, 14, 16, 20, 22, prof-2, prof-3."""
    claims = [entry["resource"] for entry in entries if entry["resource"].get("resourceType") == "Claim"]
    if not entries or entries[0]["resource"].get("resourceType") != "Claim":
        yield Issue("first", "entry[0]", "is no Claim (spec-13)")
    counts = Counter(entry.get("fullUrl") for entry in entries)
    for at, entry in enumerate(entries):
        full = str(entry.get("fullUrl"))
        if not (_GUID_4.fullmatch(full) or _SERVER.fullmatch(full)):
            yield Issue("full-url", f"entry[{at}]", f"{full} is no URL and no GUID of version 4 (spec-16)")
        if counts[entry.get("fullUrl")] > 1:
            yield Issue("once", f"entry[{at}]", "stands twice (spec-14)")
        if full.startswith("urn:uuid:") and entry["resource"].get("id", full[9:]) != full[9:]:
            yield Issue("id", f"entry[{at}]", "has another id than its address")
    reached = _reached(entries)
    for at in range(len(entries)):
        if at not in reached:
            yield Issue("unreachable", f"entry[{at}]", "nothing leads to it from the Claim (spec-14)")
    for claim in claims:
        yield from _claim(claim, known)


def _claim(claim: Any, known: Definitions) -> Iterator[Issue]:
    for name in ("supportingInfo", "item", "careTeam", "diagnosis", "insurance"):
        numbers = [each.get("sequence") for each in claim.get(name, ()) if isinstance(each, dict)]
        if len(numbers) != len({*map(str, numbers)}):
            yield Issue("sequence", f"Claim.{name}", "has a sequence twice (spec-22)")
    if known.version.startswith("2.2"):
        for each in claim.get("item", ()):
            quantity = each.get("quantity") if isinstance(each, dict) else None
            if isinstance(quantity, dict):
                if not {"unit", "code"} & set(quantity):
                    yield Issue("prof-2", "Claim.item.quantity", "has neither unit nor code")
                if "code" in quantity and quantity.get("system") != "https://codesystem.x12.org/005010/673":
                    yield Issue("prof-3", "Claim.item.quantity", "has a code of another system than X12 673")


def _reached(entries: list[Any]) -> set[int]:
    reached, below = {0}, [0]
    while below:
        for reference in _all_references(entries[below.pop()]["resource"]):
            at = _resolved(reference, entries)
            if at is not None and at not in reached:
                reached.add(at)
                below.append(at)
    return reached


def _all_references(value: Any) -> Iterator[str]:
    if isinstance(value, list):
        for each in value:
            yield from _all_references(each)
    elif isinstance(value, dict):
        if isinstance(value.get("reference"), str):
            yield value["reference"]
        for inner in value.values():
            yield from _all_references(inner)
