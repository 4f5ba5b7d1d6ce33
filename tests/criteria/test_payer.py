"""Payer files: each mistake has its line, rows come into force and end, and none blocks on hearsay."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from gathered import of_each

from docgen.criteria.criterion import HEADINGS, criteria
from docgen.criteria.payer import load, payers, read_payer
from docgen.errors import UserError

TOML = """\
id = "harbour"
name = "Harbour State Health Plan"
reviewed_on = 2026-04-01
review_by = 2027-04-01

[[requirements]]
id = "encounter"
criterion = "encounter_before_order"
severity = "blocks"
from = 2020-01-01
citation = "42 CFR 410.38(d)(2)"
known = "read"
settings = { months = 6 }

[[requirements]]
id = "encounter_once"
criterion = "encounter_before_order"
severity = "query"
from = 2006-06-05
until = 2019-12-31
citation = "71 FR 17021"
known = "passage"

[requirements.settings]
months = 2
"""


@pytest.fixture
def payer_file(tmp_path):
    """Write a payer file; returns its path."""

    def write(text):
        path = tmp_path / f"payer_{len(list(tmp_path.iterdir()))}.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def problems(path):
    with pytest.raises(UserError) as caught:
        read_payer(path)
    return caught.value.problems


def test_the_file_without_mistakes_is_read(payer_file):
    payer = read_payer(payer_file(TOML))
    assert [row.id for row in payer.requirements] == ["encounter", "encounter_once"]
    assert payer.requirements[0].settings == {"months": 6} and payer.requirements[1].until_on == date(2019, 12, 31)


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ('name = "Harbour', 'nmae = "x"\nname = "Harbour', 2, "Did you mean 'name'?"),
        ('known = "read"', 'known = "read"\nseverty = "query"', 13, "Did you mean 'severity'?"),
        (
            '"encounter_before_order"\nseverity = "blocks"',
            '"encounter_befor_order"\nseverity = "blocks"',
            8,
            "unknown criterion 'encounter_befor_order'. Did you mean 'encounter_before_order'?",
        ),
        ("settings = { months = 6 }", "settings = { month = 6 }", 13, "no setting 'month'. Did you mean 'months'?"),
        ("[requirements.settings]\nmonths = 2", "[requirements.settings]\nmonth = 2", 25, "no setting 'month'"),
        ("{ months = 6 }", '{ months = "six" }', 13, "months is 'six'. Its form: 6."),
        ("{ months = 6 }", "{ months = true }", 13, "months is True. Its form: 6."),
        ("{ months = 6 }", "{ months = 6.5 }", 13, "months is 6.5. Its form: 6."),
        ('severity = "blocks"', 'severity = "block"', 9, "'blocks', 'query' or 'advise'"),
        ('known = "read"', 'known = "heard"', 12, "'memory' or 'inference'"),
        ('known = "read"', 'known = "memory"', 9, "a row known from memory cannot block"),
        ('known = "read"', 'known = "inference"', 9, "a row known from inference cannot block"),
        ("from = 2020-01-01", "from = 2020-13-01", 10, "is not valid TOML"),
        ("from = 2020-01-01\n", "", 6, "from is missing"),
        ('citation = "42 CFR 410.38(d)(2)"', 'citation = ""', 11, "citation is ''"),
        ("until = 2019-12-31", "until = 2005-12-31", 20, "before it starts on 2006-06-05"),
        ('id = "encounter_once"', 'id = "encounter"', 16, "'encounter' is used twice"),
        ("review_by = 2027-04-01", "review_by = 2025-04-01", 4, "is before the last"),
        ("reviewed_on = 2026-04-01\n", "", 1, "reviewed_on is missing"),
        ('name = "Harbour', 'citation = "x"\nname = "Harbour', 2, "unknown key 'citation'"),
        (
            'known = "passage"',
            'known = "passage"\nrests_on = "A rule."',
            23,
            "a row known from passage cannot say in a",
        ),
    ],
)
def test_each_mistake_is_named_with_its_line(payer_file, old, new, line, words):
    path = payer_file(TOML.replace(old, new, 1))
    found = problems(path)
    assert [problem.where for problem in found] == [f"{path}:{line}"]
    assert words in str(found[0])


@pytest.mark.parametrize(
    ("criterion", "setting", "form"),
    [
        ("encounter_before_order", "months = 0", ""),
        ("encounter_before_order", "months = 1000", ""),
        ("encounter_before_order", "months = 1001", "6"),
        ("encounter_before_order", "months = -1", "6"),
        ("fits_the_home", "least_side_mm = 0", ""),
        ("fits_the_home", "least_side_mm = 0.5", ""),
        ("fits_the_home", "least_side_mm = 1000.0", ""),
        ("fits_the_home", "least_side_mm = 1000.5", "0.0"),
        ("fits_the_home", "least_side_mm = -0.5", "0.0"),
        ("fits_the_home", "least_side_mm = true", "0.0"),
        ("items_described", 'keys = ["why"]', ""),
        ("items_described", "keys = []", "["),
        ("items_described", 'keys = ["why", 1]', "["),
        ("items_described", 'keys = "why"', "["),
    ],
)
def test_a_setting_is_a_number_up_to_a_thousand_or_words_of_the_kind_of_its_default(
    payer_file, criterion, setting, form
):
    path = payer_file(TOML.replace('"encounter_before_order"', f'"{criterion}"', 1).replace("months = 6", setting))
    if not form:
        assert read_payer(path).requirements[0].settings
        return
    (problem,) = problems(path)
    assert problem.where == f"{path}:13" and f"Its form: {form}" in str(problem)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("until = 2019-12-31", "until = 2006-06-05"),  # a row may be in force for one day
        ("review_by = 2027-04-01", "review_by = 2026-04-01"),
        ('known = "passage"', 'known = "memory"'),  # a row that only queries may be known from memory
        ('severity = "blocks"', 'severity = "blocks"\nrests_on = "A rule."'),
    ],
)
def test_what_is_just_right_is_read(payer_file, old, new):
    assert len(read_payer(payer_file(TOML.replace(old, new, 1))).requirements) == 2


def test_a_file_that_is_no_table_at_all_is_said_to_be_the_payers_fault(payer_file):
    (problem, *_) = problems(payer_file("requirements = 3\n" + TOML.partition("[[")[0]))
    assert problem.where.endswith(":1") and "requirements is 3" in str(problem)


def test_of_two_first_rows_of_one_day_the_first_of_the_file_is_used_before_it(payer_file):
    twice = TOML.replace("from = 2020-01-01", "from = 2006-06-05", 1)
    assert [row.id for row in read_payer(payer_file(twice)).in_force(date(2006, 6, 4))] == ["encounter"]


def test_an_unknown_payer_near_none_is_answered_with_all_there_are():
    with pytest.raises(UserError) as caught:
        load("zzz", "case.toml:7")
    assert str(caught.value).startswith("case.toml:7: unknown payer 'zzz'. Those there are: ")
    assert all(f"{payer.id} ({payer.name})" in str(caught.value) for payer in payers())


def test_every_mistake_is_named_at_once(payer_file):
    text = TOML.replace('"encounter_before_order"', '"encounter"').replace("from = 2020", "form = 2020")
    assert len(problems(payer_file(text))) >= 2
    text = TOML.replace('known = "read"', 'known = "memory"').replace("months = 2", "weeks = 2")
    assert len(problems(payer_file(text))) == 2


def test_an_unknown_payer_is_named_where_the_case_names_it():
    with pytest.raises(UserError) as caught:
        load("generl", "case.toml:7")
    assert str(caught.value) == "case.toml:7: unknown payer 'generl'. Did you mean 'general'?"


@pytest.mark.parametrize(
    ("on", "rows"),
    [
        (date(2006, 6, 4), ["encounter_once"]),  # before the first row of a criterion that row is used
        (date(2006, 6, 5), ["encounter_once"]),  # the first day counts
        (date(2019, 12, 31), ["encounter_once"]),  # so does the last
        (date(2020, 1, 1), ["encounter"]),
        (date(2026, 5, 4), ["encounter"]),
    ],
)
def test_the_rows_in_force_change_with_the_day(payer_file, on, rows):
    assert [row.id for row in read_payer(payer_file(TOML)).in_force(on)] == rows


# ---- the files that come with the program --------------------------------------------------------------


def rows_of_all_payers():
    return [pytest.param(row, id=f"{payer.id}.{row.id}") for payer in payers() for row in payer.requirements]


def test_the_general_payer_is_there_and_says_what_it_stands_for():
    general = load("general", "case.toml:1")
    assert general in payers() and general.note and general.reviewed_on < general.review_by


def test_the_general_payer_binds_most_criteria_and_under_every_heading():
    general = load("general", "case.toml:1")
    bound = {row.criterion for row in general.in_force(general.reviewed_on)}
    assert len(bound) >= 25 and {criteria()[name].heading for name in bound} == set(HEADINGS)


@of_each("row", rows_of_all_payers())
def test_a_row_that_blocks_names_a_source_that_was_seen_and_its_version(row):
    assert row.severity != "blocks" or (row.known in ("read", "passage", "summary") and row.version)
    assert row.citation and row.from_on <= (row.until_on or date.max)


def test_retired_rows_stay_with_the_day_they_ended_and_are_no_longer_asked():
    general = load("general", "case.toml:1")
    retired = [row for row in general.requirements if row.until_on and row.until_on < general.reviewed_on]
    assert retired
    for row in retired:
        assert row in general.in_force(row.until_on) and row not in general.in_force(row.until_on + timedelta(days=1))


@pytest.mark.parametrize(
    ("criterion", "setting", "words"),
    [
        (
            "standard_stick_ruled_out",
            'kinds = ["stick_by_foot"]',
            "kinds holds 'stick_by_foot'. Allowed: stick_by_chin, stick_by_hand.",
        ),
        ("items_described", 'keys = ["cod"]', "keys holds 'cod'. Did you mean 'code'?"),
        ("limits_screened", 'kinds = ["sight"]', "kinds holds 'sight'. Allowed: "),
    ],
)
def test_a_word_that_a_list_setting_cannot_hold_is_named(payer_file, criterion, setting, words):
    text = TOML.replace('"encounter_before_order"', f'"{criterion}"', 1).replace("months = 6", setting)
    found = problems(payer_file(text))
    assert [problem.where.rpartition(":")[2] for problem in found] == ["13"] and words in str(found[0])


def test_a_date_before_every_rule_asks_no_less():
    payer = load("general", "")
    asked = {day: {row.criterion for row in payer.in_force(day)} for day in (date(1999, 1, 1), date(2026, 11, 25))}
    assert asked[date(1999, 1, 1)] == asked[date(2026, 11, 25)]
