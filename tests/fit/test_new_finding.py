"""A finding that is one new file: it is known, calls for what names it, and a mistake in it is told by place."""

from __future__ import annotations

import re
import shutil

import pytest

import docgen.fit.finding
from cases import fit_of
from docgen.errors import UserError
from docgen.fit.finding import is_ability, vocabulary

NEW = (
    'name = "rotation with the jaw closed"\nsays = "The head turns only while the jaw is shut."\nrecord = "range '
    'in degrees with the jaw shut and open"\nable = true\n'
)


@pytest.fixture
def write_finding(tmp_path, monkeypatch):
    """Write one more finding beside the others."""
    folder = tmp_path / "findings"
    shutil.copytree(docgen.fit.finding._FOLDER, folder)
    monkeypatch.setattr(docgen.fit.finding, "_FOLDER", folder)

    def write(text):
        (folder / "head_turns_jaw_shut.toml").write_text(text, encoding="utf-8")

    return write


def test_a_new_finding_is_known_by_the_name_of_its_file(write_finding):
    with pytest.raises(UserError, match="unknown finding 'head_turns_jaw_shut'"):
        fit_of(["head_turns_jaw_shut"])
    write_finding(NEW)
    docgen.fit.finding._meanings_in.cache_clear()
    assert is_ability("head_turns_jaw_shut") and vocabulary()["head_turns_jaw_shut"].record.startswith("range")
    assert fit_of(["head_turns_jaw_shut"]).unanswered == ("head_turns_jaw_shut",)


@pytest.mark.parametrize(
    "text, message",
    [
        (NEW + 'site = "head"\n', r"head_turns_jaw_shut\.toml:5: site: Extra inputs"),
        ('name = "rotation"\nsays = "It turns."\n', r"record: Field required"),
        (NEW.replace("true", '"always"'), r"head_turns_jaw_shut\.toml:4: able: "),
    ],
)
def test_a_mistake_in_a_finding_is_told_with_its_file_and_line(write_finding, text, message):
    write_finding(text)
    with pytest.raises(UserError) as failure:
        vocabulary()
    assert len(failure.value.problems) == 1
    assert re.search(message, str(failure.value.problems[0]))
