"""What every drawing of the guide keeps to: panels a phone can show, letters of one size, lines that cross nothing,
sheets that are filled, and the numbers of the record."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest
from gathered import of_each
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, box
from shapely.geometry.base import BaseGeometry
from support import ASSESSED

from docgen.figures import chair, gap_gauge, pad_layout, rider, stop_card, stop_sites
from docgen.figures.draw import figures
from docgen.figures.panels import PAGE, PANEL, broken, composed, listed, panel, text_width
from docgen.packet.wording import language_words
from docgen.rendering.style import BOOKLET, LARGE, REGULAR
from docgen.scene import LETTERS_PT, PANELS_APART_PT, Circle, Line, Poly, Rect, Scene, Shape, Text, groups_of, rows_of

WORDS = {lang: language_words(lang)["figures"] for lang in ("en", "es")}
OF_THE_GUIDE = (
    "driving_map",
    "gap_gauge",
    "marks_meet",
    "pad_layout",
    "ready_card",
    "rest_wake",
    "sit_right_wrong",
    "stop_card",
    "stop_sites",
)
_GRID = 12.0  # points; a square of this size without anything drawn is empty
_LEAST_FILLED = 0.3  # share of such squares that hold something
_PHONE_PT = 320 * 0.75 - 24  # 320 CSS pixels are 240 points, less 16 pixels of margin at each side


def drawn(name: str, case: str, lang: str = "en") -> Scene | None:
    assessed = ASSESSED[case]
    return figures()[name].scene(assessed.file.case, assessed.evidence, WORDS[lang])


@cache
def all_panels() -> list[tuple[str, str, str, Scene]]:
    """Every panel with its drawing, case and language."""
    return [
        (name, case, lang, piece)
        for name in OF_THE_GUIDE
        for case in ASSESSED
        for lang in WORDS
        if (scene := drawn(name, case, lang))
        for piece in scene.panels
    ]


def area(shape: Shape) -> BaseGeometry:
    """What a shape covers; of a line what its pen does."""
    match shape:
        case Line(x1, y1, x2, y2, width):
            return LineString([(x1, y1), (x2, y2)]).buffer(width / 2)
        case Rect(x, y, w, h):
            return box(x, y, x + w, y + h)
        case Circle(x, y, r):
            return Point(x, y).buffer(r)
        case Poly(points):
            return LineString([*points, points[0]] if shape.closed else points).buffer(shape.width / 2)
        case Text(x, y, text, size, bold, anchor):
            w = text_width(text, bold) * size / LETTERS_PT
            left = x - {"start": 0.0, "middle": w / 2, "end": w}[anchor]
            return box(left, y - 0.72 * size, left + w, y)
    raise TypeError(shape)


@of_each("name", OF_THE_GUIDE)
def test_every_drawing_of_the_guide_is_made_of_panels_with_words_of_their_own(name):
    scenes = [scene for case in ASSESSED for lang in WORDS if (scene := drawn(name, case, lang))]
    assert scenes
    for scene in scenes:
        assert scene.panels and all(piece.alt for piece in scene.panels)
        assert scene.alt.startswith(" ".join(piece.alt for piece in scene.panels))


def test_the_letters_of_all_panels_have_one_size_and_that_is_no_smaller_than_the_text_of_large_print():
    sizes = {shape.size for *_, piece in all_panels() for shape in piece.shapes if isinstance(shape, Text)}
    assert sizes == {LETTERS_PT}
    assert LETTERS_PT * LARGE.panel_scale == LARGE.body.size == 18
    # helpers need letters of 12 points at least (RNIB, APH)
    assert min(LETTERS_PT * style.panel_scale for style in (REGULAR, BOOKLET)) >= 12


def test_a_panel_keeps_its_letters_readable_on_the_narrowest_phone():
    """At 320 CSS pixels a letter is drawn no smaller than 9 points, which are 12 CSS pixels."""
    for name, case, lang, piece in all_panels():
        assert LETTERS_PT * min(1.0, _PHONE_PT / piece.w) >= 9 or piece.true_size, (name, case, lang, piece.w)


def test_what_has_a_true_size_holds_no_words_so_that_it_need_not_grow_with_them():
    true = [piece for *_, piece in all_panels() if piece.true_size]
    assert true and not [shape for piece in true for shape in piece.shapes if isinstance(shape, Text)]


def test_no_words_of_a_panel_lie_on_other_words_or_reach_past_its_edge():
    for name, case, lang, piece in all_panels():
        boxes = [(shape.text, area(shape)) for shape in piece.shapes if isinstance(shape, Text)]
        sheet = box(-1, -1, piece.w + 1, piece.h + 1)
        for at, (words, where) in enumerate(boxes):
            assert sheet.covers(where), (name, case, lang, words)
            assert not [other for other, there in boxes[at + 1 :] if where.intersects(there)], (name, case, words)


def test_no_panel_is_half_empty():
    for name, case, lang, piece in all_panels():
        areas = [area(shape) for shape in piece.shapes]
        squares = [
            box(x * _GRID, y * _GRID, (x + 1) * _GRID, (y + 1) * _GRID)
            for x in range(int(piece.w // _GRID))
            for y in range(max(1, int(piece.h // _GRID)))
        ]
        filled = sum(any(square.intersects(shape) for shape in areas) for square in squares)
        assert filled >= _LEAST_FILLED * len(squares), (name, case, lang, filled / len(squares), piece.alt)


SITES = st.lists(st.sampled_from(sorted(chair.ON_CHAIR)), min_size=1, max_size=7, unique=True)


@given(SITES, st.sampled_from(("above", "behind")))
def test_the_line_of_a_letter_crosses_no_other_switch_and_no_letter(sites, view):
    """At any places that a case can name."""
    switches = [(letter, "stop", site) for letter, site in zip("ABCDEFG", sites, strict=False)]
    places = (
        {place: [(x * 0.94, y * 0.94) for x, y in spots] for place, spots in chair.ON_CHAIR.items()}
        if view == "above"
        else {
            place: [(x * 0.12, y * 0.12) for x, y in spots]
            for place, spots in rider.sites_from_behind(rider.Sizes(430, 420, 480, 400, 630)).items()
        }
    )
    shapes = chair.switches(switches, places)
    letters = [shape for shape in shapes if isinstance(shape, Circle) and shape.stroke is not None and shape.r > 9]
    signs = [shape for shape in shapes if isinstance(shape, Circle) and shape.r < 7]
    shown = sum(len(places.get(site, ())) for _, _, site in switches)
    assert len(letters) == len(signs) == shown
    rings = [area(letter) for letter in letters]
    for at, ring in enumerate(rings):
        assert not any(ring.intersects(other) for other in rings[at + 1 :])
        assert not any(ring.intersects(area(sign)) for sign in signs)
    for line in (shape for shape in shapes if isinstance(shape, Line)):
        way = LineString([(line.x1, line.y1), (line.x2, line.y2)])
        assert sum(way.intersects(ring) for ring in rings) == 1
        assert sum(way.intersects(area(sign)) for sign in signs) == 1


@of_each("name", list(ASSESSED))
def test_a_part_has_the_number_that_it_has_in_the_record_in_every_drawing(name):
    mounting = ASSESSED[name].file.case.configuration.mounting
    for module in (pad_layout, gap_gauge):
        scene = drawn(module.__name__.rpartition(".")[2], name)
        told = {}
        for piece in scene.panels:
            words = [shape.text for shape in piece.shapes if isinstance(shape, Text)]
            for number, words_after in pairwise(words):
                if number.isdigit():
                    told.setdefault(number, []).append(words_after)
        for at, mount in enumerate(mounting, 1):
            assert any(mount.part.startswith(words) or mount.part in words for words in told[str(at)]) or any(
                mount.part in piece.alt and piece.alt.partition(str(at))[1] for piece in scene.panels
            )


@of_each("name", list(ASSESSED))
def test_each_switch_of_the_case_is_named_once_and_drawn_where_its_place_is_recorded(name):
    """The steps of the card name A, B and D with their places: its drawing does so only where a place is not known."""
    case = ASSESSED[name].file.case
    there = stop_sites.switches_of(case)
    for module in (stop_card, stop_sites):
        scene = module.scene(case, ASSESSED[name].evidence, WORDS["en"])
        letters = [shape.text for shape in scene.shapes if isinstance(shape, Text) and len(shape.text) == 1]
        for letter, _, _, _, place in there:
            spots = len(chair.ON_CHAIR[place]) if place else 0
            named = 0 if module is stop_card and letter in "ABD" and place else 1
            assert letters.count(letter) == named + spots, letter


@of_each("name", list(ASSESSED))
def test_the_card_names_a_lever_or_switch_of_no_step_as_the_record_does_and_lets_none_be_taken_for_a_stop(name):
    case = ASSESSED[name].file.case
    scene = stop_card.scene(case, ASSESSED[name].evidence, WORDS["en"])
    told = " ".join(shape.text for shape in scene.shapes if isinstance(shape, Text))
    for letter, kind, _, text, _ in stop_sites.switches_of(case):
        if letter in "FG":
            assert text[:1].upper() + text[1:].rstrip(".") in told, letter
        assert kind != "lever" or "Never for stopping" in told


def test_rows_break_where_the_room_ends_and_a_group_begins_a_row_where_it_does_not_fit():
    def piece(w, leads=False, true_size=False):
        return Scene(w, 10, "a", (), leads=leads, true_size=true_size)

    panels = [piece(100), piece(100), piece(60, leads=True), piece(60)]
    rows = rows_of(panels, 230)
    assert [[placed.panel.w for placed in row] for row in rows] == [[100, 100], [60, 60]]
    assert rows[0][1].x == 100 + PANELS_APART_PT
    assert [len(row) for row in rows_of(panels, 500)] == [4]
    enlarged = rows_of([piece(100), piece(100, true_size=True), piece(400)], 230, 1.5)
    assert [[placed.scale for placed in row] for row in enlarged] == [[1.5], [1.0], [230 / 400]]
    assert [len(group) for group in groups_of(panels)] == [2, 2]


def test_the_whole_drawing_stands_as_its_panels_do_on_a_page():
    pieces = [panel([Rect(0, 0, 150, 20)], "One."), panel([Rect(0, 0, 400, 30)], "Two.")]
    whole = composed(pieces)
    assert whole.w == PAGE and whole.alt == "One. Two." and len(whole.shapes) == 2
    assert whole.h == pytest.approx(sum(piece.h for piece in pieces) + PANELS_APART_PT)


@given(st.text(alphabet="ab wi\u00a0", min_size=1, max_size=200), st.booleans())
def test_words_are_broken_and_none_is_lost(text, bold):
    lines = broken(text, 60, bold)
    assert "".join(lines).replace(" ", "").replace("\u00a0", "") == text.replace(" ", "").replace("\u00a0", "")
    assert all(text_width(line, bold) <= 60 for line in lines)


def test_words_beside_a_number_take_as_many_lines_as_they_need():
    short, long = (listed("1", [stop_sites.Told(words)], "One.") for words in ("pad", "pad " * 40))
    assert short.w == long.w == PANEL and short.h < 25 < 60 < long.h
