"""Order, request for authorization and case name the same chair and the same items.

Asks: Whether the codes that the order and the request for authorization name are those of the base and items of the
    case.
Why a payer asks: A request for another base than the one ordered, or for items not on the order, is sent back.
What settles it: codes under [order] and [authorization]; base_code of the chair and code of each item.
Source: Program Integrity Manual 5.2.3; contractor notices of 2023-03 and 2023-04 and the upgrades article (passages
    read).
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.paper import Authorization
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.ordered import CHAIR, ITEMS, control_alone
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "Order and request name the same chair and items"
SETTINGS = {"papers": ["order", "authorization"], "parts": ["base", "items"]}
CHOICES = {"papers": ("order", "authorization"), "parts": ("base", "items")}


def answer(grounds: Grounds, papers: list[str], parts: list[str]) -> Answer:
    case = grounds.case
    chair, items = _asked_for(case, parts)
    if lacks := _lacks(chair, items):
        return cannot_tell(
            f"The {lacks} not recorded.",
            CHAIR,
            ITEMS,
            mend=_mend(chair, items),
        )
    unneeded = case.authorization == Authorization.model_construct(needed=False)
    papers = [paper for paper in papers if not (unneeded and paper == "authorization")]
    if not papers:
        return does_not_apply("The payer wants no authorization.", ("authorization",))
    for paper in papers:
        codes = getattr(case, paper).codes
        if paper == "authorization" and case.authorization.is_empty and case.dates.delivered_on is None:
            return cannot_tell(
                "Whether the payer wants prior authorization is not recorded, so whether a request for it should "
                "name the same is not known.",
                ("authorization",),
                mend=fill_in({"authorization.needed": "<true or false>"}),
            )
        if differs := _differs(paper, codes, chair) or _other_items(paper, codes, items):
            return differs
    wanted = listed(dict.fromkeys([*([chair] if chair else []), *(items or [])]))
    return met(
        f"The {listed(_WORDS[paper] for paper in papers)} {'names' if len(papers) == 1 else 'name'} {wanted}.",
        *((paper, "codes") for paper in papers),
    )


def _asked_for(case: Case, parts: list[str]) -> tuple[str | None, list[str] | None]:
    """Code of the base, "" where it is not recorded, and codes of the items; None for what is not asked about."""
    coded = [item.code for item in case.configuration.items if item.code and hcpcs.base(item.code) is None]
    chair = case.configuration.chair.base_code or (None if control_alone(case) else "")
    return chair if "base" in parts else None, coded if "items" in parts else None


def _lacks(chair: str | None, items: list[str] | None) -> str:
    """What is asked about and not recorded."""
    return "code of the base is" if chair == "" else "codes of the items are" if items == [] else ""


def _mend(chair: str | None, items: list[str] | None) -> Mend:
    """The codes to fill in: those that are asked about alone, which the base of a control alone is not."""
    keys = {"configuration.chair.base_code": "<procedure code>"} if chair == "" else {}
    return fill_in({**keys, **({"code": "<procedure code>"} if items == [] else {})}, " of each item" * (items == []))


def _differs(paper: str, codes: tuple[str, ...], chair: str | None) -> Answer | None:
    """What is open of a paper as a whole: it names no codes, or not this base, where the base is asked about."""
    at = (paper, "codes")
    if not codes:
        return cannot_tell(
            f"Which codes the {_WORDS[paper]} names is not recorded.",
            at,
            mend=fill_in({f"{paper}.codes": "<list of codes, the base first>"}),
        )
    bases = [code for code in codes if hcpcs.base(code)]
    if chair is None or chair in bases:
        return None
    return not_met(
        f"The {_WORDS[paper]} names {listed(bases) or 'no base'}; the case asks for {chair}.",
        at,
        (*CHAIR, "base_code"),
        mend="Have both name the base that is needed, not an upgrade.",
    )


def _other_items(paper: str, codes: tuple[str, ...], items: list[str] | None) -> Answer | None:
    """Not met where a paper lacks an item of the case or names another."""
    if items is None:
        return None
    missing = [code for code in dict.fromkeys(items) if code not in codes]
    extra = [code for code in codes if code not in items and not hcpcs.base(code)]
    if not missing and not extra:
        return None
    differences = [f"lacks {listed(missing)}"] * bool(missing)
    differences += [f"names {listed(extra)}, which the case does not ask for"] * bool(extra)
    return not_met(
        f"The {_WORDS[paper]} {listed(differences)}.", (paper, "codes"), ITEMS, mend="Have both name the same items."
    )


_WORDS = {"order": "order", "authorization": "request for authorization"}
