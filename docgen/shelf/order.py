"""Devices in layers: a strict partial order over grades, and first places while some grades are not known.

Grades are one whole number a criterion, 0 to 8, higher is better. Nothing is added up, and nothing weighed.
Source: Pareto dominance (Keeney and Raiffa 1976, from memory); layers as the longest chain above (Mirsky 1971, from
memory); possible and necessary by best and worst case (Corrente, Greco and Slowinski 2012, abstract).
"""

from __future__ import annotations

import functools
import operator
from collections.abc import Collection, Iterable, Sequence

from msgspec import Struct

Grades = tuple[int, ...]
_HIGHEST = 8
Above = list[int]  # of each device the set of those that stand above it, as bits


class Range(Struct, frozen=True):
    """What the grades of a device can be.

    best    the highest grades that the answers can leave; several where one answer helps here and harms there
    worst   the lowest, in the same way
    stands  whether it stands in the layers whatever the answers; else it may turn out to be set apart
    """

    best: tuple[Grades, ...]
    worst: tuple[Grades, ...]
    stands: bool = True


class Places(Struct, frozen=True):
    """First places, as positions in the ranges given.

    leads      first whatever the answers
    may_lead   first under some answers
    may_stand_above  of each device those that stand above it under some answers
    """

    leads: frozenset[int]
    may_lead: frozenset[int]
    may_stand_above: tuple[frozenset[int], ...]


def is_above(grades: Grades, other: Grades) -> bool:
    """Whether one stands above another: at least as good on each criterion, and truly better on one."""
    return grades != other and all(own >= against for own, against in zip(grades, other, strict=True))


def layers(grades: Sequence[Grades], seen_better: Collection[tuple[int, int]] = ()) -> tuple[tuple[int, ...], ...]:
    """Positions in layers, first layer first; equals share one. A device's layer is one more than the longest chain
    of devices above it.

    seen_better  pairs of positions of which a trial showed the first to be better: it outweighs the grades
    """
    return peeled(with_seen(all_above(grades), seen_better))


def all_above(grades: Sequence[Grades]) -> Above:
    """The devices above each, by grades alone."""
    bits = [_unary(own) for own in grades]
    by_grades: dict[int, int] = {}
    for at, own in enumerate(bits):
        by_grades[own] = by_grades.get(own, 0) | 1 << at
    above = {own: sum(at for other, at in by_grades.items() if other != own and not own & ~other) for own in by_grades}
    return [above[own] for own in bits]


def with_seen(above: Above, seen_better: Collection[tuple[int, int]]) -> Above:
    """The order with what a trial showed. Expectations that lead back around to a pair seen the other way are left out,
    all of one circle alike; what follows from the rest holds.

    above  what is expected, itself a strict partial order
    """
    if not seen_better:
        return above
    seen = [0] * len(above)
    for better, worse in seen_better:
        seen[worse] |= 1 << better
    reach = _closed([expected | own for expected, own in zip(above, seen, strict=True)])
    kept = [
        own | sum(1 << other for other in _bits(expected) if not reach[other] >> at & 1)
        for at, (expected, own) in enumerate(zip(above, seen, strict=True))
    ]
    return _closed(kept)


def peeled(above: Above) -> tuple[tuple[int, ...], ...]:
    """Layers of a strict partial order: those with nobody left above them, again and again."""
    left, peeled_layers = (1 << len(above)) - 1, []
    while left:
        layer = tuple(at for at in _bits(left) if not above[at] & left)
        if not layer:
            raise ValueError("the order goes around in a circle")
        peeled_layers.append(layer)
        left &= ~sum(1 << at for at in layer)
    return tuple(peeled_layers)


def places(ranges: Sequence[Range], seen_better: Collection[tuple[int, int]] = ()) -> Places:
    """Who is first under every set of answers, and who under some. Exact where the unknowns of one device tell nothing
    of another's and no trial is given; with a trial, whoever is named first under every set of answers is."""
    everyone = range(len(ranges))
    best = [[_unary(grades) for grades in own.best] for own in ranges]
    worst = [[_unary(grades) for grades in own.worst] for own in ranges]
    may = _may_be_above(best, worst, seen_better)
    above = _must_be_above(ranges, best, worst)
    must = [functools.reduce(operator.and_, each) for each in above]
    settled = with_seen(must, seen_better)

    def may_be_first(at: int, above_it: int) -> bool:
        if above_it == must[at]:
            return not settled[at]
        return not with_seen([*must[:at], above_it, *must[at + 1 :]], seen_better)[at]

    return Places(
        frozenset(at for at in everyone if ranges[at].stands and not may[at]),
        frozenset(at for at in everyone if any(may_be_first(at, each) for each in above[at])),
        tuple(map(frozenset, may)),
    )


def _may_be_above(
    best: list[list[int]], worst: list[list[int]], seen_better: Collection[tuple[int, int]]
) -> list[set[int]]:
    """Of each device those that stand above it under some answers; a pair that a trial decided stands as it was seen.

    best, worst  of each device its highest and its lowest grades, as bits
    """

    def may_exceed(other: int, at: int) -> bool:
        return any(high != low and not low & ~high for high in best[other] for low in worst[at])

    decided = {(worse, better) for better, worse in seen_better}
    may = [
        {other for other in range(len(best)) if other != at and (other, at) not in decided and may_exceed(other, at)}
        for at in range(len(best))
    ]
    for better, worse in seen_better:
        may[worse].add(better)
    return may


def _must_be_above(ranges: Sequence[Range], best: list[list[int]], worst: list[list[int]]) -> list[Above]:
    """Of each device, and of each of its highest grades, those that stand above it whatever their answers."""

    def must_exceed(other: int, high: int) -> bool:
        return ranges[other].stands and all(low != high and not high & ~low for low in worst[other])

    everyone = range(len(ranges))
    return [
        [sum(1 << other for other in everyone if other != at and must_exceed(other, high)) for high in best[at]]
        for at in everyone
    ]


def _unary(grades: Grades) -> int:
    """Grades as bits, of which one set holds another exactly where each grade is at least as high."""
    bits = 0
    for grade in grades:
        bits = bits << _HIGHEST | (1 << grade) - 1
    return bits


def _bits(mask: int) -> Iterable[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def _closed(above: Above) -> Above:
    """The relation with all that follows from it."""
    reach = [*above]
    for through in range(len(reach)):
        bit, beyond = 1 << through, reach[through]
        if beyond:
            reach = [own | beyond if own & bit else own for own in reach]
    return reach
