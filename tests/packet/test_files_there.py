"""Every file of a packet is in its manifest and its owner's alone; what is no file of ours in the folder stays."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import socket

import pytest
from written_packets import CASE, files_of, on_disk

from docgen.errors import UserError
from docgen.packet.recipe import Selection
from docgen.packet.write import build


def test_every_file_is_readable_by_its_owner_alone(builds, tmp_path):
    builds(1)
    folder = tmp_path / CASE.name
    assert {oct(path.stat().st_mode & 0o777) for path in folder.iterdir()} == {"0o600"}
    assert folder.stat().st_mode & 0o077 == 0


def test_the_manifest_holds_every_file_that_is_there_and_survives_a_smaller_build(assessed, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("html",)))
    build(assessed, tmp_path, Selection(("html",), ("guide",)))
    (folder / "plan.html").unlink()
    build(assessed, tmp_path, Selection(("html",), ("letter",)))
    entries = {
        e["name"]: e["sha256"] for e in json.loads((folder / "manifest.json").read_text(encoding="utf-8"))["files"]
    }
    assert entries == {name: hashlib.sha256(data).hexdigest() for name, data in on_disk(folder).items()}


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        '{"files": 3}',
        '{"files": [{"name": "../../x", "sha256": "0"}]}',
        '{"format": "docgen manifest 1", "case": "x", "verdict": "", "files": [{"name": "../../x", "sha256": "0"}]}',
        '{"format": "docgen manifest 2", "case": "x", "verdict": "", "files": [], "set_aside": 3}',
        "[" * 100_000,
        '{"a":' * 100_000,
    ],
    ids=range(9),
)
def test_a_broken_manifest_makes_no_file_ours(text, builds, tmp_path):
    builds(1)
    folder = tmp_path / CASE.name
    (folder / "manifest.json").write_text(text, encoding="utf-8")
    assert set(builds(2).kept) == set(files_of(1))
    assert all((folder / name).read_bytes() == data for name, data in files_of(1).items())


def test_a_link_in_place_of_a_file_is_not_written_through(builds, tmp_path):
    builds(1)
    folder, elsewhere = tmp_path / CASE.name, tmp_path / "elsewhere.pdf"
    shutil.copy(folder / "letter.pdf", elsewhere)
    (folder / "letter.pdf").unlink()
    (folder / "letter.pdf").symlink_to(elsewhere)
    builds(2)
    assert elsewhere.read_bytes() == files_of(1)["letter.pdf"]
    assert (folder / "letter.pdf").read_bytes() == files_of(2)["letter.pdf"]


def _socket(path):
    with contextlib.chdir(path.parent), socket.socket(socket.AF_UNIX) as one:
        one.bind(path.name)  # its whole path can be longer than the hundred characters that a socket takes


NO_FILES = {
    "a pipe": os.mkfifo,
    "a folder": os.mkdir,
    "a link to nothing": lambda path: os.symlink("nowhere", path),
    "a link to itself": lambda path: os.symlink(path.name, path),
    "a socket": _socket,
}


@pytest.mark.parametrize("kind", NO_FILES)
@pytest.mark.parametrize("name", ["letter.pdf", "letter.new.pdf", "manifest.json"])
def test_what_is_no_file_in_the_folder_hangs_nothing_and_stays(kind, name, builds, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    builds(1)
    folder = tmp_path / CASE.name
    (folder / "letter.pdf").write_bytes(b"mine")
    (folder / name).unlink(missing_ok=True)
    NO_FILES[kind](folder / name)
    before = os.lstat(folder / name)
    if name == "manifest.json" and kind == "a folder":
        with pytest.raises(UserError, match="cannot be written"):
            builds(2)
        return
    packet = builds(2)
    assert name == "manifest.json" or (os.lstat(folder / name).st_ino == before.st_ino and name in packet.kept)
    assert (folder / packet.written[-1]).read_bytes() in files_of(2).values()


@pytest.mark.parametrize("kind", ["a link", "a link to nothing", "a pipe", "a file"])
def test_a_false_place_to_work_in_is_refused_and_nothing_goes_through_it(kind, builds, tmp_path):
    builds(1)
    folder, elsewhere = tmp_path / CASE.name, tmp_path / "elsewhere"
    elsewhere.mkdir()
    make = {"a link": lambda p: p.symlink_to(elsewhere), "a file": lambda p: p.write_bytes(b"mine")} | NO_FILES
    make[kind](folder / ".building")
    before = on_disk(folder)
    with pytest.raises(UserError, match=r"\.building: is (a link|no folder)"):
        builds(2)
    assert on_disk(folder) == before and list(elsewhere.iterdir()) == []
