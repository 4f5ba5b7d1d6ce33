"""What `docgen trial CASE --json` prints, for programs."""

from __future__ import annotations

from typing import Any

from msgspec.structs import asdict

from docgen.documents.planned import asked_claims, borrow_rows, card_rows, set_up_rows, simpler_rows
from docgen.documents.planned_order import (
    block_rows,
    chance_rows,
    holds_sentence,
    number_sentences,
    order_sentences,
    planned_attempts,
)
from docgen.documents.planned_packing import pack_rows
from docgen.documents.planned_safety import stop_limit_mm, to_fill_in
from docgen.evidence.trial_size import SOURCE
from docgen.results import CaseTrial


def trial_json(result: CaseTrial) -> dict[str, Any]:
    """The planned trial of a case: format "docgen trial plan 1". What is not decided is null or empty."""
    plan, matched, case = result.plan, result.compared.match, result.case
    decided = plan.plan
    return {
        "format": "docgen trial plan 1",
        "case": case.id,
        "shelf": matched.shelf.name,
        "planned_on": decided.on.isoformat() if decided.on else None,
        "controls": [
            {
                "letter": control.letter,
                "id": control.id,
                "method": control.method.id if control.method else None,
                "device": control.judged.device.id if control.judged else None,
                "stage": control.judged.stage if control.judged else None,
                "driven": control.may_be_driven,
            }
            for control in plan.controls
        ],
        "visits": decided.visits,
        "visit": asdict(plan.visit) if plan.visit else None,
        "reckoned": list(plan.reckoned),
        "difference_percent": decided.difference_percent,
        "guard": decided.guard,
        "fill_in": list(to_fill_in(case, plan)),
        "stop_within_mm": stop_limit_mm(case, plan),
        "borrow": list(borrow_rows(plan)),
        "packed": list(pack_rows(case, plan)),
        "set_up": list(set_up_rows(case, plan)),
        "simpler": list(simpler_rows(plan.simpler)),
        "cards": list(card_rows(plan.cards)),
        "asked": list(asked_claims(result.compared.assessed.verdicts)),
        "order": asdict(plan.order) if plan.order else None,
        "blocks": [{**block, "cards": [number for number, _ in block["cards"]]} for block in block_rows(plan)],
        "attempts_each": planned_attempts(plan),
        "chances": list(chance_rows(plan)),
        "source": SOURCE,
        "says": [holds_sentence(plan), *order_sentences(plan, matched), *number_sentences(plan)],
    }
