"""What is not recorded is said to be unknown, never to be absent, and what is counted is said with what it is counted
over."""

from __future__ import annotations

import csv
import io
import re

import pytest
from in_full import file_in_full, text_in_full
from made import page, tree_of
from msgspec.structs import replace
from support import ASSESSED, DEMO_FOLDERS, assess

from docgen.documents.supervised import supervised
from docgen.figures import stop_card, stop_sites
from docgen.fit.finding import vocabulary
from docgen.fit.settings import slowest
from docgen.packet.assess import assess_file
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

WORDS = language_words()
ANSELM, BOHDAN, ILMARI, MARISOL, PILAR, SAOIRSE = (
    next(folder for folder in DEMO_FOLDERS if folder.name.startswith(name))
    for name in ("anselm", "bohdan", "ilmari", "marisol", "pilar", "saoirse")
)
CASE, TRIAL, SESSIONS = "case.toml", "trial.csv", "sessions.csv"


def without_columns(source, *names, file=TRIAL):
    """The change that takes columns out of a demo's rows."""
    text = file_in_full(source / file)
    rows = list(csv.DictReader(io.StringIO(text)))
    made = io.StringIO()
    writer = csv.DictWriter(made, [name for name in rows[0] if name not in names], lineterminator="\n")
    writer.writeheader()
    writer.writerows({name: value for name, value in row.items() if name not in names} for row in rows)
    return file, text, made.getvalue()


# ---- what was seen, and what could have been ------------------------------------------------------


@pytest.mark.parametrize(
    ("columns", "says"),
    [
        (("distance_m",), "Bumps into things. Look at: "),
        (("minutes",), "The chair acts without a command. Look at: "),
        (("distance_m",), "In the trial: bumps, 5 in 46 attempts."),
        (("minutes",), "In the trial: unintended activations, 10 in 46 attempts."),
        ((), "In the trial: commands without response, 1 in 11 attempts."),
        (("distance_m",), "more than 1 collision in 10 attempts ("),
    ],
)
def test_what_is_counted_without_a_distance_is_told_by_attempts(columns, says, tmp_path):
    changes = [without_columns(ILMARI, *columns)] if columns else []
    assert says in page(tmp_path, "programming" if says.startswith("more than") else "plan", ILMARI, *changes)


def test_no_distance_is_told_of_stopping_without_a_release_time(tmp_path):
    words = page(tmp_path, "letter", PILAR, without_columns(PILAR, "release_s"))
    assert "Stopping distances follow from" not in words


def test_the_letter_says_the_same_count(tmp_path):
    words = page(tmp_path, "letter", ILMARI, without_columns(ILMARI, "distance_m", "minutes"))
    assert "5 in 46 attempts" in words and "10 in 46 attempts" in words
    assert "counts with their" not in words


@pytest.mark.parametrize(
    ("columns", "name"),
    [
        (("contacts",), "Bumps into things"),
        (("unintended",), "The chair acts without a command"),
        (("missed",), "A command is given and nothing happens"),
        (("tone_after",), "Gets stiff"),
    ],
)
def test_what_has_no_column_is_not_known_rather_than_not_seen(columns, name, tmp_path):
    words = page(tmp_path, "plan", ILMARI, without_columns(ILMARI, *columns))
    seen, _, unknown = words.partition("Not recorded, so not known: ")
    assert f'"{name}"' in unknown.partition("You never change")[0]
    assert f'"{name}"' not in seen.partition("Not seen so far: ")[2]


# ---- an absent key is no fact ----------------------------------------------------------------------

HELPER = (CASE, "\n[configuration.stop]\n", '\n[configuration.stop]\nhelper_switch = "red box on the push handle"\n')


def without(source, *lines, under=""):
    """The change that takes lines that begin so out of a case: out of all tables, or out of those of one name."""
    text, table, kept = text_in_full(source), "", []
    for line in text.split("\n"):
        table = line.strip("[]") if line.startswith("[") else table
        if not (line.startswith(lines) and under in ("", table)):
            kept.append(line)
    assert len(kept) <= text.count("\n")
    return CASE, text, "\n".join(kept)


@pytest.mark.parametrize(
    ("source", "document", "table", "gone", "says"),
    [
        (ANSELM, "order", "configuration", "latched = ", "not recorded: latched drive"),
        (ANSELM, "order", "configuration.items", "quantity = ", "not recorded: quantity"),
        (BOHDAN, "letter", "spaces", "at_home = ", "missing: whether the bathroom door is in the home"),
        (MARISOL, "guide", "weight_shift", "starts = ", "not recorded: who starts it"),
        (
            MARISOL,
            "guide",
            "weight_shift",
            "starts = ",
            "Who does it, or helps: Those with it in their row do it. Swing the mouthpiece out.",
        ),
        (BOHDAN, "guide", "transport", "rides_in_chair = ", "chair. Ask the therapist first how to travel."),
        (SAOIRSE, "log", "people", "call_for = ", "not recorded: what to call this person for"),
        (ILMARI, "order", "configuration.chair", "electronics_delay_s = ", "no parameter"),
    ],
)
def test_an_absent_key_is_a_gap(source, document, table, gone, says, tmp_path):
    assert says in page(tmp_path, document, source, without(source, gone, under=table)).replace("Not rec", "not rec")


@pytest.mark.parametrize(
    ("source", "document", "table", "gone", "never"),
    [
        (ANSELM, "order", "configuration", "latched = ", "|no|"),
        (SAOIRSE, "log", "people", "call_for = ", "all else that comes up in the day"),
        (ILMARI, "log", "people", "call_for = ", "a seizure or medicine"),
        (ILMARI, "letter", "dates", "home_visit_on = ", "The home was measured"),
        (ILMARI, "order", "configuration.chair", "electronics_delay_s = ", "on the trial chair"),
        (ILMARI, "order", "configuration.chair", "deceleration_m_s2 = ", "allmeasured on the trial chair"),
        (ANSELM, "order", "configuration", "latched = ", "this control is not latched"),
        (ANSELM, "order", "client", "born_on = ", "not applicable: an adult"),
    ],
)
def test_an_absent_key_says_nothing(source, document, table, gone, never, tmp_path):
    assert never not in page(tmp_path, document, source, without(source, gone, under=table))


def test_where_any_of_two_helpers_may_be_meant_the_letter_does_not_count_them():
    """What the record calls them reads as no subject, so the letter would count them."""
    ramp = next(place for place in ASSESSED[SAOIRSE.name].file.case.supervision if place.needs == 2)
    rows = {
        needs: next(
            iter(supervised(case_with(SAOIRSE, supervision=(ramp.model_copy(update={"needs": needs}),)), WORDS))
        )
        for needs in (2, None)
    }
    assert rows[2]["who"] == "two people" and rows[None]["who"] is None
    assert rows[None]["named"] == rows[2]["named"] != ""


def test_a_goal_that_lacks_a_level_tells_none():
    goals = ASSESSED[ANSELM.name].file.case.goals
    words = plan_of(goals=tuple(goal.model_copy(update={"levels": goal.levels[1:]}) for goal in goals))
    assert words.count("not recorded: what each level means") == len(goals)
    assert goals[0].levels[1] not in words


@pytest.mark.parametrize("gone", ["clear_ahead_mm", "profile"])
def test_room_to_stop_is_needed_in_every_place_before_none_is_too_short(gone):
    first, *spaces = ASSESSED[PILAR.name].file.case.spaces
    less = (first.model_copy(update={gone: None}), *spaces)
    unknown = plan_of(PILAR, spaces=less).partition("Not recorded, so not known: ")[2]
    assert '"The chair needs more room to stop than there is"' in unknown.partition(".")[0]


def test_what_a_task_shows_is_needed_before_turns_are_not_seen():
    trial = ASSESSED[ANSELM.name].file.case.trial
    tasks = (
        *trial.tasks[:2],
        type(trial.tasks[2]).model_validate(trial.tasks[2].model_dump(exclude={"shows"})),
        *trial.tasks[3:],
    )
    assert trial.tasks[2].shows == "steer"
    seen, unknown = plan_of(trial=trial.model_copy(update={"tasks": tasks})).split("Not recorded, so not known: ")
    assert '"Turns too far, or not far enough"' in unknown.partition(".")[0]
    assert "Turns too far" not in seen.partition("Not seen so far: ")[2]


def test_who_is_near_in_the_clients_day_is_told_by_the_record_alone():
    words = plan_of(supervision=())
    assert words.lower().count("not recorded: who is near there") == 2  # of the rooms and the day of his own
    assert "you, line of sight" not in words and "you, same room" not in words


@pytest.mark.parametrize(
    ("document", "bars"),
    [
        ("guide", "no driving, gap check or stop test without the therapist"),
        ("card", "no driving without the therapist"),
        ("log", "only with the therapist"),
    ],
)
def test_a_chair_of_which_no_part_is_recorded_is_not_driven_without_the_therapist(document, bars):
    """Where no part has a place, none is set on this chair either."""
    configuration = ASSESSED[MARISOL.name].file.case.configuration.model_copy(update={"mounting": ()})
    words = words_of(document, MARISOL, configuration=configuration, fitted=())
    assert bars in words and "So Marisol does it:" not in words


def test_a_seat_that_the_control_moves_is_left_to_a_helper_until_the_gaps_are_set():
    """Whether or not a helper's switch for it is on record."""
    less = ASSESSED[MARISOL.name].file.case.sitting.model_copy(update={"seat_switch": None})
    words = words_of("guide", MARISOL, sitting=less)
    assert "Until the gaps are set a helper does it" in words
    assert words.index("If Marisol cannot:") < words.index("NOT YET. Later Marisol does it")


def test_a_stop_that_was_timed_is_told_as_on_another_chair_by_what_is_recorded():
    words = plan_of(SAOIRSE, fitted=())
    assert "and no fitting of the chair is recorded before that day: first a hand on the stop" in words
    assert "not on the chair as fitted" not in words


def test_a_headrest_is_set_first_where_what_brings_it_is_recorded():
    parts = ASSESSED[ILMARI.name].file.case.configuration.standard_parts
    headrest = next(part for part in parts if part.part == "headrest")
    for brings, is_set_first in ({"item": None}, False), ({"item": None, "comes": "moves_over"}, True):
        others = tuple(part.model_copy(update=brings) if part is headrest else part for part in parts)
        assert ("The headrest is set first" in order_of(ILMARI, standard_parts=others)) is is_set_first, brings


def test_no_sound_of_another_command_stands_for_that_of_rest():
    commands = ASSESSED[ILMARI.name].file.case.configuration.commands
    [at_rest] = [command for command in commands if command.does == "rest"]
    assert f"without {at_rest.hear}" in order_of(ILMARI)
    assert "without its answer" in order_of(ILMARI, commands=tuple(c for c in commands if c is not at_rest))


@pytest.mark.parametrize("at", [0, 3])
def test_a_place_that_may_only_be_backed_out_of_waits_until_its_room_is_known(at):
    spaces = ASSESSED[MARISOL.name].file.case.spaces
    less = tuple(space.model_copy(update={"ahead_from": None}) if i == at else space for i, space in enumerate(spaces))
    words = words_of("order", MARISOL, spaces=less)
    assert "; only once the therapist has decided who stands where" in words


def test_a_control_of_which_nobody_says_that_it_was_set_again_is_named():
    methods = ASSESSED[MARISOL.name].file.case.trial.methods
    latched = methods[3]
    less = tuple(m.model_copy(update={"help_before_start": None}) if m is latched else m for m in methods)
    trial = ASSESSED[MARISOL.name].file.case.trial.model_copy(update={"methods": less})
    assessed = assess_file(replace(ASSESSED[MARISOL.name].file, case=case_with(MARISOL, trial=trial)))
    [compared] = [v for v in assessed.verdicts if v.criterion.id == "simpler_controls_compared"]
    assert f"of the {latched.name} it is not recorded whether it was set again" in str(compared.answer.reason)


def test_lessons_that_do_not_say_where_they_began_are_not_told_as_none():
    training = ASSESSED[SAOIRSE.name].file.case.training
    words = plan_of(SAOIRSE, training=training.model_copy(update={"stage": None}))
    assert "Training began at not recorded: step to train at, so no step can be told." in words
    assert training.stage_why and training.stage_why.rstrip(".") not in words


def test_a_way_back_is_tried_where_one_is_recorded():
    configuration = ASSESSED[ANSELM.name].file.case.configuration
    assert "drive in reverse" not in plan_of(configuration=configuration.model_copy(update={"commands": ()}))


def case_with(source, **changed):
    """The case of a demo with tables of it replaced."""
    return ASSESSED[source.name].file.case.model_copy(update=changed)


def plan_of(source=ANSELM, **changed):
    """The plan of a demo with tables of its case replaced."""
    return words_of("plan", source, **changed)


def order_of(source, **changed):
    """The order of a demo with keys of its configuration replaced."""
    configuration = ASSESSED[source.name].file.case.configuration.model_copy(update=changed)
    return words_of("order", source, configuration=configuration)


def words_of(document, source, **changed):
    """The words of one document of a demo with tables of its case replaced."""
    less = assess_file(replace(ASSESSED[source.name].file, case=case_with(source, **changed)))
    return " ".join(trees(less, [document])[document].plain().split())


def test_help_that_was_not_written_down_is_not_told_as_none(tmp_path):
    words = page(tmp_path, "plan", SAOIRSE, without_columns(SAOIRSE, "help", file=SESSIONS))
    # of 163 tries of driving none counts of a day on which some were done, for those not done would stand alone; of 73
    # stops a missed one stays missed
    rows = [*csv.DictReader((SAOIRSE / "sessions.csv").read_text(encoding="utf-8").splitlines())]
    driven = {(row["date"], row["task"]) for row in rows if row["success"] == "1"}
    stops = ("stop_line", "stop_on_request")
    n_uncounted = sum(
        row["success"] == "1" or (row["task"] not in stops and (row["date"], row["task"]) in driven) for row in rows
    )
    assert f"Not counted, for the help or the surprise is not written: {n_uncounted} tries." in words
    assert "were made alone" not in words


def test_a_setting_that_stands_alone_is_not_the_slowest():
    case = assess(ILMARI).file.case
    profiles = case.configuration.profiles

    def with_profiles(*kept):
        return case.model_copy(update={"configuration": case.configuration.model_copy(update={"profiles": kept})})

    assert len(profiles) > 1 and slowest(with_profiles(*profiles)) is not None
    assert slowest(with_profiles(profiles[0])) is None


# ---- what the case says, and all of it -------------------------------------------------------------


def test_what_was_seen_of_a_finding_is_told_in_the_words_of_the_case(tmp_path):
    words = page(tmp_path, "programming", MARISOL)
    says = re.findall(r'(?m)^says = "(.*?)\.?"$', text_in_full(MARISOL))
    notes = words.partition("Settings to look at")[2] or words.partition("Watch")[2]
    assert any(said.lower() in notes.lower() for said in says)
    for finding in vocabulary().values():
        assert finding.says.rstrip(".").lower() not in notes.lower() or finding.says.rstrip(".") in says, finding.id


def test_a_helper_finds_their_own_stop_in_the_steps_and_the_drivers_in_the_stop_test(tmp_path):
    """Two switches in one step are taken for one another."""
    own = re.search(r'(?m)^stop_switch = "(.*)"$', text_in_full(ILMARI))[1]
    reached = (CASE, 'stop_switch_by = "helper"', 'stop_switch_by = "both"')
    side_one, test = tree_of(tmp_path, "card", ILMARI, HELPER, reached).plain().split("Before each drive")
    assert "A: red box on the push handle" in side_one and own not in side_one.replace(
        f"Driver's stop switch: {own}", ""
    )
    assert f"Switch E: {own}" in test and "presses E" in test


@pytest.mark.parametrize("document", ["plan", "order"])
def test_the_stop_switch_of_the_driver_and_of_a_helper_are_both_told(document, tmp_path):
    """In each paragraph, and in each list, that names the one."""
    own = re.search(r'(?m)^stop_switch = "(.*)"$', text_in_full(ILMARI))[1]
    tree = tree_of(tmp_path, document, ILMARI, HELPER)
    blocks = [block.plain() for block in tree.walk() if block.kind in ("paragraph", "list", "table")]
    in_lists = {item.plain() for block in tree.walk() if block.kind == "list" for item in block.children}
    telling = [text for text in blocks if re.search("red box on the push handle|That is the stop switch, A", text)]
    assert telling and all(own in text for text in telling if document != "order" or text not in in_lists)


@pytest.mark.parametrize("figure", [stop_sites, stop_card], ids=["where to stop", "card"])
def test_both_stop_switches_are_drawn(figure):
    case = assess(ILMARI).file.case
    stop = case.configuration.stop.model_copy(update={"helper_switch": "red box", "helper_switch_site": "back_left"})
    both = case.model_copy(update={"configuration": case.configuration.model_copy(update={"stop": stop})})
    drawn = figure.scene(both, assess(ILMARI).evidence, language_words()["figures"])
    assert "red box" in drawn.alt and (stop.stop_switch or "?").rstrip(". ") in drawn.alt
    assert [shape.text for shape in drawn.shapes if getattr(shape, "text", "") == "E"]


@pytest.mark.parametrize("document", ["card", "plan"])
def test_what_holds_for_now_stands_beside_who_is_near(document, tmp_path):
    words = page(tmp_path, document, SAOIRSE)
    case = assess(SAOIRSE).file.case
    place = next(place for place in case.supervision if place.for_now)
    told = words.partition("May you step away" if document == "card" else "Supervision")[2]
    told = told.partition(place.place[1:])[2][:400]
    near = told.partition("For now")[0]
    # on the card what holds for now comes before who stands near once she drives there
    assert near == ": no. " if document == "card" else place.by in near
    assert place.for_now.rstrip(".") in told
