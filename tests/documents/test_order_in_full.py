"""What a clerk and a technician look for on the order: whether its day is over, where the chair goes, what the base
must have, which measurement passes, where depths count from above the posts, who drives and guards the first runs."""

from __future__ import annotations

import csv
import io
from datetime import date

import pytest
from gathered import of_each
from support import ASSESSED, DEMO_FOLDERS, assess
from test_asked_of_a_chair import ILMARI, MARISOL, SAOIRSE, configured, page

from docgen.case.items import StandardPart
from docgen.case.model import Case
from docgen.documents.base_asked import base_asked
from docgen.documents.parameters import to_enter
from docgen.packet.data_files import LINES
from docgen.packet.digests import marked_file
from docgen.packet.render import render
from docgen.packet.trees import tables, trees_of
from docgen.packet.wording import language_words, wording

WORDS = language_words()
OPENS = "attendant stop switch with a contact that opens when pressed or a monitored cable"
OVER = "order nothing by this sheet again"


def _rows(name: str) -> list[dict[str, str]]:
    data = render(ASSESSED[name], ["html"], ["order"])[LINES].decode()
    return list(csv.DictReader(io.StringIO(data, newline="")))


def _changed(**parts):
    """A change of keys of tables of the case."""

    def change(case: Case) -> Case:
        return case.model_copy(
            update={name: getattr(case, name).model_copy(update=keys) for name, keys in parts.items()}
        )

    return change


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_the_order_of_a_delivered_chair_says_so_with_the_days_and_as_a_later_copy(name):
    """And does not tell a supplier to deliver nothing, when it has been delivered; nor can a payer take the delivery
    for one before the decision, on the order or on the cover."""
    words, is_over = page(name, "order"), name == SAOIRSE
    since = "the payer decided on April 10, 2026 (affirmed), and then the chair was delivered on July 6, 2026"
    for paper in (words, page(name, "cover"), page(name, "letter")):
        assert (since in paper and "A later copy" in paper) is is_over
    assert (OVER in words) is is_over and ("Order and deliver nothing before the decision" in words) is (
        name == MARISOL
    )
    rows = _rows(name)
    decided = "decided 2026-04-10 (affirmed)"
    since = f"{decided}; delivered 2026-07-06: order nothing" if is_over else "nothing recorded"
    assert {row["Since this sheet"] for row in rows} == {since}
    waits = {MARISOL: "yes", ILMARI: "no", SAOIRSE: "not applicable: order nothing"}
    assert {row["Wait for the decision"] for row in rows} == {waits[name]}


def test_an_order_that_was_decided_and_not_delivered_sends_for_the_decision():
    words = page(MARISOL, "order", _changed(authorization={"decision": "affirmed", "decided_on": date(2026, 4, 10)}))
    assert (
        "After that the payer decided on April 10, 2026 (affirmed): ask Theodora Wexcombe-Nair for the decision"
        in words
    )


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_no_number_of_a_family_or_an_aide_is_on_the_order_or_in_the_rows(source):
    case = ASSESSED[source.name].file.case
    theirs = {person.phone for person in case.people if person.role in ("caregiver", "other", "coach") and person.phone}
    told = page(source.name, "order") + render(ASSESSED[source.name], ["html"], ["order"])[LINES].decode()
    assert [phone for phone in theirs if phone in told] == []


def test_the_place_of_delivery_is_told_by_parts_and_its_day_is_settled_by_the_clinic():
    row = _rows(ILMARI)[0]
    assert [row[f"Delivery {part}"] for part in ("street", "city", "state", "postal code")] == [
        "27 Tern Street",
        "Kestrel Bay",
        "NY",
        "10000",
    ]
    words = page(ILMARI, "order")
    assert "27 Tern Street, Kestrel Bay, NY 10000: his home" in words
    assert "Day and hour: by Perpetua Lindqvist-Amadi, 555-0142" in words
    nowhere = dict.fromkeys(("street", "city", "state", "postal_code"))
    assert (
        "not recorded: street, city, state and postal code" in page(ILMARI, "order", _changed(delivery=nowhere)).lower()
    )


@pytest.mark.parametrize(
    ("name", "has"),
    [
        (MARISOL, f"{OPENS}; drive inhibit switch; 3 drive profiles, changed by an attendant's switch"),
        (SAOIRSE, f"{OPENS}; 4 drive profiles, changed by an attendant's switch"),
        (ILMARI, f"{OPENS}; 2 drive profiles, changed by an attendant's switch"),
    ],
)
def test_every_order_of_a_chair_says_what_its_base_must_have(name, has):
    assert f"The base must have: {has};" in page(name, "order")
    assert {row["What the base must have"].startswith(has) for row in _rows(name)} == {True}


def test_a_frame_without_a_motor_has_to_be_set_to_the_tilt_for_driving_and_a_chair_that_stays_is_asked_nothing():
    case = assess(next(folder for folder in DEMO_FOLDERS if folder.name == ILMARI)).file.case
    assert "a frame that can be set to 5 degrees of tilt" in base_asked(case, WORDS)["has"]
    stays = _changed(request={"kind": "control_only"})(case)
    assert base_asked(stays, WORDS)["has"] == ()


def _value(name: str, of: str, change=lambda case: case) -> list[tuple[str, str | None, str | None]]:
    case = change(ASSESSED[name].file.case)
    return [(row["side"], row["value"], row["passes"]) for row in to_enter(case, WORDS) if row["name"] == of]


@of_each(
    ("name", "of", "rows"),
    [
        (MARISOL, "maximum turning speed", [("≤ ", f"{n} degrees/s", "") for n in (10, 12, 15)]),
        (MARISOL, "acceleration", [("≥ ", "2.0 s to the profile's speed", "")]),
        (MARISOL, "turning deceleration", [("≤ ", "0.5 s to standstill", "")]),
        (MARISOL, "time a lost input is ignored", [("", "0 ms", "")]),
        (MARISOL, "deceleration (braking)", [("", "0.8 m/s²", "to 1.0")]),
        (MARISOL, "automatic standby time", [("", "10 s in drive", "8 to 10 s"), ("", "none in seat", "")]),
        (ILMARI, "double-press interval", [("", "1 s", "0.9 to 1 s")]),
        (ILMARI, "maximum reverse speed", [("", "off: speed 0", "")]),
        (ILMARI, "low-speed torque", [("", "leave as delivered", "")]),
    ],
)
def test_each_value_says_on_which_side_or_in_which_range_a_measurement_passes(name, of, rows):
    assert [(side, value and value.replace("\xa0", " "), passes) for side, value, passes in _value(name, of)] == rows


def test_the_hardest_stop_that_passes_is_told_or_asked_for():
    """Harder than recorded can throw a driver with a weak trunk forward."""

    def change(case: Case) -> Case:
        settings = tuple(entry.model_copy(update={"passes": None}) for entry in case.configuration.settings)
        return configured(settings=lambda _: settings)(case)

    assert "passes to 1.0" in page(MARISOL, "order")
    assert "not recorded: the hardest that passes; ask Theodora Wexcombe-Nair, 555-0121" in page(
        MARISOL, "order", change
    )


@pytest.mark.parametrize(
    ("name", "key", "told", "gap"),
    [
        (
            MARISOL,
            "beyond_posts",
            "from its front face prolonged in a straight line",
            "from its face prolonged, or square",
        ),
        (MARISOL, "back_mm", "face of the back: 25 mm (1 in) in front of the posts", "how far in front of the posts"),
    ],
)
def test_where_the_zeros_are_is_told_or_asked_for(name, key, told, gap):
    def change(case: Case) -> Case:
        return configured(measured_from=lambda zero: zero.model_copy(update={key: None}))(case)

    assert told in page(name, "order").replace("\xa0", " ")
    assert f"not recorded: {gap}" in page(name, "order", change)


def test_posts_that_end_above_every_part_need_no_rule_above_them():
    def change(case: Case) -> Case:
        return configured(chair=lambda chair: chair.model_copy(update={"back_height_mm": 900}))(case)

    assert "above the top of a post" in page(MARISOL, "order")
    assert "above the top of a post" not in page(MARISOL, "order", change)


@pytest.mark.parametrize("name", [ILMARI, MARISOL, SAOIRSE])
def test_it_is_told_who_drives_and_who_guards_the_runs_before_every_stop_has_passed(name):
    words = page(name, "order")
    assert "The driver, belts closed, gives the commands" in words
    assert (
        "walks beside with a hand at the attendant stop switch, the supplier on its right at the power switch, "
        "nobody ahead of it" in words
    )
    assert "Until all have passed nobody drives otherwise." in words
    steps = (
        "First each value is entered, in every profile the lowest speed the device offers.",
        "Then the power test and that of the cable.",
        "each stop switch once",
    )
    in_order = [words.index(step) for step in (*steps, "threshold last; a profile changed there")]
    assert "Where braking at full speed is above what passes, or a stop throws the driver" in words
    assert in_order == sorted(in_order)


def test_a_command_that_is_no_stop_is_not_held_to_one():
    """A hard sip held for two seconds is reverse: that it starts nothing when kept up would never pass."""
    words = page(MARISOL, "order")
    assert "it stands within the limits, and backs up two seconds later" in words and "it starts nothing" not in words

    def change(case: Case) -> Case:
        return configured(stop=lambda stop: stop.model_copy(update={"told_apart_test": None}))(case)

    assert "given at full speed and kept up: within the limits, and it starts nothing" in page(MARISOL, "order", change)


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_an_empty_cell_is_the_suppliers_and_nothing_else_is_empty(source):
    for row in _rows(source.name):
        empty = {head for head, cell in row.items() if cell == ""}
        assert empty <= {"Manufacturer", "Model", "Part number", *(f"Modifiers {at}" for at in range(1, 5))}


def test_the_order_says_what_an_empty_cell_of_the_rows_means():
    shown = tables(ASSESSED[MARISOL], wording()) | {"enclosed": (marked_file("Letter", "letter.pdf"),)}
    told = trees_of(ASSESSED[MARISOL], ["order"], wording(), shown)["order"].plain()
    assert 'In lines.csv fill empty cells and ask for what is "not recorded".' in told
    assert "Until delivery this record holds, then the latest Programming Notes." in told


def test_a_row_says_what_is_fitted_and_what_a_line_goes_with_in_the_words_of_the_order():
    rows = {row["Code"]: row for row in _rows(MARISOL)}
    assert "the function selection switch, since a soft puff selects" in rows["E2311"]["Fitted of it"]
    assert rows["E0955"]["Goes with"] == "see Standard parts" and rows["E2326"]["Comes with it"] == "nothing"
    assert rows["K0861"]["Class of the base"].endswith("its power seating is ordered as line 6")
    assert rows["E0955"]["Size, mm"] == "250 wide, 140 high, 60 thick"
    assert rows["E0955"]["What the line must do"] == "headrest: see Standard parts"
    assert "display: see Standard parts" in rows["E2311"]["What the line must do"]
    assert "; each angle set by E2377" in rows["E2311"]["What the line must do"]
    assert rows["E2311"]["Prior authorization code"] == "asked with"
    parts = rows["K0861"]["Standard parts"].split(" | ")
    assert parts[-3].startswith("switches of the base: comes with the base")
    assert parts[-2].startswith("cushion and back: Her skin-protection cushion")
    assert "lent by the supplier" in parts[-1]
    assert any("Mounted: ball clamp on the right armrest post" in part for part in parts)


@pytest.mark.parametrize("name", [ILMARI, SAOIRSE, MARISOL])
def test_a_switch_that_is_set_back_under_a_command_starts_no_chair_in_its_own_test(name):
    """A chair that waits after a stop is taken for one that can drive at once, until it was tried: it could throw."""
    words = page(name, "order")
    ends = "It ends: command off, power off, switch set back."
    assert ends in words and "then the command kept up, power on: nothing moves" in words.partition(ends)[2]
    assert "set back under that command" not in words and "under that command, it does not start" not in words


def test_a_stop_switch_with_its_cable_pulled_must_let_nothing_move_and_a_chair_without_one_has_no_such_row():
    row = "power off, plug out, power on, then the drive command"

    def without(case: Case) -> Case:
        return configured(stop=lambda stop: stop.model_copy(update={"stop_switch": None, "has_switch": False}))(case)

    passed = f"{row}nothing moves; else nobody drives: call"
    assert f"Cable of the attendant stop switchnot the mode switch: {passed} the therapist" in page(ILMARI, "order")
    assert f"Cables of both stop switches{row}nothing moves, nor with" in page(MARISOL, "order")
    assert row not in page(ILMARI, "order", without)


def test_braking_is_held_to_its_lowest_and_its_highest_stop():
    legend = (
        "Braking, at full forward speed: the lowest of ten stops is Value or above, "
        "the highest no more than what passes."
    )
    for name in (ILMARI, MARISOL, SAOIRSE):
        assert legend in page(name, "order")


def test_a_mode_switch_is_tried_without_the_external_device_first():
    assert "switch test, without and then with the external device connected; stops" in page(ILMARI, "order")
    assert "the external device connected" not in page(MARISOL, "order")


def test_a_headrest_that_the_base_brings_has_no_line_and_somebody_to_call():
    parts = (StandardPart.model_validate({"part": "headrest", "comes": "with_base"}),)
    asked = "no line is for one: where a base has none for this, call Perpetua Lindqvist-Amadi before it is chosen"
    assert asked in page(ILMARI, "order", _changed(configuration={"standard_parts": parts}))
    others = "".join(page(name, "order") for name in (ILMARI, SAOIRSE, MARISOL))
    assert "no line is for one" not in others  # clips to the frame of a line; moves over; a line


def test_a_headrest_that_clips_to_the_array_is_not_set_before_it():
    first = "The headrest is set first, as under Standard Parts"
    assert "Headrest" in page(ILMARI, "order") and first not in page(ILMARI, "order")


def test_a_base_that_has_to_grow_is_asked_for_that():
    grows = "seat and back that can be set larger, as Growth tells"
    assert grows in page(ILMARI, "order") and grows not in page(SAOIRSE, "order")
    assert grows not in page(ILMARI, "order", _changed(request={"growth": None}))


def test_the_rows_tell_the_room_of_the_base_and_whom_to_ask_for_what_they_lack():
    """In the words of the order, whose own sentence names the same things and people."""
    [has] = {row["What the base must have"] for row in _rows(SAOIRSE)}
    assert has.endswith("640 x 1130 x 1320 mm; obstacle climb 50 mm or more; rated for a slope of 8.3 percent")
    words = page(MARISOL, "order")
    [asks] = {row["To ask"] for row in _rows(MARISOL)}
    office, hour, lacking, rooms, force, leads, *others = asks.split(" | ")
    assert rooms.startswith("not measured: her bedroom, ") and rooms.endswith("; measure before a base is chosen")
    assert hour == "day and hour of delivery: Theodora Wexcombe-Nair"
    assert lacking.endswith("Theodora Wexcombe-Nair, before it is chosen")
    assert force.startswith("a part that takes more force or travel than was tried")
    assert f"Not in this record, and whom to ask{office[:1].upper()}{office[1:]}." in words
    assert leads == "which diagnosis leads on the claim: Lorcan Adeyemi-Holt"
    assert (
        others[0]
        == "whether it pays for line 1, 2, 3, 4, 5, 6, 7, 8: Lisbrane Mutual Health Plan 555-0164, before it is ordered"
    )
    assert {"which diagnosis" in row["To ask"] for row in _rows(ILMARI)} == {False}
    [link] = [row for row in _rows(ILMARI) if row["Code"] == "E2351"]
    assert "three 3.5 mm sockets (if its manual shows none: call first)" in link["What the line must do"]
    assert "make and model of the external device: read off its label by the supplier" in link["To ask"]


@of_each(
    ("name", "asked_on", "decided_on"),
    [
        (ILMARI, "not applicable", "not applicable"),
        (MARISOL, "2026-03-27", "not recorded"),
        (SAOIRSE, "2026-03-30", "see Since this sheet"),
    ],
)
def test_a_request_and_an_answer_have_a_date_of_their_own(name, asked_on, decided_on):
    dates = {(row["Date of the request"], row["Date of the decision"]) for row in _rows(name)}
    assert dates == {(asked_on, decided_on)}


def test_a_line_says_with_what_force_its_parts_were_tried_before_one_is_bought():
    """And the line that brings a stop switch what the test of its cable will ask of it."""
    for name, code, tried in (
        (MARISOL, "E2325", "cheek switch as tried: 100 g (3.5 oz) after 3 mm"),
        (SAOIRSE, "E2373", "foot joystick as tried: 340 g (12.0 oz) after 12 mm; round button as tried: 120 g"),
    ):
        [row] = [row for row in _rows(name) if row["Code"] == code]
        assert tried in row["What the line must do"] and tried in page(name, "order")
    opens = "mechanical stop switch with a contact that opens when pressed or a monitored cable"
    assert opens in page(MARISOL, "order") and opens not in page(ILMARI, "order")


def test_a_line_that_no_feature_names_says_so_before_how_its_parts_were_tried():
    def change(case: Case) -> Case:
        first, *others = case.configuration.items
        items = (first.model_copy(update={"features": ()}), *others)
        return case.model_copy(update={"configuration": case.configuration.model_copy(update={"items": items})})

    assert "no feature named: as described above; foot joystick as tried: 340 g" in page(SAOIRSE, "order", change)


def test_the_rows_of_a_chair_that_is_not_decided_name_no_day_and_an_answer_for_all_lines_is_that_of_each():
    assert {row["Payer's answer"] for row in _rows(ILMARI) if row["Code"] == "E2377"} == {"as for all lines"}
    assert {row["Date of the answer"] for row in _rows(ILMARI) if row["Code"] == "E2377"} == {"as for all lines"}
    assert all("day and hour of delivery: Perpetua Lindqvist-Amadi" in row["To ask"] for row in _rows(ILMARI))
    assert {row["Payer's answer"] for row in _rows(MARISOL)} == {"not recorded"}
    assert "; ask Kestrel Bay" not in page(ILMARI, "order")


def test_what_moves_the_seat_is_tried_for_what_stops_it():
    how = "each input ten times; each way it is moved: let go; power off; each stop switch"
    passed = (
        "the input that chose the seat, kept up, moves nothing; an input moves its motor alone; "
        "let go or power off, the seat stops"
    )
    assert f"{how}{passed}; else nobody moves it" in page(MARISOL, "order")
    assert "Seat that moves" not in page(ILMARI, "order")
