"""What the record says against itself stands in letter and progress report, and nothing is said where all is well."""

from __future__ import annotations

import pytest
from made import page
from support import DEMO_FOLDERS

ILMARI, SAOIRSE = (
    next(folder for folder in DEMO_FOLDERS if folder.name.startswith(name)) for name in ("ilmari", "saoirse")
)
TRIAL, CASE, SESSIONS = "trial.csv", "case.toml", "sessions.csv"
TOUCHED = (TRIAL, "2026-03-24,head_pads,straight_10,1,1,1,,0,0,", "2026-03-24,head_pads,straight_10,1,1,1,,0,1,")
BY_TASK = (CASE, 'release_from = "cue"', 'release_from = "cue"\ndone_rule = "task_rule"')
NO_SUPPORT = (
    CASE,
    '[[configuration.features]]\nid = "suboccipital_support"',
    '[[configuration.features]]\nid = "locked_settings"',
)
BROUGHT = (CASE, '"mode_switch", "suboccipital_support", "auditory_feedback"', '"mode_switch", "auditory_feedback"')
SKIN = (
    CASE,
    '[[activities]]\nid = "toilet"',
    '[[findings]]\nid = "pressure_risk"\nsays = "He cannot shift his weight."\nmeasure = "0 of 5 tries"\n\n'
    '[[activities]]\nid = "toilet"',
)
NO_ROOM = (CASE, "clear_ahead_mm = 2100", "clear_ahead_mm = 1300")
TRY = (SESSIONS, "2026-07-13,corners,straight,1,I,,25,0,0,0,", "2026-07-13,corners,straight,1,I,,25,0,0,1,")


@pytest.mark.parametrize(
    ("source", "document", "changes", "says"),
    [
        (ILMARI, "letter", [TOUCHED], "38 of 46 attempts were written down as done; 37 of 46 meet this."),
        (ILMARI, "letter", [TOUCHED], "In the trial Ilmari completed 37 of 46 attempts with it"),
        (ILMARI, "letter", [TOUCHED, BY_TASK], "Here, done means what the rule of each task says."),
        (ILMARI, "letter", [TOUCHED, BY_TASK], "In the trial Ilmari completed 38 of 46 attempts with it"),
        (ILMARI, "letter", [NO_SUPPORT, BROUGHT], "The trial had suboccipital support, and it is not requested."),
        (ILMARI, "letter", [SKIN], "Nothing requested meets this."),
        (ILMARI, "letter", [NO_ROOM], "In the bathroom door the chair stops in"),
        (SAOIRSE, "progress", [TRY], "meet this."),
    ],
)
def test_what_contradicts_is_said_on_the_page(source, document, changes, says, tmp_path):
    assert says in page(tmp_path, document, source, *changes)


@pytest.mark.parametrize(("source", "document"), [(ILMARI, "letter"), (SAOIRSE, "progress")])
def test_nothing_is_said_where_all_is_well(source, document, tmp_path):
    words = page(tmp_path, document, source)
    for said in ("Done means", "Nothing requested meets this.", "is not requested", "the trial did not have it"):
        assert said not in words
