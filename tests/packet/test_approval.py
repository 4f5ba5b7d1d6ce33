"""An approval: of exactly this content, by a clinician, ended by any change, and never a signature."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import re
import zipfile
from datetime import date
from importlib import import_module

import pypdfium2
import pytest
from in_full import tables_in_full
from msgspec.structs import replace
from support import DEMO_FOLDERS, assess, each_key_gone, run

from docgen.case.model import Case
from docgen.case.read import frozen, read_case
from docgen.criteria.payer import load
from docgen.packet.approval import approve, parts, reviewed, sections
from docgen.packet.render import render
from docgen.packet.trees import trees, trees_to_read
from docgen.packet.wording import wording
from docgen.rendering.tree import outline

READY = "ilmari-okonjo-vale"
BY = "Perpetua Lindqvist-Amadi, OTR/L"
ON = date(2026, 11, 20)


@pytest.fixture
def approved(demo):
    """A copy of a ready demo case, approved."""
    folder = demo(READY)
    approve(assess(folder), BY, ON, wording())
    return folder


def _edit(path, change):
    before = path.read_text(encoding="utf-8")
    after = change(before)
    assert after != before
    path.write_text(after, encoding="utf-8", newline="")


def _mark(folder):
    return reviewed(assess(folder), wording())


def test_an_approval_stands_while_nothing_changes(approved):
    review = _mark(approved)
    assert (review.by, review.on, review.changed) == (BY, ON, ())


def test_pages_are_made_only_where_nothing_else_has_changed(approved, monkeypatch):
    module = import_module("docgen.packet.trees")
    made, read = [], module.trees_to_read
    monkeypatch.setattr(module, "trees_to_read", lambda *known: (made.append(known), read(*known))[1])
    assert _mark(approved).stands and len(made) == 1
    _edit(approved / "case.toml", lambda text: text.replace('"555-0142"', '"555-0143"', 1))
    assert _mark(approved).changed == ("people",) and len(made) == 1


@pytest.mark.parametrize("option", ["--on", "--today"])
def test_the_day_of_a_review_may_be_told_as_other_commands_have_it(option, demo):
    folder = demo("saoirse-villalobos-ng")
    status, told, problems = run("approve", folder, "--by", "nobody, PT", option, "31.3.2026")
    assert (
        (status, told) == (2, "") and "'31.3.2026' is not a day" in problems and "Write it as 2026-03-31." in problems
    )


def _without_comments(text):
    return re.sub(r"^#.*\n", "", text, flags=re.M)


@pytest.mark.parametrize(
    "name, change",
    [
        ("case.toml", lambda s: f"# a remark\n\n{s}\n\n# the end\n"),
        ("case.toml", _without_comments),
        ("case.toml", lambda s: s.replace("\n", "\r\n")),
        ("case.toml", lambda s: s.replace(" = ", "   =   ")),
        ("case.toml", lambda s: re.sub(r'^name = "([^"\\]*)"$', r"name = '\1'", s, flags=re.M)),
        ("case.toml", lambda s: re.sub(r"^(\w+_mm) = (\d+)$", r"\1 = \2.0", s, flags=re.M)),
        ("case.toml", lambda s: re.sub(r"^(name = .*)\n(called = .*)$", r"\2\n\1", s, count=1, flags=re.M)),
        ("trial.csv", lambda s: s + "\n\n"),
        ("trial.csv", lambda s: s.replace("\n", "\n\n", 3)),
        ("trial.csv", lambda s: s.replace("\n", "\r\n")),
    ],
    ids=[
        "comments",
        "no comments",
        "line ends",
        "spaces",
        "quotes",
        "whole numbers as decimals",
        "order of keys",
        "blank rows",
        "blank rows between",
        "line ends of rows",
    ],
)
def test_how_a_file_is_written_is_no_content(name, change, approved):
    _edit(approved / name, change)
    assert _mark(approved).stands


def test_moving_the_case_or_renaming_the_file_of_rows_is_no_change(approved, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    moved = approved.rename(tmp_path / "elsewhere" / approved.name)
    (moved / "trial.csv").rename(moved / "rows.csv")
    _edit(moved / "case.toml", lambda s: s.replace("[trial]\n", '[trial]\nrows = "rows.csv"\n', 1))
    assert _mark(moved).stands


def test_the_order_of_the_columns_is_no_content(approved):
    def turned(text):
        made = io.StringIO()
        csv.writer(made, lineterminator="\n").writerows(reversed(row) for row in csv.reader(io.StringIO(text)))
        return made.getvalue()

    _edit(approved / "trial.csv", turned)
    assert _mark(approved).stands


@pytest.mark.parametrize(
    "name, change, told",
    [
        ("case.toml", lambda s: s.replace('"555-0142"', '"555-0143"', 1), ["people"]),
        ("case.toml", lambda s: re.sub(r"^weight_kg = .*$", "weight_kg = 44", s, flags=re.M), ["client"]),
        ("case.toml", lambda s: re.sub(r"^private_note = .*\n", "", s, count=1, flags=re.M), ["people"]),
        ("trial.csv", lambda s: s.replace(",0,", ",1,", 1), ["trial.csv"]),
        ("trial.csv", lambda s: s.rstrip("\n").rpartition("\n")[0] + "\n", ["trial.csv"]),
        (
            "trial.csv",
            lambda s: "\n".join([*s.split("\n")[:1], *s.split("\n")[2:1:-1], s.split("\n")[1], *s.split("\n")[3:]]),
            ["trial.csv"],
        ),
    ],
    ids=["phone", "weight", "a note no page shows", "one success", "a row less", "two rows changed about"],
)
def test_any_fact_or_row_ends_it_and_is_named(name, change, told, approved):
    if name == "case.toml" and "private_note" not in (approved / name).read_text(encoding="utf-8"):
        _edit(
            approved / name,
            lambda s: s.replace('phone = "555-0142"\n', 'phone = "555-0142"\nprivate_note = "calls after six"\n', 1),
        )
        approve(assess(approved), BY, ON, wording())
    _edit(approved / name, change)
    assert list(_mark(approved).changed) == told


@pytest.mark.parametrize("source", DEMO_FOLDERS[2:3], ids=lambda f: f.name)
def test_taking_any_key_away_changes_the_digest_of_its_section_and_of_no_other(source):
    raw = tables_in_full(source)
    whole = Case.model_validate(frozen(raw))
    before, n_changed = sections(whole), 0
    for path, changed in each_key_gone(raw):
        try:
            case = Case.model_validate(frozen(changed))
        except ValueError:
            continue  # a key its table cannot do without
        after = sections(case)
        differing = {name for name in {**before, **after} if before.get(name) != after.get(name)}
        # a person without an id is called by the role, also where what was recorded names its author
        named = path[0] == "people" and path[-1] == "id" and "people" in differing
        assert named or differing == ({path[0]} if case != whole else set()), path
        n_changed += bool(differing)
    assert n_changed > 100


def test_another_rule_of_the_payer_ends_it_and_a_row_not_yet_in_force_does_not(approved):
    one = assess(approved)
    payer = load("general", "")
    first = payer.requirements[0]
    other = payer.model_copy(
        update={"requirements": (first.model_copy(update={"version": "another"}), *payer.requirements[1:])}
    )
    later = first.model_copy(update={"id": "later", "from_on": date(2099, 1, 1)})
    coming = payer.model_copy(update={"requirements": (*payer.requirements, later)})
    assert reviewed(replace(one, payer=other), wording()).changed == ("payer rules",)
    assert reviewed(replace(one, payer=coming), wording()).stands


@pytest.mark.parametrize(
    "change, told",
    [
        (lambda w: replace(w, words={**w.words, "no_value": "none"}), "fixed words"),
        (lambda w: replace(w, parts={**w.parts, "_open.md": w.parts["_open.md"] + "Ask."}), "shared wording _open.md"),
        (
            lambda w: replace(
                w,
                documents={
                    **w.documents,
                    "letter": replace(w.documents["letter"], body=w.documents["letter"].body + "More.\n"),
                },
            ),
            "letter wording",
        ),
        (
            lambda w: replace(w, documents={**w.documents, "plan": replace(w.documents["plan"], title="Another")}),
            "plan wording",
        ),
        (
            lambda w: replace(
                w,
                documents={
                    **w.documents,
                    "letter": replace(w.documents["letter"], body=w.documents["letter"].body + "\n{# why #}\n\n"),
                },
            ),
            "",
        ),
    ],
    ids=["a fixed word", "a shared part", "a sentence", "a title", "a comment"],
)
def test_any_wording_ends_it_but_a_comment_does_not(change, told, approved):
    review = reviewed(assess(approved), change(wording()))
    assert review.changed == ((told,) if told else ())


def test_a_page_that_comes_out_otherwise_is_named_when_nothing_else_explains_it(approved, monkeypatch):
    def other(*args, **kwargs):
        made = trees_to_read(*args, **kwargs)
        made["letter"].children.pop()
        return made

    monkeypatch.setattr("docgen.packet.trees.trees_to_read", other)
    assert _mark(approved).changed == ("pages of letter",)


def test_check_says_what_changed(approved):
    assert "reviewed by Perpetua Lindqvist-Amadi, OTR/L on 2026-11-20; nothing has changed since" in " ".join(
        run("check", approved)[1].split()
    )
    _edit(approved / "case.toml", lambda s: s.replace('"555-0142"', '"555-0143"', 1))
    _edit(approved / "trial.csv", lambda s: s.replace(",0,", ",1,", 1))
    status, out, _ = run("check", approved)
    assert status == 0 and "but changed since: people, trial.csv." in " ".join(out.split())
    told = json.loads(run("check", approved, "--json")[1])["approval"]
    assert told["stands"] is False and told["changed"] == ["people", "trial.csv"]


def test_points_that_block_cannot_be_approved(demo):
    folder = demo("anselm-kirawira-boone")
    status, out, err = run("approve", folder, "--by", BY)
    assert (status, err) == (1, "") and "A hand- or chin-operated standard proportional joystick is ruled out" in out
    assert not (folder / "approval.toml").exists()
    with pytest.raises(Exception, match="is not approved"):
        approve(assess(folder), BY, ON, wording())


@pytest.mark.parametrize(
    "by, told",
    [
        ("", "is not a name and a credential"),
        ("Perpetua Lindqvist-Amadi", "is not a name and a credential"),
        ("Perpetua Lindqvist-Amadi,", "is not a name and a credential"),
        (", OTR/L", "is not a name and a credential"),
        ("A" * 130 + ", OTR/L", "is not a name and a credential"),
        ("Jo\x07, OTR/L", "U+0007"),
        ("\u738b, OTR/L", "U+738B"),
        ("SUPPLIER, ATP", "is the supplier in this case"),
        ("CAREGIVER, RN", "is the caregiver in this case"),
        ("Ada Sample, PT", "Ada Sample is not among the people of this case"),
    ],
)
def test_who_cannot_have_reviewed_it_is_refused_in_one_sentence(by, told, demo):
    folder = demo(READY)
    for role in ("supplier", "caregiver"):
        person = next(p for p in assess(folder).file.case.with_role(role) if p.name)
        by = by.replace(role.upper(), person.name)
    status, out, err = run("approve", folder, "--by", by, "--on", "2026-11-20")
    assert (status, out, err.count("\n")) == (2, "", 1) and told in err
    assert not (folder / "approval.toml").exists()


@pytest.mark.parametrize(
    "by, remark",
    [
        (BY, ""),
        ("perpetua lindqvist-amadi, OTR/L", ""),
        ("Perpetua Lindqvist-Amadi, MD", "gives the credential of Perpetua Lindqvist-Amadi as OTR/L"),
    ],
)
def test_a_credential_that_the_case_does_not_hold_is_remarked_on(by, remark, demo):
    status, out, err = run("approve", demo(READY), "--by", by, "--on", "2026-11-20")
    assert status == 0 and "approval.toml" in out
    assert remark in err and bool(err) == bool(remark)


@pytest.mark.parametrize(
    "change",
    [
        lambda s: s.replace("Perpetua", "Someone"),
        lambda s: s.replace("2026-11-20", "2026-11-21"),
        lambda s: s.replace('"people" = "', '"people" = "0'),
        lambda s: s.replace("docgen approval 1", "docgen approval 9"),
        lambda s: s[: len(s) // 2],
        lambda s: "",
        lambda s: s.replace("[parts]", "[[parts]]"),
    ],
)
def test_a_record_changed_by_hand_is_refused_with_its_place(change, approved, tmp_path):
    _edit(approved / "approval.toml", change)
    for words in (["check", approved], ["build", approved, "--out", tmp_path / "out"]):
        status, out, err = run(*words)
        assert (status, out) == (2, "") and err.startswith(
            f"{approved / 'approval.toml'}:1: is not as 'docgen approve' wrote it."
        )
    assert not (tmp_path / "out").exists()


def test_a_broken_record_is_mended_by_approving_again(approved):
    (approved / "approval.toml").write_text("broken", encoding="utf-8")
    assert run("approve", approved, "--by", BY, "--on", "2026-11-20")[0] == 0
    assert _mark(approved).stands


def test_the_record_is_written_whole_or_not_at_all(approved, monkeypatch):
    before, there = (approved / "approval.toml").read_bytes(), {path.name for path in approved.iterdir()}

    def stopped(*paths):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", stopped)
    assert run("approve", approved, "--by", "Ada Sample, PT", "--on", "2026-11-20")[0] == 2
    assert (approved / "approval.toml").read_bytes() == before
    assert {path.name for path in approved.iterdir()} == there and "approval.toml" in there


def _marks(files):
    """What each format says of its state: the status on every page of the PDF, in the DOCX's head, in the HTML."""
    with pypdfium2.PdfDocument(files["letter.pdf"]) as pdf:
        pages = [page.get_textpage().get_text_range() for page in pdf]
    header = zipfile.ZipFile(io.BytesIO(files["letter.docx"])).read("word/header1.xml").decode()
    status = re.search(r'<p class="status">(.*?)</p>', files["letter.html"].decode())[1]
    return pages, header, status


@pytest.mark.parametrize(
    "state, words",
    [
        ("none", "Draft: not yet reviewed, not for use"),
        ("stands", "Reviewed by Perpetua Lindqvist-Amadi, OTR/L on November 20, 2026"),
        ("changed", "Draft: changed since the review of November 20, 2026"),
    ],
)
def test_every_page_says_whether_it_is_a_draft(state, words, approved):
    if state == "changed":
        _edit(approved / "case.toml", lambda s: s.replace('"555-0142"', '"555-0143"', 1))
    one = assess(approved)
    review = None if state == "none" else reviewed(one, wording())
    pages, header, status = _marks(render(one, only=["letter"], review=review))
    assert len(pages) > 1 and all(words in page for page in pages)
    assert words in header and status == words
    undated = "day of the change not recorded" in pages[0]
    assert undated is (state == "changed")  # a changed sheet does not bear the day of the reviewed one


def test_a_draft_with_points_open_stays_one_whatever_was_approved(approved):
    one = assess(approved)
    review = reviewed(one, wording())
    opened = replace(one, verdicts=tuple(replace(v, answer=replace(v.answer, status="not_met")) for v in one.verdicts))
    _, _, status = _marks(render(opened, only=["letter"], review=review))
    assert status.startswith("Draft: ")


def test_an_approval_signs_nothing(approved):
    one = assess(approved)
    for tree in trees(one).values():
        for node in tree.walk():
            assert node.kind != "signature" or "2026" not in node.plain()
    before = {name: outline(tree) for name, tree in trees(one).items()}
    (approved / "approval.toml").unlink()
    assert {name: outline(tree) for name, tree in trees(assess(approved)).items()} == before


def test_a_packet_built_after_approval_says_so(approved, tmp_path):
    status, out, _ = run("build", approved, "--out", tmp_path, "--formats", "html", "--only", "guide")
    assert status == 0 and f"reviewed by {BY} on 2026-11-20" in out
    manifest = json.loads((tmp_path / READY / "manifest.json").read_text(encoding="utf-8"))
    assert manifest["verdict"] == "approved"
    assert manifest["files"][0]["sha256"] == hashlib.sha256((tmp_path / READY / "guide.html").read_bytes()).hexdigest()


def test_parts_are_named_as_a_person_would_look_for_them():
    names = set(parts(assess(DEMO_FOLDERS[2]), wording()))
    assert {"client", "people", "trial.csv", "payer rules", "letter wording", "fixed words", "pages of letter"} <= names
    assert read_case(DEMO_FOLDERS[2]).case.format not in names
