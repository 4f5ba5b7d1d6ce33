"""Each command: exit status, what goes where, the shape of its JSON, and that a mistake leaves nothing behind."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest
from support import DEMO_FOLDERS, SMALL, run
from typer.main import get_command
from typer.testing import CliRunner

from docgen.cli import program
from docgen.criteria.criterion import criteria

READY = [
    f for f in DEMO_FOLDERS if f.name in ("ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng")
]
DRAFTS = [f for f in DEMO_FOLDERS if f not in READY]
MARISOL = "marisol-quenneville-tran"
STATUSES = {"met", "not_met", "cannot_tell", "does_not_apply"}


@pytest.mark.parametrize("folder", READY, ids=lambda f: f.name)
def test_check_of_a_ready_case_ends_with_0(folder):
    status, out, err = run("check", folder)
    assert (status, err) == (0, "")
    assert "ready for the clinician's review" in out


@pytest.mark.parametrize("folder", DRAFTS, ids=lambda f: f.name)
def test_check_of_a_draft_ends_with_1_and_gives_file_and_line(folder):
    status, out, _ = run("check", folder)
    assert status == 1
    assert "case.toml:" in out and f"{folder / 'case.toml'}:" in run("check", folder, "--all")[1]


def test_check_says_why_the_unsupported_request_is_not_supported():
    folder = next(f for f in DRAFTS if f.name == "anselm-kirawira-boone")
    status, out, _ = run("check", folder, "--json")
    told = json.loads(out)
    assert status == 1 and told["verdict"] == "gaps"
    stick = next(f for f in told["findings"] if f["criterion"] == "standard_stick_ruled_out")
    assert stick["status"] == "not_met" and stick["severity"] == "blocks"
    assert all(part in stick["reason"] for part in ("18 of 20", "16 of 20", "-10 percentage points (-33 to 13)"))
    line = int(stick["where"][0].rpartition(":")[2])
    assert "hand_midline" in (folder / "case.toml").read_text(encoding="utf-8").split("\n")[line - 1]


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)
def test_findings_as_json_keep_their_shape(folder):
    told = json.loads(run("check", folder, "--json")[1])
    assert told["format"] == "docgen findings 1" and told["case"] == folder.name
    assert told["blocking"] == sum(f["blocks"] for f in told["findings"])
    for finding in told["findings"]:
        assert {"id", "heading", "status", "severity", "reason", "where", "source", "mend"} <= set(finding)
        assert finding["status"] in STATUSES and finding["reason"].endswith(".") and finding["where"]
        assert bool(finding["mend"]) == (finding["status"] in ("not_met", "cannot_tell"))
    assert {f["criterion"] for f in told["findings"]} == set(criteria())


def test_a_folder_of_cases_is_checked_as_a_whole():
    status, out, _ = run("check", DEMO_FOLDERS[0].parent)
    assert status == 1
    for folder in DEMO_FOLDERS:
        assert folder.name in out


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)
def test_evidence_as_json_lists_every_number_with_its_trace(folder):
    status, out, _ = run("evidence", folder, "--json")
    told = json.loads(out)
    assert status == 0 and told["format"] == "docgen evidence 1"
    lasts = {path.name: len(path.read_text(encoding="utf-8").splitlines()) for path in folder.glob("*.csv")}
    for fact in told["facts"]:
        assert {"id", "value", "low", "high", "n", "unit", "rows", "source", "formula"} <= set(fact)
        assert fact["question"] in told["questions"]
        assert fact["rows"] or fact["keys"] or fact["value"] is None
        last = lasts["sessions.csv" if "sessions.csv" in fact["keys"] else "trial.csv"]
        assert all(2 <= row <= last for row in fact["rows"])
        if fact["value"] is None:
            assert fact["note"] or fact["text"]
        if fact["low"] is not None and fact["value"] is not None and fact["high"] is not None:
            assert fact["low"] <= fact["value"] <= fact["high"]


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)
def test_evidence_is_readable_and_grouped_by_question(folder):
    status, out, _ = run("evidence", folder, "--all")
    assert status == 0 and "Can the client drive with it?" in out and "rows 2-" in out
    assert "None" not in out and "nan" not in out


def test_build_makes_only_what_is_asked_for(tmp_path):
    assert (
        run("build", READY[0], "--out", tmp_path, "--formats", "html", "--only", "guide,letter", "--only", "order")[0]
        == 0
    )
    assert {p.name for p in (tmp_path / READY[0].name).iterdir()} == {
        "guide.html",
        "letter.html",
        "order.html",
        "lines.csv",
        "order.json",
        "manifest.json",
    }


def test_a_file_changed_by_hand_is_never_replaced(tmp_path):
    words = ("build", READY[0], "--out", tmp_path, "--formats", "html", "--only", "guide")
    run(*words)
    guide = tmp_path / READY[0].name / "guide.html"
    made = guide.read_bytes()
    guide.write_text("mine", encoding="utf-8")
    for _ in range(3):
        status, out, _ = run(*words)
        assert status == 0 and "was changed by hand" in out
        assert guide.read_text(encoding="utf-8") == "mine"
        assert guide.with_name("guide.new.html").read_bytes() == made


@pytest.mark.parametrize("command", [["check"], ["evidence"], ["build", "--out", "OUT"]], ids=lambda c: c[0])
def test_a_broken_case_ends_with_2_one_sentence_and_nothing_written(command, case_folder, tmp_path):
    folder = case_folder(SMALL.replace('name = "Robin', 'nmae = "Robin'))
    out_dir = tmp_path / "out"
    status, out, err = run(*[str(out_dir) if w == "OUT" else w for w in command], folder)
    assert (status, out) == (2, "")
    assert err.count("\n") == 1 and f"{folder / 'case.toml'}:5: unknown key 'nmae'" in err and "Traceback" not in err
    assert not out_dir.exists()


def test_one_broken_case_does_not_stop_the_others(case_folder, demo, tmp_path):
    demo("ilmari-okonjo-vale")
    broken = tmp_path / "cases" / "small"
    broken.mkdir()
    (broken / "case.toml").write_text("x = 1", encoding="utf-8")
    status, out, err = run(
        "build", tmp_path / "cases", "--out", tmp_path / "out", "--formats", "html", "--only", "guide"
    )
    assert status == 2 and "small" in err and "ilmari-okonjo-vale" in out
    assert (tmp_path / "out" / "ilmari-okonjo-vale" / "guide.html").is_file()
    assert not (tmp_path / "out" / "small").exists()


@pytest.mark.parametrize(
    "words, told",
    [
        (["build", "CASE", "--formats", "dcox"], "'dcox' is not known. Did you mean 'docx'?"),
        (["build", "CASE", "--only", "leter"], "Did you mean 'letter'?"),
        (["criteria", "stops_on_requst"], "Did you mean 'stops_on_request'?"),
        (["evidence", "CASES"], "holds 6 cases. Name one of them."),
        (["check", "nowhere"], "is neither a case folder nor a folder of case folders"),
        (["new", "Not An Id"], "is not an id"),
    ],
)
def test_a_mistake_in_the_words_of_a_command_is_one_sentence(words, told):
    places = {"CASE": READY[0], "CASES": READY[0].parent}
    status, out, err = run(*[places.get(word, word) for word in words])
    assert (status, out) == (2, "") and told in err


def test_out_that_cannot_be_written_is_explained(tmp_path):
    (tmp_path / "file").write_text("x", encoding="utf-8")
    status, _, err = run("build", READY[0], "--out", tmp_path / "file", "--formats", "html", "--only", "guide")
    assert status == 2 and "cannot be written" in err


@pytest.mark.parametrize("option", [[], ["--example"]], ids=["empty", "example"])
def test_a_new_case_can_be_checked_and_built(option, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert run("new", "robin-example", *option)[0] == 0
    status, out, err = run("check", "robin-example")
    assert (status, err) == (0 if option else 1, "")
    status, _, err = run("build", "robin-example", "--out", "out")
    assert (status, err) == (0 if option else 1, "")
    assert run("new", "robin-example")[0] == 2


def test_criteria_lists_and_explains_each():
    out = run("criteria")[1]
    for criterion in criteria().values():
        assert criterion.id in out and criterion.claim in out
        one = run("criteria", criterion.id)[1]
        assert all(part in one for part in ("Asks", "Why a payer asks", "What settles it", "Source"))


def test_schema_is_json_schema_with_every_key_described():
    schema = json.loads(run("schema")[1])
    assert schema["title"] == "docgen case 2"
    for model in schema["$defs"].values():
        if "properties" in model:
            assert model["additionalProperties"] is False
            assert all("description" in p or "$ref" in p for p in model["properties"].values())


@pytest.mark.parametrize("words", [["--help"], ["check", "nowhere"], []])
def test_the_installed_command_answers_without_a_traceback(words):
    done = subprocess.run([sys.executable, "-m", "docgen", *words], capture_output=True, text=True)
    assert done.returncode in (0, 2) and "Traceback" not in done.stderr


def test_a_command_made_up_alone_says_of_itself_what_it_says_among_all():
    """What a line begins with is made up without the other commands; any other word still meets them all."""
    every_command = program()
    names = [*get_command(every_command).commands]
    assert len(names) > 10
    for name in names:
        alone = program([name, "--help"])
        assert [*get_command(alone).commands] == [name]
        helps = [CliRunner().invoke(made_up, [name, "--help"]).output for made_up in (every_command, alone)]
        assert helps[0] == helps[1] and f" {name} [OPTIONS]" in helps[0]
    for words in ([], ["--help"], ["chekc", "case"], ["--version", "check"]):
        assert [*get_command(program(words)).commands] == names
