"""Files and values made to hurt: each is refused in one sentence that names the file and the line."""

from __future__ import annotations

import html
import os
import tracemalloc
from pathlib import Path

import pytest
from gathered import of_each
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from in_full import tables_in_full
from mutate_tables import as_toml, spots
from support import SMALL, SMALL_ROWS

import docgen
from docgen.case.files import decoded, text_of
from docgen.case.read import MAX_CSV_BYTES, MAX_TOML_BYTES, read_case, read_tables
from docgen.case.rows import read_rows
from docgen.case.toml import Toml, read_toml
from docgen.criteria.payer import payers, read_payer
from docgen.errors import Problem, UserError, brief
from docgen.evidence.gather import evidence
from docgen.fit.feature import _FOLDER, _features_of


def told(call, *args) -> list[str]:
    with pytest.raises(UserError) as caught:
        call(*args)
    return [str(problem) for problem in caught.value.problems]


def test_a_csv_of_200_mb_is_refused_before_it_is_read(case_folder):
    folder = case_folder()
    with (folder / "trial.csv").open("wb") as stream:
        stream.truncate(200_000_000)
    tracemalloc.start()
    said = told(read_case, folder)
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert said == [
        f"{folder}/trial.csv:1: is 200,000,000 bytes, more than the {MAX_CSV_BYTES:,} allowed. Is this the right file?"
    ]
    assert most < 3_000_000


def test_a_file_that_grows_while_it_is_read_is_read_no_further_than_allowed():
    # its size is said to be nought, yet it holds kilobytes
    assert "allowed" in told(text_of, Path("/proc/self/smaps"), "smaps", 100)[0]


def test_a_link_out_of_the_case_is_refused_and_one_inside_is_not(case_folder, tmp_path):
    folder = case_folder()
    (folder / "trial.csv").rename(folder / "kept.csv")
    (folder / "trial.csv").symlink_to(folder / "kept.csv")
    assert len(read_case(folder).case.records) == 2
    (folder / "case.toml").rename(tmp_path / "other.toml")
    (folder / "case.toml").symlink_to(tmp_path / "other.toml")
    assert told(read_case, folder) == [
        f"{folder}/case.toml: is a link that leads out of the case folder. Put the file itself there."
    ]


def test_a_pipe_is_not_waited_for_and_is_called_what_it_is(tmp_path):
    os.mkfifo(tmp_path / "f.toml")
    assert told(text_of, tmp_path / "f.toml", "f.toml", 100) == ["f.toml: is no plain file. Put the file itself there."]


def test_the_least_and_greatest_measures_that_a_case_may_hold_are_reckoned_with(demo):
    """Every number of a case in turn as small and as large as its key allows; what is past that is refused at its
    line."""
    folder = demo("ilmari-okonjo-vale")
    raw = tables_in_full(folder)
    n_valid, seen, told_at_line = 0, set(), set()
    for node, key in [*spots(raw)]:
        own = node[key]
        if type(own) not in (int, float) or key in seen:
            continue
        seen.add(key)
        for value in (0, 5e-324, 0.01, 89.9999, 4999.0):
            node[key] = value
            try:
                evidence(read_tables(Toml(raw, "", "case.toml"), folder).case)  # a third of the time of its text
                n_valid += 1
            except UserError:
                if key in told_at_line:  # reading the text is most of the work
                    continue
                told_at_line.add(key)
                (folder / "case.toml").write_text(as_toml(raw), encoding="utf-8")
                with pytest.raises(UserError) as caught:
                    read_case(folder)
                failure = caught.value
                assert all(key in problem.what and "case.toml:" in problem.where for problem in failure.problems)
        node[key] = own
    assert len(seen) > 20 and n_valid > 50


# text of a case, and what is said of it
VALUES = {
    "lists in lists": ("x = " + "[" * 500 + "]" * 500, [":1:", "nested too deep"]),
    "lists in lists without end": ("\nx = " + "[" * 30_000, [":2:", "nested too deep"]),
    "tables in tables": ("\n\nx = " + "{a = " * 40 + "1" + "}" * 40, [":3:", "nested too deep"]),
    "a key of many parts": ("\n" + "a." * 100_000 + "a = 1", [":2:", "nested too deep"]),
    "a table of many parts": ("[" + ".".join(["'q'"] * 50_000) + "]", [":1:", "nested too deep"]),
    "a number of many digits": ("\nx = " + "9" * 5000, [":2:", "a number is too long"]),
    "a long number in base 16": ("\nx = 0x" + "f" * 6000, [":2:", "x is a number too large"]),
    "a number past 64 bits": ("[a]\nb = 9223372036854775808", [":2:", "a.b is a number too large"]),
    "a day of the year 1": ("[a]\nb = 0001-01-01", [":2:", "a.b is 0001-01-01", "1900-01-01 and 2199-12-31"]),
    "a day of the year 9999": ("[[a]]\nb = 9999-12-31T00:00:00Z", [":2:", "no day of this age"]),
    "a right-to-left override": ('a = "x\\u202Ey"', [":1:", "U+202E"]),
    "a right-to-left override as it is": ("# c\na = '\u202e'", [":2:", "U+202E"]),
    "an escape in a key": ('"a\\u001b[2J" = 1', [":1:", "a key holds the character U+001B"]),
    "a control character": ("a = 'x\x07'", [":1:", "U+0007"]),
    "a NUL": ("a = 1\n\0", [":2:", "is not a text file"]),
}


@of_each("name", VALUES)
def test_a_value_that_nothing_could_use_is_refused_at_its_line(name):
    text, expected = VALUES[name]
    said = told(lambda: read_toml(decoded(text.encode(), "f.toml"), "f.toml"))
    assert len(said) == 1 and said[0].isprintable() and len(said[0]) < 300
    for words in expected:
        assert words in said[0]


@pytest.mark.parametrize("value", ["nan", "inf", "-inf", "1e400", "-1", "1e308"])
@pytest.mark.parametrize("key", ["weight_kg", "height_mm"])
def test_no_number_that_is_none_passes_for_a_measure(key, value, case_folder):
    said = told(read_case, case_folder(SMALL.replace("[client]\n", f"[client]\n{key} = {value}\n")))
    assert len(said) == 1 and f"case.toml:5: client.{key} is" in said[0]


def test_a_hundred_problems_are_told_and_that_there_are_more(case_folder):
    said = told(read_case, case_folder(SMALL + "".join(f"nonsense_{at} = 1\n" for at in range(20_000))))
    assert len(said) == 101 and "is where the list stops" in said[-1]


def test_what_is_told_steers_no_terminal_and_stays_short():
    said = str(Problem("f.toml:1", "unknown key '\x1b[2J\u202e" + "k" * 100_000, "Did you\nmean this?"))
    assert said.isprintable() and len(said) < 2000 and said.startswith("f.toml:1: unknown key '?[2J?kkk")
    assert brief(16**6000) == "a number too large to be meant" and brief("32\u00a0mm") == "32\u00a0mm"


ROWS = {
    "two hundred thousand blank lines": ("\n" * 300_000, ["lines allowed"]),
    "a line without end": ("date,method,task,success\n" + "x" * 50_000, [":2:", "characters allowed in a line"]),
    "five thousand columns": ("date,method,task,success" + "," * 5000, [":1:", "5,004 cells"]),
    "many cells in one row over many lines": ("date,method,task,success\n" + '"x\n",' * 1000, ["1,001 cells"]),
    "a field that never closes": ('date,method,task,success\n"' + "x\n" * 100_000, ["not readable as CSV"]),
    "a day of the year 1": ("date,method,task,success\n0001-01-01,pads,door,1", [":2:", "1900-01-01"]),
    "a number in other digits": (
        "date,method,task,success,seconds\n2026-03-03,pads,door,1,\u0663",
        [":2:", "plain number"],
    ),
    "an escape in a column's name": ("date,method,task,success,\u200f[2J\n", [":1:", "unknown column '?[2j'"]),
}


@of_each("name", ROWS)
def test_rows_past_all_measure_are_refused_at_their_line(name):
    text, expected = ROWS[name]
    _, problems = read_rows(text, "trial.csv", {"pads"}, {"door"})
    said = str(problems[0])
    assert len(problems) == 1 and said.isprintable() and len(said) < 1000
    for words in expected:
        assert words in said


FORMULAS = ["=1+1", "+1+1", "-2+3", "@SUM(A1)", '=HYPERLINK("http://example.org","x")', "=cmd|' /C calc'!A0"]


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_is_a_word_where_words_may_stand_and_refused_where_a_number_must(formula, case_folder):
    quoted = '"' + formula.replace('"', '""') + '"'
    rows = f"date,method,task,success,seconds,note\n2026-03-03,pads,door,1,,{quoted}\n"
    assert read_case(case_folder(SMALL, rows)).case.records[0].note == formula
    said = told(read_case, case_folder(SMALL, f"date,method,task,success,seconds\n2026-03-03,pads,door,1,{quoted}\n"))
    assert len(said) == 1 and "trial.csv:2: seconds is '" in said[0]


@pytest.mark.parametrize("formula", FORMULAS)
def test_a_formula_stays_text_in_every_format(formula, demo, tmp_path):
    import docx
    import pypdfium2

    from docgen.packet.assess import assess
    from docgen.packet.recipe import Selection
    from docgen.packet.write import build

    folder = demo("ilmari-okonjo-vale")
    toml = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(
        toml.replace('lives = "', "lives = '''" + formula + "'''\nwilling_was = \"", 1).replace("willing_was", "#", 1),
        encoding="utf-8",
    )
    build(assess(folder), tmp_path / "out", Selection(only=("letter",)))
    out = tmp_path / "out" / folder.name
    document = docx.Document(out / "letter.docx")
    assert any(formula in paragraph.text for paragraph in document.paragraphs)
    codes = [
        node.text
        for node in document.element.iter("{http://schemas.openxmlformats.org/wordprocessingml/2006/main}instrText")
    ]
    assert not any(formula in (code or "") for code in codes)
    pdf = pypdfium2.PdfDocument(out / "letter.pdf")
    text = "".join("".join(page.get_textpage().get_text_bounded().split()) for page in pdf)
    pdf.close()
    assert "".join(formula.split()) in text
    assert formula in html.unescape((out / "letter.html").read_text(encoding="utf-8"))


def test_no_cell_of_a_csv_that_is_written_begins_like_a_formula():
    from docgen.case.starter import first_line

    assert not [cell for cell in first_line().strip().split(",") if cell[:1] in "=+-@\t\r"]


def _payer(change, tmp_path):
    path = tmp_path / "own.toml"
    text = (Path(docgen.__file__).parent / "payers" / "general.toml").read_text(encoding="utf-8")
    assert change[0] in text
    path.write_text(text.replace(*change, 1), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "change, words",
    [
        (("months = 6", "months = nan"), "months is nan"),
        (("months = 6", "months = 1000000000"), "months is 1000000000"),
        (("months = 6", "months = -6"), "months is -6"),
        (("months = 6", "months = true"), "months is True"),
        (("review_by = ", "review_by = 0  # "), "review_by is 0"),
        (("name = ", "note_x = 'y'\nname = "), "unknown key 'note_x'"),
        (("name = ", 'name = "a\\u0001" #'), "U+0001"),
        (("id = ", "id = [[[1]]] #"), "id is [[[1]]]"),
    ],
)
def test_a_payer_with_a_value_made_to_hurt_is_refused_at_its_line(change, words, tmp_path):
    said = told(read_payer, _payer(change, tmp_path))
    assert words in said[0] and f"{tmp_path}/own.toml:" in said[0] and payers()


def _read_features(path):
    return [*_features_of(path)]


@pytest.mark.parametrize(
    "text, words",
    [
        ("id = 'x'", ":1: unknown key 'id'"),
        ("name = 5", ":1: name: "),
        ("\nname = ", ":2: is not valid TOML"),
        ("[[needs]]\nany_of = 3", ":2: needs.0.any_of"),
    ],
)
def test_a_feature_with_a_mistake_is_refused_at_its_line(text, words, tmp_path):
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    assert any(f"{path}{words}" in one for one in told(_read_features, path))


def test_a_feature_with_a_sign_that_there_is_not_is_refused_at_its_line(tmp_path):
    text = next(
        text for path in sorted(_FOLDER.glob("*.toml")) if "signs = [" in (text := path.read_text(encoding="utf-8"))
    )
    line = next(at for at, said in enumerate(text.split("\n"), 1) if said.startswith("signs = ["))
    (tmp_path / "own.toml").write_text(text.replace("signs = [", 'signs = ["=release_late", ', 1), encoding="utf-8")
    assert told(_read_features, tmp_path / "own.toml") == [
        f"{tmp_path}/own.toml:{line}: unknown sign '=release_late'. Did you mean 'release_late'?"
    ]


_BYTES = st.one_of(st.binary(max_size=300), st.text(max_size=200).map(lambda t: t.encode("utf-8", "surrogatepass")))


@settings(max_examples=60, deadline=None)
@given(_BYTES)
def test_any_bytes_are_clean_text_or_one_problem(data):
    try:
        text = decoded(data, "f")
    except UserError as failure:
        assert len(failure.problems) == 1 and failure.problems[0].where.startswith("f:")
        return
    assert "\r" not in text and "\0" not in text and isinstance(text.encode("utf-8"), bytes)


@settings(max_examples=60, deadline=None)
@given(
    st.one_of(
        st.text(max_size=200),
        st.lists(
            st.sampled_from(["a", ".", " = ", "[", "]", "{", "}", '"', "'", "\n", "1", ",", "#", "2026-03-31", "nan"]),
            max_size=40,
        ).map("".join),
    )
)
def test_any_text_is_tables_with_lines_or_problems_with_lines(text):
    try:
        toml = read_toml(text, "f")
    except UserError as failure:
        assert all(1 <= int(problem.where.removeprefix("f:")) <= text.count("\n") + 1 for problem in failure.problems)
        return
    assert all(1 <= line <= text.count("\n") + 1 for line in toml.lines.values()) and {
        (key,) for key in toml.tables
    } <= set(toml.lines)


@settings(max_examples=60, deadline=None)
@given(
    st.one_of(
        st.text(max_size=200),
        st.lists(
            st.sampled_from([*SMALL_ROWS.split("\n"), ",", '"', "\n", "1", "x", "2026-03-03", ";", "\t"]), max_size=30
        ).map("".join),
    )
)
def test_any_text_is_rows_or_problems_with_lines(text):
    rows, problems = read_rows(text, "f", {"pads"}, {"door"})
    assert all(1 <= int(problem.where.removeprefix("f:")) <= text.count("\n") + 1 for problem in problems)
    assert all(row.method == "pads" and row.task == "door" for row in rows)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=_BYTES, rows=st.booleans())
def test_any_case_file_is_a_case_or_problems_with_their_place(tmp_path, data, rows):
    folder = tmp_path / "small"
    folder.mkdir(exist_ok=True)
    (folder / "case.toml").write_bytes(SMALL.encode() if rows else data)
    (folder / "trial.csv").write_bytes(data if rows else SMALL_ROWS.encode())
    try:
        assert read_case(folder).case.id == "small"
    except UserError as failure:
        assert all(problem.where.startswith(str(folder)) for problem in failure.problems)


def test_sizes_that_are_allowed_are_read(case_folder):
    note = "x" * 900
    rows = "date,method,task,success,note\n" + f"2026-03-03,pads,door,1,{note}\n" * 5000
    toml = SMALL + "# " + "c" * (MAX_TOML_BYTES - len(SMALL) - 2)
    assert len(read_case(case_folder(toml, rows)).case.records) == 5000
