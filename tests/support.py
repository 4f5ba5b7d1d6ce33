"""What several tests start from: the demo cases and a small valid case."""

from __future__ import annotations

from docgen.resources import folder

DEMO_FOLDERS = sorted(path.parent for path in folder("cases").glob("*/case.toml"))
DEMOS = [path.name for path in DEMO_FOLDERS]

SMALL = """\
format = "docgen case 1"
id = "small"

[client]
name = "Robin Example"

[[people]]
id = "ot"
role = "evaluator"

[trial]
[[trial.methods]]
id = "pads"
name = "head pads"

[[trial.tasks]]
id = "door"
name = "through a door"
"""
SMALL_ROWS = "date,method,task,success\n2026-03-03,pads,door,1\n2026-03-03,pads,door,0\n"
