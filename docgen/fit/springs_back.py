"""Which controls return to their middle when they are let go: nothing is latched there and no lost input bridged, but
where the record says otherwise."""

from __future__ import annotations

from docgen.case.asked import Configuration
from docgen.codes import hcpcs

_JOYSTICKS = frozenset({"proportional_control", "mini_joystick", "compact_joystick"})  # features
# settings of controls that are no proportional joystick
SETTINGS_OF_OTHERS = frozenset({"latch", "latch_timeout", "dropout_tolerance"})


def springs_back(asked: Configuration) -> bool:
    """Whether a feature says that the control is a proportional joystick, or a line has the code of one, and nothing on
    record is latched or senses in steps."""
    features = {feature.id.partition(".")[0] for feature in asked.features}
    codes = (hcpcs.code(item.code) for item in asked.items)
    by_code = any(code is not None and _JOYSTICKS.intersection(code.senses) for code in codes)
    is_joystick = by_code or bool(features & _JOYSTICKS)
    return is_joystick and not asked.is_latched and "nonproportional_control" not in features
