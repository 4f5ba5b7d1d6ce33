"""What expires when: the dated entries that follow from the recorded dates of a case and the rows of its payer.

Nothing here reads a clock. An entry says which day is the last (or the planned) one and which recorded day has
met it; whether it has passed depends on the day on which someone looks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal

from msgspec import Struct

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.months import borderline
from docgen.criteria.payer import Payer
from docgen.criteria.run import Verdict
from docgen.criteria.sentences import day
from docgen.fit.schedule import due_on
from docgen.months import months_later

Kind = Literal["deadline", "planned", "review"]
State = Literal["kept", "late", "passed", "today", "ahead"]


class Entry(Struct, frozen=True):
    """One day that matters.

    on      the last day of a deadline, or the day planned
    what    what that day is the last day for, or what is planned
    kind    a deadline of a payer, something planned in the case, or the review of the payer's rules
    done_on the recorded day that settles it; None when nothing is recorded
    source  the payer's row, or what in the case it follows from
    where   keys of the case it rests on
    note    what to know of how close it was; empty where nothing is
    """

    on: date
    what: str
    kind: Kind
    done_on: date | None
    source: str
    where: tuple[KeyPath, ...] = ()
    note: str = ""

    def state(self, today: date) -> State:
        """How it stands on a day; the last day itself still counts."""
        if self.done_on is not None:
            return "kept" if self.done_on <= self.on or self.kind == "planned" else "late"
        if self.on == today:
            return "today"
        return "passed" if self.on < today else "ahead"


def calendar(case: Case, payer: Payer, verdicts: Iterable[Verdict]) -> tuple[Entry, ...]:
    """Dated entries, soonest first.

    verdicts  the rows in force with their answers; what no row of this payer asks sets no deadline,
              and an encounter that is not needed opens no window
    Months are calendar months (the last day of a shorter month), weeks are of seven days.
    Check:  an encounter of 2025-08-31 gives the order until 2026-02-28, one of 2026-03-04 until 2026-09-04.
    """
    own = {row.id for row in payer.requirements}
    rows = [verdict for verdict in verdicts if verdict.requirement.id in own and _counts(case, verdict)]
    entries = [
        *_windows(case, rows),
        *_acceptance(case, rows),
        *_papers(case, rows),
        *_appeal(case),
        *_authorized(case),
        *_planned(case),
        _review(payer),
    ]
    return tuple(sorted(dict.fromkeys(entries), key=lambda entry: (entry.on, entry.what)))


def undated(case: Case) -> tuple[str, ...]:
    """What is planned but has no day yet, because the day it counts from is not recorded."""
    if case.dates.delivered_on or not case.follow_up:
        return ()
    weeks = ", ".join(
        f"{visit.after_weeks:g}" + (f" and every {visit.every_months} months from then" if visit.every_months else "")
        for visit in sorted(case.follow_up, key=lambda visit: visit.after_weeks)
    )
    return (f"Follow-up {weeks} weeks after delivery: dated once dates.delivered_on is recorded.",)


def next_entry(entries: Iterable[Entry], today: date) -> Entry | None:
    """The entry of the case to look at first: a deadline that was missed, else the soonest day ahead, else what was
    planned last."""
    entries = tuple(entry for entry in entries if entry.kind != "review")
    missed = (e for e in entries if e.kind == "deadline" and e.state(today) in ("passed", "late"))
    ahead = (e for e in entries if e.state(today) in ("today", "ahead"))
    gone = (e for e in reversed(entries) if e.kind == "planned")
    return next(missed, None) or next(ahead, None) or next(gone, None)


def _counts(case: Case, verdict: Verdict) -> bool:
    """Whether a row sets a deadline in this case."""
    window = verdict.criterion.window
    if verdict.criterion.id == "delivered_in_time" and case.authorization.decision == "not_affirmed":
        return False
    return verdict.answer.status != "does_not_apply" or (window is not None and window.ahead)


def _windows(case: Case, rows: list[Verdict]) -> Iterator[Entry]:
    for verdict in rows:
        window = verdict.criterion.window
        if window is None:
            continue
        start, end = _day(case, window.start), next((on for path in window.ends if (on := _day(case, path))), None)
        if start is None:
            continue
        if end is not None and end < start:
            end = None  # out of order, so it settles nothing
        months = _setting(verdict, "months")
        yield Entry(
            months_later(start, months),
            window.words.format(start=day(start)),
            "deadline",
            end,
            verdict.requirement.citation,
            (window.start, *window.ends),
            borderline(start, end, months) if end else "",
        )


def _papers(case: Case, rows: list[Verdict]) -> Iterator[Entry]:
    """Until when the papers are kept, from delivery on."""
    for verdict in rows:
        if verdict.criterion.id == "papers_kept" and case.dates.delivered_on:
            yield Entry(
                months_later(case.dates.delivered_on, 12 * _setting(verdict, "years")),
                "the records are kept until this day",
                "planned",
                None,
                verdict.requirement.citation,
                (("dates", "delivered_on"),),
            )


def _acceptance(case: Case, rows: list[Verdict]) -> Iterator[Entry]:
    """The acceptance of the evaluation: on or before the order, or, before there is one, the last day for it."""
    dates = case.dates
    for verdict in rows:
        if verdict.criterion.id != "evaluation_before_order" or dates.evaluated_on is None:
            continue
        ends = [entry.on for entry in _windows(case, rows) if ("dates", "ordered_on") in entry.where]
        last = dates.ordered_on or min(ends, default=None)
        if last is not None:
            yield Entry(
                last,
                f"last day to concur with the evaluation of {day(dates.evaluated_on)}, before the order",
                "deadline",
                dates.accepted_on,
                verdict.requirement.citation,
                (("dates", "accepted_on"),),
            )


def _appeal(case: Case) -> Iterator[Entry]:
    denial = case.denial
    if denial.deadline_on:
        of = f" of the denial of {day(denial.denied_on)}" if denial.denied_on else ""
        yield Entry(
            denial.deadline_on,
            f"last day for the appeal{of}",
            "deadline",
            denial.sent_on,
            "the payer's notice of denial",
            (("denial", "deadline_on"),),
        )


def _authorized(case: Case) -> Iterator[Entry]:
    """Until when the chair must be delivered for the authorization to hold."""
    if last := case.authorization.valid_until:
        yield Entry(
            last,
            "last day of the authorization, by which the chair is delivered",
            "deadline",
            case.dates.delivered_on,
            "the payer's decision",
            (("authorization", "valid_until"), ("dates", "delivered_on")),
        )


def _planned(case: Case) -> Iterator[Entry]:
    if start := case.training.start_on:
        yield Entry(start, "training starts", "planned", None, "training plan of the case", (("training", "start_on"),))
    for index, lesson in enumerate(case.to_teach):
        if lesson.planned_on:
            yield Entry(
                lesson.planned_on,
                f"{case.called_by_relation(lesson.who)} is to be taught: {lesson.what}",
                "planned",
                min(
                    (t.on for t in case.taught if t.who == lesson.who and t.on and t.on >= lesson.planned_on),
                    default=None,
                ),
                "teaching planned in the case",
                (("to_teach", index), ("taught",)),
            )
    for index, visit in enumerate(case.follow_up):
        if on := due_on(case, visit):
            yield Entry(
                on,
                f"follow-up, {visit.after_weeks:g} weeks after delivery: {visit.what}",
                "planned",
                visit.done_on,
                "follow-up of the case",
                (("follow_up", index), ("dates", "delivered_on")),
            )


def _review(payer: Payer) -> Entry:
    return Entry(
        payer.review_by,
        f"the rules of '{payer.id}' are due for review",
        "review",
        None,
        f"rules of {payer.name}, last reviewed {payer.reviewed_on}",
    )


def _setting(verdict: Verdict, name: str) -> int:
    return int({**verdict.criterion.settings, **verdict.requirement.settings}[name])


def _day(case: Case, path: KeyPath) -> date | None:
    table, key = path
    on: date | None = getattr(getattr(case, str(table)), str(key))
    return on
