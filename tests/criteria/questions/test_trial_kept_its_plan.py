"""What `trial_kept_its_plan` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE, ROWS

_TWO = {"on": date(2026, 3, 1), "methods": ["pads", "stick"], "visits": 2, "visit_minutes": 45}
PLANNED = [("trial.plan", _TWO)]
ONE_VISIT = [("trial.plan", _TWO | {"visits": 1})]
FIRST = {("pads", 3): 1, ("stick", 3): 2, ("stick", 4): 1, ("pads", 4): 2}
IN_ORDER = [row | {"order": FIRST[row["method"], row["date"].day]} for row in ROWS]
PADS_FIRST = [row | {"order": 1 if row["method"] == "pads" else 2} for row in ROWS]
OTHERS = [row | {"supervisor": "aunt" if row["method"] == "pads" else "aide"} for row in IN_ORDER]
GUARDED = [row | {"supervisor": "aunt"} for row in IN_ORDER]
ONE_DAY = [row for row in IN_ORDER if row["date"].day == 3]

RECORDS = Records(
    "trial_kept_its_plan",
    met=[
        ("a plan of two visits, and rows in its order", PLANNED, IN_ORDER),
        ("a plan made on the day of the first row", [*PLANNED, ("trial.plan.on", date(2026, 3, 3))], IN_ORDER),
        ("one visit, in which the pads came first", ONE_VISIT, [r | {"order": FIRST[r["method"], 3]} for r in ONE_DAY]),
        ("another helper for each, which was not planned against", PLANNED, OTHERS),
        ("who guards is planned and recorded of no row", [*PLANNED, ("trial.plan.guard", "aunt")], IN_ORDER),
        ("who guards is planned and recorded", [*PLANNED, ("trial.plan.guard", "aunt")], GUARDED),
    ],
    not_met=[
        ("the pads always first", PLANNED, PADS_FIRST),
        ("rows without their order", PLANNED),
        ("another helper for each", [*PLANNED, ("trial.plan.guard", "aunt"), ("trial.plan.speed_m_s", 0.4)], OTHERS),
        ("a plan of the day after the first row", [*PLANNED, ("trial.plan.on", date(2026, 3, 4))], IN_ORDER),
    ],
    cannot_tell=[
        ("a plan and no rows", PLANNED, []),
        ("a plan, and rows of one control alone", PLANNED, [row for row in IN_ORDER if row["method"] == "pads"]),
        ("no plan and no rows", [], []),
        ("a plan without visits, and no rows", [*PLANNED, ("trial.plan.visits", GONE)], []),
        ("a plan without its day", [*PLANNED, ("trial.plan.on", GONE)], IN_ORDER),
    ],
    does_not_apply=[
        ("no plan", []),
        ("no trial, for a reason", [("trial.none_why", "No chair could be lent.")], []),
        ("a caregiver who drives", [("attendant.drives", True), ("configuration.method", GONE)]),
        ("a plan without visits", [*PLANNED, ("trial.plan.visits", GONE)], IN_ORDER),
        ("a plan without its controls", [*PLANNED, ("trial.plan.methods", GONE)], IN_ORDER),
        ("visits that hold no attempt", [*PLANNED, ("trial.plan.visit_minutes", 20)], IN_ORDER),
    ],
    rests_on=("trial.methods", "trial.tasks"),  # the rows go with them
)

test_each_record_gets_its_answer = RECORDS.test()
