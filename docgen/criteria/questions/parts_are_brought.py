"""Every requested feature is brought by a line of the order, or comes with the base.

Asks: Whether each feature, and each part for safety above all, is on a line or is said to come with the base; whether
    each switch that stops the drive or moves the seat in an emergency is said to come from somewhere.
Why a payer asks: What no line brings is not delivered, whatever the letter promises.
What settles it: features of a line in [[configuration.items]], or with_base = true of the feature; comes of
    helper_stop, drive_lock or seat_switch in [[configuration.standard_parts]].
Source: 42 CFR 410.38(d)(1)(i) (the order describes each item); common practice, no source, for the rest.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from docgen.case.asked import Configuration
from docgen.case.items import StandardPart
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.risks import HELPER_STOPS, OF_A_LINE, what_it_needs
from docgen.criteria.sentences import capital, listed
from docgen.fit.match import Fit
from docgen.fit.stopping_means import unanswered_means

HEADING = "record"
CLAIM = "Each feature requested is provided by a line or by the base"
SHOWN_IN = ("order: Compatibility and Included Components", "order: Items Requested")
SETTINGS: dict[str, object] = {}
_MEANS = {
    "helper_stop": "the attendant stop switch",
    "drive_lock": "the off switch for the drive",
    "seat_switch": "the attendant switch for the power seating",
}
_COMES = '"with_base", "moves_over" or "not_needed"> or item <the line that brings it'


def answer(grounds: Grounds) -> Answer:
    asked, fit = grounds.case.configuration, grounds.fit
    if not asked.features or not asked.items:
        return cannot_tell(
            "Features or lines of the order are not recorded.",
            ("configuration", "features"),
            ("configuration", "items"),
            mend=Mend(
                "Add [[configuration.features]] and [[configuration.items]].",
                add=(NewEntry("configuration.features"), NewEntry("configuration.items")),
            ),
        )
    if lacks := [
        lack for lack in (_brought_by_no_line(asked, fit), _stop_unasked(grounds.case), _means(grounds)) if lack
    ]:
        return _at_once(lacks)
    return met(
        "Each feature is provided by a line, or comes with the base.",
        ("configuration", "features"),
        ("configuration", "items"),
    )


def _at_once(lacks: Sequence[Answer]) -> Answer:
    """One answer for all that is lacking: none of it comes up only when another was mended."""
    mends = [lack.mend for lack in lacks if lack.mend]
    worst = next((lack for lack in lacks if lack.status == "not_met"), lacks[0])
    return replace(
        worst,
        reason=" ".join(lack.reason for lack in lacks),
        where=tuple(dict.fromkeys(path for lack in lacks for path in lack.where)),
        mend=Mend(
            " ".join(mend.say for mend in mends),
            fill=tuple(key for mend in mends for key in mend.fill),
            add=tuple(entry for mend in mends for entry in mend.add),
            work=any(mend.work for mend in mends) or len(mends) > 1,
        ),
        danger=any(lack.danger for lack in lacks),
    )


def _stop_unasked(case: Case) -> Answer | None:
    """Not met where a helper's stop switch is recorded that nothing asks for."""
    asked = case.configuration
    if not asked.stop.helpers_own or {feature.id for feature in asked.features} & set(HELPER_STOPS):
        return None
    return not_met(
        f"An attendant stop switch is recorded ({asked.stop.helper_switch}), and no feature asks for one.",
        ("configuration", "stop", "helper_switch"),
        ("configuration", "features"),
        mend=_stop_asked_for(case),
        danger=True,
    )


def _means(grounds: Grounds) -> Answer | None:
    """Cannot tell where a means to stop or to move the seat comes from nowhere."""
    asked, unsaid = grounds.case.configuration, unanswered_means(grounds.case)
    if _stop_unasked(grounds.case):  # the feature, once it is asked for, says what brings it
        unsaid = {kind: path for kind, path in unsaid.items() if kind != "helper_stop"}
    if not unsaid:
        return None
    begun = {part.part: index for index, part in enumerate(asked.standard_parts) if part.part in unsaid}
    new = [kind for kind in unsaid if kind not in begun]
    ways = [f"Fill in comes of {listed(begun)} in [[configuration.standard_parts]]."] if begun else []
    ways += [f'Add [[configuration.standard_parts]] with part = "{kind}", comes <{_COMES}>.' for kind in new]
    return cannot_tell(
        f"Where it comes from is not recorded: {listed(_MEANS[kind] for kind in unsaid)}.",
        *unsaid.values(),
        ("configuration", "standard_parts"),
        *(("configuration", "standard_parts", index) for index in begun.values()),
        mend=Mend(
            " ".join(ways),
            fill=("comes",) if begun else (),
            add=tuple(NewEntry("configuration.standard_parts", ("comes",), (("part", f'"{kind}"'),)) for kind in new),
        ),
        danger=True,
    )


def _stop_asked_for(case: Case) -> Mend:
    """Everything that a helper's stop needs, at once: what brings it, and what holds where its risk does."""
    answer = what_it_needs(case, "attendant_stop")
    keys = f"{answer} and with_base <true or false>" if answer else "with_base <true or false>"
    return Mend(
        f'Add [[configuration.features]] with id = "attendant_stop", {keys}. {OF_A_LINE} It needs no finding. Or take '
        "helper_switch out.",
        add=(
            NewEntry(
                "configuration.features",
                ("with_base", *(["answer"] if answer else [])),
                (("id", '"attendant_stop"'),),
            ),
        ),
        work=True,
    )


def _comes(part: StandardPart) -> bool:
    """Whether a standard part is said to come, by a line, with the base or from the chair that is there."""
    return bool(part.item) or part.comes in ("with_base", "moves_over")


def _brought_by_no_line(asked: Configuration, fit: Fit) -> Answer | None:
    """Cannot tell where a feature is on no line of the order and nothing says that it comes with the base."""
    brought = {feature for item in asked.items for feature in item.features}
    if any(part.part == "helper_stop" and _comes(part) for part in asked.standard_parts):
        brought.add("attendant_stop")
    open_ = [
        (index, chosen.feature)
        for index, (chosen, own) in enumerate(zip(fit.chosen, asked.features, strict=True))
        if own.id not in brought and not own.with_base
    ]
    if open_:
        ids = [feature.id for _, feature in open_]
        stops = [feature.name for _, feature in open_ if feature.part == "stop"]
        risk = f" {capital(listed(stops))} would be missing when it is needed." if stops else ""
        comes = "it comes" if len(open_) == 1 else "they come"
        is_left_out = all(asked.features[index].with_base is False for index, _ in open_)
        base = "the base is recorded without" if is_left_out else f"nothing says that {comes} with the base"
        return cannot_tell(
            f"No line of the order brings {listed(feature.name for _, feature in open_)}, and {base}.{risk}",
            *(("configuration", "features", index) for index, _ in open_),
            ("configuration", "items"),
            # a line or the base: the supplier knows which, and is asked by the key
            mend=Mend(
                f"Name {listed(ids, 'or')} in features of the line that brings it, or fill in with_base <true or "
                "false>.",
                fill=("with_base",),
                work=True,
            ),
            danger=bool(stops),
        )
    return None
