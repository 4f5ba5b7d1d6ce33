"""What a module of questions says of itself becomes a criterion: its parts, its defaults, and what is refused."""

from __future__ import annotations

from types import ModuleType

import pytest
from gathered import of_each
from whole_case import GONE, ROWS, ask, changed, grounds

from docgen.criteria.criterion import HEADINGS, PARTS, Answer, Grounds, _criterion, cannot_tell, met, not_met
from docgen.criteria.mend import Mend

TEXT = """Whether it is so.

Asks: Is it
    so: yes?
Why a payer asks: It matters.
What settles it: A key: the day.
Source: common practice, no source.
"""


def _module(**values: object) -> ModuleType:
    module = ModuleType("docgen.criteria.questions.is_it_so", TEXT)

    def answer(on: Grounds, **settings: object) -> Answer:
        return met("So.")

    for name, value in ({"HEADING": "order", "CLAIM": "It is so.", "SETTINGS": {}, "answer": answer} | values).items():
        setattr(module, name, value)
    return module


def test_a_criterion_has_the_name_of_its_file_and_the_four_parts_of_its_docstring():
    criterion = _criterion(_module())
    assert criterion.id == "is_it_so"
    assert criterion.text == {
        "Asks": "Is it so: yes?",
        "Why a payer asks": "It matters.",
        "What settles it": "A key: the day.",
        "Source": "common practice, no source.",
    }


def test_what_a_module_does_not_say_is_not_so():
    criterion = _criterion(_module())
    said = (criterion.danger, criterion.holds, criterion.fits_together, criterion.in_limits, criterion.quiet)
    assert all(value is False for value in said)
    assert (criterion.choices, criterion.shown_in, criterion.line_rank, criterion.window) == ({}, (), None, None)
    assert criterion.line_claim == "It is so."


@pytest.mark.parametrize("name", ["DANGER", "HOLDS", "FITS_TOGETHER", "IN_LIMITS", "QUIET"])
def test_what_a_module_says_is_taken(name):
    assert getattr(_criterion(_module(**{name: True})), name.lower()) is True


@of_each("heading", HEADINGS)
def test_what_is_met_is_no_news_under_the_headings_of_record_and_privacy_alone(heading):
    assert _criterion(_module(HEADING=heading)).quiet is (heading in ("record", "privacy"))


def test_a_heading_that_is_none_is_refused():
    with pytest.raises(ValueError, match="^criterion is_it_so: unknown heading 'orders'$"):
        _criterion(_module(HEADING="orders"))


@pytest.mark.parametrize("part", PARTS)
def test_a_docstring_that_lacks_a_part_or_leaves_it_empty_is_refused(part):
    line = next(line for line in TEXT.splitlines() if line.startswith(f"{part}:"))
    for text in (TEXT.replace(line, f"{part}:").replace("    so: yes?\n", ""), TEXT.replace(line, f"{part} none")):
        module = _module()
        module.__doc__ = text
        with pytest.raises(ValueError, match=f"^criterion is_it_so: its docstring lacks {part}$"):
            _criterion(module)


def test_a_module_without_a_docstring_lacks_every_part():
    module = _module()
    module.__doc__ = None
    with pytest.raises(ValueError, match="lacks Asks, Why a payer asks, What settles it, Source"):
        _criterion(module)


@pytest.mark.parametrize(
    ("not_for", "status"), [(("control_only",), "does_not_apply"), (("new_chair",), "met"), ((), "met")]
)
def test_a_question_does_not_arise_for_the_kinds_of_request_that_its_module_names(not_for, status):
    on = grounds(changed(("request.kind", "control_only")))
    answer = _criterion(_module(NOT_FOR=not_for)).ask(on)
    assert answer.status == status
    if status == "does_not_apply":
        assert answer.where == (("request", "kind"),)


@pytest.mark.parametrize("answer", [not_met, cannot_tell])
def test_an_open_answer_says_how_it_is_mended_and_is_no_danger_of_itself(answer):
    assert answer("Not so.", mend="Say it.").mend == Mend("Say it.")
    assert answer("Not so.", mend=Mend("Say it.", fill=("says",))).mend == Mend("Say it.", fill=("says",))
    assert answer("Not so.", mend="Say it.").to_settle == "Say it."
    assert answer("Not so.", mend="Say it.").danger is False and answer("Hurt.", mend="x", danger=True).danger is True


def test_a_met_answer_leaves_nothing_to_do_and_is_no_danger():
    assert met("So.").to_settle == "" and met("So.").danger is False and met("So.").holds is False


TO_THE_DOOR = {"id": "door", "name": "go to the door", "at_home": True, "needed_for": "other"}
UNCOUNTED = (
    "activities.+",
    TO_THE_DOOR | {"before": "not_done", "with_device": "watched", "minutes_before": 0, "minutes_with": 0},
)


@pytest.mark.parametrize(
    ("criterion", "changes", "stands"),
    [
        ("ruling_has_ground", [], "met"),
        ("ruling_has_ground", [("alternatives.0.measure", GONE)], "in_part"),
        ("independence_gained", [], "met"),
        ("independence_gained", [UNCOUNTED], "in_part"),
        (
            "stops_within_space",
            [
                ("configuration.chair.figures_from", "The supplier's test sheet."),
                ("supervision.0.stands_clear", "behind the chair"),
            ],
            "worked_out",
        ),
        ("stops_within_space", [("configuration.chair.figures_from", "The supplier's test sheet.")], "in_part"),
        ("stops_within_space", [], "in_part"),
        ("stops_within_space", [("spaces.0.clear_ahead_mm", 100)], "not_met"),
    ],
)
def test_a_claim_that_is_met_says_how_far(criterion, changes, stands):
    answer = ask(criterion, grounds(changed(*changes), ROWS))
    assert (answer.stands, answer.limit) == (stands, stands if answer.status == "met" and stands != "met" else "")
