"""The tables of a case are laid out once for all that is made of it, and nobody's use of them is seen by another."""

from __future__ import annotations

from importlib import import_module

import pytest
from msgspec.structs import replace
from support import ASSESSED

import docgen.rendering.picture as picture
from docgen.packet.assess import Assessed
from docgen.packet.render import render
from docgen.packet.trees import tables, trees, trees_to_read
from docgen.packet.wording import wording
from docgen.rendering.picture import forget_pictures


@pytest.fixture
def fresh() -> Assessed:
    """A demo of which nothing is laid out yet."""
    return replace(ASSESSED["anselm-kirawira-boone"])


def test_several_documents_are_made_of_tables_laid_out_once(fresh, monkeypatch):
    module, laid_out = import_module("docgen.packet.trees"), []
    everything = module.everything
    monkeypatch.setattr(module, "everything", lambda *known: (laid_out.append(known), everything(*known))[1])
    letter = trees(fresh, ["letter"])["letter"].plain()
    assert trees(fresh, ["letter", "guide"])["letter"].plain() == letter and len(laid_out) == 1
    tables(fresh, wording("es"))
    assert len(laid_out) == 2


def test_other_documents_that_are_sent_are_other_tables(fresh):
    worded = wording()
    bare, enclosed = tables(fresh, worded), tables(fresh, worded, [*worded.sent, "guide"])
    assert "guide" not in {row["name"] for row in bare["documents"]}
    assert "guide" in {row["name"] for row in enclosed["documents"]}


def test_what_one_puts_into_the_tables_is_not_seen_by_another(fresh):
    tables(fresh, wording())["papers"] = ("a paper",)
    assert tables(fresh, wording())["papers"] == ()


def test_a_packet_takes_over_what_a_review_has_read_and_makes_the_same_files(monkeypatch):
    ready = ASSESSED["ilmari-okonjo-vale"]
    module, made = import_module("docgen.packet.trees"), []
    tree_of = module._tree
    monkeypatch.setattr(module, "_tree", lambda *known: (made.append(known[2].name), tree_of(*known))[1])
    expected = render(replace(ready), ["docx"])
    once, fresh = sorted(made), replace(ready)
    read = trees_to_read(fresh, wording())
    assert sorted(read) == once
    made.clear()
    assert render(fresh, ["docx"]) == expected
    assert sorted(made) == ["cover", "order"]  # which list files, and no review knows any
    assert render(fresh, ["docx"]) == expected and sorted(made) == sorted([*once, "cover", "order"])


def test_the_pictures_of_a_packet_are_drawn_at_once(monkeypatch):
    forget_pictures()
    drawn, draw = [], picture._a_page_each
    monkeypatch.setattr(picture, "_a_page_each", lambda scenes: (drawn.append(len(scenes)), draw(scenes))[1])
    together = render(replace(ASSESSED["ilmari-okonjo-vale"]), ["docx"], ["guide", "card", "letter"])
    assert len(drawn) == 1
    forget_pictures()
    assert render(replace(ASSESSED["ilmari-okonjo-vale"]), ["docx"], ["card"]).items() <= together.items()
    assert drawn[1] < drawn[0]
