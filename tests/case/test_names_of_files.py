"""Ids and file names that some system forbids are refused on every one."""

from __future__ import annotations

import sys
from pathlib import PureWindowsPath

import pytest
from gathered import of_each
from support import SMALL, SMALL_ROWS, run

from docgen.case.files import forbidden_name

DEVICES = ["con", "prn", "aux", "nul", *(f"{kind}{n}" for kind in ("com", "lpt") for n in range(1, 10))]


@of_each(
    "name",
    [
        *DEVICES,
        "CON",
        "con.csv",
        "Aux.tar.gz",
        "com\u00b9",
        "conin$",
        "robin",
        "console",
        "com",
        "com10",
        "nul-1",
        "con_",
    ],
)
def test_the_names_of_devices_are_those_that_python_knows(name):
    if sys.version_info < (3, 13):
        assert bool(forbidden_name(name)) is PureWindowsPath(name).is_reserved()
    else:
        import ntpath

        assert bool(forbidden_name(name)) is ntpath.isreserved(name)


@pytest.mark.parametrize("name", ["con", "com1", "lpt9"])  # the test above has them all
def test_no_case_has_the_name_of_a_device(name, case_folder, tmp_path):
    status, _, err = run("new", tmp_path / "cases" / name)
    assert status == 2 and f"is no id: '{name}' is the name of a device on Windows." in err
    assert not (tmp_path / "cases").exists()
    folder = case_folder(SMALL.replace('"small"', f'"{name}"'), name=name)
    for words in (["check", folder], ["build", folder, "--out", tmp_path / "out"]):
        status, _, err = run(*words)
        assert status == 2 and f"case.toml:2: id cannot be used: '{name}' is the name of a device on Windows." in err


@pytest.mark.parametrize("name", ["con.csv", "trial?.csv", "a:b", "a|b.csv", "trial.csv ", "trial.", "nul"])
def test_no_file_of_rows_has_a_name_that_some_system_forbids(name, case_folder):
    folder = case_folder(SMALL.replace("[trial]\n", f'[trial]\nrows = "{name}"\n', 1))
    (folder / name).write_text(SMALL_ROWS, encoding="utf-8")
    status, _, err = run("check", folder)
    assert (status, err.count("\n")) == (2, 1) and "case.toml:12: 'trial" in err.replace(name, "trial")
