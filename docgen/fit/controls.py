"""Which controls there are at a part of the body, or of a sort: for words that name it and fit several controls."""

from __future__ import annotations

import difflib
from functools import cache
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field

from docgen.fit.feature import feature_entries, features
from docgen.nearest import near_words, stems
from docgen.shipped import tables_of

_SLIP = 0.85  # likeness at which words are the id of a control with a slip in it


class Place(BaseModel):
    """Where a control is worked.

    at        the same in words
    words     what names it
    controls  ids of the controls there are for it, the usual one first
    means     id -> what it is in a few words, where its name does not tell it from the others
    beside    feature that says so in the case; empty where none is needed
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    at: str = Field(min_length=1)
    words: tuple[str, ...] = Field(min_length=1)
    controls: tuple[str, ...] = Field(min_length=1)
    means: dict[str, str] = {}
    beside: str = ""


@cache
def places() -> tuple[Place, ...]:
    """Every place, in the order in which words are held against them."""
    tables = tables_of(Path(__file__).with_name("controls.toml").read_text(encoding="utf-8"))
    return tuple(Place.model_validate(table) for table in tables.values())


def no_control(wrong: str) -> str:
    """What to write in place of words that are no control: every control of the place they name, else the nearest."""
    known = [entry for entry in feature_entries() if features()[entry.id].part == "control"]
    ids = [entry.id for entry in known]
    asked = set(stems(wrong.replace("_", " ")))
    place = next((place for place in places() if asked.intersection(stems(" ".join(place.words)))), None)
    if place is None or difflib.get_close_matches(wrong, ids, n=1, cutoff=_SLIP):
        return near_words(wrong, known)
    means = {control: place.means.get(control, features()[control].name) for control in place.controls}
    listed = "; ".join(f"{control} ({what})" for control, what in means.items())
    beside = f" That it is there is told by {place.beside} under [configuration.features]." if place.beside else ""
    return f"{place.at[:1].upper()}{place.at[1:]}: {listed}.{beside} 'docgen features ID' tells one in full."
