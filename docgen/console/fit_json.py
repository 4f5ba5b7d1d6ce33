"""What `docgen fit --json` prints, for programs."""

from __future__ import annotations

from typing import Any

from docgen.fit.alternatives import Weighed
from docgen.fit.match import Chosen, answering, features_of
from docgen.fit.settings import VERIFY
from docgen.results import CaseFit


def fit_json(result: CaseFit) -> dict[str, Any]:
    """The findings, features and devices of a case, and what its settings bear: format "docgen fit 1"."""
    case, fit = result.case, result.fit
    return {
        "format": "docgen fit 1",
        "case": case.id,
        "asked_for": case.configuration.method,
        "features": [_chosen_json(chosen) for chosen in fit.chosen],
        "findings": [
            {
                "id": finding.id,
                "says": finding.says,
                "measure": finding.measure,
                "met_by": [feature.id for feature in fit.answers.get(finding.id, ())],
                "met_by_items": [item.id for item in case.configuration.items if finding.id in item.because],
                "missing": [
                    {"part": missing.part, "any_of": [f.id for f in missing.features]}
                    for missing in fit.missing
                    if missing.finding == finding.id
                ],
                "called_for": [feature.id for feature in answering(finding.id, features_of(case).values())],
                "unmet": finding.id in fit.unmet,
                "unused": finding.id in fit.unused,
            }
            for finding in case.findings
        ],
        "unexplained_items": list(fit.unexplained),
        "alternatives": [_weighed_json(device) for device in result.alternatives],
        "settings": [
            {
                "profile": limit.profile.id,
                "setting": limit.setting,
                "at_most": limit.value,
                "unit": limit.unit,
                "recorded": limit.recorded,
                "fact": limit.fact.id,
                "formula": limit.fact.formula,
                "reason": limit.reason,
            }
            for limit in result.settings
        ],
        "moves": [
            {
                "setting": change.setting.name,
                "move": change.move,
                "watch": change.setting.watch,
                "first": [
                    {"seen": list(whys), "move": move.move, "because": move.because} for move, whys in change.first
                ],
                "then": [
                    {"seen": list(whys), "move": move.move, "because": move.because} for move, whys in change.then
                ],
                "facts": [fact.id for fact in change.facts],
            }
            for change in result.moves
        ],
        "mounting": {
            "sites_lacking": list(result.sites_lacking),
            "measure_again": [doubt.says for doubt in result.doubts],
        },
        "caution": VERIFY,
    }


def _chosen_json(chosen: Chosen) -> dict[str, Any]:
    return {
        "id": chosen.feature.id,
        "because": list(chosen.because),
        "called_for_by": list(chosen.calling),
        "answer": chosen.answer,
        "against": [contra.model_dump() for contra in chosen.at_odds],
        "lacking": [need.model_dump() for need in chosen.lacking],
        "source": chosen.feature.source,
    }


def _weighed_json(weighed: Weighed) -> dict[str, Any]:
    return {
        "id": weighed.alternative.id,
        "features": [feature.id for feature in weighed.features],
        "said": weighed.alternative.ruled_out_by,
        "borne_out_by": list(weighed.grounds),
        "unmet": list(weighed.unmet),
        "simpler": weighed.simpler,
        "preferred": weighed.preferred,
        "against": [
            {"feature": feature.id if feature else None, **contra.model_dump()} for feature, contra in weighed.against
        ],
        "verdict": weighed.difference.verdict if weighed.difference else None,
    }
