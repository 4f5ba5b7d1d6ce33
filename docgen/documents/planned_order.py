"""The order of a planned trial in words: blocks and minutes, what is made fair, what so many attempts can tell."""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from typing import Literal, TypedDict

from docgen.criteria.sentences import capital, counted, listed
from docgen.evidence.difference import newcombe_interval
from docgen.evidence.equal_controls import chance_as_far_apart
from docgen.evidence.planned_trial import blocks_of
from docgen.evidence.trial_order import FEWEST_ALTERNATIONS, LEAST_A_BLOCK
from docgen.evidence.trial_size import (
    MOST_ATTEMPTS,
    attempts_a_block,
    chance_of_telling,
    fewest_attempts,
    minutes_for,
    most_clearly_lower,
    most_unseen,
)
from docgen.fit.finding import finding_name
from docgen.shelf.client import tires
from docgen.shelf.match import Match
from docgen.shelf.planned import Card, Planned

BETTER = 0.9  # true share done with the better control, for which chances are told
_DIFFERENCES = (20, 40, 60)  # points that are told beside the one that would decide
_EQUAL = 0.8  # true share of two equal controls
_ROUND = 5  # minutes, to which the length of a visit is rounded up
_FEW = {1: "One alternation", 2: "Two alternations", 3: "Three alternations"}
_PARTS = {
    "fixed": "minutes for seating, skin, cards and scores",
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
    driven = plan.driven
    for block in blocks_of(plan.order, len(plan.cards)):
        control = driven[block.control]
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
    changes = plan.order is not None and any(len(row) > 1 for row in plan.order.rows)
    used = [name for name in plan.reckoned if name != "change" or changes]
    return tuple(f"{getattr(plan.visit, name):g} {_PARTS[name]}" for name in used)


def holds_sentence(plan: Planned) -> str:
    """What the visits hold, and how long they would have to be to hold what a comparison asks for."""
    if plan.visit is None or plan.plan.visits is None:
        return ""
    n_visits = plan.plan.visits
    visits = f"{capital(_visits(n_visits))} of {plan.visit.length:g} minutes"
    verb = "holds" if n_visits == 1 else "hold"
    if plan.order is not None and plan.order.kind == "alone":
        alone = attempts_a_block(plan.visit, 1) * n_visits
        return f"{visits} {verb} {alone} counted attempts with one control. Nothing is compared."
    a_block, of_three = (attempts_a_block(plan.visit, n) for n in (2, 3))
    two, three = a_block * n_visits, of_three * n_visits
    longer = _longer_visits(plan, a_block)
    if not two:
        return f"{visits} {verb} no comparison: not one counted attempt is left beside seating and change.{longer}"
    sieve = f" With three controls they leave {three} each: enough to rule one out, not to compare." if three else ""
    if n_visits == 2 and three < 10:
        return f"{visits} hold one comparison of two controls, {two} counted attempts with each.{longer}{sieve}"
    return f"{visits} {verb}, with two controls, {two} counted attempts with each.{longer}"


def _longer_visits(plan: Planned, a_block: int) -> str:
    """How long visits would have to be, where a block holds fewer attempts than single-case standards ask for."""
    if plan.visit is None or a_block >= LEAST_A_BLOCK:
        return ""
    minutes = minutes_for(plan.visit, 2, LEAST_A_BLOCK)
    return (
        f" That is {a_block} a block; single-case standards ask for {LEAST_A_BLOCK} (What Works Clearinghouse 2010). "
        f"Visits of {math.ceil(minutes / _ROUND) * _ROUND} minutes would hold them."
    )


def _visits(n: int) -> str:
    return {1: "one visit", 2: "two visits", 3: "three visits"}.get(n, f"{n} visits")


def order_sentences(plan: Planned, matched: Match) -> Iterator[str]:
    """What the order makes fair, and what it leaves."""
    order = plan.order
    if order is None:
        return
    if order.kind == "none":
        yield (
            f"No order is written: {counted(len(plan.driven), 'control', 'controls')} do not fit. "
            "Rule out by measure or a short try first, or plan longer visits."
        )
        return
    if order.kind == "alone":
        yield "One control alone is compared with nothing: how often it is done and stopped is shown, and no more."
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


def stop_attempts(plan: Planned) -> int:
    """Counted attempts of each control that are a stop: the fewest of any."""
    stops = [0] * len(plan.driven)
    if plan.order is None or not plan.order.rows:
        return 0
    for block in blocks_of(plan.order, len(plan.cards)):
        stops[block.control] += sum(plan.cards[number - 1].of == "stop" for number in block.cards)
    return min(stops, default=0)


def difference_words(plan: Planned) -> str:
    """The difference that would decide, in attempts of this trial; empty where either is not known."""
    n, points = planned_attempts(plan), plan.plan.difference_percent
    if n is None or points is None:
        return ""
    return f"{math.ceil(n * points / 100)} more of {n} done"


def plain_number_sentence(plan: Planned) -> str:
    """What so many attempts are good for, in one sentence."""
    if plan.order is not None and plan.order.kind == "alone":
        return (
            f"{plan.order.n_each[0]} attempts with one control: they show how it went, not whether another is better."
        )
    n = planned_attempts(plan)
    if n is None:
        return ""
    lower = most_clearly_lower(n, n)
    if lower is None:
        return f"Too few attempts to prefer either control: with {n} each not even {n} done beside none is clear."
    return f"Too few attempts to prefer one control unless the gap is large: at best {n} of {n} beside {lower} of {n}."


def number_sentences(plan: Planned) -> Iterator[str]:
    """What so many attempts can and cannot show, the plain sentence first."""
    if plain := plain_number_sentence(plan):
        yield plain
    n = planned_attempts(plan)
    if n is not None and plan.order is not None:
        yield from _compared_sentences(plan, n, min(plan.order.n_each))
    if n is None and plan.order is not None and plan.order.kind == "alone":
        n = min(plan.order.n_each[0], MOST_ATTEMPTS)
    if n is None:
        return
    yield (
        f"What never happens in {n} attempts may still happen in up to {most_unseen(n) * 100:.0f} of 100: no trial of "
        "this size shows that a control is safe."
    )
    stops = stop_attempts(plan)
    if stops:
        yield (
            f"Stops are counted apart: {stops} with each control. None missed of {stops} may still be up to "
            f"{most_unseen(stops) * 100:.0f} missed of 100."
        )


def _compared_sentences(plan: Planned, n: int, n_planned: int) -> Iterator[str]:
    """What parts two controls, and what does not."""
    if n_planned > n:
        yield f"Reckoned with {n} attempts each; more are planned, and tell a little more."
    if words := difference_words(plan):
        gap = math.ceil(n * (plan.plan.difference_percent or 0) / 100)
        clear = all(newcombe_interval(done, n, done - gap, n).low > 0 for done in range(gap, n + 1))
        besides = (
            "Any such gap is also more than chance would make."
            if clear
            else "Near the middle such a gap may still be chance: then it is open."
        )
        yield f"What would decide, by the therapist's word: {words}. {besides}"
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
    yield "Attempts made one after the other are alike: they tell less than as many on different days."


def visit_minutes(plan: Planned) -> str:
    """How the minutes of a visit go, as a sum."""
    order, visit = plan.order, plan.visit
    if order is None or visit is None or not order.rows:
        return ""
    n_blocks = len(order.rows[0])
    used = minutes_for(visit, n_blocks, order.n_block) - visit.slack
    change = f" + {n_blocks - 1} x {visit.change:g} for a change" if n_blocks > 1 else ""
    relief = f" + {visit.relief:g} for the weight shift" if visit.relief else ""
    return (
        f"{visit.fixed:g} for seating, skin, cards and scores{change}{relief} + {n_blocks} x {visit.warm_up:g} warm-up "
        f"+ {n_blocks} x {order.n_block} attempts of {visit.attempt:g} = {used:g} of {visit.length:g} minutes; "
        f"{visit.length - used:g} are kept free"
    )
