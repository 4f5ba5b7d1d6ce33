"""The order of a planned trial in words: blocks and minutes, what is made fair, what so many attempts can tell."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal, TypedDict

from docgen.criteria.sentences import capital, counted, listed
from docgen.evidence.equal_controls import chance_as_far_apart
from docgen.evidence.planned_trial import blocks_of
from docgen.evidence.trial_order import FEWEST_ALTERNATIONS
from docgen.evidence.trial_size import (
    MOST_ATTEMPTS,
    Visit,
    attempts_a_block,
    chance_of_telling,
    fewest_attempts,
    most_clearly_lower,
    most_unseen,
    worth,
)
from docgen.fit.finding import finding_name
from docgen.shelf.client import tires
from docgen.shelf.match import Match
from docgen.shelf.planned import Card, Planned

BETTER = 0.9  # true share done with the better control, for which chances are told
_DIFFERENCES = (20, 40, 60)  # points that are told beside the one that would decide
_EQUAL = 0.8  # true share of two equal controls
_ALIKE = (0.05, 0.2)  # correlation of attempts of a block, from and to: none is published, so a range is told
_FEW = {1: "One alternation", 2: "Two alternations", 3: "Three alternations"}
_PARTS = {
    "fixed": "minutes for seating, cards and scores",
    "change": "minutes from one control to the next",
    "attempt": "minutes an attempt",
}


class BlockRow(TypedDict):
    """One block of a visit: one control, its counted attempts with their cards, the minutes that it takes."""

    visit: int
    place: int
    letter: str
    control: str
    id: str
    n_counted: int
    cards: tuple[tuple[int, Card], ...]
    minutes: str


class ChanceRow(TypedDict):
    """How often so many attempts tell two controls apart, in words; `decides` marks the difference that matters."""

    better: str
    other: str
    chance: str
    fewest: str
    role: Literal["chosen", ""]


def block_rows(plan: Planned) -> Iterator[BlockRow]:
    """The blocks of every visit in their order."""
    if plan.order is None or plan.visit is None:
        return
    minutes = plan.visit.warm_up + plan.order.n_block * plan.visit.attempt
    for block in blocks_of(plan.order, len(plan.cards)):
        control = plan.controls[block.control]
        yield {
            "visit": block.visit,
            "place": block.place,
            "letter": control.letter,
            "control": control.name,
            "id": control.method.id if control.method else control.id,
            "n_counted": plan.order.n_block,
            "cards": tuple((number, plan.cards[number - 1]) for number in block.cards),
            "minutes": f"{minutes:g}",
        }


def reckoned_words(plan: Planned) -> tuple[str, ...]:
    """Parts of a visit's time that are not recorded, with what is reckoned instead."""
    if plan.visit is None:
        return ()
    return tuple(f"{getattr(plan.visit, name):g} {_PARTS[name]}" for name in plan.reckoned)


def holds_sentence(plan: Planned) -> str:
    """What the visits hold of a comparison, and how many controls would be too many."""
    if plan.visit is None or plan.plan.visits is None:
        return ""
    visits = f"{capital(_visits(plan.plan.visits))} of {plan.visit.length:g} minutes"
    two, three = (attempts_a_block(plan.visit, n) * plan.plan.visits for n in (2, 3))
    verb = "holds" if plan.plan.visits == 1 else "hold"
    if not two:
        return f"{visits} {verb} no comparison: not one counted attempt is left beside seating and change."
    sieve = f" With three controls they leave {three} each: enough to rule one out, not to compare." if three else ""
    if plan.plan.visits == 2 and three < 10:
        return f"{visits} hold one comparison of two controls, {two} counted attempts with each.{sieve}"
    return f"{visits} {verb}, with two controls, {two} counted attempts with each."


def _visits(n: int) -> str:
    return {1: "one visit", 2: "two visits", 3: "three visits"}.get(n, f"{n} visits")


def order_sentences(plan: Planned, matched: Match) -> Iterator[str]:
    """What the order makes fair, and what it leaves."""
    order = plan.order
    if order is None:
        return
    if order.kind == "none":
        yield (
            f"No order is written: {counted(len(plan.controls), 'control', 'controls')} do not fit. "
            "Rule out by measure or a short try first, or plan longer visits."
        )
        return
    if order.kind == "alone":
        yield "One control alone is compared with nothing: its share and its stops are shown, and no more."
        return
    if order.kind == "sieve":
        yield (
            "This rules out and compares nothing: so few attempts part only what is far apart, and the one in the "
            "middle never comes first or last. Two visits for the two that are left come after it."
        )
    yield (
        "Practice and tiredness that grow steadily fall on all alike."
        if order.even
        else "Practice and tiredness do not fall on all alike: the visits leave half a mirror. "
        "One visit more in the other order closes it."
    )
    if order.even and not order.even_curved:
        yield "Learning that levels off still weighs on A, the first: let A be the one expected to do better."
    if order.balanced:
        yield "Each control comes first, and straight after each other one, as often as any."
    if not order.both_ways:
        yield "Not every control comes after each other one: what one leaves behind for the next is not balanced."
    if order.n_each and min(order.n_each) < len(plan.cards):
        yield f"There are {len(plan.cards)} cards and {min(order.n_each)} attempts: the last cards are not driven."
    if order.n_alternations < FEWEST_ALTERNATIONS:
        yield (
            f"{_FEW[order.n_alternations]}: the result is what was seen so far, with fewer repeats than research "
            "standards ask. Care may go on from it."
        )
    if order.kind == "two" and plan.plan.both_mounted and (resting := tires(matched.client)):
        yield f"Each comes once a visit, with a rest between: {listed(map(finding_name, resting))}."


def chance_rows(plan: Planned) -> Iterator[ChanceRow]:
    """How often the planned attempts tell two controls apart, by how far apart they truly are."""
    n = planned_attempts(plan)
    if n is None:
        return
    own = plan.plan.difference_percent
    wanted = sorted({*map(float, _DIFFERENCES), *([own] if own is not None and own < BETTER * 100 else [])})
    for points in wanted:
        other = BETTER - points / 100
        fewest = fewest_attempts(BETTER, other)
        yield {
            "better": f"{BETTER * 100:.0f} of 100",
            "other": f"{other * 100:.0f} of 100",
            "chance": f"{chance_of_telling(BETTER, other, n) * 100:.0f} of 100 such trials",
            "fewest": f"{fewest}" if fewest is not None else f"more than {MOST_ATTEMPTS}",
            "role": "chosen" if points == own else "",
        }


def planned_attempts(plan: Planned) -> int | None:
    """Counted attempts with each control; None without an order that compares. No more than can be reckoned."""
    if plan.order is None or plan.order.kind in ("alone", "none") or not plan.order.n_each:
        return None
    return min(*plan.order.n_each, MOST_ATTEMPTS)


def number_sentences(plan: Planned) -> Iterator[str]:
    """What so many attempts can and cannot show."""
    n = planned_attempts(plan)
    if n is None or plan.order is None:
        return
    if min(plan.order.n_each) > n:
        yield f"Reckoned with {n} attempts each; more are planned, and tell a little more."
    parted = [
        f"{done} beside {lower} or fewer"
        for done in (n, n - 1, n - 2)
        if (lower := most_clearly_lower(done, n)) is not None
    ]
    if parted:
        yield f"Of {n} attempts each, these are clearly apart: {'; '.join(parted)}. Anything closer is open."
    near, far = (chance_as_far_apart(n, n, _EQUAL, Fraction(points, 100)) * 100 for points in (15, 30))
    yield (
        f"Two equal controls, each done in 8 of 10, come out 15 points or more apart in {near:.0f} of 100 such trials, "
        f"30 or more in {far:.0f}. Equal counts do not show equal controls."
    )
    low, high = (worth(n, plan.order.n_block, alike) for alike in reversed(_ALIKE))
    yield (
        f"Attempts of one block hang together, how much is not known: {n} may tell no more than {low:.0f} to "
        f"{high:.0f} independent ones."
    )
    yield (
        f"What never happens in {n} attempts may still happen in up to {most_unseen(n) * 100:.0f} of 100: no trial of "
        "this size shows that a control is safe."
    )


def visit_minutes(plan: Planned) -> str:
    """How the minutes of a visit go, as a sum."""
    order, visit = plan.order, plan.visit
    if order is None or visit is None or not order.rows:
        return ""
    n_blocks = len(order.rows[0])
    used = _used(visit, n_blocks, order.n_block)
    change = f" + {n_blocks - 1} x {visit.change:g} for a change with its rest" if n_blocks > 1 else ""
    return (
        f"{visit.fixed:g} for seating, cards and scores{change} + {n_blocks} x {visit.warm_up:g} warm-up + "
        f"{n_blocks} x {order.n_block} attempts of {visit.attempt:g} = {used:g} of {visit.length:g} minutes"
    )


def _used(visit: Visit, n_blocks: int, n_block: int) -> float:
    return visit.fixed + visit.change * (n_blocks - 1) + n_blocks * (visit.warm_up + n_block * visit.attempt)
