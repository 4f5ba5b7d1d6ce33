"""The codes that what is asked for usually rests in, as `docgen fit` prints them."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.console.features import wrapped
from docgen.criteria.offered import Offer, offered
from docgen.criteria.ordered import day_that_counts
from docgen.criteria.sentences import day, listed

# how a code is known -> what is said of it
_KNOWN = {
    "read": "its text was read",
    "passage": "a passage on it was read",
    "summary": "a summary of it was read",
    "memory": "from memory",
    "inference": "inferred",
}


def code_lines(case: Case) -> Iterator[str]:
    """Each code that the requested features usually rest in, what it stands for, and whether the order has it."""
    offers = offered(case)
    if not offers:
        return
    for offer in offers:
        yield from wrapped(f"{offer.code.id}, {offer.code.words}: {listed(offer.features)}. {_state(offer)}", 2)
    counts = day_that_counts(case)
    on = f"by {counts[1]}, {day(counts[0])}" if counts else "without a day: requested_on is not recorded"
    yield from wrapped(
        f'Judged {on}. A line of the order may be its code alone, code = "{offers[0].code.id}". Which code is right '
        "is for the supplier and the payer to say. Codes are described in our own wording.",
        2,
    )


def _state(offer: Offer) -> str:
    order = "On the order" if offer.ordered else "Not on the order"
    use = "; not in use on that day" if offer.in_use is False else ""
    return f"{order}{use}; {_KNOWN[offer.code.known]} ({offer.code.source})."
