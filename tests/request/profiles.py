"""A value held against a profile: counts, fixed values, patterns, bindings, slices, invariants, profiles of types."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from typing import Any

import fhirpathpy
from definitions import PAS, Definitions, Element
from fhirpathpy.models import models
from r4 import Issue

_R4 = models["r4"]
_STRENGTHS = {"required": "error", "extensible": "warning"}
# reads value.code of a CodeableConcept, which has none, so it can never fail; it asks for an extension out of context
_NEVER_FAILS = {"ImmediateLevelOfCare"}


class Holder:
    """Holds values against profiles; counts what nobody can verify, and what the engine of FHIRPath cannot evaluate."""

    def __init__(self, known: Definitions, bundle: Any) -> None:
        self.known, self.bundle = known, bundle
        self.unverifiable: Counter[str] = Counter()
        self.not_evaluated: list[str] = []
        self.references: list[tuple[str, str, list[str]]] = []  # path, reference, targets

    def profile(self, value: Any, profile: str, path: str) -> Iterator[Issue]:
        """What is wrong with a value that is to be as a profile has it."""
        root = self.known.tree(profile)
        yield from self._constraints(value, root, path)
        yield from self._below(value, [root], path)

    def _below(self, value: Any, nodes: list[Element], path: str) -> Iterator[Issue]:
        if not isinstance(value, dict):
            return
        names = dict.fromkeys(name for node in nodes for name in node.children)
        for name in names:
            ruling = [node.children[name] for node in nodes if name in node.children]
            yield from self._elements(self._named(value, name), ruling, f"{path}.{name}")

    def _elements(self, values: list[tuple[str, Any]], nodes: list[Element], path: str) -> Iterator[Issue]:
        for node in nodes:
            yield from self._count(len(values), node.rule, path)
        of_each: list[list[Element]] = [[*nodes] for _ in values]
        for node in nodes:
            slicing = node.rule.get("s")
            if not slicing or not node.slices:
                continue
            discriminators, rules = slicing
            matched: Counter[str] = Counter()
            for at, (name, value) in enumerate(values):
                fits = [
                    slice_name
                    for slice_name, sliced in node.slices.items()
                    if all(self._discriminates(kind, where, name, value, sliced) for kind, where in discriminators)
                ]
                matched.update(fits[:1])
                of_each[at] += [node.slices[slice_name] for slice_name in fits[:1]]
                if not fits and rules == "closed":
                    yield Issue("slice", path, f"{name} is of none of the slices")
            for slice_name, sliced in node.slices.items():
                yield from self._count(matched[slice_name], sliced.rule, f"{path}:{slice_name}")
        for at, (name, value) in enumerate(values):
            where = f"{path}[{at}]" if len(values) > 1 else path
            for node in of_each[at]:
                yield from self._one(name, value, node, where)
            yield from self._below(value, of_each[at], where)

    def _one(self, name: str, value: Any, node: Element, path: str) -> Iterator[Issue]:
        rule = node.rule
        if "f" in rule and value != rule["f"]:
            yield Issue("fixed", path, f"is not {rule['f']!r}")
        if "p" in rule and not _within(rule["p"], value):
            yield Issue("pattern", path, f"does not hold {rule['p']!r}")
        if "b" in rule:
            yield from self._binding(value, *rule["b"], path)
        yield from self._constraints(value, node, path)
        yield from self._types(name, value, rule, path)

    def _types(self, name: str, value: Any, rule: dict[str, Any], path: str) -> Iterator[Issue]:
        types = rule.get("t") or []
        element = path.rsplit(".", 1)[-1]
        if "[x]" in element:
            base = element.partition("[x]")[0]
            kind = name[len(base) :]
            types = [t for t in types if t[0][:1].upper() + t[0][1:] == kind]
            if not types:
                yield Issue("type", path, f"{kind} may not stand here")
        for kind, profiles, targets in types:
            if kind == "Reference" and isinstance(value, dict) and "reference" in value:
                self.references.append((path, value["reference"], targets))
            held = [profile for profile in profiles if profile in self.known.profiles]
            if kind == "Resource" or not held or not isinstance(value, dict):
                continue
            if value.get("resourceType"):
                continue  # held against what it claims, below
            tries = [[*self.profile(value, profile, path)] for profile in held]
            yield from min(tries, key=len)

    def _constraints(self, value: Any, node: Element, path: str) -> Iterator[Issue]:
        for key, severity, expression in node.rule.get("c", ()):
            if key in _NEVER_FAILS:
                continue
            holds = self._evaluated(key, expression, value)
            if holds is False:
                yield Issue(key, path, f"does not hold: {expression[:80]}", severity)

    def _evaluated(self, key: str, expression: str, value: Any) -> bool | None:
        try:
            answer = _compiled(expression)(value, {"resource": value, "context": value})
        except Exception as fault:
            self.not_evaluated.append(f"{key}: {type(fault).__name__} {fault}")
            return None
        return bool(answer) and answer != [False]

    def _count(self, count: int, rule: dict[str, Any], path: str) -> Iterator[Issue]:
        if count < rule["min"]:
            yield Issue("min", path, f"stands {count} times, at least {rule['min']} are needed")
        if rule["max"] != "*" and count > int(rule["max"]):
            yield Issue("max", path, f"stands {count} times, at most {rule['max']} may")

    def _binding(self, value: Any, strength: str, valueset: str, path: str) -> Iterator[Issue]:
        severity = _STRENGTHS.get(strength)
        if severity is None:
            return
        codings = _codings(value)
        answers = [self.known.holds(valueset, system, code) for system, code in codings]
        if any(answers):
            return
        if None in answers:
            self.unverifiable[valueset] += 1
            return
        # that the systems of X12 are named by the last part of the set's address is our reading of the examples
        rule = "x12-system" if "valueset.x12.org" in valueset and codings else "binding"
        yield Issue(rule, path, f"has no code of {valueset}", severity)

    @staticmethod
    def _named(value: dict[str, Any], name: str) -> list[tuple[str, Any]]:
        """The values of an element, each with the name it stands under."""
        if name.endswith("[x]"):
            base = name[:-3]
            keys = [key for key in value if re.fullmatch(rf"_?{base}[A-Z]\w*", key)]
        else:
            keys = [key for key in (name, f"_{name}") if key in value]
        keys = [key for key in keys if not (key.startswith("_") and key[1:] in value)]
        return [
            (key.lstrip("_"), each)
            for key in keys
            for each in (value[key] if isinstance(value[key], list) else [value[key]])
        ]

    def _discriminates(self, kind: str, where: str, name: str, value: Any, sliced: Element) -> bool:
        """Whether a value is of a slice by one discriminator."""
        if kind == "type":
            if where == "$this":
                base = sliced.rule["id"].rpartition(".")[2].partition("[x]")[0]
                return any(t[0][:1].upper() + t[0][1:] == name[len(base) :] for t in sliced.rule.get("t", ()))
            inner = value.get(where, {}) if isinstance(value, dict) else {}
            return any(t[0] == inner.get("resourceType") for t in sliced.children[where].rule.get("t", ()))
        if where.startswith("extension("):
            url = where.split("'")[1]
            node = next(node for key, node in sliced.children["extension"].slices.items() if url.endswith(key))
            given = [ext.get("valueBoolean") for ext in value.get("extension", ()) if ext.get("url") == url]
            return node.children["value[x]"].rule.get("f") in given
        if where == "$this":
            return self._is_as(value, sliced.rule)
        if where == "url" and "url" not in sliced.children:
            return any(value.get("url") == profile for t in sliced.rule.get("t", ()) for profile in t[1])
        inner = value.get(where) if isinstance(value, dict) else None
        return self._is_as(inner, sliced.children[where].rule)

    def _is_as(self, value: Any, rule: dict[str, Any]) -> bool:
        if "f" in rule:
            return bool(value == rule["f"])
        if "p" in rule:
            return _within(rule["p"], value)
        if "b" in rule:
            return any(self.known.holds(rule["b"][1], system, code) is not False for system, code in _codings(value))
        return False


@cache
def _compiled(expression: str) -> Any:
    """The expression for the engine, which knows exists() and not hasValue()."""
    return fhirpathpy.compile(expression.replace("hasValue()", "exists()"), _R4)


def _codings(value: Any) -> list[tuple[str | None, str | None]]:
    """System and code of each coding that a value has; a bare code has no system."""
    if isinstance(value, str):
        return [(None, value)]
    if not isinstance(value, dict):
        return []
    if "coding" in value:
        return [(each.get("system", ""), each.get("code")) for each in value["coding"] if isinstance(each, dict)]
    return [(value.get("system", ""), value["code"])] if "code" in value else []


def _within(pattern: Any, value: Any) -> bool:
    """Whether a value holds at least what a pattern has."""
    if isinstance(pattern, dict):
        return isinstance(value, dict) and all(_within(inner, value.get(key)) for key, inner in pattern.items())
    if isinstance(pattern, list):
        return isinstance(value, list) and all(any(_within(inner, each) for each in value) for inner in pattern)
    return bool(pattern == value)


def claimed(resource: dict[str, Any], known: Definitions) -> list[str]:
    """Profiles of the guide that a resource says it is of, as the package has them."""
    addresses = [address.partition("|")[0] for address in resource.get("meta", {}).get("profile", ())]
    instead = {f"{PAS}profile-claim": f"{PAS}profile-claim-update"} if known.version == "2.0.1" else {}
    return [instead.get(address, address) for address in addresses if instead.get(address, address) in known.profiles]
