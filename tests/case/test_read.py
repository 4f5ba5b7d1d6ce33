"""Reading a case: what works, and what each mistake says, with its file and line."""

from __future__ import annotations

import os
import tomllib

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from support import DEMO_FOLDERS, SMALL, SMALL_ROWS

from docgen.case.lines import line_for, lines_of
from docgen.case.read import MAX_TOML_BYTES, read_case
from docgen.errors import Problem, UserError


def problems(folder) -> list[str]:
    with pytest.raises(UserError) as caught:
        read_case(folder)
    return [str(problem).replace(f"{folder}{os.sep}", "") for problem in caught.value.problems]


# what is changed in the small case, and what the sentence must hold
BROKEN_TOML = {
    "a misspelt key": (
        'name = "Robin Example"',
        'nmae = "Robin"',
        ["case.toml:5:", "unknown key 'nmae'", "Did you mean 'name'?"],
    ),
    "a misspelt table": ("[client]", "[cleint]", ["case.toml:4:", "unknown key 'cleint'", "Did you mean 'client'?"]),
    "a date in quotes that is none": (
        "[client]\n",
        '[client]\nborn_on = "in May 2001"\n',
        ["case.toml:5:", "client.born_on is 'in May 2001'", "born_on = 1990-01-31"],
    ),
    "a day that is not": (
        "[client]\n",
        "[client]\nborn_on = 2001-02-30\n",
        ["case.toml:5:", "not valid TOML", "2026-03-31"],
    ),
    "a word outside the list": (
        'role = "evaluator"',
        'role = "evaluater"',
        ["case.toml:9:", "'evaluater'", "Did you mean 'evaluator'?"],
    ),
    "a missing key": ('role = "evaluator"\n', "", ["case.toml:7:", "people.role is missing"]),
    "an id used twice": (
        "[trial]\n",
        '[[people]]\nid = "ot"\nrole = "payer"\n[trial]\n',
        ["case.toml:12:", "'ot' is used twice", "case.toml:8"],
    ),
    "a number in quotes": (
        "[client]\n",
        '[client]\nweight_kg = "60"\n',
        ["case.toml:5:", "client.weight_kg is '60'", "client's weight in kg"],
    ),
    "a number out of range": ("[client]\n", "[client]\nweight_kg = 6000\n", ["case.toml:5:", "must be under 400 kg"]),
    "a number that is not one": (
        "[client]\n",
        "[client]\nweight_kg = nan\n",
        ["case.toml:5:", "client.weight_kg is nan"],
    ),
    "an empty text": (
        'name = "Robin Example"',
        'name = "  "',
        ["case.toml:5:", "client.name is empty", "not recorded"],
    ),
    "a control character": ('"Robin Example"', '"Robin\\u0007"', ["case.toml:5:", "U+0007"]),
    "a bidirectional control": ('"Robin Example"', '"Robin\\u202E"', ["case.toml:5:", "U+202E"]),
    "a text too long": ('"Robin Example"', f'"{"x" * 4001}"', ["case.toml:5:", "4,000"]),
    "a person not listed": (
        "[trial]\n",
        '[[findings]]\nid = "hand_none"\nsays = "x"\nby = "to"\n[trial]\n',
        ["case.toml:14:", "'to' is not an id in [[people]]", "Allowed: ot"],
    ),
    "a table for a text": ('name = "Robin Example"', 'name = { first = "Robin" }', ["case.toml:5:", "client.name is"]),
    "a number with a comma": ("[client]\n", "[client]\nweight_kg = 54,5\n", ["case.toml:5:", "A number has no comma"]),
    "a date with strokes": (
        "[client]\n",
        "[client]\nborn_on = 9/2/1980\n",
        ["case.toml:5:", "Write dates as 2026-03-31"],
    ),
    "a list of tables with one bracket": (
        "[client]\n",
        '[findings]\nid = "a"\n\n[client]\n',
        ["case.toml:4:", "Write [[findings]]"],
    ),
    "a key given twice": ("[client]\n", '[client]\nname = "Other"\n', ["case.toml:6:", "not valid TOML", "twice"]),
    "a quote left open": ('"Robin Example"', '"Robin Example', ["case.toml:5:", "not valid TOML"]),
    "another folder name": (
        'id = "small"',
        'id = "large"',
        ["case.toml:2:", "id is 'large' but the folder is 'small'"],
    ),
    "another format": ('"docgen case 1"', '"docgen case 9"', ["case.toml:1:", "docgen case 2"]),
    "a path out of the folder": (
        "[trial]\n",
        '[trial]\nrows = "../other.csv"\n',
        ["case.toml:12:", "leads out of the case folder"],
    ),
    "an absolute path": (
        "[trial]\n",
        '[trial]\nrows = "/etc/passwd"\n',
        ["case.toml:12:", "leads out of the case folder"],
    ),
}


@pytest.mark.parametrize("name", BROKEN_TOML)
def test_each_mistake_in_the_toml_is_one_sentence_with_its_line(name, case_folder):
    old, new, expected = BROKEN_TOML[name]
    assert old in SMALL
    told = problems(case_folder(SMALL.replace(old, new, 1)))
    assert len(told) == 1
    for words in expected:
        assert words in told[0]
    assert "\n" not in told[0]


BROKEN_ROWS = {
    "no file": (None, ["case.toml:11:", "there is no file 'trial.csv'"]),
    "an empty file": ("", ["trial.csv:1:", "is empty"]),
    "only blanks": ("\n ,,,\n", ["trial.csv:1:", "is empty"]),
    "a column missing": ("date,method,success\n", ["trial.csv:1:", "'task' is missing"]),
    "a column misspelt": ("date,method,task,sucess\n", ["trial.csv:1:", "unknown column 'sucess'", "'success'"]),
    "a column twice": ("date,method,task,success,task\n", ["trial.csv:1:", "is there twice"]),
    "an unknown method": (
        "date,method,task,success\n2026-03-03,pasd,door,1\n",
        ["trial.csv:2:", "unknown method 'pasd'", "'pads'"],
    ),
    "an unknown task": (
        "date,method,task,success\n2026-03-03,pads,window,1\n",
        ["trial.csv:2:", "unknown task 'window'", "door"],
    ),
    "a bad date": (
        "date,method,task,success\n03/04/2026,pads,door,1\n",
        ["trial.csv:2:", "03/04/2026", "year-month-day"],
    ),
    "a day that is not": ("date,method,task,success\n2026-02-30,pads,door,1\n", ["trial.csv:2:", "no such day"]),
    "a blank that is needed": (
        "date,method,task,success\n2026-03-03,pads,door,\n",
        ["trial.csv:2:", "success is blank"],
    ),
    "a success that is neither": (
        "date,method,task,success\n2026-03-03,pads,door,2\n",
        ["trial.csv:2:", "success is '2'", "1 or 0"],
    ),
    "a negative count": (
        "date,method,task,success,contacts\n2026-03-03,pads,door,1,-1\n",
        ["trial.csv:2:", "contacts is '-1'"],
    ),
    "half a contact": (
        "date,method,task,success,contacts\n2026-03-03,pads,door,1,0.5\n",
        ["trial.csv:2:", "whole number"],
    ),
    "a formula": (
        "date,method,task,success,seconds\n2026-03-03,pads,door,1,=1+1\n",
        ["trial.csv:2:", "seconds is '=1+1'", "plain number"],
    ),
    "a huge number": (
        "date,method,task,success,seconds\n2026-03-03,pads,door,1,1e400\n",
        ["trial.csv:2:", "plain number"],
    ),
    "a cell without a column": (
        "date,method,task,success\n2026-03-03,pads,door,1,,note\n",
        ["trial.csv:2:", "'note' stands in a column without a name"],
    ),
    "a scale over its end": (
        "date,method,task,success,tone_after\n2026-03-03,pads,door,1,5\n",
        ["trial.csv:2:", "tone_after is '5'", "over 4"],
    ),
    "an attempt twice": (
        "date,method,task,success,attempt\n2026-03-03,pads,door,1,1\n2026-03-03,pads,door,1,1\n",
        ["trial.csv:3:", "attempt 1", "line 2"],
    ),
    "more people hit than contacts": (
        "date,method,task,success,contacts,person_contacts\n2026-03-03,pads,door,0,1,2\n",
        ["trial.csv:2:", "2 collisions with a person"],
    ),
    "distance on some rows": (
        "date,method,task,success,distance_m\n" + "2026-03-03,pads,door,1,5\n" * 2 + "2026-03-03,pads,door,1,\n",
        ["trial.csv:3:", "2 of the 3 rows"],
    ),
    "a binary file": (b"\x89PNG\r\n\x1a\n\x00\x00", ["trial.csv:1:", "not UTF-8"]),
    "a NUL": (b"date,method\x00,task,success\n", ["trial.csv:1:", "is not a text file"]),
    "an open quote": ('date,method,task,success\n2026-03-03,"pads,door,1\n', ["trial.csv:", "not readable as CSV"]),
}


@pytest.mark.parametrize("name", BROKEN_ROWS)
def test_each_mistake_in_the_rows_is_one_sentence_with_its_line(name, case_folder):
    rows, expected = BROKEN_ROWS[name]
    told = problems(case_folder(SMALL, rows))
    assert len(told) == 1
    for words in expected:
        assert words in told[0]
    assert "\n" not in told[0]


def test_all_problems_are_told_at_once(case_folder):
    toml = SMALL.replace("Robin Example", " ").replace('role = "evaluator"', 'role = "x"\nphone = 5')
    told = problems(case_folder(toml, "date,method,task,success\nx,pads,door,1\n2026-03-03,pads,door,7\n"))
    assert [line.split(": ")[0] for line in told] == [
        "case.toml:5",
        "case.toml:9",
        "case.toml:10",
        "trial.csv:2",
        "trial.csv:3",
    ]


@pytest.mark.parametrize(
    "content, words",
    [
        (b"", ["case.toml:1:", "is empty"]),
        (b"\xff\xfe\x00\xd8", ["case.toml:1:", "not UTF-16"]),
        (b"id = '\xe9'", ["case.toml:1:", "not UTF-8"]),
        (b"\x00", ["case.toml:1:", "not a text file"]),
        (b"a = " + b"[" * 3000, ["case.toml:1:", "not valid TOML"]),
        (b"#" * (MAX_TOML_BYTES + 1), ["case.toml:1:", "more than"]),
    ],
)
def test_a_file_that_is_no_case_is_explained(content, words, case_folder):
    told = problems(case_folder(content))
    assert len(told) == 1
    for word in words:
        assert word in told[0]


def test_a_folder_without_a_case_is_explained(tmp_path):
    with pytest.raises(UserError, match="holds no case.toml"):
        read_case(tmp_path)


def test_a_link_out_of_the_folder_is_refused(case_folder, tmp_path):
    folder = case_folder(SMALL, None)
    (tmp_path / "elsewhere.csv").write_text(SMALL_ROWS)
    (folder / "trial.csv").symlink_to(tmp_path / "elsewhere.csv")
    assert "leads out of the case folder" in problems(folder)[0]


SPREADSHEETS = {
    "a byte order mark": ("\ufeff" + SMALL_ROWS).encode(),
    "carriage returns": SMALL_ROWS.replace("\n", "\r\n").encode(),
    "semicolons": SMALL_ROWS.replace(",", ";").encode(),
    "tabs": SMALL_ROWS.replace(",", "\t").encode(),
    "UTF-16": SMALL_ROWS.encode("utf-16"),
    "blank rows": SMALL_ROWS.replace("\n", "\n,,,\n\n").encode(),
    "empty trailing columns": "\n".join(line + ",,," for line in SMALL_ROWS.split("\n")[:-1]).encode(),
    "capitals and spaces in the header": SMALL_ROWS.replace("date", " Date ").replace("success", "SUCCESS").encode(),
    "quotes": SMALL_ROWS.replace("pads", '"pads"').encode(),
    "yes and no": SMALL_ROWS.replace(",1\n", ",yes\n").replace(",0\n", ",No\n").encode(),
}


@pytest.mark.parametrize("name", SPREADSHEETS)
def test_what_a_spreadsheet_makes_of_the_rows_is_read_the_same(name, case_folder):
    rows = read_case(case_folder(SMALL, SPREADSHEETS[name])).case.records
    assert [(row.method, row.task, row.success) for row in rows] == [("pads", "door", True), ("pads", "door", False)]


def test_decimal_commas_are_read_where_semicolons_part_the_cells(case_folder):
    rows = read_case(
        case_folder(SMALL, "date;method;task;success;release_s\n2026-03-03;pads;door;1;0,7\n")
    ).case.records
    assert rows[0].release_s == 0.7


def test_what_is_blank_stays_missing(case_folder):
    rows = read_case(case_folder(SMALL, "date,method,task,success,contacts\n2026-03-03,pads,door,1,\n")).case.records
    assert rows[0].contacts is None


@of_each("folder", DEMO_FOLDERS, ids=lambda f: f.name)
def test_every_key_of_a_demo_has_its_line(folder):
    text = (folder / "case.toml").read_text(encoding="utf-8")
    lines, source = lines_of(text), text.split("\n")
    for path in _paths(tomllib.loads(text)):
        assert path in lines
        if isinstance(path[-1], str):
            assert path[-1] in source[lines[path] - 1]


def _paths(node, path=()):
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for name, child in children:
        yield (*path, name)
        yield from _paths(child, (*path, name))


_NAMES = st.sampled_from(["a", "b-c", "d_1", '"quoted key"', "'x'"])
_SCALARS = st.one_of(
    st.integers(-9, 9).map(str),
    st.sampled_from(
        [
            '"text"',
            "'lit # eral'",
            '"# not a comment"',
            '"""two\nlines"""',
            "'''more\n]'''",
            "true",
            "2026-03-31",
            '"q\\"q"',
            '""',
        ]
    ),
)
_VALUES = st.recursive(
    _SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda v: "[\n " + ", # c\n ".join(v) + " ]" if v else "[]"),
        st.dictionaries(_NAMES, inner, max_size=2).map(
            lambda v: "{ " + ", ".join(f"{k} = {x}" for k, x in v.items()) + " }"
        ),
    ),
    max_leaves=5,
)
_HEADERS = st.sampled_from(["[t]", "[[l]]", "[[l]]", "[t.u]", "[[l.m]]", "# comment", ""])


@settings(max_examples=200, deadline=None)
@given(st.lists(st.tuples(_HEADERS, st.dictionaries(_NAMES, _VALUES, max_size=3)), max_size=5))
def test_every_key_of_any_toml_has_a_line(parts):
    text = "\n".join(f"{header}\n" + "\n".join(f"{k} = {v}" for k, v in pairs.items()) for header, pairs in parts)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines = lines_of(text)
    assert set(_paths(data)) <= set(lines)
    assert all(1 <= line <= text.count("\n") + 1 for line in lines.values())


def test_a_key_that_is_not_written_points_to_its_table():
    lines = lines_of("[a]\nb = 1\n\n[[c]]\nd = 1\n\n[[c]]\nd = 2\n")
    assert line_for(lines, ("c", 1, "missing")) == 7
    assert line_for(lines, ("nowhere",)) == 1


def test_the_columns_feed_reader_schema_starter_and_sheet():
    from docgen.case.record import COLUMNS, Row
    from docgen.case.schema import schema
    from docgen.case.starter import first_line
    from docgen.recording_sheet import clipboard_pdf

    names = [column.name for column in COLUMNS]
    assert sorted(name for name in Row.__struct_fields__ if name != "line") == sorted(names)
    assert list(schema()["$defs"]["Row"]["properties"]) == names
    assert first_line().strip().split(",") == names
    import pypdfium2

    document = pypdfium2.PdfDocument(clipboard_pdf("x"))
    text = " ".join(page.get_textpage().get_text_bounded() for page in document)
    document.close()
    assert all(name in text for name in names)


def test_of_many_mistakes_alike_the_first_few_are_told_and_the_rest_counted():
    alike = [
        Problem(f"trial.csv:{line}", f"date is '{line}/2/2026', but a date is written year-month-day", "As 2026-03-31.")
        for line in range(2, 42)
    ]
    other = Problem("trial.csv:9", "success is 'maybe', but it must be 1 or 0")
    told = [str(one) for one in UserError([*alike[:7], other, *alike[7:]]).problems]
    assert len(told) == 7 and told[:5] == [str(one) for one in alike[:5]] and told[-1] == str(other)
    assert told[5] == "trial.csv:7: has the same mistake, and so have 34 more. As 2026-03-31."
    assert [*UserError(alike[:6]).problems] == alike[:6]


def test_an_arrangement_for_later_needs_one_that_holds_before(case_folder):
    later = '\n[[supervision]]\nplace = "at home"\nlevel = "alone"\nafter_stage = "tight"\n'
    with pytest.raises(UserError, match=r"'at home' has an arrangement for later and none that holds before"):
        read_case(case_folder(SMALL + later))
    now = '\n[[supervision]]\nplace = "at home"\nlevel = "same_room"\n'
    assert len(read_case(case_folder(SMALL + now + later)).case.supervision) == 2
