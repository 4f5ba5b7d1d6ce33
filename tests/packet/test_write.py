"""What is on disk: whole files, the old packet until the new one is ready, and no change made by hand ever lost."""

from __future__ import annotations

import contextlib
import hashlib
import io
import json
import os
import shutil
import socket
import zipfile
from pathlib import Path

import docx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from support import DEMO_FOLDERS

from docgen.errors import UserError
from docgen.packet.assess import assess
from docgen.packet.recipe import Selection
from docgen.packet.render import Rendered, render
from docgen.packet.write import build
from docgen.rendering.docx.seal import PART, unedited

CASE = next(f for f in DEMO_FOLDERS if f.name == "saoirse-villalobos-ng")


class Killed(BaseException):
    """The process ends here: no clean-up of ours may be relied on."""


@pytest.fixture(scope="module")
def assessed():
    return assess(CASE)


@pytest.fixture(scope="module")
def letter(assessed):
    return render(assessed, ["docx"], ["letter"])["letter.docx"]


def _files(version):
    return {
        f"{name}.{suffix}": f"{name} {suffix} {version} ".encode() * 500
        for name in ("cover", "letter")
        for suffix in ("html", "pdf")
    }


@pytest.fixture
def builds(assessed, tmp_path, monkeypatch):
    """Build a packet of made-up files of a version; returns what the build says."""

    def build_version(version):
        monkeypatch.setattr("docgen.packet.write.rendered", lambda *rest: Rendered(_files(version)))
        return build(assessed, tmp_path)

    return build_version


def _on_disk(folder):
    return {
        path.name: path.read_bytes() for path in folder.iterdir() if path.is_file() and path.name != "manifest.json"
    }


def _stopping_at(n, failure):
    """os.replace that fails when it is called for the n-th time."""
    real, calls = os.replace, [0]

    def replace(*paths):
        calls[0] += 1
        if calls[0] == n:
            raise failure
        return real(*paths)

    return replace


@pytest.mark.parametrize("n", range(1, 6))
def test_a_build_killed_while_renaming_leaves_whole_files_and_the_next_one_finishes_it(
    n, builds, tmp_path, monkeypatch
):
    builds(1)
    folder = tmp_path / CASE.name
    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", _stopping_at(n, Killed()))
        with pytest.raises(Killed):
            builds(2)
    found = _on_disk(folder)
    assert set(found) == set(_files(1))
    assert all(data in (_files(1)[name], _files(2)[name]) for name, data in found.items())
    assert n > 1 or found == _files(1)
    packet = builds(3)
    assert _on_disk(folder) == _files(3) and packet.kept == []
    assert {path.name for path in folder.iterdir()} == {*_files(3), "manifest.json"}


@pytest.mark.parametrize("n", range(1, 6))
def test_a_build_killed_while_writing_leaves_the_old_packet_whole(n, builds, tmp_path, monkeypatch):
    builds(1)
    folder = tmp_path / CASE.name
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    calls = [0]

    def fsync(descriptor):
        calls[0] += 1
        if calls[0] == n:
            raise Killed

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", fsync)
        with pytest.raises(Killed):
            builds(2)
    assert {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()} == before
    assert builds(3).kept == [] and _on_disk(folder) == _files(3)
    assert not (folder / ".building").exists()


@pytest.mark.parametrize("where", ["fsync", "mkdir"])
def test_a_full_disk_leaves_the_old_packet_as_it_was_and_nothing_else(where, builds, tmp_path, monkeypatch):
    builds(1)
    folder = tmp_path / CASE.name
    before = {path.name: path.read_bytes() for path in folder.iterdir()}

    def full(*rest, **named):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, where, full)
        with pytest.raises(UserError, match="cannot be written: No space left on device"):
            builds(2)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_change_made_after_a_build_was_killed_is_kept_when_the_next_one_finishes_it(builds, tmp_path, monkeypatch):
    builds(1)
    folder = tmp_path / CASE.name
    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", _stopping_at(2, Killed()))
        with pytest.raises(Killed):
            builds(2)
    (folder / "letter.pdf").write_bytes(b"mine")
    packet = builds(3)
    assert (folder / "letter.pdf").read_bytes() == b"mine" and packet.kept == ["letter.pdf"]
    assert (folder / "letter.new.pdf").read_bytes() == _files(3)["letter.pdf"]


@settings(max_examples=25, deadline=None)
@given(
    steps=st.lists(
        st.one_of(
            st.just("build"),
            st.tuples(st.just("kill"), st.integers(1, 5)),
            st.tuples(st.just("edit"), st.sampled_from(sorted(_files(0)))),
        ),
        max_size=8,
    )
)
def test_whatever_happens_in_between_no_change_by_hand_is_ever_lost(steps, assessed, tmp_path_factory):
    """Builds, kills and edits in any order: every text written by hand is still there, in its place."""
    out = tmp_path_factory.mktemp("out")
    folder, mine = out / CASE.name, {}
    with pytest.MonkeyPatch.context() as patched:
        for at, step in enumerate(steps):
            patched.setattr("docgen.packet.write.rendered", lambda *rest, version=at: Rendered(_files(version)))
            if step == "build":
                build(assessed, out)
            elif step[0] == "kill":
                with pytest.MonkeyPatch.context() as inner:
                    inner.setattr(os, "replace", _stopping_at(step[1], Killed()))
                    with pytest.raises(Killed):
                        build(assessed, out)
                        raise Killed  # finishing a killed build takes renames too, so this one may come through
            elif folder.exists():
                mine[step[1]] = f"by hand, {at}".encode()
                (folder / step[1]).write_bytes(mine[step[1]])
            for name, data in mine.items():
                assert (folder / name).read_bytes() == data


def test_an_edited_docx_survives_ten_rebuilds(assessed, letter, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    document = docx.Document(folder / "letter.docx")
    document.add_paragraph("She asked me to add that the garden gate is narrow.")
    document.save(folder / "letter.docx")
    mine = (folder / "letter.docx").read_bytes()
    for _ in range(10):
        packet = build(assessed, tmp_path, Selection(("docx",), ("letter",)))
        assert (packet.kept, packet.written) == (["letter.docx"], ["letter.new.docx"])
        assert (folder / "letter.docx").read_bytes() == mine
        assert (folder / "letter.new.docx").read_bytes() == letter
    assert {path.name for path in folder.iterdir()} == {"letter.docx", "letter.new.docx", "manifest.json"}


def test_the_new_file_beside_an_edited_one_is_itself_kept_once_it_is_edited(assessed, letter, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    for name in ("letter.docx", "letter.new.docx", "letter.new-2.docx"):
        docx.Document(folder / name).save(folder / name)
        build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    assert (folder / "letter.new-3.docx").read_bytes() == letter
    assert not any(
        unedited((folder / name).read_bytes()) for name in ("letter.docx", "letter.new.docx", "letter.new-2.docx")
    )


@pytest.mark.parametrize("edited", [False, True])
def test_a_docx_is_known_without_its_manifest(edited, assessed, letter, tmp_path):
    folder = tmp_path / CASE.name
    build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    if edited:
        docx.Document(folder / "letter.docx").save(folder / "letter.docx")
    (folder / "manifest.json").unlink()
    packet = build(assessed, tmp_path, Selection(("docx",), ("letter",)))
    assert packet.kept == (["letter.docx"] if edited else [])
    assert (
        (folder / "letter.docx").read_bytes() != letter if edited else (folder / "letter.docx").read_bytes() == letter
    )


def test_older_output_that_nobody_touched_is_replaced_wherever_it_was_moved(assessed, letter, tmp_path):
    """A packet of another version, moved without its manifest: its DOCX is recognised by itself."""
    with zipfile.ZipFile(io.BytesIO(letter)) as archive:
        entries = {info.filename: archive.read(info) for info in archive.infolist() if info.filename != PART}
    from docgen.rendering.docx.seal import properties_xml

    entries["word/settings.xml"] += b"<!-- an older version -->"
    older = _zipped({**entries, PART: properties_xml(entries.items()).encode()})
    assert older != letter and unedited(older)
    (tmp_path / CASE.name).mkdir()
    (tmp_path / CASE.name / "letter.docx").write_bytes(older)
    assert build(assessed, tmp_path, Selection(("docx",), ("letter",))).kept == []
    assert (tmp_path / CASE.name / "letter.docx").read_bytes() == letter


def _zipped(entries):
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return file.getvalue()


def _changed(letter, change):
    with zipfile.ZipFile(io.BytesIO(letter)) as archive:
        entries = {info.filename: archive.read(info) for info in archive.infolist()}
    change(entries)
    return _zipped(entries)


@pytest.mark.parametrize(
    "change",
    [
        lambda e: e.update({"word/document.xml": e["word/document.xml"].replace(b"<w:t", b"<w:t ", 1)}),
        lambda e: e.pop(PART),
        lambda e: e.pop("word/settings.xml"),
        lambda e: e.update({"word/comments.xml": b"<x/>"}),
        lambda e: e.update({PART: e[PART].replace(b"docgen.sha256", b"other.sha256")}),
        lambda e: e.update({"word/document.xml": e["word/styles.xml"], "word/styles.xml": e["word/document.xml"]}),
    ],
    ids=["a letter", "no digest", "a part less", "a part more", "another property", "two parts changed about"],
)
def test_any_other_content_is_recognised_as_edited(change, letter):
    assert unedited(letter) and not unedited(_changed(letter, change))


@pytest.mark.parametrize("data", [b"", b"PK", b"mine", b"PK\x03\x04" + bytes(100)])
def test_a_file_that_is_no_docx_is_not_ours(data):
    assert not unedited(data)


@settings(max_examples=60, deadline=None)
@given(place=st.floats(0, 1, exclude_max=True), bits=st.integers(1, 255))
def test_a_docx_cut_or_bent_anywhere_is_not_ours_and_never_an_error(place, bits, letter):
    at = int(place * len(letter))
    bent = letter[:at] + bytes([letter[at] ^ bits]) + letter[at + 1 :]
    assert not unedited(letter[:at])
    assert isinstance(unedited(bent), bool)  # a bit of the zip's own book-keeping changes nothing a reader sees


def test_the_digest_is_a_custom_property_as_the_format_has_them(letter):
    """Source: ECMA-376 part 1, 15.2.12.2 and 22.3 (custom file properties)."""
    import xml.etree.ElementTree as ET

    archive = zipfile.ZipFile(io.BytesIO(letter))
    custom = ET.fromstring(archive.read(PART))
    ns = "{http://schemas.openxmlformats.org/officeDocument/2006/custom-properties}"
    (one,) = custom
    assert custom.tag == f"{ns}Properties" and one.get("pid") == "2" and one.get("name") == "docgen.sha256"
    relations = ET.fromstring(archive.read("_rels/.rels"))
    assert any(r.get("Target") == PART and r.get("Type").endswith("/custom-properties") for r in relations)
    kinds = ET.fromstring(archive.read("[Content_Types].xml"))
    assert any(
        k.get("PartName") == f"/{PART}" and k.get("ContentType").endswith("custom-properties+xml") for k in kinds
    )


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
    assert entries == {name: hashlib.sha256(data).hexdigest() for name, data in _on_disk(folder).items()}


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
    assert set(builds(2).kept) == set(_files(1))
    assert all((folder / name).read_bytes() == data for name, data in _files(1).items())


def test_a_link_in_place_of_a_file_is_not_written_through(builds, tmp_path):
    builds(1)
    folder, elsewhere = tmp_path / CASE.name, tmp_path / "elsewhere.pdf"
    shutil.copy(folder / "letter.pdf", elsewhere)
    (folder / "letter.pdf").unlink()
    (folder / "letter.pdf").symlink_to(elsewhere)
    builds(2)
    assert elsewhere.read_bytes() == _files(1)["letter.pdf"]
    assert (folder / "letter.pdf").read_bytes() == _files(2)["letter.pdf"]


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
    assert (folder / packet.written[-1]).read_bytes() in _files(2).values()


@pytest.mark.parametrize("kind", ["a link", "a link to nothing", "a pipe", "a file"])
def test_a_false_place_to_work_in_is_refused_and_nothing_goes_through_it(kind, builds, tmp_path):
    builds(1)
    folder, elsewhere = tmp_path / CASE.name, tmp_path / "elsewhere"
    elsewhere.mkdir()
    make = {"a link": lambda p: p.symlink_to(elsewhere), "a file": lambda p: p.write_bytes(b"mine")} | NO_FILES
    make[kind](folder / ".building")
    before = _on_disk(folder)
    with pytest.raises(UserError, match=r"\.building: is (a link|no folder)"):
        builds(2)
    assert _on_disk(folder) == before and list(elsewhere.iterdir()) == []


CHANGED = {"cover.html": b"by hand"}  # of version 1, before the content becomes another


@pytest.fixture
def contents_of(monkeypatch):
    """Give the case a content of its own for a version, as a change of its record does."""
    return lambda version: monkeypatch.setattr("docgen.packet.write._content", lambda *rest: f"content {version}")


def _smaller(version):
    return {name: data for name, data in _files(version).items() if name != "letter.html"}


@pytest.mark.parametrize("n", range(1, 6))
def test_a_build_of_other_content_killed_anywhere_is_finished_with_no_page_of_the_old(
    n, assessed, builds, contents_of, tmp_path, monkeypatch
):
    contents_of(1)
    builds(1)
    folder = tmp_path / CASE.name
    for name, data in CHANGED.items():
        (folder / name).write_bytes(data)
    contents_of(2)
    monkeypatch.setattr("docgen.packet.write.rendered", lambda *rest: Rendered(_smaller(2)))
    with monkeypatch.context() as patched:
        calls = [0]

        def stopped(real):
            def step(*rest, **named):
                calls[0] += 1
                if calls[0] == n:
                    raise Killed
                return real(*rest, **named)

            return step

        patched.setattr(os, "replace", stopped(os.replace))
        patched.setattr(os, "rename", stopped(os.rename))
        patched.setattr("pathlib.Path.unlink", stopped(Path.unlink))
        with pytest.raises(Killed):
            build(assessed, tmp_path)
    assert b"by hand" in _on_disk(folder).values()
    monkeypatch.setattr("docgen.packet.write.rendered", lambda *rest: Rendered(_smaller(2)))
    packet = build(assessed, tmp_path)
    assert _on_disk(folder) == _smaller(2) | {"cover.outdated.html": b"by hand"} and packet.kept == []
    assert not (folder / ".building").exists()


@settings(max_examples=25, deadline=None)
@given(
    steps=st.lists(
        st.one_of(
            st.just(("build", 0)),
            st.just(("change", 0)),
            st.tuples(st.just("kill"), st.integers(1, 6)),
            st.tuples(st.just("edit"), st.sampled_from(sorted(_files(0)))),
            st.tuples(st.just("lose the manifest"), st.just(0)),
        ),
        max_size=10,
    )
)
def test_through_changes_of_content_no_change_by_hand_is_ever_lost(steps, assessed, tmp_path_factory):
    """As above, with content that changes: each text written by hand is there still, in its place or named outdated."""
    out = tmp_path_factory.mktemp("out")
    folder, mine, content = out / CASE.name, set(), 0
    with pytest.MonkeyPatch.context() as patched:
        for at, (step, value) in enumerate(steps):
            content += step == "change"
            patched.setattr("docgen.packet.write.rendered", lambda *rest, version=at: Rendered(_files(version)))
            patched.setattr("docgen.packet.write._content", lambda *rest, which=content: f"content {which}")
            if step == "build":
                build(assessed, out)
            elif step == "kill":
                with pytest.MonkeyPatch.context() as inner:
                    inner.setattr(os, "replace", _stopping_at(value, Killed()))
                    with pytest.raises(Killed):
                        build(assessed, out)
                        raise Killed
            elif step == "edit" and folder.exists():
                earlier = (folder / value).read_bytes() if (folder / value).exists() else b""
                mine.discard(earlier)  # the same person writes over their own words
                mine.add(f"by hand, {at}".encode())
                (folder / value).write_bytes(f"by hand, {at}".encode())
            elif step == "lose the manifest" and folder.exists():
                (folder / "manifest.json").unlink(missing_ok=True)
            there = {*_on_disk(folder).values()} if folder.exists() else set()
            assert mine <= there
