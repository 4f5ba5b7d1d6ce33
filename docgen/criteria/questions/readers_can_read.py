"""Whoever is to read a document of the packet can read it.

Asks: Whether each person whose languages are recorded finds what is written for them in one of these, or has someone
    who goes through it with them.
Why a payer asks: Training and a guide that are not understood do not make driving safe.
What settles it: reads and interpreter of [client] and of each entry of [[people]] who has a part in daily use.
Source: a qualified interpreter or translator for whoever has limited English: 45 CFR 92.201 (from memory).
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.reading import readers
from docgen.criteria.sentences import capital, counted, listed

HEADING = "safety"
CLAIM = "Whoever is to read a document can read it"
SHOWN_IN = ("plan: Training Sessions",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    known = tuple(readers(grounds.case))
    if not known and not grounds.case.people:
        return cannot_tell(
            "Nobody is recorded who is to read a document.", ("people",), mend=add_entry("people", "role")
        )
    if not known:
        return does_not_apply("Of nobody is recorded in which languages they read.", ("people",), ("client", "reads"))
    if lacking := [reader for reader in known if reader.lacks and not reader.interpreter]:
        each = listed(
            f"{reader.called} reads {listed(reader.reads)}, and the {listed(reader.lacks)} is in none of these"
            for reader in lacking
        )
        n = counted(len(lacking), "reader", "readers")
        return cannot_tell(
            f"{capital(each)}; who goes through it with them is not recorded.",
            *((*reader.path, "reads") for reader in lacking),
            mend=fill_in(
                {"interpreter": "<who goes through it with them>"}, " of each, a qualified interpreter or translator"
            ),
            bare=f"{n} cannot read what is written for them; who goes through it with them is not recorded.",
        )
    return met(
        "Each reader whose languages are recorded finds what is written for them in one of these, or has someone who "
        "goes through it with them.",
        *((*reader.path, "reads") for reader in known),
        *((*reader.path, "interpreter") for reader in known if reader.lacks),
    )
