"""Day totals beside the rows: what they may hold, and every contradiction with its line."""

import pytest
from support import SMALL, SMALL_ROWS

from docgen.case.read import read_case
from docgen.errors import UserError
from docgen.evidence.gather import evidence

TASKS = SMALL + '\n[[trial.tasks]]\nid = "stop"\nname = "stop at the line"\nshows = "stop"\n'
HEAD = "date,method,task,attempts,done,contacts,person_contacts,stops_asked,stops_made,slowest_release_s,releases_s"


def written(tmp_path, totals, rows=None, toml=TASKS):
    """A folder of a case with these lines of totals; no trial.csv unless there are rows."""
    folder = tmp_path / "small"
    folder.mkdir()
    (folder / "case.toml").write_text(toml, encoding="utf-8")
    (folder / "totals.csv").write_text(totals, encoding="utf-8")
    if rows is not None:
        (folder / "trial.csv").write_text(rows, encoding="utf-8")
    return folder


def problems(tmp_path, totals, rows=None):
    folder = written(tmp_path, totals, rows)
    with pytest.raises(UserError) as failure:
        read_case(folder)
    return [str(problem).replace(f"{folder}/", "") for problem in failure.value.problems]


def test_totals_alone_are_a_trial(tmp_path):
    case = read_case(written(tmp_path, f"{HEAD}\n2026-03-03,pads,door,12,9,2,0,6,5,1.2,\n")).case
    assert case.records == () and case.tried == case.totals
    total = case.totals[0]
    assert (total.line, total.attempts, total.done, total.contacts) == (2, 12, 9, 2)
    assert (total.stops_asked, total.stops_made, total.slowest_release_s, total.minutes) == (6, 5, 1.2, None)


@pytest.mark.parametrize(
    ("cell", "times"),
    [("0.4 0.5 1.1", (0.4, 0.5, 1.1)), ("0.4; 0.5;1.1", (0.4, 0.5, 1.1)), ("0.4 / 0.5", (0.4, 0.5)), ("0.4", (0.4,))],
)
def test_release_times_stand_in_one_cell(tmp_path, cell, times):
    case = read_case(written(tmp_path, f"{HEAD}\n2026-03-03,pads,stop,3,3,,,,,,{cell}\n")).case
    assert case.totals[0].releases_s == times and case.totals[0].slowest_s == max(times)


def test_decimal_commas_of_a_sheet_with_semicolons(tmp_path):
    lines = f"{HEAD}\n2026-03-03,pads,stop,3,3,,,,,,X\n".replace(",", ";").replace("X", "0,4 1,1")
    assert read_case(written(tmp_path, lines)).case.totals[0].releases_s == (0.4, 1.1)


def test_one_method_stands_in_rows_on_one_day_and_in_totals_on_another(tmp_path):
    folder = written(tmp_path, f"{HEAD}\n2026-03-04,pads,door,12,9,,,,,,\n", SMALL_ROWS)
    case = read_case(folder).case
    assert [(row.date.day, row.n_done, row.n_attempts) for row in case.tried] == [(3, 1, 1), (3, 0, 1), (4, 9, 12)]


def test_a_day_and_method_in_both_names_both_places(tmp_path):
    assert problems(tmp_path, f"{HEAD}\n2026-03-03,pads,door,12,9,,,,,,\n", SMALL_ROWS) == [
        "totals.csv:2: 'pads' on 2026-03-03 stands here in totals and in rows at trial.csv:2. "
        "Keep one of the two: the rows where there are rows of the whole day, else the totals."
    ]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("2026-03-03,pads,door,0,0,,,,,,", "totals.csv:2: attempts is 0."),
        ("2026-03-03,pads,door,3,4,,,,,,", "totals.csv:2: 4 done of 3 attempts."),
        ("2026-03-03,pads,door,3,3,0,1,,,,", "totals.csv:2: 1 collisions with a person, but 0 collisions."),
        ("2026-03-03,pads,door,3,3,,,4,,,", "totals.csv:2: stops_made is blank."),
        ("2026-03-03,pads,door,3,3,,,,4,,", "totals.csv:2: stops_asked is blank."),
        ("2026-03-03,pads,door,3,3,,,4,5,,", "totals.csv:2: 5 stops made of 4 asked for."),
        ("2026-03-03,pads,stop,3,3,,,4,4,,", "totals.csv:2: the task 'stop' is a stop itself"),
        ("2026-03-03,pads,stop,3,3,,,,,0.8,0.4 0.7", "slowest_release_s is 0.8, and the slowest of releases_s 0.7."),
        ("2026-03-03,pads,stop,3,3,,,,,,0.4 quick", "totals.csv:2: releases_s is '0.4 quick', but it must be a plain"),
        ("2026-03-03,pads,door,many,3,,,,,,", "totals.csv:2: attempts is 'many', but it must be a plain number"),
        ("2026-03-03,pads,ramp,3,3,,,,,,", "totals.csv:2: unknown task 'ramp'."),
        ("2026-03-03,pads,door,3,,,,,,,", "totals.csv:2: done is blank."),
        (
            "2026-03-03,pads,door,3,3,,,,,,\n2026-03-03,pads,door,4,4,,,,,,",
            "totals.csv:3: 'door' with 'pads' on 2026-03-03 stands on line 2 already.",
        ),
    ],
)
def test_what_cannot_be_is_told_with_its_line(tmp_path, line, says):
    (told,) = problems(tmp_path, f"{HEAD}\n{line}\n")
    assert says in told and told.endswith(".")


def test_what_is_of_the_day_stands_the_same_in_each_line(tmp_path):
    head = "date,method,task,attempts,done,fatigue_before,order\n"
    (told,) = problems(tmp_path, f"{head}2026-03-03,pads,door,3,3,2,1\n2026-03-03,pads,stop,3,3,4,1\n")
    assert "totals.csv:3: fatigue_before is 4, and 2 on line 2 of the same day and method" in told


def test_without_rows_and_totals_the_missing_file_is_told(tmp_path):
    folder = written(tmp_path, "")
    (folder / "totals.csv").unlink()
    with pytest.raises(UserError, match="the rows of the trial are missing"):
        read_case(folder)


@pytest.mark.parametrize(
    ("counts", "says"),
    [
        ("stops_asked = 10, stops_on = 2026-03-05", "stops_made of 'pads' is blank"),
        ("stops_made = 9", "stops_asked of 'pads' is blank"),
        ("stops_asked = 9, stops_made = 10, stops_on = 2026-03-05", "10 stops made of 9 asked for with 'pads'"),
    ],
)
def test_stops_beside_the_rows_have_both_their_numbers(tmp_path, counts, says):
    case = tmp_path / "robin-example"
    case.mkdir()
    text = f'format = "docgen case 2"\nid = "robin-example"\n[trial.methods]\npads = {{ {counts} }}\n'
    (case / "case.toml").write_text(text, encoding="utf-8")
    (case / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    with pytest.raises(UserError) as refusal:
        read_case(case)
    assert [(str(problem.where)[-1], says in problem.what) for problem in refusal.value.problems] == [("4", True)]


def test_rows_of_a_case_without_methods_and_tasks_are_told_once_with_the_lines_to_write(tmp_path):
    case = tmp_path / "robin-example"
    case.mkdir()
    (case / "case.toml").write_text('format = "docgen case 2"\nid = "robin-example"\n', encoding="utf-8")
    rows = "date,method,task,success\n2026-03-03,pads,door,yes\n2026-03-03,pads,halt,no\n2026-03-04,stick,door,no\n"
    (case / "trial.csv").write_text(rows, encoding="utf-8")
    with pytest.raises(UserError) as refusal:
        read_case(case)
    methods, tasks = refusal.value.problems
    assert methods.what == "names the methods 'pads', 'stick', and the case has no method yet"
    assert tasks.what == "names the tasks 'door', 'halt', and the case has no task yet"
    assert 'below [trial.tasks], with "steer", "stop", "place" or "other" for ?: door = "?"; halt = "?"' in tasks.do


def test_a_name_that_is_no_entry_yet_is_told_in_the_form_of_the_file(tmp_path):
    case = tmp_path / "robin-example"
    case.mkdir()
    text = 'format = "docgen case 2"\nid = "robin-example"\n[spaces]\nhall_door = { profile = "indoor" }\n'
    (case / "case.toml").write_text(text, encoding="utf-8")
    (case / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    with pytest.raises(UserError) as refusal:
        read_case(case)
    (problem,) = refusal.value.problems
    assert problem.what == "'indoor' is no entry of [configuration.profiles]"
    assert problem.do == "Add [configuration.profiles.indoor], or take 'indoor' out here."


DAY = "date,method,task,attempts,done,contacts,unintended,distance_m,minutes,prompts_verbal,note"


def test_a_line_without_a_task_is_of_the_whole_day(tmp_path):
    lines = "2026-03-03,pads,door,12,9,2,,,,,\n2026-03-03,pads,,,,,1,260,22,,of the day\n"
    case = read_case(written(tmp_path, f"{DAY}\n{lines}")).case
    of_task, of_day = case.totals
    assert (of_task.of_whole_day, of_day.of_whole_day, of_day.n_attempts, of_day.unintended) == (False, True, 0, 1)
    assert (of_day.distance_m, of_day.minutes, of_day.note) == (260, 22, "of the day")


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (
            "2026-03-03,pads,door,12,9,,,,,,\n2026-03-03,pads,,,,,,,,3,",
            "prompts_verbal stands on a line of the whole day",
        ),
        ("2026-03-03,pads,,,,,1,,,,", "nothing but the whole day is there of 'pads' on 2026-03-03"),
        (
            "2026-03-03,pads,door,12,9,,1,,,,\n2026-03-03,pads,,,,,1,,,,",
            "unintended is told of the whole day, and of 'door'",
        ),
        (
            "2026-03-03,pads,door,2,1,,,,,,\n2026-03-03,pads,,,,,,9,,,\n2026-03-03,pads,,,,,1,,,,",
            "the whole day with 'pads'",
        ),
        ("2026-03-03,pads,door,,,,1,,,,", "attempts is blank"),
        ("2026-03-03,pads,door,0,0,,1,,,,", "a line with task, attempts and done blank"),
    ],
)
def test_what_a_line_of_the_whole_day_cannot_be(tmp_path, lines, says):
    assert any(says in problem for problem in problems(tmp_path, f"{DAY}\n{lines}\n"))


def test_the_slowest_release_of_the_whole_day_is_the_slowest_of_that_day(tmp_path):
    """A day sheet says it once; a task of its own would be a guess."""
    head = "date,method,task,attempts,done,slowest_release_s"
    lines = "2026-03-03,pads,door,12,9,\n2026-03-03,pads,,,,1.1\n"
    case = read_case(written(tmp_path, f"{head}\n{lines}")).case
    slowest = evidence(case).of("release_slowest", "pads")
    assert slowest is not None and slowest.value == 1.1 and "of 1 day only the slowest is known" in slowest.note
