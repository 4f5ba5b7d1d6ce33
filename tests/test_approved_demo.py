"""One demo is approved, and its approval stands as the program and its words are now.

DOCGEN_REWRITE=1 approves it anew, and still fails this run.
"""

from __future__ import annotations

import json

import pytest
from readme import approved
from support import run

from docgen.resources import folder


def test_the_approval_of_the_demo_stands():
    if wrong := approved.what_is_wrong():
        approved.renew()
        pytest.fail(wrong, pytrace=False)


def test_every_page_and_the_manifest_of_the_demo_say_who_reviewed_it(tmp_path):
    if wrong := approved.what_is_wrong():
        pytest.fail(wrong, pytrace=False)
    status, told, _ = run("build", approved.FOLDER, "--out", tmp_path, "--formats", "html")
    packet = tmp_path / approved.CASE
    manifest = json.loads((packet / "manifest.json").read_text(encoding="utf-8"))
    says = f"reviewed by {approved.REVIEWED_BY} on {approved.REVIEWED_ON}"
    assert status == 0 and says in told
    assert manifest["verdict"] == "approved" and {entry["review"] for entry in manifest["files"]} == {says}
    for page in packet.glob("*.html"):
        text = page.read_text(encoding="utf-8")
        assert approved.REVIEWED_BY in text and ">Draft" not in text, page.name


def test_no_other_demo_is_approved():
    assert [path.parent.name for path in folder("cases").glob("*/approval.toml")] in ([], [approved.CASE])


@pytest.mark.parametrize("change", ["a word", "a fact", "a record changed by hand", "no record"])
def test_an_approval_that_no_longer_stands_is_told_in_one_sentence(change, demo, monkeypatch):
    case = demo(approved.CASE)
    monkeypatch.setattr(approved, "FOLDER", case)
    approved_then = approved.docgen.approve_case(case, approved.REVIEWED_BY, approved.REVIEWED_ON)
    assert approved_then and approved.what_is_wrong() == ""
    record, written = case / "approval.toml", case / "case.toml"
    if change == "a word":
        monkeypatch.setattr("docgen.packet.trees.trees_to_read", lambda *_, **__: {})
    elif change == "a fact":
        written.write_text(written.read_text(encoding="utf-8").replace("555-0142", "555-0143"), encoding="utf-8")
    elif change == "no record":
        record.unlink()
    else:
        record.write_text(record.read_text(encoding="utf-8").replace("2026-04-21", "2026-04-19"), encoding="utf-8")
    wrong = approved.what_is_wrong()
    assert approved.CASE in wrong and wrong.count(": read its pages again") == 1 and "\n" not in wrong
    monkeypatch.setenv("DOCGEN_REWRITE", "1")
    approved.renew()
    assert approved.what_is_wrong() == ""
