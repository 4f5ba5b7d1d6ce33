"""What several keys of the configuration tell together of the drive control in daily use."""

from __future__ import annotations

import re
from typing import Any

from docgen.case.model import Case
from docgen.case.stop import Stop
from docgen.criteria.ways_out import backing_tried
from docgen.documents.made_from import made_from
from docgen.documents.measures import decimal
from docgen.documents.phrase import Words
from docgen.documents.settings_apply import reclines
from docgen.documents.sitting import standby_s
from docgen.fit.feature import features
from docgen.fit.settings import slowest

MADE_FROM = {
    "control": made_from(
        "configuration.stop",
        "configuration.profiles",
        at_mouth=("configuration.mounting",),
        seat_reclines=("weight_shift.recline_deg", "configuration.items.code"),
    ),
}
_NO_POWER_SWITCH = "where the power switch is that a helper reaches"
_LATCHING = {"latched_drive", "momentary_drive"}
_TRY_S = 5.0  # a try of the stop test comes at the latest so soon after a stop
_ASIDE = ("rest", "external_device")  # commands by which a mode switch leaves drive


def _latch_open(case: Case) -> bool:
    """Whether the trial had forward latched and not latched, and nothing says which of the two is asked for."""
    configuration, driven = case.configuration, {row.method for row in case.tried}
    tried = {"latched_drive" in method.features for method in case.trial.methods if method.id in driven}
    asked = case.requested_method
    kinds = {m.id for m in case.trial.methods if asked and set(asked.features) - _LATCHING <= set(m.features)}
    return len(tried) > 1 and len(kinds & driven) > 1 and not (configuration.is_latched or configuration.is_held)


def control(case: Case, words: Words) -> dict[str, Any]:
    """What several keys of the configuration tell together."""
    backs, slow = case.configuration.backs, slowest(case)
    return (
        _mode_switch(case)
        | _stopping(case.configuration.stop)
        | {
            "latched": case.configuration.is_latched,
            "latch_open": _latch_open(case),
            "starts_in_drive": case.configuration.starts_in_drive,
            "wakes_in_drive": case.configuration.wakes_in_drive,
            "waits_back": case.configuration.stop.after_stop == "waits",
            "backs": bool(backs),
            "drives_forward_alone": backs is False,
            "by_pads": any("pads" in features()[chosen.id].kinds for chosen in case.configuration.features),
            "let_go": _let_go(case),
            "counts_presses": case.configuration.counts_presses,
            "seat_reclines": reclines(case),
            "back_untried": bool(backs) and not backing_tried(case),
            "moves_seat": any(feature.id == "seat_functions_by_drive_input" for feature in case.configuration.features),
            "stop_wakes": bool(case.configuration.stop.drivers_own[0])
            and any(c.does == "drive" for c in case.configuration.commands),
            "hold_least_s": _hold_least(case, words),
            "drive_inhibit": tuple(filter(None, (_set_to(case, name) for name in ("tilt_limit", "recline_limit")))),
            "no_way_back": case.configuration.is_without_reverse,
            "standby_s": standby_s(case),
            "try_s": _try_s(standby_s(case)),
            "slowest": slow.name if slow else "",
            # a breath is a command from power-on: what stands at the lips is swung out before it
            "at_mouth": next((m.part for m in case.configuration.mounting if m.site == "mouth" and m.swings), ""),
            "_labels": {
                "stop": "where the stop switch is",
                "power_off": _NO_POWER_SWITCH
                if case.configuration.stop.power_off_by == "driver"
                else "where the power switch is",
            },
        }
    )


def _let_go(case: Case) -> tuple[str, ...]:
    """Of which kinds the inputs of the control are, that a video of a stop shows when each is let go: near, pads,
    breath, stick; empty for switches."""
    of_control = [features()[chosen.id] for chosen in case.configuration.features]
    kinds: set[str] = {kind for feature in of_control for kind in feature.kinds}
    if "pads" in kinds and any(feature.id == "proximity_sensing" for feature in of_control):
        kinds = (kinds - {"pads"}) | {"near"}
    return tuple(kind for kind in ("near", "pads", "breath", "stick") if kind in kinds)


def _mode_switch(case: Case) -> dict[str, Any]:
    """The switch by which the driver leaves driving: what a press of it does in a drive where it is the one stop, where
    it is and what it sounds like."""
    stop = case.configuration.stop
    has_two = stop.helpers_own and stop.drivers_own[0]
    aside = [command for command in case.configuration.commands if command.does in _ASIDE]
    return {
        "mode_stop": "" if has_two else _set_to(case, "press_driving"),
        "mode_switch": next((command.input for command in aside if command.input), ""),
        # of a control that can be put in rest no other answer stands for that of its rest
        "mode_sound": _heard(case, "rest") if case.configuration.rests else next((c.hear for c in aside if c.hear), ""),
        "drive_sound": _heard(case, "drive"),
        "aside_sound": _heard(case, "external_device") if case.configuration.rests else "",
    }


def _stopping(stop: Stop) -> dict[str, Any]:
    """Which switch stops the chair, whose it is and where, and what a helper does besides."""
    at_hand, site = stop.at_hand
    return {
        "power_side": stop.power_side,
        "power_at_arm": (stop.power_off_site or "").startswith("armrest"),
        "stop": at_hand,
        "power_off": stop.power_for_helpers,
        "drivers_own": stop.drivers_own[0] or "",
        "second_stop": stop.second[0] or "",
        "own_reached": bool(stop.drivers_own[0]) and stop.stop_switch_by == "both",
        "is_second_helpers": stop.stop_switch_by == "helper",
        "stop_site": site or "",
        "helper": _more_than(stop.helper or "", at_hand or ""),
        "no_switch": stop.is_power_alone,
        "power_alone": stop.has_switch is False,
        "helper_stop": stop.helpers_own or "",
        "rest_switch": (stop.stop_switch or "") if stop.after_stop == "rests" else "",
    }


def _heard(case: Case, does: str) -> str:
    """What is heard when a command does this; empty where none does, or nothing is heard."""
    commands = case.configuration.commands
    return next((command.hear for command in commands if command.does == does and command.hear), "")


def _hold_least(case: Case, words: Words) -> str:
    """The shortest hold time that passes, in seconds with their unit: whatever is let go sooner starts nothing; empty
    where none is in use or no figure is recorded."""
    entries = [entry for entry in case.configuration.settings if entry.setting == "hold_time" and not entry.is_unused]
    shortest_s = min((entry.shortest_s for entry in entries if entry.shortest_s), default=None)
    return f"{decimal(f'{shortest_s:g}', words)} s" if shortest_s else ""


def _try_s(rests_s: float | None) -> float | None:
    """Seconds after a stop within which the stop test tries to drive again: well before the control rests by itself,
    as it may do sooner than it was set to, and a chair at rest passes whatever shuts it off."""
    return min(rests_s / 2, _TRY_S) if rests_s else rests_s


def _set_to(case: Case, setting: str) -> str:
    """What is recorded of a setting that one value of all profiles tells; empty where it is not, or is not used."""
    entries = (entry for entry in case.configuration.settings if entry.setting == setting and not entry.is_unused)
    return next((entry.value for entry in entries if entry.value), "")


def _more_than(helper: str, place: str) -> str:
    """What a helper does to stop it; empty where that only says to press what is at that place."""
    words, named = (set(re.findall(r"\w{4,}", text.lower())) for text in (helper, place))
    return "" if named and words - {"press", "push", "pull", "oprime", "oprima", "presione"} <= named else helper
