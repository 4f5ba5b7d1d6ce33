"""Headings of a clinic's own sheet: each in its unit, one order of days a column, and what is doubtful is asked."""

from __future__ import annotations

import pytest
from gathered import of_each

from docgen.spreadsheet.asking import Asking
from docgen.spreadsheet.cells import Grid, grids_of
from docgen.spreadsheet.headings import meant_by
from docgen.spreadsheet.layout import layout
from docgen.spreadsheet.understand import understood

IDS = {"hand_stick": "hand stick", "held_stick": "stick, held"}
TASKS = {"hall": "hall"}
FOOT_M = 0.3048  # exact, by the definition of the international foot of 1959


@pytest.fixture
def read(tmp_path):
    def reading(heading, *cells, days=("2026-03-02",), **answers):
        lines = [f"date,method,task,success,{heading}"]
        lines += [f"{days[at % len(days)]},hand_stick,hall,yes,{cell}" for at, cell in enumerate(cells)]
        path = tmp_path / "sheet.csv"
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
        return understood(
            grids_of(path), {"method": IDS, "task": TASKS}, {key.replace("__", "."): v for key, v in answers.items()}
        )

    return reading


@of_each("heading", ["ft", "Feet", "feet", "Distance (ft)", "Distance feet", "distance in feet"])
def test_a_heading_in_feet_is_read_in_feet(read, heading):
    sheet = read(heading, "26")
    assert not sheet.questions and float(sheet.rows[0]["distance_m"]) == pytest.approx(26 * FOOT_M)


def test_yards_are_three_feet(read):
    assert float(read("yd", "10").rows[0]["distance_m"]) == pytest.approx(30 * FOOT_M)


@pytest.mark.parametrize("heading", ["Feet", "Course feet", "course_ft"])
def test_an_answer_without_a_unit_takes_that_of_the_heading(read, heading):
    sheet = read(heading, "26", **{f"column__{heading}": "distance_m"})
    assert not sheet.questions and float(sheet.rows[0]["distance_m"]) == pytest.approx(26 * FOOT_M)


@pytest.mark.parametrize("answers", [{}, {"column__Length": "distance_m"}])
def test_a_length_without_a_unit_is_never_taken_as_meters(read, answers):
    heading = "Length" if "column__Length" in answers else "Distance"
    sheet = read(heading, "26", **answers)
    assert [q.key for q in sheet.questions] == [f"column.{heading}"] and "distance_m" not in sheet.rows[0]


def test_the_unit_can_be_answered_alone(read):
    sheet = read("Distance", "26", unit__Distance="ft")
    assert not sheet.questions and float(sheet.rows[0]["distance_m"]) == pytest.approx(26 * FOOT_M)
    wrong = read("Distance", "26", unit__Distance="mph")
    assert "unit.Distance" in [q.key for q in wrong.questions]


def test_days_of_one_column_have_one_order(read):
    sheet = read("note", "a", "b", "c", days=("9/24/2026", "10/1/2026", "10/15/2026"))
    assert [row["date"] for row in sheet.rows] == ["2026-09-24", "2026-10-01", "2026-10-15"] and not sheet.questions
    assert any("for '9/24/2026' can be read in no other order" in sentence for sentence in sheet.says)


def test_days_that_no_order_fits_are_asked_one_by_one(read):
    sheet = read("note", "a", "b", "c", days=("9/24/2026", "24/10/2026", "10/1/2026"))
    assert [q.key for q in sheet.questions] == ["date.10/1/2026"]


def test_a_day_that_every_order_gives_alike_decides_nothing(read):
    sheet = read("note", "a", "b", days=("10/10/2026", "10/1/2026"))
    assert [q.key for q in sheet.questions] == ["date"]


@of_each(
    ("heading", "column"),
    [
        ("Anstöße", "contacts"),
        ("heurts", "contacts"),
        ("Did not mean to", "unintended"),
        ("sin querer", "unintended"),
        ("Order that day", "order"),
        ("tired end", "fatigue_after"),
        ("sec", "seconds"),
    ],
)
def test_words_of_the_trade_are_known(heading, column):
    meant = meant_by(heading)
    assert meant is not None and meant.column == column


@pytest.mark.parametrize(
    ("heading", "column"),
    [("1st", "order"), ("Start", "fatigue_before"), ("Fin", "fatigue_after")],
)
def test_a_doubtful_heading_is_asked_with_its_nearest_column(read, heading, column):
    (question,) = read(heading, "1").questions
    assert question.options == (column, "keep")
    assert read(heading, "1", **{f"column__{heading}": column}).rows[0][column] == "1"
    assert not read(heading, "1", **{f"column__{heading}": "keep"}).questions


@pytest.mark.parametrize(
    ("heading", "columns"),
    [
        ("hits", ("contacts", "activations")),
        ("stop time", ("release_s", "stop_s")),
        ("Anstoss", ("contacts", "prompts_verbal", "prompts_physical")),
        ("Berührungen", ("contacts", "activations")),
        ("Spastik", ("spasms", "tone_before", "tone_after")),
        ("help", ("prompts_verbal", "prompted", "prompts_gesture", "prompts_physical")),
    ],
)
def test_a_heading_that_can_be_several_columns_is_asked_with_each(read, heading, columns):
    (question,) = read(heading, "1").questions
    assert question.options == (*columns, "keep")
    for column in columns:
        assert read(heading, "1", **{f"column__{heading}": column}).rows[0][column] == "1"


def test_words_under_help_say_which_prompts_they_are_and_can_stand_in_the_note(read):
    (question,) = read("help", "verbal", "").questions
    assert question.options == ("prompts_verbal", "prompted", "note", "keep")
    assert "prompted (whether there was any" in question.asks and "(a number" in question.asks
    (number,) = read("help", "verbal", "", column__help="prompts_verbal").questions
    assert number.key == "cell.help.verbal" and "--map 'column.help=note'" in number.asks
    assert "--map 'column.help=prompted'" in number.asks
    in_words = read("help", "verbal", "", column__help="prompted", prompted__verbal="yes", blank__help="0")
    assert [row["prompted"] for row in in_words.rows] == ["1", "0"]
    assert [row.get("note") for row in read("help", "verbal", "", column__help="note").rows] == ["help: verbal", None]


def test_a_column_without_a_place_can_stand_in_the_note_of_each_row(read):
    sheet = read("gehalten", "ja", "ja")
    assert not sheet.questions and any("--map 'column.gehalten=note'" in sentence for sentence in sheet.says)
    assert any("latched is another method" in sentence for sentence in sheet.says)
    assert not any("latched" in sentence for sentence in read("surface", "tile").says)
    in_note = read("gehalten", "ja", "nein", column__gehalten="note", latched__hand_stick="hand_stick")
    assert [row["note"] for row in in_note.rows] == ["gehalten: ja", "gehalten: nein"] and not in_note.kept


@pytest.mark.parametrize(("mark", "other"), [("ja", "nein"), ("x", "")])
@pytest.mark.parametrize("column", ["", "note"])
def test_one_control_latched_and_not_is_asked_which_method_each_is(read, mark, other, column):
    answers = {"column__gehalten": column} if column else {}
    (question,) = read("gehalten", mark, other, mark, **answers).questions
    assert question.key == "latched.hand_stick" and "2 of the 3 rows of 'hand_stick'" in question.asks
    sheet = read("gehalten", mark, other, **answers, latched__hand_stick="held_stick")
    assert [row["method"] for row in sheet.rows] == ["held_stick", "hand_stick"] and not sheet.questions
    assert "the 1 latched rows of 'hand_stick' are the method held_stick" in sheet.says


@pytest.mark.parametrize(("answer", "amounts"), [("0", ["1", "0", "2"]), ("not recorded", [None, None, None])])
def test_what_a_blank_means_beside_amounts_of_a_block_is_asked(read, answer, amounts):
    (question,) = read("verbal prompts", "1", "", "2").questions
    assert question.key == "blank.verbal prompts" and question.options == ("0", "not recorded")
    assert "2 of the 3 rows" in question.asks
    taken = read("verbal prompts", "1", "", "2", **{"blank__verbal prompts": answer})
    assert [row.get("prompts_verbal") for row in taken.rows] == amounts
    assert taken.kept == ({} if answer == "0" else {2: {"verbal prompts": "1"}, 4: {"verbal prompts": "2"}})


def test_an_amount_once_for_a_block_is_not_asked_about(read):
    assert not read("verbal prompts", "1", "", "").questions


@pytest.mark.parametrize(("first", "second"), [("1st", "2nd"), ("1.", "2."), ("1er", "2e"), ("1\u00ba", "2\u00ba")])
def test_which_came_first_may_be_written_as_an_ordinal(read, first, second):
    taken = read("order", first, second)
    assert not taken.questions and [row["order"] for row in taken.rows] == ["1", "2"]


def test_done_alone_is_what_became_of_an_attempt():
    grid = Grid("x", ((1, ("date", "control", "task", "done")), (2, ("2026-01-13", "a", "b", "yes"))), "")
    placed = layout((grid,), Asking({})).placed
    assert [column.column for column in placed] == ["date", "method", "task", "success"]


def test_a_sheet_that_is_no_trial_is_told_as_such_with_what_it_reads():
    grid = Grid("doors", ((1, ("Place", "Clear width (in)")), (2, ("Front door", "33"))), "CSV")
    asking = Asking({})
    assert layout([grid], asking) is None
    (question,) = asking.questions.values()
    assert "row 1 reads 'Place', 'Clear width (in)'" in question.asks and "doors into [spaces]" in question.asks
