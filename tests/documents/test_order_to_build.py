"""What a technician builds from the order and a clerk orders by its rows alone: every zero, size, length and place is
told or named as a gap with somebody to ask, and the rows say as much as the page."""

from __future__ import annotations

import csv
import io
import re

from gathered import of_each
from support import ASSESSED
from test_asked_of_a_chair import ILMARI, MARISOL, SAOIRSE, configured, each, page

from docgen.case.model import Case
from docgen.documents.as_fitted import as_fitted
from docgen.packet.data_files import LINES
from docgen.packet.render import render


def _rows(name: str) -> list[dict[str, str]]:
    data = render(ASSESSED[name], ["html"], ["order"])[LINES].decode()
    return list(csv.DictReader(io.StringIO(data, newline="")))


def _part(id_: str, **keys):
    """A change of one part of the mounting record."""

    def made(mounts):
        return tuple(mount.model_copy(update=keys) if mount.id == id_ else mount for mount in mounts)

    return configured(mounting=made)


@of_each(
    ("key", "told", "lacking"),
    [
        (
            "cushion_mm",
            "Cushion under the driver: 55 mm (2 1/8 in) thick",
            "not recorded: thickness of the loaded cushion",
        ),
        (
            "back_mm",
            "face of the back: 30 mm (1 1/8 in) in front of the posts",
            "not recorded: how far in front of the",
        ),
        (
            "depth_above",
            "of Standard Parts above it, at the height of the part; above the top of a post",
            "not recorded: at",
        ),
        (
            "beyond_posts",
            "above the top of a post, from its front face prolonged",
            "not recorded: from its face prolonged",
        ),
    ],
)
def test_what_is_set_from_the_seat_has_its_zeros_where_the_control_is_at_a_foot(key, told, lacking):
    words = page(SAOIRSE, "order")
    assert told in words and lacking not in words
    assert "of Standard Parts, the top of the bare seat pan at its rear edge" in words
    change = configured(measured_from=lambda zero: zero.model_copy(update={key: None}))
    assert lacking in page(SAOIRSE, "order", change)


def test_zeros_of_standard_parts_are_told_only_where_one_is_set_by_them():
    none = configured(standard_parts=each(mounted=None, set_at=None, comes="not_needed"))
    assert "of Standard Parts" in page(SAOIRSE, "order")
    assert "of Standard Parts" not in page(SAOIRSE, "order", none)


@of_each(("name", "part"), [(ILMARI, "knee"), (MARISOL, "cheek")])
def test_the_length_of_a_cable_is_that_of_its_pieces_and_reaches_further_than_a_straight_line(name, part):
    """A cable that is too short pulls out the plug of a stop."""
    mount = next(entry for entry in ASSESSED[name].file.case.configuration.mounting if entry.id == part)
    whole, *pieces = (int(number) for number in re.findall(r"\d{2,4}", mount.route or ""))
    assert sum(pieces) == whole
    # along right angles from the part to the left back post, which stands half a seat beside the midline, and down it
    half_mm = ASSESSED[name].file.case.configuration.chair.seat_width_mm / 2
    assert whole > mount.height_mm + mount.depth_mm + abs(half_mm + mount.midline_mm)


def test_a_route_without_a_length_leaves_it_to_the_supplier():
    rule = "A length that no route tells, the supplier measures along it."
    for name in (SAOIRSE, ILMARI, MARISOL):  # cables of a display or an attendant's switch have none anywhere
        assert rule in page(name, "order")
    assert rule not in page(MARISOL, "order", configured(mounting=each(route=None)))


def test_nobody_drives_over_a_threshold_higher_than_was_measured():
    """In mm alone: its inches differ from those of the measured threshold, which are rounded up."""
    told = "over a threshold of 15 mm whether it stays; over a higher one nobody drives."
    assert told in page(ILMARI, "order")


@of_each(("name", "part"), [(ILMARI, "mount of the SGD"), (MARISOL, "phone on its arm"), (SAOIRSE, "call pendant")])
def test_each_device_of_the_clients_own_is_ticked_by_its_name(name, part):
    fitted = page(name, "order").partition("Each profile and stop tested")[2]
    assert part.lower() in fitted.lower() and "speech device on its mount" not in fitted.lower()


def test_a_call_is_tried_with_the_speech_that_is_muted_for_driving():
    rule = "in drive too, speech muted; how:"
    assert rule in page(ILMARI, "order")

    def unmuted(case: Case) -> Case:
        configuration = case.configuration.model_copy(update={"speech_muted_by_hand": None})
        return case.model_copy(update={"configuration": configuration})

    assert rule not in page(ILMARI, "order", unmuted) and rule not in page(SAOIRSE, "order")


def test_nobody_drives_without_what_holds_the_head_off_a_pad():
    row = "Neck roll off" + "drive shut off, head at rest: pad with an input"
    assert row + "write it down; nobody drives without it, or with it slipped" in page(ILMARI, "order")
    assert "Neck roll off" not in page(ILMARI, "order", _part("roll", site="head_back"))


def test_a_room_that_is_driven_in_tells_its_free_length_or_that_nobody_measured_it():
    words = page(ILMARI, "order")
    assert "bedroom: 1500 mm (59 in) to turn, ahead not measured" in words
    assert words.count("ahead not measured") == 1


@of_each(
    ("name", "line", "sizes"),
    [
        (
            ILMARI,
            "2",
            ["rear pad: 110 x 60 (left to right, and height), 15 thick", "knee switch: 50 across", "headrest: see"],
        ),
        (MARISOL, "2", ["cheek switch: 45 across"]),
        (MARISOL, "3", ["mouthpiece: 6 across"]),
        (
            SAOIRSE,
            "2",
            ["foot joystick: 38 across, 42 high", "round button: 40 across, 12 thick", "see Standard parts"],
        ),
    ],
)
def test_a_row_has_the_sizes_of_the_parts_that_its_line_brings(name, line, sizes):
    [cell] = [row["Size, mm"] for row in _rows(name) if row["Line"] == line]
    assert [size for size in sizes if size not in cell] == []
    others = {row["Size, mm"] for row in _rows(name) if row["Code"] in ("E2377", "E2313")}
    assert others == {"not applicable"}


@of_each(
    ("name", "told"),
    [
        (ILMARI, "For the lessons at school the supplier takes it there and back, empty."),
        (MARISOL, "For lessons the supplier takes it to the clinic and back. Measure first: her bedroom, the opening"),
        (
            SAOIRSE,
            "The supplier takes the empty chair to the clinic and back for the lessons there. Measure first: her "
            "bedroom",
        ),
    ],
)
def test_a_row_tells_the_whole_of_where_and_how_the_chair_is_delivered(name, told):
    [cell] = {row["Deliver to"] for row in _rows(name)}
    assert told in cell
    hour = re.search(r"Day and hour: by [^.]+", page(name, "order"))
    assert hour and hour.group()[:40] in cell


@of_each(("name", "asked"), [(ILMARI, 0), (MARISOL, 1), (SAOIRSE, 0)])
def test_a_decision_that_is_awaited_has_somebody_who_gives_its_number(name, asked):
    [asks] = {row["To ask"] for row in _rows(name)}
    assert asks.count("decision and prior authorization number: Lisbrane Mutual Health Plan 555-0164") == asked
    assert page(name, "order").count("it and its number: the payer") == asked


def test_a_change_that_was_driven_before_its_stops_were_tried_is_found():
    case = ASSESSED[SAOIRSE].file.case
    assert str(as_fitted(case)["untested_on"]) == "2026-07-31"

    def unfitted(case: Case) -> Case:
        return case.model_copy(update={"fitted": ()})

    assert as_fitted(unfitted(case))["untested_on"] is None
    assert as_fitted(ASSESSED[ILMARI].file.case)["untested_on"] is None
