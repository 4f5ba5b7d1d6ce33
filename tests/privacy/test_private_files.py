"""Every file that a command writes is its owner's alone, and so is every folder, whatever the umask is."""

from __future__ import annotations

import os
import stat
from datetime import date

import pytest
from typer.testing import CliRunner

from docgen.cli import app
from docgen.packet.approval import approve
from docgen.packet.assess import assess
from docgen.packet.wording import wording
from docgen.private import private_folder, write_private

UMASKS = [0o000, 0o277]  # nothing is taken away; nearly everything is


@pytest.fixture(params=UMASKS, ids=oct)
def umask(request):
    before = os.umask(request.param)
    yield request.param
    os.umask(before)


def run(*words):
    done = CliRunner().invoke(app, [str(word) for word in words])
    assert done.exit_code in (0, 1), done.output
    return done


def modes(folder):
    """Kind and permissions of everything below a folder, and of the folder itself."""
    paths = [folder, *folder.rglob("*")]
    return {path: oct(stat.S_IMODE(path.stat().st_mode)) for path in paths}


def only_the_owner(folder):
    wrong = {path.name: mode for path, mode in modes(folder).items() if mode != ("0o700" if path.is_dir() else "0o600")}
    assert not wrong
    return {path.name for path in folder.rglob("*")}


def test_a_packet_with_all_its_files_is_private(umask, demo, tmp_path):
    source = demo("saoirse-villalobos-ng")
    out = tmp_path / "above" / "out"
    run("build", source, "--out", out, "--only", "cover,letter,order,plan", "--formats", "pdf,html")
    names = only_the_owner(tmp_path / "above")
    assert {"packet.pdf", "training.ics", "manifest.json", "letter.pdf", "plan.html"} <= names
    (out / source.name / "letter.html").write_text("mine", encoding="utf-8")
    (out / source.name / "letter.html").chmod(0o600)
    run("build", source, "--out", out, "--only", "letter", "--formats", "html")
    assert "letter.new.html" in only_the_owner(out)


def test_a_copy_for_teaching_is_private(umask, demo, tmp_path):
    run(
        "build",
        demo("ilmari-okonjo-vale"),
        "--deidentified",
        "--out",
        tmp_path / "out",
        "--only",
        "guide",
        "--formats",
        "docx",
    )
    assert "guide.docx" in only_the_owner(tmp_path / "out")


def test_an_approval_is_private(umask, demo):
    source = demo("ilmari-okonjo-vale")
    record, _ = approve(assess(source), "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 4, 18), wording())
    assert oct(stat.S_IMODE(record.stat().st_mode)) == "0o600"


@pytest.mark.parametrize("words", [(), ("--example",)], ids=["empty", "example"])
def test_a_new_case_with_its_recording_sheet_is_private(words, umask, tmp_path):
    run("new", tmp_path / "above" / "robin-example", *words)
    assert {"case.toml", "trial.csv", "clipboard.pdf"} <= only_the_owner(tmp_path / "above")


def test_templates_copied_out_are_private(umask, tmp_path):
    run("new", "--templates", tmp_path / "above" / "own")
    assert {"words.toml", "letter.md"} <= only_the_owner(tmp_path / "above")


def test_a_folder_that_is_there_keeps_its_permissions(tmp_path):
    tmp_path.chmod(0o755)
    private_folder(tmp_path / "one" / "two")
    assert [
        oct(stat.S_IMODE(path.stat().st_mode)) for path in (tmp_path, tmp_path / "one", tmp_path / "one" / "two")
    ] == ["0o755", "0o700", "0o700"]
    write_private(tmp_path / "one" / "file", b"")
    with pytest.raises(FileExistsError):
        private_folder(tmp_path / "one" / "file")


def test_a_file_that_anyone_could_read_is_closed_when_it_is_written_anew(tmp_path):
    file = tmp_path / "file"
    file.write_bytes(b"before")
    file.chmod(0o644)
    write_private(file, b"after")
    assert oct(stat.S_IMODE(file.stat().st_mode)) == "0o600" and file.read_bytes() == b"after"


def test_a_link_is_not_written_through(tmp_path):
    (tmp_path / "other").write_bytes(b"mine")
    (tmp_path / "link").symlink_to(tmp_path / "other")
    with pytest.raises(OSError):
        write_private(tmp_path / "link", b"after")
    assert (tmp_path / "other").read_bytes() == b"mine"
