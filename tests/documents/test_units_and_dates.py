"""What the pages of every demo case print of units and days: which unit first, fractions and no decimal inches, days as
the locale data of the United States has them."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from babel import Locale
from babel.dates import format_date
from hypothesis import given
from hypothesis import strategies as st
from made import table
from msgspec.structs import replace
from support import ASSESSED, DEMO_FOLDERS, assess

import docgen
from docgen import units
from docgen.criteria.payer import payers
from docgen.documents import measures
from docgen.figures.gap_gauge import gap_words
from docgen.packet.languages import in_language
from docgen.packet.render import page_words
from docgen.packet.trees import trees
from docgen.packet.wording import in_locale, language_words, wording

US = Locale("en", "US")
WORDS = language_words()
MONTHS = "|".join(WORDS["months"])
DAY_FIRST = re.compile(rf"\b\d{{1,2}} (?:{MONTHS})\b")
DECIMAL_INCH = re.compile(r"\d[.,]\d+ ?(?:in\b(?! [a-z\d])|inch|pulg)|\d[.,]\d+\"")
EVERY = pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda f: f.name)
PAYERS = ("letter", "cover", "appeal", "progress")


@cache
def _pages(source):
    """Document -> all that its page says, drawings included."""
    assessed = assess(source)
    return {name: page_words(assessed, {name: tree}, wording()) for name, tree in trees(assessed).items()}


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_a_day_is_written_as_the_locale_data_of_the_united_states_has_it(on):
    filters = wording().environment.filters
    assert filters["day"](on) == wording().labels.day(on) == format_date(on, "long", locale=US)
    assert filters["day_of_year"](on) == format_date(on, "MMMM d", locale=US)


def test_days_of_a_month_are_named_once():
    days = wording().environment.filters["days"]
    assert days([date(2026, 3, 17), date(2026, 3, 3), date(2026, 2, 26)]) == "February 26 and March 3 and 17, 2026"


@EVERY
def test_no_page_names_the_day_before_the_month(source):
    for name, text in _pages(source).items():
        assert not DAY_FIRST.search(text), name
    assert re.search(rf"\b(?:{MONTHS}) \d{{1,2}}, \d{{4}}", _pages(source)["letter"])


@EVERY
def test_no_page_names_a_decimal_of_an_inch(source):
    for name, text in _pages(source).items():
        assert not DECIMAL_INCH.search(text), (name, DECIMAL_INCH.search(text))
    spanish = in_language(assess(source), "es")
    told = page_words(spanish.assessed, spanish.trees, wording("es"))
    assert " mm" in told.replace("\u00a0", " ") and not DECIMAL_INCH.search(told)


def test_a_decimal_of_an_inch_would_be_seen():
    assert (
        DECIMAL_INCH.search("gap 12 mm (0.5 in)")
        and DECIMAL_INCH.search("0.5 inch")
        and DECIMAL_INCH.search("0,4 pulg.")
    )
    assert not DECIMAL_INCH.search("0.5 in the trial") and not DECIMAL_INCH.search("12 mm (1/2 in)")


@EVERY
def test_who_pays_reads_inches_pounds_and_mph_first_and_who_builds_millimetres(source):
    pages, case = _pages(source), assess(source).file.case
    chair, letter, order = case.configuration.chair, pages["letter"], pages["order"]
    width, turning = (measures.inches(size, "up", words=WORDS) for size in (chair.width_mm, chair.turning_mm))
    of_which = "missing: which chair its sizes and its braking were measured on"
    measured = f"T{chair.figures_from[1:]}" if chair.figures_from else f"The chair ({of_which})"
    assert f"{measured} is {width} wide" in letter and f"turns in {turning}" in letter
    if case.client.weight_kg:
        assert measures.pounds(case.client.weight_kg, words=WORDS) in letter
    # where a profile slower than the trial holds, its speed is told once, before the places where it holds
    length, speed = r"\d+(?: \d/\d)? in \(\d+ mm\)", r"\d+\.\d+ mph \(\d[\d.]* m/s\)"
    slower = re.search(rf"limits it to {speed} at .*the chair stops in {length}\.", letter, re.DOTALL)
    assert slower or re.search(rf"stops in {length} at {speed}", letter)
    assert not re.search(r"\d mm \([^)]*\bin\)|\d m/s \([^)]*mph\)|\d kg \([^)]*lb\)", letter)
    assert f"The chair: {measures.mm(chair.width_mm, 'up', words=WORDS)} wide" in order
    rows = table(
        trees(ASSESSED[source.name], ["order"])["order"],
        "Position of the center of each part and its gap, and as fitted, to be filled in at the fitting",
    )[1::2]  # below each stands the row to be filled in
    # gaps as measured: who builds needs no inches
    for number, (mount, row) in enumerate(zip(case.configuration.mounting, rows, strict=True), 1):
        gap = f"{mount.gap_mm:g}\N{NO-BREAK SPACE}mm;"
        assert row[0] == f"{number} {mount.part}" and (mount.gap_mm is None or row[5].startswith(gap))
    for profile in case.configuration.profiles:
        assert measures.m_s(profile.speed_m_s, words=WORDS) in order


@EVERY
def test_a_stop_and_its_room_read_alike_on_cover_and_letter(source):
    """The cover tells the place with the least room; both measures stand so in the letter."""
    pages = _pages(source)
    told = re.search(r"the chair stops in ([\d /]+ in \(\d+ mm\)) and has ([\d /]+ in \(\d+ mm\))", pages["cover"])
    assert told or source.name not in ("ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng")
    for size in told.groups() if told else ():
        assert size in pages["letter"]


def test_a_letter_before_delivery_says_that_no_day_of_it_is_set():
    pages = {name: _pages(next(f for f in DEMO_FOLDERS if f.name.startswith(name))) for name in ("ilmari", "marisol")}
    told = {
        name: re.search(r", if the chair has been delivered and fitted(.*?) by then, ", of["letter"]).group(1)
        for name, of in pages.items()
    }
    assert told == {"ilmari": "", "marisol": " and Lorcan Adeyemi-Holt has answered"}


@EVERY
@pytest.mark.parametrize("name", PAYERS)
def test_a_metre_a_second_or_kilogram_stands_in_brackets_where_a_payer_reads(source, name):
    text = _pages(source).get(name, "")
    assert not re.search(r"(?<![\d.(])\d+(?:\.\d+)? (?:m/s\b(?!²)|kg\b)", text)


@EVERY
def test_whoever_helps_reads_coins_and_whole_millimetres(source):
    """The card has what each gap may have in whole millimetres alone, beside the coins, so that no reader has two
    units to choose from. The booklet draws each gap at true size, in the same coins and mm.
    """
    case, pages = assess(source).file.case, _pages(source)
    card = trees(assess(source), ["card"])["card"]
    checks = next(node for node in card.walk() if node.kind == "table" and node.children[0].plain().startswith("Part"))
    rows = [[" ".join(cell.plain().split()) for cell in row.children] for row in checks.children[1:]]
    assert len(rows) == len(case.configuration.mounting)
    for number, mount in enumerate(case.configuration.mounting, 1):
        if mount.gap_mm is not None:
            part = mount.part[:1].upper() + mount.part[1:]
            exact = "it touches" if mount.gap_mm == 0 else f"{mount.gap_mm:g} mm exactly"
            ranged = mount.gap_from_mm and mount.gap_to_mm
            between = f"{mount.gap_from_mm:g} to {mount.gap_to_mm:g} mm" if ranged else exact
            assert (rows[number - 1][0], rows[number - 1][3]) == (f"{number} {part}", between)
            size = gap_words(mount, language_words()["figures"])
            assert (f"aim {mount.gap_mm:g} mm" if mount.gap_mm else "it touches") in size
            assert ("; goes in loosely: " in size) is bool(
                rows[number - 1][1] and rows[number - 1][1] in size
            )  # the coin is that of the card
            space = f"Number {number}: {mount.part}. Space from the body to the part: {size}"
            assert space in pages["guide"]
    assert language_words()["figures"]["gauge_bar_size"] == "50 mm"


@pytest.mark.parametrize(
    "mm, shown",
    [
        (12, "15/32 in (12 mm)"),
        (25, "31/32 in (25 mm)"),
        (32, "1 1/4 in (32 mm)"),
        (0, "0 mm"),
        (3, "3 mm"),
    ],
)
def test_a_gap_for_whoever_helps(mm, shown):
    assert measures.gap(mm, words=WORDS) == shown


@pytest.mark.parametrize(
    "size, shown",
    [
        ("90 x 60", "90 x 60 (3 1/2 x 2 3/8)"),
        ("45 across", "45 across (1 3/4)"),
        ("6 across, tube 420 long", "6 across, tube 420 long (1/4 x 16 1/2)"),
        ("as drawn", "as drawn"),
    ],
)
def test_a_size_in_words_has_its_inches_beside_it(size, shown):
    assert measures.sizes(size, words=WORDS) == shown


def test_words_and_sentences_write_the_units_alike():
    """The sentences of criteria are written in docgen/units.py, those of pages in words.toml."""

    assert units.length(815, "down") == measures.inches(815, "down", words=WORDS)
    assert units.built(12) == measures.mm(12, words=WORDS)
    assert units.ground(1300, "down") == measures.feet(1300, "down", words=WORDS)
    assert units.weight(61) == measures.pounds(61, words=WORDS)
    assert units.speed(0.4) == measures.mph(0.4, words=WORDS)


@pytest.mark.parametrize("lang, locale", [("en", Locale("en", "001")), ("es", Locale("es", "US"))])
@given(on=st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_outside_the_united_states_a_day_is_written_as_the_locale_data_has_it(lang, locale, on):
    there = in_locale(wording(lang), "en_001")
    assert there.environment.filters["day"](on) == there.labels.day(on) == format_date(on, "long", locale=locale)


def test_a_payer_outside_the_united_states_reads_days_first_and_metric_units_alone():
    """What pages say; the sentences of criteria are English of the United States, with both units."""
    assessed = assess(next(f for f in DEMO_FOLDERS if f.name == "ilmari-okonjo-vale"))
    there = replace(assessed, payer=assessed.payer.model_copy(update={"locale": "en_001"}))
    shown = {name: page_words(there, {name: tree}, wording()) for name, tree in trees(there).items()}
    letter, order, chair = shown["letter"], shown["order"], assessed.file.case.configuration.chair
    assert "17 April 2026 to" in letter and f"The clinic's trial chair is {chair.width_mm:g} mm wide" in letter
    assert f"{assessed.file.case.client.weight_kg:g} kg. " in letter
    assert re.search(r"limits it to \d\.\d+ m/s at .*the chair stops in \d+ mm\.", letter) and "mph" not in order
    assert "12 mm" in shown["guide"] and "inch" not in shown["guide"] and "12 mm (1/2 in)" not in shown["guide"]


def test_every_payer_says_where_its_readers_are():
    assert payers() and all(payer.locale == "en_US" for payer in payers())
    for path in sorted((Path(docgen.__file__).parent / "payers").glob("*.toml")):
        assert tomllib.loads(path.read_text(encoding="utf-8"))["locale"] == "en_US", path.name
