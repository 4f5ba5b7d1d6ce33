"""What a session is made of, and when none is planned: activities by age and interest, and two people where it takes
two."""

from __future__ import annotations

from datetime import date, time

import pytest
from gathered import of_each
from made import ILMARI, SAOIRSE, items, rebuilt
from support import ASSESSED

from docgen.case.stage import TASK_NAMES, TASKS
from docgen.case.training import Hours
from docgen.documents.activities import Activity, activities, chosen_activities, games, practice
from docgen.documents.row_rule import rule_told
from docgen.evidence.training import rules_of
from docgen.fit.schedule import lesson_of, people_wanted, sessions, starts
from docgen.packet.wording import language_words

CASE = ASSESSED[SAOIRSE].file.case


def of_age(years, **training):
    """Ilmari's case at an age, with what he likes."""
    case = ASSESSED[ILMARI].file.case
    on = case.training.start_on or case.request.requested_on
    client = case.client.model_copy(update={"born_on": None if years is None else date(on.year - years, 1, 1)})
    return case.model_copy(
        update={"client": client, "training": case.training.model_copy(update={"likes": (), **training})}
    )


@of_each(
    ("years", "step", "does"),
    [
        (1, "stop_go", "drive to a parent's voice"),
        (4, "stop_go", "music stops, chair stops"),
        (7, "each_way", "a course of cones, bringing back a card from each"),
        (12, "corners", "a course of your own: draw the map, then drive it without a bump"),
        (16, "real_day", "meet friends where they are"),
        (40, "touch", "go and get a drink from the table, empty-handed on the way there"),
    ],
)
def test_the_game_of_a_step_goes_by_age(years, step, does):
    rows = {row["step"]: row["does"] for row in games(of_age(years))}
    assert rows[step][0] == does and all(1 <= len(row) <= 3 for row in rows.values())


def test_what_somebody_likes_comes_first_and_what_they_do_not_like_is_left_out():
    of_music, of_letters = (
        next(row["does"] for row in games(of_age(7, likes=(liked,))) if row["step"] == "stop_go")
        for liked in ("loud music", "The mail")
    )
    assert of_music[0].startswith("a freeze game") and of_letters[0].startswith("deliver letters")
    without = next(row["does"] for row in games(of_age(7, dislikes=("music",))) if row["step"] == "stop_go")
    assert not [does for does in without if "music" in does] and without


def test_no_word_is_taken_for_another():
    offered = (Activity("build", ("cars",)), Activity("cards", ("cards",)))
    assert chosen_activities(offered, ("a card game",), ())[0].does == "cards"
    assert chosen_activities(offered, ("car",), ())[0].does == "build"
    assert chosen_activities(offered, (), ("it", "a")) == offered  # words too short to mean anything


def test_without_a_date_of_birth_the_age_is_a_gap_and_no_game_is_made_up():
    case = of_age(None)
    assert practice(case)["age"] is None and [*games(case)] == []


def test_no_activity_has_a_person_or_a_pet_as_its_mark():
    """Never people or pets as marks or as something to chase, prizes that depend on speed, food while driving."""
    words = "chase|catch|race|fastest|run over|eat |dog|cat |pet "
    for age in activities().ages:
        for activity in (*age.going, *age.turning, *age.places):
            assert not [word for word in words.split("|") if word in activity.does], activity.does


def test_a_plan_names_what_the_driver_likes_and_what_was_ordered(tmp_path):
    more = '\n[training]\ndislikes = ["crowds"]\nordered = "The therapist: three a week."\n'
    changed = {"case_toml": lambda text: text.replace("\n[training]\n", more)}
    told = "\n".join(items(rebuilt(tmp_path, ILMARI, ("plan",), **changed)["plan"], "Training Sessions"))
    assert "Ilmari likes planets and letters, and does not like crowds." in told
    assert "Ordered: The therapist: three a week." in told


# ---- two people ------------------------------------------------------------------------------------


def at_the_ramp(*week):
    """Saoirse at the step of the ramp alone, which takes her aide and the neighbor, with these hours."""
    training = CASE.training.model_copy(update={"stage": 7, "week": week})
    ramp = tuple(space for space in CASE.spaces if space.id == "front_ramp")
    return CASE.model_copy(update={"training": training, "spaces": ramp}).with_sessions(())


def free(day, start, end, who):
    return Hours(day=day, free=True, starts_at=time(start), ends_at=time(end), who=who)


AIDE = free("monday", 18, 20, "aide")


@pytest.mark.parametrize(
    ("week", "at"),
    [
        ((AIDE,), {}),  # nobody knows when the neighbor can
        ((AIDE, free("tuesday", 18, 20, "neighbor")), {}),
        ((AIDE, free("monday", 19, 21, "neighbor")), {0: time(19)}),
        ((free("monday", 18, 20, None), free("monday", 19, 21, "neighbor")), {0: time(19)}),  # the trainer's own hours
        ((AIDE, free("monday", 19, 21, "job_coach")), {}),  # not one of the two
    ],
)
def test_a_session_that_takes_two_is_planned_only_when_both_can_be_there(week, at):
    case = at_the_ramp(*week)
    assert people_wanted(case) == (("aide", "neighbor"),)
    assert starts(lesson_of(case)) == at and bool(sessions(case)) == bool(at)


def test_where_another_task_is_open_sessions_are_planned_as_ever():
    training = CASE.training.model_copy(update={"stage": 7})
    case = CASE.model_copy(update={"training": training}).with_sessions(())
    assert people_wanted(case) == () and lesson_of(case) is case.training


def test_plan_and_report_tell_one_state_of_one_day():
    from docgen.documents.document import dated_on
    from docgen.packet.trees import trees
    from docgen.packet.wording import wording

    made = trees(ASSESSED[SAOIRSE], ["plan", "progress", "lesson", "programming"])
    assert len({dated_on(wording().documents[name], CASE) for name in made}) == 1
    plan, report = (" ".join(made[name].plain().split()) for name in ("plan", "progress"))
    assert "Saoirse is at Straight and corners." in plan and "has reached Straight and corners" in report
    for text in (plan, report):
        assert "47 of 73" in text and "August 5, 2026" in text


def test_a_task_has_one_name_on_the_card_and_in_what_is_read_back():
    assert {task: language_words()["tasks"][task] for task in TASKS} == TASK_NAMES


@of_each(("step", "told"), [(0, (5, 1)), (2, (10, 3)), (6, (10, 3))])
def test_the_stops_that_a_page_asks_for_are_those_that_pass_a_step(step, told):
    rule, asked = rules_of(CASE)[step], rule_told(step, ASSESSED[SAOIRSE].evidence)
    assert (rule.in_a_row, rule.n_days) == (asked["in_a_row"], asked["stop_days"]) == told
