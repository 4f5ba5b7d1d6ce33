"""How to stop, the test of the stop and what makes the chair drive again, on card and guide."""

from __future__ import annotations

import re
from itertools import product

import pytest
from gathered import of_each
from guide_sheets import DEMOS, STOP_TEST, card, chair, text_of
from made import assessed
from support import ASSESSED, assess

from docgen.criteria.ways_out import backing_tried
from docgen.evidence.gather import evidence
from docgen.figures.draw import drawings
from docgen.packet.trees import trees
from docgen.packet.wording import language_words, wording


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
    step = card(folder).plain().split(", A, while it moves: it must stop.")[1].split("All right?")[0]
    again = stop.again or "ot recorded"  # its step may be this gap alone
    lets_go = next(says for says in language_words()["lets_go"].values() if says in step)
    on = "Off the control again, hand at A, turn the power on: it must stay still."
    order = ["it must stay still", f"{lets_go}. Turn the power off.", again, on]
    if stop.after_stop == "waits":  # that it waits is tried, so it is set back under a signal
        back = stop.set_back or "Not recorded"
        order = ["it must stay still", "keeps trying.", back, "must not start", lets_go, again]
    places = [step.index(told) for told in order]
    assert places == sorted(places)


@DEMOS
def test_the_plan_and_the_card_give_the_stop_test_in_the_same_words(folder):
    made = trees(assess(folder), ["card", "plan"])
    steps = made["card"].plain().split("turn it on.")[1].split("All right?")[0]
    assert "it must stay still" in steps and steps in made["plan"].plain()


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
    (10, "within 5 seconds of its stop (later it rests)"),
    (60, "within 5 seconds of its stop (later it rests)"),
    (6, "within 3 seconds of its stop (later it rests)"),
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
    assert re.search(r"Press the stop switch, A, while it moves: it must stop\.[\w ]+ keeps trying: it must stay", text)
    head = "F, then B." if shut_off else "Power, B."
    last = text.split(f"{head} Do step five of A.")[1]
    shut, switch = ("Turn F: driving is off", "return F") if shut_off else ("Turn the power off, B", "turn B on")
    assert re.match(rf"[\w ]+ drives and stops\. {shut}\.[\w ]+ tries {re.escape(soon)}: it must stay still\.", last)
    assert f"Hand at A, {switch}: it must stay still." in last
    assert ("Hand at A. Turn B on: it must stay still." in last) is bool(shut_off)


@pytest.mark.parametrize("has_switch", [True, False])
@pytest.mark.parametrize("lang", STOP_TEST)
def test_power_comes_on_with_nobody_on_the_control_and_a_hand_at_the_stop(lang, has_switch):
    """The power was turned on while the driver was still trying."""
    stop = {"stop_switch": "here", "after_stop": "starts", "again": "Pull it."} if has_switch else {"has_switch": False}
    text = trees(chair(stop=stop), ["card"], wording(lang))["card"].plain()
    comes_on = {
        "en": r"(?:Off the control again, hand at A|lets go of the control\. Hand at B), turn the power on: it must",
        "es": r"el control[:.] (?:Solo entonces, )?con la mano en [AB], encienda la silla: no debe moverse",
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
            r"urn the power off( yourself)?\. Let [\w ]+? try the same drive at once: it must",
        ),
        "es": (
            "No debe arrancar",
            "solo la deja en descanso y no para nada",
            r"p[aá]g(ue usted la silla|ue la silla|uela)\. Que [\w ]+? haga el mismo movimiento enseguida: no",
        ),
    }[lang]
    assert text.count(must_not_start) == released and text.count(only_rests) == rested
    assert len(re.findall(dead, text)) == power
    # under the stop, and as power comes on; once more where the switch is set back with the power off
    assert text.count(STOP_TEST[lang][2]) == (2 if power else 3)


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
    assert "Switch E: left knee." in text_of(one)
    assert "A, Stop switch: red box on the handle." in shown and "E, Driver's stop switch: left knee." in shown


@of_each("name, lang", list(product(ASSESSED, ("en", "es"))))
def test_that_no_try_of_backing_up_is_recorded_stands_with_the_rule_until_then(name, lang):
    """A reader of the card alone is sent to the guide, which says with whom, and what to do where it backs up."""
    case = ASSESSED[name].file.case
    card_says, guide_says, rule = {
        "en": (
            "once, never reverse: guide.",
            "Backing up: not yet. No try of it is recorded.",
            "Step to its side: A, then B.",
        ),
        "es": ("nunca hacia atrás: guía.", "Hacia atrás: todavía no.", "Hágase a un lado: A, luego B."),
    }[lang]
    made = {sheet: tree.plain() for sheet, tree in trees(ASSESSED[name], ["card", "guide"], wording(lang)).items()}
    is_untried = bool(case.configuration.backs) and not backing_tried(case)
    assert (card_says in made["card"]) is (guide_says in made["guide"]) is is_untried
    assert (rule in made["guide"]) is (is_untried and not case.configuration.stop.backing)
