"""The published definitions that a request is held against: types of FHIR R4, profiles of the guide, value sets."""

from __future__ import annotations

import json
import lzma
import re
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
PAS = "http://hl7.org/fhir/us/davinci-pas/StructureDefinition/"
_X12_SET = re.compile(r"https://valueset\.x12\.org/.*/(\d+)")
# the three elements whose codes are of the National Uniform Billing Committee
_NUBC = {
    "1314": "https://www.nubc.org/CodeSystem/PointOfOrigin",
    "1315": "https://www.nubc.org/CodeSystem/PriorityTypeOfAdmitOrVisit",
    "1352": "https://www.nubc.org/CodeSystem/PatDischargeStatus",
}


@dataclass
class Element:
    """One element of a profile with what stands below it, its slices by name."""

    rule: dict[str, Any]
    children: dict[str, Element] = field(default_factory=dict)
    slices: dict[str, Element] = field(default_factory=dict)


@dataclass(eq=False)
class Definitions:
    version: str
    types: dict[str, Any]
    profiles: dict[str, Any]
    valuesets: dict[str, Any]
    unknown: frozenset[str]

    @cache  # noqa: B019 - there are two of them, for the whole run
    def tree(self, profile: str) -> Element:
        """The elements of a profile, each below the one it belongs to."""
        root: Element | None = None
        for rule in self.profiles[profile]["e"]:
            first, *rest = rule["id"].split(".")
            if root is None:
                assert not rest
                root = Element(rule)
                continue
            if not rest:
                root.slices[first.partition(":")[2]] = Element(rule)
                continue
            at = root
            for part in rest:
                name, _, sliced = part.partition(":")
                at = at.children.setdefault(name, Element({"id": rule["id"], "min": 0, "max": "*"}))
                if sliced:
                    at = at.slices.setdefault(sliced, Element({"id": rule["id"], "min": 0, "max": "*"}))
            at.rule = rule
        assert root is not None
        return root

    def holds(self, valueset: str, system: str | None, code: str | None) -> bool | None:
        """Whether a code is of a value set; None where the set is not published."""
        if x12 := _X12_SET.match(valueset):
            wanted = _NUBC.get(x12[1], f"https://codesystem.x12.org/005010/{x12[1]}")
            return None if system == wanted and code else False
        if valueset not in self.valuesets:
            return None
        return any(
            (system is None or system == of_system) and (codes is None or code in codes) and bool(code)
            for of_system, codes in self.valuesets[valueset]
        )


@cache
def definitions(version: str) -> Definitions:
    """Those of one version of the guide."""
    with lzma.open(HERE / "definitions" / f"pas_{version}_request.json.xz") as stream:
        raw = json.load(stream)
    assert raw["version"] == version
    return Definitions(version, raw["types"], raw["profiles"], raw["valuesets"], frozenset(raw["unknown_valuesets"]))
