"""What `docgen fit CASE --shelf FILE --json` prints, for programs."""

from __future__ import annotations

from typing import Any

from msgspec.structs import asdict

from docgen.documents.matched_pairs import otherwise, why_sentence
from docgen.results import CaseMatch
from docgen.shelf.caseload import Caseload
from docgen.shelf.judge import Judged
from docgen.shelf.match import why
from docgen.shelf.offered import entry_of, offered
from docgen.shelf.set_up import Harm


def match_json(result: CaseMatch, pair: tuple[str, str] | None = None) -> dict[str, Any]:
    """The match of a case: format "docgen match 1". `pair` adds why the one rather than the other."""
    matched, case = result.match, result.case
    data: dict[str, Any] = {
        "format": "docgen match 1",
        "case": case.id,
        "shelf": matched.shelf.name,
        "first": list(matched.leads),
        "could_be_first": [name for name in matched.may_lead if name not in matched.leads],
        "layers": [list(layer) for layer in matched.layers],
        "layers_if_good": [list(layer) for layer in matched.layers_if_good],
        "expected_layers": [list(layer) for layer in result.expected.layers],
        "devices": [_device(result, judged) for judged in matched.devices.values()],
        "parted_by": [{"concern": c.id, "findings": list(c.findings)} for c in matched.parted_by()],
        "needs_open": list(matched.open_needs),
        "questions": [
            {"device": name, "features": list(asked), "lent_by": matched.devices[name].device.lent_by}
            for name, asked in matched.questions.items()
        ],
        "seen": {
            device: [{"method": w.method.id, "done": w.done.n_success, "n": w.done.n} for w in ways]
            for device, ways in result.seen.devices.items()
        },
        "seen_better": [
            {
                "better": pair_.better,
                "worse": pair_.worse,
                "difference": asdict(pair_.difference),
                "unlike": [sign.code for sign in pair_.unfair],
                "counts": pair_.counts,
            }
            for pair_ in result.seen.compared
        ],
        "differs": [
            {"device": differ.device, "rival": differ.rival, "finding": differ.finding} for differ in result.differs
        ],
        "offered": [
            {"device": offer.judged.device.id, "findings": list(offer.findings), "entry": entry_of(case, offer)}
            for offer in offered(case, matched, result.seen)
        ],
    }
    if pair is not None:
        comparison = why(matched, *pair)
        data["why"] = {
            "first": pair[0],
            "second": pair[1],
            "above": comparison.above,
            "says": why_sentence(comparison, result.seen),
            "otherwise": otherwise(comparison),
            "for_first": [{"concern": r.concern.id, "finding": r.finding} for r in comparison.for_first],
            "for_second": [{"concern": r.concern.id, "finding": r.finding} for r in comparison.for_second],
        }
    return data


def caseload_json(counts: Caseload, unreadable: int) -> dict[str, Any]:
    """Counts over a caseload: format "docgen match caseload 1"."""
    return {
        "format": "docgen match caseload 1",
        "clients": counts.n,
        "unreadable": unreadable,
        "nothing_first": counts.n_none,
        "devices": {name: asdict(of) for name, of in counts.devices.items()},
        "needs_open": counts.open_needs,
    }


def _device(result: CaseMatch, judged: Judged) -> dict[str, Any]:
    harms = judged.best.harms if judged.stage == "harm" else judged.may_harm if judged.stage == "harm_unknown" else ()
    return {
        "id": judged.device.id,
        "name": judged.device.name,
        "kind": judged.device.kind,
        "stage": judged.stage,
        "movement": judged.movement,
        "findings": {finding: judged.standing(finding) for finding in result.match.client.findings},
        "harms": [_harm(harm) for harm in harms],
        "used": sorted(judged.best.on),
        "lent_by": judged.device.lent_by,
    }


def _harm(harm: Harm) -> dict[str, Any]:
    return {"feature": harm.feature, "finding": harm.finding, "risk": harm.risk, "lacks": list(harm.lacks)}
