"""A text of TOML that is changed in one place keeps its comments, its order and its spaces in all others."""

from __future__ import annotations

import pytest
import tomli
from support import DEMO_FOLDERS

from docgen.case.toml_tree import TomlTree


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_a_case_comes_back_to_the_character(folder):
    text = (folder / "case.toml").read_text(encoding="utf-8")
    assert TomlTree(text).text == text


@pytest.mark.parametrize(
    "text",
    [
        "# only a comment\n",
        "[a] # head\n\n\n  b = 1\n\t# below\n",
        "a = { on = 2026-01-01 }\nb = [{ on = 2026-01-02 , x = 1 }]\n",
        "[a.b]\nx = 1\n[c]\ny = 1\n[a]\nz = 1\n[a.d]\n",
        "a.b = 1\nc = 1\na.d = 2\n",
        "a = {\n  b = 1, # one\n  # of its own\n  c = 2,\n}\n",
        "[[a]]\nx = 1\n[[a.b]]\ny = 1\n[[a]]\nx = 2\n",
    ],
)
def test_any_form_comes_back_to_the_character(text):
    assert TomlTree(text).text == text


def test_entries_that_stand_apart_are_never_drawn_together():
    with pytest.raises(ValueError, match="do not follow one another"):
        TomlTree("[[a]]\nx = 1\n[b]\ny = 1\n[[a]]\nx = 2\n")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a = { b = 1 }  # who\n", "a = { b = 1, new = 2 }  # who; told\n"),
        ("a = { on = 2026-01-01 }\n", "a = { on = 2026-01-01, new = 2 }  # told\n"),
        ("a = {b = 1}\n", "a = {b = 1, new = 2}  # told\n"),
        ("a = {}\n", "a = { new = 2 }  # told\n"),
        ("a = { b = 1,  # one\n  c = 2 }\n", "a = { b = 1,  # one\n  c = 2,\n  new = 2 }  # told\n"),
        (
            "a = {\n  b = 1,  # one\n  c = 2,  # two\n}\n",
            "a = {\n  b = 1,  # one\n  c = 2,  # two\n  new = 2,\n}  # told\n",
        ),
        ("a = {\n  b = 1  # one\n}\n", "a = {\n  b = 1,  # one\n  new = 2\n}  # told\n"),
        ("a.b = 1\na.c = 2\nd = 3\n", "a.b = 1\na.c = 2\na.new = 2  # told\nd = 3\n"),
        ("[a]\n\n# next\n[b]\n", "[a]\nnew = 2  # told\n\n# next\n[b]\n"),
        ("[a]\n  b = 1\n\n# next\n[a.c]\nd = 1\n", "[a]\n  b = 1\n  new = 2  # told\n\n# next\n[a.c]\nd = 1\n"),
        ("[a]\nb = 1", "[a]\nb = 1\nnew = 2  # told\n"),
    ],
)
def test_a_new_key_stands_behind_those_of_its_table(before, after):
    tree = TomlTree(before)
    tree.add(tree.table(("a",)), "new", "2", "told")
    assert tree.text == after
    assert tomli.loads(after)["a"]["new"] == 2


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a = { b = 1, c = 2 }  # who\n", "a = { c = 2 }  # who\n"),
        ("a = { c = 2, b = 1 }\n", "a = { c = 2 }\n"),
        ("a = { b = 1 }\n", "a = { }\n"),
        ("a = {\n  b = 1,  # one\n  c = 2,  # two\n}\n", "a = {\n  c = 2,  # two\n}\n"),
        ("a = {\n  c = 2,  # two\n  b = 1,  # one\n}\n", "a = {\n  c = 2,  # two\n}\n"),
        ("a = {\n  c = 2,  # two\n  b = 1  # one\n}\n", "a = {\n  c = 2  # two\n}\n"),
        ("a.c = 2\na.b = 1  # one\n# next\nd = 3\n", "a.c = 2\n# next\nd = 3\n"),
        ("[a]\nb = 1  # one\n\n# next\n[c]\n", "[a]\n\n# next\n[c]\n"),
    ],
)
def test_a_key_goes_with_its_comma_and_its_comment(before, after):
    tree = TomlTree(before)
    tree.take_out(tree.value(("a", "b")))
    assert tree.text == after
    assert "b" not in tomli.loads(after)["a"]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("[x]\ny = 1\n\n[a.b]\nc = 1\n\n# next\n[z]\n", "[x]\ny = 1\n\n\n# next\n[z]\n"),
        ("[a.b]\nc = 1\n# next\n[z]\n", "# next\n[z]\n"),
        ("[a.b]\nc = 1\n# of d\n[a.d]\ne = 1\n", "# of d\n[a.d]\ne = 1\n"),
        ("[a.d]\ne = 1\n[a.b]\nc = 1\n[a.b.f]\ng = 1\n# next\n[z]\n", "[a.d]\ne = 1\n# next\n[z]\n"),
        ("[a]\n# all\nb.c = 1\nb.d = 2\ne = 3\n", "[a]\n# all\ne = 3\n"),
        ("[a]\nb = { c = 1 }  # gone\ne = 3\n", "[a]\ne = 3\n"),
    ],
)
def test_an_entry_goes_and_the_comments_below_it_stay(before, after):
    tree = TomlTree(before)
    for spot in reversed(tree.spots(("a", "b"))):
        tree.take_out(spot)
    assert tree.text == after
    assert "b" not in tomli.loads(after).get("a", {})


@pytest.mark.parametrize(("at", "left"), [(0, "[[a]]\nx = 2\n# end\n"), (1, "[[a]]\nx = 1\n\n# end\n")])
def test_an_entry_of_a_list_goes_and_the_last_one_with_the_list(at, left):
    tree = TomlTree("[[a]]\nx = 1\n\n[[a]]\nx = 2\n# end\n")
    tree.take_out(tree.spots(("a", at))[0])
    assert tree.text.lstrip("\n") == left
    tree.take_out(tree.spots(("a", 0))[0])
    assert tree.text.strip("\n") == "# end"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("a = { b = 1 }  # who\n", "a = [\n  { b = 1 },\n  { b = 2 },\n]  # who\n"),
        ("a = [\n  { b = 1 },  # one\n]\n", "a = [\n  { b = 1 },  # one\n  { b = 2 },\n]\n"),
        ("[a]\nb = 1\n\n# next\n[z]\n", "[[a]]\nb = 1\n\n[[a]]\nb = 2\n\n# next\n[z]\n"),
        ("[[a]]\nb = 1\n\n# next\n[z]\n", "[[a]]\nb = 1\n\n[[a]]\nb = 2\n\n# next\n[z]\n"),
    ],
)
def test_another_entry_of_a_name_stands_behind_the_first(before, after):
    tree = TomlTree(before)
    assert tree.add_of_its_name(tree.spots(("a",))[0], {"b": "2"})
    assert tree.text == after
    assert [entry["b"] for entry in tomli.loads(after)["a"]] == [1, 2]


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("[a.b] # who\nx = 1\n[a.b.c]\ny = 2\n", "[a.z] # who\nx = 1\n[a.z.c]\ny = 2\n"),
        ("[a]\nb.x = 1\nb.y.w = 2  # one\n", "[a]\nz.x = 1\nz.y.w = 2  # one\n"),
        ('[a]\nb = { x = 1 }  # one\nc = "b"\n', '[a]\nz = { x = 1 }  # one\nc = "b"\n'),
        ("[[a.b]]\nx = 1\n\n[[a.b]]\nx = 2\n", "[[a.z]]\nx = 1\n\n[[a.z]]\nx = 2\n"),
        ("a = { b = 1, c = 2 }\n", "a = { z = 1, c = 2 }\n"),
    ],
)
def test_a_name_is_another_one_in_every_head_and_key(before, after):
    tree = TomlTree(before)
    for spot in tree.spots(("a", "b")):
        tree.rename(spot, "z")
    assert tree.text == after
    assert tomli.loads(after)["a"]["z"] == tomli.loads(before)["a"]["b"]
