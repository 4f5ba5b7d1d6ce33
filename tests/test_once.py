"""What one test takes over from another is of the very same files; one that changes the program takes over nothing."""

from __future__ import annotations

import shutil

from support import assess

DEMO = "anselm-kirawira-boone"


def test_the_same_files_in_another_folder_are_the_same_case_told_of_its_own_place(demo, tmp_path):
    folder = demo(DEMO)
    other = shutil.copytree(folder, tmp_path / "other" / DEMO)
    first, second = assess(folder), assess(other)
    assert second.file.case is first.file.case and second.verdicts is first.verdicts
    assert second.file.where("client", "name").startswith(str(other))


def test_a_file_that_changed_is_read_anew(demo):
    folder = demo(DEMO)
    first = assess(folder)
    rows = folder / "trial.csv"
    rows.write_text(rows.read_text(encoding="utf-8").rstrip("\n").rpartition("\n")[0] + "\n", "utf-8")
    changed = assess(folder)
    assert changed.file.case != first.file.case and changed.evidence is not first.evidence
    case = folder / "case.toml"
    case.write_text(f"{case.read_text(encoding='utf-8')}\n# seen\n", "utf-8")
    assert assess(folder).file.text != changed.file.text


def test_a_test_that_changes_the_program_has_all_made_for_itself(demo, monkeypatch):
    folder = demo(DEMO)
    assert assess(folder).file.case is not assess(folder).file.case


def test_a_test_that_holds_two_results_against_each_other_has_both_made(demo, anew):
    folder = demo(DEMO)
    first, second = assess(folder), assess(folder)
    assert first.file.case is not second.file.case and first.evidence is not second.evidence
