"""docgen rows: all is shown first, nothing of theirs is lost, and what a case would refuse is told with its row."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest
from dialects import HEAD, METHODS, RECORD, TASKS, as_csv, as_xlsx, cells, comma, spaced, wanted
from support import run

from docgen.case.read import read_case
from docgen.case.session import help_rung
from docgen.evidence.gather import evidence
from docgen.months import MONTH

FIRST_LINE = "date,method,task,success,note\n"


@pytest.fixture
def case(tmp_path):
    folder = tmp_path / "robin"
    folder.mkdir()
    methods = "".join(f'[[trial.methods]]\nid = "{key}"\nname = "{name}"\n' for key, name in METHODS.items())
    tasks = "".join(f'[[trial.tasks]]\nid = "{key}"\nname = "{name}"\n' for key, name in TASKS.items())
    (folder / "case.toml").write_text(
        f'format = "docgen case 1"\nid = "robin"\n[trial]\n{methods}{tasks}', encoding="utf-8"
    )
    (folder / "trial.csv").write_text(FIRST_LINE, encoding="utf-8")
    return folder


@pytest.fixture
def sheet(tmp_path):
    path = tmp_path / "from the clinic.csv"
    path.write_bytes(
        as_csv([[*row, "surface" if at == 0 else "carpet"] for at, row in enumerate(cells(method=spaced))])
    )
    return path


def files(folder):
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_all_is_shown_and_nothing_written_without_a_yes(case, sheet):
    before = files(case)
    code, out, err = run("rows", case, sheet)
    assert "'hand joystick' is the method hand_joystick" in out and "8 rows on 2 days for trial.csv" in out
    assert code == 2 and "Nothing was written." in err and "--yes" in err and files(case) == before


def test_the_case_reads_what_was_written(case, sheet):
    original = sheet.read_bytes()
    code, out, _ = run("rows", case, sheet, "--yes")
    assert code == 0 and f"Wrote {case / 'trial.csv'}" in out
    rows = read_case(case).case.records
    assert [(r.date.isoformat(), r.method, r.task, str(int(r.success))) for r in rows] == [
        (row["date"], row["method"], row["task"], row["success"]) for row in wanted()
    ]
    assert sheet.read_bytes() == original
    mapping = tomllib.loads((case / "trial.map.toml").read_text(encoding="utf-8"))
    assert mapping["file"] == sheet.name and mapping["rows"] == 8 and mapping["columns"]["release_s"] == "release_s:s"
    assert (case / "trial.kept.csv").read_text(encoding="utf-8").startswith("row,surface\n2,carpet\n")


def test_rows_that_are_there_are_not_written_over(case, sheet):
    run("rows", case, sheet, "--yes")
    before = files(case)
    code, _, err = run("rows", case, sheet, "--yes")
    assert code == 2 and "holds 8 rows already" in err and "--add" in err and files(case) == before


def test_added_rows_come_behind_those_that_are_there(case, sheet, tmp_path):
    run("rows", case, sheet, "--yes")
    first = (case / "trial.csv").read_bytes()
    later = tmp_path / "later.csv"
    later.write_bytes(as_csv(cells(attempts=[a._replace(on=a.on.replace(month=10)) for a in RECORD])))
    code, _, err = run("rows", case, later, "--add", "--yes")
    assert (code, err) == (0, "")
    assert (case / "trial.before.csv").read_bytes() == first
    assert [row.date.month for row in read_case(case).case.records] == [9] * 8 + [10] * 8


def test_replaced_rows_are_kept_beside(case, sheet, tmp_path):
    run("rows", case, sheet, "--yes")
    first = (case / "trial.csv").read_bytes()
    other = tmp_path / "other.csv"
    other.write_bytes(as_csv(cells()[:-1]))
    run("rows", case, other, "--replace", "--yes")
    assert (case / "trial.before.csv").read_bytes() == first and len(read_case(case).case.records) == 7
    second = (case / "trial.csv").read_bytes()
    run("rows", case, sheet, "--replace", "--yes")
    assert (case / "trial.before-2.csv").read_bytes() == second
    # what is kept already is kept once, and how the rows that are gone were read is told no more
    for again in (other, sheet, sheet):
        run("rows", case, again, "--replace", "--yes")
    assert sorted(path.name for path in case.glob("trial.*")) == [
        "trial.before-2.csv",
        "trial.before.csv",
        "trial.csv",
        "trial.kept.csv",
        "trial.map.toml",
    ]


TOTALS = "Date,Control,Task,Attempts,Done,Unintended,Distance m,Minutes"


def of_totals(case, tmp_path, *lines, more=(), name="totals_sheet.csv"):
    path = tmp_path / name
    path.write_text("\n".join([TOTALS, *lines]) + "\n", encoding="utf-8")
    return run("rows", case, path, "--yes", *more)


def test_a_day_total_of_no_attempts_is_refused_at_the_door_as_check_refuses_it(case, tmp_path):
    before = files(case)
    code, _, err = of_totals(case, tmp_path, "2026-09-22,hand joystick,stop at the line,0,0,1,,")
    assert code == 2 and "totals_sheet.csv:2" in err and "attempts is 0" in err and files(case) == before
    assert "a line with task, attempts and done blank" in err


def test_a_row_without_a_task_is_of_the_whole_day(case, tmp_path):
    lines = ("2026-09-22,hand joystick,stop at the line,9,9,,,", "2026-09-22,hand joystick,whole day,,,1,260,22")
    code, out, _ = of_totals(case, tmp_path, *lines)
    assert code == 0 and "row 3 names no task and counts no attempt: it is of the whole day" in out
    of_task, of_day = read_case(case).case.totals
    assert of_day.of_whole_day and (of_day.unintended, of_day.distance_m, of_day.minutes) == (1, 260, 22)
    assert of_task.n_attempts == 9


def test_totals_of_a_day_that_has_rows_are_refused_at_the_door(case, sheet, tmp_path):
    run("rows", case, sheet, "--yes")
    code, _, err = of_totals(case, tmp_path, "2026-09-22,hand joystick,stop at the line,9,9,,,")
    assert code == 2 and "stands here in totals and in rows at" in err and not (case / "totals.csv").exists()


def test_a_corrected_sheet_is_read_by_the_answers_that_the_first_was_read_by(case, tmp_path):
    line = "2026-09-22,stick of the hand,stops at the lines,9,{},,,"
    code, _, err = of_totals(case, tmp_path, line.format(7))
    assert code == 2 and "method.stick of the hand" in err and "stops at the lines" not in err  # the plural is known
    answer = ("--map", "method.stick of the hand=hand_joystick")
    assert of_totals(case, tmp_path, line.format(7), more=answer)[0] == 0
    code, out, _ = of_totals(case, tmp_path, line.format(8), more=("--replace",), name="corrected.csv")
    assert code == 0 and "as answered for a sheet before, method.stick of the hand=hand_joystick" in out
    assert [total.done for total in read_case(case).case.totals] == [8]
    assert sorted(path.name for path in case.glob("totals.*")) == ["totals.before.csv", "totals.csv", "totals.map.toml"]


def test_what_is_open_is_asked_with_its_answers_and_nothing_is_written(case, tmp_path):
    path, before = tmp_path / "a.csv", files(case)
    path.write_bytes(as_csv(cells(day=lambda on: f"0{on.day - 20}/04/2026")))
    code, out, err = run("rows", case, path, "--yes")
    assert code == 2 and files(case) == before
    assert (
        "Is '02/04/2026' April 2, 2026 or February 4, 2026? --map 'date=day first' or --map 'date=month first'" in err
    )
    assert run("rows", case, path, "--yes", "--map", "date=day first")[0] == 0
    assert {row.date.isoformat() for row in read_case(case).case.records} == {"2026-04-02", "2026-04-03"}


def test_a_column_that_may_be_the_answer_is_not_told_as_none_of_the_case(case, tmp_path):
    path = tmp_path / "a.csv"
    heads = [{"task": "what", "success": "did it?"}.get(head, head) for head in HEAD]
    path.write_bytes(as_csv(cells(heads)))
    _, out, err = run("rows", case, path)
    assert "which.task=what" in err and "which.success=did it?" in err
    assert "is no column of" not in out + err


def test_a_name_that_the_case_does_not_have_may_be_written_first(case, tmp_path):
    path = tmp_path / "a.csv"
    path.write_bytes(as_csv([[{"door": "garden gate"}.get(str(cell), cell) for cell in row] for row in cells()]))
    err = run("rows", case, path)[2]
    assert "'garden gate', or is it still to be written below [trial.tasks]?" in err


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (["--map", "date"], "'date' is no answer"),
        (["--map", "colour=red"], "'colour' answers no question about this file"),
        (["--add", "--replace"], "one of the two"),
    ],
)
def test_answers_to_nothing_are_told(case, sheet, given, says):
    code, _, err = run("rows", case, sheet, *given)
    assert code == 2 and says in err


def test_what_the_case_would_refuse_is_told_with_the_row_of_the_sheet(case, tmp_path):
    path = tmp_path / "a.xlsx"
    path.write_bytes(as_xlsx(("T", [["A trial"], [], *cells(number=lambda value: value * 10_000, done=(1, 0))])))
    code, _, err = run("rows", case, path, "--yes")
    assert code == 2 and f"{path}:4: " in err and "must not be over" in err
    assert (case / "trial.csv").read_text(encoding="utf-8") == FIRST_LINE


@pytest.mark.parametrize(
    ("name", "data", "says"),
    [
        ("a.xlsx", b"PK\x03\x04 and no more", "cannot be read as a workbook"),
        ("a.ods", b"nothing of the kind", "cannot be read as a workbook"),
        ("a.csv", b"", "holds no cells"),
        ("a.csv", b"\x00\x01\x02\x03", "is neither a workbook nor a text"),
    ],
)
def test_a_file_that_is_no_spreadsheet_is_told(case, tmp_path, name, data, says):
    path = tmp_path / name
    path.write_bytes(data)
    code, _, err = run("rows", case, path)
    assert code == 2 and says in err and str(path) in err


def test_day_totals_go_to_their_own_file(case, tmp_path):
    path = tmp_path / "a.csv"
    rows = [["Datum", "Steuerung", "Aufgabe", "Versuche", "Erfolg", "Kollisionen", "Strecke (m)"]]
    rows.append(["22.09.2026", "pads", "door", "12", "9", "2", comma(40.5)])
    path.write_bytes(as_csv(rows, ";"))
    code, out, err = run("rows", case, path, "--yes")
    assert (code, err) == (0, "") and "1 row on 1 day for totals.csv" in out
    (total,) = read_case(case).case.totals
    assert (total.attempts, total.done, total.contacts, total.distance_m) == (12, 9, 2, 40.5)


def test_the_months_are_those_of_the_locales():
    from babel.dates import get_month_names

    from docgen.case.days_written import plain

    for locale in ("en", "de", "fr", "es"):
        for width in ("wide", "abbreviated"):
            for number, name in get_month_names(width, locale=locale).items():
                assert MONTH[plain(name).rstrip(".")] == number, (locale, name)


def test_a_case_without_methods_is_told_of_the_latched_one_at_once(case):
    (case / "case.toml").write_text('format = "docgen case 2"\nid = "robin"\n[trial.methods]\n', encoding="utf-8")
    log = case.parent / "log.csv"
    log.write_text(
        "date;control;task;ok;gehalten\n2026-09-14;Saug-Blas;door;ja;nein\n2026-09-16;Saug-Blas;door;ja;ja\n",
        encoding="utf-8",
    )
    code, _, err = run("rows", case, log)
    assert code == 2 and "the rows name 'Saug-Blas', 'Saug-Blas, latched'. Write first" in err
    assert 'saug_blas_latched = { name = "Saug-Blas, latched" }' in err


def test_a_case_without_methods_is_told_which_to_write(case, sheet):
    toml = case / "case.toml"
    toml.write_text('format = "docgen case 1"\nid = "robin"\n', encoding="utf-8")
    code, _, err = run("rows", case, sheet)
    assert code == 2 and "has no method in [[trial.methods]] yet, and the rows name 'hand joystick', 'pads'" in err
    assert 'Write first: [[trial.methods]] id = "hand_joystick", name = "hand joystick"; ' in err
    assert '[[trial.tasks]] id = "door", name = "door", shows = "?"' in err


def test_an_id_to_write_begins_with_a_letter_as_every_id_must(case, tmp_path):
    (case / "case.toml").write_text('format = "docgen case 2"\nid = "robin"\n[trial.methods]\n', encoding="utf-8")
    path = tmp_path / "log.csv"
    path.write_text("date,method,task,success\n2026-03-03,3 pads,36 in door,yes\n", encoding="utf-8")
    code, _, err = run("rows", case, path)
    assert code == 2 and 'method_3_pads = { name = "3 pads" }' in err
    assert 'task_36_in_door = { name = "36 in door", shows = "?" }' in err


def test_what_else_is_open_is_asked_beside_the_entries_that_lack(case, tmp_path):
    (case / "case.toml").write_text('format = "docgen case 1"\nid = "robin"\n', encoding="utf-8")
    path = tmp_path / "timed.csv"
    path.write_text("date,method,task,success,stop time\n2026-03-03,pads,door,yes,0.4\n", encoding="utf-8")
    code, _, err = run("rows", case, path)
    assert code == 2 and "has no method in" in err and "has no task in" in err
    assert "--map 'column.stop time=stop_s'" in err


def test_what_comes_only_after_an_answer_is_asked_with_it(case, tmp_path):
    path = tmp_path / "cued.csv"
    path.write_text(
        "date,method,task,success,cue\n" + "".join(f"2026-03-03,pads,door,yes,{n}\n" for n in ("2", "1", "")),
        encoding="utf-8",
    )
    code, _, err = run("rows", case, path)
    assert code == 2
    first, _, after = err.partition("and then, with")
    assert "--map 'column.cue=" in first and "--map 'blank.cue=0'" in after and "blank.cue" not in first
    both = ("--map", "column.cue=prompts_verbal", "--map", "blank.cue=0")
    assert run("rows", case, path, *both, "--yes")[0] == 0


def test_what_comes_after_the_answer_to_a_question_that_comes_after_one_is_asked_with_it_too(case, tmp_path):
    """The first list reads as complete: a second refusal cost a run."""
    path = tmp_path / "spoken.csv"
    rows = "".join(f"2026-03-03,pads,door,yes,{cue}\n" for cue in ("spoken", "", "spoken", ""))
    path.write_text("date,method,task,success,cue\n" + rows, encoding="utf-8")
    code, _, err = run("rows", case, path)
    given = ("column.cue=prompted", "prompted.spoken=yes", "blank.cue=not recorded")
    assert code == 2 and all(f"--map '{answer}'" in err for answer in given)
    assert err.index("column.cue=prompted:") < err.index("prompted.spoken=yes") < err.index("blank.cue=not recorded")
    assert run("rows", case, path, *(part for answer in given for part in ("--map", answer)), "--yes")[0] == 0


def test_what_the_write_would_refuse_is_told_with_the_questions(case, tmp_path):
    """It was told only once each was answered: a step lost, and no row written."""
    path, before = tmp_path / "totals_sheet.csv", files(case)
    head = "date,control,task,attempts,done,verbal prompts,distance m"
    of_day = "2026-09-22,stick of the hand,,,,{},260"
    for release, is_refused in (("1", True), ("", False)):
        rows = ["2026-09-22,stick of the hand,stop at the line,9,9,,", of_day.format(release)]
        path.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
        code, _, err = run("rows", case, path, "--yes")
        assert code == 2 and "method.stick of the hand" in err and files(case) == before
        assert (f"{path}:3: prompts_verbal stands on a line of the whole day" in err) is is_refused


def test_questions_are_asked_one_after_another_on_a_terminal(case, tmp_path, monkeypatch):
    import sys

    path = tmp_path / "a.csv"
    path.write_bytes(as_csv(cells(day=lambda on: f"0{on.day - 20}/04/2026", method=lambda name: f"the {name}")))
    given = iter(["neither", "day first", "hand_joystick", "pads"])
    monkeypatch.setattr("typer.prompt", lambda *_, **__: next(given))
    monkeypatch.setattr(sys, "stdin", type("Terminal", (), {"isatty": lambda _: True})())
    from docgen.commands.record import rows

    rows(case, path, yes=True)
    assert next(given, None) is None
    assert [row.date.isoformat() for row in read_case(case).case.records][:1] == ["2026-04-02"]


def test_methods_and_tasks_written_by_name_are_known(case, sheet):
    names = {"methods": METHODS, "tasks": TASKS}
    lists = "".join(
        f'[trial.{kind}.{key}]\nname = "{name}"\n' for kind, entries in names.items() for key, name in entries.items()
    )
    (case / "case.toml").write_text(f'format = "docgen case 2"\nid = "robin"\n{lists}', encoding="utf-8")
    code, out, err = run("rows", case, sheet, "--yes")
    assert (code, err) == (0, "") and "'hand joystick' is the method hand_joystick" in out
    assert len(read_case(case).case.records) == len(RECORD)


@pytest.mark.parametrize(
    ("form", "head"), [("docgen case 1", "[[trial.methods]]"), ("docgen case 2", "[trial.methods]")]
)
def test_a_missing_entry_is_told_in_the_form_of_the_file(case, sheet, form, head):
    (case / "case.toml").write_text(f'format = "{form}"\nid = "robin"\n', encoding="utf-8")
    code, _, err = run("rows", case, sheet)
    assert code == 2 and f"has no method in {head} yet" in err


LESSONS = """Datum;Lektion;Aufgabe;Stufe;geschafft;Prompt level;Beinahe;Coach
12.01.2026;1;corner;corners;ja;I;0;Tante
13.01.2026;2;the corner;Straight and corners;nein;dv;1;Tante
"""


def lessons_of(case):
    return [
        (row.date.isoformat(), row.stage, row.task, row.success, row.help, row.near_misses, row.coach)
        for row in read_case(case).case.sessions
    ]


def delivered(case, day="2026-01-05"):
    toml = case / "case.toml"
    toml.write_text(f"{toml.read_text()}[dates]\ndelivered_on = {day}\n", encoding="utf-8")


@pytest.mark.parametrize("written", ["2026-01-05", '"5 January 2026"'])
def test_a_sheet_of_days_after_the_delivery_is_no_trial_but_lessons(case, sheet, written):
    delivered(case, written)
    assert min(row["date"] for row in wanted()) > "2026-01-05"
    before = files(case)
    code, out, err = run("rows", case, sheet, "--yes")
    assert code == 2 and "for sessions.csv" in out and "No heading is known as the stage" in err
    assert "by task" in err and files(case) == before
    toml = case / "case.toml"
    toml.write_text(toml.read_text().replace("2026", "2027"), encoding="utf-8")
    assert run("rows", case, sheet, "--yes")[0] == 0 and not (case / "sessions.csv").exists()


def test_a_log_of_lessons_becomes_sessions_with_steps_and_prompt_levels(case, tmp_path):
    delivered(case)
    log = tmp_path / "lessons.csv"
    log.write_text(LESSONS, encoding="utf-8")
    code, out, err = run("rows", case, log, "--yes")
    assert code == 2 and "Which task of the case is 'the corner'?" in err and not (case / "sessions.csv").exists()
    code, out, _ = run("rows", case, log, "--yes", "--map", "task.the corner=corner")
    assert code == 0 and f"Wrote {case / 'sessions.csv'}" in out
    assert "'Straight and corners' is the stage corners" in out and "'Lektion' is no column of sessions.csv" in out
    assert lessons_of(case) == [
        ("2026-01-12", 4, "corner", True, 0, 0, "Tante"),
        ("2026-01-13", 4, "corner", False, help_rung("DV"), 1, "Tante"),
    ]
    assert read_case(case).case.records == ()  # lessons are no evidence of a trial


CARDS = """Day,Step,Task,Mark,Surprise,Bump,Near,Coach
24 Aug 2026,Each way,turn left,alone,,,,MSF
24 Aug 2026,Each way,turn left,helped,,,,MSF
24 Aug 2026,Each way,turn left,not,,1,,MSF
24 Aug 2026,Each way,surprise stop,alone,yes,,,MSF
24 Aug 2026,Each way,surprise stop,not,no,,1,MSF
"""


def test_the_marks_of_lesson_cards_are_taken_in_without_a_question(case, tmp_path):
    """Typed as the card has them: done and help are one mark, tasks have the card's names."""
    log = tmp_path / "cards.csv"
    log.write_text(CARDS, encoding="utf-8")
    assert run("rows", case, log, "--yes")[0] == 0
    taken = [
        (row.task, row.success, row.help, row.surprise, row.contacts, row.near_misses)
        for row in read_case(case).case.sessions
    ]
    assert taken == [
        ("left", True, help_rung("I"), None, None, None),
        ("left", True, help_rung("H"), None, None, None),
        ("left", False, None, None, 1, None),
        ("stop_word", True, help_rung("I"), True, None, None),
        ("stop_word", False, None, False, None, 1),
    ]


def test_a_sheet_that_names_steps_and_no_control_is_one_of_lessons_whatever_its_days(case, tmp_path):
    log = tmp_path / "lessons.csv"
    log.write_text(LESSONS.replace("the corner", "corner"), encoding="utf-8")
    code, out, _ = run("rows", case, log, "--yes")
    assert code == 0 and "2 rows on 2 days for sessions.csv" in out


@pytest.mark.parametrize(
    ("answer", "stages"),
    [("by task", [4, 3]), ("all:real_day", [6, 6])],
)
def test_the_step_of_each_try_is_asked_where_the_log_has_none(case, tmp_path, answer, stages):
    delivered(case)
    log = tmp_path / "lessons.csv"
    log.write_text("date,task,success\n2026-02-01,corner,yes\n2026-02-01,left,no\n", encoding="utf-8")
    assert run("rows", case, log, "--yes")[0] == 2
    assert run("rows", case, log, "--yes", "--map", f"which.stage={answer}")[0] == 0
    assert [row[1] for row in lessons_of(case)] == stages


def test_sums_of_lessons_are_refused_and_no_try_is_made_up(case, tmp_path):
    delivered(case)
    log = tmp_path / "lessons.csv"
    log.write_text("date,control,task,tries,done\n2026-02-01,pads,door,10,9\n", encoding="utf-8")
    before = files(case)
    code, _, err = run("rows", case, log, "--yes")
    assert code == 2 and "holds sums of each session" in err and "none is made up" in err and files(case) == before


def test_a_log_of_lessons_is_known_by_its_headings_before_a_delivery_is_written(case, tmp_path):
    log = tmp_path / "lessons.csv"
    log.write_text("Lesson,Date,Place,Minutes,Skill,Tries,Done\n1,2/13/2026,Hall,30,start,10,9\n", encoding="utf-8")
    code, out, err = run("rows", case, log)
    assert code == 2 and "holds sums of each session" in err and out.startswith("2026-02-13 = { task = ")


def test_sums_of_lessons_are_told_as_the_lines_that_the_case_would_hold(case, tmp_path):
    delivered(case)
    log = tmp_path / "lessons.csv"
    log.write_text(
        "Lesson,Date,Place,Minutes,Skill,Tries,Done,Word prompts,Hands-on help,Who was there,Note\n"
        "1,2/13/2026,Home hall,30,start and stop,10,9,4,0,HOC + P.,\n"
        '2,2/20/2026,Home doors,35,doorway,10,8,3,1,HOC,"one rub, no more"\n',
        encoding="utf-8",
    )
    before = files(case)
    code, out, err = run("rows", case, log)
    assert code == 2 and "the lines above are what this sheet says" in err and files(case) == before
    toml = case / "case.toml"
    toml.write_text(f"{toml.read_text(encoding='utf-8')}\n[training.totals]\n{out}", encoding="utf-8")
    first, second = read_case(case).case.training.totals
    assert (first.on, first.task, first.tries, first.done, first.minutes) == (
        date(2026, 2, 13),
        "start and stop",
        10,
        9,
        30,
    )
    assert (first.place, first.prompts_verbal, first.prompts_physical, first.by) == ("Home hall", 4, 0, "HOC + P.")
    assert first.says is None and (second.prompts_physical, second.says) == (1, "one rub, no more")


@pytest.mark.parametrize(
    ("column", "amounts", "says"),
    [
        ("attempt", "3 3 4", "attempt 3 of 'hand_joystick' on 2026-09-22 is there twice"),
        ("person contacts", "1 0 0", "1 collisions with a person, but 0"),
    ],
)
def test_rows_that_contradict_each_other_are_told_with_the_row_of_the_sheet_and_not_written(
    case, tmp_path, column, amounts, says
):
    path = tmp_path / "sheet.csv"
    lines = [f"2026-09-22,hand joystick,stop at the line,yes,{amount}" for amount in amounts.split()]
    path.write_text("\n".join([f"date,method,task,success,{column}", *lines]) + "\n", encoding="utf-8")
    before = files(case)
    code, _, err = run("rows", case, path, "--yes")
    assert code == 2 and says in err and f"{path}:{3 if column == 'attempt' else 2}" in err and files(case) == before


def test_added_rows_that_contradict_those_that_are_there_are_not_written(case, tmp_path):
    path = tmp_path / "sheet.csv"
    row = "2026-09-22,hand joystick,stop at the line,yes,1"
    path.write_text(f"date,method,task,success,attempt\n{row}\n", encoding="utf-8")
    assert run("rows", case, path, "--yes")[0] == 0
    before = files(case)
    code, _, err = run("rows", case, path, "--add", "--yes")
    assert code == 2 and "attempt 1 of 'hand_joystick' on 2026-09-22 is there twice" in err and files(case) == before


def test_verbal_help_without_its_number_is_taken_as_given_or_not(case, tmp_path):
    path = tmp_path / "sheet.csv"
    lines = ["2026-09-22,hand joystick,stop at the line,yes,verbal", "2026-09-22,hand joystick,stop at the line,yes,"]
    path.write_text("\n".join(["date,method,task,success,help", *lines]) + "\n", encoding="utf-8")
    answers = ["--map", "column.help=prompted"]
    code, _, err = run("rows", case, path, "--yes", *answers)
    assert code == 2 and "Is 'verbal' under 'prompted' a yes?" in err
    answers += ["--map", "prompted.verbal=yes"]
    code, _, err = run("rows", case, path, "--yes", *answers)
    assert code == 2 and "Does a blank there mean none, or that it was not recorded?" in err
    answers += ["--map", "blank.help=0"]
    assert run("rows", case, path, "--yes", *answers)[0] == 0
    assert [row.prompted for row in read_case(case).case.records] == [True, False]


def test_verbal_help_that_is_marked_on_some_rows_alone_is_counted_as_the_least_there_was(case, tmp_path):
    path = tmp_path / "sheet.csv"
    tried = "hand joystick,stop at the line,yes"
    rows = [f"2026-09-{day},{tried},{mark}" for day in (22, 23) for mark in ("verbal", "", "")]
    path.write_text("\n".join(["date,method,task,success,help", *rows]) + "\n", encoding="utf-8")
    answers = ["--map", "column.help=prompted", "--map", "prompted.verbal=yes"]
    code, _, err = run("rows", case, path, "--yes", *answers)
    assert code == 2
    assert "1 of the 3 rows of hand_joystick on 2026-09-22 and 1 of the 3 rows of hand_joystick on 2026-09-23" in err
    code, out, _ = run("rows", case, path, "--yes", *answers, "--map", "blank.help=not recorded")
    assert code == 0 and "counted as the least there were" in out
    taken = read_case(case).case
    assert [row.prompt_marked for row in taken.records] == [True, None, None] * 2
    assert not any(row.prompted for row in taken.records)
    fact = evidence(taken)["prompt_marked.hand_joystick"]
    assert (fact.k, fact.n) == (2, 6) and "prompted.hand_joystick" not in evidence(taken)


def test_check_tells_what_was_kept_of_a_sheet_and_counts_for_nothing(case):
    (case / "trial.kept.csv").write_text("row,task,stop time\n3,,0.64\n4,,0.59\n", encoding="utf-8")
    _, out, _ = run("check", case, "--all")
    assert "KEPT OF YOUR SHEETS" in out and "- 'stop time': 2 values in trial.kept.csv." in out and "'task'" not in out


def test_check_counts_no_total_of_a_sheet_among_what_was_kept(case):
    kept = "row,control,task,stop time\n3,,,0.64\n4,,,0.59\n5,TOTAL,16.0,\n"
    (case / "trial.kept.csv").write_text(kept, encoding="utf-8")
    _, out, _ = run("check", case, "--all")
    assert "- 'stop time': 2 values in trial.kept.csv." in out and "'control'" not in out and "'task'" not in out
