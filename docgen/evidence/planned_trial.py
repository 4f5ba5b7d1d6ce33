"""A trial as it was planned beside the rows it has: which signs of unfairness the plan keeps out, and which came in."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.need import WeightShift
from docgen.case.totals import Tried
from docgen.case.trial_plan import TrialPlan
from docgen.evidence.blocks import by_method
from docgen.evidence.fairness import Sign, signs
from docgen.evidence.trial_order import Order, order_for
from docgen.evidence.trial_size import Visit

_OF_VISIT = {"fixed": "fixed_minutes", "change": "change_minutes", "attempt": "attempt_minutes"}
# minutes reckoned with where none are recorded; all of them common practice, no source
_FIXED = 10.0  # seat, cards, skin and scores, before the first block and after the last
_CHANGE = 12.0  # power off, the other control mounted, drive locked and its commands tried, the stop tried, skin, rest
_BOTH_MOUNTED = 5.0  # the same without mounting
_SLACK_SHARE = 0.1  # of a visit, kept free
_BY_SHEETS = ("order_unknown", "other_tasks", "more_metres")  # the sheets hold order and cards, the same for each

_TOLD_BY = {"other_helper": "supervisor", "other_speed": "speed_m_s", "more_metres": "distance_m"}


class Kept(Struct, frozen=True):
    """Two controls of a plan whose rows are there.

    first, other  ids of the methods; first is the one asked for, or A of the plan
    avoided       codes of signs that the plan keeps out and that the rows, which record what it takes, do not show
    broken        signs that it keeps out and that the rows show all the same
    besides       signs that the plan did not keep out
    """

    first: str
    other: str
    avoided: tuple[str, ...]
    broken: tuple[Sign, ...]
    besides: tuple[Sign, ...]


class PlannedBlock(Struct, frozen=True):
    """One block of an order: its visit, its place in it, the number of its control from 0, and of its cards from 1."""

    visit: int
    place: int
    control: int
    cards: tuple[int, ...]


def visit_of(plan: TrialPlan, shift: WeightShift | None = None) -> tuple[Visit | None, tuple[str, ...]]:
    """How the time of a visit goes, and which parts of it are not recorded and reckoned as in common practice; None
    where its length is not recorded.

    shift  the weight shift set for this client, which falls due within the visit
    """
    if plan.visit_minutes is None:
        return None, ()
    recorded = {name: getattr(plan, key) for name, key in _OF_VISIT.items()}
    reckoned = {"fixed": _FIXED, "change": _BOTH_MOUNTED if plan.both_mounted else _CHANGE}
    minutes = reckoned | {name: each for name, each in recorded.items() if each is not None}
    slack = round(plan.visit_minutes * _SLACK_SHARE)
    visit = Visit(plan.visit_minutes, **minutes, relief=_relief(plan.visit_minutes, shift), slack=slack)
    return visit, tuple(name for name, each in recorded.items() if each is None)


def _relief(length: float, shift: WeightShift | None) -> float:
    """Minutes of a visit that the weight shifts due within it take, with the wait before driving."""
    if shift is None or not shift.every_min or not shift.hold_min:
        return 0
    n_due = math.ceil(length / shift.every_min) - 1
    return n_due * (shift.hold_min + (shift.wait_min or 0))


def order_of(
    plan: TrialPlan, needs_rest: bool, n_driven: int | None = None, shift: WeightShift | None = None
) -> Order | None:
    """The order of a plan; None where its controls, its visits or their length are not decided, or none is driven.

    needs_rest  whether this client needs a rest between controls, so that none comes twice in a visit
    n_driven    how many of its controls are driven; all of them when None
    shift       as of `visit_of`
    """
    visit, _ = visit_of(plan, shift)
    n_controls = len({*plan.methods}) if n_driven is None else n_driven
    if visit is None or plan.visits is None or not n_controls:
        return None
    return order_for(n_controls, plan.visits, visit, bool(plan.both_mounted) and not needs_rest)


def blocks_of(order: Order, n_cards: int) -> tuple[PlannedBlock, ...]:
    """The blocks of an order, visit by visit.

    n_cards  how many task cards there are; with none a block has no cards

    Each block goes on with the cards where the last block of its control ended, so that every control gets the same.
    """
    n_before = dict.fromkeys((control for row in order.rows for control in row), 0)
    planned = []
    for visit, row in enumerate(order.rows, 1):
        for place, control in enumerate(row, 1):
            begin = n_before[control] * order.n_block
            cards = tuple(at % n_cards + 1 for at in range(begin, begin + order.n_block)) if n_cards else ()
            planned.append(PlannedBlock(visit, place, control, cards))
            n_before[control] += 1
    return tuple(planned)


def blocks_to_count(
    case: Case, order: Order | None, driven: Sequence[str]
) -> tuple[tuple[PlannedBlock, str, tuple[str, ...]], ...]:
    """Each planned block with the id of its method and those of its tasks, one an attempt; none without an order, and
    none where the trial has no tasks yet.

    driven  ids of the controls that the order numbers, as the plan names them
    """
    tasks = case.trial.tasks
    if order is None or not tasks:
        return ()
    ids = [_method(case, name) for name in driven]
    return tuple(
        (block, ids[block.control], tuple(tasks[card - 1].id for card in block.cards))
        for block in blocks_of(order, len(tasks))
    )


def prevented(plan: TrialPlan, order: Order, first: int, other: int) -> frozenset[str]:
    """Codes of the signs of unfairness between two controls that an order and its sheets keep out.

    first, other  places of the two in the plan
    """
    shared = [row for row in order.rows if first in row and other in row]
    before = [_last(row, first) < row.index(other) for row in shared]
    after = [_last(row, other) < row.index(first) for row in shared]
    days = [sum(control in row for row in order.rows) for control in (first, other)]
    decided = {
        "no_shared_day": bool(shared),
        "always_first": bool(shared) and not all(before),
        "always_last": bool(shared) and not all(after),
        "more_days": days[0] <= days[1],
        "other_helper": plan.guard is not None,
        "other_speed": plan.speed_m_s is not None,
    }
    return frozenset({*_BY_SHEETS, *(code for code, kept_out in decided.items() if kept_out)})


def kept(case: Case) -> tuple[Kept, ...]:
    """Each pair of planned controls that has rows: the one asked for beside each other one.

    The plan is taken as one in which no control comes twice in a visit: such a plan keeps out no more than any.
    """
    plan = case.trial.plan
    order = order_of(plan, needs_rest=True, shift=case.weight_shift)
    if order is None or not order.rows:
        return ()
    rows_of = by_method(case.tried)
    ids = [_method(case, name) for name in dict.fromkeys(plan.methods)]
    asked = case.configuration.method
    first = ids.index(asked) if asked in ids else 0
    chosen = rows_of.get(ids[first], ())
    pairs = []
    for at, method in enumerate(ids):
        rows = rows_of.get(method, ())
        if at == first or not rows or not chosen:
            continue
        out, shown = prevented(plan, order, first, at), signs(chosen, rows)
        codes = {sign.code for sign in shown}
        pairs.append(
            Kept(
                ids[first],
                method,
                tuple(sorted(code for code in out - codes if _is_recorded(code, chosen, rows))),
                tuple(sign for sign in shown if sign.code in out),
                tuple(sign for sign in shown if sign.code not in out),
            )
        )
    return tuple(pairs)


def _is_recorded(code: str, chosen: Sequence[Tried], rows: Sequence[Tried]) -> bool:
    """Whether the rows of both record what a sign is told by: what nobody wrote down was not seen to be kept."""
    column = _TOLD_BY.get(code)
    return column is None or all(any(getattr(row, column) is not None for row in part) for part in (chosen, rows))


def is_planned_before(case: Case) -> bool:
    """Whether the plan is dated, and no later than the first attempt."""
    on = case.trial.plan.on
    return on is not None and all(on <= row.date for row in case.tried)


def kept_out(pairs: tuple[Kept, ...]) -> tuple[str, ...]:
    """Codes of the signs that the plan kept out of every pair. `always_first` and `always_last` are one, the first,
    and hold only together."""
    if not pairs:
        return ()
    codes = set(pairs[0].avoided).intersection(*(pair.avoided for pair in pairs))
    if not codes >= {"always_first", "always_last"}:
        codes -= {"always_first"}
    return tuple(sorted(codes - {"always_last"}))


def planned_methods(pairs: tuple[Kept, ...]) -> tuple[str, ...]:
    """The methods of these pairs, each once."""
    return tuple(dict.fromkeys(method for pair in pairs for method in (pair.first, pair.other)))


def _last(row: tuple[int, ...], control: int) -> int:
    """The last place of a control in a row."""
    return len(row) - 1 - row[::-1].index(control)


def _method(case: Case, name: str) -> str:
    """The method of the trial that a plan names, by its id or by that of its device; the name itself where none is."""
    ids = {method.id for method in case.trial.methods}
    of_device = next((method.id for method in case.trial.methods if method.device == name), name)
    return name if name in ids else of_device
