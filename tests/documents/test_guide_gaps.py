"""Gaps at the control: in everyday things and coins, with their range, as fitted, with what is worn."""

from __future__ import annotations

import re

import pytest
from guide_sheets import MOUNT, chair, guide, text_of
from hypothesis import given
from hypothesis import strategies as st
from made import assessed
from support import ASSESSED, DEMO_FOLDERS

from docgen.coins import AA_WIDTH_MM, COIN_WIDTH_MM, fits, like, too_big
from docgen.evidence.gather import evidence
from docgen.figures.draw import drawings
from docgen.figures.gap_gauge import gap_words
from docgen.packet.wording import language_words, wording


def test_the_picture_of_true_sizes_gives_each_gap_with_its_range():
    mount = {"id": "pad", "part": "rear pad", "site": "head_back", "gap_mm": 12, "gap_from_mm": 8, "gap_to_mm": 16}
    case = chair(mounting=(mount,)).file.case
    assert "8 to 16" in drawings(case, evidence(case), language_words()["figures"], ["gap_gauge"])["gap_gauge"].alt


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
        ("3 nickels, stacked", "AA battery, its width"),
        ("1 penny, flat", "2 nickels, stacked"),
    ]
    assert filters["fitting"](20.0, 15.0) == "1 dime, on edge"  # flat, it would pass a gap of 2 mm
    assert filters["fitting"](3.0, 2.0) == "2 dimes, stacked"  # 2.70 mm: the set value lets it in
    assert filters["fitting"](9.4, 9.3) == "by ruler"


@pytest.mark.parametrize(
    ("gap", "low", "high", "fit", "over"),
    [
        (10.0, 5.0, 15.0, "ruler: 1/4 in", "1/2 in"),  # 6.35 and 12.70 mm: an inch is 25.4 mm by definition
        (20.0, 15.0, 26.0, "ruler: 3/4 in", "1 in"),
        (30.0, 26.0, 33.0, "ruler, no coin", "1 1/4 in"),  # no quarter of an inch lies between 26 and 30 mm
        (20.0, 15.0, 25.0, "ruler: 3/4 in", "-"),
    ],
)
def test_at_the_lips_a_gap_is_told_in_quarters_of_an_inch_to_the_safe_side(gap, low, high, fit, over):
    filters = wording().environment.filters
    assert (filters["fitting"](gap, low, True), filters["over"](gap, high, True)) == (fit, over)


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_at_the_bars_of_true_size_the_millimetres_are_the_aim_and_the_thing_goes_in_loosely(folder, lang):
    """The bracket is the gap to aim at, the thing is smaller: six pennies are 9.12 mm and go into a gap of 12 mm.

    Coins: United States Mint, coin specifications, width and thickness in mm; AA: IEC 60086-2, at most 14.5 mm across.
    From memory.
    """
    wide = {"dime": 17.91, "penny": 19.05, "nickel": 21.21, "quarter": 24.26, "AA": 14.5}
    thick = {"dime": 1.35, "penny": 1.52, "nickel": 1.95}
    aim, loose = {"en": ("aim", "goes in loosely"), "es": ("meta", "cabe con holgura")}[lang]
    for mount in (mount for mount in ASSESSED[folder.name].file.case.configuration.mounting if mount.gap_mm):
        text = gap_words(mount, language_words(lang)["figures"])
        aimed, _, thing = text.partition(f"; {loose}: ")
        assert aimed == f"{aim} {mount.gap_mm:g} mm" and "mm" not in thing
        if thing:
            name = next(name for name in wide if name in thing.replace("pennies", "penny"))
            number = int(re.match(r"(\d*)", thing).group() or 1)
            flat = re.search("stacked|flat|apilados|plano", thing)
            assert mount.gap_from_mm <= number * (thick if flat else wide)[name] < mount.gap_mm


@pytest.mark.parametrize("site, coins", [("mouth", False), ("chin", False), ("hand", True)])
def test_no_loose_coin_comes_near_the_lips(site, coins):
    part = MOUNT | {"site": site, "gap_mm": 10.0, "gap_from_mm": 5.0, "gap_to_mm": 15.0}
    text = text_of(chair((), mounting=(part,)))
    assert ("3 nickels, stacked" in text) is coins and ("nickels" in text) is coins
    assert ("ruler: 1/4 in" in text and "1/2 in" in text) is not coins
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
    assert "when checked: the firm-soled shoe. Something else? Take it off." in text
    assert "It must stay? Do not drive: ask the therapist." in text


@pytest.mark.parametrize(
    ("fitted", "told", "not_told"),
    [
        ((), "No gap (space from body to part) is set on this chair yet.", "as fitted"),
        (({"mount": MOUNT["id"], "gap_mm": 14.0, "on": "2026-08-03"},), "14 mm", "12 mm"),
    ],
)
def test_the_gap_as_fitted_stands_in_the_guide_and_else_that_it_is_of_the_trial(fitted, told, not_told):
    parts = {"mounting": (MOUNT | {"gap_mm": 12.0},)}
    text = text_of(assessed(configuration=parts, fitted=fitted))
    assert told in text and not_told not in text
