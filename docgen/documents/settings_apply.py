"""Which settings of the electronics do not apply to a control and a chair, and why."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.criteria.ordered import lines
from docgen.documents.phrase import Words
from docgen.fit.feature import features
from docgen.fit.settings import drive_settings, of_other_features
from docgen.fit.springs_back import SETTINGS_OF_OTHERS, springs_back

LATCH = frozenset({"latch", "latch_timeout"})
_RECLINE = frozenset({"recline_limit", "recline_stop", "recline_speed"})
_SEAT = _RECLINE | {"tilt_limit", "seat_range", "seat_speed", "seat_stop"}


def not_applicable(case: Case, name: str, words: Words) -> str:
    """Why a setting does not apply to this control and chair; empty where it does, or where it cannot be told."""
    configuration, why = case.configuration, words["parameter"]["because"]
    if any(entry.setting == name for entry in configuration.settings):
        return str(why["latch"]) if name == "latch_timeout" and _never_latched(case) else ""
    if name in _SEAT and _is_without_power_seat(case):
        return str(why["seat"])
    if name in _RECLINE and not reclines(case):
        return str(why["recline"])
    if name == "seat_stop" and case.weight_shift.tilt_deg is None:
        return str(why["weight_shift"])
    if name in SETTINGS_OF_OTHERS and springs_back(configuration) and not configuration.is_held:
        return str(why["springs_back"])
    if name in LATCH and not configuration.is_latched:
        return str(why["latch"]) if configuration.is_held else ""
    return str(why["feature"]) if _is_of_another_control(case, name) else ""


def _is_without_power_seat(case: Case) -> bool:
    """Whether the chair is recorded with no seat motor, or its base takes none and none is asked for."""
    motors = case.configuration.chair.seat_actuators
    if motors is not None:
        return motors == 0
    base = hcpcs.base(case.configuration.chair.base_code)
    return base is not None and base.options == "none" and not lines(case, hcpcs.of_kind("seating"))


def stays_unlatched(case: Case) -> bool:
    """Whether it is recorded that none is on, or the control is one that springs back, and not how that is set:
    electronics that offer one may arrive with it on."""
    entered = any(entry.setting == "latch" for entry in case.configuration.settings)
    return (case.configuration.is_held or springs_back(case.configuration)) and not entered


def _never_latched(case: Case) -> bool:
    """Whether each profile is recorded as one that does not keep going."""
    profiles = case.configuration.profiles
    return bool(profiles) and all(profile.latched is False for profile in profiles)


def _is_of_another_control(case: Case, name: str) -> bool:
    """Whether only features not asked for touch a setting, where the control is known."""
    asked = {feature.id for feature in case.configuration.features}
    is_control_known = any(feature.part == "control" and feature.id in asked for feature in features().values())
    return is_control_known and name in of_other_features(case) and not drive_settings()[name].always


def reclines(case: Case) -> bool:
    """Whether the back goes down by a motor: the weight shift says so, or a line of the order."""
    codes = (hcpcs.code(item.code) for item in case.configuration.items)
    return case.weight_shift.recline_deg is not None or any(code is not None and code.recline for code in codes)
