"""accepted.toml: what a clinic has accepted once for all its cases, read beside the case folders or in one of them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from support import run

from docgen.case.nobody.copy import deidentified
from docgen.case.read import read_case
from docgen.errors import UserError
from docgen.fit.condition import printable, rows
from docgen.packet.contents import case_contents
from docgen.packet.wording import language_words

ROW = "C1-41"
WORDS = rows()[ROW].prints
ENTRY = f'[[accepted]]\nrow = "{ROW}"\nprints = "{WORDS}"\nby = "Ada Norrington, RN"\non = 2026-03-03\n'


def accepted(folder):
    return [(row.row, row.by, row.on) for row in read_case(folder).case.accepted]


def test_one_file_beside_the_case_folders_holds_for_all_and_one_inside_for_its_own(case_folder):
    first, second = case_folder(), case_folder(name="other", toml=None)
    (second / "case.toml").write_text((first / "case.toml").read_text().replace('"small"', '"other"'))
    assert accepted(first) == []
    (first.parent / "accepted.toml").write_text(ENTRY)
    assert accepted(first) == accepted(second) == [(ROW, "Ada Norrington, RN", date(2026, 3, 3))]
    (second / "accepted.toml").write_text("")
    assert accepted(second) == [] and accepted(first) != []


def test_only_the_words_that_were_accepted_print(case_folder):
    folder = case_folder()
    (folder / "accepted.toml").write_text(ENTRY)
    assert printable(read_case(folder).case, ROW) == WORDS
    (folder / "accepted.toml").write_text(ENTRY.replace(WORDS, "The belt is on."))
    assert printable(read_case(folder).case, ROW) is None


@pytest.mark.parametrize(
    ("text", "line", "told"),
    [
        (ENTRY + ENTRY, 2, "row C1-41 is accepted twice"),
        (ENTRY.replace("row =", "raw ="), 2, "raw"),
        (ENTRY.replace("by = ", "# by = "), 1, "by"),
        (ENTRY.replace("2026-03-03", '"in March"'), 5, "on"),
        (ENTRY.replace("[[accepted]]", "[accepted]"), 1, "is a single table"),
        ("accept = 1\n", 1, "unknown key 'accept'"),
        ("[[accepted\n", 1, "not valid TOML"),
    ],
)
def test_a_mistake_is_told_with_its_line(case_folder, text, line, told):
    folder = case_folder()
    (folder / "accepted.toml").write_text(text)
    with pytest.raises(UserError) as failure:
        read_case(folder)
    assert any(f"accepted.toml:{line}" in p.where and told in p.what for p in failure.value.problems)
    status, _, err = run("check", folder)
    assert status == 2 and "accepted.toml" in err and "Traceback" not in err


def test_a_link_that_leads_out_is_refused(case_folder, tmp_path_factory):
    folder, elsewhere = case_folder(), tmp_path_factory.mktemp("elsewhere") / "accepted.toml"
    elsewhere.write_text(ENTRY)
    (folder / "accepted.toml").symlink_to(elsewhere)
    with pytest.raises(UserError, match="link that leads out"):
        read_case(folder)


def test_what_is_accepted_travels_with_the_case_and_a_change_of_it_is_seen(case_folder, tmp_path):
    folder = case_folder()
    before = case_contents(folder).digest
    (folder.parent / "accepted.toml").write_text(ENTRY)
    shared = case_contents(folder)
    assert shared.digest != before and shared.files["accepted.toml"] == ENTRY.encode()
    away = tmp_path / "away"
    away.mkdir()
    assert accepted(shared.lay_out(away)) == accepted(folder)


def test_a_copy_about_nobody_names_nobody_who_accepted(case_folder):
    folder = case_folder()
    (folder / "accepted.toml").write_text(ENTRY)
    copied = deidentified(read_case(folder).case, "copy", 60, language_words()["deidentified"], ()).case
    (row,) = copied.accepted
    assert row.prints == WORDS and "Norrington" not in row.by and row.on == date(2026, 3, 3) + timedelta(weeks=60)


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("id", "epilepsie", "unknown condition 'epilepsie'"),
        ("ask", "kinds", "'kinds' is no question of epilepsy"),
        ("serves", "epilepsy.fall", "is nothing that an emergency page must have"),
        ("row", "C1-999", "there is no row C1-999"),
        ("conflict", "K-99", "there is no conflict K-99"),
    ],
)
def test_a_name_that_no_condition_has_is_told_with_the_nearest(case_folder, key, value, told):
    names = {"id": "epilepsy", "ask": "kind", "serves": "epilepsy.seizure", "row": "C1-41", "conflict": "K-01"} | {
        key: value
    }
    folder = case_folder()
    toml = (folder / "case.toml").read_text()
    toml += (
        f'\n[[conditions]]\nid = "{names["id"]}"\n[[conditions.answers]]\nask = "{names["ask"]}"\n'
        f'[[emergency.steps]]\nrow = "{names["row"]}"\nserves = ["{names["serves"]}"]\n'
        f'[[emergency.settled]]\nconflict = "{names["conflict"]}"\n'
    )
    (folder / "case.toml").write_text(toml)
    status, _, err = run("check", folder)
    assert status == 2 and told in err.replace("\n", " ")
