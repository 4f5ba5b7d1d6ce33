"""The home was measured on site, at the latest at delivery.

Asks: When the home was visited, who measured, and whether that came before or at delivery.
Why a payer asks: A chair that was delivered without a look at the home is denied.
What settles it: dates.home_visit_on, home_report_on where the report is of another day; [[spaces]] at home with by;
    dates.delivered_on.
Source: L33789 documentation part: on-site evaluation by supplier or practitioner, with a written report.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import counted, day
from docgen.criteria.steps import STEPS, not_delivered, undated

HEADING = "safety"
CLAIM = "The home report came before delivery"
SHOWN_IN = (
    "letter: Safety and Home Environment",
    "order: Home Accessibility Measurements",
)
NOT_FOR = ("control_only",)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    report, delivered = case.dates.home_report_on, case.dates.delivered_on
    if delivered and report and report > delivered:
        return not_met(
            f"The report of the home visit is of {day(report)}, after delivery on {day(delivered)}.",
            ("dates", "home_report_on"),
            STEPS["delivery"],
            mend="This cannot be put right later; ask the payer what it takes instead.",
        )
    if missing := undated(case, "home visit"):
        return missing
    at, measured = (
        STEPS["home visit"],
        [(i, s) for i, s in enumerate(case.spaces) if s.at_home and (s.clear_width_mm or s.turning_mm)],
    )
    if not measured:
        return cannot_tell(
            "No measure of the home is recorded.",
            ("spaces",),
            mend=add_entry("spaces", "id", "name", "kind", "clear_width_mm", "on", "by"),
        )
    visited = recorded(case.dates.home_visit_on)
    if delivered and visited > delivered:
        return not_met(
            f"The home was visited on {day(visited)}, after delivery on {day(delivered)}.",
            at,
            STEPS["delivery"],
            mend="This cannot be put right later; ask the payer what it takes instead.",
        )
    if early := not_delivered(case, f"the home was visited on {day(visited)}"):
        return early
    return met(
        f"The home was visited on {day(visited)} and the chair delivered on {day(recorded(delivered))}; "
        f"{counted(len(measured), 'place is', 'places are')} measured.",
        at,
        STEPS["delivery"],
        *(("spaces", i) for i, _ in measured),
    )
