"""The README is true: its job in one paragraph, its commands, its generated parts.

DOCGEN_REWRITE=1 writes the generated parts and draws the pictures anew, and still fails this run.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import shutil
from pathlib import Path
from typing import NamedTuple

import pytest
from PIL import Image
from readme import approved, pictures
from support import DEMO_FOLDERS, DEMOS, run
from typer.testing import CliRunner

from docgen.cli import app
from docgen.packet.wording import wording
from docgen.rendering.formats import format_names
from docgen.resources import folder

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
TEXT = README.read_text(encoding="utf-8")
CASES = folder("cases")
READY = pictures.CASE
NO_DRAFT = ("ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng")
# head of a block of the usual case -> how the lines that are shown of it begin
_SHOWN = {
    "[findings]": ("each", "hand_weak"),
    "[configuration.items]": ("each", "E2330"),
}


def _output(*words: str) -> str:
    return CliRunner().invoke(app, list(words)).stdout


def _documents_table() -> str:
    rows = ["| document | written for | what it shows | what it never shows |", "|---|---|---|---|"]
    return "\n".join(
        [*rows, *(f"| `{d.name}` | {d.reader} | {d.about} | {d.leaves_out} |" for d in wording().documents.values())]
    )


def _case(request) -> str:
    """A finding and a line of the order, as the usual case has them."""
    text = (ROOT / "tests/case/usual/emeric-valcourt-sato/case.toml").read_text(encoding="utf-8")
    tables = re.split(r"\n+(?=\[)", text)
    shown = []
    for head, starts in _SHOWN.items():
        table = next(table for table in tables if table.startswith(head))
        kept, follows = [head], False
        for line in table.split("\n")[1:]:
            follows = line.startswith(starts) or (follows and line.startswith("  "))
            kept += [line] if follows else []
        shown.append("\n".join(kept))
    return "```toml\n" + "\n".join(shown) + "\n```"


def _check(request) -> str:
    lines = _output("check", "cases/anselm-kirawira-boone").splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("1. "))
    end = next(i for i in range(start, len(lines)) if re.search(r"case\.toml:\d+$", lines[i]))
    block = [*lines[:2], "...", *lines[start : end + 1]]
    return "```\n$ docgen check cases/anselm-kirawira-boone\n" + "\n".join(block) + "\n```"


class Built(NamedTuple):
    """What the README's command made of the demo cases: its exit status, its words, the folder it wrote."""

    status: int
    told: str
    out: Path


@pytest.fixture(scope="module")
def built(tmp_path_factory) -> Built:
    if wrong := approved.what_is_wrong():
        pytest.fail(wrong, pytrace=False)
    base = tmp_path_factory.mktemp("built")
    with contextlib.chdir(ROOT):
        status, told, _ = run("build", "cases", "--out", base / "out")
    return Built(status, told.replace(f"{base}/", ""), base / "out")


def _build(request) -> str:
    told = request.getfixturevalue("built").told.splitlines()
    assert [line.split(":")[0] for line in told] == [f"out/{name}" for name in DEMOS]
    return "```\n" + "\n".join([*told[:3], "..."]) + "\n```"


GENERATED = {
    "documents": lambda request: _documents_table(),
    "case": _case,
    "check": _check,
    "build": _build,
}


@pytest.mark.parametrize("name", GENERATED)
def test_a_generated_part_is_current(name, request, monkeypatch):
    monkeypatch.chdir(ROOT)
    opening, closing = f"<!-- {name} -->\n", f"\n<!-- /{name} -->"
    assert TEXT.count(opening) == TEXT.count(closing) == 1  # without both, writing anew would cut the rest away
    written = TEXT.partition(opening)[2].partition(closing)[0]
    wanted = GENERATED[name](request)
    if written != wanted and os.environ.get("DOCGEN_REWRITE"):
        now = README.read_text(encoding="utf-8")
        before, _, rest = now.partition(opening)
        README.write_text(before + opening + wanted + closing + rest.partition(closing)[2], encoding="utf-8")
    assert written == wanted


def test_build_writes_every_document_in_every_format_twice_the_same(built, tmp_path):
    again = [demo for demo in DEMO_FOLDERS if demo.name in ("bohdan-lacroix-mbeki", "saoirse-villalobos-ng")]
    assert run("build", *again, "--out", tmp_path)[0] == built.status == 1
    hashes = []
    for out, folders in ((built.out, DEMO_FOLDERS), (tmp_path, again)):
        hashes.append({})
        for demo in folders:
            manifest = json.loads((out / demo.name / "manifest.json").read_text(encoding="utf-8"))
            names = {entry["name"] for entry in manifest["files"]}
            written = (demo / "case.toml").read_text(encoding="utf-8")
            has = {
                "": True,
                "sessions": demo.name == "saoirse-villalobos-ng",
                "denial": demo.name == "marisol-quenneville-tran",
                "emergency": "[[emergency.steps]]" in written,
            }
            called_for = [document for document in wording().documents.values() if has[document.needs]]
            large = {f"{d.name}_large.{s}" for d in called_for if d.large_print for s in ("docx", "pdf")}
            calendar = {"training.ics"} if "[training.week]" in written else set()
            assert {"cover", "letter", "order", "guide", "plan", "lesson"} <= {document.name for document in called_for}
            assert large >= {"guide_large.docx", "guide_large.pdf"}
            assert names == {"packet.pdf", "lines.csv", "order.json"} | calendar | large | {
                f"{d.name}.{s}" for d in called_for for s in format_names()
            }
            for entry in manifest["files"]:
                data = (out / demo.name / entry["name"]).read_bytes()
                assert hashlib.sha256(data).hexdigest() == entry["sha256"]
                hashes[-1][demo.name, entry["name"]] = entry["sha256"]
            verdict = "approved" if demo.name == approved.CASE else "ready" if demo.name in NO_DRAFT else "draft"
            assert manifest["verdict"] == verdict
            assert {p.name for p in (out / demo.name).iterdir()} == names | {"manifest.json"}
    assert hashes[1].items() <= hashes[0].items() and hashes[1]


def test_the_readme_opens_with_the_job_in_one_paragraph():
    title, paragraph, heading = TEXT.split("\n\n")[:3]
    assert title == "# docgen" and heading.startswith("## ") and "\n" not in paragraph
    for word in ("letter", "guide", "training plan", "supplier", "payer", "case"):
        assert word in paragraph


def test_the_readme_names_every_command():
    from typer.main import get_command

    for command in get_command(app).commands:
        assert f"`docgen {command}" in TEXT


def test_the_commands_of_the_readme_are_the_ones_that_are_run():
    blocks = re.findall(r"^```sh\n(.*?)^```$", TEXT, re.S | re.M)
    assert len(blocks) == 2
    assert "docgen build cases --out out" in blocks[0] and blocks[1].strip().endswith("pytest")
    assert (ROOT / ".ci" / "run").read_text(encoding="utf-8").count("command_of_readme") == 3


def test_the_demo_cases_stand_beside_the_package_or_inside_it():
    assert len(DEMO_FOLDERS) >= 3


def test_the_readme_is_short():
    assert len(TEXT.splitlines()) <= 150


def test_its_pictures_show_the_pages_as_they_are_now(tmp_path):
    """The text of each page is kept in its picture."""
    moved_on = []
    for page, text, picture in pictures.drawn(tmp_path):
        shown = re.search(rf'<img src="{page.path.relative_to(ROOT).as_posix()}" [^>]*alt="[^"]{{40,}}"', TEXT)
        assert shown and page.path.stat().st_size < 150_000
        with Image.open(page.path) as kept:
            if kept.text[pictures.TEXT] != text:
                moved_on.append(page.document)
            assert kept.size == picture.size
        assert page.heading in text.splitlines() and "Reviewed by" in text and "Draft" not in text
    if moved_on and os.environ.get("DOCGEN_REWRITE"):
        pictures.draw()
    assert not moved_on, "DOCGEN_REWRITE=1 pytest tests/test_readme.py draws them anew"


def test_its_lines_of_python_run(tmp_path, monkeypatch, capsys):
    (program,) = re.findall(r"^```python\n(.*?)^```$", TEXT, re.S | re.M)
    (tmp_path / "cases").mkdir()
    for name in re.findall(r'"cases/([^"]+)"', program):
        shutil.copytree(CASES / name, tmp_path / "cases" / name)
    monkeypatch.chdir(tmp_path)
    exec(compile(program, "README.md", "exec"), {})
    *open_points, last = capsys.readouterr().out.splitlines()
    findings = json.loads(_output("check", str(CASES / "anselm-kirawira-boone"), "--json"))["findings"]
    assert (
        open_points == [f"{finding['claim']}: {finding['reason']}" for finding in findings if finding["blocks"]] != []
    )
    assert (
        last == f"{Path('out', READY, 'letter.pdf')}: reviewed by {approved.REVIEWED_BY} on {approved.REVIEWED_ON}"
        and (tmp_path / last.split(": ")[0]).is_file()
    )


def test_every_option_of_build_stands_in_the_readme():
    from typer.main import get_command

    options = [option for parameter in get_command(app).commands["build"].params for option in parameter.opts]
    assert [option for option in options if option.startswith("--") and f"`{option}`" not in TEXT] == []
