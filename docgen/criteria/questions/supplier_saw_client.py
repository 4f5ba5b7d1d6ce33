"""The supplier's certified ATP took part in person.

Asks: Whether the supplier's ATP, with a credential, saw the client in person, and when.
Why a payer asks: The chair and its control are to be chosen by someone who has seen the client; signing a report is not
    enough.
What settles it: A person with role = "supplier" with name and credential, and dates.supplier_assessed_on, not before
    the encounter.
Source: L33789, types II to IV (4); article A52504; contractor pages on ATP involvement (passages read).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, add_entry
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The supplier's ATP saw the client in person"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    places = [(i, p) for i, p in enumerate(case.people) if p.role == "supplier"]
    on, encounter = case.dates.supplier_assessed_on, case.dates.encounter_on
    lacking = {
        words: key
        for words, key, there in (
            ("the supplier's ATP", "", places),
            ("a credential", "credential", places and places[0][1].credential),
            ("the date seen in person", "dates.supplier_assessed_on", on),
        )
        if not there
    }
    if lacking:
        return cannot_tell(
            f"Not recorded: {listed(lacking)}.",
            ("people",),
            ("dates",),
            mend=_mend([*lacking.values()], bool(places)),
        )
    index, person = places[0]
    seen_on = recorded(on)
    if encounter and seen_on < encounter:
        return not_met(
            f"The ATP saw the client on {day(seen_on)}, before the encounter of {day(encounter)}.",
            ("dates", "supplier_assessed_on"),
            mend="The assessment belongs on or after the start of the encounter.",
        )
    who = person.name or "The ATP, name not recorded"
    return met(
        f"{who}, {person.credential}, saw the client in person on {day(seen_on)}.",
        ("people", index),
        ("dates", "supplier_assessed_on"),
    )


def _mend(keys: list[str], is_there: bool) -> Mend:
    """The keys that are lacking, of the ATP who is there or of one to be added."""
    fill = tuple(key for key in keys if key)
    if is_there:
        return Mend(f"Fill in {listed(f'{key} of the ATP' if '.' not in key else key for key in fill)}.", fill=fill)
    date = " Fill in dates.supplier_assessed_on." if "dates.supplier_assessed_on" in fill else ""
    new = add_entry("people", "credential", role="supplier")
    return Mend(f"{new.say}{date}", fill=fill, add=new.add)
