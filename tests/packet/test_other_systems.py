"""Writing, locking, interrupts and paths where a system lacks what POSIX has, or forbids what POSIX allows.

A stand-in for Windows, on which nothing of this was run: the names that only POSIX has are taken away, and a file that
another program holds open refuses to be renamed, replaced or removed (as CreateFile without FILE_SHARE_DELETE has it,
from memory).
"""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from support import DEMO_FOLDERS, run

from docgen.commands.statuses import STOPPED
from docgen.packet.assess import assess
from docgen.packet.many import outcome_lines
from docgen.packet.recipe import Selection
from docgen.packet.work import Worker
from docgen.packet.write import Outcome, build

CASE = next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale")
_ONLY_POSIX = {  # but for SIGKILL, which multiprocessing itself uses here
    os: ("sched_getaffinity", "fchmod", "getuid", "geteuid", "O_NOFOLLOW", "O_NONBLOCK", "O_DIRECTORY", "mkfifo"),
    signal: ("pthread_sigmask", "SIGHUP", "SIGUSR1", "alarm", "setitimer"),
}
_HIDE = f"""
import os, signal, sys
for module, names in ((os, {_ONLY_POSIX[os]}), (signal, {_ONLY_POSIX[signal]})):
    for name in names:
        delattr(module, name)
sys.modules.update(dict.fromkeys(("fcntl", "pwd", "grp", "resource", "termios")))
"""
_ONE_AFTER_ANOTHER = """
import contextlib, io, json, sys
from docgen.__main__ import main
told = []
if __name__ == "__main__":
    for words in json.loads(sys.argv[1]):
        sys.argv, out, err = ["docgen", *words], io.StringIO(), io.StringIO()
        try:
            with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
                main()
            status = 0
        except SystemExit as end:
            status = end.code
        told.append((words[0], status, out.getvalue(), err.getvalue()))
    print(json.dumps(told))
"""


@pytest.fixture
def no_posix(monkeypatch):
    """This process without the names that only POSIX has."""
    for module, names in _ONLY_POSIX.items():
        for name in names:
            monkeypatch.delattr(module, name)
    monkeypatch.setitem(sys.modules, "fcntl", None)
    monkeypatch.setattr("docgen.packet.scratch.fcntl", None)


def test_every_command_that_writes_does_so_without_what_only_posix_has(tmp_path):
    """In a process of its own, and in those that it starts, which are told the same before anything else."""
    (tmp_path / "sitecustomize.py").write_text(_HIDE, encoding="utf-8")
    commands = (
        ["new", "robin-example", "--example"],
        ["new", "robin-sample", "--example"],
        ["new", "--templates", "own"],
        ["approve", "robin-example", "--by", "Perpetua Lindqvist-Amadi, OTR/L", "--on", "2026-03-20"],
        ["build", "robin-example", "robin-sample", "--only", "guide", "--formats", "html", "--jobs", "2"],
        ["build", "robin-example", "--only", "guide", "--formats", "html", "--deidentified"],
        ["forget", "robin-example", "--yes"],
    )
    path = os.pathsep.join([str(tmp_path), str(Path(__file__).parents[2])])
    done = subprocess.run(
        [sys.executable, "-c", _ONE_AFTER_ANOTHER, json.dumps(commands)],
        capture_output=True,
        text=True,
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": path},
    )
    assert done.returncode == 0 and "Traceback" not in done.stderr, done.stderr
    ended = json.loads(done.stdout)
    assert [name for name, *_ in ended] == [name for name, *_ in commands]
    assert [(name, err) for name, status, _, err in ended if status not in (0, 1) or "Traceback" in err] == []
    assert "Removed" in ended[-1][2]
    assert (tmp_path / "robin-example" / "clipboard.pdf").read_bytes().startswith(b"%PDF")
    copy, kept = sorted(os.listdir(tmp_path / "out"))
    assert re.fullmatch(r"deidentified-\d{4}", copy) and kept == "robin-sample"


def test_an_interrupt_is_told_without_what_only_posix_has(no_posix, tmp_path, monkeypatch):
    def interrupted(*rest):
        raise KeyboardInterrupt

    monkeypatch.setattr(Worker, "make", interrupted)
    status, _, told = run("build", CASE, "--out", tmp_path / "out")
    assert status == STOPPED and "Every file written is whole" in told


@pytest.fixture
def opened(monkeypatch):
    """Hold a file open as another program would: returns what holds it and what lets it go."""
    in_use: set[Path] = set()

    def refusing(change):
        def changed(path, *rest, **named):
            if wrong := [p for p in (path, *rest) if isinstance(p, (str, os.PathLike)) and Path(p) in in_use]:
                raise PermissionError(13, "Permission denied", str(path), None, str(wrong[0]))
            return change(path, *rest, **named)

        return changed

    for name in ("rename", "replace", "unlink", "remove"):
        monkeypatch.setattr(os, name, refusing(getattr(os, name)))
    return in_use


def _lines(packet):
    return [*outcome_lines(Outcome(CASE, packet))]


def test_a_file_held_open_is_left_and_the_new_one_stands_beside_it(opened, demo, tmp_path):
    folder = demo(CASE.name)
    first = build(assess(folder), tmp_path / "out", Selection(("html",), ("guide", "letter")))
    letter, guide = first.folder / "letter.html", first.folder / "guide.html"
    before = letter.read_bytes()
    text = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(text.replace("Ilmari Okonjo-Vale", "Ilmo Okonjo-Vale"), encoding="utf-8")

    opened.add(letter)
    packet = build(assess(folder), tmp_path / "out", Selection(("html",), ("guide", "letter")))
    assert letter.read_bytes() == before and b"Ilmo" in guide.read_bytes()
    assert b"Ilmo" in (packet.folder / "letter.new.html").read_bytes() and "letter.new.html" in packet.written
    assert "  letter.html is open in another program and is left as it was; close it there and build again" in _lines(
        packet
    )

    opened.clear()
    packet = build(assess(folder), tmp_path / "out", Selection(("html",), ("guide", "letter")))
    assert b"Ilmo" in letter.read_bytes() and packet.in_use == []


def test_a_page_held_open_that_the_case_no_longer_makes_stays_until_it_is_let_go(opened, demo, tmp_path):
    folder = demo(CASE.name)
    first = build(assess(folder), tmp_path / "out", Selection(("html",), ("guide", "letter")))
    text = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(text.replace("Ilmari Okonjo-Vale", "Ilmo Okonjo-Vale"), encoding="utf-8")
    opened.add(first.folder / "letter.html")
    assert build(assess(folder), tmp_path / "out", Selection(("html",), ("guide",))).in_use == ["letter.html"]
    opened.clear()
    assert build(assess(folder), tmp_path / "out", Selection(("html",), ("guide",))).removed == ["letter.html"]
    assert not (first.folder / "letter.html").exists()


def test_a_file_that_is_opened_while_a_build_moves_its_pages_is_told(opened, demo, tmp_path, monkeypatch):
    folder = demo(CASE.name)
    monkeypatch.setattr("docgen.packet.write.is_held", lambda path: False)
    build(assess(folder), tmp_path / "out", Selection(("html",), ("guide",)))
    opened.add(tmp_path / "out" / CASE.name / "guide.html")
    status, _, told = run("build", folder, "--out", tmp_path / "out", "--only", "guide", "--formats", "html", "--force")
    assert status == 2 and told.strip() == (
        f"{tmp_path / 'out' / CASE.name / 'guide.html'}: cannot be written: Permission denied. "
        "Close it where it is open, or choose another folder with --out."
    )


def test_where_file_modes_protect_nothing_a_build_says_so(demo, tmp_path, monkeypatch):
    told = "  whoever may open this folder can read these files: its disk keeps no file modes"
    assert told not in _lines(build(assess(CASE), tmp_path / "kept", Selection(("html",), ("guide",))))
    change = os.fchmod
    monkeypatch.setattr(os, "fchmod", lambda descriptor, mode: change(descriptor, 0o666))  # as such a disk shows it
    assert told in _lines(build(assess(CASE), tmp_path / "open", Selection(("html",), ("guide",))))
