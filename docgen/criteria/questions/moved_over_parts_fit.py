"""What is reused from a chair that was outgrown or worn out is said to fit still.

Asks: Whether a cushion, back or other part is taken over from a chair that the record calls outgrown, too small or
    worn; whether a cushion that is reused is larger than the seat of the chair that it would stand in now.
Why a payer asks: What was outgrown with its chair does not fit the new one; and two sizes of one seat cannot both be.
What settles it: A word, beside what is reused, that it still fits and how that was seen; or a new part on the order;
    the size of the seat now and of the cushion, as measured.
Source: common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed
from docgen.units import length

HEADING = "record"
CLAIM = "Parts reused from the current chair still fit"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
NOT_FOR = ("control_only",)
SETTINGS = {"wider_mm": 20.0}
_SIZE = r"\((\d+) by (\d+) mm\)"
_SEAT = re.compile(rf"\bseat\b[^.;]*?{_SIZE}", re.I)
# the words on the chair in use and on an item stand in the letter and on the order: they are held against each other
_MOVES = re.compile(
    r"\bmoves? (over|across)\b|\btaken over\b|\bfrom the (old|manual|present) chair\b|\bre-?used?\b", re.I
)
_OUTGROWN = re.compile(r"\boutgrown\b|\btoo (small|narrow|short|worn)\b|\bworn out\b|\bbroken\b", re.I)
_FITS = re.compile(r"\bfits?\b|\bmeasured\b|\bnew in\b|\badjust|\bgrows?\b|\breplaced in\b|\d", re.I)


def answer(grounds: Grounds, wider_mm: float) -> Answer:
    case = grounds.case
    now = case.request.chair_now
    if now is None:
        return cannot_tell(
            "The chair in use now is not recorded.",
            ("request", "chair_now"),
            mend=fill_in({"request.chair_now": "<chair now, why it will not do, what happens to it>"}),
        )
    if (too_large := _too_large(case, now, wider_mm)) is not None:
        return too_large
    if not _OUTGROWN.search(now):
        return met("The chair now is not called outgrown or worn.", ("request", "chair_now"))
    bare = [(where, text) for where, text in _moving(case) if not _FITS.search(text)]
    if bare:
        return not_met(
            f"The chair now: “{now.rstrip('.')}”. And {listed(f'“{text.rstrip(chr(46))}”' for _, text in bare)}: "
            "nothing says that what is reused still fits.",
            ("request", "chair_now"),
            *(where for where, _ in bare),
            mend="Say how it was seen that it still fits, or put a new part on the order.",
            bare="The chair now was outgrown or worn, and nothing says that what is reused still fits.",
        )
    return met("Every part that is reused is said to fit.", ("request", "chair_now"))


def _too_large(case: Case, now: str, wider_mm: float) -> Answer | None:
    """Not met where the cushion reused is larger than the seat now by more than cushions overhang; None elsewhere."""
    cushion = case.configuration.chair.cushion or ""
    seat, reused = _SEAT.search(now), re.search(_SIZE, cushion)
    if not seat or not reused or not _MOVES.search(cushion):
        return None
    sizes = [(float(seat.group(n)), float(reused.group(n))) for n in (1, 2)]
    if all(larger - smaller <= wider_mm for smaller, larger in sizes):
        return None
    return not_met(
        f"The seat of the chair now is {_in_inches_and_mm(seat)}, and the cushion that is reused "
        f"{_in_inches_and_mm(reused)}, which cannot stand in it.",
        ("request", "chair_now"),
        ("configuration", "chair", "cushion"),
        mend="Measure both again, or record in what the cushion stands now.",
    )


def _in_inches_and_mm(size: re.Match[str]) -> str:
    """Width and depth that a text gives in mm."""
    width, depth = (length(float(size.group(n))) for n in (1, 2))
    return f"{width} by {depth}"


def _moving(case: Case) -> Iterator[tuple[KeyPath, str]]:
    texts: list[tuple[KeyPath, str | None]] = [
        (("configuration", "chair", "cushion"), case.configuration.chair.cushion)
    ]
    texts += [(("configuration", "items", i, "why"), item.why) for i, item in enumerate(case.configuration.items)]
    yield from ((where, text) for where, text in texts if text and _MOVES.search(text))
