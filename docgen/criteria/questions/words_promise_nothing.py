"""No statement promises what has not been shown.

Asks: Whether any text for the letter, the order or the guide says that sores are prevented, that something is failsafe,
    crash-safe or crash-proof, or that a standard for machines is met.
Why a payer asks: Pressure and blood flow were measured, not sores; no crash test of switches at the head is published.
What settles it: The sentence worded as what was seen: redistributes pressure, allows a weight shift, stopped in 6 of 6.
Source: Sonenblum and Sprigle 2016 (weight shifts and sores not linked); ISO 13850 is for machines (summaries read).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from docgen.case.keys import texts_in
from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.sentences import counted, statements_of

HEADING = "safety"
CLAIM = "No statement promises what has not been shown"
SETTINGS: dict[str, object] = {}
# the therapist's own sentences are what is asked about
_PROMISES = re.compile(
    r"\b(prevent(s|ing|ed)? (all |any |more )?(pressure|sores?|ulcers?|injur(y|ies))"
    r"|fail-?safe|crash-?(safe|proof)|compl(y|ies|iant) with iso 13850|cannot fail|never fails|100% safe)",
    re.IGNORECASE,
)
_DENIED = re.compile(r"\b(not|never|no|nothing|cannot)\b", re.IGNORECASE)
_TEXTS_KEPT = 1_000
_TABLES = ("letter", "configuration", "activities", "transport", "cautions", "supervision", "emergency", "training")


def answer(grounds: Grounds) -> Answer:
    texts = [*_texts(grounds)]
    if not texts:
        return cannot_tell(
            "Nothing is written yet for letter, order or guide.",
            ("configuration",),
            mend="Write what is requested and why.",
        )
    promising = [(path, words) for path, text in texts for words in _promised(text)]
    if promising:
        path, words = promising[0]
        more = f", and {counted(len(promising) - 1, 'other', 'others')}" if promising[1:] else ""
        return not_met(
            f"“{words}” promises what nobody has shown{more}.",
            *(path for path, _ in promising),
            mend="Say what was seen and counted instead.",
            bare="A sentence promises what nobody has shown.",
        )
    return met("No text promises what nobody has shown.", *dict.fromkeys((path[0],) for path, _ in texts))


@lru_cache(_TEXTS_KEPT)
def _promised(text: str) -> tuple[str, ...]:
    """Each sentence that promises, and denies nothing. A case is asked in several states, and few of its texts differ
    between them."""
    if not _PROMISES.search(text):
        return ()
    hits = ((sentence, _PROMISES.search(sentence)) for sentence in statements_of(text))
    return tuple(sentence for sentence, hit in hits if hit and not _DENIED.search(sentence[: hit.start()]))


def _texts(grounds: Grounds) -> Iterator[tuple[KeyPath, str]]:
    for table in _TABLES:
        texts = texts_in(getattr(grounds.case, table), (table,))
        yield from ((path, text) for path, text in texts if " " in text)
