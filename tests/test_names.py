"""Values and functions are named after what they hold, in words of the field or of Python."""

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from gathered import of_each

import docgen

PACKAGE = Path(docgen.__file__).parent
# words that say that something was found, said or made, and not what it is
EMPTY = frozenset("one those these found told said made held every theirs".split())
# keys of files that users write, which are read under these names
KEYS = {("need.py", "found"), ("training.py", "found"), ("connection_code_fits_motors.py", "one")}


def _named(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and name of all that a module gives a name to."""
    for node in ast.walk(tree):
        match node:
            case ast.Name(id=name, ctx=ast.Store()) | ast.Attribute(attr=name, ctx=ast.Store()):
                yield node.lineno, name
            case ast.arg(arg=name) | ast.FunctionDef(name=name) | ast.ClassDef(name=name):
                yield node.lineno, name


def _empty_names(source: str, file: str) -> list[str]:
    """Each name without content, with its place."""
    return [
        f"{file}:{line} {name}"
        for line, name in _named(ast.parse(source))
        if name.strip("_") in EMPTY and (file.rpartition("/")[2], name) not in KEYS
    ]


def test_no_name_leaves_open_what_it_holds():
    files = {path: path.relative_to(PACKAGE).as_posix() for path in sorted(PACKAGE.rglob("*.py"))}
    assert len(files) > 300
    assert [place for path, file in files.items() for place in _empty_names(path.read_text(), file)] == []


@of_each(
    "source",
    [
        "found = 1",
        "[one for one in ()]",
        "def told(): ...",
        "def answer(case, said): ...",
        "class Case:\n    held: int",
        "self.made = 1",
        "if (every := 1): ...",
        "for _, theirs in (): ...",
        "with a as _found: ...",
        "lambda those: 1",
    ],
)
def test_each_way_to_give_such_a_name_is_seen(source):
    assert len(_empty_names(source, "case.py")) == 1


def test_no_two_files_of_tests_have_one_name():
    """Each stands for a module of its own: of two with one name, the whole run refuses the second."""
    names = Counter(path.name for path in Path(__file__).parent.rglob("test_*.py"))
    assert [name for name, n_files in names.items() if n_files > 1] == []
