"""A demo case in a folder of its own, somebody who has entered the desk over it, and where that case is there."""

from __future__ import annotations

import shutil

import pytest
from asking import Visitor, address_of
from support import DEMO_FOLDERS, NOT_REVIEWED

from docgen.case.base import Part, fields_of


@pytest.fixture
def source():
    """The demo that is copied."""
    return DEMO_FOLDERS[0]


@pytest.fixture
def case(tmp_path, source):
    shutil.copytree(source, tmp_path / source.name, ignore=NOT_REVIEWED)
    return tmp_path / source.name


@pytest.fixture
def visitor(case):
    return Visitor(case.parent).enter()


@pytest.fixture
def at(visitor, case):
    return address_of(visitor.get("/").text, case.name)


@pytest.fixture
def every_key():
    """A walk over a case: the path of each key that holds something, and what it holds."""
    return _keys


def _keys(node, path=()):
    for name in fields_of(type(node)):
        value = getattr(node, name)
        if isinstance(value, Part):
            yield from _keys(value, (*path, name))
        elif isinstance(value, tuple) and value and isinstance(value[0], Part):
            for at, entry in enumerate(value):
                yield from _keys(entry, (*path, name, at))
        elif value not in (None, ()):
            yield (*path, name), value
