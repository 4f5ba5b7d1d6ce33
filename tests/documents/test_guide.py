"""The caregiver guide: easy to read, stop first, and about exactly what this chair has."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import get_args

import pypdfium2
import pytest
from gathered import of_each
from hypothesis import example, given, settings
from hypothesis import strategies as st
from in_full import text_in_full
from made import assessed
from msgspec.structs import replace
from support import DEMO_FOLDERS, assess

from docgen.coins import AA_WIDTH_MM, COIN_WIDTH_MM, fits, like, too_big
from docgen.evidence.gather import evidence
from docgen.figures.draw import drawings
from docgen.fit.feature import Kind, features
from docgen.packet.assess import Assessed
from docgen.packet.hard_words import HardSentence, ease
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording
from docgen.rendering.readability import read_text, reading, sentences, words_of
from docgen.rendering.style import LARGE
from docgen.rendering.tree import Node

FEATURES = features()
DEMOS = pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)


SHEETS = ("card", "guide", "log")  # of one source: what one says, another does not say again


@cache
def guide(folder: Path) -> Node:
    return trees(assess(folder), ["guide"])["guide"]


@cache
def card(folder: Path) -> Node:
    return trees(assess(folder), ["card"])["card"]


def chair(asked=(), **configuration) -> Assessed:
    """A chair with these features; every text is free of words for parts."""
    stop = {
        "driver": "gives a sign",
        "stop_switch": "here",
        "power_off": "there",
        "helper": "do it too",
        "freewheel": "below",
    }
    return assessed(
        client={"called": "Robin", "pronouns": "she"},
        configuration={
            "works": "It goes when asked.",
            "features": tuple({"id": one, "because": ()} for one in asked),
            "stop": stop,
            **configuration,
        },
    )


def text_of(one: Assessed) -> str:
    """All sheets for daily use, one after the other."""
    return "\n".join(tree.plain() for tree in trees(one, SHEETS).values())


# ---- how it reads -------------------------------------------------------------------------------


@DEMOS
def test_no_sentence_of_card_and_log_is_longer_than_one_of_the_guide(folder):
    for tree in trees(assess(folder), ["card", "log"]).values():
        long = [one for one in sentences(read_text(tree)) if len(words_of(one)) > 18]
        assert not long and reading(tree, language_words()["plain"]).terms == ()


@DEMOS
def test_the_guide_is_at_grade_six_or_below_by_both_formulas_and_by_a_general_library(folder):
    import textstat

    found = reading(guide(folder))
    text = "\n".join(sentences(read_text(guide(folder))))
    # textstat 0.7.8 counts syllables by the CMU dictionary, ours by another word list: half a grade of play
    assert found.grade == pytest.approx(textstat.flesch_kincaid_grade(text), abs=0.5)
    assert found.smog == pytest.approx(textstat.smog_index(text), abs=0.5)
    assert max(found.grade, found.smog, textstat.flesch_kincaid_grade(text), textstat.smog_index(text)) <= 6
    assert found.words_per_sentence < 15
    assert max(len(words_of(sentence)) for sentence in sentences(read_text(guide(folder)))) <= 17


@DEMOS
def test_the_guide_uses_no_term_of_the_trade(folder):
    assert reading(guide(folder), language_words()["plain"]).terms == ()


LONG = (
    "Whenever Ilmari demonstrates considerable fatigability subsequent to prolonged participation, "
    "discontinue the activity and immediately "
    "communicate with the responsible rehabilitation professional."
)


def test_a_hard_sentence_of_the_therapist_is_named_with_its_place_and_the_grade_it_makes(tmp_path):
    import shutil

    source = next(folder for folder in DEMO_FOLDERS if folder.name == "ilmari-okonjo-vale")
    target = tmp_path / source.name
    shutil.copytree(source, target)
    toml = text_in_full(target)
    before = ease(assess(target))
    assert before.easy and not before.shorten
    text = toml.replace(
        "[[taught]]",
        "\n".join(f'[[cautions]]\nabout = "other"\nsays = "{LONG}"\n' for _ in range(9)) + "\n[[taught]]",
        1,
    )
    (target / "case.toml").write_text(text, encoding="utf-8")
    after = ease(assess(target))
    assert not after.easy and after.reading.smog > 6
    assert [one.says for one in after.shorten if one.says == LONG] == [LONG]
    hard = next(one for one in after.shorten if one.says == LONG)
    path, _, line = hard.where.rpartition(":")
    assert path.endswith("case.toml") and LONG in text.split("\n")[int(line) - 1]
    # 20 words and 66 syllables, counted by hand; a word list may differ by two
    assert hard.n_words == 20 and hard.grade == pytest.approx(0.39 * 20 + 11.8 * 66 / 20 - 15.59, abs=11.8 * 2 / 20)


def test_check_names_the_sentences_to_shorten_only_when_there_are_some():
    from datetime import date

    from docgen.console.check import check_report
    from docgen.console.check_page import check_text
    from docgen.results import CaseCheck

    one = assess(DEMO_FOLDERS[0])
    easy = ease(one)
    hard = replace(
        easy, reading=replace(easy.reading, grade=7.25), shorten=(HardSentence(LONG, 20, 31.2, "case.toml:7"),)
    )
    today = date(2026, 5, 4)
    assert "WORDS FOR THE FAMILY" not in check_text(check_report(CaseCheck(one, today, guide=easy)))
    page = " ".join(check_text(check_report(CaseCheck(one, today, guide=hard))).split())
    assert "school grade 7.2 (Flesch-Kincaid)" in page and f"Shorten, 20 words: {LONG} case.toml:7" in page
    assert check_report(CaseCheck(one, today))["reading"] is None


# ---- the card and what leads to it -----------------------------------------------------------------


def pages(tree: Node) -> list[list[Node]]:
    """The blocks between the page breaks that a sheet asks for."""
    found: list[list[Node]] = [[]]
    for block in tree.children:
        found.append([]) if block.kind == "page_break" else found[-1].append(block)
    return found


@DEMOS
def test_the_card_says_when_to_step_away_and_whom_to_call(folder):
    case = assess(folder).file.case
    told = "\n".join(block.plain() for block in card(folder).children)
    for place in case.supervision:
        assert place.place[1:] in told
    for role in ("evaluator", "supplier"):
        person = next(iter(case.with_role(role)), None)
        assert (person and person.phone or "not recorded: phone number") in told


@DEMOS
def test_how_to_stop_stands_on_the_card_alone_and_the_guide_leads_there(folder):
    stop, side = assess(folder).file.case.configuration.stop, " ".join(b.plain() for b in pages(card(folder))[0])
    wanted = ('"stop"', stop.at_hand[0], stop.power_off, stop.other_way or "another way", "Call 911", "Leave it off")
    places = [side.lower().index(words.lower()) for words in wanted]
    assert places == sorted(places)
    told = guide(folder).plain()
    assert "First read the card." in told and "Stop it as the card shows." in told
    assert not stop.other_way or stop.other_way.lower() not in told.lower()
    assert (stop.again or "Not recorded: what makes it drive again").rstrip(".") in told


@pytest.mark.parametrize("lang, switch", [("en", "stop switch"), ("es", "botón de paro")])
def test_a_chair_without_a_stop_switch_is_stopped_by_its_power_switch(lang, switch):
    stop = {
        "driver": "lets go",
        "has_switch": False,
        "power_off": "knob at the front",
        "helper": "turn the knob off",
        "freewheel": "below",
    }
    one = assessed(
        client={"called": "Robin", "pronouns": "she"}, configuration={"works": "It goes when asked.", "stop": stop}
    )
    worded = wording(lang)
    text = "\n".join(tree.plain() for tree in trees(one, SHEETS, worded).values())
    assert text.count(switch) == 1 and "knob at the front" in text  # said once: there is none
    assert not re.search(r"where the stop switch is|botón de paro está|\bA\.\s", text)


@pytest.mark.parametrize(
    "level, answer",
    [
        ("hands_on_stop", "no."),
        ("arms_length", "no."),
        ("same_room", "no."),
        ("in_sight", "not out of sight. Stay where you see"),
        ("on_call", "only so. The chair is off. Then yes."),
        ("alone", "only so. The chair is off. Then yes"),
    ],
)
def test_each_level_of_supervision_answers_whether_to_step_away(level, answer):
    settled = {"chair_state": "off", "calls_by": "by a bell", "call_needs_chair": False, "help_after_min": 5}
    settled["settled"] = ("call_without_voice", "call_fails", "fire", "no_answer")
    place = {"place": "at home", "level": level, "by": "an aunt", "fire_plan": "A neighbor comes."} | settled
    told = text_of(assessed(supervision=(place,)))
    assert f"At home: {answer}" in told and "Turn the chair off before you leave" in told
    for_now = text_of(assessed(supervision=(place | {"for_now": "Off when alone"},)))
    alone = level in ("on_call", "alone")
    # with someone near nobody drives meanwhile: no rule of driving stands there
    only = "At home: only so. Off when alone. Then yes" if alone else "At home: no. For now: Off when alone."
    assert only in for_now and not re.search(r"At home: (no|not out of sight)\. (Stay|Keep)", for_now)
    assert "Turn the chair off before you leave" in for_now  # it is off there too: there is no exception
    locked = place | {"for_now": "Off when alone", "chair_state": "seat_only", "if_stuck": "Calls."}
    seat = text_of(assessed(supervision=(locked,), configuration={"stop": {"drive_off": "green lever"}}))
    # where someone must be near, nothing is left on for nobody
    assert ("Except as above, turn the chair off before you leave" in seat) is alone


def test_what_the_record_lacks_shows_as_a_gap_on_the_card():
    first = trees(assessed(), ["card"])["card"].plain()
    for label in (
        "where the stop switch is",
        "where the power switch is",
        "how the driver stops it",
        "who must stay near, and when you may step away",
        "phone number",
    ):
        assert f"not recorded: {label}" in first


# ---- what this chair has, and nothing else ------------------------------------------------------


def of_kind(kind):
    """Features that bring this into daily use."""
    return {name for name, feature in FEATURES.items() if kind in feature.kinds}


BREATH = of_kind("breath")
# told by hand, so that the words of the guide are not held to the data alone
OF_A_KIND = {
    "pads": (
        "head_array two_site_commands.breath_and_head force_graded_speed force_threshold_pad proximity_sensing "
        "switch_type_by_site"
    ),
    "side_pads": "head_array two_site_commands.breath_and_head",
    "breath": "pneumatic_four_command two_site_commands.breath_and_head",
    "stick": "proportional_control compact_joystick mini_joystick isometric_joystick joystick_position",
    "fingers": "finger_switch_array",
    "swing": "swing_away_mount",
    "rest": "standby",
    "jobs": "mode_switch external_device_control seat_functions_by_drive_input",
    "tilt": "drive_limit_when_tilted",
    "shoe": "foot_site",
}


@of_each("kind", get_args(Kind))
def test_the_features_of_a_kind_are_among_those_that_have_it(kind):
    assert set(OF_A_KIND[kind].split()) <= of_kind(kind)


# words for a part -> features of which one must be requested before the guide itself may say them
WORDS_OF = {
    r"\bpads?\b": of_kind("pads"),
    r"mouthpiece|\bpuff|\bsip\b|\blips\b|the tube": BREATH,
    r"\bstick\b": of_kind("stick"),
    r"\beach hand\b|\ba finger\b|\bthe fingers\b": of_kind("fingers"),
    r"\bhinge\b|\b[Ss]wing": of_kind("swing"),
    r"\brest\b|\bWake\b|\bwake it\b": of_kind("rest"),
    r"another job|Go back to drive|Change what the control does": of_kind("jobs"),
    r"\btilted|seat up": of_kind("tilt"),
    r"keep-going": {"latched_drive"},
    r"\bshoe": of_kind("shoe"),
    r"\bfoot stick|\bchin\b|\bcheek\b|\bknee\b|\bbeams?\b|\bjoint|\blens\b|\bdisplay\b|\bscan|\bmuscle|\bsensor": set(),
}
SITES = ("head_back", "head_left", "head_right", "mouth", "chin", "hand", "foot", "knee")


def generic(one: Assessed, asked) -> str:
    """The guide and its drawings in words, without the features' own words and names."""
    tree = trees(one, ["guide"])["guide"]
    text = (
        tree.plain()
        + " "
        + " ".join(
            s.alt
            for s in drawings(
                one.file.case, one.evidence, language_words()["figures"], wording().documents["guide"].figures
            ).values()
        )
    )
    for name in asked:
        feature = FEATURES[name]
        plain = feature.plain or feature.name
        text = text.replace(feature.care, "").replace(f"{plain[:1].upper()}{plain[1:]}.", "")
    return text


@settings(max_examples=40, deadline=None)
@given(
    st.sets(st.sampled_from(sorted(FEATURES)), max_size=9),
    st.lists(st.sampled_from(SITES), max_size=4, unique=True),
    st.booleans(),
)
@example(set(), [], False)
@example({"compact_joystick", "foot_site"}, ["foot"], True)
@example({"head_array", "proximity_sensing", "standby", "swing_away_mount"}, ["head_back", "head_left"], True)
@example({"pneumatic_four_command", "latched_drive", "stop_switch"}, ["mouth"], False)
def test_the_guide_brings_the_care_of_each_feature_and_speaks_of_no_other(asked, sites, marked):
    mounts = tuple(
        {
            "id": f"part{at}",
            "part": f"part {at}",
            "site": site,
            "at": "there",
            "gap_mm": 9 + at,
            "side": "left",
            "mark": "white line" if marked else None,
        }
        for at, site in enumerate(sites)
    )
    one = chair(
        sorted(asked),
        mounting=tuple({k: v for k, v in mount.items() if v} for mount in mounts),
        swing="Move it out of the way." if "swing_away_mount" in asked else None,
    )
    text = text_of(one)
    for name in asked:
        assert FEATURES[name].care in text, name
    told = generic(one, asked)
    for words, owners in WORDS_OF.items():
        assert owners & asked or not re.search(words, told), (
            words,
            re.search(rf".{{30}}(?:{words}).{{30}}", told, re.S),
        )
    assert bool(sites) == ("gap is the space" in told)
    assert bool(re.search(r"(?:its|the|each) marks?\b|\bmarks (?:line up|and gaps)", told)) == bool(sites and marked)
    assert ("Only Robin uses this mouthpiece" in told) == bool(BREATH & asked)
    assert ("has a keep-going setting" in told) == ("latched_drive" in asked)
    assert ("Use rest at each stop" in told) == ("standby" in asked)
    assert "standby" in asked or not re.search(r"\bin rest\b", text)  # nor may the care of another feature speak of it
    assert ("fingers clear of what moves" in told) == ("swing_away_mount" in asked)


@pytest.mark.parametrize(
    "does, asked, has_reverse, told",
    [
        (("forward", "stop"), (), False, "Walk beside or behind the chair"),
        (("forward", "stop"), (), None, "Walk beside the chair"),  # a command left out is none that the chair lacks
        (("forward", "back"), (), None, "Walk beside the chair"),
        (("forward", "stop"), (), True, "Walk beside the chair"),
        (("forward",), ("reverse_access.direction_change",), None, "Walk beside the chair"),
        ((), (), None, "Walk beside the chair"),
    ],
)
def test_nobody_stands_behind_a_chair_that_can_back_up_or_of_which_that_is_not_known(does, asked, has_reverse, told):
    commands = tuple({"does": command, "input": "a sign"} for command in does)
    text = text_of(chair(asked, commands=commands, has_reverse=has_reverse))
    assert told in text and ("Walk beside or behind" in text) == ("Walk beside or behind" in told) == (
        "Go behind only" not in text
    )
    assert ("This chair has no reverse" in text) == (has_reverse is False)


@pytest.mark.parametrize(
    "speeds, told",
    [
        ((0.4, 0.2, 0.3), 'the slowest setting ("two")'),
        ((0.4, None), "not recorded: which setting is the slowest"),
        ((), "Use the slowest setting."),
    ],
)
def test_the_slowest_setting_is_called_by_its_name_when_every_speed_is_recorded(speeds, told):
    names = ("one", "two", "three")
    profiles = tuple(
        {"id": name, "name": name, "used": "here"} | ({"speed_m_s": speed} if speed else {})
        for name, speed in zip(names, speeds, strict=False)
    )
    text = text_of(chair(profiles=profiles))
    assert told in text and not re.search(r"0\.[234]", text)
    assert ("ot recorded: how to choose a drive setting" in text) == (len(speeds) > 1)


@pytest.mark.parametrize(
    "key, label, asked",
    [
        ("again", "what makes it drive again after the stop switch", ()),
        ("other_way", "another way to cut the power, when neither switch stops it", ()),
        ("latched_now", "whether the keep-going setting is on now, and who turns it on", ("latched_drive",)),
    ],
)
def test_what_safety_hangs_on_is_told_from_the_case_or_shown_as_a_gap(key, label, asked):
    gap = f"not recorded: {label}"
    assert gap in text_of(chair(asked)).replace("Not recorded", "not recorded")
    stop = {
        "driver": "gives a sign",
        "stop_switch": "here",
        "power_off": "there",
        "helper": "do it too",
        "freewheel": "below",
    }
    known = {"stop": stop | {key: "It is told"}} if key in ("again", "other_way") else {key: "It is told"}
    text = text_of(chair(asked, **known))
    assert "It is told" in text and gap not in text.replace("Not recorded", "not recorded")


@pytest.mark.parametrize(
    "site, reach", [("head_left", True), ("knee_right", True), ("push_handle_right", False), (None, False)]
)
def test_reaching_in_to_stop_is_allowed_where_the_stop_switch_is_at_the_body(site, reach):
    stop = {"stop_switch": "here", "power_off": "there", "helper": "press it"} | (
        {"stop_switch_site": site} if site else {}
    )
    assert ("Only to stop the chair may you reach in" in text_of(chair(stop=stop))) == reach


MOUNT = {"id": "one", "part": "the first part", "site": "hand", "at": "there", "gap_mm": 4}
NO_TRAY = "not recorded: how the tray comes off and goes back, and its mark"


@pytest.mark.parametrize(
    "held_by, swing, told, untold",
    [
        ("tray", None, NO_TRAY, "Lift it off"),
        ("tray", "Lift it off", "Lift it off.", NO_TRAY),
        (None, None, "Keep hands, arms and clothes off the control", "tray"),
    ],
)
def test_a_part_on_a_tray_brings_how_the_tray_comes_off_or_a_gap(held_by, swing, told, untold):
    text = text_of(chair(mounting=({k: v for k, v in (MOUNT | {"held_by": held_by}).items() if v},), swing=swing))
    assert told in text and untold not in text
    assert ("You may only take the tray off" in text) == ("Put the tray back as under" in text) == (held_by == "tray")


def test_only_the_parts_that_the_record_says_to_swing_may_be_swung():
    parts = (MOUNT | {"part": "left pad", "swings": "left", "mark": "line"}, MOUNT | {"id": "two", "part": "rear pad"})
    told = text_of(chair(("swing_away_mount",), mounting=parts))
    assert "You may only swing it out and back to its mark: left pad.Use no tool." in told
    unknown = text_of(chair(("swing_away_mount",), mounting=(MOUNT,)))
    assert "You may only swing it out and back: the control." in unknown


RIDE = {
    "rides_in_chair": True,
    "vehicle": "a van",
    "trained": "An aunt",
    "chair_labeled": "yes",
    "four_tie_downs": "yes",
    "own_belt": "yes",
    "head_support": "yes",
    "back_deg": 5.0,
    "control": "swung_away",
    "loose_parts": "The tray comes off.",
}


def test_a_ride_of_which_all_is_known_is_told_with_who_ties_it_down():
    told = text_of(assessed(transport=RIDE))
    assert "rides facing the front, once the supplier shows it may." in told
    assert "brings the chair in and out. Trained: An aunt." in told
    assert "rained: " not in text_of(assessed(transport=RIDE | {"rides_in_chair": False}))


@pytest.mark.parametrize(
    "change, told",
    [
        ({"trained": None}, "not recorded: who ties it down"),
        ({"chair_labeled": "unknown"}, "not recorded: whether this chair is made to be ridden in"),
        ({"head_support": None}, "not recorded: what is behind the head"),
        ({"chair_labeled": "no"}, "This chair is not made to be ridden in"),
        ({"control": "stays"}, "The control stays in the way"),
    ],
)
def test_no_page_says_that_someone_may_ride_where_a_point_is_open_or_speaks_against_it(change, told):
    ride = {key: value for key, value in (RIDE | change).items() if value is not None}
    text = text_of(assessed(transport=ride))
    assert (
        told in text and ("must not ride in it yet" if "not recorded" not in told else "before the next ride") in text
    )
    assert "rides in the chair" not in text and "Vehicle: a van" not in text


def test_card_and_guide_forbid_driving_while_nobody_has_been_shown():
    people = ({"id": "aunt", "role": "caregiver", "name": "An aunt"},)
    for taught, told in (((), True), (({"who": "aunt", "what": "the stop"},), False)):
        for tree in trees(assessed(people=people, taught=taught), ["card", "guide"]).values():
            boxes = [block.plain() for block in tree.children if block.kind == "callout"]
            assert ("Do not drive yet: no one is on the list of people shown." in boxes) is told


# what a test that a dead switch fails must say, in its order
STOP_TEST = {
    "en": (
        "must move",
        "Press the stop switch, A, while it moves: it must stop.",
        "nothing may move",
        "It must not move and does? Press A, then B. Still moving: D. Do not drive. Call the supplier.",
        "All right?",
    ),
    "es": (
        "Debe moverse",
        "Oprima el botón de paro, A, mientras se mueve: debe parar.",
        "nada debe moverse",
        "¿No debe moverse y se mueve? Oprima A, luego B. ¿Sigue? D. No se maneja. Llame al proveedor.",
        "¿Todo bien?",
    ),
}


@pytest.mark.parametrize("lang", STOP_TEST)
@DEMOS
def test_each_day_a_command_is_asked_for_under_stop_before_any_other_driving(folder, lang):
    made = trees(assess(folder), ["card", "guide"], wording(lang))
    moves, press, still, forbids, each_way = STOP_TEST[lang]
    before, after = made["card"].plain().split(press)
    moved = before.rindex(moves)
    # what ends the test stands before its first step, for it holds at each
    assert forbids in before[:moved] and each_way not in before[moved:] and after.index(still) < after.index(each_way)
    before_driving = {"en": "Do the stop test of the card, before any other driving.", "es": "Haga la prueba de paro"}
    assert before_driving[lang] in made["guide"].plain()


@DEMOS
def test_the_stop_switch_is_set_back_with_the_power_off_and_no_command(folder):
    stop = assess(folder).file.case.configuration.stop
    step = card(folder).plain().split("Press the stop switch, A, while")[1].split("All right?")[0]
    again = stop.again or "ot recorded"  # its step may be this gap alone
    lets_go = next(says for says in language_words()["lets_go"].values() if says in step)
    on = "Off the control again, hand at A, turn the power on: nothing may move."
    order = ["nothing may move", f"{lets_go}. Turn the power off.", again, on]
    if stop.after_stop == "waits":  # that it waits is tried, so it is set back under a signal
        back = stop.set_back or "Not recorded"
        order = ["nothing may move", "keeps trying.", back, "must not start", lets_go, again]
    places = [step.index(told) for told in order]
    assert places == sorted(places)


@DEMOS
def test_the_plan_and_the_card_give_the_stop_test_in_the_same_words(folder):
    made = trees(assess(folder), ["card", "plan"])
    steps = made["card"].plain().split("off the control: turn it on. Use")[1].split("All right?")[0]
    assert "nothing may move" in steps and steps in made["plan"].plain()


def test_setting_back_a_switch_that_waits_is_apart_from_what_makes_it_drive_again():
    """What wakes the drive comes only after the signal has ended."""
    stop = {"stop_switch": "here", "after_stop": "waits", "set_back": "Turn it out.", "again": "Hold the second one."}
    tested = text_of(chair(stop=stop)).split("keeps trying.")[1].split("All right?")[0]
    places = [
        tested.index(words) for words in ("Turn it out.", "must not start", "lets go of the control", "Hold the second")
    ]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("timeout_s", "told"),
    [(10, "10 seconds"), (120, "120 seconds"), (None, None)],
)
def test_a_rest_that_comes_by_itself_is_told_with_its_time(timeout_s, told):
    setting = ({"setting": "standby_timeout", "value": "10 s in drive; none in seat", "timeout_s": timeout_s},)
    text = text_of(chair(["standby"], rest="A tone means rest.", settings=setting)).replace("\u00a0", " ")
    assert re.findall(r"does nothing for (.*?), it goes into rest by itself", text) == ([told] if told else [])


RESTS = [
    (10, "within 5 seconds of its stop"),
    (60, "within 5 seconds of its stop"),
    (6, "within 3 seconds of its stop"),
    (None, "at once"),
]


@pytest.mark.parametrize("timeout_s, soon", RESTS)
@pytest.mark.parametrize("shut_off", ["yellow lever", None])
def test_a_dead_stop_does_not_pass_because_the_control_has_gone_to_rest(timeout_s, soon, shut_off):
    """The stop switch is pressed on a moving chair. What is tried at standstill, is tried awake: set to drive, driven,
    and each within a time that counts from the stop."""
    setting = ({"setting": "standby_timeout", "value": "as tried", "timeout_s": timeout_s},) if timeout_s else ()
    stop = {"stop_switch": "here", "after_stop": "waits", "set_back": "Turn it out.", "again": "Hold the second one."}
    stop |= {"drive_off": shut_off} if shut_off else {}
    text = text_of(chair(["standby"], stop=stop, rest="A tone means rest.", settings=setting))
    text = re.sub(r"\s+", " ", text.replace("\u00a0", " "))
    assert re.search(r"Press the stop switch, A, while it moves: it must stop\. [\w ]+ keeps trying: nothing may", text)
    last = text.split("Last, ")[1]
    assert last.startswith("F, then B." if shut_off else "B.")
    last = last.split("Set it to drive.")[1]
    shut, switch = ("Turn F: driving is off", "F") if shut_off else ("Turn the power off, B", "B")
    assert re.match(rf"[\w ]+ drives a little and stops\. {shut}\. [\w ]+ tries {soon}: nothing may move\.", last)
    assert f"Hand at A, set {switch} back: nothing may move." in last
    assert ("The same with the power, B, in place of F: nothing may move, off or back on." in last) is bool(shut_off)


@pytest.mark.parametrize("has_switch", [True, False])
@pytest.mark.parametrize("lang", STOP_TEST)
def test_power_comes_on_with_nobody_on_the_control_and_a_hand_at_the_stop(lang, has_switch):
    """The power was turned on while the driver was still trying."""
    stop = {"stop_switch": "here", "after_stop": "starts", "again": "Pull it."} if has_switch else {"has_switch": False}
    text = trees(chair(stop=stop), ["card"], wording(lang))["card"].plain()
    comes_on = {
        "en": r"(?:Off the control again, hand at A|lets go of the control\. Hand at B), turn the power on: nothing",
        "es": r"el control[:.] (?:Solo entonces, )?con la mano en [AB], encienda la silla: nada debe moverse",
    }[lang]
    assert len(re.findall(comes_on, text)) == 1
    turned_on = {"en": r"turn (?:it|the power) on", "es": "encienda la silla"}[lang]
    assert len(re.findall(turned_on, text)) == 2  # before the test, and here


@pytest.mark.parametrize("backs", [True, False])
def test_nobody_stays_behind_a_chair_that_backs_up(backs):
    near = (
        {"place": "hall", "level": "arms_length", "stands": "behind", "stops_with": "stop_switch", "by": "an aunt"},
    )
    commands = [{"does": "forward", "input": "a push"}] + ([{"does": "back", "input": "a pull"}] if backs else [])
    text = text_of(assessed(supervision=near, configuration={"commands": commands}))
    assert "stay within arm's reach. Stand at a back corner" in text
    assert ("Before it backs up, step to its side." in text) is backs


def test_every_means_to_hold_the_wheels_or_move_the_seat_is_in_the_list_of_switches():
    stop = {"stop_switch": "here", "drive_off": "yellow lever", "drive_off_site": "low_back_left"}
    case = chair(stop=stop).file.case
    seat = case.sitting.model_copy(update={"seat_switch": "blue rocker", "seat_switch_site": "back_left"})
    case = case.model_copy(update={"sitting": seat})
    alt = drawings(case, evidence(case), language_words()["figures"], ["stop_sites"])["stop_sites"].alt
    assert "F, Shuts off driving: yellow lever" in alt and "G, Moves the seat: blue rocker" in alt
    assert "and stops. Turn F: driving is off." in re.sub(r"\s+", " ", text_of(chair(stop=stop)))


def test_a_seizure_while_it_moves_begins_with_the_stop_and_heat_has_its_caution():
    text = text_of(assessed(cautions=({"about": "heat", "says": "Go in above thirty degrees."},)))
    call = text.split("Who to call")[1]
    assert call.index("stop it and turn it off") < call.index("seizure") and "Go in above thirty degrees." in text
    cared = text.split("Go in above thirty degrees.")[1]
    assert cared.index('only as under "Meals"') < cared.index("Drowsy, sick or not better: ") < cared.index("Battery")


def test_the_picture_of_true_sizes_gives_each_gap_with_its_range():
    mount = {"id": "pad", "part": "rear pad", "site": "head_back", "gap_mm": 12, "gap_from_mm": 8, "gap_to_mm": 16}
    case = chair(mounting=(mount,)).file.case
    assert "8 to 16" in drawings(case, evidence(case), language_words()["figures"], ["gap_gauge"])["gap_gauge"].alt


@of_each("lang", STOP_TEST)
@of_each(
    "after_stop, released, rested, power",
    [("waits", 1, 0, 0), ("rests", 0, 1, 1), ("starts", 0, 0, 0), (None, 0, 0, 0), ("no switch", 0, 0, 1)],
)
def test_the_stop_test_asks_of_a_switch_only_what_the_record_says_that_it_can(
    lang, after_stop, released, rested, power
):
    stop = {"driver": "gives a sign", "power_off": "there", "helper": "do it too", "again": "Pull it."}
    if after_stop == "no switch":
        stop |= {"has_switch": False}
    else:
        stop |= {"stop_switch": "here"} | ({"after_stop": after_stop} if after_stop else {})
    text = trees(chair(stop=stop), ["card"], wording(lang))["card"].plain()
    must_not_start, only_rests, dead = {
        "en": (
            "It must not start",
            "only puts it in rest and stops nothing",
            r"urn the power off( yourself)?\. Let [\w ]+? try the same drive at once: nothing",
        ),
        "es": (
            "No debe arrancar",
            "solo la deja en descanso y no para nada",
            r"p[aá]g(ue usted la silla|ue la silla|uela)\. Que [\w ]+? haga el mismo movimiento enseguida: nada",
        ),
    }[lang]
    assert text.count(must_not_start) == released and text.count(only_rests) == rested
    assert len(re.findall(dead, text)) == power
    # under the stop, and as power comes on; once more where the switch is set back with the power off
    assert text.count(STOP_TEST[lang][2]) == (2 if power else 3)  # nothing may move


@DEMOS
def test_the_card_names_the_emergencies_and_the_guide_leads_to_it(folder):
    number = assess(folder).file.case.client.emergency_number
    calls = next(block for block in card(folder).children if block.kind == "table")
    row = next(row.plain() for row in calls.children if row.plain().startswith(number))
    assert all(word in row for word in ("cannot breathe", "will not wake", "hurt", "trapped", "seizure"))
    assert "a seizure or medicine" not in row
    log = trees(assess(folder), ["log"])["log"].plain()
    assert "Emergency, night, supplier, therapist: the card." in log and "Who else to call:" in guide(folder).plain()


# ---- a gap beside an everyday thing -------------------------------------------------------------


@pytest.mark.parametrize("coin, inches", [("dime", 0.705), ("penny", 0.750), ("nickel", 0.835), ("quarter", 0.955)])
def test_coins_have_the_width_that_the_law_gives_them(coin, inches):
    # 31 U.S.C. 5112(a): diameters in inches
    assert COIN_WIDTH_MM[coin] == pytest.approx(inches * 25.4, abs=0.01)


@given(st.floats(0.5, 40), st.floats(0.1, 10), st.floats(0.1, 10))
def test_what_fits_and_what_is_too_big_can_let_no_gap_outside_its_range_pass(gap_mm, below, above):
    """Sizes of the law and of IEC 60086-2, from memory, written down here anew."""
    sizes = {
        "dime": 17.91,
        "penny": 19.05,
        "nickel": 21.21,
        "quarter": 24.26,
        "pennies": 1.52,
        "nickels": 1.95,
        "dimes": 1.35,
    }
    low, high = gap_mm - below, gap_mm + above
    if (found := fits(low, gap_mm)) is not None:
        name, n = found
        assert low - 1e-9 <= (13.5 if name == "aa" else n * sizes[name]) < gap_mm
    if (found := too_big(high, gap_mm)) is not None:
        name, n = found
        assert gap_mm < (14.5 if name == "aa" else n * sizes[name]) <= high + 1e-9


def test_the_range_of_a_gap_is_told_in_coins():
    filters = wording().environment.filters
    told = [(filters["fitting"](gap, low), filters["over"](gap, high)) for gap, low, high in ((10, 5, 15), (2, 1, 4))]
    assert told == [
        ("3 nickels, stacked", "AA battery, lying"),
        ("1 penny, flat", "2 nickels, stacked"),
    ]
    assert filters["fitting"](20.0, 15.0) == "1 dime, on edge"  # flat, it would pass a gap of 2 mm
    assert filters["fitting"](3.0, 2.0) == "2 dimes, stacked"  # 2.70 mm: the set value lets it in
    assert (filters["fitting"](9.4, 9.3), filters["fitting"](10.0, 5.0, True)) == ("by ruler", "no coin")


@pytest.mark.parametrize("site, coins", [("mouth", False), ("chin", False), ("hand", True)])
def test_no_loose_coin_comes_near_the_lips(site, coins):
    part = MOUNT | {"site": site, "gap_mm": 10.0, "gap_from_mm": 5.0, "gap_to_mm": 15.0}
    text = text_of(chair((), mounting=(part,)))
    assert ("3 nickels, stacked" in text) is coins and ("nickels" in text) is coins
    assert ("no coin" in text) is not coins
    assert ("At the mouth only a ruler: a loose coin can choke." in text) is not coins


@given(st.floats(0.1, 80))
def test_a_gap_is_never_said_to_be_like_a_thing_more_than_a_millimetre_off(gap_mm):
    found = like(gap_mm)
    sizes = [*COIN_WIDTH_MM.values(), AA_WIDTH_MM, *(n * thick for thick in (1.52, 1.95) for n in range(2, 7))]
    nearest = min(sizes, key=lambda size: abs(size - gap_mm))
    assert (found is None) == (abs(nearest - gap_mm) > 1.0 + 1e-9)
    assert found is None or abs(found[2]) <= 1.0 + 1e-9


@pytest.mark.parametrize(
    "gap_mm, words",
    [
        (18, "about as wide as a dime"),
        (20, "a bit wider than a penny"),
        (12, "about as high as six stacked nickels"),
        (15, "a bit wider than an AA battery"),
        (40, ""),
    ],
)
def test_a_gap_in_everyday_words(gap_mm, words):
    assert wording().environment.filters["everyday"](float(gap_mm)) == words


# ---- large print --------------------------------------------------------------------------------


def test_the_large_print_guide_says_the_same_in_letters_of_eighteen_points():
    made = render(assess(DEMO_FOLDERS[0]), ["pdf"], ["guide"])
    both = [
        " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(made[name]))
        for name in ("guide.pdf", "guide_large.pdf")
    ]
    few, many = (set(re.findall(r"[A-Za-z]{3,}", text)) for text in both)
    assert few == many
    assert all(role.size >= 18 for role in (LARGE.body, LARGE.item, LARGE.cell, LARGE.caption, *LARGE.headings))
    for phrase in ("In this order, as on the card", "What moves the chair", "You see or hear"):
        assert _letter_size(made["guide_large.pdf"], phrase) >= 18 > _letter_size(made["guide.pdf"], phrase), phrase


def _letter_size(pdf: bytes, phrase: str) -> float:
    """Size in points of the first letter of a phrase."""
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        if (found := text.search(phrase).get_next()) is not None:
            return pypdfium2.raw.FPDFText_GetFontSize(text, found[0])
    raise AssertionError(f"{phrase!r} stands on no page")


def test_a_helper_is_sent_to_a_stop_switch_of_their_own_and_told_of_the_drivers():
    stop = {
        "driver": "presses the knee switch",
        "stop_switch": "left knee",
        "stop_switch_by": "driver",
        "helper_switch": "red box on the handle",
        "power_off": "knob",
        "helper": "press the red box",
        "freewheel": "below",
        "stop_switch_site": "knee_left",
        "helper_switch_site": "push_handle_left",
    }
    one = assessed(
        client={"called": "Robin", "pronouns": "she"}, configuration={"works": "It goes when asked.", "stop": stop}
    )
    shown = drawings(one.file.case, one.evidence, language_words()["figures"], ["stop_sites"])["stop_sites"].alt
    assert "Press the stop switch, A.A: red box on the handle." in text_of(one).replace("\n", "")
    assert "presses the driver's stop switch (E): left knee." in text_of(one)
    assert "A, Stop switch: red box on the handle." in shown and "E, Driver's stop switch: left knee." in shown


@pytest.mark.parametrize(
    ("ranges", "told", "not_told"),
    [
        (
            {"gap_from_mm": 8.0, "gap_to_mm": 16.0},
            ("8 to 16 mm", "A gap outside its range: do not drive."),
            "Any difference",
        ),
        ({}, ("Any difference that you can see: do not drive.", "12 mm exactly"), "good from"),
        (
            {"gap_to_mm": 16.0},
            ("Not recorded: smallest gap at which it still works in mm to 16 mm",),
            "Any diff",
        ),
    ],
)
def test_any_difference_counts_only_where_no_range_was_set(ranges, told, not_told):
    text = text_of(chair((), mounting=(MOUNT | {"gap_mm": 12.0} | ranges,)))
    assert all(words in text for words in told) and not_told not in text


def test_what_is_worn_every_day_stands_where_the_parts_are_set():
    source = next(folder for folder in DEMO_FOLDERS if folder.name.startswith("saoirse"))
    text = guide(source).plain().split("Where each part belongs")[1]
    assert "on when it was checked: the firm-soled shoe. Is something else on? Take it off." in text
    assert "It must stay on? Do not drive: ask the therapist." in text


@pytest.mark.parametrize(
    ("fitted", "told", "not_told"),
    [
        ((), "No gap is set on this chair yet: no driving without the therapist.", "as fitted"),
        (({"mount": MOUNT["id"], "gap_mm": 14.0, "on": "2026-08-03"},), "14 mm", "12 mm"),
    ],
)
def test_the_gap_as_fitted_stands_in_the_guide_and_else_that_it_is_of_the_trial(fitted, told, not_told):
    parts = {"mounting": (MOUNT | {"gap_mm": 12.0},)}
    text = text_of(assessed(configuration=parts, fitted=fitted))
    assert told in text and not_told not in text
