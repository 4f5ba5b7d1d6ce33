"""The plan, the tick sheets, the progress report and the appeal: what a coach, a reviewer and an appeals officer can read off them."""

from __future__ import annotations

import re
import shutil

import pytest
from support import DEMO_FOLDERS

from docgen.case.session import COLUMNS
from docgen.case.stage import STAGES
from docgen.evidence.mastery import mastery_plan
from docgen.packet import assess, language_words, trees
from docgen.rendering.words import reading

WORDS = language_words()
FOLDERS = {folder.name: folder for folder in DEMO_FOLDERS}
SAOIRSE, MARISOL, ILMARI, BOHDAN = "saoirse-villalobos-ng", "marisol-quenneville-tran", "ilmari-okonjo-vale", "bohdan-lacroix-mbeki"
MADE = {name: trees(assess(folder), ["plan", "ticks", "progress", "appeal"]) for name, folder in FOLDERS.items()}


def items(tree, under):
    """Text of the blocks under a heading, up to the next one of its level or above."""
    found, level = [], None
    for node in tree.children:
        if node.kind == "heading":
            if level is not None and node.level <= level:
                break
            if node.plain() == under:
                level = node.level
        elif level is not None:
            found += [node.plain()] if node.kind != "list" else [item.plain() for item in node.children]
    return found


def table(tree, caption):
    found = next(node for node in tree.walk() if node.kind == "table" and node.caption == caption)
    return [[cell.plain() for cell in row.children] for row in found.children]


def rebuilt(tmp_path, name, **changes):
    """The documents of a demo whose files were changed: file -> function of its text; None takes the file away."""
    target = shutil.copytree(FOLDERS[name], tmp_path / name)
    for file, change in changes.items():
        path = target / file.replace("_", ".")
        if change is None:
            path.unlink()
        else:
            text = path.read_text(encoding="utf-8")
            changed = change(text)
            assert changed != text
            path.write_text(changed, encoding="utf-8")
    return trees(assess(target), ["plan", "ticks", "progress", "appeal"])


# ---- the plan --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", MADE)
def test_a_coach_can_read_the_plan(name):
    measured = reading(MADE[name]["plan"])
    assert measured.grade <= 6 and measured.smog <= 8 and measured.words_per_sentence < 12


@pytest.mark.parametrize("name", MADE)
def test_the_stages_ahead_stand_in_full_and_those_behind_in_a_line(name):
    tree = MADE[name]["plan"]
    now = next(int(m[1]) for m in [re.search(r"stage (\d):", tree.plain())])
    full = [int(node.plain()[6]) for node in tree.walk() if node.kind == "heading" and node.plain().startswith("Stage ")]
    assert full == list(range(now, 8))
    text = "\n".join(items(tree, "The stages"))
    for number in range(now):
        assert re.search(rf"^Stage {number}: ", text, re.M)
    for stage in (STAGES[n] for n in full):
        told = "\n".join(items(tree, f"Stage {stage.number}: {WORDS['figures']['ladder_names'][stage.number]}"))
        for part in ("Where:", "Tasks:", "Speed:", "Who is near:", "You:", "Start when:", "Move on when:"):
            assert part in told, (stage.number, part)


def test_the_table_of_the_plan_is_the_sequential_test_of_the_case(tmp_path):
    def other(text):
        return text.replace("coach = \"aide\"\nstage = 3", "coach = \"aide\"\nmastery = { poor = 0.5, good = 0.8, wrong_pass = 0.05, wrong_hold = 0.1 }\nstage = 3")

    rows = table(rebuilt(tmp_path, ILMARI, case_toml=other)["plan"], "Move on, go back, or keep going")[1:]
    plan = mastery_plan(0.5, 0.8, 0.05, 0.1)
    for n, on, back in ((int(n), on, back) for n, on, back in rows):
        least = next((k for k in range(n + 1) if k >= plan.slope * n + plan.above), None)
        most = next((k for k in range(n, -1, -1) if k <= plan.slope * n - plan.below), None)
        assert (on, back) == (str(least) if least is not None else "-", str(most) if most is not None else "-")


def test_the_plan_says_how_often_the_table_errs_rounded_up():
    told = " ".join(items(MADE[ILMARI]["plan"], "When to move on"))
    # exact, by dynamic programming over the table: 0.0433 at 90% and 0.0838 at 60%; the simulated drivers agree
    assert "sent back by bad luck 5 times in a hundred" in told and "moved on by good luck 9 times in a hundred" in told


def test_only_errors_seen_in_the_trial_are_told_in_full_and_no_coach_changes_a_setting():
    told = "\n".join(items(MADE[SAOIRSE]["plan"], "When something goes wrong"))
    full, short = told.split("Not seen in the trial")
    assert "A stop is missed." in full and "8 of 9" in full and "Lets go late" in short and "Lets go late" not in full
    assert "You never change a setting. Only the supplier or the therapist does." in told
    at_work = table(MADE[SAOIRSE]["plan"], "Settings to look at")
    assert at_work[1][:2] == ["forward speed", "down"]


def test_a_longer_lesson_than_the_trial_bore_begins_shorter(tmp_path):
    words = "\n".join(items(rebuilt(tmp_path, ILMARI, case_toml=lambda t: t.replace("minutes = 20\nplace", "minutes = 45\nplace"))["plan"], "The lessons"))
    assert "45\u00a0minutes at most. In the trial he held up for 22 minutes in one go. Begin with no more than that." in words
    assert "Begin with no more" not in "\n".join(items(MADE[ILMARI]["plan"], "The lessons"))


def test_lessons_stand_on_the_hours_the_week_leaves_free_or_the_gap_shows():
    assert "Monday 6:30 pm, Wednesday 7:00 pm and Friday 6:30 pm" in "\n".join(items(MADE[SAOIRSE]["plan"], "The lessons"))
    assert "not recorded: free hours of the coach's week" in "\n".join(items(MADE[BOHDAN]["plan"], "The lessons"))


def test_the_plan_goes_on_from_the_stage_reached(tmp_path):
    told = "\n".join(items(MADE[SAOIRSE]["plan"], "Where Saoirse is now"))
    assert "up to 9 October 2026, Saoirse is at stage 7: Out and about. Training began at stage 4. Passed since then: stage 4, 5 and 6." in told
    without = rebuilt(tmp_path, SAOIRSE, sessions_csv=None)["plan"]
    assert "Training starts at stage 4: Straight and corners." in "\n".join(items(without, "Where Saoirse is now"))


# ---- the tick sheets -------------------------------------------------------------------------------


@pytest.mark.parametrize("name", MADE)
def test_each_sheet_holds_every_column_of_sessions_csv_once(name):
    tree = MADE[name]["ticks"]
    sheets = [node for node in tree.children if node.kind == "table"]
    stages = [node.plain() for node in tree.walk() if node.kind == "heading" and node.plain().startswith("Stage ")]
    assert len(sheets) == 2 * len(stages) >= 2
    heads = {column.name: column.head or column.name for column in COLUMNS}
    for once, each in zip(sheets[::2], sheets[1::2], strict=True):
        of_once = [cell.plain() for row in once.children[1:] for cell in row.children[::2] if cell.plain().strip()]
        of_each = [cell.plain().partition(":")[0] for cell in each.children[0].children]
        assert sorted([*of_once, *of_each]) == sorted(name if name in of_once else heads[name] for name in heads)


# ---- the progress report ---------------------------------------------------------------------------


def test_only_a_case_with_sessions_has_a_progress_report_and_only_a_denied_one_an_appeal():
    assert {name for name, made in MADE.items() if "progress" in made} == {SAOIRSE}
    assert {name for name, made in MADE.items() if "appeal" in made} == {MARISOL}


def test_the_report_counts_what_the_file_holds():
    text = FOLDERS[SAOIRSE].joinpath("sessions.csv").read_text(encoding="utf-8").splitlines()
    head = text[0].split(",")
    rows = [dict(zip(head, line.split(","), strict=False)) for line in text[1:]]  # read here on its own; the counts stand before any quoted cell
    told = " ".join(items(MADE[SAOIRSE]["progress"], "In short"))
    n_days, n_done = len({row["date"] for row in rows}), sum(row["success"] == "1" for row in rows)
    assert f"{n_days} sessions" in told and f"{len(rows)} tries" in told and f"{n_done} of {len(rows)}" in told
    assert "Contacts with a person: 1. Near misses: 1. Stop rules met: 1; driven on without clearance: 0." in told
    # two goals of weights 2 and 1 at 0 and -1: 50 - 10 / sqrt(0.7 x 5 + 0.3 x 9) = 45.98; both at -2: 25.90 (Kiresuk and Sherman 1968)
    assert "score 46 at the last review, 25.9 at the start" in told


def test_the_decisions_tell_the_way_up_and_back():
    rows = table(MADE[SAOIRSE]["progress"], "Decisions by the mastery rule")[1:]
    said = [(row[1][0], row[4]) for row in rows]
    assert ("4", "stop rule met: count begins again") in said and ("5", "not yet: back one stage") in said
    assert said[-1] == ("7", "open: keeps going")
    back = said.index(("5", "not yet: back one stage"))
    # what was mastered before going back is told again once it is mastered again, and otherwise never twice
    assert sorted(row[2] for row in rows[back:] if row[1][0] == "4") == ["drive round a corner", "drive straight", "park", "stop at a word"]


def test_safety_changes_and_visits_are_told_with_their_days():
    tree = MADE[SAOIRSE]["progress"]
    assert any(t.startswith("29 July 2026: contact with a person.") and "Cleared by E. Strand-Whitlock" in t for t in items(tree, "Safety"))
    assert any(t.startswith("31 July 2026: turn speed") for t in items(tree, "Settings changed"))
    visits = items(tree, "Follow-up")
    assert sum("Held" in t for t in visits) == 3 and visits[-1].endswith("Ahead.")


def test_driving_on_and_a_visit_not_held_are_said_plainly(tmp_path):
    made = rebuilt(tmp_path, SAOIRSE, sessions_csv=lambda t: t.replace('"E. Strand-Whitlock, by phone, 30 July"', ""),
                   case_toml=lambda t: t.replace("done_on = 2026-08-17\n", ""))["progress"]
    assert any("Driving went on before anyone is recorded to have cleared it." in t for t in items(made, "Safety"))
    assert any("Overdue: not recorded as held." in t for t in items(made, "Follow-up"))


# ---- the appeal ------------------------------------------------------------------------------------


def test_each_reason_is_quoted_exactly_and_answered_alone_or_not_at_all():
    tree, case = MADE[MARISOL]["appeal"], assess(FOLDERS[MARISOL]).file.case
    quotes = [node.plain() for node in tree.children if node.kind == "callout"][1:]
    assert quotes == [f'"{reason.says}"' for reason in case.denial.reasons]
    assert [row[1] for row in table(tree, "The reasons and where they stand")[1:]] == ["answers it", "answers it", "answers part of it", "does not answer it"]
    first, third, fourth = (" ".join(items(tree, f"Reason {n}")) for n in (1, 3, 4))
    assert "6 of 16 (18% to 61%)" in first and "Shown in:" in first and "stops" not in first.split("Shown in:")[0].lower()
    assert "the record does not bear this out" in third and "This appeal does not argue this part." in third and "7 of 8 (53% to 98%)" in third
    assert "holds nothing that answers this reason" in fourth


def test_the_appeal_shows_its_deadline_offers_a_call_and_is_unsigned():
    tree = MADE[MARISOL]["appeal"]
    assert "Last day for this appeal: 19 June 2026." in tree.plain() and "speak with the reviewing clinician" in tree.plain()
    assert [node.plain() for node in tree.walk() if node.kind == "signature"]
    assert "[[" not in tree.plain()


def test_a_reason_with_no_record_behind_its_question_is_not_argued(tmp_path):
    made = rebuilt(tmp_path, MARISOL, case_toml=lambda t: t.replace('questions = ["simpler_controls_compared"]', 'questions = ["delivery_proven"]'))
    assert "the question does not arise here" in " ".join(items(made["appeal"], "Reason 2"))


def test_a_question_that_there_is_not_is_told_with_its_line(tmp_path):
    from docgen.errors import UserError

    with pytest.raises(UserError, match=r"case.toml:\d+: there is no question 'stops_on_requests'. Did you mean 'stops_on_request'"):
        rebuilt(tmp_path, MARISOL, case_toml=lambda t: t.replace('"stops_on_request", "stops', '"stops_on_requests", "stops'))


# ---- which documents there are -----------------------------------------------------------------------


def test_a_template_that_needs_what_no_case_can_hold_is_refused_with_its_line(tmp_path):
    from docgen.documents.document import documents
    from docgen.errors import UserError
    from docgen.resources import folder

    text = (folder("templates") / "en" / "appeal.md").read_text(encoding="utf-8")
    (tmp_path / "appeal.md").write_text(text.replace('needs = "denial"', 'needs = "denail"'), encoding="utf-8")
    with pytest.raises(UserError, match=r"appeal.md:8: a document cannot need 'denail'. Did you mean 'denial'"):
        documents(tmp_path)


def test_each_document_carries_the_day_of_what_it_tells():
    from docgen.documents.document import dated_on
    from docgen.packet import wording

    docs = wording().documents
    case, denied = assess(FOLDERS[SAOIRSE]).file.case, assess(FOLDERS[MARISOL]).file.case
    days = {name: str(dated_on(docs[name], case)) for name in ("letter", "guide", "plan", "ticks", "progress")}
    assert days == {"letter": "2026-03-26", "guide": "2026-03-26", "plan": "2026-10-09", "ticks": "2026-10-09", "progress": "2026-10-09"}
    assert str(dated_on(docs["appeal"], denied)) == "2026-05-04"


def test_rows_of_training_are_part_of_what_is_reviewed(tmp_path):
    from docgen.packet import wording
    from docgen.packet.approval import parts

    target = shutil.copytree(FOLDERS[SAOIRSE], tmp_path / SAOIRSE)
    before = parts(assess(target), wording())
    path = target / "sessions.csv"
    path.write_text(path.read_text(encoding="utf-8").replace(",PDI,", ",XYZ,"), encoding="utf-8")
    after = parts(assess(target), wording())
    assert {name for name in before if before[name] != after[name]} == {"sessions.csv"}
    assert "sessions.csv" not in parts(assess(FOLDERS[ILMARI]), wording())
