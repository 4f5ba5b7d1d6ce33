"""A part that touches the body at rest has no gap: none is asked for, and none is told."""

from __future__ import annotations

import re

import pytest
from made import ILMARI, rebuilt
from support import ASSESSED

from docgen.case.model import Case
from docgen.errors import UserError
from docgen.packet.trees import trees

MOUNT = {"id": "rest", "part": "headrest", "site": "skull_base", "touches": True}


def _case(**more):
    mounting = [MOUNT | more]
    return Case.model_validate({"format": "docgen case 1", "id": "x", "configuration": {"mounting": mounting}})


def test_its_gap_and_range_do_not_apply():
    (mount,) = _case().configuration.mounting
    assert {(lacks.of, lacks.because) for lacks in mount.not_applicable} == {
        ("gap_mm", "it touches the body at rest"),
        ("allowed", "it touches the body at rest"),
    }
    (mount,) = _case(touches=False).configuration.mounting
    assert mount.not_applicable == ()
    (mount,) = _case(not_applicable=[{"of": "gap_mm", "because": "it is a cushion"}]).configuration.mounting
    assert [lacks.of for lacks in mount.not_applicable] == ["gap_mm", "allowed"]


def _touching(text: str) -> str:
    """The first part of the mounting record, touching."""
    head = re.search(r"^\[\[configuration\.mounting\]\]\n(?:.+\n)+", text, re.MULTILINE)
    assert head
    part = re.sub(r"^gap_(?:mm|from_mm|to_mm|moved) = .*\n", "", head[0], flags=re.MULTILINE)
    return text.replace(head[0], f"{part}touches = true\n", 1)


def test_card_and_order_say_that_it_touches(tmp_path):
    made = rebuilt(tmp_path, ILMARI, ("card", "order"), case_toml=_touching)
    assert "it touches, no gap" in made["card"].plain() and "it touches the body at rest" in made["order"].plain()
    before = trees(ASSESSED[ILMARI], ["card"])["card"].plain()
    assert "it touches, no gap" not in before and before.count("not recorded") == made["card"].plain().count(
        "not recorded"
    )


def test_a_part_that_touches_and_has_a_gap_is_asked_about(tmp_path):
    with pytest.raises(UserError, match="touches the body, and has a gap of"):
        rebuilt(
            tmp_path,
            ILMARI,
            ("card",),
            case_toml=lambda text: re.sub(
                r"^(gap_mm = \d+)$", r"\1\ntouches = true", text, count=1, flags=re.MULTILINE
            ),
        )
