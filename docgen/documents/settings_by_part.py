"""Which settings of the order a line has to bring: those of the controller, and those set at the control itself."""

from __future__ import annotations

from docgen.case.model import Case
from docgen.documents.parameters import parameters
from docgen.documents.phrase import Words
from docgen.fit.settings import drive_settings


def asked_of_controller(case: Case, words: Words) -> tuple[str, ...]:
    """Names of the settings of the order that a controller must have: neither the control's own nor what is measured
    alone or not used."""
    not_its = {setting.name for setting in drive_settings().values() if setting.of_control}
    not_its |= {drive_settings()[entry.setting].name for entry in case.configuration.settings if entry.is_unused}
    not_its.add(words["parameter"]["delay"])
    return tuple(row["name"] for row in parameters(case, words) if row["name"] not in not_its)


def asked_of_control(case: Case, words: Words) -> tuple[str, ...]:
    """Names of the settings of the order that are set at the control, in its own interface."""
    own = {setting.name for setting in drive_settings().values() if setting.of_control}
    unused = {drive_settings()[entry.setting].name for entry in case.configuration.settings if entry.is_unused}
    return tuple(row["name"] for row in parameters(case, words) if row["name"] in own - unused)
