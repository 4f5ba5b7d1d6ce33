"""The plan and the lesson card: what a coach can read off them; which documents a case has, and the day on each."""

from __future__ import annotations

import re
import shutil
from datetime import date
from itertools import product

import pypdfium2
import pytest
from gathered import of_each
from made import BOHDAN, FOLDERS, ILMARI, MARISOL, SAOIRSE, items, lesson_rows, rebuilt, table
from support import ASSESSED, Lazily, assess

from docgen.case.asked import ChosenFeature
from docgen.case.stage import STAGES, STEPS, STOP_TASKS, tasks_of
from docgen.documents import measures
from docgen.documents.driving_errors import errors_of
from docgen.documents.row_rule import row_rule
from docgen.documents.stages import stage_table
from docgen.evidence.rows_of_five import decide
from docgen.evidence.stops_in_a_row import IN_A_ROW
from docgen.evidence.training import stage_now
from docgen.figures import lesson_boxes
from docgen.fit.feature import features
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.rendering.formats import to_pdf
from docgen.rendering.page import Page
from docgen.rendering.readability import reading
from docgen.rendering.style import LESSON
from docgen.scene import Circle, Rect, Text

WORDS = language_words()
MADE = Lazily(lambda folder: trees(ASSESSED[folder.name], ["plan", "programming", "lesson", "progress", "appeal"]))

NAMES = WORDS["figures"]["ladder_names"]


def steps_in(tree):
    """The numbers of the steps that have a heading of their own, under whatever band."""
    headings = [node.plain().rpartition(": ")[2] for node in tree.walk() if node.kind == "heading"]
    return [NAMES.index(heading) for heading in headings if heading in NAMES]


# ---- the plan --------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", MADE)
def test_a_coach_can_read_the_plan(name):
    measured = reading(MADE[name]["plan"])
    assert measured.grade <= 6 and measured.smog <= 8 and measured.words_per_sentence < 12


@of_each("name", MADE)
def test_the_step_now_stands_in_full_those_ahead_in_a_row_and_those_behind_in_a_line(name):
    tree = MADE[name]["plan"]
    case = ASSESSED[name].file.case
    now = stage_now(case)
    assert steps_in(tree) == [now]
    text = "\n".join(items(tree, "Training Levels"))
    ahead = table(tree, "Steps ahead")[1:]
    assert [row[0] for row in ahead] == [
        f"{NAMES[stage.number]} ({WORDS['figures']['bands'][stage.band]})" for stage in STAGES[now + 1 :]
    ]
    assert all(all(cell for cell in row) for row in ahead)
    told = "\n".join(of_step(tree, now))
    behind = next((line for line in [text, *of_step(tree, now)] if line.startswith("Behind ")), "")
    assert all(NAMES[number] in behind for number in range(now))
    assert not now or f"Only {case.with_role('evaluator')[0].name} goes back to one of these." in behind
    assert "Where:" in told and "You:" in told
    open_now = table(tree, f"{NAMES[now]}: what is open")
    assert open_now[0][:2] == ["Task, one try", "Profile"] and len(open_now) - 1 == len(
        {*tasks_of(STAGES[now], case), "stop_word"}
    )


def of_step(tree, now):
    band = WORDS["figures"]["bands"][STAGES[now].band]
    return items(tree, f"{band}: {NAMES[now]}")


def _says(cell, rows):
    """Whether a cell of the table for the coach holds of these full rows."""
    last = {2 * 5: sum(rows[-2:]), 3 * 5: sum(rows[-3:])}
    for part in re.split(r", or |\. Or ", cell):
        if not (
            form := re.match(
                r"(\d+)( or more| or fewer)? of the last (\d+)(, and no more than of the 10 before)?$", part
            )
        ):
            continue
        k, way, n, rising = int(form[1]), form[2], int(form[3]), form[4]
        if len(rows) < n // 5:
            continue
        of = last[n]
        holds = of >= k if way == " or more" else of <= k if way == " or fewer" else of == k
        if holds and (not rising or of <= sum(rows[-4:-2])):
            return True
    return False


@pytest.mark.parametrize("stage", [4, 5], ids=["at arm's length", "nobody near"])
def test_the_table_of_the_coach_says_of_every_row_what_the_rule_says(stage):
    """Each count of up to four rows, looked at by the words of the table alone."""
    of_rows = {}
    for row in row_rule(stage, WORDS):
        first, _, last = row["full"].partition(" to ")
        of_rows |= dict.fromkeys(range(int(first), int(last or first) + 1), row)
    for rows in (rows for n in (2, 3, 4) for rows in product(range(6), repeat=n)):
        row = of_rows[len(rows)]
        told = "move_on" if _says(row["move_on"], rows) else "change" if _says(row["change"], rows) else "go_on"
        assert told == decide(rows, STAGES[stage].nobody_near), rows
    assert of_rows[8]["other"] == "call the therapist" and set(of_rows) == set(range(2, 9))


def test_the_plan_says_how_sure_the_rule_is_and_what_it_is_not():
    """Worked out apart from this program: at 60 of 100 moved on 9 times of 100, at 65 19, at 80 77; at 90 told
    to change once, at 80 18 times."""
    tree = MADE[ILMARI]["plan"]
    rows = table(tree, "Of a hundred drivers who do so many of a hundred tries alone")[1:]
    assert [row[:2] for row in rows] == [["60", "9"], ["65", "19"], ["80", "77"], ["90", "99"]]
    assert [row[2] for row in rows[2:]] == ["18", "1"]
    told = " ".join(items(tree, "Criteria to Advance"))
    assert "one who does 74 of a hundred still gets it one time in twenty" in told
    assert (
        "no study of driving set its numbers" in told
        and "passes the stops 29 times of a hundred, one at 90, 72" in told
    )


TROUBLE = "When It Does Not Go Well"


def errors_told(tree):
    """Entries of errors seen, without the events that the lessons recorded."""
    return [text for text in items(tree, TROUBLE) if "Look at:" in text]


@of_each("name", MADE)
def test_every_group_of_errors_begins_with_stopping_the_chair(name):
    tree, stop = MADE[name]["plan"], ASSESSED[name].file.case.configuration.stop.helper
    told = items(tree, TROUBLE)
    text = "\n".join(told)
    first = f"Stop the chair first, each time: {stop}. Then write it down, then look."
    assert first in text and text.index(first) < text.index("Look at: ")
    for group in ("Seen in the", "To be expected from what"):
        assert all("Stop the chair first" in line for line in told if line.startswith(group)), group
    unseen = [line for line in told if "Not seen so far" in line]
    assert all(line.startswith("If you see one of these, stop the chair the same way") for line in unseen)
    assert "You never change a setting. Only the supplier or the therapist does." in text


def test_what_does_not_go_well_is_looked_at_in_an_order_before_the_task_is_made_easier():
    tree = MADE[ILMARI]["plan"]
    text = "\n".join(items(tree, TROUBLE))
    order = "the body today, the seat, marks and gaps, whether each touch counts, the setting, the place"
    assert f"In this order: {order}, your words and waiting, and only then the task." in text
    assert len(WORDS["look_first"]) == 9 and all(row["seen"] in tree.plain() for row in WORDS["look_first"])


def test_what_is_usual_with_one_control_alone_is_told_in_full_there_and_nowhere_else():
    # his forward is the rear pad: losing it in a turn is to be expected though the trial did not show it
    told = [text for text in errors_told(MADE[ILMARI]["plan"]) if text.startswith("Loses the rear pad in a turn.")]
    assert len(told) == 1 and told[0].endswith("Common with this control; not seen so far.")
    assert not [name for name in (SAOIRSE, MARISOL, BOHDAN) if "Loses the rear pad" in MADE[name]["plan"].plain()]


CONTROLS = [feature for feature in features().values() if feature.part == "control" and feature.sites]


@of_each("feature", CONTROLS, ids=lambda feature: feature.id)
def test_each_control_has_the_errors_of_its_own_kind(feature):
    case = ASSESSED[ILMARI].file.case
    case = case.model_copy(
        update={
            "configuration": case.configuration.model_copy(
                update={"features": (ChosenFeature(id=feature.id, because=("head_three_way",)),)}
            )
        }
    )
    said = errors_of(case, WORDS)
    assert set(said) >= {"stops_missed", "release_late", "contacts_often"} and all(
        {"name", "look", "coach"} <= set(one) for one in said.values()
    )
    assert ("rear_lost_in_turn" in said) is (feature.id in ("head_array", "forward_held_in_turn"))
    text = " ".join(f"{one['look']} {one['coach']}" for one in said.values())
    if any(site.startswith("mouth") for site in feature.sites):
        # a breath out is a command, and which one stops is the case's own: a sip that stops one chair backs another up
        assert (
            not re.search(r"breath out|breathe|blow|hard sip|short sip", text) and said["release_late"]["stop"] is True
        )
    assert not re.search(r"(?i)\b(raise|lower|turn (up|down)|set) the (speed|pressure|sound|delay|time limit)", text)


@of_each("feature", features().values(), ids=lambda feature: feature.id)
def test_no_words_of_training_have_the_coach_change_a_setting(feature):
    assert not re.search(
        (
            r"(?i)\b(set|keep) the (pressures?|time limit|speed|sounds?)\b|turn the sounds? on|add the next|keep "
            r"the top speed"
        ),
        feature.training,
    )


def test_after_lessons_the_errors_are_those_of_the_lessons():
    rows, told = lesson_rows(), "\n".join(errors_told(MADE[SAOIRSE]["plan"]))
    here = [row for row in rows if row["stage"] == "corners"]
    n_all, n_here = (sum(int(row["missed"]) for row in part) for part in (rows, here))
    at_step = f"At this step: commands without response, {n_here}. In all sessions: commands without response, {n_all}."
    assert at_step in told
    assert "A stop is missed." not in told and "In the trial" not in told  # 73 of 73 since, though the trial missed one
    assert "In the trial: stops done, 7 of 8." in "\n".join(errors_told(MADE[MARISOL]["plan"]))


def test_the_settings_are_those_in_force_with_each_recorded_change():
    rows = {row[0]: row for row in table(MADE[SAOIRSE]["programming"], NOW)[1:]}
    case = ASSESSED[SAOIRSE].file.case
    ordered = {profile.name: profile for profile in case.configuration.profiles}
    assert (
        ordered["training"].turn_deg_s == 20 and rows["training"][2] == "16\u00a0degrees/s"
    )  # the lessons record 20 to 16 on July 31
    for name, row in rows.items():
        assert row[1] == measures.mph(ordered[name].speed_m_s, words=WORDS) and (
            name == "training" or row[2] == f"{ordered[name].turn_deg_s:g}\u00a0degrees/s"
        )
    for line in (line for line in lesson_rows() if line["changed"]):
        profile = line["changed_profile"]  # the name of each profile of this case is its id
        day = f"{WORDS['months'][int(line['date'][5:7]) - 1]} {int(line['date'][8:])}, {line['date'][:4]}"
        assert f"{day}: {line['changed']}." in rows[profile][4]
    assert sum("2026:" in row[4] for row in rows.values()) == 2


NOW, TURN = "Settings now, with each change since delivery", "turn speed of the training profile 20 to 16 degrees/s"


@pytest.mark.parametrize(
    "file, old, new, turn",
    [
        ("sessions_csv", "training,turn_speed,16", ",,", "20\u00a0degrees/s"),
        ("sessions_csv", "training,turn_speed,16", "training,turn_speed,", "not recorded: turn rate of the training"),
        ("sessions_csv", "training,turn_speed,16", "training,turn_speed,15", "15\u00a0degrees/s"),
        (
            "case_toml",
            "done_on = 2026-08-17\n",
            (
                "done_on = 2026-08-17\n"
                "changed = [{profile = 'training', setting = 'turn_speed', to = 14, says = 'to 14'}]\n"
            ),
            "14\u00a0degrees/s",
        ),
    ],
    ids=["a remark", "no value", "another value", "at a visit"],
)
def test_the_settings_now_follow_the_keys_and_a_remark_stands_beside_them(tmp_path, file, old, new, turn):
    made = rebuilt(
        tmp_path, SAOIRSE, only=("plan", "programming", "progress"), **{file: lambda text: text.replace(old, new)}
    )
    row = next(row for row in table(made["programming"], NOW) if row[0] == "training")
    assert turn in row[2]
    plan, changed = made["programming"].plain(), "\n".join(items(made["progress"], "Settings changed"))
    remark = new == ",,"
    assert ("noted without a profile and a setting" in plan) == remark
    assert (TURN in row[4]) == (not remark) and TURN in plan and TURN in changed
    assert ("August 17, 2026: to 14." in row[4] and "August 17, 2026: to 14." in changed) == (file == "case_toml")


def test_the_demo_with_lessons_ends_where_its_stops_made_alone_put_it():
    """Ten unannounced stops in a row without help never came, so the step from which training began is not passed;
    47 of 73 were made alone."""
    case, tree = ASSESSED[SAOIRSE].file.case, MADE[SAOIRSE]["plan"]
    assert stage_now(case) == case.training.stage == STEPS.index("corners")
    told = "\n".join(items(tree, "Where Saoirse is now"))
    assert (
        "is at Straight and corners." in told
        and "47 of 73 were made alone: without a second word, a sign or a hand." in told
    )
    assert "stops by surprise wait for Emeka Strand-Whitlock." in told
    ahead = [row for row in lesson_rows() if STEPS.index(row["stage"]) > case.training.stage]
    assert f"{len(ahead)} tries were made at later steps" in told


def test_the_open_counts_are_those_of_the_file_and_the_nearer_rule_wins():
    rows = {
        row[0].split(" (")[0]: row for row in table(MADE[SAOIRSE]["plan"], "Straight and corners: what is open")[1:]
    }
    since = [row for row in lesson_rows() if row["stage"] == "corners" and row["date"] >= "2026-08-24"]
    straight = [row for row in since if row["task"] == "straight"]  # a setting was changed on August 24
    assert rows["drive straight"][2] == f"{sum(row['help'] == 'I' for row in straight)} of {len(straight)}"
    assert rows["park"][2] == "passed" and rows["stop at a word"][2] == "waits for the therapist"
    rows = {}
    for step in STAGES[6:8]:
        told = stage_table(ASSESSED[SAOIRSE].file.case, ASSESSED[SAOIRSE].evidence, step, None, WORDS)
        for task, near in zip(told["counted"], told["task_near"], strict=True):
            rows[task.split(" (")[0]] = near
    # stage and record both ask for arm's reach, so the record says who; on the ramp two people are named
    near, _, now = rows["archive aisle"].partition(". For now, at the archive: ")
    assert near == "within arm's reach: her job coach" and now.startswith("No driving at the archive until")
    assert rows["ramp at the front door"] == (
        "within arm's reach: her aide behind her at the stop, the neighbor waiting at the end"
    )
    real = next(stage for stage in STAGES if stage.id == "real_day")
    ilmari = ASSESSED[ILMARI]
    day = stage_table(ilmari.file.case, ilmari.evidence, real, None, WORDS)
    assert str(day["task_near"][0]).startswith(
        "within arm's reach: a classroom aide"
    )  # the step would ask for "in sight"


def test_a_coach_asks_before_going_back_to_a_place_with_many_bumps(tmp_path):
    """From the step of ramps and ways outside on, where the record has three bumps in eight tries of driving."""
    out = {
        "case_toml": lambda t: t.replace('\nstage = "corners"', '\nstage = "out"'),
        "sessions_csv": lambda t: "\n".join(
            line for line in t.split("\n") if not line or line[:5] == "date," or ",out," in line
        ),
    }
    asked = (
        "Ask first: bumps are often at this step. Before you go back to archive aisle and archive yard, call "
        "Emeka Strand-Whitlock."
    )
    assert asked in items(rebuilt(tmp_path, SAOIRSE, ("plan",), **out)["plan"], "Training Sessions")
    assert "Ask first" not in "\n".join(items(MADE[SAOIRSE]["plan"], "Training Sessions"))


def test_what_holds_for_now_is_told_until_the_therapist_writes_otherwise():
    told = "\n".join(items(MADE[SAOIRSE]["plan"], "Supervision"))
    assert "in the six hours alone: her aide, fifteen minutes away, available by phone" in told
    assert (
        "For now: The chair is off while she is alone. She calls by the pendant at her heel. "
        "This holds until Emeka Strand-Whitlock writes otherwise."
    ) in told
    assert "A step that is passed changes none of this by itself" in told


def test_a_drill_for_beginners_is_gone_at_a_later_stage(tmp_path):
    out = {"case_toml": lambda t: t.replace('\nstage = "corners"', '\nstage = "out"')}
    first, later = MADE[SAOIRSE]["plan"], rebuilt(tmp_path, SAOIRSE, ("plan",), sessions_csv=None, **out)["plan"]
    first_helps, later_helps = ("\n".join(items(tree, "Prompt Levels (least to most)")) for tree in (first, later))
    assert "with the chair still" in first_helps and "with the chair still" not in later_helps


def test_how_the_driver_says_stop_is_told_or_a_gap(tmp_path):
    assert "She says stop while driving: she takes her foot off the joystick and keeps it off" in "\n".join(
        items(MADE[SAOIRSE]["plan"], "Before you begin")
    )
    assert "not recorded: how the driver says stop while driving" in "\n".join(
        items(MADE[BOHDAN]["plan"], "Before you begin")
    )


def test_lessons_before_delivery_stand_under_a_condition(tmp_path):
    assert "Delivery of the chair is not recorded yet." in "\n".join(items(MADE[MARISOL]["plan"], "Training Sessions"))
    assert "No delivery" not in "\n".join(items(MADE[SAOIRSE]["plan"], "Training Sessions"))
    assert items(MADE[SAOIRSE]["plan"], "Follow-up")[0].startswith(
        "26\u00a0weeks after delivery, January 4, 2027:"
    )  # July 6 and 182 days


def test_a_place_that_supervision_covers_must_be_known(tmp_path):
    from docgen.errors import UserError

    with pytest.raises(
        UserError,
        match=(
            r"case.toml:\d+: 'frontramp' is no place in \[\[spaces\]\] and no task of training. Did you mean "
            r"'front_ramp'"
        ),
    ):
        rebuilt(tmp_path, SAOIRSE, case_toml=lambda t: t.replace('covers = ["front_ramp"]', 'covers = ["frontramp"]'))


def test_a_longer_lesson_than_the_trial_bore_begins_shorter(tmp_path):
    words = "\n".join(
        items(
            rebuilt(tmp_path, ILMARI, case_toml=lambda t: t.replace("minutes = 20\nplace", "minutes = 45\nplace"))[
                "plan"
            ],
            "Training Sessions",
        )
    )
    assert (
        "45\u00a0minutes at most. In the trial he kept going for 22 minutes without a break."
        " Begin with no more than that." in words
    )
    assert "Begin with no more" not in "\n".join(items(MADE[ILMARI]["plan"], "Training Sessions"))


def test_lessons_stand_on_the_hours_the_week_leaves_free_or_the_gap_shows():
    assert "Monday 6:30 pm, Wednesday 7:00 pm and Friday 6:30 pm" in "\n".join(
        items(MADE[SAOIRSE]["plan"], "Training Sessions")
    )
    assert "not recorded: free hours of the trainer's week" in "\n".join(
        items(MADE[BOHDAN]["plan"], "Training Sessions")
    )


def test_the_plan_goes_on_from_the_stage_reached(tmp_path):
    told = "\n".join(items(MADE[SAOIRSE]["plan"], "Where Saoirse is now"))
    assert (
        "up to October 9, 2026, Saoirse is at Straight and corners. Training began at Straight and corners."
    ) in told and "Passed since then" not in told
    without = rebuilt(tmp_path, SAOIRSE, sessions_csv=None)["plan"]
    assert "Training starts at Straight and corners." in "\n".join(items(without, "Where Saoirse is now"))


# ---- the lesson card -------------------------------------------------------------------------------


def test_no_name_of_a_file_stands_on_a_card_that_a_coach_fills_in():
    for name in MADE:
        assert not re.search(r"\b[a-z]+_[a-z_]+\b|\.csv\b", MADE[name]["lesson"].plain()), name


def sides(tree):
    """The nodes of each side of a lesson card."""
    found = [[]]
    for node in tree.children:
        if node.kind == "page_break":
            found.append([])
        else:
            found[-1].append(node)
    return found


@of_each("name", MADE)
def test_a_card_has_two_sides_two_tasks_and_four_columns_at_most(name):
    case = ASSESSED[name].file.case
    cards = sides(MADE[name]["lesson"])
    assert len(cards) % 2 == 0
    if any(node.plain() == "First session: stops" for node in cards[0]):
        assert "".join(node.plain() for node in cards[0]).count("□") == IN_A_ROW
        assert "ten in a row" in MADE[name]["plan"].plain()
        cards = cards[2:]
    stage = STAGES[stage_now(case)]
    n_open = len([task for task in tasks_of(stage, case) if task not in STOP_TASKS])
    assert len(cards) // 2 <= (n_open if stage.one_new else (n_open + 1) // 2)
    for front, back in zip(cards[::2], cards[1::2], strict=True):
        (tasks,) = (node for node in front if node.kind == "table")
        rule, totals = (node for node in back if node.kind == "table")
        assert [row.children[0].plain() for row in tasks.children[1:]] == ["A", "B"]
        if stage.one_new and not case.sessions:
            assert tasks.children[2].children[1].plain() == "something sure"
        assert all(len(row.children) <= 4 for node in (tasks, rule, totals) for row in node.children)
        assert [node.name for node in front if node.kind == "figure"] == ["lesson_boxes"]
        # the table of the coach and the totals stand on the same side, word for word
        assert [[cell.plain() for cell in row.children] for row in rule.children[1:]] == [
            [*row.values()] for row in row_rule(stage_now(case), WORDS)
        ]


def test_a_card_carries_what_is_open_and_says_what_waits():
    text = MADE[SAOIRSE]["lesson"].plain()
    assert (
        "Stops wait for Emeka Strand-Whitlock. Call before this session: 555-0112. Until then only rows A and B."
        in text
    )
    card = [row for node in MADE[SAOIRSE]["lesson"].walk() if node.kind == "table" for row in node.children]
    carried = {row.children[0].plain(): row.children[1].plain() for row in card}
    # since a setting was changed on August 24: 5 of 8 and 9 of 16 tries alone, by hand from the file
    assert carried["A drive straight"] == "3; begun: 2 of 3 alone, strike out 3 boxes"
    assert carried["B drive around a corner"] == "4, 2, 3; begun: 0 of 1 alone, strike out 1 box"
    assert "park" not in " ".join(carried)  # passed


def test_a_card_has_a_box_a_try_and_no_more_marks_than_tries():
    scene = lesson_boxes.scene(ASSESSED[SAOIRSE].file.case, ASSESSED[SAOIRSE].evidence, lesson_boxes.WORDS)
    boxes = [shape for shape in scene.shapes if isinstance(shape, Rect) and shape.stroke is not None]
    assert len(boxes) == 3 * (5 + 3) and all(box.w == box.h >= 10 / 25.4 * 72 for box in boxes)  # 10 mm
    marks = [shape for shape in scene.shapes if isinstance(shape, Circle)]
    assert len(marks) == 5 + 2 + 3  # of the example, and of the legend
    assert all(shape.size >= 14 for shape in scene.shapes if isinstance(shape, Text))
    assert scene.w <= 612 - 2 * LESSON.margin_side  # as wide as the sheet, so that nothing is drawn smaller


@of_each("name", MADE)
def test_a_side_of_a_card_is_one_page_in_black_at_14_points(name):
    tree = MADE[name]["lesson"]
    scenes = {"lesson_boxes": lesson_boxes.scene(ASSESSED[name].file.case, ASSESSED[name].evidence, lesson_boxes.WORDS)}
    file = to_pdf.render(tree, Page("Lesson", f"{name}, lesson card", date(2026, 10, 9), "Draft"), scenes, LESSON)
    assert len(pypdfium2.PdfDocument(file)) == len(sides(tree))
    sizes = (LESSON.body, LESSON.item, LESSON.cell, LESSON.caption, *LESSON.headings)
    assert min(style.size for style in sizes) >= 14 and LESSON.least_figure == 1.0


# ---- which documents there are -----------------------------------------------------------------------


def test_only_a_case_with_sessions_has_a_progress_report_and_only_a_denied_one_an_appeal():
    assert {name for name, made in MADE.items() if "progress" in made} == {SAOIRSE}
    assert {name for name, made in MADE.items() if "appeal" in made} == {MARISOL}


def test_a_template_that_needs_what_no_case_can_hold_is_refused_with_its_line(tmp_path):
    from docgen.documents.document import documents
    from docgen.errors import UserError
    from docgen.resources import folder

    text = (folder("templates") / "en" / "appeal.md").read_text(encoding="utf-8")
    (tmp_path / "appeal.md").write_text(text.replace('needs = "denial"', 'needs = "denail"'), encoding="utf-8")
    line = text.split("\n").index('needs = "denial"') + 1
    with pytest.raises(UserError, match=rf"appeal.md:{line}: a document cannot need 'denail'. Did you mean 'denial'"):
        documents(tmp_path)


def test_each_document_carries_the_day_of_what_it_tells():
    from docgen.documents.document import dated_on
    from docgen.packet.wording import wording

    docs = wording().documents
    case, denied = ASSESSED[SAOIRSE].file.case, ASSESSED[MARISOL].file.case
    days = {name: str(dated_on(docs[name], case)) for name in ("letter", "guide", "plan", "lesson", "progress")}
    assert days == {
        "letter": "2026-03-26",
        "guide": "2026-08-24",  # of the last setting that it tells
        "plan": "2026-10-09",
        "lesson": "2026-10-09",
        "progress": "2026-10-09",
    }
    assert str(dated_on(docs["appeal"], denied)) == "2026-05-04"


def test_rows_of_training_are_part_of_what_is_reviewed(tmp_path):
    from docgen.packet.approval import parts
    from docgen.packet.wording import wording

    target = shutil.copytree(FOLDERS[SAOIRSE], tmp_path / SAOIRSE)
    before = parts(assess(target), wording())
    path = target / "sessions.csv"
    path.write_text(
        path.read_text(encoding="utf-8").replace(
            "2026-07-13,corners,straight,1,I,,25,", "2026-07-13,corners,straight,1,I,,26,"
        ),
        encoding="utf-8",
    )
    after = parts(assess(target), wording())
    assert {name for name in before if before[name] != after[name]} == {"sessions.csv"}
    assert "sessions.csv" not in parts(ASSESSED[ILMARI], wording())
