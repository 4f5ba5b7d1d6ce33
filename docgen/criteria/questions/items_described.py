"""The base has a reason, and each item of the order a name, a code, a quantity, a reason and what happens without it.

Asks: Whether a clerk could order each item and a reviewer see why it and the base are there.
Why a payer asks: An item without a reason is struck; an item without a code cannot be processed.
What settles it: name, code, quantity, why and without in each [[configuration.items]], and why of the chair, where a
    chair is requested.
Source: 42 CFR 410.38(d)(1)(i) (description and quantity); L33792 (each accessory medically necessary, passage read).
"""

from __future__ import annotations

from collections.abc import Iterable

from docgen.case.items import Item
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.lacking import in_words, lacking
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.offered import lines_to_write
from docgen.criteria.ordered import CHAIR, control_alone
from docgen.criteria.sentences import counted, listed

HEADING = "order"
CLAIM = "The base and each item are described and explained"
SETTINGS = {"keys": ["code", "why", "without"]}
CHOICES = {"keys": tuple(Item.model_fields)}


def answer(grounds: Grounds, keys: list[str]) -> Answer:
    items = grounds.case.configuration.items
    if not items:
        offers = lines_to_write(grounds.case).rstrip(".")
        return cannot_tell(
            "No item is recorded.",
            ("configuration", "items"),
            mend=add_entry(
                "configuration.items",
                *("name", "code", "quantity", "why", "without"),
                tail=f". {offers}" if offers else "",
            ),
        )
    bare = [
        (place, item, left)
        for place, item, missing in lacking(items, keys)
        if (left := [key for key in missing if not (key == "code" and item.no_code)])
    ]
    if bare:
        _, item, missing = bare[0]
        more = f"; {len(bare) - 1} more likewise" if len(bare) > 1 else ""
        return cannot_tell(
            f"Not recorded of the {item.name}: {in_words(Item, missing)}{more}.",
            *(("configuration", "items", i) for i, _, _ in bare),
            mend=_mend(dict.fromkeys(key for _, _, left in bare for key in left)),
        )
    if not control_alone(grounds.case) and grounds.case.configuration.chair.why is None:
        return cannot_tell(
            "The reason for the base is not recorded.",
            (*CHAIR, "why"),
            mend=fill_in({"configuration.chair.why": "<why this base, in one sentence>"}),
        )
    base, verb = ("", "is" if len(items) == 1 else "are") if control_alone(grounds.case) else ("The base and ", "are")
    return met(
        f"{base}{counted(len(items), 'item', 'items')} {verb} described, each with a reason.",
        ("configuration", "items"),
    )


def _mend(missing: Iterable[str]) -> Mend:
    """The keys that any of the items lacks; where that is the code, it may be that there is none."""
    keys = [*missing]
    none = "; no_code = true where there is no code" if "code" in keys else ""
    return Mend(f"Fill in {listed(keys)} in [[configuration.items]]{none}.", fill=tuple(keys))
