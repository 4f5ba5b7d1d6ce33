"""Drawings as coarse grids of characters, and alternative text that says what the picture says."""

from __future__ import annotations

import pytest
from support import DEMO_FOLDERS

from docgen.case.asked import Command, Mount
from docgen.figures import (
    driving_map,
    gap_gauge,
    marks_meet,
    methods_compared,
    pad_layout,
    ready_check_stop,
    rest_wake,
    stop_sites,
)
from docgen.figures.scene import Circle, Line, Poly, Rect, Scene, Text
from docgen.figures.strokes import ON_CHAIR
from docgen.packet import assess, language_words

WORDS = language_words()["figures"]
ASSESSED = {folder.name: assess(folder) for folder in DEMO_FOLDERS}


def grid(scene: Scene, step: float = 12.0) -> str:
    """The scene in characters: - and | for lines, # for dark and + for light rectangles, o and O for open and filled circles."""
    columns, rows = int(scene.w / step) + 1, int(scene.h / step) + 1
    cells = [[" "] * columns for _ in range(rows)]

    def put(x: float, y: float, mark: str) -> None:
        if 0 <= int(y / step) < rows and 0 <= int(x / step) < columns:
            cells[int(y / step)][int(x / step)] = mark

    for shape in scene.shapes:
        match shape:
            case Line(x1, y1, x2, y2):
                n = max(1, int(max(abs(x2 - x1), abs(y2 - y1)) / step * 2))
                for i in range(n + 1):
                    put(x1 + (x2 - x1) * i / n, y1 + (y2 - y1) * i / n, "-" if abs(x2 - x1) >= abs(y2 - y1) else "|")
            case Rect(x, y, w, h, fill):
                put(x + w / 2, y + h / 2, "#" if fill is not None and fill < 0.7 else "+")
            case Circle(x, y, _, fill):
                put(x, y, "O" if fill == 0.0 else "o")
    return "\n".join("".join(row).rstrip() for row in cells)


def texts(scene: Scene) -> list[str]:
    return [shape.text for shape in scene.shapes if isinstance(shape, Text)]


def scene_of(module, name):
    assessed = ASSESSED[name]
    return module.scene(assessed.file.case, assessed.evidence, WORDS)


def test_methods_are_drawn_as_dots_on_their_intervals():
    # the scale runs from column 14 (0%) to column 33 (100%); the rows hold 25%, 84% and 33% with their intervals
    assert grid(scene_of(methods_compared, "ilmari-okonjo-vale")).split("\n")[:7] == [
        "              |   |    |    |    |",
        "              | |-o----|    |    |",
        "              |   |    |    |    |",
        "              |   |    |   |--O-||",
        "              |   |    |    |    |",
        "              ||----o------||    |",
        "              --------------------",
    ]


def test_the_picture_of_methods_says_its_numbers_in_words():
    scene = scene_of(methods_compared, "ilmari-okonjo-vale")
    # 4 of 16, 32 of 38 and 2 of 6 with their 95% score intervals (Wilson 1927)
    assert "standard joystick by hand: 4 of 16 done, 10% to 49%." in scene.alt
    assert "proximity head pads: 32 of 38 done, 70% to 93%." in scene.alt
    assert {"4/16", "32/38", "2/6"} <= set(texts(scene))


@pytest.mark.parametrize("name", ["ilmari-okonjo-vale", "anselm-kirawira-boone"])
def test_pads_are_drawn_to_scale_with_the_gaps_of_the_case(name):
    scene = scene_of(pad_layout, name)
    case = ASSESSED[name].file.case
    pads = [m for m in case.configuration.mounting if m.site.startswith("head_")]
    for pad in pads:
        words = f"{pad.gap_mm:g} mm ({pad.gap_mm / 25.4:.1f} in)"
        assert words in texts(scene) and words in scene.alt
    heads = [shape for shape in scene.shapes if isinstance(shape, Poly) and len(shape.points) == 48]
    right = max(x for x, _ in heads[0].points)
    side = next(s for s in scene.shapes if isinstance(s, Rect) and s.x > right)
    gap = next(m.gap_mm for m in pads if m.site == "head_right")
    assert (side.x - right) / gap == pytest.approx(pad_layout._SCALE, rel=1e-3)


def test_left_on_the_page_is_the_clients_left():
    scene = scene_of(pad_layout, "ilmari-okonjo-vale")
    labels = {shape.text: shape.x for shape in scene.shapes if isinstance(shape, Text)}
    assert labels["left side pad"] < labels["head"] < labels["right side pad"]


ALL = (methods_compared, pad_layout, ready_check_stop, stop_sites, driving_map, rest_wake, gap_gauge, marks_meet)
EVERY = pytest.mark.parametrize("module", ALL, ids=lambda m: m.__name__.rpartition(".")[2])


def changed(name, **configuration):
    """A demo case with these keys of its configuration changed, and its evidence."""
    file = ASSESSED[name].file
    return file.case.model_copy(update={"configuration": file.case.configuration.model_copy(update=configuration)}), ASSESSED[name].evidence


def with_gap(name, part, gap_mm):
    mounting = ASSESSED[name].file.case.configuration.mounting
    return changed(name, mounting=tuple(m.model_copy(update={"gap_mm": gap_mm}) if m.id == part else m for m in mounting))


@EVERY
@pytest.mark.parametrize("name", list(ASSESSED))
def test_a_drawing_stays_on_its_sheet_and_reads_in_black_and_white(module, name):
    from reportlab.pdfbase.pdfmetrics import stringWidth

    scene = scene_of(module, name)
    if scene is None:
        return
    for shape in scene.shapes:
        match shape:
            case Text(x, y, text, size, bold, anchor):
                width = stringWidth(text, "Helvetica-Bold" if bold else "Helvetica", size)
                left = x - {"start": 0, "middle": width / 2, "end": width}[anchor]
                assert left >= -0.5 and left + width <= scene.w + 0.5, text
                assert size <= y <= scene.h and shape.shade <= 0.4
            case Line(x1, y1, x2, y2):
                assert all(-0.5 <= v <= scene.w + 0.5 for v in (x1, x2)) and all(-0.5 <= v <= scene.h + 0.5 for v in (y1, y2))


PROSE = "the white button that stands well above the left knee and is pressed by moving it slowly out and up again " * 4


@pytest.mark.parametrize("module", ALL[1:], ids=lambda m: m.__name__.rpartition(".")[2])
def test_long_words_of_a_case_are_cut_and_stay_on_the_sheet(module):
    from reportlab.pdfbase.pdfmetrics import stringWidth

    asked = ASSESSED["saoirse-villalobos-ng"].file.case.configuration
    stop = asked.stop.model_copy(update={"stop_switch": PROSE, "power_off": PROSE, "freewheel": PROSE})
    long = changed("saoirse-villalobos-ng", stop=stop, mounting=tuple(m.model_copy(update={"part": PROSE, "gap_mm": 60}) for m in asked.mounting),
                   commands=tuple(c.model_copy(update={"input": PROSE, "hear": PROSE}) for c in asked.commands))
    scene = module.scene(*long, WORDS)
    for text in (shape for shape in scene.shapes if isinstance(shape, Text)):
        width = stringWidth(text.text, "Helvetica-Bold" if text.bold else "Helvetica", text.size)
        left = text.x - {"start": 0, "middle": width / 2, "end": width}[text.anchor]
        assert left >= -1 and left + width <= scene.w + 1 and 0 < text.y <= scene.h, text


@EVERY
@pytest.mark.parametrize("name", list(ASSESSED))
def test_every_drawing_tells_in_words_what_it_shows(module, name):
    scene = scene_of(module, name)
    if scene is None:
        return
    assert len(scene.alt.split()) >= 8 and "None" not in scene.alt and scene.alt.endswith(".")
    shown = [text for text in texts(scene) if text.endswith("in)")]
    assert all(text in scene.alt or text == gap_gauge.gap_words(50, WORDS) for text in shown)


@pytest.mark.parametrize("module", [pad_layout, gap_gauge, ready_check_stop], ids=lambda m: m.__name__.rpartition(".")[2])
@pytest.mark.parametrize("name, part", [
    ("ilmari-okonjo-vale", "left"), ("ilmari-okonjo-vale", "knee"), ("marisol-quenneville-tran", "mouthpiece"), ("saoirse-villalobos-ng", "heel"),
    ("bohdan-lacroix-mbeki", "left_switches"),
])
def test_a_changed_gap_moves_the_drawing_and_changes_its_words(module, name, part):
    before, after = (module.scene(*with_gap(name, part, gap), WORDS) for gap in (11, 17))
    assert "11 mm (0.4 in)" in before.alt and "17 mm (0.7 in)" in after.alt
    moved = [(a, b) for a, b in zip(before.shapes, after.shapes, strict=True) if a != b and not isinstance(a, Text)]
    assert moved


def test_the_gauge_shows_a_gap_at_its_true_size_beside_a_bar_of_50_mm():
    scene = gap_gauge.scene(*with_gap("ilmari-okonjo-vale", "rear", 25.4), WORDS)
    lengths = [abs(line.x2 - line.x1) for line in scene.shapes if isinstance(line, Line) and line.width == 1.4]
    # 25.4 mm are 72 points by the definition of the point, and 50 mm are 141.73
    assert lengths[0] == pytest.approx(72) and lengths[-1] == pytest.approx(141.73, abs=0.01)


def test_a_pad_is_drawn_at_its_recorded_size_and_side():
    part = Mount(id="a", part="switch", site="knee", side="right", gap_mm=10, size_mm="50 x 30")
    scene = pad_layout.scene(*changed("ilmari-okonjo-vale", mounting=(part,)), WORDS)
    pad = next(s for s in scene.shapes if isinstance(s, Rect) and s.fill == 0.55)
    assert pad.h == pytest.approx(50 * pad_layout._SCALE) and pad.x > pad_layout._ABOVE_X
    other = pad_layout.scene(*changed("ilmari-okonjo-vale", mounting=(part.model_copy(update={"side": "left"}),)), WORDS)
    assert next(s for s in other.shapes if isinstance(s, Rect) and s.fill == 0.55).x < pad_layout._ABOVE_X
    nowhere = part.model_copy(update={"side": None})
    assert pad_layout.scene(*changed("ilmari-okonjo-vale", mounting=(nowhere,)), WORDS) is None


@pytest.mark.parametrize("place", sorted(ON_CHAIR))
def test_the_letter_of_the_stop_switch_stands_where_the_case_places_it(place):
    stop = ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop
    scene = stop_sites.scene(*changed("ilmari-okonjo-vale", stop=stop.model_copy(update={"stop_switch_site": place, "freewheel_site": None})), WORDS)
    rings = [(s.x, s.y) for s in scene.shapes if isinstance(s, Circle) and s.x < 200]
    assert rings[: len(ON_CHAIR[place])] == [(106 + dx, 108 + dy) for dx, dy in ON_CHAIR[place]]
    right = [dx > 0 for dx, _ in ON_CHAIR[place]]
    assert place == "behind_seat" or right == [place.endswith("right")]


def test_every_place_that_a_case_may_name_is_on_the_drawing():
    from typing import get_args

    from docgen.case.asked import OnChair

    assert set(get_args(OnChair)) == set(ON_CHAIR)


def test_the_driving_map_says_each_command_on_the_side_it_drives_to():
    scene = scene_of(driving_map, "marisol-quenneville-tran")
    at = {shape.text: (shape.x, shape.y) for shape in scene.shapes if isinstance(shape, Text)}
    assert at["A soft sip"][0] < driving_map._X < at["A soft puff"][0]
    puff, = (text for text in at if text.startswith("A hard puff"))
    assert at[puff][1] < driving_map._Y < at["A hard sip, or the cheek switch"][1]
    turned = (Command(does="left", input="nod"), Command(does="left", input="blink"))
    assert "Nod / blink: the chair turns left." in driving_map.scene(*changed("marisol-quenneville-tran", commands=turned), WORDS).alt


def test_rest_and_wake_are_drawn_with_what_is_heard():
    scene = scene_of(rest_wake, "ilmari-okonjo-vale")
    assert "Press the left knee switch once: Rest: no driving. You hear: one low beep." in scene.alt
    assert "You hear: two high beeps" in texts(scene)
    assert rest_wake.scene(*changed("ilmari-okonjo-vale", commands=()), WORDS) is None


def test_only_a_mount_that_swings_is_drawn_swinging():
    assert WORDS["swing_panel"] in texts(scene_of(marks_meet, "ilmari-okonjo-vale"))
    assert WORDS["swing_panel"] not in texts(scene_of(marks_meet, "saoirse-villalobos-ng"))


def test_the_card_says_so_where_no_gap_is_recorded():
    scene = ready_check_stop.scene(*changed("ilmari-okonjo-vale", mounting=()), WORDS)
    assert WORDS["card_no_gaps"] in scene.alt


def test_a_drawing_without_its_facts_is_left_out():
    empty = changed("ilmari-okonjo-vale", mounting=(), commands=(), stop=type(ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop)())
    assert [module.scene(*empty, WORDS) for module in (pad_layout, gap_gauge, marks_meet, driving_map, rest_wake, stop_sites)] == [None] * 6
    empty = ASSESSED["ilmari-okonjo-vale"].file.case.with_records(())
    from docgen.evidence.gather import evidence

    assert methods_compared.scene(empty, evidence(empty), WORDS) is None
