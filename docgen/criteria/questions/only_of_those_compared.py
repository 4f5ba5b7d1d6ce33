"""What the record calls the only or the narrowest was compared with all of its kind.

Asks: Whether a sentence calls a part of the body the only one that serves while the limits of the trial name a part
    that was not tried, or no other part is counted beside it; whether a place of the home is called the narrowest, or
    the like, while rooms or doors of it were not measured.
Why a payer asks: "Only" is the ground of the choice; it falls with one part, or one door, that nobody looked at.
What settles it: The count of each part looked at, in the measure of a finding, the missing part tried, the missing door
    measured, or the sentence limited to those that were.
Source: common practice, no source; the words by which such a sentence is known are common use, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import listed, sentences_of

HEADING = "record"
CLAIM = "What is called the only or the narrowest was compared with all"
SHOWN_IN = (
    "letter: Recommended Equipment and Justification of Each Item",
    "letter: Safety and Home Environment",
)
QUIET = True
SETTINGS: dict[str, object] = {}

_PART = (
    r"(?:head|neck|chin|jaw|lips?|tongue|mouth|breath|eyes?|cheeks?|shoulders?|arms?|elbows?|hands?|fingers?|thumbs?"
    r"|legs?|knees?|foot|feet|toes?)"
)
_ONLY = re.compile(
    rf"\bonly (?:\w+ ){{0,3}}?{_PART}\b|\bonly (?:other )?(?:part|site|movement)\b|\b{_PART} (?:is|are) the only\b",
    re.IGNORECASE,
)
_UNTRIED = re.compile(rf"\b{_PART}\b[^.]*\b(?:not|never) (?:tried|tested|screened)\b", re.IGNORECASE)
_MOST = re.compile(r"\b(?:narrowest|tightest|smallest|steepest|lowest|shortest|highest) ", re.IGNORECASE)
_LIMITED = re.compile(r"\b(?:tried|tested|screened|measured|compared|of (?:those|these))\b", re.IGNORECASE)
_ANY = re.compile(r"\w")

_COUNTED = re.compile(rf"\b({_PART})\b[^.;,]*?\b\d+ of \d+|\b\d+ of \d+[^.;,]*?\b({_PART})\b", re.IGNORECASE)
_LEAST_COUNTED = 2

_Said = tuple[KeyPath, str]


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    parts, places = [*_sentences(_of_parts(case), _ONLY)], [*_sentences(_of_places(case), _MOST)]
    if not parts and not places:
        return does_not_apply("Nothing is called the only or the narrowest.", ("findings",), ("spaces",))
    limits = [*_sentences(_of_limits(case), _ANY)]
    only = [claim for claim in parts if not _LIMITED.search(claim[1])]
    if only and (untried := next((claim for claim in limits if _UNTRIED.search(claim[1])), None)):
        return _beyond(only[0], untried)
    most = [claim for claim in places if not _LIMITED.search(claim[1])]
    if most and case.client.not_measured:
        return _beyond(most[0], (("client", "not_measured"), f"Not measured: {listed(case.client.not_measured)}"))
    if only and not limits:
        return _untold(only[0], ("trial", "limits"), "which parts of the body were not tried", "trial.limits")
    if only and len(_counted_parts(case)) < _LEAST_COUNTED:
        return cannot_tell(
            f"The record says “{only[0][1].rstrip('.')}”, and no two parts of the body are counted beside each other.",
            only[0][0],
            ("findings",),
            mend="Write into the measure of a finding how often each part did it, of how many, or say of which ones "
            "this is the only one.",
            bare="A part of the body is called the only one, and no two parts are counted beside each other.",
        )
    if most:
        return _untold(most[0], ("client", "not_measured"), "what of the home was not measured", "client.not_measured")
    return met(
        "What is called the only or the narrowest is that of those compared.",
        *(where for where, _ in (*parts, *places)),
    )


def _counted_parts(case: Case) -> set[str]:
    """Parts of the body of which a finding or a device ruled out tells so many of so many."""
    texts = [
        *(text for finding in case.findings for text in (finding.says, finding.measure)),
        *(text for device in case.alternatives for text in (device.reason, device.measure)),
    ]
    return {(before or after).lower() for text in texts for before, after in _COUNTED.findall(text or "")}


def _untold(claim: _Said, at: KeyPath, what: str, key: str) -> Answer:
    """Cannot tell: it is not recorded whether all were compared."""
    return cannot_tell(
        f"The record says “{claim[1].rstrip('.')}”, and {what} is not recorded.",
        claim[0],
        at,
        mend=fill_in({key: f"<{what}>"}, " or say of which ones this is the only or the narrowest"),
        bare=f"Something is called the only or the narrowest, and {what} is not recorded.",
    )


def _beyond(claim: _Said, left_out: _Said) -> Answer:
    """Not met: the sentence says more than was compared."""
    return not_met(
        f"The record says “{claim[1].rstrip('.')}”, and also “{left_out[1].rstrip('.')}”.",
        claim[0],
        left_out[0],
        mend="Try or measure what was left out, or say of which ones this is the only or the narrowest.",
        bare="Something is called the only or the narrowest, and not all of its kind were tried or measured.",
    )


def _sentences(texts: Iterator[tuple[KeyPath, str | None]], about: re.Pattern[str]) -> Iterator[_Said]:
    """Each sentence of such a form, with the place of its text."""
    for where, text in texts:
        yield from ((where, sentence) for sentence in sentences_of(text) if about.search(sentence))


def _of_parts(case: Case) -> Iterator[tuple[KeyPath, str | None]]:
    """Texts that say why this control, with their places."""
    yield from ((("findings", n, "says"), finding.says) for n, finding in enumerate(case.findings))
    for n, item in enumerate(case.configuration.items):
        yield from ((("configuration", "items", n, key), getattr(item, key)) for key in ("why", "brief", "without"))
    yield from ((("alternatives", n, "reason"), device.reason) for n, device in enumerate(case.alternatives))
    yield from ((("configuration", "features", n, "note"), f.note) for n, f in enumerate(case.configuration.features))


def _of_places(case: Case) -> Iterator[tuple[KeyPath, str | None]]:
    """What is said of places at home."""
    yield from ((("spaces", n, "says"), space.says) for n, space in enumerate(case.spaces) if space.at_home)


def _of_limits(case: Case) -> Iterator[tuple[KeyPath, str | None]]:
    """What the record says that it cannot show."""
    yield ("trial", "limits"), case.trial.limits
    yield ("letter", "limits"), case.letter.limits
