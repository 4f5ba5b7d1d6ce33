"""What a reader of a file finds in it, by other libraries than those that wrote it: one module from_<suffix>.py a
format.

words(file) -> list[str]    the words of the text, in order
NUMERALS = True             the numerals of numbered lists are among them
"""

from __future__ import annotations

from importlib import import_module
from importlib.util import find_spec
from types import ModuleType

import pytest


def reader_of(suffix: str) -> ModuleType:
    """The module that reads files of this suffix; a format without one fails by name."""
    name = f"{__name__}.from_{suffix}"
    if find_spec(name) is None:
        pytest.fail(f"no reader of .{suffix}: write tests/read_back/from_{suffix}.py", pytrace=False)
    return import_module(name)
