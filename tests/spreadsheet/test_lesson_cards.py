"""Lesson cards typed as they are drawn: stops beside tries, help once a lesson, what will not count."""

from __future__ import annotations

import pytest
from support import run

from docgen.case.read import read_case
from docgen.case.session import help_rung
from docgen.case.stage import STEPS

HEAD = "Day,Task,How it went,Surprise stop"


@pytest.fixture
def case(tmp_path):
    folder = tmp_path / "robin"
    folder.mkdir()
    toml = 'format = "docgen case 1"\nid = "robin"\n[dates]\ndelivered_on = 2026-01-05\n'
    (folder / "case.toml").write_text(toml, encoding="utf-8")
    (folder / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    return folder


def taken(case, tmp_path, text, *answers):
    """Exit status, what is printed and the rows of the case, of a sheet of lessons taken in."""
    log = tmp_path / "cards.csv"
    log.write_text(text, encoding="utf-8")
    asked = [word for answer in ("which.stage=by task", *answers) for word in ("--map", answer)]
    code, out, err = run("rows", case, log, "--yes", *asked)
    return code, out, err, read_case(case).case.sessions


def lessons(*lines, more=""):
    return "\n".join((HEAD.replace("How it went", "Mark") + more, *lines)) + "\n"


STOPS = lessons(
    "2026-10-14,straight,alone,done",
    "2026-10-14,straight,alone,missed",
    "2026-10-14,straight,helped,",
    "2026-10-14,corner,not,helped",
)


def test_a_stop_beside_a_try_is_a_row_of_its_own_at_the_step_that_is_driven(case, tmp_path):
    code, _, err, rows = taken(case, tmp_path, STOPS)
    assert code == 2 and not rows and "'done' under 'Surprise stop' stands beside a try of driving" in err
    code, out, _, rows = taken(case, tmp_path, STOPS, "stop.done=alone")
    assert code == 0 and "3 stops stand beside a try, each now a row of its own: 1 alone, 1 helped, 1 missed" in out
    assert [(row.task, row.success, row.help, row.surprise, row.stage) for row in rows] == [
        ("straight", True, 0, None, STEPS.index("corners")),
        ("stop_word", True, 0, True, STEPS.index("corners")),
        ("straight", True, 0, None, STEPS.index("corners")),
        ("stop_word", False, None, True, STEPS.index("corners")),
        ("straight", True, help_rung("H"), None, STEPS.index("corners")),
        ("corner", False, None, None, STEPS.index("corners")),
        ("stop_word", True, help_rung("H"), True, STEPS.index("corners")),
    ]


def test_no_stop_is_made_of_a_no_and_a_no_beside_a_yes_is_asked(case, tmp_path):
    two = ("2026-10-14,straight,alone,no", "2026-10-14,straight,helped,no")
    assert len(taken(case, tmp_path, lessons(*two))[3]) == 2
    code, _, err, _ = taken(case, tmp_path, lessons(*two, "2026-10-14,straight,alone,yes"))
    assert code == 2 and "stop.no=missed" in err and "stop.yes=alone" in err


@pytest.mark.parametrize(("minutes", "on_stop"), [("12,,", None), ("4,5,6", 0.0)])
def test_minutes_of_a_try_are_those_of_its_stop_too(case, tmp_path, minutes, on_stop):
    each = minutes.split(",")
    lines = [f"2026-10-14,straight,alone,{stop},{n}" for stop, n in zip(("alone", "", ""), each, strict=True)]
    code, _, err, rows = taken(case, tmp_path, lessons(*lines, more=",Minutes"))
    assert code == 0, err
    assert [row.minutes for row in rows if row.task == "stop_word"] == [on_stop]


def test_a_stop_on_a_line_of_its_own_is_of_the_step_driven_next_to_it(case, tmp_path):
    sheet = lessons(
        "2026-10-14,stop word,alone,yes",
        "2026-10-14,corner,alone,",
        "2026-10-15,left,alone,",
        "2026-10-15,surprise stop,alone,yes",
        "2026-10-16,surprise stop,alone,yes",
    )
    code, _, err, rows = taken(case, tmp_path, sheet, "task.stop word=stop_word")
    assert code == 0, err
    assert [STEPS[row.stage] for row in rows] == ["corners", "corners", "each_way", "each_way", "stop_go"]


HELP = lessons("2026-10-14,straight,helped,,IV", "2026-10-14,straight,alone,,", more=",Most help")


def test_a_mark_of_the_card_wins_over_an_empty_help(case, tmp_path):
    code, out, _, rows = taken(case, tmp_path, HELP)
    assert code == 0 and [row.help for row in rows] == [help_rung("IV"), 0] and "WILL NOT COUNT" not in out


def test_the_help_of_a_lesson_beside_a_try_marked_alone_is_asked_about(case, tmp_path):
    sheet = HELP.replace("helped", "alone")
    code, _, err, _ = taken(case, tmp_path, sheet)
    assert code == 2 and "'alone' in row 2, and perhaps in others, stands beside 'IV' under 'Most help'" in err
    code, _, _, rows = taken(case, tmp_path, sheet, "help.beside a mark=mark")
    assert code == 0 and [row.help for row in rows] == [0, 0]
    assert "2,IV" in (case / "sessions.kept.csv").read_text(encoding="utf-8")


def test_what_will_not_count_is_told_before_all_else(case, tmp_path):
    sheet = lessons("2026-10-14,straight,yes,", "2026-10-14,straight,no,", "2026-10-14,surprise stop,alone,")
    _, out, _, rows = taken(case, tmp_path, sheet)
    told = out.splitlines()[1:3]
    assert len(rows) == 3 and all("WILL NOT COUNT: 1 of 3 rows" in line for line in told)
    assert "no help is written" in told[1] and "(row 2)" in told[1] and "whether it came as a surprise" in told[0]


CARD = lessons(
    "2026-10-14,straight,alone,,B,no,nothing,3,1,went well",
    '2026-10-14,straight,not,,"N, P",no,,,,',
    "2026-10-16,straight,alone,,,,,,,",
    '2026-10-16,straight,alone,,no,yes,"row A, the seat, by P.",,,',
    more=',"Bump, near",Ill since last time,"Changed since last time: row, what, by whom",Stiff before,Stiff after,'
    "What happened",
)


def test_the_printed_words_of_the_card_are_known_and_begin_counts_before_the_first_try(case, tmp_path):
    code, out, err, rows = taken(case, tmp_path, CARD)
    assert code == 0, err
    assert "kept as it is" not in out and not (case / "sessions.kept.csv").exists()
    assert [(row.contacts, row.near_misses, row.person_contacts) for row in rows] == [
        (1, None, None),
        (1, 1, 1),
        (None, None, None),
        (None, None, None),
    ]
    assert [row.new_count for row in rows] == [None, None, "ill since last time", None]
    assert [row.changed for row in rows] == [None, None, "row A, the seat, by P.", None]
    assert (rows[0].tone_before, rows[0].tone_after, rows[0].note) == (3, 1, "went well")


def test_other_letters_of_a_bump_are_asked_about(case, tmp_path):
    code, _, err, _ = taken(case, tmp_path, CARD.replace(",B,", ",x,"))
    assert code == 2 and "Which letters is 'x' under 'Bump, near'" in err
    code, _, _, rows = taken(case, tmp_path, CARD.replace(",B,", ",x,"), "touches.x=N")
    assert code == 0 and (rows[0].near_misses, rows[0].contacts) == (1, None)


def test_who_cleared_the_stops_and_who_a_mark_stand_behind_their_headings(case, tmp_path):
    one = lessons("2026-10-14,straight,alone,,E. S.", "2026-10-14,straight,alone,,no", more=",Stops cleared by")
    assert [row.cleared_by for row in taken(case, tmp_path, one)[3]] == ["E. S.", None]
    (case / "sessions.csv").unlink()
    two = one.replace("by\n", "by,Cleared by\n").replace("E. S.", "E. S.,no").replace("no\n", ",by phone\n")
    code, _, err, rows = taken(case, tmp_path, two)
    assert code == 0, err
    assert [row.cleared_by for row in rows] == ["Stops cleared by: E. S.", "Cleared by: by phone"]
