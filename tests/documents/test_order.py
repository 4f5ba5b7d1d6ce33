"""The attachment to the order: whole for a supplier, and no part of a physician's order."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from msgspec.structs import replace
from support import ASSESSED, DEMO_FOLDERS

from docgen.codes import hcpcs
from docgen.criteria.run import verdicts
from docgen.documents.lines import order_lines
from docgen.documents.mounting import mounting
from docgen.figures.placing import placed
from docgen.packet.assess import asked_on
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

MARISOL = next(f for f in DEMO_FOLDERS if f.name == "marisol-quenneville-tran")


def _tables(tree) -> list[list[list[str]]]:
    return [
        [[cell.plain() for cell in row.children] for row in node.children]
        for node in tree.walk()
        if node.kind == "table"
    ]


def _lines(assessed) -> list[list[str]]:
    """The rows of the table of lines: code, quantity."""
    tables = _tables(trees(assessed, ["order"])["order"])
    entered = next(table for table in tables if table[0][:2] == ["Line", "Code"])
    return [[row[1], row[3]] for row in entered[1:]]


def _asked(assessed):
    """A case, its verdicts and the words, as lines of an order are laid out."""
    return assessed.file.case, assessed.verdicts, language_words()


def _without_item(assessed, code):
    """The same case with one line of the order gone, asked anew."""
    configuration = assessed.file.case.configuration
    items = tuple(item for item in configuration.items if item.code != code)
    case = assessed.file.case.model_copy(update={"configuration": configuration.model_copy(update={"items": items})})
    grounds = replace(assessed.grounds, case=case)
    return replace(
        assessed,
        file=replace(assessed.file, case=case),
        grounds=grounds,
        verdicts=verdicts(grounds, assessed.payer, asked_on(case, assessed.payer)),
    )


def _mounting(tree) -> dict[str, list[list[str]]]:
    """The tables of the mounting record by the words of their second head."""
    return {table[0][1]: table[1:] for table in _tables(tree) if table[0][0] == "Part"}


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_gaps_that_differ_are_told_apart_and_so_are_places(source):
    """Gaps stand in mm alone, places with inches to the nearest 16th beside them: an inch is 25.4 mm."""
    tables = _mounting(trees(ASSESSED[source.name], ["order"])["order"])
    rows = [row for row in tables.get("Height, mm (in)", []) if not row[0].startswith("as fitted")]
    assert not [row for row in rows if "(" in row[5]]  # the gap
    places = " ".join(cell for row in rows for cell in row[1:4])
    shown = re.findall(r"([\d.]+)\s\(([\d\s/]+)\)", places)
    assert len(shown) >= len(rows)
    for millimeters, inches in shown:
        size = sum(map(Fraction, inches.split()))
        assert abs(size * Fraction("25.4") - Fraction(millimeters)) <= Fraction("25.4") / 32
        assert (size * 16).denominator == 1


HEAD = ("head_back", "head_left", "head_right")


def test_the_sizes_of_a_pad_run_as_the_drawing_has_them():
    case = ASSESSED["ilmari-okonjo-vale"].file.case
    rows = {row["part"]: row for row in mounting(case)}
    extents = {
        part.mount.part: {"along": part.long, "across": part.wide, "level": part.long}
        for part in placed("head", None, list(enumerate(m for m in case.configuration.mounting if m.site in HEAD)))
    }
    for name, runs in (("left side pad", "along"), ("rear pad", "across")):
        assert rows[name]["runs"] == runs
        assert float(rows[name]["size_mm"].split(" x ")[0]) == extents[name][runs]
    assert (rows["neck roll"]["runs"], rows["knee switch"]["runs"]) == ("across", "")


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_every_means_that_the_case_names_stands_in_the_stopping_means(source):
    """What stops the chair, takes its power away or moves the seat: the page tells each in its words."""
    assessed = ASSESSED[source.name]
    stop, page = assessed.file.case.configuration.stop, trees(assessed, ["order"])["order"].plain()
    told = page[page.index("Stopping Means") :]
    named = (
        stop.drive_off,
        stop.other_way,
        stop.power_off,
        stop.helper_switch,
        stop.freewheel,
    )
    assert all(words.rstrip(". ") in told for words in named if words)


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_a_line_answers_a_term_of_the_payer_and_is_answered_or_open_never_both(source):
    tree = trees(ASSESSED[source.name], ["order"])["order"]
    tables = {tuple(table[0]): table[1:] for table in _tables(tree)}
    claims = [row["answers"] for row in order_lines(*_asked(ASSESSED[source.name]))]
    assert not [claim for claim in claims if claim.startswith(("Each part", "The parts", "No line", "The connection"))]
    answered = [row for head, rows in tables.items() if head[:2] == ("Line", "Answer") for row in rows]
    assert not [row for row in answered if "no answer" in " ".join(row) or "none yet" in row[2]]
    open_ = re.search(r"No answer yet about: line ([\d, ]+)", tree.plain())
    assert not open_ or not set(open_[1].split(", ")) & {row[0] for row in answered}


def test_every_part_in_the_code_list_has_words():
    parts = {part for code in hcpcs.codes().values() for part in code.includes}
    assert parts and parts <= set(language_words()["parts"])


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_it_says_first_that_it_is_no_order_and_has_nothing_to_sign(source):
    tree = trees(ASSESSED[source.name], ["order"])["order"]
    assert tree.children[1].kind == "callout" and tree.children[1].plain().startswith(
        "This is not a physician's order."
    )
    assert not [node for node in tree.walk() if node.kind == "signature"]


def test_each_line_has_its_code_quantity_and_the_claims_it_answers_and_the_letter_tells_its_reason():
    rows = _lines(ASSESSED[MARISOL.name])
    letter = trees(ASSESSED[MARISOL.name], ["letter"])["letter"].plain()
    asked = ASSESSED[MARISOL.name].file.case.configuration
    items, chair = asked.items, asked.chair
    assert [row[0] for row in rows] == [chair.base_code, *(item.code for item in items)]
    assert rows[0][1] == "1 each" and chair.why in letter
    for row, item in zip(rows[1:], items, strict=True):
        assert row[1] == f"{item.quantity} each" and item.why in letter
    assert all(row["answers"] for row in order_lines(*_asked(ASSESSED[MARISOL.name])))


def test_a_control_for_the_chair_that_the_client_has_orders_no_base():
    source = next(folder for folder in DEMO_FOLDERS if folder.name == "ilmari-okonjo-vale")
    made = ASSESSED[source.name]
    case = made.file.case.model_copy(
        update={"request": made.file.case.request.model_copy(update={"kind": "control_only"})}
    )
    here = replace(made, file=replace(made.file, case=case))
    rows = _lines(here)
    assert [row[0] for row in rows] == [item.code for item in case.configuration.items]


def test_a_line_that_lacks_its_partner_says_so_and_claims_nothing_it_does_not_meet():
    whole, lacking = ASSESSED[MARISOL.name], _without_item(ASSESSED[MARISOL.name], "E2313")
    # article A52504: E2325 works with the expandable controller E2377 and its harness E2313
    before, after = (trees(one, ["order"])["order"].plain() for one in (whole, lacking))
    assert "not on this order" not in before and "not on this order: E2313" in after
    for one in (whole, lacking):
        met = {v.criterion.line_claim for v in one.verdicts if v.answer.status == "met"}
        assert {row["answers"] for row in order_lines(*_asked(one)) if row["answers"]} <= met
    assert "To settle." in after


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
def test_no_cell_of_the_mounting_record_is_blank(source):
    heads = {"Gap at rest", "Bracket and rail"}
    tables = [table for table in _tables(trees(ASSESSED[source.name], ["order"])["order"]) if heads & set(table[0])]
    assert len(tables) == 2
    [gaps] = [table for table in tables if "Gap at rest" in table[0]]
    [mounted] = [table for table in tables if table is not gaps]
    measured, to_fill_in = gaps[1::2], gaps[2::2]  # each measure has its own cell to be written in, below it
    assert gaps[0][-1] == "Tested"
    assert len(measured) == len(to_fill_in) and [row[0] for row in to_fill_in] == [
        f"as fitted, {number}" for number in range(1, len(measured) + 1)
    ]
    assert {cell for row in to_fill_in for cell in row[1:]} == {""}
    assert not [row for row in measured if "" in row[:-1]] and not [row for row in mounted if "" in row]
    mounts = ASSESSED[source.name].file.case.configuration.mounting
    without_input = [any(lacks.of == "wired_to" for lacks in mount.not_applicable) for mount in mounts]
    assert [row[-1] for row in measured] == ["not applicable" if lacks else "" for lacks in without_input]
    parts = [f"{number} {mount.part}" for number, mount in enumerate(mounts, 1)]  # the numbers of the drawing
    assert [row[0] for row in measured] == parts == [row[0].partition(" (")[0] for row in mounted[1:]]


def test_a_part_that_lacks_a_measure_shows_the_gap_and_not_a_day():
    made = ASSESSED[MARISOL.name]
    configuration = made.file.case.configuration
    mounts = tuple(mount.model_copy(update={"depth_mm": None}) for mount in configuration.mounting)
    case = made.file.case.model_copy(update={"configuration": configuration.model_copy(update={"mounting": mounts})})
    [table] = [
        table
        for table in _tables(trees(replace(made, file=replace(made.file, case=case)), ["order"])["order"])
        if "Gap at rest" in table[0]
    ]
    assert {(row[2], row[6]) for row in table[1::2]} == {("not recorded: depth", "not all of it")}


@pytest.mark.parametrize("recorded", [True, False])
def test_a_seat_that_the_drive_control_moves_has_its_commands_or_a_gap(recorded):
    made = ASSESSED[MARISOL.name]
    sitting = made.file.case.sitting
    case = made.file.case.model_copy(
        update={} if recorded else {"sitting": sitting.model_copy(update={"commands": ()})}
    )
    text = trees(replace(made, file=replace(made.file, case=case)), ["order"])["order"].plain()
    assert sitting.commands
    # given once, with the same sound: the command of the drive control, which stands above already
    drives = {command.hear for command in case.configuration.commands if command.hear}
    own = [c for c in sitting.commands if not (c.kept == "once" and c.hear in drives)]
    assert len(own) == len(sitting.commands) - 3  # driving off, the seat chosen, driving on
    assert all((f"Seat: {command.moves}" in text) is recorded for command in own)
    assert ("not recorded: what the driver does for each move of the seat" in text) is not recorded
