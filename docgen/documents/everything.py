"""Everything a document could be shown, in tables: the case, and what follows from it.

Nothing here reaches a page by itself. A template's front matter names the tables and keys it may use,
and view.project leaves only those.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from docgen.case.asked import Item
from docgen.case.model import Case
from docgen.case.tried import Alternative, Method
from docgen.case.who import Person
from docgen.criteria.run import Verdict
from docgen.documents.document import Document
from docgen.documents.phrase import Words, number
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.match import Fit
from docgen.rendering.template import Gap, Number

# Families of facts that have one member per method, profile or space.
FAMILIES = ("success", "stop_request", "difference", "contacts", "person_contacts", "unintended", "missed", "days",
            "attempts", "prompts_verbal", "prompts_physical", "release", "release_slowest", "fatigue_rise", "tone_rise",
            "stopping", "safe_speed", "margin")


def everything(
    case: Case, evidence: Evidence, fit: Fit, verdicts: Sequence[Verdict], documents: Sequence[Document], words: Words
) -> dict[str, Any]:
    """Table name -> model, mapping or tuple of them."""

    def shown(fact: Fact | None) -> Number | Gap | None:
        return None if fact is None else number(fact, words)

    families = {name: {key: number(f, words) for key, f in evidence.family(name).items()} for name in FAMILIES}
    single = {f.id: number(f, words) for f in evidence.values() if "." not in f.id}
    tables = {name: getattr(case, name) for name in type(case).model_fields if name not in ("format", "id", "invented")}
    return tables | {
        "who": _who(case, words),
        "evaluator": _first(case, "evaluator"),
        "practitioner": _first(case, "practitioner"),
        "supplier": _first(case, "supplier"),
        "caregivers": tuple(p for p in case.people if p.role in ("caregiver", "coach", "school")),
        "evidence": families | {"total": single},
        "features": tuple(_features(case, fit)),
        "items": tuple(_item(case, item, fit) for item in case.configuration.items),
        "methods": tuple(_method(case, method, evidence, shown) for method in case.trial.methods),
        "lesser": tuple(_alternative(case, alternative, evidence, shown) for alternative in case.alternatives),
        "chosen": _chosen(case, evidence, shown),
        "stops": tuple(_stops(case, evidence, shown)),
        "unfair": tuple(_unfair(case, evidence, words)),
        "taught_people": tuple(_taught(case)),
        "mastery": tuple(_mastery(evidence, words)),
        "coach": case.person(case.training.coach) or Person(id="coach", role="coach"),
        "answers": tuple(_answer(verdict) for verdict in verdicts),
        "documents": tuple({"title": d.title, "reader": d.reader, "name": d.name} for d in documents),
    }


def _first(case: Case, role: Any) -> Person:
    return next(iter(case.with_role(role)), Person(id=role, role=role))


def _who(case: Case, words: Words) -> dict[str, Any]:
    client = case.client
    called = client.called or client.name
    pronoun = words["pronoun"].get(client.pronouns, {})
    at = case.dates.written_on or case.request.requested_on
    return {
        "called": called,
        "age": _age(client.born_on, at) if client.born_on and at else None,
        "subject": pronoun.get("subject", called),
        "object": pronoun.get("object", called),
        "possessive": pronoun.get("possessive", f"{called}\u2019s" if called else None),
        "_labels": {"called": "client's name", "age": "client's age", "subject": "client's name",
                    "object": "client's name", "possessive": "client's name"},
    }


def _age(born: date, at: date) -> int:
    return at.year - born.year - ((at.month, at.day) < (born.month, born.day))


def _told(case: Case, finding_ids: Iterable[str]) -> tuple[str, ...]:
    """Each finding as one sentence with its measure in brackets."""
    found = (f for wanted in finding_ids for f in case.findings if f.id == wanted)
    return tuple(f"{f.says.rstrip('. ')} ({f.measure.rstrip('. ')})." if f.measure else f"{f.says.rstrip('. ')}." for f in found)


def _features(case: Case, fit: Fit) -> Iterator[dict[str, Any]]:
    """Each feature with its findings; `new_reasons` are those that no feature before it has told."""
    told: set[str] = set()
    for chosen in fit.chosen:
        new = [finding for finding in chosen.because if finding not in told]
        told.update(new)
        yield _feature(case, chosen) | {"new_reasons": _told(case, new)}


def _feature(case: Case, chosen: Any) -> dict[str, Any]:
    feature = chosen.feature
    return {
        "id": feature.id, "name": feature.name, "what": feature.what, "trial": feature.trial,
        "justification": feature.justification, "without": feature.without, "care": feature.care,
        "training": feature.training, "note": chosen.note or "", "answer": chosen.answer or "",
        "because": tuple(finding.replace("_", " ") for finding in chosen.because), "reasons": _told(case, chosen.because),
        "risks": tuple(risk for _, risk, _ in chosen.at_odds),
    }


def _item(case: Case, item: Item, fit: Fit) -> dict[str, Any]:
    by_id = {chosen.feature.id: chosen for chosen in fit.chosen}
    brought = [by_id[f] for f in item.features if f in by_id]
    because = list(dict.fromkeys([*item.because, *(f for chosen in brought for f in chosen.because)]))
    return {
        "name": item.name, "code": item.code, "quantity": item.quantity, "why": item.why, "without": item.without,
        "features": tuple(chosen.feature.name for chosen in brought), "findings": _told(case, because),
        "_labels": {"code": f"code of the {item.name}", "why": f"why the {item.name} is needed",
                    "without": f"what happens without the {item.name}"},
    }


def _method(case: Case, method: Method, evidence: Evidence, shown: Any) -> dict[str, Any]:
    names = ("success", "stop_request", "contacts", "unintended", "release", "release_slowest", "days", "difference",
             "fatigue_rise", "tone_rise", "attempts", "stops_missed")
    values = {name: shown(evidence.of(name, method.id)) for name in names}
    difference = evidence.of("difference", method.id)
    return values | {
        "id": method.id, "name": method.name, "setup": method.setup, "asked_for": method.id == case.configuration.method,
        "tried": evidence.of("success", method.id) is not None, "verdict": difference.verdict if difference else "",
        "_labels": {"setup": f"how the {method.name} was set", **{name: _label(name) for name in names}},
    }


def _label(name: str) -> str:
    return {"success": "attempts done", "stop_request": "stops on request", "contacts": "contacts and distance",
            "unintended": "unintended activations and minutes", "release": "release times",
            "release_slowest": "release times", "fatigue_rise": "tiredness before and after",
            "tone_rise": "stiffness before and after"}.get(name, name.replace("_", " "))


def _alternative(case: Case, alternative: Alternative, evidence: Evidence, shown: Any) -> dict[str, Any]:
    method = next((m for m in case.trial.methods if m.id == alternative.method), None)
    key = alternative.method or ""
    difference = evidence.of("difference", key)
    return {
        "name": alternative.name, "kind": alternative.kind, "ruled_out_by": alternative.ruled_out_by or "",
        "reason": alternative.reason, "measure": alternative.measure or "", "setup": alternative.setup or "",
        "on": alternative.on, "tried": evidence.of("success", key) is not None,
        "success": shown(evidence.of("success", key)), "difference": shown(difference),
        "verdict": difference.verdict if difference else "", "method": method.name if method else "",
        "excludes_zero": bool(difference and (difference.low > 0 or difference.high < 0)),
        "_labels": {"reason": f"why {alternative.name} will not do", "on": f"date {alternative.name} was considered"},
    }


def _chosen(case: Case, evidence: Evidence, shown: Any) -> dict[str, Any]:
    method = next((m for m in case.trial.methods if m.id == case.configuration.method), None)
    if method is None:
        method = Method(id="none", name="control asked for")
        return _method(case, method, evidence, shown) | {"name": None, "_labels": {"name": "control asked for"}}
    return _method(case, method, evidence, shown)


def _stops(case: Case, evidence: Evidence, shown: Any) -> Any:
    profiles = {profile.id: profile for profile in case.configuration.profiles}
    for space in case.spaces:
        profile = profiles.get(space.profile or "")
        if profile is None or space.clear_ahead_mm is None:
            continue
        yield {
            "space": space.name, "profile": profile.name, "speed_m_s": profile.speed_m_s,
            "ahead_mm": space.clear_ahead_mm,
            "distance": shown(evidence.of("stopping_on", space.id) if space.slope_percent else evidence.of("stopping", profile.id)),
            "safe_speed": shown(evidence.of("safe_speed", space.id)),
            "_labels": {"speed_m_s": f"speed of the {profile.name} profile", "distance": "stopping distance",
                        "safe_speed": "fastest speed that stops there"},
        }


def _unfair(case: Case, evidence: Evidence, words: Words) -> Iterator[dict[str, Any]]:
    """Signs that something other than the control may explain a difference, as sentences."""
    names = {method.id: method.name for method in case.trial.methods}
    of_code: dict[str, list[str]] = {}
    for fact in evidence.values():
        if fact.id.startswith("unfair.") and fact.verdict != "none":
            of_code.setdefault(fact.verdict, []).append(names[fact.id.split(".")[1]])
    for code, methods in of_code.items():
        listed = words["lists"]["or"].join(filter(None, [", the ".join(methods[:-1]), ("the " if methods[:-1] else "") + methods[-1]]))
        yield {"sign": words["unfair"][code].format(method=listed)}


def _taught(case: Case) -> Any:
    for taught in case.taught:
        person = case.person(taught.who)
        name = person.name if person else None
        yield {"name": name or (person.relation if person else None), "what": taught.what, "on": taught.on,
               "_labels": {"name": "name of who was taught", "on": "date taught"}}


def _mastery(evidence: Evidence, words: Words) -> Iterator[dict[str, Any]]:
    go_back = evidence.family("go_back")
    for tries, fact in evidence.family("move_on").items():
        yield {"n": int(tries), "move_on": _or_none(fact, words), "go_back": _or_none(go_back[tries], words)}


def _or_none(fact: Fact, words: Words) -> Number | Gap | str:
    """The number, or the sign for "not possible": a rule without a value is no gap in the record."""
    return number(fact, words) if fact.value is not None else words["no_value"]


def _answer(verdict: Verdict) -> Mapping[str, Any]:
    requirement, criterion, answer = verdict.requirement, verdict.criterion, verdict.answer
    return {
        "id": requirement.id, "claim": criterion.claim, "heading": criterion.heading, "status": answer.status,
        "severity": requirement.severity, "reason": answer.reason, "mend": answer.mend, "source": requirement.citation,
        "blocks": verdict.blocks, "asked_by_payer": verdict.bound,
    }
