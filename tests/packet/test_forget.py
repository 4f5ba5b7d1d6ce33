"""What a case has left is removed after it was shown, and nothing else is; where else its words may be is named."""

from __future__ import annotations

import os
import shutil

import pytest
from support import SMALL, SMALL_ROWS, run
from typer.testing import CliRunner

from docgen.cli import app


@pytest.fixture
def packet(case_folder, tmp_path):
    """A case, and its packet with a page changed by hand, one set aside and a file of someone else's."""
    case, out = case_folder(), tmp_path / "out"
    words = ("build", case, "--out", out, "--formats", "html", "--only", "guide,letter")
    run(*words)
    (out / "small" / "letter.html").write_text("mine", encoding="utf-8")
    (case / "trial.csv").write_text(SMALL_ROWS + "2026-03-04,pads,door,1\n", encoding="utf-8")
    run(*words)
    (out / "small" / "letter.html").write_text("mine again", encoding="utf-8")
    run(*words, "--force")
    (out / "small" / "prescription.pdf").write_bytes(b"theirs")
    (out / "small" / ".building").mkdir()
    return case, out


OURS = [".building", "guide.html", "letter.html", "letter.new.html", "letter.outdated.html", "manifest.json"]


def test_all_that_docgen_left_goes_once_shown_and_what_it_did_not_write_stays(packet):
    case, out = packet
    before = {path.name: path.read_bytes() for path in case.iterdir()}
    assert sorted(path.name for path in (out / "small").iterdir()) == [*OURS, "prescription.pdf"]
    status, told, _ = run("forget", case, "--out", out, "--yes")
    assert status == 0
    assert all(f"  {name}\n" in told for name in OURS)
    assert "prescription.pdf was not written by docgen and stays" in told
    assert [path.name for path in (out / "small").iterdir()] == ["prescription.pdf"]
    assert {path.name: path.read_bytes() for path in case.iterdir()} == before
    assert run("forget", case, "--out", out, "--yes")[1].startswith(f"{out / 'small'}: holds nothing of this case")


def test_what_lies_elsewhere_is_named(packet):
    case, out = packet
    told = run("forget", case, "--out", out, "--yes")[1]
    for word in ("sent", "calendars", "copies", "de-identified", "--out", "the case itself"):
        assert word in told.partition("docgen cannot reach")[2]


@pytest.mark.parametrize("answer, gone", [("y\n", True), ("n\n", False), ("", False)])
def test_nothing_goes_without_a_yes(answer, gone, packet):
    case, out = packet
    (out / "small" / "prescription.pdf").unlink()
    done = CliRunner().invoke(app, ["forget", str(case), "--out", str(out)], input=answer)
    assert done.exit_code == 0 and all(name in done.stdout for name in OURS)
    assert (out / "small").exists() != gone
    assert ("Nothing was removed." in done.stdout) != gone


def test_the_packet_of_another_case_is_not_touched(packet, tmp_path):
    _, out = packet
    other = tmp_path / "elsewhere" / "small"
    other.mkdir(parents=True)
    (other / "case.toml").write_text(SMALL, encoding="utf-8")
    before = sorted(path.name for path in (out / "small").iterdir())
    for lost in ("nothing", "manifest.json"):
        (out / "small" / lost).unlink(missing_ok=True)
        status, told, err = run("forget", other, "--out", out, "--yes")
        assert (status, told, err.count("\n")) == (2, "", 1) and "holds the packet of another case" in err
    assert sorted([*(path.name for path in (out / "small").iterdir()), "manifest.json"]) == before


def test_a_link_is_removed_and_not_followed(packet, tmp_path):
    case, out = packet
    elsewhere = tmp_path / "mine"
    elsewhere.mkdir()
    (elsewhere / "letter.docx").write_bytes(b"mine")
    os.symlink(elsewhere / "letter.docx", out / "small" / "letter.docx")
    shutil.rmtree(out / "small" / ".building")
    os.symlink(elsewhere, out / "small" / ".building")
    status, _, err = run("forget", case, "--out", out, "--yes")
    assert status == 2 and ".building: is a link" in err
    (out / "small" / ".building").unlink()
    assert run("forget", case, "--out", out, "--yes")[0] == 0
    assert (elsewhere / "letter.docx").read_bytes() == b"mine"
    assert not os.path.lexists(out / "small" / "letter.docx")


def test_a_disk_that_refuses_is_one_sentence(packet, monkeypatch):
    case, out = packet

    def refused(self, missing_ok=False):
        raise OSError(13, "Permission denied", str(self))

    monkeypatch.setattr("pathlib.Path.unlink", refused)
    status, _, err = run("forget", case, "--out", out, "--yes")
    assert status == 2 and "cannot be removed: Permission denied" in err and err.count("\n") == 1
