"""The supplier's ATP took part in person and keeps a record of it.

Asks: How the ATP took part in the choice of chair and control, and what the ATP's own record says was
    chosen, and why.
Why a payer asks: Joining by video or signing the therapist's report is not taking part.
What settles it: took_part and own_record of the person with role = "supplier". Without asks_all, one who came in person
    is not asked.
Source: L33789, types II to IV (4); article A52504; pages of two contractors on the ATP's part (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "people"
CLAIM = "The ATP took part in person, with a record of it"
SHOWN_IN = (
    "letter: Equipment Requested",
    "paper: the record of the supplier's ATP",
)
SETTINGS = {"keys": ["took_part", "own_record"], "asks_all": True}
CHOICES = {"keys": ("took_part", "own_record")}


def answer(grounds: Grounds, keys: list[str], asks_all: bool) -> Answer:
    specialist = next(((i, p) for i, p in enumerate(grounds.case.people) if p.role == "supplier"), None)
    if specialist is None:
        return cannot_tell(
            "The supplier's ATP is not recorded.",
            ("people",),
            mend=add_entry("people", "took_part", "own_record", role="supplier"),
        )
    index, person = specialist
    name = person.name or "The ATP"
    if not asks_all and person.took_part == "in_person":
        return does_not_apply(f"{name} took part in person.", ("people", index, "took_part"))
    if "took_part" in keys and person.took_part in ("video", "on_paper"):
        how = "by video" if person.took_part == "video" else "only on paper"
        return not_met(
            f"{name} took part {how}.",
            ("people", index, "took_part"),
            mend="Have the ATP see the client in person, and record what was chosen and why.",
        )
    if missing := [key for key in keys if getattr(person, key) is None]:
        return cannot_tell(
            f"Not recorded of {name}: {listed(_WORDS[key] for key in missing)}.",
            ("people", index),
            mend=fill_in({key: _FORMS[key] for key in missing}, " of the ATP"),
        )
    did = ["took part in person"] * ("took_part" in keys) + ["keeps a record of what was chosen, and why"] * (
        "own_record" in keys
    )
    return met(f"{name} {listed(did)}.", *(("people", index, key) for key in keys))


_WORDS = {"took_part": "how the ATP took part", "own_record": "what the ATP's own record says"}
_FORMS = {"took_part": '<"in_person", "video" or "on_paper">', "own_record": "<what was chosen, and why>"}
