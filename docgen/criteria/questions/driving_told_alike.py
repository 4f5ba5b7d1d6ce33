"""What the record says did not happen in driving, no other text of it tells.

Asks: Whether a sentence says that a spasm, a seizure or another such event while driving is not on record, or was not
    seen, and names no control or time, where another text of the record tells of one in driving; whether a text has the
    client turn or drive in rooms of the home as if it were done, where the limits of the trial say that none of it was.
Why a payer asks: Both sentences stand in one letter, on the point on which the safety of the request rests.
What settles it: The sentence with the control and the days that it holds for, or the other one mended.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; which words tell of
    such an event is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import statements_of
from docgen.months import MONTHS

HEADING = "record"
CLAIM = "No text tells of what another says did not happen in driving"
SHOWN_IN = ("letter: Alternatives Considered and Ruled Out", "letter: Safety and Home Environment")
SETTINGS: dict[str, object] = {}

_EVENTS = {
    "spasm": re.compile(r"\bspasms?\b", re.I),
    "seizure": re.compile(r"\bseizures?\b", re.I),
    "faint": re.compile(r"\bfaint(?:s|ed|ing)?\b", re.I),
    "cough": re.compile(r"\bcough(?:s|ed|ing)?\b", re.I),
}
_DRIVING = re.compile(
    r"(?:mid-drive|(?:while|when|as) (?:she|he|they|\w+) (?:drives?|drove|was driving)|while driving|in driving)", re.I
)
_NONE = re.compile(
    r"\b(?:not (?:on record|recorded|seen|known|noted)|no(?:ne)?\b[^.]*\b(?:on record|recorded|seen|noted)|never)", re.I
)
_LIMITED = re.compile(
    rf"\b(?:with (?:it|this|the)\b|alone|other than|on (?:{'|'.join(MONTHS)})|since|after|before)", re.I
)

_NONE_AT_HOME = re.compile(
    r"\b(?:nothing|none) of (?:his|her|their) home\b[^.]*\bdriven\b|\bno driving in (?:his|her|their) home\b", re.I
)


def answer(grounds: Grounds) -> Answer:
    if not [*_texts(grounds.case)]:
        return cannot_tell(
            "No finding, alternative, feature or limit of the trial is told in words.",
            ("findings",),
            mend=add_entry("findings", "says"),
        )
    sentences = [*_sentences(grounds.case)]
    denied = [(event, at, sentence) for event, at, sentence, denies in sentences if denies]
    telling = [(event, at, sentence) for event, at, sentence, denies in sentences if not denies]
    if untrue := next(_driven_at_home(grounds.case), None):
        at, sentence = untrue
        return not_met(
            f"The record says that nothing of the home was driven, and it says “{sentence}”.",
            at,
            ("trial", "limits"),
            mend="Say what is planned there as planned.",
        )
    if not denied:
        return does_not_apply("No text says that something did not happen in driving.", ("configuration", "features"))
    for event, at, sentence in denied:
        against = next(((where, says) for other, where, says in telling if other == event), None)
        if against is not None:
            where, says = against
            return not_met(
                f"The record says “{sentence}”, and it says “{says}”.",
                at,
                where,
                mend="Name the control and the days for which it was not seen, or mend the other sentence.",
                danger=True,
            )
    return met("No other text tells of what is said not to have happened in driving.", *(at for _, at, _ in denied))


def _driven_at_home(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Sentences that tell of driving in a room of the home as done, where the limits say that none was driven."""
    if not _NONE_AT_HOME.search(case.trial.limits or ""):
        return
    drives = re.compile(rf"^(?:He|She|They|{re.escape(case.client.called or 'Nobody')}) (?:turns?|drives?|parks?)\b")
    rooms = re.compile(r"\b(?:kitchen|bathroom|bedroom|living room|hall)\b", re.I)
    texts: list[tuple[KeyPath, str | None]] = [
        (("configuration", "without_reverse"), case.configuration.without_reverse),
        (("letter", "safety"), case.letter.safety),
        *((("spaces", at, "says"), space.says) for at, space in enumerate(case.spaces) if space.at_home),
    ]
    for at, text in texts:
        for sentence in statements_of(text or ""):
            if drives.search(sentence) and rooms.search(sentence):
                yield at, sentence.rstrip(".; ")


def _sentences(case: Case) -> Iterator[tuple[str, KeyPath, str, bool]]:
    """Event, place and sentence of each that tells of an event in driving or denies it, and whether it denies; not
    those that deny it within a limit."""
    for at, text in _texts(case):
        for sentence in statements_of(text):
            if not _DRIVING.search(sentence):
                continue
            denies = _NONE.search(sentence) is not None
            if denies and _LIMITED.search(sentence):
                continue
            for event, words in _EVENTS.items():
                if words.search(sentence):
                    yield event, at, sentence.rstrip(".; "), denies


def _texts(case: Case) -> Iterator[tuple[KeyPath, str]]:
    """Texts that tell how the client drives, and where they stand."""
    texts: list[tuple[KeyPath, str | None]] = [(("trial", "limits"), case.trial.limits)]
    texts += [(("letter", name), getattr(case.letter, name)) for name in type(case.letter).model_fields]
    texts += [(("findings", at, "says"), finding.says) for at, finding in enumerate(case.findings)]
    texts += [(("alternatives", at, "reason"), device.reason) for at, device in enumerate(case.alternatives)]
    texts += [(("configuration", "features", at, "note"), f.note) for at, f in enumerate(case.configuration.features)]
    yield from ((at, text) for at, text in texts if text)
