"""Parts by which anyone stops the chair or moves its seat in an emergency: what the record names has to be ordered."""

from __future__ import annotations

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.fit.feature import Feature

STOP_FEATURES = frozenset({"attendant_stop", "attendant_control"})  # told with the line that brings them


def means(case: Case) -> dict[str, KeyPath]:
    """Kinds of standard parts that the record names as a means, each with the key that names it.

    A helper's stop switch that a feature asks for is told with that feature. The driver's own comes with the control.
    """
    stop, asked = case.configuration.stop, {feature.id for feature in case.configuration.features}
    named: dict[str, KeyPath] = {}
    if stop.drive_off:
        named["drive_lock"] = ("configuration", "stop", "drive_off")
    if not asked & STOP_FEATURES:
        if stop.helpers_own:
            named["helper_stop"] = ("configuration", "stop", "helper_switch")
        elif stop.stop_switch and stop.stop_switch_by == "helper":
            named["helper_stop"] = ("configuration", "stop", "stop_switch")
    if case.configuration.chair.seat_actuators:  # how a helper moves the seat of a driver who cannot
        named["seat_switch"] = ("configuration", "chair", "seat_actuators")
    return named


def unanswered_means(case: Case) -> dict[str, KeyPath]:
    """Those of which the record does not say where they come from."""
    answered = {part.part for part in case.configuration.standard_parts if part.comes or part.item}
    return {kind: where for kind, where in means(case).items() if kind not in answered}


def has_already(case: Case, feature: Feature) -> bool:
    """Whether a helper already stops the chair as the feature would: with the power switch, which a helper reaches and
    which is no part to be asked for."""
    stop = case.configuration.stop
    reaches = stop.power_is_helpers_stop and stop.power_off and stop.power_off_by in ("helper", "both")
    return feature.id == "attendant_stop" and bool(reaches)
