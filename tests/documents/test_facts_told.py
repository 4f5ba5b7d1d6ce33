"""Each fact of the record that some clients have and most do not: on its page when it is recorded, on no page else."""

from __future__ import annotations

import shutil
import tomllib

import pytest
from hostile.mutate_tables import as_toml
from in_full import tables_in_full
from made import FOLDERS, SAOIRSE
from support import ASSESSED, CASES, assess

from docgen.case.asked import Command
from docgen.evidence.gather import evidence
from docgen.figures import driving_map
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.scene import Text

RECORDED = """
[help_a_day]
minutes_before = 240
minutes_with = 150
source = "a log of one week"

[[outside_records]]
what = "swallowing study"
author = "Ada Example, MD"
organisation = "Example General Hospital"
on = 2026-01-20
says = "Thin liquids are swallowed safely."

[[spaces]]
id = "entry_slope"
name = "slope at the entry"
kind = "ramp"
at_home = true
floor = "wood"
slope_percent = 7.1
length_mm = 3658
rails = "both_sides"

[[spaces]]
id = "house_lift"
name = "lift of the house"
kind = "elevator"
at_home = true
floor = "steel"
clear_width_mm = 900
inside_width_mm = 1370
inside_depth_mm = 1400
doors = "one sliding door, open for 8 s"
pushed_out = true

[[supervision]]
place = "at the test ramp"
level = "arms_length"
by = "a test helper"

[[supervision]]
place = "at the test ramp"
level = "in_sight"
by = "a later helper"
after_stage = "tight"

[[follow_up]]
after_weeks = 30
latest_weeks = 34
every_months = 3
for_months = 24
what = "test of what repeats"
"""
SHOWN = [
    ("letter", "Help of every kind together takes 240 minutes a day now; with the control I expect 150 minutes."),
    ("letter", "That was counted like this: a log of one week."),
    ("letter", "Ada Example, MD, Example General Hospital, wrote this on January 20, 2026: swallowing study."),
    ("letter", " over 12 ft 0 in (3658 mm), with a handrail on each side."),
    (
        "letter",
        " reliably, she is pushed out, power off, the brake levers set to roll",
    ),
    ("letter", "Inside, it is 53 3/4 in (1370 mm) wide and 55 in (1400 mm) deep."),
    (
        "letter",
        "Its doors: one sliding door, open for 8 s.",
    ),
    ("letter", "every 3 months after that, until 24 months after delivery"),
    ("letter", "The length of need is 60 months, 84 months at most."),
    ("order", "60 to 84"),
    ("order", "slope 7.1 percent, a handrail on each side"),
    ("order", "inside 1370 mm (53 3/4 in) wide"),
    ("order", "doors: one sliding door, open for 8 s"),
    ("order", "Switches of the control in all, those for mode and power too: four."),
    ("order", "The electronics blend two commands of switches into one movement, as in the trial."),
    ("order", "with 90 g (3.2 oz) after 3 mm of travel"),
    ("order", "Forward and left at once"),
    ("plan", 'At the test ramp, after the step "Tight places": a later helper'),
    ("plan", "(34 weeks at the latest)"),
    ("plan", "test of what repeats, every 3 months after that, until 24 months after delivery"),
    ("plan", "Test Reader reads Somali. In none of these languages: the daily guide and training plan."),
    (
        "plan",
        "Who goes through it: the interpreter",
    ),
    ("card", "a test helper"),
]


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Document -> its words in a demo that records all of it."""
    folder = tmp_path_factory.mktemp("told") / SAOIRSE
    shutil.copytree(FOLDERS[SAOIRSE], folder)
    raw = tables_in_full(folder)
    for table, entries in tomllib.loads(RECORDED).items():
        raw[table] = [*raw.get(table, []), *entries] if isinstance(entries, list) else entries
    asked = raw["configuration"]
    asked["switches"] = 4
    asked["chair"]["blends_commands"] = True
    asked["mounting"][0] |= {"force_g": 90, "travel_mm": 3}
    asked["commands"].append({"does": "forward_left", "input": "push the joystick forward and left"})
    raw["request"]["months_at_most"] = 84
    raw["people"].append(
        {"id": "reader", "role": "school", "name": "Test Reader", "reads": ["so"], "interpreter": "the interpreter"}
    )
    (folder / "case.toml").write_text(as_toml(raw), encoding="utf-8")
    return _words(assess(folder))


def _words(assessed: object) -> dict[str, str]:
    names = sorted({document for document, _ in SHOWN})
    return {name: " ".join(tree.plain().split()) for name, tree in trees(assessed, names).items()}


@pytest.fixture(scope="module")
def without() -> dict[str, str]:
    """Document -> its words in the demo as it is."""
    return _words(ASSESSED[SAOIRSE])


@pytest.mark.parametrize(("document", "says"), SHOWN)
def test_what_is_recorded_is_told_and_what_is_not_is_not(document, says, pages, without):
    assert says in pages[document]
    assert says not in without[document]


def test_a_command_of_two_ways_at_once_has_its_line_in_the_drawing():
    case = CASES[SAOIRSE]
    both = Command(does="forward_left", input="push forward and left")
    asked = case.configuration.model_copy(update={"commands": (*case.configuration.commands, both)})
    scene = driving_map.scene(
        case.model_copy(update={"configuration": asked}), evidence(case), language_words()["figures"]
    )
    line = "Push forward and left: the chair goes forward and left at once."
    assert line in scene.alt
    panels = [" ".join(shape.text for shape in panel.shapes if isinstance(shape, Text)) for panel in scene.panels]
    # what the chair does stands over the driver's command, in one panel and in no other
    assert [text for text in panels if "at once" in text] == ["goes forward and left at once Push forward and left"]
    assert [panel.alt for panel in scene.panels if "at once" in panel.alt] == [line]


def test_a_later_arrangement_is_on_no_page_for_daily_use(pages):
    assert "a later helper" not in pages["card"] and "a test helper" in pages["card"]
