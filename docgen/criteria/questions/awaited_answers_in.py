"""Whatever somebody has still to answer is answered.

Asks: Whether each consent, decision or opinion that the request waits for has come, and on which day; the letter is
    dated on that day or later, for before it there was nothing to ask for.
Why a payer asks: A request that goes out before its own open questions are answered may ask for the wrong thing.
What settles it: answer and answered_on of each entry of [[awaited]]; written_on under [dates]. What the request need
    not wait for has holds = false.
Source: common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, does_not_apply, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.open_questions import answered, not_answered
from docgen.criteria.sentences import day, listed

HEADING = "record"
CLAIM = "What the request waits for is answered"
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    waited_for = [(i, entry) for i, entry in enumerate(grounds.case.awaited) if entry.holds]
    if not waited_for:
        return does_not_apply("Nothing is recorded that the request waits for.", ("awaited",))
    if still_open := [(i, entry) for i, entry in waited_for if entry.is_open]:
        return not_answered(still_open, holds=True)
    if late := _answered_after_the_letter(grounds.case):
        return late
    return answered(waited_for)


def _answered_after_the_letter(case: Case) -> Answer | None:
    """The letter asks for nothing while an answer is awaited, so it cannot be older than the answer; None where all
    that was asked before it was answered before it."""
    written_on = case.dates.written_on
    late = [
        (at, f"{entry.what} ({day(entry.answered_on)})")
        for at, entry in enumerate(case.awaited)
        if entry.holds and written_on and entry.answered_on and entry.answered_on > written_on
        # what the payer asks after the letter is told it by the letter alone, so that has to be written anew
        if entry.asked_on is None or entry.asked_on <= written_on or entry.asked_by == "payer"
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
