"""A connection to the speech device says what it adds to a switch that reaches the device already.

Asks: Where a line connects the drive control to the speech device, whether a part of the mounting record reaches that
    device by itself; and if so, whether the reason of the line names that part and tells with a number why the
    part alone does not serve. Where the device is muted by hand for driving, whether the reason tells who turns its
    sound on again.
Why a payer asks: A switch with a second pair of contacts costs nothing; a connection is paid for what it cannot.
What settles it: reaches_speech of each part and speech_muted_by_hand; why or without of the line, with the name of the
    part and how the client speaks by it and by the drive control: messages, entries, seconds.
Source: the least costly alternative that serves, LCD L33792 (passage read); that a number is wanted is inference.
"""

from __future__ import annotations

import re

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import ITEMS, Line, lines, named, no_codes, places

HEADING = "order"
CLAIM = "A connection to the speech device adds to the switch that reaches it already"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
SETTINGS = {"link": "E2351"}
# the reason of the line is what the payer reads: it must name the part, a count and the sound itself
_COUNT = re.compile(r"\d")
_SOUND = re.compile(r"\bmut(?:e|ed|es)\b|\bsound\b", re.IGNORECASE)


def answer(grounds: Grounds, link: str) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    links = lines(case, (link,))
    if links and case.configuration.speech_muted_by_hand and not _SOUND.search(_reason(links)):
        return cannot_tell(
            f"The speech device is muted by hand for driving, and the reason of {named(links)} does not tell who turns "
            "its sound on again: driving and speech are not one control without that.",
            *places(links, "why"),
            ("configuration", "speech_muted_by_hand"),
            mend=fill_in(
                {"why": "<who turns the sound off and on, and how the client calls meanwhile>"}, " of that line"
            ),
        )
    wired = _wired(case)
    if not links or not wired:
        return does_not_apply("No line and no switch both reach the speech device.", ITEMS)
    reason = _reason(links)
    parts = [part for _, part in wired]
    if _COUNT.search(reason) and any(part.casefold() in reason.casefold() for part in parts):
        return met(
            f"The {parts[0]} reaches the speech device by itself, and what {named(links)} adds is told with a number.",
            *places(links, "why"),
        )
    return cannot_tell(
        f"The {parts[0]} is wired to the speech device by itself, and the reason of {named(links)} does not tell with "
        "a number why that does not serve.",
        *places(links, "why"),
        *(at for at, _ in wired),
        mend=fill_in(
            {"why": f"<how the client speaks by the {parts[0]} alone, and by the drive control>"}, " of that line"
        ),
    )


def _reason(links: list[Line]) -> str:
    """The reason of the lines, with what holds without them."""
    return " ".join(text for _, item in links for text in (item.why, item.without) if text)


def _wired(case: Case) -> list[tuple[KeyPath, str]]:
    """Parts of the mounting record that reach the speech device: where that stands, and the part's name."""
    return [
        (("configuration", "mounting", at, "reaches_speech"), mounted.part)
        for at, mounted in enumerate(case.configuration.mounting)
        if mounted.reaches_speech
    ]
