"""The counting page as a file: ids and no word of a case, nothing from elsewhere, and whose rows are taken in."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil
import tomllib

import pytest
from gathered import of_each
from msgspec.structs import replace
from support import DEMO_FOLDERS, NOT_REVIEWED, run

from docgen.case.key import known_key, mark_of
from docgen.case.record import TRIAL
from docgen.case.session import SESSIONS
from docgen.case.stage import STAGES, STEPS
from docgen.counting.page import Planned, count_page
from docgen.packet.wording import languages
from docgen.resources import folder
from docgen.spreadsheet.known import known_of

_MARK = "0123456789abcdef"
_HEAD = "date,method,task,success,order,attempt,counted_for"


def _setup(page: str) -> dict:
    return json.loads(re.search(r'<script type="application/json" id="setup">(.*?)</script>', page, re.S)[1])


@pytest.fixture
def case(tmp_path):
    shutil.copytree(DEMO_FOLDERS[0], tmp_path / "a", ignore=NOT_REVIEWED)
    return tmp_path / "a"


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_it_holds_ids_and_no_word_that_a_therapist_wrote(source):
    written = tomllib.loads((source / "case.toml").read_text(encoding="utf-8"))
    page = count_page(known_of(source), _MARK).decode()
    setup = _setup(page)
    assert setup["methods"] == [id_ for id_ in written["trial"]["methods"] if id_ != "each"]
    assert setup["tasks"] == [id_ for id_ in written["trial"]["tasks"] if id_ != "each"]
    blank = count_page(replace(known_of(source), of_trial={"method": {}, "task": {}}, stop_tasks=()), _MARK).decode()
    words = {text for text in _texts(written) if " " in text and text not in blank} | {source.name}
    assert len(words) > 100
    assert [text for text in words if text in page] == []
    assert [part for part in re.findall(r"\w+", written["client"]["name"]) if part in page] == []


def _texts(value):
    if isinstance(value, str):
        yield value
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from _texts(inner)


def test_it_asks_nothing_of_another_machine_and_runs_its_own_script_alone():
    page = count_page(known_of(DEMO_FOLDERS[0]), _MARK).decode()
    assert re.findall(r"https?:|src=|href=|@import|url\(|fetch\(|XMLHttp|eval\(", page) == []
    policy = re.search(r'Content-Security-Policy" content="([^"]*)"', page)[1].replace("&#39;", "'")
    assert policy.startswith("default-src 'none';")
    for tag, name in (("script", "script-src"), ("style", "style-src")):
        text = re.findall(rf"<{tag}>(.*?)</{tag}>", page, re.S)
        assert len(text) == 1
        digest = base64.b64encode(hashlib.sha256(text[0].encode()).digest()).decode()
        assert f"{name} 'sha256-{digest}'" in policy


@pytest.mark.parametrize(("name", "sheet"), [("trial", TRIAL), ("lessons", SESSIONS)])
def test_each_column_that_it_saves_is_one_of_its_file_and_the_required_ones_are_there(name, sheet):
    columns = _setup(count_page(known_of(DEMO_FOLDERS[0]), _MARK).decode())["columns"][name]
    assert columns[-1] == "counted_for"
    assert set(columns[:-1]) <= set(sheet.by_name)
    assert set(sheet.required) <= set(columns)


def test_every_step_of_training_can_be_counted_with_its_tasks():
    steps = _setup(count_page(known_of(DEMO_FOLDERS[0]), _MARK).decode())["steps"]
    assert tuple(steps) == STEPS
    assert {task for stage in STAGES for task in stage.tasks} <= {task for tasks in steps.values() for task in tasks}


@of_each("lang", languages())
def test_a_language_has_every_word_of_it_with_the_same_places(lang):
    def words(tag):
        return tomllib.loads((folder("templates") / tag / "count.toml").read_text(encoding="utf-8"))

    def places(tag):
        return {key: sorted(re.findall(r"\{\w+\}", text)) for key, text in words(tag).items()}

    assert places(lang) == places("en")


def test_hostile_ids_stay_data(case):
    toml = (case / "case.toml").read_text(encoding="utf-8")
    hostile = "</script><script>alert(1)</script>"
    changed = toml.replace("[trial.tasks]", f'[trial.tasks]\n"{hostile}" = {{ name = "x", shows = "stop" }}', 1)
    (case / "case.toml").write_text(changed, encoding="utf-8")
    page = count_page(known_of(case), _MARK).decode()
    assert page.count("<script") == 2
    assert hostile in _setup(page)["stops"]["trial"]


def test_the_command_writes_it_again_and_for_its_owner_alone(case):
    assert run("count", case)[0] == 0
    first = (case / "count.html").read_bytes()
    assert run("count", case, "--lang", "es")[0] == 0
    assert b'<html lang="es">' in (case / "count.html").read_bytes() != first
    assert (case / "count.html").stat().st_mode & 0o077 == 0
    status, _, told = run("count", case, "--lang", "xx")
    assert (status, told.count("\n")) == (2, 1)
    assert "unknown language 'xx'" in told


def test_a_new_case_has_one(tmp_path):
    status, told, _ = run("new", tmp_path / "robin-example", "--payer", "general")
    assert status == 0
    assert "count.html" in told
    assert _setup((tmp_path / "robin-example" / "count.html").read_text())["methods"] == []


def test_rows_of_another_case_are_refused_with_their_line(case, tmp_path):
    run("count", case)
    own = mark_of(known_key(case))
    method, task = known_of(case).of_trial["method"], known_of(case).of_trial["task"]
    row = f"2026-03-01,{next(iter(method))},{next(iter(task))},1,1,1"
    (tmp_path / "own.csv").write_text(f"{_HEAD}\n{row},{own}\n")
    (tmp_path / "other.csv").write_text(f"{_HEAD}\n{row},{own}\n{row},{_MARK}\n")
    status, read, _ = run("rows", case, tmp_path / "own.csv", "--add", "--yes")
    assert status == 0
    assert "counted_for" not in read
    before = (case / "trial.csv").read_bytes()
    status, _, told = run("rows", case, tmp_path / "other.csv", "--add", "--yes")
    assert status == 2
    assert "other.csv:3: was counted for another case" in told
    assert (case / "trial.csv").read_bytes() == before


def test_a_planned_trial_is_offered_block_by_block_with_its_cards_by_ids(tmp_path):
    source = next(path for path in DEMO_FOLDERS if path.name.startswith("marisol"))
    folder = shutil.copytree(source, tmp_path / source.name, ignore=NOT_REVIEWED)
    assert run("count", folder)[0] == 0
    page = (folder / "count.html").read_text(encoding="utf-8")
    assert _setup(page)["planned"] == [] and 'id="planned"' not in page
    plan = '\n[trial.plan]\nmethods = ["sip_puff", "head_array_proximity"]\nvisits = 2\nvisit_minutes = 75\n'
    toml = folder / "case.toml"
    toml.write_text(toml.read_text(encoding="utf-8") + plan, encoding="utf-8")
    assert run("count", folder)[0] == 0
    page = (folder / "count.html").read_text(encoding="utf-8")
    planned = _setup(page)["planned"]
    assert 'id="planned"' in page
    assert [(block["visit"], block["block"], block["method"]) for block in planned] == [
        (1, 1, "sip_puff"),
        (1, 2, "head_pads"),  # the method that tried the device of the shelf
        (2, 1, "head_pads"),
        (2, 2, "sip_puff"),
    ]
    cards = ["straight_10", "stop_request", "doorway", "park"]
    assert planned[0]["tasks"] == planned[1]["tasks"] == [*cards, *cards[:3]]
    assert planned[2]["tasks"] == planned[3]["tasks"] == [cards[3], *cards, *cards[:2]]


def test_a_case_that_cannot_be_read_yet_has_a_page_without_its_plan(case):
    toml = case / "case.toml"
    toml.write_text(toml.read_text(encoding="utf-8") + '\n[trial.plan]\nvisits = "two"\n', encoding="utf-8")
    assert run("count", case)[0] == 0
    assert _setup((case / "count.html").read_text(encoding="utf-8"))["planned"] == []
    assert _setup(count_page(known_of(case), _MARK, planned=[Planned(1, 1, "a", ("b",))]).decode())["planned"]
