"""A base of the third group has a diagnosis that it is for.

Asks: Whether a diagnosis is neurological, of the muscles, or a skeletal deformity from birth, where the base is one of
    group 3.
Why a payer asks: Without such a diagnosis a base of group 3 is denied.
What settles it: group of each [[diagnoses]]; base_code of the chair.
Source: L33789, type list IV and V.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.ordered import CHAIR, base
from docgen.criteria.sentences import listed

HEADING = "order"
CLAIM = "The diagnosis supports the group of the base"
LINE_RANK = 120
NOT_FOR = ("control_only",)
SETTINGS = {"groups": ["3"], "conditions": ["neurological", "myopathy", "skeletal_deformity"]}
CHOICES = {
    "groups": ("1", "2", "3", "4", "5"),
    "conditions": ("neurological", "myopathy", "skeletal_deformity", "other"),
}


def answer(grounds: Grounds, groups: list[str], conditions: list[str]) -> Answer:
    case = grounds.case
    power_base, at = base(case), (*CHAIR, "base_code")
    if power_base is None:
        return cannot_tell(
            "The base is not recorded, or not in the list of bases.",
            at,
            mend=fill_in({"configuration.chair.base_code": "<procedure code of the base>"}),
        )
    if str(power_base.group) not in groups:
        return does_not_apply(f"{power_base.id} is of group {power_base.group}.", at)
    fits = [(i, d) for i, d in enumerate(case.diagnoses) if d.group in conditions]
    if fits:
        return met(
            (
                f"{power_base.id} is of group {power_base.group}; a diagnosis is recorded as "
                f"{(fits[0][1].group or '').replace('_', ' ')}."
            ),
            at,
            ("diagnoses", fits[0][0], "group"),
            bare=f"{power_base.id} is of group {power_base.group}, and a diagnosis fits it.",
        )
    if not case.diagnoses or any(d.group is None for d in case.diagnoses):
        return cannot_tell(
            f"{power_base.id} is of group {power_base.group}; the kind of condition is not recorded.",
            at,
            *(("diagnoses", i) for i, d in enumerate(case.diagnoses) if d.group is None),
            ("diagnoses",),
            mend=fill_in({"group": f"<{listed(conditions, 'or')}>"}, " of the diagnosis behind the need"),
        )
    return not_met(
        (
            f"{power_base.id} is of group {power_base.group}, and every diagnosis is recorded as another kind of "
            "condition."
        ),
        at,
        ("diagnoses",),
        mend="Request a base of group 2, or record the diagnosis that calls for group 3.",
    )
