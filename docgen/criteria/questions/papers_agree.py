"""Order, request for authorization and case name the same chair and the same items.

Asks: Whether the codes that the order and the request for authorization name are those of the base and items of the case.
Why a payer asks: A request for another base than the one ordered, or for items not on the order, is sent back.
What settles it: codes under [order] and [authorization]; base_code of the chair and code of each item.
Source: Program Integrity Manual 5.2.3; contractor notices of 2023-03 and 2023-04 and the upgrades article (passages read).
"""

from __future__ import annotations

from docgen.case.paper import Authorization
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.ordered import CHAIR, ITEMS
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "Order and request name the same chair and items"
SETTINGS = {"papers": ["order", "authorization"], "parts": ["base", "items"]}
CHOICES = {"papers": ("order", "authorization"), "parts": ("base", "items")}


def answer(grounds: Grounds, papers: list[str], parts: list[str]) -> Answer:
    case = grounds.case
    chair = case.configuration.chair.base_code
    items = [item.code for item in case.configuration.items if item.code and hcpcs.base(item.code) is None]
    wanted = [*([chair] if "base" in parts and chair else []), *(items if "items" in parts else [])]
    if ("base" in parts and not chair) or ("items" in parts and not items):
        lacks = "code of the base" if "base" in parts and not chair else "codes of the items"
        return cannot_tell(
            f"The {lacks} is not recorded." if lacks.startswith("code ") else f"The {lacks} are not recorded.",
            CHAIR,
            ITEMS,
            mend=Mend(
                "Fill in configuration.chair.base_code <procedure code>, and code <procedure code> of each item.",
                fill=("configuration.chair.base_code", "code"),
            ),
        )
    early = "authorization" in papers and case.authorization == Authorization() and case.dates.delivered_on is None
    papers = [paper for paper in papers if not (early and paper == "authorization")]
    if not papers:
        return does_not_apply("Authorization is not recorded as asked for yet.", ("authorization",))
    for paper in papers:
        named = getattr(case, paper).codes
        at = (paper, "codes")
        if not named:
            return cannot_tell(
                f"Which codes the {_WORDS[paper]} names is not recorded.",
                at,
                mend=fill_in({f"{paper}.codes": "<list of codes, the base first>"}),
            )
        bases = [code for code in named if hcpcs.base(code)]
        if "base" in parts and chair not in bases:
            return not_met(
                f"The {_WORDS[paper]} names {listed(bases) or 'no base'}; the case asks for {chair}.",
                at,
                (*CHAIR, "base_code"),
                mend="Have both name the base that is needed, not an upgrade.",
            )
        missing = [code for code in dict.fromkeys(items) if code not in named] if "items" in parts else []
        extra = [code for code in named if code not in items and code not in bases] if "items" in parts else []
        if missing or extra:
            told = [f"lacks {listed(missing)}"] * bool(missing) + [
                f"names {listed(extra)}, which the case does not ask for"
            ] * bool(extra)
            return not_met(f"The {_WORDS[paper]} {listed(told)}.", at, ITEMS, mend="Have both name the same items.")
    return met(
        f"The {listed(_WORDS[paper] for paper in papers)} {'names' if len(papers) == 1 else 'name'} {listed(dict.fromkeys(wanted))}.",
        *((paper, "codes") for paper in papers),
    )


_WORDS = {"order": "order", "authorization": "request for authorization"}
