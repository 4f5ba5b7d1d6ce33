"""A base with power options has the control or the seating that calls for it.

Asks: Whether a base for one power option comes with a special control or with tilt or recline, and a base for
several with tilt and recline or a ventilator.
Why a payer asks: A base with more than is used is denied. A hand- or chin-operated standard joystick, seat elevation
and leg elevation are no ground.
What settles it: configuration.chair.base_code and the codes on the order; name of the chair, whose power options are
    those of its code.
Source: LCD L33789, type list II, III, V and VII.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.ordered import (
    CHAIR,
    ITEMS,
    Line,
    base,
    control_alone,
    controls,
    fill_in_codes,
    lines,
    named,
    no_codes,
    options_said_otherwise,
    places,
    tells,
    without_code,
)

HEADING = "order"
CLAIM = "An alternative control or power seating calls for a base with power options"
LINE_RANK = 110
SETTINGS = {"options": ["single", "multiple"]}
CHOICES = {"options": ("single", "multiple")}

_TILT, _RECLINE, _BOTH = ("E1002",), ("E1003", "E1004", "E1005"), ("E1006", "E1007", "E1008")


def answer(grounds: Grounds, options: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    at, power_base = (*CHAIR, "base_code"), base(case)
    if control_alone(case):
        return does_not_apply(
            "The control goes on a chair that is already there, and its base is not part of this request.",
            ("request", "kind"),
        )
    if power_base is None:
        code = case.configuration.chair.base_code
        return cannot_tell(
            f"{code} is not in the list of bases." if code else "The code of the base is not recorded.",
            at,
            mend=fill_in({"base_code": "<procedure code of the base>"}, " under [configuration.chair]"),
        )
    if by_code := options_said_otherwise(case):
        return not_met(
            f"{power_base.id} is the code of a base with {by_code}, and the words for the chair say otherwise: "
            f"“{case.configuration.chair.name}”.",
            at,
            (*CHAIR, "name"),
            mend="Ask the supplier which base is meant, and mend the code or the words.",
        )
    if power_base.options not in options:
        return does_not_apply(f"{power_base.id} is not a base of that kind.", at)
    single = power_base.options == "single"
    ground = _of_one_option(case) if single else _of_several_options(case)
    wanted = "a special control, tilt or recline" if single else "tilt and recline, or a ventilator on the chair"
    if ground:
        return met(f"The reason for {power_base.id}: {named(ground)}.", at, *places(ground))
    if bare := without_code(case):
        return cannot_tell(
            f"{power_base.id} needs {wanted}, and a line has no code.",
            at,
            *((*ITEMS, i) for i, _ in bare),
            mend=fill_in_codes(),
        )
    return not_met(
        f"{power_base.id} is requested, and no line is {wanted}.",
        at,
        ITEMS,
        mend=Mend(
            "Request a base without that option, or add the line that calls for it.",
            add=(NewEntry("configuration.items"),),
            work=True,
        ),
    )


def _of_one_option(case: Case) -> list[Line]:
    """Lines of the order that call for a base with one power option; none where no line does."""
    return controls(case) or next(filter(None, (lines(case, codes) for codes in (_TILT, _RECLINE, _BOTH))), [])


def _of_several_options(case: Case) -> list[Line]:
    """Lines of the order that call for a base with several power options; none where no line does."""
    if both := lines(case, _BOTH):
        return both
    tilt, recline = lines(case, _TILT), lines(case, _RECLINE)
    if tilt and recline:
        return tilt + recline
    return [line for line in lines(case) if tells(line[1], ("ventilator",))]
