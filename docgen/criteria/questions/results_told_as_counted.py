"""What the record tells in words of a control that was tried is what its rows count.

Asks: Whether a device that is ruled out and was tried is told of by another count of attempts than the rows of its
    control hold: "6 of 14" beside rows of which 8 of 14 were done. A count of fewer or more tries is of something else;
    one that notes_count of the control holds is of all its rows, and notes_stops of all its stops on command.
Why a payer asks: Two counts of one trial in one letter, and nobody knows which one holds.
What settles it: The rows looked up on the sheets of the trial, or the count in measure, reason, notes_count or
    notes_stops mended.
Source: article A55426 and US Program Integrity Manual 5.9: what a letter claims is in the record; which words tell of
    attempts is common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.sentences import capital, k_of_n, listed
from docgen.evidence.blocks import tally
from docgen.evidence.fact import Fact

HEADING = "record"
CLAIM = "Counts told in words are those of the rows"
SHOWN_IN = ("letter: Alternatives Considered and Ruled Out",)
SETTINGS: dict[str, object] = {}

_COUNT = r"(?P<k>\d{1,4}) ?(?:of|out of|/) ?(?P<n>\d{1,4})"
_ATTEMPTS = r" (?:attempts|tries|trials)(?: (?:were )?(?:successful|done|made|completed))?"
_OF_ATTEMPTS = re.compile(rf"\b{_COUNT}(?:{_ATTEMPTS})(?=[\s]*(?:$|[.,;:]))", re.IGNORECASE)
_BARE = re.compile(rf"{_COUNT}\.?", re.IGNORECASE)  # the whole text, or the whole of one of its clauses

Count = tuple[KeyPath, str, int, int]  # where it is told, the control, attempts done, attempts
Otherwise = tuple[KeyPath, str, Fact]  # where it is told, both counts in a sentence, that of the rows


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.tried:
        return cannot_tell("No row of a trial is recorded.", ("trial", "rows"), mend="Add the rows of the trial.")
    counts = [*_counts_told(case)]
    methods = enumerate(case.trial.methods)
    in_notes: list[KeyPath] = [("trial", "methods", at, "notes_stops") for at, of in methods if of.notes_stops]
    if not counts and not in_notes:
        return does_not_apply("No control is told of by a count of attempts in words.", ("alternatives",))
    if wrong := [*_attempts_told_otherwise(grounds, counts), *_stops_told_otherwise(grounds)]:
        return _two_counts(wrong)
    return met(
        "Each count of attempts told in words is that of its rows.",
        *(at for at, _, _, _ in counts),
        *in_notes,
    )


def _two_counts(wrong: Sequence[Otherwise]) -> Answer:
    """Not met, and held: nobody can sign two counts of one trial."""
    ways = {f"take {at[-1]} out" if at[0] == "trial" else "mend the words": None for at, _, _ in wrong}
    told_apart = not_met(
        " ".join(says for _, says, _ in wrong),
        *(at for at, _, _ in wrong),
        ("trial", "rows"),
        facts=tuple(dict.fromkeys(fact.id for _, _, fact in wrong)),
        mend=f"Look them up on the sheets of the trial, and {listed(['mend the rows', *ways], 'or')}.",
    )
    return replace(told_apart, holds=True, names=tuple(says.rstrip(".") for _, says, _ in wrong))


def _attempts_told_otherwise(grounds: Grounds, counts: Iterable[Count]) -> Iterator[Otherwise]:
    """Each count of attempts that is not that of its rows. In the words on a device that is ruled out, one of fewer or
    more tries is of something else."""
    case = grounds.case
    for at, method, k, n in counts:
        success = recorded(grounds.evidence.of("success", method))
        as_written = tally(row for row in case.tried if row.method == method)
        of_notes = at[0] == "trial"
        if (k, n) in (as_written, (success.k, success.n)) or not (of_notes or n in (as_written[1], success.n)):
            continue
        name = case.trial.methods[int(at[2])].name if of_notes else case.alternatives[int(at[1])].name
        in_notes = "in the notes " if of_notes else ""
        says = f"{capital(name)} is told of {in_notes}with {k} of {n}, and the rows of its control count "
        yield at, f"{says}{k_of_n(success)}.", success


def _stops_told_otherwise(grounds: Grounds) -> Iterator[Otherwise]:
    """Each count of stops that notes tell of a control with rows otherwise than these count them."""
    driven = {row.method for row in grounds.case.tried}
    for at, method in enumerate(grounds.case.trial.methods):
        if not method.notes_stops or method.id not in driven:
            continue
        stops = recorded(grounds.evidence.of("stop_request", method.id))
        if method.stops_in_notes != (stops.k, stops.n):
            says = (
                f"The notes tell of {method.notes_stops} stops made with the {method.name}, and its rows count "
                f"{k_of_n(stops)}."
            )
            yield ("trial", "methods", at, "notes_stops"), says, stops


def _counts_told(case: Case) -> Iterator[Count]:
    """Each count that a text tells of a control with rows: where, the control, done and attempts."""
    driven = {row.method for row in case.tried}
    for at, method in enumerate(case.trial.methods):
        if method.id in driven and method.done_in_notes:
            yield ("trial", "methods", at, "notes_count"), method.id, *method.done_in_notes
    for at, device in enumerate(case.alternatives):
        if device.method is None or device.method not in driven:
            continue
        for key in ("measure", "reason"):
            text = getattr(device, key) or ""
            named = [*_OF_ATTEMPTS.finditer(text)]
            clauses = (
                (_BARE.fullmatch(clause.strip()) for clause in re.split(r"[;,]\s", text)) if key == "measure" else ()
            )
            for count in (*named, *filter(None, clauses)):
                yield ("alternatives", at, key), device.method, int(count["k"]), int(count["n"])
