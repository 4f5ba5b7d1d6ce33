"""Which settings of the order a line has to bring: those of the controller, and those set at the control itself."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.codes import hcpcs
from docgen.documents.parameters import parameters
from docgen.documents.phrase import Words
from docgen.fit.settings import drive_settings

_OF_LOCK = ("press_window", "press_driving")  # a press that stops locks the switch: neither is known of one line alone


def lock_lines(case: Case) -> tuple[str, ...]:
    """Codes of the lines, of the switch and of the controller, of which any may give the lock after a press that stops
    and the time between presses that count as one; empty where none are counted, or one line alone can."""
    if not case.configuration.counts_presses:
        return ()
    items = case.configuration.items
    of_switch = [item.code for item in items if item.code and "mode_switch" in item.features]
    controllers = [item.code for item in items if (code := hcpcs.code(item.code)) and code.kind == "controller"]
    codes = dict.fromkeys([*of_switch, *filter(None, controllers)])
    return tuple(codes) if of_switch and len(codes) > 1 else ()


def unsettled(case: Case) -> tuple[str, ...]:
    """Names of the settings of which it is to be settled which line gives them; empty where that is plain."""
    return tuple(drive_settings()[id_].name for id_ in _OF_LOCK) if lock_lines(case) else ()


def asked_of_controller(case: Case, words: Words) -> tuple[str, ...]:
    """Names of the settings of the order that a controller must have: neither the control's own nor what is measured
    alone or not used, nor what another line may give as well."""
    not_its = {setting.name for setting in drive_settings().values() if setting.of_control}
    not_its |= {drive_settings()[entry.setting].name for entry in case.configuration.settings if entry.is_unused}
    not_its.add(words["parameter"]["delay"])
    not_its |= {*unsettled(case)}
    return tuple(row["name"] for row in parameters(case, words) if row["name"] not in not_its)


def asked_of_control(case: Case, words: Words) -> tuple[str, ...]:
    """Names of the settings of the order that are set at the control, in its own interface."""
    own = {setting.name for setting in drive_settings().values() if setting.of_control}
    unused = {drive_settings()[entry.setting].name for entry in case.configuration.settings if entry.is_unused}
    return tuple(row["name"] for row in parameters(case, words) if row["name"] in own - unused)
