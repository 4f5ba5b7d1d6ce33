"""One device of a shelf beside another, in words: why the one rather than the other, and on what it falls behind."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from docgen.criteria.sentences import capital, listed
from docgen.documents.matched_apart import why_apart, would_stand
from docgen.documents.matched_seen import points
from docgen.fit.finding import finding_name
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match, Reason, Why, why
from docgen.shelf.seen import Seen

_BEHIND = {
    "harms": "can do harm",
    "against": "against it",
    "guarded": "answered, not met",
    "helps": "helped, not met",
    "open": "not met",
    "unknown": "not known",
}


def pair_sentences(matched: Match, shown: Seen) -> Iterator[str]:
    """Each device that leads beside each that stands directly below it: why the one rather than the other."""
    for above, below in zip(matched.layers, matched.layers[1:], strict=False):
        for second in below:
            for first in above:
                comparison = why(matched, first, second)
                if comparison.above in ("first", "seen_first"):
                    yield why_sentence(comparison, shown)


def why_sentence(comparison: Why, shown: Seen) -> str:
    """A rather than B because ..., the other way around, or why neither."""
    first, second = comparison.first.device.name, comparison.second.device.name
    seen_pair = next(
        (p for p in shown.compared if {p.better, p.worse} == {comparison.first.device.id, comparison.second.device.id}),
        None,
    )
    if comparison.above in ("seen_first", "seen_second") and seen_pair is not None:
        better, worse = (first, second) if comparison.above == "seen_first" else (second, first)
        return f"{capital(better)} rather than {worse}: in the trial {points(seen_pair.difference)} more were done."
    if comparison.above == "first":
        return f"{capital(first)} rather than {second}, because of {reasons(comparison.for_first, comparison.second)}."
    if comparison.above == "second":
        return f"{capital(second)} rather than {first}, because of {reasons(comparison.for_second, comparison.first)}."
    if comparison.above == "equal":
        return f"Nothing recorded parts {first} and {second}."
    for_first, for_second = (
        reasons(comparison.for_first, comparison.second),
        reasons(comparison.for_second, comparison.first),
    )
    both = [f"for {first}: {for_first}"] if for_first else []
    both += [f"for {second}: {for_second}"] if for_second else []
    return (
        f"Neither {first} nor {second} stands above the other. {capital('; '.join(both))}."
        if both
        else (f"{capital(first)} and {second} are both set apart.")
    )


def reasons(behind_on: tuple[Reason, ...], falls_behind: Judged) -> str:
    """Findings on which a device falls behind another, each with how the one behind stands to it."""
    if falls_behind.stage != "layered":
        return " ".join(why_apart(falls_behind)).rstrip(".")
    return listed(
        f"{finding_name(reason.finding)} ({_BEHIND.get(falls_behind.standing(reason.finding), 'not met')})"
        for reason in behind_on
    )


def otherwise(comparison: Why) -> str:
    """What would have to be otherwise for the second of two to lead the first."""
    if comparison.second.stage != "layered":
        return would_stand(comparison.second)
    if comparison.above in ("first", "seen_first"):
        names = listed(dict.fromkeys(finding_name(reason.finding) for reason in comparison.for_first))
        behind = capital(comparison.second.device.name)
        return f"{behind} would stand beside it were nothing left open or against it in: {names}."
    return ""


def below_words(matched: Match, name: str, number: Mapping[str, int]) -> str:
    """Devices that stand above one, by number or by name, and the findings on which it falls behind each."""
    above = (why(matched, first, name) for layer in matched.layers for first in layer if first != name)
    return "; ".join(
        f"{number.get(pair.first.device.id, pair.first.device.name)}: "
        f"{reasons(pair.for_first, pair.second) or 'seen in the trial'}"
        for pair in above
        if pair.above in ("first", "seen_first")
    )
