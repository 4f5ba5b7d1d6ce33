"""A control for a chair that is already there: it is asked about its electronics, and no page speaks of a new chair."""

from __future__ import annotations

import re
import shutil

import pytest
from gathered import of_each
from in_full import text_in_full
from made import FOLDERS, ILMARI
from support import assess

from docgen.criteria.criterion import criteria
from docgen.errors import UserError
from docgen.packet.trees import trees

ELECTRONICS = """electronics_now = "an expandable controller of 2024, one port free"
takes_input = true
electronics_added = "a harness for the pads; nothing is replaced"
"""
OF_THE_CHAIR = ("base_code", "why", "width_mm", "turning_mm", "climbs_mm", "seat_width_mm", "seat_depth_mm")
NEVER = ("delivered chair", "chair is needed", "second wheelchair", "a scooter and", "base code", "Besides the chair")


def control_alone(tmp_path, electronics=ELECTRONICS):
    """A demo as a request for its control alone: nothing of the base, and no simpler way of moving about, recorded."""
    folder = shutil.copytree(FOLDERS[ILMARI], tmp_path / ILMARI)
    text = text_in_full(folder)
    head, chair, rest = re.split(r"(?m)(?<=^\[configuration\.chair\]\n)(.*?\n)(?=\[)", text, maxsplit=1, flags=re.S)
    kept = [line for line in chair.split("\n") if not line.startswith(tuple(f"{key} = " for key in OF_THE_CHAIR))]
    assert len(kept) < len(chair.split("\n"))
    entries = re.split(r"(?m)^(?=\[)", head + electronics + "\n".join(kept) + rest)
    simpler = re.compile(r'kind = "(cane_or_walker|manual_chair|scooter)"')
    text = "".join(e for e in entries if not (e.startswith("[[alternatives]]") and simpler.search(e)))
    assert text.count('kind = "new_chair"') == 1
    text = text.replace('kind = "new_chair"', 'kind = "control_only"')
    (folder / "case.toml").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("document", ["letter", "order", "cover", "plan"])
def test_no_page_speaks_of_a_new_chair(document, tmp_path):
    words = " ".join(trees(assess(control_alone(tmp_path)), [document])[document].plain().split())
    assert not [never for never in NEVER if never.lower() in words.lower()]
    assert not re.search(
        r"not recorded: (the chair's|overall|turning diameter|procedure code of the base|highest)", words
    )


def test_letter_and_order_tell_the_electronics(tmp_path):
    pages = trees(assess(control_alone(tmp_path)), ["letter", "order", "plan"])
    for document in ("letter", "order"):
        words = pages[document].plain()
        assert "an expandable controller of 2024, one port free" in words
        assert "a harness for the pads; nothing is replaced" in words
    assert "chair with this control" in pages["letter"].plain()
    assert "chair with the new control" in pages["order"].plain()
    assert "Delivery of the control is not recorded yet." in pages["plan"].plain()


def test_what_is_not_recorded_of_the_electronics_is_asked(tmp_path):
    assessed = assess(control_alone(tmp_path, electronics=""))
    verdict = next(v for v in assessed.verdicts if v.criterion.id == "electronics_take_the_control")
    assert verdict.answer.status == "cannot_tell" and "takes_input" in verdict.answer.to_settle


@pytest.fixture(scope="module")
def asked_alone(tmp_path_factory):
    """The answers to the request for its control alone."""
    return assess(control_alone(tmp_path_factory.mktemp("alone"))).verdicts


@of_each("question", [c.id for c in criteria().values()])
def test_no_question_that_is_open_is_about_the_chair_already_there(question, asked_alone):
    for verdict in asked_alone:
        if verdict.criterion.id == question and verdict.open:
            assert not re.search(r"chair\.(base_code|width_mm|turning_mm|climbs_mm|why)", verdict.answer.to_settle)
            assert not re.search(r"scooter|walker|second wheelchair|threshold", verdict.answer.reason)


def test_an_unknown_kind_of_request_is_answered_with_what_each_means(tmp_path):
    folder = control_alone(tmp_path)
    text = text_in_full(folder)
    (folder / "case.toml").write_text(text.replace('"control_only"', '"upgrade"'), encoding="utf-8")
    with pytest.raises(UserError, match="control_only: another control on a chair already there, which stays"):
        assess(folder)
