"""Each code may be paid for this request on the day that counts.

Asks: Whether a code has ended, has not begun, was never in the lists, is excluded, runs nothing but what is
excluded, is for repair only, or is a base beyond home need.
Why a payer asks: A line with such a code is denied, whatever the need.
What settles it: The codes, dates.delivered_on or request.requested_on, and request.kind.
Source: article A52504; joint contractor notice of 2025-03-13; LCD L33789, type list VI; code lists of 2017,
2018, 2019 and 2025. Codes outside the program's list are not judged here.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from docgen.case.items import Item
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import (
    CHAIR,
    FILL_IN_KIND,
    ITEMS,
    Line,
    base,
    base_is_requested,
    day_that_counts,
    lines,
    named,
    no_codes,
)
from docgen.criteria.sentences import capital, counted, day, listed

HEADING = "order"
CLAIM = "No code is excluded by the list that was checked"
# what the code lists themselves say; what a payer leaves out is told where a row of that payer says so
SETTINGS = {"reasons": ["not_in_force", "never_listed", "for_repair"]}
CHOICES = {"reasons": (*SETTINGS["reasons"], "excluded", "beyond_home")}

_STANDING = "E2301"
_WORDS = {
    "never_listed": "is in none of the code lists",
    "excluded": "is not covered",
    "for_repair": "is for repair or replacement only",
}


def answer(grounds: Grounds, reasons: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    counted_on = day_that_counts(case)
    barred = [*_wrong(case, reasons, counted_on[0] if counted_on else None)]
    if barred:
        wheres, says = [where for where, _ in barred], [words for _, words in barred]
        return not_met(
            f"{capital(listed(says))}.", *wheres, mend="Take the line out, or request the code that is in use."
        )
    known = [item for _, item in lines(case) if hcpcs.code(item.code) or hcpcs.base(item.code)]
    if not known:
        return cannot_tell(
            "No code on the order is in the program's list.",
            ITEMS,
            mend="Look each code up in the list of that day, and correct what has ended.",
        )
    if "for_repair" in reasons and case.request.kind is None and (parts := _for_repair(case)):
        return cannot_tell(
            f"For repair only: {named(parts)}. The kind of request is not recorded.",
            ("request",),
            mend=FILL_IN_KIND,
        )
    if "not_in_force" in reasons and counted_on is None:
        return cannot_tell(
            "Neither the day of delivery nor the day of the request is recorded.",
            ("request", "requested_on"),
            mend=fill_in({"request.requested_on": "<date>"}),
        )
    return _none_barred(case, known, counted_on)


def _none_barred(case: Case, known: list[Item], counted_on: tuple[date, str] | None) -> Answer:
    """Met: how many codes were looked up, for which day, and how many could not be; in part where the list of that
    year was not checked."""
    by = f" on {day(counted_on[0])}, {counted_on[1]}" if counted_on else ""
    rest = len(lines(case)) - len(known)
    but = (
        f" {counted(rest, 'code', 'codes')} outside the list {'is' if rest == 1 else 'are'} not judged." if rest else ""
    )
    base = base_is_requested(case)
    n_codes = len({item.code for item in known} | ({case.configuration.chair.base_code} if base else set()))
    which = ", including that of the base," if base else ""
    later = hcpcs.later_list(counted_on[0]) if counted_on else ""
    none = f"none was excluded by these. {later}" if later else f"none is excluded{by}."
    return met(
        f"{counted(n_codes, 'code', 'codes')}{which} {'was' if n_codes == 1 else 'were'} held against "
        f"{hcpcs.checked_against()}; {none}{but} {_asked(case)}",
        ITEMS,
        limit="in_part" if later else "",
    )


def _asked(case: Case) -> str:
    """Whether the payer has said anything of the lines: a list is no answer of a payer."""
    answers = (case.request.payer_says, case.configuration.chair.payer_says, *(i.payer_says for _, i in lines(case)))
    if any(answers):
        return "What the payer said of them stands in the order."
    return "The payer has not been asked about them."


def _for_repair(case: Case) -> list[Line]:
    return [(i, item) for i, item in lines(case) if (code := hcpcs.code(item.code)) and code.status == "for_repair"]


def _wrong(case: Case, reasons: list[str], on: date | None) -> Iterator[tuple[KeyPath, str]]:
    for i, item in lines(case):
        code = hcpcs.code(item.code)
        if code is None:
            continue
        at = (*ITEMS, i, "code")
        if code.status in reasons and (code.status != "for_repair" or case.request.kind == "new_chair"):
            yield at, f"{named([(i, item)])} {_WORDS[code.status]}"
        if "not_in_force" in reasons and on and not code.in_use(on):
            says = (
                f"ended on {day(code.until_on)}"
                if code.until_on and on > code.until_on
                else f"begins on {day(recorded(code.from_on))}"
            )
            yield at, f"{named([(i, item)])} {says}, and {day(on)} counts"
    if "excluded" in reasons and {item.code for _, item in lines(case, hcpcs.of_kind("seating"))} == {_STANDING}:
        for i, item in lines(case, hcpcs.of_kind("connection")):
            yield (*ITEMS, i, "code"), f"{named([(i, item)])} runs power standing alone, which is not covered"
    chair = base(case)
    if "beyond_home" in reasons and chair and chair.group == 4:
        yield (*CHAIR, "base_code"), f"{chair.id} is a base of group 4, more than a home needs"
