"""What a trial showed of devices of a shelf: attempts done of those made, which did better, and how fair that was."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import permutations

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.totals import Tried
from docgen.case.tried import Method
from docgen.evidence.blocks import by_method, tally
from docgen.evidence.difference import FEWEST_FOR_CLEARLY, Difference, newcombe_interval
from docgen.evidence.fact import Evidence
from docgen.evidence.fairness import MOST_SIGNS_FOR_CLEARLY, Sign, signs
from docgen.evidence.proportion import Proportion, wilson_interval
from docgen.fit.signs import Sign as SignOfTrial
from docgen.fit.signs import signs as signs_of_trial
from docgen.shelf.match import Match


class SeenMethod(Struct, frozen=True):
    """One way in which a device was tried: attempts done with their interval, and the signs of the trial."""

    method: Method
    done: Proportion
    signs: Mapping[str, SignOfTrial]


class Compared(Struct, frozen=True):
    """Two devices of which the first did better in the trial, its interval on one side of zero.

    better, worse  ids of the devices
    difference     share done, better less worse
    unfair         signs that something other than the control may explain it, in words of the first
    counts         whether it outweighs what was expected: used often enough, and not unlike
    """

    better: str
    worse: str
    difference: Difference
    unfair: tuple[Sign, ...]
    counts: bool


class Seen(Struct, frozen=True):
    """What the trial showed of the devices of a shelf.

    devices   device -> the ways in which it was tried, in the order of the case
    compared  pairs that the trial parts; a device is worse only where each way of trying it was
    """

    devices: Mapping[str, tuple[SeenMethod, ...]]
    compared: tuple[Compared, ...]

    @property
    def better(self) -> frozenset[tuple[str, str]]:
        """Pairs that outweigh what was expected."""
        return frozenset((pair.better, pair.worse) for pair in self.compared if pair.counts)


class Differs(Struct, frozen=True):
    """Something expected and something seen that do not agree: a device, and its rival or the risk in question."""

    device: str
    rival: str | None
    finding: str | None
    sign: SignOfTrial | None


def seen(case: Case, evidence: Evidence) -> Seen:
    """What the rows show of every device that a method of the trial names."""
    rows_of = by_method(case.tried)
    by_device: dict[str, list[Method]] = {}
    for method in case.trial.methods:
        if method.device is not None and tally(rows_of.get(method.id, ()))[1]:
            by_device.setdefault(method.device, []).append(method)
    return Seen(
        {
            device: tuple(
                SeenMethod(
                    method, wilson_interval(*tally(rows_of[method.id])), signs_of_trial(case, evidence, method.id)
                )
                for method in methods
            )
            for device, methods in by_device.items()
        },
        tuple(_compared(by_device, rows_of)),
    )


def _compared(by_device: Mapping[str, list[Method]], rows_of: Mapping[str, Sequence[Tried]]) -> Iterator[Compared]:
    """Each device against each other: worse where every way of trying it was worse than the best of the other."""
    for better, worse in permutations(by_device, 2):
        pairs = [_clearest(by_device[better], method, rows_of) for method in by_device[worse]]
        parted = [pair for pair in pairs if pair is not None]
        if len(parted) < len(pairs):
            continue
        first, second, difference = min(parted, key=lambda pair: pair[2].low)
        unfair = signs(rows_of[first.id], rows_of[second.id])
        enough = all(tally(rows_of[method.id])[1] >= FEWEST_FOR_CLEARLY for method in (first, second))
        counts = enough and len(unfair) <= MOST_SIGNS_FOR_CLEARLY
        yield Compared(better, worse, difference, unfair, counts)


def _clearest(
    methods: Sequence[Method], other: Method, rows_of: Mapping[str, Sequence[Tried]]
) -> tuple[Method, Method, Difference] | None:
    """The way of trying a device that was most clearly better than another's; None where none was."""
    apart = [
        (method, other, newcombe_interval(*tally(rows_of[method.id]), *tally(rows_of[other.id]))) for method in methods
    ]
    best = max(apart, key=lambda pair: pair[2].low)
    return best if best[2].low > 0 else None


def differs(expected: Match, shown: Seen) -> tuple[Differs, ...]:
    """Where what was seen and what was expected do not agree; `expected` is the match without the trial.

    A device expected to stand above another did worse; or a risk that was expected is not among the signs of the trial,
    which does not take the risk away.
    """
    layer = {name: at for at, devices in enumerate(expected.layers) for name in devices}
    turned = [
        Differs(pair.better, pair.worse, None, None)
        for pair in shown.compared
        if layer.get(pair.worse, len(layer)) < layer.get(pair.better, len(layer))
    ]
    unseen = [
        Differs(name, None, harm.finding, sign)
        for name, ways in shown.devices.items()
        if name in expected.devices
        for harm in expected.devices[name].best.harms
        if harm.feature is not None and harm.finding is not None
        for risk in expected.client.known[harm.feature].spoken_against_by
        if risk.finding == harm.finding and risk.signs
        for sign in [ways[-1].signs[risk.signs[0]]]
        if all(way.signs[code].seen is False for way in ways for code in risk.signs)
    ]
    return tuple([*turned, *dict.fromkeys(unseen)])
