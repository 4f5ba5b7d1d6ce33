"""One key changed in the text of a case: that key, and not one other character."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from support import DEMO_FOLDERS

from docgen.case.base import Part
from docgen.case.edit import with_entry, with_key, without_entry
from docgen.case.keys import keys_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile, read_case, read_text
from docgen.errors import UserError

_SOME = 14  # keys of each demo that are looked at, drawn anew for nobody: the seed stands
_ENTRIES = (("findings", 0), ("goals", 0), ("cautions", 0), ("spaces", 0), ("people", 0), ("follow_up", 0))


def _recorded(node: Part, path: KeyPath = ()) -> Iterator[tuple[KeyPath, Any]]:
    for name in type(node).model_fields:
        value = getattr(node, name)
        if isinstance(value, Part):
            yield from _recorded(value, (*path, name))
        elif isinstance(value, tuple) and value and isinstance(value[0], Part):
            for at, entry in enumerate(value):
                yield from _recorded(entry, (*path, name, at))
        elif value not in (None, (), type(node).model_fields[name].default) and name not in ("id", "format"):
            yield (*path, name), value


def _other(value: Any) -> Any:
    """Another value of the same form, which any key of the kind takes; None where there is none."""
    if isinstance(value, bool):
        return not value
    if isinstance(value, date):
        return value.replace(day=value.day % 28 + 1)
    return f"{value} More." if isinstance(value, str) and " " in value else None


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)
def test_a_key_is_changed_alone_and_back_again_to_the_character(folder):
    file, n_changed, wrong = read_case(folder), 0, []
    for path, value in random.Random(3).sample(list(_recorded(file.case)), _SOME):
        if (other := _other(value)) is None:
            continue
        try:
            edited = with_key(file, path, other)
        except UserError:
            continue  # said for several, or held against another key: by hand
        n_changed += 1
        before, after = file.text.split("\n"), edited.text.split("\n")
        n_lines = sum(a != b for a, b in zip(before, after, strict=False)) if len(before) == len(after) else None
        if value_at(edited.file.case, path) != other or (n_lines not in (1, None)):
            wrong.append((path, other, n_lines))
        if "\n" not in str(value) and n_lines == 1 and with_key(edited.file, path, value).text != file.text:
            wrong.append((path, "not back"))
    assert wrong == []
    assert n_changed >= 3


@pytest.mark.parametrize("folder", DEMO_FOLDERS[:3], ids=lambda f: f.name)
def test_a_key_that_is_taken_away_can_be_written_again(folder):
    file, n_gone = read_case(folder), 0
    for path, value in random.Random(4).sample(list(_recorded(file.case)), _SOME):
        if keys_at(path[:-1])[str(path[-1])].is_required() or not isinstance(value, (str, bool, int, float, date)):
            continue
        try:
            gone = with_key(file, path, None)
            again = with_key(gone.file, path, value)
        except UserError:
            continue
        n_gone += 1
        assert value_at(again.file.case, path) == value
        assert again.file.case == file.case
    assert n_gone >= 3


@pytest.mark.parametrize("folder", DEMO_FOLDERS[:2], ids=lambda f: f.name)
def test_an_entry_goes_whole_or_not_at_all(folder):
    file, n_gone = read_case(folder), 0
    for entry in _ENTRIES:
        try:
            gone = without_entry(file, entry)
        except UserError:
            continue
        n_gone += 1
        left = value_at(gone.file.case, entry[:-1])
        assert left == value_at(file.case, entry[:-1])[1:]
    assert n_gone


def _small(text: str, tmp_path) -> CaseFile:
    folder = tmp_path / "robin"
    folder.mkdir()
    (folder / "trial.csv").write_text("date,method,task,success\n")
    return read_text(f'format = "docgen case 2"\nid = "robin"\n{text}', folder)


def test_comments_order_and_spaces_stay(tmp_path):
    text = '\n# who\n[client]   # the client\nname = "A B"  # checked\n\nweight_kg  =  61 # by scale\n'
    edited = with_key(_small(text, tmp_path), ("client", "weight_kg"), 62.5)
    assert edited.text.endswith(text.replace("61", "62.5"))
    gone = with_key(edited.file, ("client", "weight_kg"), None)
    assert gone.text.endswith('\n# who\n[client]   # the client\nname = "A B"  # checked\n\n')


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ('a = { says = "One.", measure = "2" }', 'a = { says = "One." }'),
        ('a = { measure = "2", says = "One." }', 'a = { says = "One." }'),
    ],
)
def test_a_key_within_a_line_goes_with_one_comma(line, left, tmp_path):
    file = _small(f"[findings]\nown_{line}\n", tmp_path)
    assert with_key(file, ("findings", 0, "measure"), None).text.endswith(f"[findings]\nown_{left}\n")


def test_what_others_take_over_is_changed_by_hand(tmp_path):
    text = """[configuration.mounting]
left = { site = "head_left", part = "left pad", mark = "two lines" }
right = { like = "left", site = "head_right", part = "right pad" }
"""
    file = _small(text, tmp_path)
    with pytest.raises(UserError, match="is said for more than one entry. Change it in case.toml by hand"):
        with_key(file, ("configuration", "mounting", 0, "mark"), "one line")
    assert with_key(file, ("configuration", "mounting", 1, "mark"), "one line").file.case.configuration.mounting[
        0
    ].mark == "two lines"  # fmt: skip


def test_a_new_entry_stands_in_the_form_of_its_list(tmp_path):
    file = _small('[findings]\nhand_weak = "Cannot close it."\n', tmp_path)
    added = with_entry(file, ("findings",), {"id": "head_control_fair", "says": "Holds it up for a minute."})
    assert "[findings.head_control_fair]" in added.text
    assert [finding.says for finding in added.file.case.findings] == ["Cannot close it.", "Holds it up for a minute."]


SHORT = """\
format = "docgen case 2"
id = "robin-example"
[findings]
hand_weak = ["Weak.", "90 g"]  # twice
hand_tremor = ["It shakes a lot.",
  "10 mm"]
[awaited]
ride = { supplier = "whether the pads may stay on" }
"""


@pytest.fixture
def short(tmp_path):
    (tmp_path / "robin-example").mkdir()
    (tmp_path / "robin-example" / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    return read_text(SHORT, tmp_path / "robin-example")


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        (("findings", 0, "measure"), "95 g", 'hand_weak = ["Weak.", "95 g"]  # twice'),
        (("findings", 0, "says"), "Very weak.", 'hand_weak = ["Very weak.", "90 g"]  # twice'),
        (("findings", 0, "measure"), None, 'hand_weak = { says = "Weak." }  # twice'),
        (("findings", 1, "measure"), "11 mm", 'hand_tremor = ["It shakes a lot.", "11 mm"]'),
    ],
)
def test_one_of_two_texts_is_changed_alone(short, path, value, line):
    edited = with_key(short, path, value)
    assert line in edited.text.split("\n") and value_at(edited.file.case, path) == value


def test_what_a_short_form_says_is_not_taken_away_in_silence(short):
    with pytest.raises(UserError, match="awaited.what is said in a short form. Change it in case.toml by hand"):
        with_key(short, ("awaited", 0, "what"), None)
