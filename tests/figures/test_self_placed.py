"""A drawing that says itself where it stands: one new file, no edit of a template."""

from __future__ import annotations

from importlib import import_module
from types import SimpleNamespace

import pytest
from support import DEMO_FOLDERS

from docgen.errors import UserError
from docgen.figures.draw import figures
from docgen.packet.assess import assess
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.scene import Rect, Scene, Text

CASE = next(folder for folder in DEMO_FOLDERS if folder.name == "ilmari-okonjo-vale")


def drawn(case, evidence, words):
    return Scene(100, 30, words["shout_title"], (Rect(1, 1, 98, 28), Text(8, 20, words["shout"])))


@pytest.fixture
def with_drawing(monkeypatch):
    """The drawings with one more, made from these keys, that places itself."""

    def add(shown_in, made_from=("training.stop_word",)):
        own = SimpleNamespace(
            scene=drawn,
            WORDS={"shout": "stop", "shout_title": "The word that asks for a stop."},
            SHOWN_IN=shown_in,
            CAPTION="The word for a stop",
            MADE_FROM=made_from,
        )
        every = {**figures(), "shout": own}
        for module in ("docgen.figures.draw", "docgen.packet.trees", "docgen.documents.classes"):
            monkeypatch.setattr(import_module(module), "figures", lambda: every)

    return add


def test_it_stands_at_the_end_of_its_section_under_its_caption_with_its_own_words(with_drawing):
    with_drawing("plan: When It Does Not Go Well")
    assessed = assess(CASE)
    blocks = trees(assessed, ["plan"])["plan"].children
    at = next(at for at, node in enumerate(blocks) if node.kind == "figure" and node.name == "shout")
    heads = [node for node in blocks[:at] if node.kind == "heading"]
    assert heads[-1].plain() == "When It Does Not Go Well" and blocks[at].plain() == "The word for a stop"
    assert at + 1 == len(blocks) or blocks[at + 1].kind in ("heading", "page_break")
    assert "The word that asks for a stop." in render(assessed, ["html"], ["plan"])["plan.html"].decode()


def test_a_section_that_there_is_not_shows_none(with_drawing):
    with_drawing("plan: No such section")
    assert not [node for node in trees(assess(CASE), ["plan"])["plan"].walk() if "shout" in node.attrs.values()]


def test_it_may_show_no_more_than_the_reader_of_the_document_may_see(with_drawing):
    with_drawing("guide: Night", made_from=("diagnoses",))
    with pytest.raises(UserError, match="the guide must never show the drawing shout"):
        trees(assess(CASE), ["guide"])
