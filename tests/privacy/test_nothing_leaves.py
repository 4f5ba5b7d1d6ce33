"""Nothing leaves the machine, nothing is written but the packet, and no file tells whose machine made it.

What the interpreter itself reports (PEP 578, audit events) is watched from outside of the program.
"""

from __future__ import annotations

import getpass
import json
import os
import shutil
import socket
import subprocess
import sys

import pytest
from outputs import everything_said, plain
from typer.testing import CliRunner

from docgen.cli import app
from docgen.resources import folder

_WATCHED = """
import json, os, sys
seen, written = [], set()
def watch(event, args):
    modules = ("socket", "urllib", "http", "ftplib", "smtplib", "ssl", "webbrowser", "subprocess")
    if event.split(".")[0] in modules or event in ("os.system", "os.exec", "os.posix_spawn", "os.fork"):
        seen.append(event)
        raise RuntimeError(f"{event} is barred")
    flags = os.O_WRONLY | os.O_RDWR | os.O_CREAT
    if event == "open" and isinstance(args[0], str) and (args[2] or 0) & flags:
        written.add(os.path.realpath(args[0]))
sys.dont_write_bytecode = True
sys.addaudithook(watch)
from docgen.cli import app
reports = []
for words in json.loads(sys.argv[2]):
    status = 0
    try:
        app(words, standalone_mode=False)
    except SystemExit as end:
        status = end.code
    except BaseException as failure:
        status = getattr(failure, "exit_code", repr(failure))
    reports.append({"status": status, "seen": [*seen], "written": sorted(written)})
    seen.clear(), written.clear()
with os.fdopen(3, "w") as report:
    json.dump(reports, report)
"""


def watched(inside, *commands, script=_WATCHED):
    """Commands one after another in a process of their own: the status of each, what it tried outside, which files it
    opened to write."""
    read, write = os.pipe()
    words = json.dumps([[str(word) for word in command] for command in commands])
    process = [sys.executable, "-c", f"import os\nos.dup2({write}, 3)\n{script}", "docgen", words]
    done = subprocess.run(process, capture_output=True, text=True, pass_fds=[write], cwd=inside)
    os.close(write)
    with os.fdopen(read) as report:
        told = report.read()
    assert told, done.stderr[-2000:]
    return [report | {"output": done.stdout + done.stderr} for report in json.loads(told)]


COMMANDS = [("check",), ("evidence",), ("fit",), ("build",), ("build", "--deidentified", "--only", "guide,plan")]


@pytest.fixture(scope="module")
def reports(tmp_path_factory):
    """Command -> what was seen of it, and the folder it was to write to. One process: most of its time is its start."""
    base = tmp_path_factory.mktemp("watched")
    source = shutil.copytree(folder("cases") / "saoirse-villalobos-ng", base / "cases" / "saoirse-villalobos-ng")
    outs = [base / f"out{at}" for at in range(len(COMMANDS))]
    told = watched(
        base,
        *(
            (words[0], source, *words[1:], *(("--out", out) if words[0] == "build" else ()))
            for words, out in zip(COMMANDS, outs, strict=True)
        ),
    )
    return dict(zip(COMMANDS, zip(told, outs, strict=True), strict=True))


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_no_command_opens_a_connection_or_starts_a_program(words, reports):
    told, out = reports[words]
    assert (told["status"], told["seen"]) == (0, []), told["output"][-1500:]
    outside = [path for path in told["written"] if not path.startswith(str(out.resolve())) and path != os.devnull]
    assert not outside and bool(told["written"]) == (words[0] == "build")


def test_a_new_case_opens_no_connection(tmp_path):
    (told,) = watched(tmp_path, ("new", tmp_path / "robin-example", "--example"))
    assert (told["status"], told["seen"]) == (0, []) and told["written"]


def test_the_watch_sees_a_connection(tmp_path):
    """The check can fail: a program that connects is caught by it."""
    (told,) = watched(
        tmp_path,
        ("check",),
        script=_WATCHED.replace(
            "from docgen.cli import app",
            "def app(*rest, **named):\n    import socket; socket.create_connection(('127.0.0.1', 9))",
        ),
    )
    assert told["seen"] and "barred" in str(told["status"])


@pytest.mark.parametrize("extra", [(), ("--deidentified", "--formats", "html")], ids=["packet", "copy"])
def test_no_file_tells_the_user_the_machine_or_a_path(extra, demo, tmp_path, monkeypatch):
    for name in ("USER", "LOGNAME", "USERNAME"):
        monkeypatch.setenv(name, "zq-user-marker")
    monkeypatch.setenv("HOME", "/zq-home-marker")
    monkeypatch.setattr(socket, "gethostname", lambda: "zq-host-marker")
    monkeypatch.setattr(os, "getcwd", lambda: "/zq-cwd-marker")
    assert getpass.getuser() == "zq-user-marker"
    source = demo("saoirse-villalobos-ng")
    done = CliRunner().invoke(app, ["build", str(source), "--out", str(tmp_path / "zq-out-marker"), *extra])
    assert done.exit_code == 0, done.output
    found = {name: plain(text) for name, text in everything_said(tmp_path / "zq-out-marker").items()}
    traces = ("zq-", str(tmp_path), "/tmp/", "/home/", "/root/", "/usr/", "site-packages", ".venv", os.uname().nodename)
    assert len(found) > (10 if extra else 20)
    assert not [(name, trace) for name, text in found.items() for trace in traces if plain(trace) in text]


def test_the_search_finds_a_path_in_metadata(tmp_path):
    import docx

    document = docx.Document()
    document.core_properties.last_modified_by = "zq-user-marker"
    document.save(tmp_path / "one.docx")
    assert "zq-user-marker" in plain(everything_said(tmp_path)["one.docx"])
