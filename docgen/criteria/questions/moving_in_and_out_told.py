"""Moving in and out of the chair is told in its order.

Asks: Where the client is lifted or slides in and out: how many people it takes, and in which order sling, head, straps,
    belt and footplates come, with what stays in its place.
Why a payer asks: A payer does not. A chest strap that opens before the sling holds lets its wearer fall forward.
What settles it: moved_by and moving under [sitting].
Source: common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "Moving in and out of the chair is told in its order"
SETTINGS: dict[str, object] = {}
_FINDING, _BY_ONESELF = "transfer_", "transfer_standing"


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.findings:
        return cannot_tell("No finding is recorded.", ("findings",), mend=add_entry("findings", "id", "says"))
    moves = {finding.id for finding in case.findings if finding.id.startswith(_FINDING)}
    if not moves:
        return does_not_apply("No finding on moving in and out is recorded.", ("findings",))
    if moves == {_BY_ONESELF} and not case.sitting.moved_by:
        return does_not_apply("The client stands up to get in and out, and nobody lifts.", ("findings",))
    wanted = {
        "moved_by": ("how many people it takes", case.sitting.moved_by),
        "moving": ("the order of straps, sling and head", case.sitting.moving),
    }
    if missing := [name for name, (_, value) in wanted.items() if value in (None, ())]:
        return cannot_tell(
            f"Of moving in and out is not recorded: {listed(wanted[name][0] for name in missing)}.",
            *(("sitting", name) for name in missing),
            mend=fill_in({f"sitting.{name}": "" for name in missing}),
        )
    return met("How the client is moved in and out is recorded.", ("sitting", "moved_by"), ("sitting", "moving"))
