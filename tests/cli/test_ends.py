"""However a command ends, it ends in one sentence and a status of its own: 1 speaks of a case alone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from support import SMALL, run

import docgen
import docgen.__main__ as command

NEEDS_FULL = pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")


def _leaves(monkeypatch, capsys, failure: BaseException) -> tuple[int, str]:
    def fails():
        raise failure

    monkeypatch.setattr("docgen.cli.program", lambda words: fails)
    monkeypatch.setattr(command, "_let_go", lambda stream: None)
    with pytest.raises(SystemExit) as end:
        command.main()
    return end.value.code, capsys.readouterr().err


@NEEDS_FULL
@pytest.mark.parametrize("words", [["check", "cases"], ["schema"], ["--help"]], ids=" ".join)
def test_a_full_disk_under_the_output_is_told_and_is_no_gap_of_a_case(words):
    here = Path(__file__).parents[2]
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "docgen", *words], stdout=full, stderr=subprocess.PIPE, text=True, cwd=here
        )
    assert done.returncode == 2
    assert done.stderr == "standard output: cannot be used: No space left on device. Choose another place.\n"


@NEEDS_FULL
def test_where_nothing_can_be_told_the_status_still_is():
    with open("/dev/full", "w") as full:
        done = subprocess.run([sys.executable, "-m", "docgen", "schema"], stdout=full, stderr=full)
    assert done.returncode == 2


def test_a_reader_that_has_gone_is_no_gap_of_a_case():
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run([sys.executable, "-m", "docgen", "schema"], stdout=write, stderr=subprocess.PIPE, text=True)
    os.close(write)
    assert (done.returncode, done.stderr) == (2, "")


@pytest.mark.parametrize(
    "failure",
    [KeyError("Robin Example"), RecursionError("Robin"), MemoryError(), ValueError("Robin"), OSError("Robin")],
)
def test_a_fault_is_one_sentence_without_words_of_the_case(failure, monkeypatch, capsys):
    status, told = _leaves(monkeypatch, capsys, failure)
    assert status == 2 and told.count("\n") == 1
    assert told.startswith(f"docgen: stopped by a fault of its own: {type(failure).__name__} in docgen/__main__.py:")
    assert "Robin" not in told


@pytest.mark.parametrize("status", [0, 1, 2, 130])
def test_the_status_of_a_command_is_kept(status, monkeypatch, capsys):
    assert _leaves(monkeypatch, capsys, SystemExit(status)) == (status, "")


_WITH_A_THREAD = """
import sys, threading, time, docgen.__main__ as command
def still_writes():
    time.sleep(0.3)
    print("written", flush=True)
def ends():
    threading.Thread(target=still_writes).start()
    raise SystemExit(3)
command.main = ends
command.run()
"""


def test_what_a_thread_still_does_is_done_before_the_process_ends():
    done = subprocess.run([sys.executable, "-c", _WITH_A_THREAD], capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (3, "written\n")


def test_a_process_of_its_own_says_all_and_is_not_taken_apart():
    code = "import atexit, docgen.__main__ as command; atexit.register(print, 'apart'); command.run()"
    done = subprocess.run([sys.executable, "-c", code, "--version"], capture_output=True, text=True)
    assert (done.returncode, done.stdout) == (0, f"docgen {docgen.__version__}\n")


LONG = ["a" * 256, "a" * 3650, "/".join(["e" * 200] * 25)]  # longer than a name, and than a path, may be anywhere


@pytest.mark.parametrize("name", LONG, ids=len)
@pytest.mark.parametrize(
    "words",
    [
        ["check", "{}"],
        ["check", "{}/case.toml"],
        ["build", "{}"],
        ["approve", "{}", "--by", "Ada Sample, PT"],
        ["new", "{}"],
        ["new", "{}/robin"],
        ["new", "--templates", "{}"],
        ["check", "small", "--templates", "{}"],
        ["check", "small", "--payer", "{}.toml"],
        ["build", "small", "--letterhead", "{}"],
        ["build", "small", "--only", "order", "--formats", "html", "--out", "{}"],
    ],
    ids=" ".join,
)
def test_a_name_that_no_system_takes_is_told_in_one_sentence(words, name, case_folder, monkeypatch):
    monkeypatch.chdir(case_folder(SMALL).parent)
    status, _, err = run(*(word.format(name) for word in words))
    assert status == 2 and err.count("\n") == 1


def test_a_folder_so_deep_that_nothing_in_it_can_be_named_is_told(tmp_path, monkeypatch):
    def too_long(*_):
        raise OSError(36, "File name too long")

    monkeypatch.setattr(Path, "glob", too_long)
    status, out, err = run("check", tmp_path)
    assert (status, out, err) == (2, "", f"{tmp_path}: cannot be looked through: File name too long.\n")
