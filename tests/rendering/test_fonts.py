"""The faces: what they hold, that the table beside them says so, and what a missing character does."""

from __future__ import annotations

import subprocess
import sys
import unicodedata

import pytest
from gathered import of_each
from reportlab.pdfbase.pdfmetrics import getFont, stringWidth

from docgen.rendering import fonts
from docgen.rendering.fonts import (
    FACES,
    FOLDER,
    coverage,
    missing_glyphs,
    printable,
    printed,
)


@pytest.fixture(autouse=True, scope="module")
def registered():
    fonts.register()


@pytest.mark.parametrize("name", FACES.values())
def test_the_table_of_characters_equals_what_each_face_holds(name):
    held = {chr(code) for code in getFont(name).face.charToGlyph}
    assert held - {"\uffff"} == coverage()  # U+FFFF only ends the map's last segment


def test_the_table_is_in_order_and_as_short_as_can_be():
    ranges = [tuple(int(end, 16) for end in line.split("-")) for line in (FOLDER / "coverage.txt").read_text().split()]
    assert all(first <= last for first, last in ranges)
    assert all(last + 1 < first for (_, last), (first, _) in zip(ranges, ranges[1:], strict=False))


@of_each(
    "text",
    [
        "".join(map(chr, range(0x20, 0x7F))),
        "Zoë Müller, Łódź, Çağla, Kateřina, Ngũgĩ",
        "Nguyễn Thị Hương, Trần Văn Đức",
        "Ελλάδα, Άγγελος",
        "Привет, Їжак, Ђорђе",
        "“quotes” ‘and’ – — … •",
        "≤ ≥ ± × ÷ ° µ ½ ⅓ → ← ↑ ↓ ≈ ≠ − √ Σ",
        "€ £ ¥ ₽ ₹ ™ © № § †",
        "5\u00a0mm, 1\u202f000, 12\u2007345, non\u2011breaking",
        "cafe\u0301",
        "a\u00adb\u200bc\ufeff",
        "tab\tand\nnew line",
    ],
)
def test_ordinary_text_lacks_nothing(text):
    assert missing_glyphs(text) == ()


@of_each(
    "text, missing",
    [
        ("a\u263ab", ("\u263a",)),
        ("\u65e5\u672c\u65e5", ("\u65e5", "\u672c")),
        ("\u05e9\u05dc", ("\u05e9", "\u05dc")),
        ("\U0001f600", ("\U0001f600",)),
        ("a\x07", ("\x07",)),
        ("a\u202eb", ("\u202e",)),
        ("\ufffd", ("\ufffd",)),
        ("\u2610 \u2611", ("\u2610", "\u2611")),
        ("\ud800", ("\ud800",)),
    ],
)
def test_characters_the_faces_lack_are_named_once_in_order(text, missing):
    assert missing_glyphs(text) == missing


@pytest.mark.parametrize(
    "text, shown",
    [
        ("Anna \u65e5\u672c, Ota", "Anna [U+65E5 U+672C], Ota"),
        ("\U0001f600", "[U+1F600]"),
        ("a\u263ab\u263a", "a[U+263A]b[U+263A]"),
        ("\x07", "[U+0007]"),
        ("ok\ufe0f \u200d\u200e", "ok "),
    ],
)
def test_a_character_the_faces_lack_stands_as_its_code_point_and_never_as_a_box(text, shown):
    assert printable(text) == shown and missing_glyphs(shown) == ()


@of_each(
    "text, shown",
    [
        ("cafe\u0301", "caf\u00e9"),
        ("a  b\t\nc", "a b c"),
        ("5\u00a0mm", "5\u00a0mm"),
        ("1\u202f000", "1\u202f000"),
        ("hy\u00adphen\u200b", "hyphen"),
        ("thin\u2009space", "thin space"),
        ("e\u00ad\u0301", "\u00e9"),
        (" a ", " a "),
    ],
)
def test_text_is_printed_in_composed_form_with_single_spaces_and_nothing_invisible(text, shown):
    assert printed(text) == shown
    assert printed(shown) == shown


# Advance widths in 1/1000 em. Source: Adobe's metrics of the Helvetica faces, as shipped with reportlab.
@pytest.mark.parametrize(
    "face, standard",
    [
        ("Arimo-Regular", "Helvetica"),
        ("Arimo-Bold", "Helvetica-Bold"),
        ("Arimo-Italic", "Helvetica-Oblique"),
        ("Arimo-BoldItalic", "Helvetica-BoldOblique"),
    ],
)
def test_every_ascii_character_is_as_wide_as_in_helvetica(face, standard):
    for char in map(chr, range(0x20, 0x7F)):
        assert stringWidth(char, face, 1000) == pytest.approx(stringWidth(char, standard, 1000), abs=1), char


def test_the_faces_have_names_of_their_own():
    names = [getFont(name).face.name for name in FACES.values()]
    assert names == [b"Arimo-Regular", b"Arimo-Bold", b"Arimo-Italic", b"Arimo-BoldItalic"]


def test_no_face_holds_a_control_character():
    kinds = {unicodedata.category(char) for char in coverage()}
    assert not kinds & {"Cc", "Cf", "Cs", "Co", "Cn"}


def test_asking_what_is_missing_loads_no_library():
    script = (
        "import sys; from docgen.rendering.fonts import missing_glyphs; print(missing_glyphs('a\\u263a'), "
        "[name for name in sys.modules if name.startswith('reportlab')])"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONIOENCODING": "utf-8"},
        cwd=FOLDER.parents[2],
    )
    assert done.stdout == "('\u263a',) []\n"


def test_the_licence_stands_beside_the_faces():
    licence = (FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "The Arimo Project Authors" in licence
