"""The weight shift is set for this person, once, and the chair can do it.

Asks: Where the skin is at risk from sitting: tilt, minutes held, how often, who starts it and how, what shows a helper
    that the angle is reached, what reminds, when it waits, and who set it when; whether the chair tilts as far.
    Whether it waits at each sign at which the emergency page brings the person upright, and above their alarm pressure.
Why a payer asks: Power tilt is covered for the weight shift, and published ranges disagree: the numbers are a person's.
What settles it: [weight_shift], or sitting.leans where no seat does it; most_tilt_deg under [configuration.chair].
Source: off-load 1 to 2 minutes every 30: Consortium for Spinal Cord Medicine 2014; 3 minutes better than 1: Jan 2013
    (n = 9). No value is taken from either. Recline alone raises shear: Hobson 1992; the order is drawn from it.
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.emergency_signs import alarm_pressure, signs_left_out, upright_signs
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.sentences import listed
from docgen.fit.condition import of_case

HEADING = "safety"
CLAIM = "The weight shift is set, and the chair can do it"
DANGER = True
SETTINGS: dict[str, object] = {}
_SEEN = "what shows a helper that the angle is reached"
_BY_LEANING = "; where the body alone shifts the weight, sitting.leans in place of [weight_shift]"
_WORDS = {
    "tilt_deg": "the tilt",
    "hold_min": "the minutes held",
    "every_min": "how often",
    "starts": "who starts it",
    "how": "how it is started and ended",
    "reminder": "what reminds",
    "not_when": "when it waits",
    "by": "who set it",
    "on": "when it was set",
}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.findings:
        return cannot_tell("No finding is recorded.", ("findings",), mend=add_entry("findings", "id", "says"))
    if (
        "pressure_injury" not in of_case(case)
        and case.weight_shift.every_min is None
        and not case.weight_shift.is_empty
    ):
        return cannot_tell(
            "A weight shift is recorded without how often, and nothing says that the skin is at risk.",
            ("weight_shift",),
            mend=Mend(
                "Where the seat only rests the client, write it in sitting.rests in place of [weight_shift]; else fill "
                "in weight_shift.every_min, and add the finding that calls for it.",
                fill=("weight_shift.every_min",),
                work=True,
            ),
        )
    if "pressure_injury" not in of_case(case):
        return does_not_apply("No risk of the skin from sitting is recorded.", ("findings",))
    if case.weight_shift.is_empty and case.sitting.leans:
        return met("The weight is shifted by the body alone, without the seat.", ("sitting", "leans"))
    return (
        _out_of_the_chair(case)
        or _not_recorded(case)
        or _leaves_out(case)
        or met("The weight shift is set by name and date, and the chair tilts as far.", ("weight_shift",))
    )


def _out_of_the_chair(case: Case) -> Answer | None:
    """Not met by a tilt that the chair has not, or a recline alone of which nobody says why it comes first."""
    shift, chair = case.weight_shift, case.configuration.chair
    if shift.tilt_deg is not None and chair.most_tilt_deg is not None and shift.tilt_deg > chair.most_tilt_deg:
        return not_met(
            f"The weight shift is set at {shift.tilt_deg:g} degrees, and the chair tilts {chair.most_tilt_deg:g}.",
            ("weight_shift", "tilt_deg"),
            ("configuration", "chair", "most_tilt_deg"),
            mend="Set one that the chair can do, or request a seat that tilts as far.",
        )
    if shift.tilt_deg is None and shift.recline_deg is not None and not shift.recline_first:
        return not_met(
            "The weight shift is set as recline alone, which slides the body, and why is not said.",
            ("weight_shift", "recline_deg"),
            mend="Set a tilt that comes first, or write under recline_first why the back goes down before.",
        )
    return None


def _not_recorded(case: Case) -> Answer | None:
    """Open while something of the weight shift, or how far the chair tilts, is not recorded."""
    shift = case.weight_shift
    wanted = dict(_WORDS) | ({"seen": _SEEN} if shift.helper or shift.starts == "helper" else {})
    if shift.steps:
        del wanted["how"]
    missing = {f"weight_shift.{name}": words for name, words in wanted.items() if getattr(shift, name) is None}
    if case.configuration.chair.most_tilt_deg is None:
        missing["configuration.chair.most_tilt_deg"] = "how far the chair tilts"
    if not missing:
        return None
    return cannot_tell(
        f"Of the weight shift is not recorded: {listed(missing.values())}.",
        *(tuple(name.split(".")) for name in missing),
        mend=fill_in(dict.fromkeys(missing, ""), _BY_LEANING if shift.tilt_deg is None else ""),
        danger=True,
    )


def _leaves_out(case: Case) -> Answer | None:
    """Signs of the emergency page, or the alarm pressure, at which the weight shift does not wait."""
    waits, alarm = case.weight_shift.not_when or "", alarm_pressure(case)
    left_out = [*signs_left_out(case, waits)]
    if upright_signs(case) and alarm is not None and f"{alarm:g}" not in waits:
        left_out.append(f"an upper pressure above {alarm:g}")
    if not left_out:
        return None
    return not_met(
        f"The emergency page brings the person upright, and the weight shift does not wait, at {listed(left_out)}.",
        ("weight_shift", "not_when"),
        ("emergency", "signs"),
        mend="Write each of them in weight_shift.not_when.",
        bare="A sign at which it must wait is left out.",
    )
