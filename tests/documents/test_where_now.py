"""What a place still waits for before the client drives there: the same in order, notes and plan."""

from __future__ import annotations

from datetime import date

import pytest
from gathered import of_each
from support import ASSESSED
from test_asked_of_a_chair import ILMARI, MARISOL, SAOIRSE, configured, page
from test_order_safe import _rows

from docgen.case.known_on import known_on
from docgen.case.model import Case
from docgen.criteria.where_now import waits_in
from docgen.documents.drive_profiles import profiles
from docgen.figures import room_plans
from docgen.packet.wording import language_words

WORDS = language_words()


def _case(name: str) -> Case:
    return ASSESSED[name].file.case


def _drawn(name: str) -> str:
    """What is told of the drawing of the places."""
    scene = room_plans.scene(_case(name), ASSESSED[name].evidence, {**room_plans.WORDS, **WORDS["figures"]})
    assert scene is not None
    return scene.alt


def _waits(case: Case, profile: str = "indoor") -> dict[str, tuple[str, ...]]:
    [asked] = [entry for entry in case.configuration.profiles if entry.id == profile]
    return {waiting.why: waiting.places for waiting in waits_in(case, asked)}


def _places(case: Case, place: str, **keys: object) -> Case:
    return case.model_copy(
        update={"spaces": tuple(s.model_copy(update=keys) if s.id == place else s for s in case.spaces)}
    )


def _open(case: Case, **keys: object) -> Case:
    """The case with profiles whose words wait for nobody, or as these keys of a profile say."""
    keys = keys or {"used": "at home", "used_holds": ()}
    open_profiles = tuple(p.model_copy(update=keys) for p in case.configuration.profiles)
    asked = case.configuration.model_copy(update={"profiles": open_profiles})
    return case.model_copy(update={"configuration": asked})


@pytest.mark.parametrize("document", ["order", "programming", "plan"])
def test_a_room_whose_length_ahead_was_not_measured_is_not_driven_in(document):
    """A stop needs room that nobody measured there: the words "at home" do not open it."""
    waiting = "bedroom only once measured ahead"
    assert waiting in page(ILMARI, document)
    measured = page(ILMARI, document, lambda case: _places(case, "bedroom", clear_ahead_mm=900))
    assert waiting not in measured


def test_who_measures_the_room_ahead_is_named_in_record_notes_and_rows():
    assert "bedroom: 1500 mm (59 in) to turn, ahead not measured: by the supplier" in page(ILMARI, "order")
    assert "ahead: the supplier measures it" in _drawn(ILMARI)
    ask = "room ahead in the bedroom: the supplier measures it before anyone drives there"
    assert all(ask in row["To ask"].split(" | ") for row in _rows(ILMARI))
    assert not [row for row in _rows(MARISOL) if "room ahead in the" in row["To ask"]]


def test_the_order_holds_back_what_its_letter_holds_back():
    """Kitchen: its corner was not tried, and how soon the aide reaches the bar was not timed, on the day of the order;
    both came after the delivery, and the notes of then do not wait for them."""
    then = known_on(_case(SAOIRSE), date(2026, 3, 30))
    waits = _waits(then)
    assert waits == {
        "backs": ("bathroom door",),
        "timed": ("kitchen",),  # at the bathroom door the therapist decides who stands where
        "tried": ("kitchen",),
    }
    told = page(SAOIRSE, "order")
    assert "kitchen only once the corner into it is tried and the way to the stop is timed" in told
    assert "only once the corner into it is tried and the way to the stop is timed" in page(SAOIRSE, "letter")
    assert _waits(_case(SAOIRSE)) == {"backs": ("bathroom door",)}
    notes = page(SAOIRSE, "programming")
    assert "only once the corner" not in notes
    tried, timed = "the corner into it is tried (August 14, 2026)", "the way to the stop is timed (July 6, 2026)"
    assert f"Met since the setup record: kitchen: {tried}; kitchen: {timed}" in notes


def test_a_bar_that_no_record_lifts_stays_in_the_notes():
    untried = page(SAOIRSE, "programming", lambda case: _places(case, "kitchen", waits_done_on=None))
    assert "kitchen only once the corner into it is tried" in untried
    assert "Met since the setup record: kitchen: the way to the stop is timed (July 6, 2026)" in untried


def test_what_the_words_of_a_profile_wait_for_is_not_told_twice():
    """Living room: the opening to it is a key and stands in the words of its profile."""
    assert "tried" not in _waits(_case(MARISOL))
    assert page(MARISOL, "order").count("only once the opening to it is measured") == 1
    assert _waits(_open(_case(MARISOL)))["tried"] == ("living room",)


def test_what_words_hold_back_is_told_by_a_key_and_not_by_the_words():
    """Words in another order say the same, and of no words the key says nothing."""
    reworded = _open(_case(ILMARI), used="at home, in class when the therapist lets him", used_holds=("decided",))
    assert not {"pushed", "decided"} & _waits(reworded).keys()
    assert "pushed" in _waits(_open(_case(ILMARI), used_holds=()))
    assert "pushed" in _waits(_open(_case(ILMARI), used=None))


@of_each(
    ("name", "profile", "why", "places"),
    [
        (ILMARI, "indoor", "pushed", ("bathroom door",)),  # he is pushed out of there until he comes out reliably
        (SAOIRSE, "indoor", "decided", ("archive aisle",)),  # not released
        (SAOIRSE, "ramp", "up", ("ramp at the front door",)),  # the bar is on the push handle
        (SAOIRSE, "ramp", "empty", ("ramp at the front door",)),
        (MARISOL, "tight", "backs", ("bathroom door", "elevator of the building")),
    ],
)
def test_words_that_open_all_leave_each_reason(name, profile, why, places):
    assert _waits(_open(_case(name)), profile)[why] == places


def test_a_place_is_named_only_where_others_of_its_profile_are_open():
    told = {row["name"]: row["waits"] for row in profiles(_case(MARISOL), WORDS)}
    assert told["tight places"] == ("only once the therapist has decided who stands where: backing out was not tried",)
    assert told["training"] == ()


def test_both_rows_of_a_ramp_bar_the_way_up():
    up = "nobody drives up with her in it"
    assert up in page(SAOIRSE, "order") and up in page(SAOIRSE, "programming")


def test_a_stop_measured_on_a_slope_does_not_count_in_the_figure_either():
    told = _drawn(SAOIRSE)
    assert "longest stop measured: 1200 mm; released late: 1800 mm; counts once" in told  # 1.2 + 0.35 x 1.7 m


def test_which_line_locks_the_switch_is_shown_before_the_order():
    """Either of two makers could point to the other, and an unlocked switch lets quick presses bring drive back."""
    ask = "Which of E2330 and E2377 gives the lock after a press that stops and the double-press interval"
    assert ask in page(ILMARI, "order") and "gives the lock" not in page(SAOIRSE, "order")
    assert all("by which line, E2330 or E2377, the lock" in row["To ask"] for row in _rows(ILMARI))
    [asked] = [row["What the line must do"] for row in _rows(ILMARI) if row["Code"] == "E2377"]
    alone, _, open_ones = asked.partition("; to be settled, by E2330 or E2377: ")
    for name in ("double-press interval", "mode switch pressed during drive"):
        assert name in open_ones and name not in alone

    def uncounted(case: Case) -> Case:
        settings = tuple(entry for entry in case.configuration.settings if entry.setting != "press_window")
        return configured(settings=lambda _: settings)(case)

    assert "gives the lock" not in page(ILMARI, "order", uncounted)


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_the_profile_switch_has_side_height_and_input(name):
    told = page(name, "order").partition("Profile switch")[2].partition("Switches of the base")[0]
    assert "back post, outside, 2" in told and "mm above the pan; profile input of the base." in told


@pytest.mark.parametrize("name", ["anselm-kirawira-boone", "pilar-nakashima-holt"])
def test_a_profile_switch_that_nobody_placed_is_a_gap_with_whom_to_ask(name):
    told = page(name, "order").partition("Profile switch")[2].partition("Switches of the base")[0]
    assert "Mounted: not recorded: how it is mounted" in told and "ask " in told


def test_a_chair_with_one_profile_has_no_switch_for_it():
    assert "Profile switch" not in page("bohdan-lacroix-mbeki", "order")


def test_the_cable_that_crosses_a_sliding_back_waits_for_the_slide():
    told = page(MARISOL, "order")
    assert "longer by the slide of her back, once known: ask Theodora Wexcombe-Nair" in told
    assert "If the driver's own back slides, each is measured again." in told
    assert all("longer by the slide of her back" in row["To ask"] for row in _rows(MARISOL))
