"""A demo case in a folder of its own, somebody who has entered the desk over it, and where that case is there."""

from __future__ import annotations

import shutil

import pytest
from asking import Visitor, address_of
from support import DEMO_FOLDERS, NOT_REVIEWED


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
