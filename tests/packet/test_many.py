"""Many cases: in order, none stopped by another, the same whoever does the work, and not again what is there
already."""

from __future__ import annotations

import hashlib
import json
import os
import signal
import subprocess
import sys
import time
from contextlib import closing
from datetime import date
from pathlib import Path

import docx
import pytest
from msgspec.structs import replace
from support import DEMO_FOLDERS, SMALL, SMALL_ROWS, run

import docgen.packet.work
from docgen.criteria.payer import load
from docgen.packet.approval import approve
from docgen.packet.assess import assess
from docgen.packet.contents import contents
from docgen.packet.many import build_many, workers
from docgen.packet.recipe import Recipe
from docgen.packet.wording import wording
from docgen.packet.work import attempt_elsewhere, here
from docgen.packet.workers import Alone, Processes

QUICK = Recipe(formats=("html",), only=("guide",))
NAMES = ["ana", "ben", "cleo", "dov", "eri"]


@pytest.fixture
def folders(tmp_path):
    """Small cases of five names, in a folder of cases."""
    for name in NAMES:
        folder = tmp_path / "cases" / name
        folder.mkdir(parents=True)
        (folder / "case.toml").write_text(SMALL.replace('id = "small"', f'id = "{name}"'), encoding="utf-8")
        (folder / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    return [tmp_path / "cases" / name for name in NAMES]


def built(folders, recipe, out, jobs=1, force=False, those=None):
    return list(build_many(folders, recipe, out, those or workers(recipe, out, len(folders), jobs), force))


def on_disk(out):
    return {path.relative_to(out).as_posix(): path.read_bytes() for path in sorted(out.rglob("*")) if path.is_file()}


def is_whole(folder):
    told = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    return all(
        hashlib.sha256((folder / one["name"]).read_bytes()).hexdigest() == one["sha256"] for one in told["files"]
    )


@pytest.mark.parametrize("jobs", [1, 2])
def test_results_come_in_the_order_asked_for_and_a_bad_case_stops_none(jobs, folders, tmp_path):
    (folders[1] / "case.toml").write_text("x = 1", encoding="utf-8")
    order = [folders[3], folders[1], folders[4], folders[0]]
    outcomes = built(order, QUICK, tmp_path / "out", jobs)
    assert [one.folder for one in outcomes] == order
    assert [one.packet is None for one in outcomes] == [False, True, False, False]
    assert str(folders[1] / "case.toml") in outcomes[1].problems[0].where
    assert {path.name for path in (tmp_path / "out").iterdir()} == {"dov", "eri", "ana"}


def test_two_processes_write_the_same_bytes_as_one(folders, tmp_path):
    """Every document of a whole case has the same bytes twice: tests/test_readme.py."""
    recipe = Recipe(enclose=("guide",), only=("cover", "letter", "guide"))
    for jobs in (1, 2):
        built(folders[:3], recipe, tmp_path / str(jobs), jobs)
    one, two = on_disk(tmp_path / "1"), on_disk(tmp_path / "2")
    assert one == two and len(one) > 20


class _Killing(Processes):
    """Processes of which the one that is given a certain case is killed."""

    def _ask(self, case):
        if case.name == "ben":
            self._start()
            self._own.process.kill()
        return super()._ask(case)


def test_a_worker_that_is_killed_costs_its_own_case_alone(folders, tmp_path):
    outcomes = built(folders, QUICK, tmp_path / "out", those=_Killing(QUICK, tmp_path / "out", 2))
    assert [one.folder.name for one in outcomes if one.packet is None] == ["ben"]
    assert "the process that worked on it ended (killed by SIGKILL)" in str(outcomes[1].problems[0])
    assert all(is_whole(tmp_path / "out" / name) for name in NAMES if name != "ben")


def test_a_fault_of_the_program_is_told_without_words_of_the_case_and_stops_none(folders, tmp_path, monkeypatch):
    def faulty(folder, payer=None):
        if folder.name == "ben":
            raise RuntimeError("Robin Example")
        return assess(folder, payer)

    monkeypatch.setattr("docgen.packet.work.assess", faulty)
    outcomes = built(folders, QUICK, tmp_path / "out", jobs=1)
    assert [one.folder.name for one in outcomes if one.packet is None] == ["ben"]
    told = str(outcomes[1].problems[0])
    assert "by a fault of docgen: RuntimeError in docgen/packet/work.py:" in told and "Robin" not in told
    with pytest.raises(RuntimeError):  # alone it is shown whole
        built(folders[1:2], QUICK, tmp_path / "out")


@pytest.fixture
def interruptible():
    """Processes started here hear SIGINT, also where a shell lets the suite, as a job in the background, ignore it."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.parametrize("jobs", ["1", "2"])
@pytest.mark.usefixtures("interruptible")
def test_an_interrupt_from_the_keyboard_leaves_whole_files_and_ends_with_130(jobs, tmp_path):
    cases, out = tmp_path / "cases", tmp_path / "out"
    source = next(f for f in DEMO_FOLDERS if f.name == "bohdan-lacroix-mbeki")
    text = (source / "case.toml").read_text(encoding="utf-8")
    for at in range(8):
        folder = cases / f"case-{at}"
        folder.mkdir(parents=True)
        (folder / "case.toml").write_text(
            text.replace(f'id = "{source.name}"', f'id = "{folder.name}"', 1), encoding="utf-8"
        )
        (folder / "trial.csv").write_bytes((source / "trial.csv").read_bytes())
    command = [
        sys.executable,
        "-m",
        "docgen",
        "build",
        str(cases),
        "--out",
        str(out),
        "--jobs",
        jobs,
        "--formats",
        "pdf",
        "--only",
        "letter,guide,plan",
    ]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as child:
        while child.poll() is None and not (out / "case-0" / "manifest.json").exists():
            time.sleep(0.005)
        os.killpg(child.pid, signal.SIGINT)  # as a terminal does: to everyone at once
        _, err = child.communicate(timeout=60)
    assert child.returncode == 130
    assert err.startswith("Stopped after ") and err.count("\n") == 1
    assert is_whole(out / "case-0") and len(list(out.iterdir())) < 8
    with pytest.raises(ProcessLookupError):  # nobody is left
        for _ in range(100):
            os.killpg(child.pid, 0)
            time.sleep(0.05)


def test_what_has_not_changed_is_left_alone_and_said_to_be(folders, tmp_path):
    words = (
        "build",
        tmp_path / "cases",
        "--out",
        tmp_path / "out",
        "--formats",
        "html",
        "--only",
        "guide",
        "--jobs",
        "1",
    )
    first = run(*words)
    before = {path: path.stat().st_mtime_ns for path in (tmp_path / "out").rglob("*")}
    second = run(*words)
    assert {path: path.stat().st_mtime_ns for path in (tmp_path / "out").rglob("*")} == before
    assert second == (first[0], first[1].replace(": 1 files", ": unchanged, 1 files"), "")
    forced = run(*words, "--force")
    assert forced == first
    after = {path: path.stat().st_mtime_ns for path in (tmp_path / "out").rglob("*") if path.is_file()}
    assert all(before[path] != stamp for path, stamp in after.items())


def _lose(path):
    path.unlink()


@pytest.mark.parametrize(
    "name, change",
    [
        (
            "cases/ana/case.toml",
            lambda p: p.write_text(p.read_text(encoding="utf-8").replace("Robin", "Robyn"), encoding="utf-8"),
        ),
        ("cases/ana/trial.csv", lambda p: p.write_text(SMALL_ROWS + "2026-03-04,pads,door,1\n", encoding="utf-8")),
        ("cases/ana/sessions.csv", lambda p: p.write_text("date,task\n", encoding="utf-8")),
        ("out/ana/guide.html", _lose),
        ("out/ana/guide.html", lambda p: p.write_text("mine", encoding="utf-8")),
        ("out/ana/manifest.json", _lose),
        ("out/ana/manifest.json", lambda p: p.write_text("[]", encoding="utf-8")),
        ("out/ana/.building", lambda p: p.mkdir()),
    ],
    ids=[
        "the case",
        "its rows",
        "a file more",
        "a page lost",
        "a page changed by hand",
        "no manifest",
        "another manifest",
        "a build cut short",
    ],
)
def test_any_change_of_a_case_or_of_its_packet_is_built_anew(name, change, folders, tmp_path):
    built(folders[:2], QUICK, tmp_path / "out")
    change(tmp_path / name)
    again = built(folders[:2], QUICK, tmp_path / "out")
    assert [bool(one.packet and one.packet.unchanged) for one in again] == [False, True]
    assert (
        all(one.packet and one.packet.unchanged for one in built(folders[:2], QUICK, tmp_path / "out"))
        or "sessions" in name
    )


@pytest.mark.parametrize(
    "change",
    [
        {"formats": ("html", "docx")},
        {"only": ("guide", "letter")},
        {"langs": ("es",)},
        {"enclose": ("guide",)},
        {"program": "another"},
    ],
    ids=lambda c: next(iter(c)),
)
def test_another_option_or_program_is_another_packet(change, folders, tmp_path):
    first, other = QUICK, replace(QUICK, **change)
    case = contents(folders[0])
    assert first.made_from(case) == replace(QUICK).made_from(case) != other.made_from(case)


def test_the_clinics_own_files_and_rules_are_part_of_what_a_packet_is_made_from(folders, tmp_path):
    case, made = contents(folders[0]), {QUICK.made_from(contents(folders[0]))}
    for n in range(2):
        (tmp_path / "own").mkdir(exist_ok=True)
        (tmp_path / "own" / "letterhead.toml").write_text(f'name = "Clinic {n}"\n', encoding="utf-8")
        made.add(replace(QUICK, letterhead=contents(tmp_path / "own")).made_from(case))
        made.add(replace(QUICK, templates=contents(tmp_path / "own")).made_from(case))
    payer = load("general", "")
    made.add(replace(QUICK, payer=payer).made_from(case))
    made.add(replace(QUICK, payer=payer.model_copy(update={"requirements": payer.requirements[1:]})).made_from(case))
    assert len(made) == 7


def test_a_copy_about_nobody_keeps_nothing_that_leads_back_and_is_made_anew(folders, tmp_path):
    recipe = replace(QUICK, deidentified=True)
    for _ in range(2):
        outcomes = built(folders[:2], recipe, tmp_path / "out", jobs=2)
        assert all(one.packet and not one.packet.unchanged for one in outcomes)
    copies = list((tmp_path / "out").iterdir())
    assert len(copies) == 4
    assert all("last_build" not in json.loads((copy / "manifest.json").read_text(encoding="utf-8")) for copy in copies)
    with pytest.raises(Exception, match="on this machine alone"):
        workers(recipe, tmp_path / "out", 2, cluster="tcp://127.0.0.1:1")


def test_a_page_changed_by_hand_in_an_unchanged_packet_is_kept_and_told_every_time(tmp_path, case_folder):
    recipe, folder, out = Recipe(formats=("docx",), only=("letter",)), case_folder(), tmp_path / "out"
    built([folder], recipe, out)
    letter = out / "small" / "letter.docx"
    ours = letter.read_bytes()
    document = docx.Document(letter)
    document.add_paragraph("He likes the radio on.")
    document.save(letter)
    mine = letter.read_bytes()
    for at in range(3):
        (outcome,) = built([folder], recipe, out)
        assert bool(outcome.packet.unchanged) == (at > 0)  # the new page is written beside it once
        assert (outcome.packet.kept, outcome.packet.written) == (["letter.docx"], ["letter.new.docx"])
        assert letter.read_bytes() == mine and letter.with_name("letter.new.docx").read_bytes() == ours
    letter.write_bytes(ours)  # thought better of: it is ours again and is written in its own place
    (outcome,) = built([folder], recipe, out)
    assert (outcome.packet.kept, outcome.packet.unchanged) == ([], "")
    letter.write_bytes(mine)
    built([folder], recipe, out)
    (folder / "trial.csv").write_text(SMALL_ROWS + "2026-03-04,pads,door,1\n", encoding="utf-8")
    (outcome,) = built([folder], recipe, out)
    assert (outcome.packet.kept, outcome.packet.written) == ([], ["letter.docx"])
    assert outcome.packet.set_aside == {"letter.docx": "letter.outdated.docx"}
    assert letter.with_name("letter.outdated.docx").read_bytes() == mine
    assert {path.name for path in letter.parent.iterdir()} == {"letter.docx", "letter.outdated.docx", "manifest.json"}


def test_an_approval_is_part_of_what_a_packet_is_made_from_and_its_state_is_remembered(demo, tmp_path):
    folder = demo("ilmari-okonjo-vale")
    built([folder], QUICK, tmp_path / "out")
    approve(assess(folder), "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 11, 20), wording())
    states = [built([folder], QUICK, tmp_path / "out")[0].packet for _ in range(2)]
    assert [bool(one.unchanged) for one in states] == [False, True]
    assert states[0].state == states[1].state == "reviewed by Perpetua Lindqvist-Amadi, OTR/L on 2026-11-20"


def test_a_case_changed_while_it_is_worked_on_is_not_taken_for_the_one_that_was_read(folders, tmp_path):
    case = contents(folders[0])
    (folders[0] / "trial.csv").write_text(SMALL_ROWS + "2026-03-04,pads,door,1\n", encoding="utf-8")
    assert here(QUICK).make(case, tmp_path / "out").made_from == ""


def test_work_elsewhere_needs_no_disk_in_common_and_leaves_nothing_of_the_case(folders, tmp_path, monkeypatch):
    own, recipe = tmp_path / "own", replace(QUICK, formats=("html", "docx"))
    own.mkdir()
    (own / "words.toml").write_text('no_value = "none"\n', encoding="utf-8")
    recipe = replace(recipe, templates=contents(own))
    case, expected = contents(folders[0]), here(recipe).make(contents(folders[0]), tmp_path / "out")
    bad = replace(contents(folders[1]), files={**contents(folders[1]).files, "case.toml": b"x = 1"})
    for path in (folders[0] / "case.toml", folders[0] / "trial.csv", own / "words.toml"):
        path.unlink()
    (tmp_path / "there").mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "there"))
    monkeypatch.setattr(docgen.packet.work, "_ELSEWHERE", {})
    assert attempt_elsewhere(recipe, case, tmp_path / "out") == expected
    problem = attempt_elsewhere(recipe, bad, tmp_path / "out").problems[0]
    assert problem.where == f"{folders[1] / 'case.toml'}:1" and "there/" not in str(problem)
    left = {path.name for path in (tmp_path / "there").rglob("*") if path.is_file()}
    assert left == {"words.toml", ".docgen-at-work"}  # the clinic's own, and the lock that keeps it
    docgen.packet.work._forget()
    assert list((tmp_path / "there").iterdir()) == []
    other = attempt_elsewhere(replace(recipe, program="another"), case, tmp_path / "out")
    assert "a worker has another docgen than this machine" in str(other.problems[0])


def test_what_is_no_plain_file_is_laid_out_as_what_it_was(folders, tmp_path):
    case, elsewhere = folders[0], tmp_path / "elsewhere"
    (tmp_path / "secret.csv").write_text(SMALL_ROWS, encoding="utf-8")
    (case / "trial.csv").unlink()
    (case / "trial.csv").symlink_to(tmp_path / "secret.csv")
    told = [str(one) for one in here(QUICK).attempt(contents(case), tmp_path / "out").problems]
    laid = [str(one) for one in attempt_elsewhere(QUICK, contents(case), tmp_path / "out").problems]
    assert laid == told and "leads out of the case folder" in told[0]
    (case / "trial.csv").unlink()
    with (case / "trial.csv").open("wb") as stream:
        stream.truncate(30_000_000)
    copy = contents(case).lay_out(elsewhere)
    assert contents(case).files.keys() == {"case.toml"} and (copy / "trial.csv").stat().st_size == 30_000_000
    (case / "trial.csv").unlink()
    os.mkfifo(case / "trial.csv")
    assert contents(case).left == {"trial.csv": "special"}


def test_the_processes_end_when_nobody_asks_for_the_rest(folders, tmp_path):
    those = Processes(QUICK, tmp_path / "out", 2)
    with closing(build_many(folders, QUICK, tmp_path / "out", those)) as outcomes:
        assert next(outcomes).packet is not None
    assert those._processes and not any(process.is_alive() for process in those._processes)


@pytest.mark.parametrize(
    "n_cases, jobs, kind", [(1, 0, Alone), (3, 0, Alone), (1, 8, Alone), (3, 2, Processes), (9, 1, Alone)]
)
def test_a_few_cases_start_no_process_unless_asked_to(n_cases, jobs, kind, tmp_path):
    with workers(QUICK, Path("out"), n_cases, jobs) as those:
        assert type(those) is kind
        assert getattr(those, "_processes", []) == []  # nor does any, before there is something to do


def test_a_folder_that_cannot_be_listed_is_never_called_unchanged(folders, tmp_path, monkeypatch):
    """It may be opened by name, as with the rights of a passage alone."""
    scan = os.scandir

    def locked(path=".", *rest):
        if Path(path) == folders[0]:
            raise PermissionError(13, "Permission denied", str(path))
        return scan(path, *rest)

    monkeypatch.setattr(os, "scandir", locked)
    out = tmp_path / "out"
    built(folders[:1], QUICK, out)
    text = (folders[0] / "case.toml").read_text(encoding="utf-8")
    (folders[0] / "case.toml").write_text(text.replace("Robin Example", "Robin Sample"), encoding="utf-8")
    (outcome,) = built(folders[:1], QUICK, out)
    assert outcome.packet and not outcome.packet.unchanged
    assert "Robin Sample" in (out / folders[0].name / "guide.html").read_text(encoding="utf-8")
