"""What the screening showed, as the letter tells it: whose faculty, on which day, by whom, and what was seen."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TypedDict

from docgen.case.model import Case
from docgen.case.need import Limit
from docgen.case.privacy import Privacy
from docgen.criteria.sentences import capital
from docgen.documents.lines import orders_chair
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words, inside, joined, short_day
from docgen.documents.telling import other_author
from docgen.fit.seat import needs_shift

MADE_FROM = {
    "screened": made_from("limits", "client.called", "people.name"),
    # names alone: whoever stands at the power switch of a chair under test has to know at what it ends
    "attacks": made_from(Privacy.DEVICE),
}

_AS_SEATED = "skin, feeling and weight shift as seated"
_LEANS = "skin and feeling as seated"  # where the weight shift is told beside it


class ScreenedRow(TypedDict):
    """One faculty, or a limit of another kind.

    says    whole sentences that say what was seen; None where that is not recorded
    answer  what makes up for a limit, as a sentence of its own; empty where nothing does
    attacks    whether it is of attacks that were found
    physician_says  what the physician says of driving with them; None where that is not recorded
    """

    kind: str
    says: str | None
    answer: str
    attacks: bool
    physician_says: str | None
    _labels: dict[str, str]


class Attacks(TypedDict):
    """Attacks that the screening found, by name, and those of which no physician has said a word on driving."""

    names: tuple[str, ...]
    unanswered: tuple[str, ...]


def attacks(case: Case, words: Words) -> Attacks:
    """What a test of the chair with the driver in it waits for, and ends at."""
    present = [limit for limit in case.limits if limit.found]
    unanswered = [limit for limit in present if not limit.physician_says]

    def named(limits: Sequence[Limit]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(words["attacks"][attack] for limit in limits for attack in limit.attacks))

    return {"names": named(present), "unanswered": named(unanswered)}


def screened(case: Case, words: Words) -> Iterator[ScreenedRow]:
    """Each screening, what showed no limit first; of the skin too, where a chair is asked for that shifts no weight."""
    called = " ".join(filter(None, (case.client.called, case.client.name)))
    for limit in sorted(case.limits, key=lambda limit: bool(limit.found)):
        names = [words["attacks"][attack] for attack in limit.attacks]
        yield {
            "kind": limit.kind,
            "says": _says(case, limit, called, words) if limit.says else None,
            "answer": capital(limit.answer) if limit.answer else "",
            "attacks": bool(limit.found and limit.attacks),
            "physician_says": limit.physician_says,
            "_labels": {
                "says": f"what was seen in the screening of {limit.kind}",
                "physician_says": f"the physician's word on driving with {joined(names, words)}",
            },
        }
    if orders_chair(case) and not needs_shift(case) and all(limit.kind != "skin" for limit in case.limits):
        yield {
            "kind": "skin",
            "says": None,
            "answer": "",
            "attacks": False,
            "physician_says": None,
            "_labels": {"says": _LEANS if case.sitting.leans else _AS_SEATED},
        }


def _says(case: Case, limit: Limit, called: str, words: Words) -> str:
    """One sentence or more: what was seen follows the faculty and a colon, unless it names the faculty itself."""
    screening, says = words["screening"], (limit.says or "").rstrip(". ")
    author = other_author(case, limit.by)
    on = screening["on"].format(day=short_day(limit.on, case.dates.written_on, words)) if limit.on else ""
    by = screening["by"].format(name=author.name) if author and author.name else ""
    if limit.kind == "other" or says.lower().startswith(limit.kind):
        return f"{says}{screening['aside'].format(source=f'{on}{by}'.strip())}." if on or by else f"{says}."
    of_kind = {"seizures": "asked", "skin": "skin" if limit.found else "clear"}
    pattern = of_kind.get(limit.kind, "limit" if limit.found else "clear")
    if pattern == "clear" and not (on or by):  # nobody is recorded to have screened it
        pattern = "record"
    whose = words["pronoun"].get(case.client.pronouns, {}).get("possessive") or screening["the"]
    opening = screening[pattern].format(whose=whose, kind=limit.kind, on=on, by=by)
    return f"{opening[:1].upper()}{opening[1:]} {inside(says, called)}."
