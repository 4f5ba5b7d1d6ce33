"""A request small enough to be approved after a few minutes' writing, as somebody writes it by hand."""

from __future__ import annotations

from pathlib import Path

ID, NAME = "calla-example", "Calla Example-Stroud"
KEY = "0" * 32
CASE = """\
# Written by hand.
format = "docgen case 2"
id = "calla-example"

[request]
payer = "charity_or_school"
kind = "control_only"

[client]
name = "Calla Example-Stroud"
called = "Calla"
pronouns = "she"
born_on = 1995-03-19
weight_kg = "88 lb"

[diagnoses]
spinal_muscular_atrophy_type_2 = { name = "spinal muscular atrophy type 2", code = "G12.1" }

[people]
evaluator = { name = "Ephraim Example", credential = "OT" }
caregiver = { name = "Jocasta Example" }

[findings]
finger_isolated = ["Her right index finger bends and straightens by itself.", "6 mm at the tip"]

[supervision]
"at home" = { level = "arms_length", by = "Jocasta Example", stands = "beside", stops_with = "power_off" }

[trial.methods]
mini_joystick = { name = "mini joystick", features = ["mini_joystick"] }

[trial.tasks]
driving_indoors = { name = "driving indoors", shows = "steer" }
stopping_on_request = { name = "stopping on request", shows = "stop" }

[configuration]
method = "mini_joystick"
summary = "a mini joystick for the right index finger"

[configuration.features]
mini_joystick = ["finger_isolated"]

[configuration.items]
mini_joystick = { name = "mini joystick", code = "E2312", quantity = 1, features = ["mini_joystick"],
  why = "It drives the chair with the force that her index finger has." }

[configuration.commands]
forward = "finger forward"
stop = "the finger lets go"

[configuration.stop]
driver = "lets go of the joystick"
has_switch = false
power_off = "switch on the left armrest"
power_off_by = "helper"
helper = "press the switch on the left armrest"
"""
ROWS = "date,method,task,success\n" + "".join(
    f"2026-10-{day},mini_joystick,{task},1\n"
    for day in (12, 19)
    for task in ["driving_indoors"] * 5 + ["stopping_on_request"] * 3
)


def write_by_hand(folder: Path) -> Path:
    """The case as a folder of its own below another; returns it."""
    case = folder / ID
    case.mkdir(parents=True)
    (case / "case.toml").write_text(CASE, encoding="utf-8")
    (case / "trial.csv").write_text(ROWS, encoding="utf-8")
    return case
