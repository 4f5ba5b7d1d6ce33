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
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.sentences import day, listed

HEADING = "people"
CLAIM = "The supplier's ATP saw the client in person"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    places = [(i, p) for i, p in enumerate(case.people) if p.role == "supplier"]
    on, encounter = case.dates.supplier_assessed_on, case.dates.encounter_on
    lacking = [
        words
        for words, there in (
            ("the supplier's ATP", places),
            ("a credential", places and places[0][1].credential),
            ("the date seen in person", on),
        )
        if not there
    ]
    if lacking:
        return cannot_tell(
            f"Not recorded: {listed(lacking)}.",
            ("people",),
            ("dates",),
            mend=Mend(
                'Add a person with role = "supplier" and credential, and dates.supplier_assessed_on.',
                fill=("dates.supplier_assessed_on", "credential"),
                add=(NewEntry("people", ("credential",), (("role", '"supplier"'),)),),
            ),
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
