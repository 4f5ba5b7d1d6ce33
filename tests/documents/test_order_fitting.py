"""What the fitting of a chair must show before anyone drives it, what the order has to ask for, and what the notes tell
of a stop: each in the words of the order, from the case."""

from __future__ import annotations

import csv
import io
import re

import pytest
from gathered import of_each
from support import ASSESSED, DEMO_FOLDERS
from test_asked_of_a_chair import ILMARI, MARISOL, SAOIRSE, configured, each, page

from docgen.case.model import Case
from docgen.documents.stops_elsewhere import release_told, wrong_profile
from docgen.packet.data_files import LINES
from docgen.packet.render import render
from docgen.packet.wording import language_words

EVERY = pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)


def _asks(name: str) -> list[str]:
    data = render(ASSESSED[name], ["html"], ["order"])[LINES].decode()
    [asks] = {row["To ask"] for row in csv.DictReader(io.StringIO(data, newline=""))}
    return asks.split(" | ")


@EVERY
def test_drive_does_not_come_back_under_a_command_on_the_delivered_chair(source):
    words = page(source.name, "order")
    rests = any(command.does == "rest" for command in ASSESSED[source.name].file.case.configuration.commands)
    how = f"each drive command kept up: from power-on, {'standby, ' if rests else ''}each mode"
    case = ASSESSED[source.name].file.case
    how += "; drive set back on" if case.configuration.stop.drive_off else ""
    if any(entry.setting in ("tilt_limit", "recline_limit") and entry.value for entry in case.configuration.settings):
        how += "; seat brought below each angle by its switch"
    assert f"Back to drive{how}nothing moves until it is let go and begun anew; else nobody drives" in words
    assert words.index("Then back to drive.") < words.index("Then, as it begins to move")


@EVERY
def test_a_part_is_seen_to_answer_before_the_power_test_with_the_drive_shut_off(source):
    words = page(source.name, "order")
    assert "before the power test, the drive shut off by the manual: read from a light, tone, display" in words
    assert words.index("each part is seen to answer") < words.index("Then the power test")


def test_presses_that_count_are_locked_from_another_mode_too():
    rule = "So too from another mode: left alone first, then presses count."
    assert rule in page(ILMARI, "order") and rule not in page(SAOIRSE, "order")
    assert "three quick presses, the command kept up: nothing moves, from another mode likewise" in page(
        ILMARI, "order"
    )


def test_a_stop_is_tested_up_to_the_angle_at_which_driving_is_shut_off():
    rule = (
        ": stop test in the fastest profile, and each gap, within limits; else set it just above the angle for driving"
    )
    below, told = "just below it", page(MARISOL, "order")
    assert rule not in page(ILMARI, "order")
    # a back that comes up further than where its parts were measured is tried there too
    steep = f"{below}, and with the back fully up{rule}, and nobody drives with the back below 100 degrees."
    assert steep in told
    tilts_alone = page(
        MARISOL, "order", configured(items=lambda items: tuple(entry for entry in items if entry.code != "E1007"))
    )
    assert f"{below}{rule}. Above" in tilts_alone and "fully up" not in tilts_alone.partition(below)[2][:250]


def test_the_input_that_chose_the_seat_moves_nothing_and_a_seat_speed_holds_both_ways():
    for rule in (
        "the input that chose the seat, kept up, moves nothing",
        "A seat speed holds both ways, over its whole",
    ):
        assert rule in page(MARISOL, "order") and rule not in page(SAOIRSE, "order")


def test_a_box_and_a_cable_have_a_place_or_a_gap_and_no_other_line_has_one():
    """E2313, a harness, and E1028, hardware, bring no box; E2351, which links a device, does."""
    words = page(ILMARI, "order")
    assert (
        "Boxes of electronics: E2330 on the left back post, outside, 180 mm above the pan; E2377 under the seat"
        in words
    )
    assert "E2351 below the box of the head array" in words and "Length, route and slack" not in words
    without = page(ILMARI, "order", configured(items=each(box=None), mounting=each(route=None)))
    gap = "E2330, E2377 and E2351, not recorded: place of the box, and route of its cables; ask Perpetua"
    assert f"Boxes of electronics: {gap}" in without
    assert "rear pad, left side pad, right side pad and knee switch, not recorded: how it runs; ask Perpetua" in without


def test_separate_stops_and_drive_inhibit_stand_in_the_features_of_the_lines_that_bring_them():
    words = page(MARISOL, "order")
    assert "tilt stop angle: breath 35, switch 50 degrees; recline stop angle: breath 120, switch 150 degrees" in words
    inhibits = "angle for reduced speed or drive inhibit: drive off above 20 degrees"
    assert f"power seating operated through the drive control; {inhibits}" in words


@of_each(("name", "limit"), [(ILMARI, "0.65 s"), (MARISOL, "0.65 s"), (SAOIRSE, "0.55 s")])
def test_a_turn_is_held_to_the_delay_and_its_own_deceleration(name, limit):
    """0.15 s and 0.5 s, or 0.4 s; where the setting was not timed the limit is a gap, whatever its words say."""

    def unsaid(case: Case) -> Case:
        settings = case.configuration.settings
        changed = [
            e.model_copy(update={"turn_ends_s": None}) if e.setting == "turn_deceleration" else e for e in settings
        ]
        return configured(settings=lambda _: tuple(changed))(case)

    fact = ASSESSED[name].evidence.of("braking_turn_s", ASSESSED[name].file.case.configuration.profiles[0].id)
    assert fact is not None and f"{fact.value:.2f} s" == limit and limit in page(name, "order")
    from docgen.evidence.facts.input_off import facts

    ids = {fact.id for fact in facts(unsaid(ASSESSED[name].file.case))}
    assert not [id_ for id_ in ids if id_.startswith("braking_turn_s")] and "braking.training" in ids


@of_each(
    ("name", "by"),
    [
        (ILMARI, "the driver presses the mode switch, the therapist the attendant stop switch, at full speed"),
        (
            MARISOL,
            "the driver presses the stop switch, then the therapist (this one counts), the therapist the attendant "
            "stop switch, at full speed",
        ),
        ("bohdan-lacroix-mbeki", "the therapist presses the attendant stop switch at full speed"),
    ],
)
def test_it_is_told_who_presses_each_switch_at_full_speed_and_how_its_test_ends(name, by):
    """Nobody else has to lean in front of a moving wheel; and no switch is set back while the power is on."""
    words = page(name, "order")
    assert f"Switch test: {by} in each profile" in words
    assert "It ends: command off, power off, switch set back." in words


def test_the_code_list_that_was_not_checked_stands_on_the_order_and_in_the_rows():
    says = "The list of 2026 was not checked: the supplier checks it before ordering any part"
    for name in (ILMARI, MARISOL, SAOIRSE):
        assert f"Codes of every line{says}." in page(name, "order") and says in _asks(name)


@of_each(
    ("name", "asks"),
    [
        (ILMARI, ("transit securement (tie-down points): That the headrest", "make and model of the external device")),
        (MARISOL, ("whether it pays for line 1, 2", "display: Whether the code takes one", "transit securement")),
        (SAOIRSE, ("tilted footplate with heel stop: Whether the payer takes it", "external device: Which contact")),
    ],
)
def test_every_ask_of_the_order_stands_in_its_rows(name, asks):
    told = _asks(name)
    assert [ask for ask in asks if not any(one.startswith(ask) for one in told)] == []
    assert any(one.startswith("prior authorization number: Fennick") for one in told) is (name == SAOIRSE)


def test_the_notes_tell_the_release_that_stops_are_worked_out_with_and_the_slowest_since():
    case, rule = ASSESSED[SAOIRSE].file.case, ASSESSED[SAOIRSE].evidence.stopping
    told = release_told(case, rule)
    slowest = max(row.slowest_s or 0 for row in rule.rows)
    assert float(told["seconds"] or 0) >= slowest and told["since_s"] == "0.6"
    words = page(SAOIRSE, "programming")
    assert f"the release of the driver, {told['seconds']} s, the slowest of the trial (February 24, 2026)" in words
    assert "Slowest release since delivery: 0.6 s" in words
    unseen = release_told(case.with_sessions(()), rule)
    assert unseen["since_s"] is None


@EVERY
def test_a_place_that_another_profile_does_not_stop_in_is_named(source):
    """The distance of the profile against the room of the place, worked out here from what each is."""
    rule = ASSESSED[source.name].evidence.stopping
    rows = {row["name"]: row for row in wrong_profile(rule, language_words())}
    for profile, needs_m in rule.on_level:
        short = [
            there.space.name
            for there in rule.places
            if needs_m is not None and there.profile not in (None, profile) and there.room_m is not None
            if there.room_m < needs_m and not there.space.is_sloping
        ]
        named = [re.sub(r" \(.*", "", place) for place in rows[profile.name]["places"]] if profile.name in rows else []
        assert named == short
    if source.name == MARISOL:
        words = page(MARISOL, "programming")
        assert 'In the "indoor" profile it does not stop within: bathroom door (910 mm' in words
        assert "A stop needs 1040 mm (41 in)" in words
