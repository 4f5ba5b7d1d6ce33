"""What the letter says stands in the record, dated and by someone, before delivery.

Asks: Whether each finding, screening and alternative has its day and its author, and none is later than delivery.
Why a payer asks: A letter proves nothing by itself; each claim must be in a record of the time.
What settles it: on and by of each entry of [[findings]], [[limits]] and [[alternatives]]; dates.delivered_on.
Source: article A55426, medical record and continued need; Program Integrity Manual 5.9.
"""

from __future__ import annotations

from typing import Any

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, day, listed
from docgen.criteria.steps import DELIVERY
from docgen.fit.finding import finding_name

HEADING = "people"
CLAIM = "Each claim is in a dated record"
SETTINGS = {"tables": ["findings", "limits", "alternatives"], "keys": ["on", "by"]}
CHOICES = {"tables": ("findings", "limits", "alternatives"), "keys": ("on", "by")}


def answer(grounds: Grounds, tables: list[str], keys: list[str]) -> Answer:
    case = grounds.case
    entries: list[tuple[KeyPath, Any]] = [
        ((table, i), entry) for table in tables for i, entry in enumerate(getattr(case, table))
    ]
    if not getattr(case, tables[0]):  # what was screened and ruled out is asked elsewhere
        return cannot_tell(
            f"Nothing is recorded under {tables[0]}.", (tables[0],), mend=add_entry(tables[0], "on", "by")
        )
    if late := _after_delivery(case, entries):
        return late
    bare = [(at, entry, keys_lacking) for at, entry in entries if (keys_lacking := _lacking(entry, keys))]
    if bare:
        lacks = list(dict.fromkeys(key for _, _, keys_lacking in bare for key in keys_lacking))
        names = listed(_name(at, entry) for at, entry, _ in bare[:_MOST])
        return cannot_tell(
            f"{counted(len(bare), 'entry lacks its', 'entries lack their')} {listed(_WORDS[key] for key in lacks)}: "
            f"{names}"
            f"{' and others' if len(bare) > _MOST else ''}.",
            *(at for at, _, _ in bare),
            mend=fill_in({key: _FORMS[key] for key in lacks}, " of each entry that lacks it"),
        )
    return met(
        f"{counted(len(entries), 'entry has its', 'entries have their')} {listed(_WORDS[key] for key in keys)}.",
        *((table,) for table in tables),
    )


def _after_delivery(case: Case, entries: list[tuple[KeyPath, Any]]) -> Answer | None:
    """Not met where something was recorded only after the delivery."""
    delivered = case.dates.delivered_on
    if delivered is None:
        return None
    late = [at for at, entry in entries if entry.on and entry.on > delivered]
    if not late and all(row.date <= delivered for row in case.tried):
        return None
    return not_met(
        f"{counted(len(late), 'record is', 'records are')} later than the delivery of {day(delivered)}."
        if late
        else f"Rows of the trial are later than the delivery of {day(delivered)}.",
        *late,
        DELIVERY,
        mend="What was seen after delivery proves nothing; record what was seen before it.",
    )


def _lacking(entry: Any, keys: list[str]) -> list[str]:
    return [key for key in keys if getattr(entry, key) is None]


def _name(at: KeyPath, entry: Any) -> str:
    if at[0] == "findings":
        return finding_name(entry.id)
    return str(entry.kind if at[0] == "limits" else getattr(entry, "name", entry.id)).replace("_", " ")


_WORDS, _MOST = {"on": "day", "by": "author"}, 3
_FORMS = {"on": "<date>", "by": "<id of a person>"}
