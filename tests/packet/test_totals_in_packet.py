"""A case of day totals through every door: evidence, letter, check, approval, what travels, a copy about nobody."""

import csv
import shutil
from collections import defaultdict
from datetime import date

import pytest
from support import DEMO_FOLDERS, NOT_REVIEWED, run

from docgen.packet.approval import approve, reviewed
from docgen.packet.assess import assess
from docgen.packet.contents import case_contents
from docgen.packet.teaching import teaching_copy
from docgen.packet.trees import trees
from docgen.packet.wording import wording

READY = "ilmari-okonjo-vale"
COLUMNS = ("unintended", "contacts", "prompts_physical", "distance_m", "minutes", "fatigue_before", "fatigue_after")


def _amount(rows, column):
    """What a total says of these rows: a sum, of tiredness the one value there is; nothing where a row lacks it."""
    filled = [float(row[column]) for row in rows if row[column]]
    if column.startswith("fatigue"):
        return filled[0] if filled else ""
    return round(sum(filled), 3) if len(filled) == len(rows) else ""


@pytest.fixture
def totalled(tmp_path):
    """A ready demo whose rows were summed by hand into totals.csv."""
    folder = tmp_path / READY
    shutil.copytree(next(f for f in DEMO_FOLDERS if f.name == READY), folder, ignore=NOT_REVIEWED)
    groups = defaultdict(list)
    with (folder / "trial.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            groups[row["date"], row["method"], row["task"]].append(row)
    (folder / "trial.csv").unlink()
    with (folder / "totals.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["date", "method", "task", "attempts", "done", *COLUMNS, "slowest_release_s", "note"])
        for key, rows in groups.items():
            amounts = [_amount(rows, column) for column in COLUMNS]
            slowest = max((float(row["release_s"]) for row in rows if row["release_s"]), default="")
            writer.writerow([*key, len(rows), sum(row["success"] == "1" for row in rows), *amounts, slowest, ""])
    return folder


def test_evidence_names_the_lines_of_the_totals(totalled):
    code, out, _ = run("evidence", totalled, "--all")
    assert code == 0 and "totals.csv, lines 2-" in out and "known as day totals, proximity head array" in out
    assert "only the slowest release is known, so no bound of releases" in out


def test_the_letter_says_what_totals_do_not_tell(totalled):
    letter = trees(assess(totalled), ["letter"])["letter"].plain()
    assert "Only the totals of a day were kept of all 20 attempts with the hand-operated standard joystick " in letter
    assert " and of all 46 attempts with the proximity head array " in letter
    assert "Totals give no times of single attempts and no order, and of the releases only the slowest." in letter


def test_any_change_of_the_totals_ends_an_approval(totalled):
    case = assess(totalled)
    if case.open:
        pytest.fail(f"the totals hold the case back: {[v.answer.reason for v in case.open]}")
    approve(case, "Perpetua Lindqvist-Amadi, OTR/L", date(2026, 11, 20), wording())
    assert reviewed(assess(totalled), wording()).stands
    path = totalled / "totals.csv"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.rstrip("\n") + "spilled\n", encoding="utf-8")
    assert "totals.csv" in reviewed(assess(totalled), wording()).changed


def test_totals_travel_and_count_for_whether_a_case_has_changed(totalled):
    before = case_contents(totalled)
    assert "totals.csv" in before.files
    (totalled / "totals.csv").write_text("date\n", encoding="utf-8")
    assert case_contents(totalled).digest != before.digest


def test_a_copy_about_nobody_has_its_totals_without_names_and_with_moved_days(totalled, tmp_path):
    path = totalled / "totals.csv"
    true = assess(totalled).file.case
    path.write_text(path.read_text(encoding="utf-8").rstrip("\n") + f"with {true.client.name}\n", encoding="utf-8")
    copy = teaching_copy(assess(totalled), wording(), tmp_path / "out", 60).file.case
    assert [(t.attempts, t.done, t.releases_s) for t in copy.totals] == [
        (t.attempts, t.done, t.releases_s) for t in true.totals
    ]
    assert {(mine.date - other.date).days for mine, other in zip(copy.totals, true.totals, strict=True)} == {60 * 7}
    note = copy.totals[-1].note
    assert note and note.startswith("with ") and not set(true.client.name.split()) & set(note.split())


def test_a_former_case_is_carried_over_with_its_totals(totalled, tmp_path):
    assert run("new", tmp_path / "ilmari-again", "--from", totalled)[0] == 0
    carried, former = (
        (folder / "totals.csv").read_text(encoding="utf-8") for folder in (tmp_path / "ilmari-again", totalled)
    )
    assert carried == former  # line ends aside, which reading makes one
