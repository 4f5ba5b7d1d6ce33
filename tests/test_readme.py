"""The README is true: its job in one paragraph, its commands, its generated parts.

DOCGEN_REWRITE=1 writes the generated parts anew, and still fails this run.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from support import DEMO_FOLDERS
from typer.testing import CliRunner

from docgen.cli import app
from docgen.packet import wording

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
TEXT = README.read_text(encoding="utf-8")


def _output(*words: str) -> str:
    return CliRunner().invoke(app, list(words)).stdout


def _documents_table() -> str:
    rows = ["| document | written for | what it shows | what it never shows |", "|---|---|---|---|"]
    return "\n".join(
        [*rows, *(f"| `{d.name}` | {d.reader} | {d.about} | {d.leaves_out} |" for d in wording().documents.values())]
    )


def _check(tmp_path) -> str:
    lines = _output("check", "cases/anselm-kirawira-boone").splitlines()
    start = next(i for i, line in enumerate(lines) if "A standard joystick, by hand and by chin" in line)
    block = lines[start : next(i for i in range(start, len(lines)) if not lines[i])]
    return "```\n$ docgen check cases/anselm-kirawira-boone\n" + "\n".join([lines[0], "...", *block, "..."]) + "\n```"


def _fit(tmp_path) -> str:
    lines = _output("fit", "cases/pilar-nakashima-holt").splitlines()
    end = next(i for i, line in enumerate(lines) if line.strip().startswith("answer:"))
    return "```\n$ docgen fit cases/pilar-nakashima-holt\n" + "\n".join([*lines[2 : end + 1], "..."]) + "\n```"


def _build(tmp_path) -> str:
    return (
        "```\n"
        + _output("build", "cases", "--out", str(tmp_path / "out")).replace(f"{tmp_path}/", "").strip()
        + "\n```"
    )


GENERATED = {
    "documents": lambda tmp_path: _documents_table(),
    "check": _check,
    "fit": _fit,
    "build": _build,
}


@pytest.mark.parametrize("name", GENERATED)
def test_a_generated_part_is_current(name, tmp_path, monkeypatch):
    monkeypatch.chdir(ROOT)
    opening, closing = f"<!-- {name} -->\n", f"\n<!-- /{name} -->"
    assert TEXT.count(opening) == TEXT.count(closing) == 1  # without both, writing anew would cut the rest away
    written = TEXT.partition(opening)[2].partition(closing)[0]
    wanted = GENERATED[name](tmp_path)
    if written != wanted and os.environ.get("DOCGEN_REWRITE"):
        now = README.read_text(encoding="utf-8")
        before, _, rest = now.partition(opening)
        README.write_text(before + opening + wanted + closing + rest.partition(closing)[2], encoding="utf-8")
    assert written == wanted


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
