"""A trial planned, as page, letter and JSON: gaps marked, what its reader needs and no more, what is refused."""

from __future__ import annotations

import json
import re
from datetime import date

import pytest
from canaries import every_word, keys_in
from msgspec.structs import replace
from support import DEMO_FOLDERS, SMALL, run
from trials_planned import MARISOL, SAOIRSE, TWO_VISITS, page, sheet_texts

from docgen.case.read import read_case
from docgen.case.trial_plan import TrialPlan
from docgen.console.trial_json import trial_json
from docgen.errors import UserError
from docgen.filling import trial_files
from docgen.library import match_in, trial_in
from docgen.packet.assess import assess_file
from docgen.packet.trees import trees
from docgen.packet.trial_page import page_context
from docgen.rendering.formats import format_names
from docgen.shelf.read import SHIPPED, shipped_shelf

DEMOS = {path.name: path for path in DEMO_FOLDERS}


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda source: source.name)
def test_the_plan_of_each_demo_is_written_in_three_formats_with_its_gaps_marked(planned, source, tmp_path):
    result = planned(source.name)
    written = trial_files(result, None, tmp_path)
    assert [path.name for path in written] == [f"trial_plan.{suffix}" for suffix in format_names()]
    assert {path.read_bytes()[:4] for path in written} >= {b"%PDF", b"PK\x03\x04"}
    html = (tmp_path / "trial_plan.html").read_text(encoding="utf-8")
    for label in (
        "which controls are compared",
        "how many visits there are",
        "length of a visit",
        "the difference that would decide",
        "when a control that plainly fails is dropped, by the therapist",
    ):
        assert f"not recorded: {label}" in html
    for line in (
        "Who guards, at the stop, in every block",
        "How whoever guards stops the chair of the trial",
        "One speed for every control",
        "own signs that driving ends for the day",
        "What is worn in every visit: headwear, glasses, orthoses, belts",
    ):
        assert (
            html.index("Do not drive until this is filled in")
            < html.index(f"{line}: ____")
            < html.index("Safety First")
        )
    assert trial_files(result, None, tmp_path) == written  # the same again


def test_a_control_that_neither_trial_nor_shelf_holds_is_told_with_its_place(case_folder):
    folder = case_folder(SMALL + '\n[trial.plan]\nmethods = ["head_array_proximity", "head_aray"]\nvisits = 2\n')
    status, _, err = run("trial", folder, "--shelf", SHIPPED)
    assert status == 2 and re.search(r"case\.toml:\d+", err)
    assert "'head_aray' is no method of the trial and no device of" in err and "head_array_proximity" in err


def test_who_guards_is_one_of_the_people(case_folder):
    folder = case_folder(SMALL + '\n[trial.plan]\nguard = "nobody"\n')
    with pytest.raises(UserError, match="nobody"):
        read_case(folder)


# Written by hand: all that therapist and supplier need of a case to run the trial and to pack for it.
MAY_TELL = {
    "alternatives.reason",
    "cautions.says",
    "client.called",
    "client.emergency_number",
    "conditions.answers.says",
    "configuration.mounting.at",
    "configuration.mounting.part",
    "configuration.mounting.tool",
    "configuration.worn",
    "emergency.calls.call_if",
    "emergency.calls.name",
    "emergency.calls.phone",
    "emergency.signs.first",
    "emergency.signs.says",
    "emergency.signs.then",
    "findings.measure",
    "findings.says",
    "goals.says",
    "people.phone",
    "people.relation",
    "sitting.after.reached",
    "sitting.belts",
    "sitting.head",
    "sitting.pelvis",
    "sitting.trunk",
    "spaces.name",
    "trial.chair",
    "trial.counted_by",
    "trial.methods.name",
    "trial.methods.setup",
    "trial.place",
    "trial.plan.drawn",
    "trial.plan.guard_stop",
    "trial.plan.stop_when",
    "trial.plan.worn",
    "trial.seating",
    "trial.tasks.name",
    "trial.tasks.rule",
    "weight_shift.helper",
    "weight_shift.not_when",
}


@pytest.mark.parametrize("name", [MARISOL, SAOIRSE])
def test_the_page_tells_of_a_case_what_it_needs_and_nothing_else(name):
    assessed_case, words = every_word(name)
    case = assessed_case.file.case
    plan = TrialPlan(methods=tuple(method.id for method in case.trial.methods[:2]), visits=2, visit_minutes=45.0)
    trial = case.trial.model_copy(update={"plan": plan.model_copy(update={"guard": case.people[-1].id})})
    file = replace(assessed_case.file, case=case.model_copy(update={"trial": trial}))
    result = trial_in(match_in(replace(assessed_case, file=file), shipped_shelf()))
    context = page_context(result.compared.assessed, result.compared.match, result.plan)
    shown = {key.partition("@")[0] for key in keys_in(json.dumps(context) + str(sheet_texts(result)), words)}
    assert {"client.called", "goals.says", "people.relation", "trial.methods.setup"} <= shown
    assert sorted(shown - MAY_TELL) == []


def test_hostile_words_stand_as_they_are_written(planned):
    hostile = "a | b **bold** <b>x</b> [y](http://z) {{ 1 }} # h"
    plan = TWO_VISITS | {"guard_stop": hostile, "worn": hostile, "stop_when": hostile}
    tasks = tuple(
        task.model_copy(update={"name": hostile, "rule": hostile}) for task in planned(MARISOL).case.trial.tasks
    )
    methods = tuple(m.model_copy(update={"name": hostile}) for m in planned(MARISOL).case.trial.methods)
    result = planned(MARISOL, plan, tasks=tasks, methods=methods, chair=hostile)
    text = page(result).decode("utf-8")
    assert text.count("[y](http://z) {{ 1 }} # h") > 10 and "<b>x</b>" not in text and 'href="http://z"' not in text
    assert page(result, "pdf")[:4] == b"%PDF" and page(result, "docx")[:2] == b"PK"
    assert "Visit 2, block 2" in sheet_texts(result)[-2] + sheet_texts(result)[-1] + sheet_texts(result)[3]


def test_json_holds_what_the_page_says(planned):
    data = json.loads(json.dumps(trial_json(planned(MARISOL, TWO_VISITS))))
    assert data["format"] == "docgen trial plan 1" and data["attempts_each"] == 14
    assert [control["device"] for control in data["controls"]] == ["breath_tube", "head_array_proximity"]
    assert data["reckoned"] == ["fixed", "change", "attempt"] and data["order"]["kind"] == "two"
    assert [block["cards"] for block in data["blocks"]][0] == [1, 2, 3, 4, 1, 2, 3]
    bare = trial_json(planned(MARISOL))
    assert (bare["order"], bare["visits"], bare["attempts_each"]) == (None, None, None)


def test_the_command_writes_the_plan_and_never_over_another_file(tmp_path):
    status, out, _ = run("trial", DEMOS[MARISOL], "--shelf", SHIPPED, "--out", tmp_path, "--formats", "html")
    assert status == 0 and "trial_plan.html" in out and "fill in methods, visits and visit_minutes" in out
    (tmp_path / "trial_plan.html").write_text("a note", encoding="utf-8")
    status, _, err = run("trial", DEMOS[MARISOL], "--out", tmp_path, "--formats", "html")
    assert status == 2 and "is there already" in err
    assert (tmp_path / "trial_plan.html").read_text(encoding="utf-8") == "a note"
    status, out, _ = run("trial", DEMOS[MARISOL], "--json")
    assert status == 0 and json.loads(out)["case"] == MARISOL


def test_findings_alone_are_enough(case_folder):
    plan = '[trial.plan]\nmethods = ["foot_stick", "hand_stick"]\nvisits = 2\nvisit_minutes = 45\n'
    finding = '\n[[findings]]\nid = "foot_graded"\nsays = "She steers with her left foot."\n'
    folder = case_folder(SMALL.split("[trial]")[0] + finding + plan, rows="date,method,task,success\n")
    status, out, err = run("trial", folder, "--shelf", SHIPPED, "--formats", "pdf")
    assert (status, err) == (0, "") and "trial_sheets.pdf" in out


def test_the_letter_tells_what_a_plan_made_beforehand_kept_out(planned):
    plan = TWO_VISITS | {"methods": ("sip_puff", "chin_stick"), "guard": "aide"}
    said = (
        "The comparison of the sip-and-puff, momentary and the chin-operated standard joystick was planned on "
        "February 1, 2026, before its first attempt, so that"
    )

    def letter(on):
        result = planned(MARISOL, plan | {"on": on})
        file = result.compared.assessed.file
        (tree,) = trees(assess_file(file), ["letter"]).values()
        return " ".join("".join(node.text or "" for node in tree.walk()).split())

    before = letter(date(2026, 2, 1))
    assert said in before and "the tasks were the same" in before.partition(said)[2][:400]
    assert "none always came first" not in before.partition(said)[2][:400]  # it did: the plan was not kept in that
    assert "before its first attempt, so that" not in letter(date(2026, 3, 1))
