"""What the letter says stands in the record, dated and by someone, before delivery.

Asks: Whether each finding, screening and alternative has its day and its author, and none is later than delivery.
Why a payer asks: A letter proves nothing by itself; each claim must stand in a record of the time.
What settles it: on and by of each entry of [[findings]], [[limits]] and [[alternatives]]; dates.delivered_on.
Source: article A55426, medical record and continued need; Program Integrity Manual 5.9.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, day, listed
from docgen.criteria.steps import DELIVERY

HEADING = "people"
CLAIM = "Each claim stands in a dated record"
SETTINGS = {"tables": ["findings", "limits", "alternatives"], "keys": ["on", "by"]}
CHOICES = {"tables": ("findings", "limits", "alternatives"), "keys": ("on", "by")}


def answer(grounds: Grounds, tables: list[str], keys: list[str]) -> Answer:
    case = grounds.case
    parts = [(table, i, one) for table in tables for i, one in enumerate(getattr(case, table))]
    if not getattr(case, tables[0]):  # what was screened and ruled out is asked elsewhere
        return cannot_tell(
            f"Nothing is recorded under {tables[0]}.", (tables[0],), mend=add_entry(tables[0], "on", "by")
        )
    delivered = case.dates.delivered_on
    late = [(t, i) for t, i, one in parts if delivered and one.on and one.on > delivered]
    if late or (delivered and any(row.date > delivered for row in case.records)):
        return not_met(
            f"{counted(len(late), 'record is', 'records are')} later than the delivery of {day(delivered)}."
            if late
            else f"Rows of the trial are later than the delivery of {day(delivered)}.",
            *late,
            DELIVERY,
            mend="What was seen after delivery proves nothing; record what was seen before it.",
        )
    bare = [(t, i, [key for key in keys if getattr(one, key) is None]) for t, i, one in parts]
    bare = [(t, i, lacks) for t, i, lacks in bare if lacks]
    if bare:
        lacks = list(dict.fromkeys(key for _, _, ones in bare for key in ones))
        forms = {"on": "<date>", "by": "<id of a person>"}
        return cannot_tell(
            f"{counted(len(bare), 'entry lacks', 'entries lack')} its {listed(_WORDS[key] for key in lacks)}: {listed(_told(case, t, i) for t, i, _ in bare[:_MOST])}"
            f"{' and others' if len(bare) > _MOST else ''}.",
            *((t, i) for t, i, _ in bare),
            mend=fill_in({key: forms[key] for key in lacks}, " of each entry that lacks it"),
        )
    return met(
        f"{counted(len(parts), 'entry has', 'entries have')} its {listed(_WORDS[key] for key in keys)}.",
        *((table,) for table in tables),
    )


def _told(case: Case, table: str, index: int) -> str:
    one = getattr(case, table)[index]
    return str(getattr(one, "kind" if table == "limits" else "id")).replace("_", " ")


_WORDS, _MOST = {"on": "day", "by": "author"}, 3
