"""Nothing leaves the machine, nothing is written but the packet, and no file tells whose machine made it.

What the interpreter itself reports (PEP 578, audit events) is watched from outside of the program.
"""

from __future__ import annotations

import getpass
import json
import os
import socket
import subprocess
import sys

import pytest
from outputs import everything_said, plain
from typer.testing import CliRunner

from docgen.cli import app

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
status = 0
try:
    app(sys.argv[2:], standalone_mode=False)
except SystemExit as end:
    status = end.code
except BaseException as failure:
    status = getattr(failure, "exit_code", repr(failure))
with os.fdopen(3, "w") as report:
    json.dump({"status": status, "seen": seen, "written": sorted(written)}, report)
"""


def watched(tmp_path, *words, script=_WATCHED):
    """The command in a process of its own: its status, what it tried outside, which files it opened to write."""
    read, write = os.pipe()
    command = [sys.executable, "-c", f"import os\nos.dup2({write}, 3)\n{script}", "docgen", *map(str, words)]
    done = subprocess.run(command, capture_output=True, text=True, pass_fds=[write], cwd=tmp_path)
    os.close(write)
    with os.fdopen(read) as report:
        told = report.read()
    assert told, done.stderr[-2000:]
    return json.loads(told) | {"output": done.stdout + done.stderr}


@pytest.mark.parametrize(
    "words",
    [("build",), ("build", "--deidentified", "--only", "guide,plan"), ("check",), ("evidence",), ("fit",)],
    ids=" ".join,
)
def test_no_command_opens_a_connection_or_starts_a_program(words, demo, tmp_path):
    source, out = demo("saoirse-villalobos-ng"), tmp_path / "out"
    more = ("--out", out) if words[0] == "build" else ()
    told = watched(tmp_path, words[0], source, *words[1:], *more)
    assert (told["status"], told["seen"]) == (0, []), told["output"][-1500:]
    outside = [path for path in told["written"] if not path.startswith(str(out.resolve())) and path != os.devnull]
    assert not outside and bool(told["written"]) == (words[0] == "build")


def test_a_new_case_opens_no_connection(tmp_path):
    told = watched(tmp_path, "new", tmp_path / "robin-example", "--example")
    assert (told["status"], told["seen"]) == (0, []) and told["written"]


def test_the_watch_sees_a_connection(tmp_path):
    """The check can fail: a program that connects is caught by it."""
    told = watched(
        tmp_path,
        "check",
        script=_WATCHED.replace(
            "from docgen.cli import app",
            "def app(*rest, **named):\n    import socket; socket.create_connection(('127.0.0.1', 9))",
        ),
    )
    assert told["seen"] and "barred" in str(told["status"])


@pytest.mark.parametrize("extra", [(), ("--deidentified",)], ids=["packet", "copy"])
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
    assert len(found) > 20
    assert not [(name, trace) for name, text in found.items() for trace in traces if plain(trace) in text]


def test_the_search_finds_a_path_in_metadata(tmp_path):
    import docx

    document = docx.Document()
    document.core_properties.last_modified_by = "zq-user-marker"
    document.save(tmp_path / "one.docx")
    assert "zq-user-marker" in plain(everything_said(tmp_path)["one.docx"])
