"""Whatever somebody has still to answer is answered.

Asks: Whether each consent, decision or opinion that the request waits for has come, and on which day; the letter is
    dated on that day or later, for before it there was nothing to ask for.
Why a payer asks: A request that goes out before its own open questions are answered may ask for the wrong thing.
What settles it: answer and answered_on of each entry of [[awaited]]; written_on under [dates].
Source: common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from docgen.case.awaited import Awaited
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, fill_in
from docgen.criteria.sentences import day, listed

HEADING = "record"
CLAIM = "What the request waits for is answered"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    awaited = grounds.case.awaited
    if not awaited:
        return does_not_apply("Nothing is recorded that somebody has still to answer.", ("awaited",))
    still_open = [(i, entry) for i, entry in enumerate(awaited) if entry.is_open]
    if not still_open and (waiting := _answered_after_the_letter(grounds.case)):
        return waiting
    if not still_open:
        answered = (f"{entry.what} ({day(entry.answered_on)})" for entry in awaited if entry.answered_on)
        return met(f"Answered: {listed(answered)}.", *(("awaited", i) for i, _ in enumerate(awaited)))
    still_open.sort(key=lambda numbered: not numbered[1].holds)
    # what the request does not wait for is told where nothing else is open, and asked of whoever answers in any case
    waited_for = [entry for _, entry in still_open if entry.holds] or [entry for _, entry in still_open]
    return replace(
        cannot_tell(
            f"Not answered yet: {listed(map(_question, waited_for))}.",
            *(("awaited", i) for i, _ in still_open),
            mend=_mend([entry for _, entry in still_open]),
        ),
        holds=any(entry.holds for _, entry in still_open),
        of=tuple(dict.fromkeys(entry.of for _, entry in still_open)),
        names=tuple(entry.what for entry in waited_for),
    )


def _answered_after_the_letter(case: Case) -> Answer | None:
    """The letter asks for nothing while an answer is awaited, so it cannot be older than the answer; None where all
    that was asked before it was answered before it."""
    written_on = case.dates.written_on
    late = [
        (at, f"{entry.what} ({day(entry.answered_on)})")
        for at, entry in enumerate(case.awaited)
        if entry.holds and written_on and entry.answered_on and entry.answered_on > written_on
        if entry.asked_on is None or entry.asked_on <= written_on
    ]
    if not late or written_on is None:
        return None
    answer = not_met(
        f"The letter of {day(written_on)} is older than an answer that the request waited for: "
        f"{listed(question for _, question in late)}.",
        ("dates", "written_on"),
        *(("awaited", at) for at, _ in late),
        mend=fill_in({"dates.written_on": "<date of the letter, once the answer is there>"}),
    )
    return replace(answer, holds=True, names=tuple(case.awaited[at].what for at, _ in late))


def _mend(still_open: list[Awaited]) -> Mend:
    """The answer and its day, or the day alone where each answer stands there already."""
    forms = {"answer": "<what was answered>", "answered_on": "<date>"}
    if all(entry.answer for entry in still_open):
        del forms["answer"]
    return fill_in(forms, " in [[awaited]]")


def _question(entry: Awaited) -> str:
    if entry.answer:
        return f"{entry.what} (the {entry.of}: an answer stands there, and not its day)"
    asked = f"asked on {day(entry.asked_on)}" if entry.asked_on else "not known when asked"
    return f"{entry.what} (the {entry.of}, {asked})"
