"""The steps of the stages and the chart of progress: what is drawn where, and what their words say."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from support import CASES

from docgen.evidence.fact import Evidence
from docgen.evidence.training import by_day, stage_now
from docgen.figures import progress_chart, session_ladder
from docgen.packet.wording import language_words
from docgen.scene import Circle, Rect, Text

WORDS = language_words()["figures"]
SAOIRSE = "saoirse-villalobos-ng"
NOTHING = Evidence(iter(()))


def steps(case):
    return [shape for shape in session_ladder.scene(case, NOTHING, WORDS).shapes if isinstance(shape, Rect)]


@of_each("name", CASES)
def test_the_step_to_train_at_is_black_those_behind_grey_those_ahead_open(name):
    case = CASES[name]
    now, found = stage_now(case), steps(case)
    assert [step.fill for step in found] == [0.75] * now + [0.0] + [1.0] * (8 - now)
    assert all(
        later.h == step.h and later.y == step.y and later.x > step.x
        for step, later in zip(found, found[1:], strict=False)
    )


def test_the_words_of_the_steps_name_stage_and_what_lies_behind_and_ahead():
    alt = session_ladder.scene(CASES[SAOIRSE], NOTHING, WORDS).alt
    assert (
        "Sessions are at Straight and corners." in alt
        and "Behind: Ready and safe, " in alt
        and alt.endswith("Out and about, Refresher.")
    )


def test_the_chart_has_a_dot_a_session_at_its_share():
    case = CASES[SAOIRSE]
    scene = progress_chart.scene(case, NOTHING, WORDS)
    dots = [shape for shape in scene.shapes if isinstance(shape, Circle)]
    sessions = by_day(case.sessions)
    shares = [sum(row.success for row in rows) / len(rows) for _, rows in sessions]
    axis = {shape.text: shape.y - 3 for shape in scene.shapes if isinstance(shape, Text) and shape.text.endswith("%")}
    top, floor = axis["100%"], axis["0%"]
    assert [(floor - dot.y) / (floor - top) for dot in dots] == pytest.approx(shares)
    days = [(on - sessions[0][0]).days for on, _ in sessions]
    assert [(dot.x - dots[0].x) / (dots[-1].x - dots[0].x) for dot in dots] == pytest.approx(
        [day / days[-1] for day in days]
    )


def test_the_words_of_the_chart_give_its_ends_and_its_stages():
    alt = progress_chart.scene(CASES[SAOIRSE], NOTHING, WORDS).alt
    assert "37 sessions from Jul 13 to Oct 9" in alt
    assert "Straight and corners from Jul 13, Tight places from Aug 14, Straight and corners from" in alt


@pytest.mark.parametrize("n_days", [1, 2, 30, 400])
def test_a_chart_of_any_length_stays_on_its_sheet(n_days):
    from datetime import timedelta

    from docgen.case.session import SessionRow

    rows = tuple(
        SessionRow(2 + i, date(2026, 1, 31) + timedelta(days=i * 3), i % 9, "left", i % 3 > 0) for i in range(n_days)
    )
    scene = progress_chart.scene(CASES[SAOIRSE].with_sessions(rows), NOTHING, WORDS)
    for shape in scene.shapes:
        if isinstance(shape, Text):
            assert 0 <= shape.x <= scene.w and shape.size <= shape.y <= scene.h
        if isinstance(shape, Circle):
            assert 0 <= shape.x <= scene.w and 0 <= shape.y <= scene.h


def test_without_sessions_or_stage_there_is_no_drawing():
    case = CASES["ilmari-okonjo-vale"]
    assert progress_chart.scene(case, NOTHING, WORDS) is None
    assert (
        session_ladder.scene(
            case.model_copy(update={"training": case.training.model_copy(update={"stage": None})}), NOTHING, WORDS
        )
        is None
    )
