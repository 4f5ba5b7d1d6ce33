"""A size, a force or a place of a part is one on every page that buys or builds it: the line of the order, the table of
its mount, and the rows for the supplier."""

from __future__ import annotations

import csv
import io
import re
from functools import cache

import pytest
from support import ASSESSED, DEMOS

from docgen.documents.mounting import mounting
from docgen.packet.data_files import LINES
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.rendering.tree import Node

DEMO = pytest.mark.parametrize("name", DEMOS)
# a length of the part itself, and not of where it stands
OF_THE_PART = re.compile(r"(\d+) mm (?:wide|high|tall|thick|across|deep|long)\b")


@cache
def order(name: str) -> Node:
    return trees(ASSESSED[name], ["order"])["order"]


@cache
def rows(name: str) -> dict[str, dict[str, str]]:
    data = render(ASSESSED[name], ["html"], ["order"])[LINES].decode()
    return {row["Line"]: row for row in csv.DictReader(io.StringIO(data, newline=""))}


def table(name: str, first: str, second: str) -> list[list[str]]:
    """The rows of the table whose first two headings are these."""
    for block in order(name).walk():
        if block.kind == "table":
            found = [[cell.plain() for cell in row.children] for row in block.children]
            if (found[0][0], found[0][1]) == (first, second):
                return found[1:]
    return []


@DEMO
def test_a_line_that_has_a_size_tells_all_of_it_and_a_standard_part_none_besides(name):
    case = ASSESSED[name].file.case
    sized = {item.id: item.size_mm for item in case.configuration.items if item.size_mm}
    for part in case.configuration.standard_parts:
        if part.item in sized:
            besides = OF_THE_PART.findall(f"{part.says or ''} {part.mounted or ''} {part.set_at or ''}")
            assert set(besides) <= set(re.findall(r"\d+", sized[part.item])), part


def test_a_headrest_has_its_thickness_on_the_line_and_in_its_row():
    [(number, code, told, *_)] = [row for row in table("marisol-quenneville-tran", "Line", "Code") if row[1] == "E0955"]
    assert code == "E0955" and "250 wide, 140 high, 60 thick (9 3/4 x 5 1/2 x 2 3/8), mm (in)" in told
    assert rows("marisol-quenneville-tran")[number]["Size, mm"] == "250 wide, 140 high, 60 thick"


@DEMO
def test_each_size_of_a_line_and_of_a_mounted_part_stands_on_the_page_and_in_its_row(name):
    case = ASSESSED[name].file.case
    told = {row[1]: row for row in table(name, "Line", "Code")}
    for item in case.configuration.items:
        if item.size_mm:
            number, _, described, *_ = told[item.code]
            assert rows(name)[number]["Size, mm"] == item.size_mm
            assert set(re.findall(r"\d+", item.size_mm)) <= set(re.findall(r"\d+", described))
    mounts = [mount for mount in mounting(case) if mount["size_mm"]]
    built = table(name, "Part, place", "Size, mm (in)")
    assert len(built) >= len(mounts)
    for mount in mounts:
        sizes = [*re.findall(r"[\d.]+", mount["size_mm"]), *([f"{mount['thick_mm']:g}"] if mount["thick_mm"] else [])]
        [cell] = [row[1] for row in built if re.match(rf"\d+ {re.escape(mount['part'])} ", row[0])]
        assert set(sizes) <= set(re.findall(r"[\d.]+", cell)), mount["part"]
        if mount["line"]:
            bought = rows(name)[str(mount["line"])]["Size, mm"]
            [part] = [one for one in bought.split("; ") if one.startswith(f"{mount['part']}: ")]
            assert set(sizes) <= set(re.findall(r"[\d.]+", part)), part


@DEMO
def test_force_and_travel_of_a_switch_are_one_on_its_line_below_the_table_and_in_its_row(name):
    case, page = ASSESSED[name].file.case, order(name).plain()
    for mount, row in zip(case.configuration.mounting, mounting(case), strict=True):
        if mount.force_g and row["line"]:
            tried = re.compile(
                rf"{re.escape(mount.part)}(?: as tried:| with) {mount.force_g:g}\sg \([\d.]+\soz\) after ([\d.]+)"
            )
            assert set(tried.findall(page)) == {f"{mount.travel_mm:g}"} and len(tried.findall(page)) == 2
            assert tried.findall(rows(name)[str(row["line"])]["What the line must do"]) == [f"{mount.travel_mm:g}"]
