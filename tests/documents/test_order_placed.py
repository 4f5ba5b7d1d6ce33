"""Where each support, armrest and device of an order stands, which way a part at the face gives way, and what a chair
does by itself: told as recorded, or a gap that names whom to ask."""

from __future__ import annotations

import csv
import io

import pytest
from gathered import of_each
from support import ASSESSED
from test_asked_of_a_chair import ILMARI, MARISOL, SAOIRSE, configured, each, page

from docgen.case.model import Case
from docgen.documents.as_fitted import as_fitted
from docgen.documents.standard_parts import standard_parts
from docgen.packet.data_files import LINES
from docgen.packet.render import render
from docgen.packet.wording import language_words

WORDS = language_words()
THERAPISTS = {
    ILMARI: "Perpetua Lindqvist-Amadi, 555-0142",
    MARISOL: "Theodora Wexcombe-Nair, 555-0121",
    SAOIRSE: "Emeka Strand-Whitlock, 555-0112",
}
UNSET = configured(standard_parts=each(set_at=None))


def _asks(name: str) -> str:
    data = render(ASSESSED[name], ["html"], ["order"])[LINES].decode()
    return next(csv.DictReader(io.StringIO(data, newline="")))["To ask"]


def _case(name: str, change=lambda case: case) -> Case:
    return change(ASSESSED[name].file.case)


def _stop(**keys):
    return configured(stop=lambda stop: stop.model_copy(update=keys))


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_every_support_armrest_and_device_of_a_demo_has_a_place(name):
    rows = [*standard_parts(_case(name), WORDS)]
    assert not [row["part"] for row in rows if row["set_at"] is None]
    told = page(name, "order")
    placed = [row["set_at"] for row in rows if row["set_at"]]
    assert len(placed) >= 3 and all(f"Set: {place}." in told for place in placed)


@of_each(
    ("name", "lacking"),
    [
        (ILMARI, {"armrests", "positioning belt", "mount of the SGD"}),
        (MARISOL, {"armrests", "positioning belt", "display", "phone on its arm"}),
        (
            SAOIRSE,
            {
                "armrests",
                "positioning belt",
                "display",
                "headrest",
                "mount of the SGD",
                "call pendant",
                "tilted footplate with heel stop",
            },
        ),
    ],
)
def test_one_without_a_place_is_a_gap_that_names_whom_to_ask(name, lacking):
    """What is measured in the mounting record, and a mounted headrest, has its place there."""
    rows = [*standard_parts(_case(name, UNSET), WORDS)]
    assert {row["part"] for row in rows if row["set_at"] is None} == lacking
    words = page(name, "order", UNSET)
    assert f"Set: not recorded: anchor points of each belt, strap and support; ask {THERAPISTS[name]}." in words


def test_a_part_that_is_not_needed_or_of_which_nothing_is_said_asks_for_no_place():
    parts = configured(standard_parts=lambda recorded: tuple(part for part in recorded if part.part == "batteries"))
    rows = {row["part"]: row for row in standard_parts(_case(ILMARI, parts), WORDS)}
    assert rows["armrests"]["comes"] is None and rows["armrests"]["set_at"] == ""
    not_needed = configured(standard_parts=each(comes="not_needed", item=None, set_at=None))
    assert {row["set_at"] for row in standard_parts(_case(MARISOL, not_needed), WORDS)} == {""}


@of_each(
    ("takes", "answered", "told"),
    [
        (True, True, "The payer takes it, by its answer."),
        (False, True, "The payer does not take it with that line, by its answer"),
        (None, True, "Whether the payer takes it: the supplier asks."),
        (True, False, "Whether the payer takes it: the supplier asks."),
    ],
)
def test_an_answer_of_the_payer_about_a_part_counts_only_where_its_line_has_one(takes, answered, told):
    change = configured(
        standard_parts=each(payer_takes=takes),
        items=each() if answered else each(payer_says=None, payer_said_on=None),
    )
    [row] = [row for row in standard_parts(_case(ILMARI, change), WORDS) if row["part"] == "headrest"]
    assert told in row["says"]


def test_the_jacks_of_an_external_device_are_told_or_asked_for():
    told = page(ILMARI, "order")
    assert "four mono sockets of 3.5 mm" in told and "Its make and model the supplier reads off its label." in told
    assert "Its make, and each jack by its manual" in page(SAOIRSE, "order")
    assert "make and model of the external device: read off its label by the supplier" in _asks(ILMARI)
    assert "make of the external device, and by its manual each jack" in _asks(SAOIRSE)


def test_a_part_in_front_of_the_face_says_whether_it_gives_way_and_is_tried():
    gap = (
        "not recorded: whether it gives way when pushed forward; "
        "ask Theodora Wexcombe-Nair, 555-0121, before line 2 is ordered"
    )
    told = page(MARISOL, "order")
    assert told.count(gap) == 1 and "Mouthpiece in a spasm" in told
    assert "mount for the mouthpiece; whether it gives way: ask first" in told
    asks = _asks(MARISOL)
    assert "whether the mouthpiece gives way when pushed forward: Theodora Wexcombe-Nair" in asks
    assert "before line 2 is ordered" in asks
    recorded = page(MARISOL, "order", configured(mounting=each(gives_way="its clamp slips at a push of the hand")))
    assert "; its clamp slips at a push of the hand" in recorded and gap not in recorded
    assert "in a spasm" not in page(ILMARI, "order").partition("Table 11")[2]


@of_each(("name", "rests"), [(ILMARI, True), (MARISOL, True), (SAOIRSE, False)])
def test_a_chair_that_goes_to_standby_by_itself_has_its_time_tried(name, rests):
    row = (
        "Standby by itself"
        + "drive on, nothing given"
        + "at the time set, with a falling tone: then a command moves nothing"
    )
    told = page(name, "order")
    assert (row in told) is rests
    assert (f"{row}; one for the seat only sounds." in told) is (name == MARISOL)


@of_each("name", [ILMARI, MARISOL, SAOIRSE])
def test_a_back_of_her_own_is_hung_by_a_figure_or_its_gap_is_named(name):
    assert f"Own back: {ASSESSED[name].file.case.configuration.chair.back_hung}" in page(name, "order")
    unhung = configured(chair=lambda chair: chair.model_copy(update={"back_hung": None}))
    asked = "Own back, if one is kept: not recorded: how high above the pan it hangs, and on what; ask"
    assert asked in page(name, "order", unhung)  # the key may hold of a cushion alone
    assert ("own back: Lower edge 90 mm" in _asks(name)) is (name == MARISOL)
    assert ("Slack for a slide: ask once it is known" in page(name, "order")) is (name == MARISOL)


def test_a_sound_that_is_on_says_who_sets_how_loud_it_is():
    said = "loudness: by the therapist with the driver"
    assert said in page(MARISOL, "order") and said in page(SAOIRSE, "order")
    own = page(ILMARI, "order")
    assert said not in own and "loudness: by the therapist with him, at the fitting and in class" in own


@of_each("name", [ILMARI, MARISOL, SAOIRSE])
def test_a_power_switch_that_an_arm_may_strike_is_asked_about_of_the_therapist(name):
    asked = "whether an arm strikes the power switch at its armrest: "
    at_arm = name != MARISOL
    assert ("struck by an arm: ask the therapist" in page(name, "order")) is at_arm
    assert (asked in _asks(name)) is at_arm


@of_each(("name", "asked"), [(MARISOL, "what is free under them: ask"), (SAOIRSE, "Free under it: ask")])
def test_the_room_under_the_footplate_is_a_gap_with_a_name(name, asked):
    assert asked in page(name, "order") and asked in _asks(name)


def test_a_speed_is_timed_once_it_is_reached():
    for name in (ILMARI, MARISOL, SAOIRSE):
        told = page(name, "order")
        assert "90 degrees at full speed, timed" in told and "in place, timed" not in told
        assert "a speed is timed once reached" in told and "3 m backward, timed" not in told


def test_two_ways_back_to_drive_are_told_apart_where_power_on_is_silent():
    told = page(MARISOL, "order")
    assert "To drive again, from standby: With no puff or sip" in told
    assert "in drive at once, without a rising tone: the mouthpiece is swung out before power is on" in told
    assert (
        "before power is on, except in the tests Back to drive and Attendant stop switch, a hand at the attendant stop "
        "switch, which is set back with power off. In an attack: driving off, power on, it set back, "
        "the seat moved."
    ) in told
    in_standby = page(MARISOL, "order", lambda case: _started(case, "standby"))
    assert "To drive again: With no puff or sip" in in_standby and "in drive at once" not in in_standby
    assert "in drive at once, without a rising tone: the driver is off the control" in page(ILMARI, "order")
    # of a control without a rest too: its foot lies beside the joystick
    rule = "From power-on it is in drive: the driver is off the control before power is on, except in the tests Back to"
    assert rule in page(SAOIRSE, "order")
    assert rule not in page(SAOIRSE, "order", lambda case: _started(case, "SGD"))
    assert "(where power-on is set to standby: a spoken word)" not in page(
        ILMARI, "order", lambda case: _started(case, "standby")
    )


def _started(case: Case, starts_in: str) -> Case:
    return case.model_copy(update={"configuration": case.configuration.model_copy(update={"starts_in": starts_in})})


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_the_mode_after_a_stop_switch_is_written_down_and_nobody_stands_where_the_chair_turns(name):
    told = page(name, "order")
    assert "no command given; and a stop switch set back, power on" in told
    assert "nothing moves. After the switch: write down the mode" in told
    assert "Those beside it keep out of the circle that it turns in" in told
    alone = _stop(stop_switch=None, helper_switch=None, has_switch=False)
    assert "a stop switch set back, power on" not in page(name, "order", alone)


@of_each(("site", "below"), [("push_handle_right", True), ("armrest_right", False)])
def test_nobody_drives_up_before_whoever_is_below_the_chair_is_kept_out_of_its_path(site, below):
    told = page(SAOIRSE, "order", _stop(stop_switch_site=site))
    barred = "Nobody drives up the ramp at the front door with the driver in it: whoever is at the"
    kept = "once the therapist has written down what keeps that person out of its path and holds it if the switch"
    assert ((f"{barred} attendant stop switch is below the chair." in told) and (kept in told)) is below
    assert ("Up the ramp at the front door nobody drives before the attendant stop switch" in told) is not below


def test_on_a_ramp_no_lever_is_opened_and_the_way_back_up_is_settled_first():
    def steep(case: Case) -> Case:
        spaces = (space.model_copy(update={"slope_stop_m": None, "slope_stop_on": None}) for space in case.spaces)
        return case.model_copy(update={"spaces": tuple(spaces)})

    words = page(SAOIRSE, "order", steep)
    steps = [
        "Before it is tried, the therapist writes down who stands where, how each keeps out of its path",
        "what holds it where no stop does, and how it comes back up.",
        "First, without the driver, by an attendant control or the programmer and never by a hand at the driver's",
        "down and then up",
        "the driver seated, a hand at",
        "or it cannot be driven empty, nobody drives there.",
        "On the ramp at the front door nobody pushes it or opens a brake lever.",
        "Nobody drives up the ramp at the front door with the driver in it",
        "are worked at the lowest speed, then that switch at each; each time it has to stop and hold.",
    ]
    places = [words.find(step) for step in steps]
    assert -1 not in places and places == sorted(places)
    assert "opens a brake lever" not in page(ILMARI, "order")


def test_notes_bar_a_ramp_until_it_was_tried_that_each_switch_holds_there():
    told = page(SAOIRSE, "programming")
    bar = "nobody drives up with her in it; not before each switch has held it empty"
    assert bar in told and "whether each switch stops the empty chair there, down and up, and whether it" in told
    assert bar in page(SAOIRSE, "order") and "has held it empty" not in page(ILMARI, "programming")


@of_each(
    ("day", "changed", "told"),
    [
        (24, "same_day", "whether before or after the change of that day is not recorded: ask Tobiah Renwick-Suarez"),
        (20, "later", "before the last change: its stops are tried again before anyone drives with it"),
        (31, "", ""),
    ],
)
def test_stops_tried_on_the_day_of_a_change_or_before_it_may_be_those_of_the_chair_as_it_was(day, changed, told):
    passed_on = _case(SAOIRSE).configuration.stop.passed_on
    assert passed_on is not None
    change = _stop(passed_on=passed_on.replace(day=day))
    assert as_fitted(_case(SAOIRSE, change))["changed"] == changed
    words = page(SAOIRSE, "programming", change)
    assert told in words and ("that day is not recorded" in words) is (changed == "same_day")
