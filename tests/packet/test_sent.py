"""What of a case travels to another machine, what may come back, and what a killed worker leaves there."""

from __future__ import annotations

import json
import os
import pickle
import signal
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace
from support import DEMO_FOLDERS, SMALL, SMALL_ROWS, run

from docgen.case.lines import lines_of, masked
from docgen.case.private_keys import is_private
from docgen.errors import UserError
from docgen.packet.approval import approve, reviewed
from docgen.packet.assess import assess
from docgen.packet.contents import case_contents, contents
from docgen.packet.many import build_many, workers
from docgen.packet.recipe import Recipe
from docgen.packet.reply import answer, from_bytes, to_bytes
from docgen.packet.scratch import Scratch, clear_abandoned
from docgen.packet.sent import to_send
from docgen.packet.wording import wording
from docgen.packet.work import Failed, here

QUICK = Recipe(formats=("html",), only=("letter",))
CANARY = "Tantamount-Heron"


def test_only_the_files_that_a_case_is_made_from_are_read(case_folder):
    folder = case_folder(SMALL.replace("[trial]", '[trial]\nrows = "runs 3.csv"'), SMALL_ROWS)
    (folder / "trial.csv").rename(folder / "runs 3.csv")
    for name in ("photo.jpg", "notes.txt", "trial.csv", "case.toml~", "es.toml", ".secret", "case.toml.bak"):
        (folder / name).write_text(CANARY, encoding="utf-8")
    for name in ("sessions.csv", "approval.toml"):
        (folder / name).write_text("x", encoding="utf-8")
    used = {"case.toml", "runs 3.csv", "sessions.csv", "approval.toml"}
    assert case_contents(folder).files.keys() == used
    assert case_contents(folder, ["es"]).files.keys() == {*used, "es.toml"}


@pytest.mark.parametrize("name", ["../elsewhere.csv", "/etc/hosts", "", ".", "a\\u0000b"])
def test_rows_that_lie_elsewhere_are_not_read(name, case_folder, tmp_path):
    (tmp_path / "elsewhere.csv").write_text(CANARY, encoding="utf-8")
    folder = case_folder(SMALL.replace("[trial]", f'[trial]\nrows = "{name}"'), SMALL_ROWS)
    assert case_contents(folder).files.keys() == {"case.toml", "trial.csv"}


@pytest.mark.parametrize(
    "written", ['trial.rows = "r.csv"', '"trial"."ro\\u0077s" = "r.csv"', 'trial = {rows = "r.csv"}']
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_the_rows_are_found_however_they_are_named(written, encoding, case_folder):
    folder = case_folder(SMALL, SMALL_ROWS)
    (folder / "case.toml").write_text(written, encoding=encoding)
    (folder / "r.csv").write_text(SMALL_ROWS, encoding="utf-8")
    assert case_contents(folder).files.keys() == {"case.toml", "r.csv"}


def test_sixty_photos_beside_a_case_take_no_memory_and_no_time(case_folder, tmp_path, monkeypatch):
    folder = case_folder(SMALL, SMALL_ROWS)
    for at in range(60):
        (folder / f"photo{at}.jpg").write_bytes(b"")
        os.truncate(folder / f"photo{at}.jpg", 19_000_000)
    read: list[str] = []
    whole = Path.read_bytes
    monkeypatch.setattr(Path, "read_bytes", lambda path: read.append(path.name) or whole(path))
    (outcome,) = build_many([folder], QUICK, tmp_path / "out", workers(QUICK, tmp_path / "out", 1))
    assert outcome.packet and not [name for name in read if name.endswith(".jpg")]


def test_a_file_that_no_page_is_made_from_leaves_a_packet_unchanged_and_a_folder_that_cannot_be_listed_does_not(
    case_folder, tmp_path
):
    folder, out = case_folder(SMALL, SMALL_ROWS), tmp_path / "out"

    def built() -> bool:
        (outcome,) = build_many([folder], QUICK, out, workers(QUICK, out, 1))
        assert outcome.packet
        return bool(outcome.packet.unchanged)

    assert [built(), built()] == [False, True]
    (folder / "photo.jpg").write_bytes(b"x")
    assert built()
    folder.chmod(0o300)  # its files can be opened by name and not listed
    try:
        (folder / "trial.csv").write_text(SMALL_ROWS + "2026-03-04,pads,door,1\n", encoding="utf-8")
        assert not built()
    finally:
        folder.chmod(0o700)


def test_templates_and_letterhead_travel_without_what_lies_beside_them(case_folder, tmp_path, monkeypatch):
    folder, own, head = case_folder(SMALL, SMALL_ROWS), tmp_path / "own", tmp_path / "head"
    own.mkdir(), head.mkdir()
    (own / "words.toml").write_text('no_value = "none"\n', encoding="utf-8")
    (head / "letterhead.toml").write_text('name = "Example Clinic"\n', encoding="utf-8")
    for path in (own / ".notes", own / "letter.md~", head / "old letter.docx", head / "photo.png"):
        path.write_text(CANARY, encoding="utf-8")
    asked: list[Recipe] = []
    monkeypatch.setattr(
        "docgen.packet.many.workers", lambda recipe, *_: asked.append(recipe) or workers(recipe, tmp_path, 1)
    )
    run("build", folder, "--out", tmp_path / "out", "--templates", own, "--letterhead", head, "--formats", "html")
    assert asked[0].templates.files.keys() == {"words.toml"}
    assert asked[0].letterhead.files.keys() == {"letterhead.toml"}


def _shown(data: object) -> object:
    """The data without private notes."""
    if isinstance(data, dict):
        return {name: _shown(value) for name, value in data.items() if name != "private_note"}
    return [_shown(entry) for entry in data] if isinstance(data, list) else data


NOTES = [
    f'private_note = "{CANARY}"',
    f"private_note = '{CANARY}'",
    f'"private_note" = "{CANARY} \\" # more"',
    f'private_note = """\nsays: {CANARY}\n"quoted" {CANARY}"""  # {CANARY}',
    f"'private_n\\u006fte' = '{CANARY}'".replace("'private_n\\u006fte'", '"private_n\\u006fte"'),
    f"private_note = '''{CANARY}\n\n'''",
]


@pytest.mark.parametrize("note", NOTES)
def test_private_notes_and_comments_stay_here_and_every_line_in_its_place(note, case_folder):
    text = f"# {CANARY}\n" + SMALL.replace('role = "evaluator"', f'{note}\nrole = "evaluator" # {CANARY}')
    folder = case_folder(text, SMALL_ROWS)
    sent = to_send(case_contents(folder))
    toml = sent.files["case.toml"].decode()
    assert CANARY not in pickle.dumps((QUICK, sent)).decode("latin-1")
    assert _shown(tomllib.loads(toml)) == _shown(tomllib.loads(text))
    assert lines_of(toml) == lines_of(text)


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda path: path.name)
def test_of_the_demo_cases_every_value_but_private_notes_travels_as_it_stands(folder):
    text = (folder / "case.toml").read_text(encoding="utf-8")
    toml = masked(text, is_private)
    assert _shown(tomllib.loads(toml)) == _shown(tomllib.loads(text))
    assert lines_of(toml) == lines_of(text)


@pytest.mark.parametrize(
    "text",
    [
        'a = [1, # one\n 2] # two\nb = {c = "#", d = [3]}\n[e]\nf = """#\n#"""\n',
        "people = [{private_note = 'x', name = 'A'}, {name = 'B', private_note = [1, # c\n 2]}]\n",
        "[[people]]\nprivate_note = false # c\nname = 'A # B'\n",
    ],
)
def test_a_masked_text_is_as_long_and_holds_all_other_values(text):
    toml = masked(text, is_private)
    assert _shown(tomllib.loads(toml)) == _shown(tomllib.loads(text))
    within = [path for path in lines_of(text) if path[2:3] == ("private_note",) and len(path) > 3]
    assert lines_of(toml) == {path: line for path, line in lines_of(text).items() if path not in within}
    assert "# " not in toml.replace("A # B", "")


def test_a_case_that_cannot_be_read_is_not_sent(case_folder):
    folder = case_folder(SMALL.replace('role = "eval', f'privat_note = "{CANARY}"\nrole = "eval'), SMALL_ROWS)
    with pytest.raises(UserError, match=r"case\.toml:9: unknown key 'privat_note'"):
        to_send(case_contents(folder))


def _reviewed_elsewhere(folder: Path, tmp_path: Path) -> bool:
    """Whether the approval of a case stands on the machine that it is sent to."""
    copy = to_send(case_contents(folder)).lay_out(tmp_path / "elsewhere")
    assert "Hard of hearing" not in (copy / "case.toml").read_text(encoding="utf-8")
    review = reviewed(assess(copy), wording())
    assert review
    return review.stands


@pytest.mark.parametrize(
    "change, stands",
    [
        (("", ""), True),
        (("Hard of hearing", CANARY), False),
        (("555-0142", "555-0199"), False),
        (('private_note = "Hard of hearing on the left; speak to her right side."', ""), False),
    ],
)
def test_an_approval_stands_elsewhere_just_where_it_does_here(change, stands, demo, tmp_path):
    folder = demo("ilmari-okonjo-vale")
    toml = folder / "case.toml"
    text = toml.read_text(encoding="utf-8")
    assert 'private_note = "Hard of hearing on the left; speak to her right side."' in text
    approve(assess(folder), "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 11, 20), wording())
    toml.write_text(text.replace(*change), encoding="utf-8")
    assert reviewed(assess(folder), wording()).stands is stands
    assert _reviewed_elsewhere(folder, tmp_path) is stands


def test_what_comes_back_is_the_packet_that_this_machine_would_have_made(demo, tmp_path):
    folder = demo("ilmari-okonjo-vale")
    approve(assess(folder), "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 11, 20), wording())
    case = case_contents(folder)
    made = here(QUICK).make(case, tmp_path / "out")
    assert (
        made.packet.review
        and from_bytes(to_bytes(made), case.name, tmp_path / "out", made.made_from, made.packet.key) == made
    )
    assert (
        from_bytes(answer(QUICK, to_send(case)), case.name, tmp_path / "out", made.made_from, made.packet.key) == made
    )
    failed = here(QUICK).attempt(replace(case, path=tmp_path / "nowhere"), tmp_path)
    assert isinstance(failed, Failed) and from_bytes(to_bytes(failed), "x", tmp_path, "", "") == failed


class _Runs:
    def __reduce__(self):
        return os.mkdir, ("ran",)


REPLY = {"files": {"letter.html": "eA=="}, "remarks": [], "open": 0, "review": None, "problems": []}


@pytest.mark.parametrize(
    "reply",
    [
        *({**REPLY, "files": {name: "eA=="}} for name in (
            "../letter.html", "/tmp/letter.html", "a/b", "a\\b", "", ".", "..", ".building",
            "C:x", "manifest.json", "a\0b", "a\nb"
        )),
        {**REPLY, "files": {}},
        {**REPLY, "files": {"letter.html": "?"}},
        {**REPLY, "files": {"letter.html": 7}},
        {**REPLY, "open": -1},
        {**REPLY, "open": "many"},
        {**REPLY, "folder": "/etc"},
        {**REPLY, "problems": [{"where": "x", "what": "y", "do": "z"}]},
        {**REPLY, "review": {"by": "x"}},
        [], None, 7, "x",
    ],
)  # fmt: skip
def test_a_reply_of_another_shape_is_no_packet(reply, tmp_path):
    result = from_bytes(json.dumps(reply).encode(), "robin", tmp_path, "", "")
    assert isinstance(result, Failed) and "what a worker sent back is no packet" in str(result.problems[0])


@pytest.mark.parametrize("reply", [pickle.dumps(_Runs()), b"", b"\xff", None, "text", _Runs(), {"files": {}}])
def test_a_reply_that_is_no_json_is_no_packet_and_runs_nothing(reply, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    result = from_bytes(reply, "robin", tmp_path, "", "")
    assert isinstance(result, Failed) and "no packet" in str(result.problems[0])
    assert list(tmp_path.iterdir()) == []


def test_a_good_reply_is_written_where_this_machine_wants_it(tmp_path):
    made = from_bytes(json.dumps(REPLY).encode(), "robin", tmp_path, "abc", "0" * 32)
    assert (
        made.packet.folder == tmp_path / "robin"
        and made.packet.key == "0" * 32
        and made.files == {"letter.html": b"x"}
        and made.made_from == "abc"
    )


_AT_WORK = """
import sys, time
from docgen.packet import work
from docgen.packet.contents import case_contents
from docgen.packet.recipe import Recipe
from pathlib import Path
work.Worker.attempt = lambda *_: (print("at work", flush=True), time.sleep(60))
work.attempt_elsewhere(Recipe(), case_contents(Path(sys.argv[1])), Path("out"))
"""


def test_what_a_killed_worker_left_is_cleared_by_the_next_and_what_one_at_work_holds_is_not(
    case_folder, tmp_path, monkeypatch
):
    folder, there = case_folder(SMALL, SMALL_ROWS), tmp_path / "there"
    there.mkdir()
    (there / "docgen-lent-mine").mkdir()  # without a lock: not of this program
    (there / "docgen-lent-link").symlink_to(folder)
    (folder / ".docgen-at-work").write_bytes(b"")
    monkeypatch.setattr("tempfile.tempdir", str(there))
    command = [sys.executable, "-c", _AT_WORK, str(folder)]
    environment = {**os.environ, "TMPDIR": str(there)}
    process = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE)
    try:
        assert process.stdout and process.stdout.readline() == b"at work\n"
        assert [path.name for path in there.rglob("trial.csv")] == ["trial.csv"]
        clear_abandoned()
        assert [path.name for path in there.rglob("trial.csv")] == ["trial.csv"]  # it is at work
    finally:
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
    assert [path.name for path in there.rglob("trial.csv")] == ["trial.csv"]
    with Scratch() as own:
        assert list(there.rglob("trial.csv")) == []
        assert sorted(path.name for path in there.iterdir()) == sorted(
            ["docgen-lent-mine", "docgen-lent-link", Path(own).name]
        )
    assert {path.name for path in there.iterdir()} == {"docgen-lent-mine", "docgen-lent-link"}
    assert (folder / "case.toml").is_file() and contents(folder).files["trial.csv"] == SMALL_ROWS.encode()


def test_where_files_cannot_be_locked_one_that_is_open_protects_its_folder(tmp_path, monkeypatch):
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr("docgen.packet.scratch.fcntl", None)
    whole = Path.unlink
    held: set[str] = set()

    def unlink(path: Path) -> None:
        if str(path.parent) in held:
            raise PermissionError(13, "is used by another process")
        whole(path)

    monkeypatch.setattr(Path, "unlink", unlink)
    with Scratch() as own:
        held.add(own)
        clear_abandoned()
        assert os.listdir(own) == [".docgen-at-work"]
        held.clear()
        clear_abandoned()
        assert not os.path.exists(own)
