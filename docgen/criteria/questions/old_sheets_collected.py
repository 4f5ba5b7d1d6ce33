"""Sheets of an earlier edition were taken back.

Asks: Whether each card, guide, emergency page or log of an edition before the present one was taken back.
Why a payer asks: A payer does not. A helper who follows an old card does what no longer holds.
What settles it: back_on of each entry of [[sheets.handed_out]] whose edition is before sheets.edition.
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.case.sheets import SheetHeld
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed
from docgen.criteria.steps import not_delivered

HEADING = "record"
CLAIM = "Sheets of an earlier edition were taken back"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    sheets = grounds.case.sheets
    if not sheets.handed_out:
        return not_delivered(grounds.case, "sheets for daily use are handed out with the chair") or does_not_apply(
            "No sheet for daily use is recorded as handed out.", ("sheets", "handed_out")
        )
    if sheets.edition is None:
        return cannot_tell(
            "Sheets were handed out, and which edition holds now is not recorded.",
            ("sheets", "edition"),
            mend=fill_in({"sheets.edition": "1"}),
        )
    still_out = sheets.to_collect
    where = [("sheets", "handed_out", at) for at, sheet in enumerate(sheets.handed_out) if sheet in still_out]
    if still_out:
        sheets_out = listed(_sheet_held(grounds.case, sheet) for sheet in still_out)
        return not_met(
            f"To collect, of an edition before {sheets.edition}: {sheets_out}.",
            *where,
            mend=fill_in({"back_on": "<date>"}, " of each of them"),
        )
    return met(f"No sheet of an edition before {sheets.edition} is out.", ("sheets", "handed_out"))


def _sheet_held(case: Case, sheet: SheetHeld) -> str:
    """The sheet with its edition, and with whom or where it is."""
    person = case.person(sheet.who)
    place = f"with {person.called}" if person else sheet.hangs or "it is not recorded where"
    return f"{sheet.what}, edition {sheet.edition} ({place})"
