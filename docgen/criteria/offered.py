"""The procedure codes that the requested features usually rest in, on the day that counts: offered, never chosen.

Which feature belongs to which code is our reading of the codes' text; a supplier and the payer decide.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from docgen.case.model import Case
from docgen.codes.hcpcs import Code, codes
from docgen.criteria.ordered import CONNECTIONS, SENSING, day_that_counts, seat_motors
from docgen.criteria.sentences import listed
from docgen.fit.feature import features


class Offer(Struct, frozen=True):
    """One code.

    features  ids of the requested features that usually rest in it
    in_use    whether it may be used on the day that counts; None where no such day is recorded
    ordered   whether a line of the order has it
    """

    code: Code
    features: tuple[str, ...]
    in_use: bool | None
    ordered: bool


def offered(case: Case) -> tuple[Offer, ...]:
    """Each code of a requested feature, in the order of the list of codes.

    A feature that comes with the base offers none, and of two connections only that for the seat motors known. Where a
    control is on the order, no second one is offered, and no control that senses the driver in another way than was
    asked for.
    """
    behind: dict[str, list[str]] = {}
    for feature, code_id in _pairs(case):
        behind.setdefault(code_id, []).append(feature)
    counts = day_that_counts(case)
    on_order = {item.code for item in case.configuration.items}
    sensing = {feature.id for feature in case.configuration.features} & set(SENSING)
    other_connection = _connection_left_out(case)
    has_control = any(code.kind == "control" and code.id in on_order for code in codes().values())
    return tuple(
        Offer(code, tuple(behind[code.id]), code.in_use(counts[0]) if counts else None, code.id in on_order)
        for code in codes().values()
        if code.id in behind
        and (code.id in on_order or code.id != other_connection)
        and code.status == "in_use"
        and (code.id in on_order or code.kind != "control" or not (has_control or _senses_otherwise(code, sensing)))
    )


def _connection_left_out(case: Case) -> str | None:
    """The connection that is not for so many seat motors as are known; None where that is not told."""
    motors = seat_motors(case)
    if motors is None:
        return None
    return CONNECTIONS["more" if motors == 1 else "one"]


def _senses_otherwise(code: Code, sensing: set[str]) -> bool:
    """Whether a code is of a control that senses the driver in none of the ways asked for."""
    return bool(sensing) and sensing.isdisjoint(code.senses)


def lines_to_write(case: Case) -> str:
    """A sentence with the codes that a line may be written as; empty where none is offered."""
    ids = [offer.code.id for offer in offered(case) if offer.in_use is not False and not offer.ordered]
    if not ids:
        return ""
    of_features = f"The requested features usually rest in {listed(ids, 'or')}"
    example = ids[0] if len(ids) == 1 else "<code>"
    return f'{of_features}; a line may be its code alone: code = "{example}" in [[configuration.items]].'


def _pairs(case: Case) -> Iterator[tuple[str, str]]:
    known = features()
    for chosen in case.configuration.features:
        if chosen.id in known and not chosen.with_base:
            yield from ((chosen.id, code_id) for code_id in known[chosen.id].codes)
