"""What is tested is this checkout, in the suite and in every process it starts; and the linters see the same."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import docgen

ROOT = Path(__file__).resolve().parent.parent


def test_the_suite_runs_the_checkout():
    assert Path(docgen.__file__).resolve() == ROOT / "docgen" / "__init__.py"


def test_a_process_started_elsewhere_runs_the_checkout(tmp_path):
    """As the tests of the command start it: only an editable install, or PYTHONPATH, leads here."""
    script = (
        "import docgen, docgen.resources as r; print(docgen.__file__); print(r.folder('templates')); "
        "print(r.folder('cases'))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, cwd=tmp_path)
    package, *folders = [Path(line).resolve() for line in done.stdout.splitlines()] or [Path("nothing")]
    assert package == ROOT / "docgen" / "__init__.py", f"install this checkout: pip install -e '.[test]' {done.stderr}"
    assert folders == [ROOT / "templates", ROOT / "cases"]


def test_ci_runs_the_linters_after_the_commands_of_the_readme():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    readme, *linters = (
        script.index(words) for words in ("command_of_readme 2", "ruff check .", "ruff format --check .")
    )
    assert all(readme < at for at in linters)
