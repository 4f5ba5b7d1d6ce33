"""Drawings as coarse grids of characters, and alternative text that says what the picture says."""

from __future__ import annotations

import pytest
from support import DEMO_FOLDERS

from docgen.figures import methods_compared, pad_layout
from docgen.figures.scene import Circle, Line, Poly, Rect, Scene, Text
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


@pytest.mark.parametrize("module", [methods_compared, pad_layout], ids=lambda m: m.__name__.rpartition(".")[2])
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


def test_a_drawing_without_its_facts_is_left_out():
    assert scene_of(pad_layout, "saoirse-villalobos-ng") is None
    empty = ASSESSED["ilmari-okonjo-vale"].file.case.with_records(())
    from docgen.evidence.gather import evidence

    assert methods_compared.scene(empty, evidence(empty), WORDS) is None
