"""What is on disk is whole: the old packet until the new one is ready, and no change made by hand ever lost."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from written_packets import CASE, files_of, on_disk

from docgen.errors import UserError
from docgen.packet.render import Rendered
from docgen.packet.write import build


class Killed(BaseException):
    """The process ends here: no clean-up of ours may be relied on."""


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
    found = on_disk(folder)
    assert set(found) == set(files_of(1))
    assert all(data in (files_of(1)[name], files_of(2)[name]) for name, data in found.items())
    assert n > 1 or found == files_of(1)
    packet = builds(3)
    assert on_disk(folder) == files_of(3) and packet.kept == []
    assert {path.name for path in folder.iterdir()} == {*files_of(3), "manifest.json"}


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
    assert builds(3).kept == [] and on_disk(folder) == files_of(3)
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
    assert (folder / "letter.new.pdf").read_bytes() == files_of(3)["letter.pdf"]


@settings(max_examples=25, deadline=None)
@given(
    steps=st.lists(
        st.one_of(
            st.just("build"),
            st.tuples(st.just("kill"), st.integers(1, 5)),
            st.tuples(st.just("edit"), st.sampled_from(sorted(files_of(0)))),
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
            patched.setattr("docgen.packet.write.rendered", lambda *rest, version=at: Rendered(files_of(version)))
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


CHANGED = {"cover.html": b"by hand"}  # of version 1, before the content becomes another


@pytest.fixture
def contents_of(monkeypatch):
    """Give the case a content of its own for a version, as a change of its record does."""
    return lambda version: monkeypatch.setattr("docgen.packet.write._content", lambda *rest: f"content {version}")


def _smaller(version):
    return {name: data for name, data in files_of(version).items() if name != "letter.html"}


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
    assert b"by hand" in on_disk(folder).values()
    monkeypatch.setattr("docgen.packet.write.rendered", lambda *rest: Rendered(_smaller(2)))
    packet = build(assessed, tmp_path)
    assert on_disk(folder) == _smaller(2) | {"cover.outdated.html": b"by hand"} and packet.kept == []
    assert not (folder / ".building").exists()


@settings(max_examples=25, deadline=None)
@given(
    steps=st.lists(
        st.one_of(
            st.just(("build", 0)),
            st.just(("change", 0)),
            st.tuples(st.just("kill"), st.integers(1, 6)),
            st.tuples(st.just("edit"), st.sampled_from(sorted(files_of(0)))),
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
            patched.setattr("docgen.packet.write.rendered", lambda *rest, version=at: Rendered(files_of(version)))
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
            there = {*on_disk(folder).values()} if folder.exists() else set()
            assert mine <= there
