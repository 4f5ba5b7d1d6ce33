"""What of an order could hurt someone, or send a buyer for the wrong part: who stands where at the first runs, what is
tried before anybody drives, what a base and a controller must take, and what the rows say as the page does."""

from __future__ import annotations

import csv
import io
import re

import pytest
from gathered import of_each
from support import ASSESSED
from test_asked_of_a_chair import ILMARI, MARISOL, SAOIRSE, configured, each, page

from docgen.case.model import Case
from docgen.criteria.sentences import sentences_of
from docgen.documents.base_asked import base_asked
from docgen.documents.standard_parts import standard_parts
from docgen.documents.written_out import in_full
from docgen.packet.data_files import LINES
from docgen.packet.render import render
from docgen.packet.wording import language_words

WORDS = language_words()
OF_PADS = "sensing distance of the pads and auditory feedback, set at E2330"


def _rows(name: str) -> list[dict[str, str]]:
    data = render(ASSESSED[name], ["html"], ["order"])[LINES].decode()
    return list(csv.DictReader(io.StringIO(data, newline="")))


def _stop(**keys):
    return configured(stop=lambda stop: stop.model_copy(update=keys))


def test_a_latch_that_the_order_leaves_off_is_turned_on_by_no_note():
    words = page(MARISOL, "programming")
    row, _, watch = (
        words.partition("latched drive: ")[2].partition("maximum forward speed")[0].rpartition("stop switch. On record")
    )
    assert "never in reverse" not in watch
    assert row.startswith("off, and it stays off") and "on for forward" not in row and "once that is tested" not in row
    latched = configured(profiles=each(latched=True))
    assert "off, and it stays off" not in page(MARISOL, "programming", latched)


@of_each("name", [ILMARI, SAOIRSE, MARISOL])
def test_what_stops_a_moving_chair_besides_the_power_switch_has_a_person_of_its_own(name):
    """Whoever pulls a plug or turns a lever has let go of the power switch, wherever that is."""
    rule = "Any other than the power switch is worked by the supplier, a third person at the power switch."
    assert rule in page(name, "order") and rule in page(name, "order", _stop(power_off_site="back_right"))
    assert rule not in page(name, "order", _stop(drive_off=None, other_way=None))


@of_each(
    ("site", "where"),
    [
        ("armrest_right", "on its right"),
        ("low_back_left", "on its left"),
        ("behind_seat", "beside it"),
        (None, "beside it"),
    ],
)
def test_it_is_told_at_which_side_the_supplier_stands(site, where):
    assert f"the supplier {where} at the power switch" in page(ILMARI, "order", _stop(power_off_site=site))


def test_nobody_is_tested_with_attacks_of_which_no_physician_has_said_a_word():
    asked = "has answered on driving with fainting and autonomic dysreflexia. At such an attack the tests end."
    assert f"Not before Lorcan Adeyemi-Holt, 555-0134, {asked}" in page(MARISOL, "order", _limits(physician_says=None))
    answered = page(MARISOL, "order", _limits(physician_says="No objection while someone is in reach."))
    assert "Not before Lorcan" not in answered and "At fainting or autonomic dysreflexia the tests end." in answered
    assert "the tests end." not in page(MARISOL, "order", _limits(found=False))
    assert "No objection" not in answered  # what the physician said is not for the supplier


def _limits(**keys):
    """A change of each screening of attacks."""

    def change(case: Case) -> Case:
        limits = tuple(limit.model_copy(update=keys) if limit.attacks else limit for limit in case.limits)
        return case.model_copy(update={"limits": limits})

    return change


def test_what_is_let_go_before_the_shortest_hold_time_that_passes_starts_nothing():
    def held(**keys):
        def made(entries):
            return tuple(e.model_copy(update=keys) if e.setting == "hold_time" else e for e in entries)

        return configured(settings=made)

    told = "Let go before {} s: nothing starts."
    assert told.format("1.8") in page(MARISOL, "order")  # it passes from 1.8 to 2.2 s
    assert told.format("2.5") in page(MARISOL, "order", held(shortest_s=2.5))
    assert "s: nothing starts" not in page(MARISOL, "order", held(shortest_s=None))
    assert "s: nothing starts" not in page(MARISOL, "order", held(used=False))


@of_each("name", [ILMARI, MARISOL, SAOIRSE])
def test_cutting_the_power_of_a_moving_chair_is_tried_before_any_profile_is_fast(name):
    words = page(name, "order")
    steps = [
        "lowest speed the device offers",
        "each stop switch once",
        "still at that speed, the moving tests",
        "each profile is set",
    ]
    places = [words.partition("Stopping Means")[2].rpartition("Stopping Means")[2].find(step) for step in steps]
    assert -1 not in places and places == sorted(places)


@of_each(("name", "places"), [(MARISOL, ""), (SAOIRSE, "bathroom door "), (ILMARI, None)])
def test_a_place_that_is_left_backward_alone_waits_until_backing_was_tried(name, places):
    rule = "only once the therapist has decided who stands where: backing out was not tried"
    who = {MARISOL: "Theodora Wexcombe-Nair", SAOIRSE: "Emeka Strand-Whitlock"}.get(name, "")
    for document in ("order", "programming"):
        assert (f"; {places}{rule.format(who)}" in page(name, document)) is (places is not None)
    assert "backing out was not tried" not in page(name, "order", _tried_backward)


def _tried_backward(case: Case) -> Case:
    tasks = tuple(task.model_copy(update={"backs": True}) for task in case.trial.tasks)
    return case.model_copy(update={"trial": case.trial.model_copy(update={"tasks": tasks})})


@of_each(
    ("wide_mm", "told"),
    [
        (1300, "It keeps to the left edge: whoever is at the power switch has room on its right alone."),
        (
            1200,
            "It leaves no room for a person at its side: nobody drives there until Emeka Strand-Whitlock has decided.",
        ),
        (1900, ""),
    ],
)
def test_a_ramp_is_tried_upward_too_with_room_for_whoever_is_at_the_power_switch(wide_mm, told):
    """The chair is 640 mm wide and a person beside it takes 610 mm (Fruin's body ellipse)."""

    def change(case: Case) -> Case:
        spaces = tuple(s.model_copy(update={"clear_width_mm": wide_mm}) if s.is_sloping else s for s in case.spaces)
        return case.model_copy(update={"spaces": spaces})

    words = page(SAOIRSE, "order", change)
    assert "Empty it goes up for tests alone: once the therapist has written down what keeps that person out" in words
    assert (told in words) if told else ("edge: whoever" not in words and "no room for a person" not in words)


def test_a_line_of_power_seating_and_a_mount_that_swings_are_bought_by_what_decides_them():
    rows = {row["Code"]: row["What the line must do"] for row in _rows(MARISOL)}
    speed = "power tilt speed: 5 to 35 degrees in 15 s (to 17 s) at delivery, both ways, over its whole range, by each"
    assert speed in rows["E1007"] and "speeds: settings table, all set by E2377" in page(MARISOL, "order")
    assert "mouthpiece: swing arm of 16 mm tube, 420 mm long, out to 110 degrees" in rows["E2325"]
    hinges = {row["Code"]: row["What the line must do"] for row in _rows(ILMARI)}["E1028"]
    assert "left side pad: swing hinge, left (E1028), 100 degrees" in hinges and "right side pad: swing hinge" in hinges


def test_a_controller_is_asked_for_no_setting_that_it_cannot_have():
    [ilmari], [saoirse] = (
        [row["What the line must do"] for row in _rows(name) if row["Code"] == "E2377"] for name in (ILMARI, SAOIRSE)
    )
    own = f"but {OF_PADS}, and what is to be settled, in 2 profiles"
    assert own in ilmari
    for name in ("delay from input off", "sensing distance", "auditory feedback", "hold time"):
        assert name not in ilmari.replace(own, "")
    assert "hold time" not in saoirse and "double-press" not in saoirse and "joystick throw" in saoirse
    [control] = [row["What the line must do"] for row in _rows(ILMARI) if row["Code"] == "E2330"]
    assert "of the settings table: sensing distance of the pads and auditory feedback" in control


@of_each(("name", "backs"), [(ILMARI, False), (MARISOL, True), (SAOIRSE, True)])
def test_nobody_stands_in_the_path_of_the_first_runs(name, backs):
    words = page(name, "order")
    assert "at the power switch, nobody ahead of it" in words
    assert ("nor behind it while it backs up" in words) is backs


def test_a_headrest_that_a_head_array_brings_is_tried_after_the_stop_switches():
    row = "Headrest over the pads" + "clipped on, power off, then on: after the stop switches, lowest speed, a hand at"
    assert row in page(ILMARI, "order") and "Headrest over the pads" not in page(MARISOL, "order")
    over = {
        name: [p for p in standard_parts(ASSESSED[name].file.case, WORDS) if p["over_pads"]]
        for name in (ILMARI, MARISOL)
    }
    assert len(over[ILMARI]) == 1 and not over[MARISOL]


@of_each(
    ("name", "sound"),
    [(ILMARI, "a falling tone (where power-on is set to standby: a spoken word)"), (SAOIRSE, "a spoken word")],
)
def test_a_mode_switch_whose_plug_was_moved_answers_before_anyone_drives(name, sound):
    words = page(name, "order")
    assert f"one press of that switch, a hand at the attendant stop switch; without {sound} nobody drives" in words
    assert "Plug out, lowest speed: nothing moves; else the therapist decides before anyone drives" in words
    assert "a plug of the mode switch" not in page(MARISOL, "order")


@of_each(
    ("holds", "told"),
    [
        (
            True,
            "chair empty, seat all the way back, attendant stop switch pressed, then the seat switch"
            "by the record it holds the seat: write down whether it does; drive shut off, then set back, power left "
            "on, the seat switch brings it up",
        ),
        (False, "pressed or not, the seat switch brings it up"),
        (None, "write down whether it moves while that switch is pressed"),
    ],
)
def test_the_seat_comes_up_after_a_stop_or_nobody_drives(holds, told):
    words = page(MARISOL, "order", _stop(holds_seat=holds))
    row = words.partition("Seat after a stop")[2].partition("Profile switch")[0]
    assert told in row and "else nobody drives" in row and "Seconds until up:" in row
    assert "Seat after a stop" not in page(ILMARI, "order")


def test_a_cable_of_a_stop_switch_that_also_wakes_the_drive_is_pulled_in_standby():
    """A contact that opens reads a broken cable as a press that is kept up, and so as the command for drive."""
    rule = (
        "nothing moves, nor with that of the stop switch pulled in standby, power on, for ten seconds, then the command"
    )
    assert rule in page(MARISOL, "order") and rule in page(MARISOL, "order", _stop(held_press=None))
    assert "pulled in standby" not in page(MARISOL, "order", _stop(stop_switch_by="helper"))
    assert "pulled in standby" not in page(ILMARI, "order")
    assert "in standby, press the cheek switch again and hold it for two seconds" in page(MARISOL, "order")


@of_each(("site", "handle"), [("push_handle_right", "right"), ("push_handle_left", "left"), ("back_left", "")])
def test_a_stop_on_a_push_handle_makes_the_base_need_that_handle(site, handle):
    case = _stop(stop_switch_site=site)(ASSESSED[ILMARI].file.case)
    handles = [has for has in base_asked(case, WORDS)["has"] if "push handle" in has]
    assert handles == ([f"{handle} push handle that takes the clamp of the attendant stop switch"] if handle else [])


@of_each(
    ("name", "but"),
    [
        (ILMARI, f"{OF_PADS}, and what is to be settled, in 2 profiles"),
        (MARISOL, "sip-and-puff thresholds and auditory feedback, set at E2325, in 3 profiles"),
        (SAOIRSE, "auditory feedback, set at E2373, in 4 profiles"),
    ],
)
def test_a_controller_takes_every_setting_but_those_of_the_control_on_the_page_and_in_its_row(name, but):
    [row] = [row for row in _rows(name) if row["Code"] == "E2377"]
    asked = f"every parameter of the settings table but {but}"
    assert f"E2377{asked}" in page(name, "order")
    assert row["What the line must do"].startswith(f"{asked} (deceleration (braking), ")
    assert "mode at power-on" in row["What the line must do"] and "latched drive" in row["What the line must do"]


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_the_rows_ask_for_no_exception_that_the_order_does_not_ask_for(name):
    [route] = {row["Exception request"] for row in _rows(name)}
    assert route.startswith("none: every line has a code. If one is denied: ")
    assert f"Exception request{route}" in page(name, "order")


def test_the_rows_of_a_delivered_chair_ask_as_the_order_does_and_say_of_which_day():
    [asks] = {row["To ask"] for row in _rows(SAOIRSE)}
    first, *others = asks.split(" | ")
    assert first.startswith("as of 2026-03-30, before the supplier ordered") and first.endswith("so order nothing")
    assert [ask for ask in others if ask.startswith("whether it pays for line")]
    assert "day and hour of delivery: Emeka Strand-Whitlock" in others
    assert not [ask for row in _rows(MARISOL) for ask in row["To ask"].split(" | ") if ask.startswith("as of ")]


@pytest.mark.parametrize(("name", "room"), [(MARISOL, "her bedroom"), (SAOIRSE, "the front door")])
def test_what_nobody_measured_of_the_home_stands_on_the_order_and_in_its_rows(name, room):
    asked = (
        page(name, "order")
        .partition("Measure before a base is chosen or anyone drives there:")[2]
        .partition("Measured:")[0]
    )
    assert room in asked and {room in row["To ask"] for row in _rows(name)} == {True}

    def without(case: Case) -> Case:
        return case.model_copy(update={"client": case.client.model_copy(update={"not_measured": ()})})

    assert "Measure before a base is chosen" not in page(name, "order", without)


@of_each(
    ("name", "part", "is_asked"),
    [
        (ILMARI, "headrest", False),
        (ILMARI, "neck roll", False),
        (MARISOL, "headrest", False),
        (SAOIRSE, "tilted footplate with heel stop", True),
    ],
)
def test_the_payer_is_asked_of_a_part_that_the_code_of_its_line_does_not_tell(name, part, is_asked):
    """E2330 and E2373 tell of no headrest, roll or plate; E0955 is the headrest (hcpcs.toml, article A52504)."""
    [row] = [row for row in standard_parts(ASSESSED[name].file.case, WORDS) if row["part"] == part]
    assert ("Whether the payer takes it: the supplier asks." in row["says"]) is is_asked
    asks = " | ".join(row["To ask"] for row in _rows(name))
    assert (f"{part}: Whether the payer takes it: the supplier asks" in asks) is is_asked


def test_what_is_decided_of_the_base_is_told_and_asked_for_where_nobody_has():
    words, row = page(ILMARI, "order"), _rows(ILMARI)[0]
    assert "The base besides: Red, his choice; the larger of its two battery pairs" in words
    assert "seat pan 400 mm (15 3/4 in) above the floor" in row["What the base must have"]
    assert "Color, battery size" not in words and "color, battery size" not in row["To ask"]
    undecided = page(ILMARI, "order", configured(chair=lambda chair: chair.model_copy(update={"details": None})))
    assert "Color, battery size, wheels, seat height, type of push handles" in undecided
    assert "The base besides" not in undecided


def _texts(part) -> list[str]:
    """Every text in a part of a case, whatever holds it."""
    if isinstance(part, str):
        return [part]
    if isinstance(part, dict):
        return [text for value in part.values() for text in _texts(value)]
    return [text for value in part for text in _texts(value)] if isinstance(part, list | tuple) else []


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_the_rows_ask_whatever_a_sentence_of_the_record_sends_somebody_to_on_the_order(name):
    """Found in the record itself, not in the list that the rows are made of: standard parts, place of delivery."""
    case, told = ASSESSED[name].file.case, page(name, "order")
    [asked] = {row["To ask"] for row in _rows(name)}
    therapist = case.with_role("evaluator")[0].name
    parts = [part.model_dump() for part in case.configuration.standard_parts]
    sentences = [s for text in _texts([parts, case.delivery.place]) for s in sentences_of(text)]
    sends = [s.rstrip(".") for s in sentences if therapist in s or re.search(r"\bask (the|who|[A-Z])", s)]
    assert sends and not [s for s in sends if s in told and in_full(s, WORDS["short_forms"]) not in asked]


def test_the_rows_ask_for_the_word_of_the_physician_that_the_tests_wait_for():
    [asked] = {row["To ask"] for row in _rows(MARISOL)}
    assert "not before Lorcan Adeyemi-Holt, 555-0134, has answered on driving with fainting" in asked
    assert "has answered on driving" not in _rows(ILMARI)[0]["To ask"]


def test_each_kind_of_control_says_what_a_video_shows_when_it_is_let_go():
    assert "let go (the light of the pad out, or the head past its sensing distance)" in page(ILMARI, "order")
    assert "let go (a breath below its end)" in page(MARISOL, "order")
    assert "let go (the joystick on its way back)" in page(SAOIRSE, "order")
