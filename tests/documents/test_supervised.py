"""Who is near, as the letter tells it: a whole sentence, however the helpers are named."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from made import ILMARI, SAOIRSE, rebuilt
from support import ASSESSED, CASES, DEMOS
from test_asked_of_a_chair import page

from docgen.case.model import Case
from docgen.documents.supervised import supervised
from docgen.packet.trees import trees
from docgen.packet.wording import wording

WORDS = wording().words
CASE = CASES[SAOIRSE]
PLACE = CASE.supervision[0].model_copy(update={"needs": None, "until": None, "until_stage": None})
NAMES = st.lists(st.sampled_from(["her aide", "one at the end", "two people", "fifteen minutes away"]), min_size=2)
JOINS = st.sampled_from([", ", ": ", "; ", " from ", " by ", " (", " with "])


def row(**changed: object) -> dict[str, object]:
    case = CASE.model_copy(update={"supervision": (PLACE.model_copy(update=changed),)})
    (told,) = supervised(case, WORDS)
    return dict(told)


@given(NAMES, JOINS)
def test_a_name_built_from_a_list_never_stands_before_the_verb(parts, join):
    told = row(by=join.join(parts))
    assert told["who"] == "someone" and not re.search(r"[:;()]", str(told["named"]))
    assert all(part in str(told["named"]) for part in parts)


@pytest.mark.parametrize(
    ("by", "needs", "who", "named"),
    [
        ("his grandmother", None, "his grandmother", ""),
        ("a classroom aide who has shown the stop", None, "a classroom aide who has shown the stop", ""),
        ("her partner from ten minutes away", None, "someone", "her partner from ten minutes away"),
        (
            "two people shown how: one at the end, one at the stop",
            2,
            "two people",
            "two people shown how, one at the end, one at the stop",
        ),
        (None, None, None, ""),
    ],
)
def test_helpers_are_the_subject_where_their_name_reads_as_one(by, needs, who, named):
    told = row(by=by, needs=needs)
    assert (told["who"], told["named"]) == (who, named)


def test_a_step_of_training_is_told_by_what_is_then_reliable():
    assert row(until="Tight places is passed; then in sight", until_stage=5)["until"] == (
        "driving through the doors and rooms of the home is reliable; then in sight"
    )
    assert row(until="she says so", until_stage=None)["until"] == "she says so"


@pytest.mark.parametrize("demo", DEMOS)
def test_no_letter_names_a_step_of_training_that_it_does_not_define(demo):
    letter = trees(ASSESSED[demo], ["letter"])["letter"].plain()
    assert not [name for name in WORDS["figures"]["ladder_names"] if name in letter and name != "Refresher"]


def test_what_holds_in_a_place_that_is_not_released_is_told_as_of_the_day_it_is(tmp_path):
    words = rebuilt(tmp_path, ILMARI, ("letter", "cover"))
    letter, cover = (" ".join(words[name].plain().split()) for name in ("letter", "cover"))
    assert "In class, only once I let him drive there, a trained classroom aide must stay within arm's reach" in letter
    assert "In the school hallways, a trained classroom aide must stay" in letter
    assert "Not before the therapist has released it: in class." in cover


def test_a_stop_that_was_not_timed_from_where_the_helper_stands_says_so():
    def untimed(case: Case) -> Case:
        near = (place.model_copy(update={"clear_reach_s": None}) for place in case.supervision)
        return case.model_copy(update={"supervision": tuple(near)})

    said = "How soon it is stopped from there was not timed."
    assert said in page(ILMARI, "letter", untimed) and said not in page(ILMARI, "letter")


def test_where_a_helper_stands_while_the_chair_turns_is_told_as_written():
    assert row(stands_clear="in the doorway")["stands_clear"] == "in the doorway" and row()["stands_clear"] == ""
