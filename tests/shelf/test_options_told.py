"""What the page says of each control: counts, merits and burdens, what is not known, what comes next."""

from __future__ import annotations

import re
from datetime import date

import pytest
from choices import (
    ANSELM,
    MARISOL,
    PAGES,
    PILAR,
    TADEO,
    controls_of,
    findings_of,
    matters_of,
    text_of,
)
from msgspec.structs import replace
from support import ASSESSED

from docgen.documents.options import _when, person_today
from docgen.documents.options_findings import (
    CAN_HURT,
    GOOD,
    IF_SET,
    LESS_GOOD,
    NEITHER,
    NONE_FOUND,
    NOT_KNOWN,
    TOLD,
)
from docgen.documents.options_words import plain_words
from docgen.packet.options_page import options_scene, options_tree
from docgen.scene import Line, Poly
from docgen.shelf.judge import asked_of


def test_counts_are_the_rows_with_their_days_speed_and_range_and_no_chance_is_given(given):
    """Ranges from statsmodels 0.14, proportion_confint by Wilson at 95%: 13 of 14 0.685 to 0.987, 5 of 6 0.436 to
    0.970, 12 of 14 0.601 to 0.960, 4 of 6 0.2999 to 0.903; rounded outward to tenths."""
    tried = [row["tried"] for row in controls_of(given(ANSELM))]
    assert tried == ["Drives: 13 of 14 tries done, 1 not (range: 6 to 10 of 10). "
                     "Stops: 5 of 6 tries done, 1 not (range: 4 to 10 of 10).",
                     "Drives: 12 of 14 tries done, 2 not (range: 6 to 10 of 10). "
                     "Stops: 4 of 6 tries done, 2 not (range: 2 to 10 of 10)."]  # fmt: skip
    rows = [row for row in ASSESSED[ANSELM].file.case.tried if row.method == "head_pads"]
    assert (sum(row.n_done for row in rows), sum(row.n_attempts for row in rows)) == (16, 20)
    text = text_of(options_tree(*given(ANSELM)))
    assert (
        "Tries. January 20 and 27, 2026. Top speed: 0.89 mph (0.4 m/s). Place: the corridor and the dining room" in text
    )
    assert "So few tries: chance may play a part." in text
    for name, source in PAGES:
        text = text_of(options_tree(*given(name, source))).replace("chance may play a part", "")
        assert not re.search(r"\d ?%|\b1 in \d|likely|chance|probab", text)


def test_each_missed_stop_is_told_or_is_said_to_be_unrecorded(given):
    text = text_of(options_tree(*given(PILAR)))
    assert "Stops not done. A, June 2. She stopped late because her head stayed on the headrest" in text
    assert "A, June 9. Her neck was stiff" in text and "B, June" not in text
    case, matched, made = given(PILAR)
    ways = [
        replace(way, missed=tuple(replace(stop, note=None) for stop in way.missed)) for way in made.options[0].tried
    ]
    unnoted = replace(made, options=(replace(made.options[0], tried=tuple(ways)), *made.options[1:]))
    assert "A, June 2. What happened is not recorded." in text_of(options_tree(case, matched, unnoted))


def _cells(made, words):
    return next(row["cells"] for row in findings_of(made).rows if words in row["says"])


def test_a_control_that_avoids_what_a_finding_speaks_against_is_told_so(given):
    made = given(MARISOL, "shelf")
    assert _cells(made, "makes her neck hurt")[1] == ({"mark": GOOD, "says": "It needs no neck."},)
    assert _cells(made, "leaves the rear pad")[1] == ({"mark": GOOD, "says": "It has no rear pad."},)


def test_what_is_open_to_how_it_is_set_is_said_to_be(given):
    """The breath and head control was not tried; the tube was tried with drive that stops when the puff ends."""
    untried, tried = _cells(given(MARISOL, "shelf"), "In a spasm")
    assert untried == ({"mark": IF_SET, "says": "It stops when it is let go."},)
    assert tried == ({"mark": GOOD, "says": "It stops when it is let go."},)


def test_sounds_and_a_switch_of_modes_are_no_answer_to_a_need_for_tilt(given):
    (shift,) = (row for row in findings_of(given(TADEO, "shelf")).alike if "shift his weight" in row["says"])
    assert shift["points"] == ({"mark": IF_SET, "says": "It can move the seat too."},)
    (alike,) = (row for row in findings_of(given(MARISOL, "shelf")).alike if "has to come upright" in row["says"])
    assert alike["points"] == ({"mark": IF_SET, "says": "It can move the seat too."},)
    assert "shift her weight" in alike["says"]  # told once for both


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_what_is_not_known_is_said_and_each_question_is_listed(given, name, source):
    text = text_of(options_tree(*given(name, source)))
    for words in ("No question is open", "There is more to ask", "More was found", "Makes no difference"):
        assert words not in text
    for option, row in zip(given(name, source)[2].options, controls_of(given(name, source)), strict=True):
        assert all(plain_words()["ask"][feature] in row["unknown"] for feature in asked_of(option.judged))
        assert ("stops, tires and reaches it." in row["unknown"]) == (not option.tried)
    neither = {*NEITHER.values(), NOT_KNOWN, NONE_FOUND, TOLD}
    rows = findings_of(given(name, source)).rows
    assert {point["says"] for row in rows for cell in row["cells"] for point in cell if not point["mark"]} <= neither


@pytest.mark.parametrize(("name", "source"), PAGES)
def test_a_merit_and_a_burden_are_told_once_of_each_control(given, name, source):
    bearing = findings_of(given(name, source))
    for at, row in enumerate(controls_of(given(name, source))):
        says = [
            p["says"] for finding_row in (*bearing.rows, *bearing.also) for p in finding_row["cells"][at] if p["mark"]
        ]
        told = [sentence for text in says for sentence in re.findall(r"[^.]+\.", text)]
        assert len(told) == len(set(told)), told
        assert ("none in the record" in row["limits"]) <= (not bearing.less_good[at])
        marks = {p["mark"] for finding_row in (*bearing.rows, *bearing.also) for p in finding_row["cells"][at]}
        assert marks & {LESS_GOOD, CAN_HURT} or row["limits"] != "None found."
    helpers = [len(row["helpers"].split()) for row in controls_of(given(name, source))]
    assert max(helpers) / min(helpers) <= 1.4, helpers


def test_what_may_matter_comes_from_this_person_and_speaks_for_either(given):
    rows = {row["says"]: row["cells"] for row in matters_of(given(PILAR))}
    assert rows["A longer or harder push goes faster."] == ("yes", "no")
    assert rows["My body does not get stiffer."] == ("no", "yes")
    assert rows["It stops when I ask it to."] == ("3 of 6 tries", "6 of 6 tries")
    rows = {row["says"]: row["cells"] for row in matters_of(given(MARISOL, "shelf"))}
    assert rows["I move the seat by myself."] == ("it can", "it can") and rows["I can talk while I drive."] == (
        "no",
        "no",
    )
    assert rows["My neck can rest while I drive."] == ("no", "yes") and rows["The head shares the work."] == (
        "yes",
        "no",
    )


def test_it_begins_with_this_person_today(given):
    tree = options_tree(*given(MARISOL, "shelf"))
    assert [node.kind for node in tree.children[:3]] == ["heading", "paragraph", "callout"]
    box = tree.children[2].plain()
    assert "She now sits in a manual tilt-in-space chair, three years old, on loan from the Spinal Center" in box
    assert "She waits to be pushed there." in box and "Today: is pushed to the table." in box
    assert tree.children[0].plain() == "Which control to try next, Marisol?"
    assert options_tree(*given(TADEO, "shelf")).children[0].plain() == "Which control to try first, Tadeo?"
    assert person_today(given(TADEO, "shelf")[0].file.case) == {"now": [], "hard": []}
    assert "not recorded: the chair now" in text_of(options_tree(*given(TADEO, "shelf")))


def test_a_push_is_drawn_at_the_head_and_a_gap_where_there_is_none(given):
    pushed, near = (set(options_scene([option]).shapes) for option in given(PILAR)[2].options)
    assert any(isinstance(shape, Poly) for shape in pushed - near)
    assert pushed != near and not any(isinstance(shape, Poly) for shape in near - pushed)
    tube = options_scene([given(MARISOL, "shelf")[2].options[1]])
    (line,) = (shape for shape in tube.shapes if isinstance(shape, Line) and shape.width == 3.0)
    assert line.x1 == line.x2  # to neither side


def test_the_controls_are_named_over_every_table_and_below_the_drawing(given):
    tree = options_tree(*given(MARISOL, "shelf"))
    heads = [node.children[0].plain() for node in tree.walk() if node.kind == "table"]
    assert len(heads) == 3 and all("B. Sip-and-puff interface with four commands" in head for head in heads)
    (figure,) = (node for node in tree.walk() if node.kind == "figure")
    assert "B: Sip-and-puff interface (the box that reads it) with four commands" in figure.plain()


def test_words_are_explained_where_they_first_stand(given):
    text = text_of(options_tree(*given(PILAR)))
    assert text.count("speaking device") == 1 and "SGD (speaking device)" in text
    assert text.index("head array (pads at the head)") == text.lower().index("head array")
    assert "tone (stiffness of muscles)" in text and text.count("stiffness of muscles") == 1
    assert "tilt (the whole seat tips)-in-space" not in text_of(options_tree(*given(MARISOL, "shelf")))


def test_which_way_each_part_gives_is_told_as_far_as_it_is_recorded(given):
    untried, tried = (row["works"] for row in controls_of(given(MARISOL, "shelf")))
    assert "Which part gives which way is not recorded." in untried
    assert "Forward: a hard puff. Left: a soft sip. Right: a soft puff." in tried


def test_what_happens_next_says_who_and_when_and_what_a_no_leads_to(given):
    text = text_of(options_tree(*given(MARISOL, "shelf"), date(2026, 7, 9)))
    assert "Tell Theodora Wexcombe-Nair which to try, and why: 555-0121, weekdays, 8 am to 5 pm." in text
    assert "The therapist borrows A and B from the supplier in Lisbrane Heights. When: not recorded." in text
    assert "If you say no, things stay as they are." in text
    assert "Date: July 9, 2026." in text and "Facts on the controls: checked on July 2, 2026." in text
    assert "The therapist does not work for the supplier." in text
    assert "not recorded: who lends the controls" in text_of(options_tree(*given(PILAR)))


def test_a_harm_is_told_as_one_and_what_is_unknown_is_not_called_no(given):
    text = text_of(options_tree(*given(PILAR)))
    assert "The chair is at its fastest when letting go is slowest." in text
    assert {point["mark"] for point in _cells(given(PILAR), "slow to let go")[0]} == {CAN_HURT}
    assert "These points say what could be." in text
    assert "Can hurt: Pushing for speed makes the body stiffer" in text
    rows = {row["says"]: row["cells"] for row in matters_of(given(PILAR))}
    assert rows["It can rest while the chair is on."] == ("yes", "not known")


def test_what_nothing_changes_means_comes_from_the_goals_of_the_case(given):
    text = text_of(options_tree(*given(MARISOL, "shelf")))
    assert "Choose which room I am in while I am alone. Today: stays where she was left." in text
    assert "Good: nothing new to learn, set up or check. Less good: what is hard today stays hard." in text
    assert "not recorded: what the client wants to do" in text_of(options_tree(*given(TADEO, "shelf")))


def test_a_speed_that_was_driven_goes_to_the_nearest_mph():
    """0.7 m/s is 1.566 mph, by 0.44704 m/s in a mph (NIST SP 811, from memory)."""
    assert _when((date(2026, 3, 3),), 0.7)[-1] == "Top speed: 1.6 mph (0.7 m/s)."
