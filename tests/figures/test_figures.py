"""What the drawings show, and alternative text that says what the picture says."""

from __future__ import annotations

import math

import pytest
from gathered import of_each
from support import ASSESSED

from docgen.case.asked import Command
from docgen.figures import (
    driving_map,
    gap_gauge,
    marks_meet,
    methods_compared,
    pad_layout,
    rest_wake,
    room_plans,
    seat_ways,
    stop_sites,
)
from docgen.figures.chair import ON_CHAIR
from docgen.figures.draw import figures
from docgen.figures.panels import box_of as box
from docgen.packet.wording import language_words
from docgen.scene import Circle, Line, Poly, Rect, Scene, Text

WORDS = language_words()["figures"]


def words_of(module):
    return {**getattr(module, "WORDS", {}), **WORDS}


def texts(scene: Scene) -> list[str]:
    return [shape.text for shape in scene.shapes if isinstance(shape, Text)]


def on_black(scene, x, y):
    """Whether the point lies on a black rectangle."""
    black = [s for s in scene.shapes if isinstance(s, Rect) and s.fill == 0.0]
    return any(s.x <= x <= s.x + s.w and s.y <= y <= s.y + s.h for s in black)


def scene_of(module, name):
    assessed = ASSESSED[name]
    return module.scene(assessed.file.case, assessed.evidence, words_of(module))


def test_methods_are_drawn_as_dots_on_their_intervals():
    scene = scene_of(methods_compared, "ilmari-okonjo-vale")
    axis = {shape.text: shape.x for shape in scene.shapes if isinstance(shape, Text) and shape.text.endswith("%")}
    dots = [shape for shape in scene.shapes if isinstance(shape, Circle)]

    def share(x):
        return (x - axis["0%"]) / (axis["100%"] - axis["0%"])

    assert [share(dot.x) for dot in dots] == pytest.approx([2 / 20, 38 / 46, 1 / 7]) and [dot.fill for dot in dots] == [
        1.0,
        0.0,
        1.0,
    ]
    lines = [next(s for s in scene.shapes if isinstance(s, Line) and s.y1 == s.y2 == dot.y) for dot in dots]
    # 95% score intervals (Wilson 1927)
    assert [(round(share(s.x1), 2), round(share(s.x2), 2)) for s in lines] == [(0.03, 0.3), (0.69, 0.91), (0.03, 0.51)]


def test_the_picture_of_methods_says_its_numbers_in_words():
    scene = scene_of(methods_compared, "ilmari-okonjo-vale")
    # 2 of 20, 38 of 46 and 1 of 7 with their 95% score intervals (Wilson 1927)
    assert "hand-operated standard joystick: 2 of 20 done, 3% to 30%." in scene.alt
    assert "proximity head array: 38 of 46 done, 69% to 91%." in scene.alt
    assert {"2/20", "38/46", "1/7"} <= set(texts(scene))


EVERY = of_each("module", figures().values(), ids=figures())


def changed(name, **configuration):
    """A demo case with these keys of its configuration changed, and its evidence."""
    file = ASSESSED[name].file
    return file.case.model_copy(
        update={"configuration": file.case.configuration.model_copy(update=configuration)}
    ), ASSESSED[name].evidence


def with_gap(name, part, gap_mm):
    mounting = ASSESSED[name].file.case.configuration.mounting
    return changed(
        name, mounting=tuple(m.model_copy(update={"gap_mm": gap_mm}) if m.id == part else m for m in mounting)
    )


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
                assert size <= y <= scene.h
                assert shape.shade <= 0.4 or (shape.shade == 1.0 and on_black(scene, x, y)), text
            case Line(x1, y1, x2, y2):
                assert all(-0.5 <= v <= scene.w + 0.5 for v in (x1, x2)) and all(
                    -0.5 <= v <= scene.h + 0.5 for v in (y1, y2)
                )


PROSE = "the white button that stands well above the left knee and is pressed by moving it slowly out and up again " * 4


@EVERY
def test_long_words_of_a_case_are_cut_and_stay_on_the_sheet(module):
    from reportlab.pdfbase.pdfmetrics import stringWidth

    # only a chair with a switch for its seat has a drawing of it
    name = "marisol-quenneville-tran" if module is seat_ways else "saoirse-villalobos-ng"
    asked = ASSESSED[name].file.case.configuration
    stop = asked.stop.model_copy(update={"stop_switch": PROSE, "power_off": PROSE, "freewheel": PROSE})
    long = changed(
        name,
        stop=stop,
        mounting=tuple(m.model_copy(update={"part": PROSE, "gap_mm": 60}) for m in asked.mounting),
        commands=tuple(c.model_copy(update={"input": PROSE, "hear": PROSE}) for c in asked.commands),
        change_waits=None,
    )
    scene = module.scene(*long, words_of(module))
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
    if module is room_plans:  # of a size in two units a listener hears the one; in both, digits outweigh the words
        shown = [text.partition(" (")[0] for text in shown]
    assert all(text.replace("\u00a0", " ") in scene.alt for text in shown)


@of_each("module", [pad_layout, gap_gauge], ids=lambda m: m.__name__.rpartition(".")[2])
@of_each(
    "name, part",
    [
        ("ilmari-okonjo-vale", "left"),
        ("ilmari-okonjo-vale", "knee"),
        ("marisol-quenneville-tran", "mouthpiece"),
        ("saoirse-villalobos-ng", "heel"),
        ("bohdan-lacroix-mbeki", "left_switches"),
    ],
)
def test_a_changed_gap_moves_the_drawing_and_changes_its_words(module, name, part):
    before, after = (module.scene(*with_gap(name, part, gap), WORDS) for gap in (11, 17))
    told = ("11 mm", "17 mm")
    assert told[0] in before.alt and told[1] in after.alt  # by inches alone some gaps are the same
    assert [s for s in before.shapes if not isinstance(s, Text)] != [s for s in after.shapes if not isinstance(s, Text)]


def test_the_gauge_shows_a_gap_at_its_true_size_below_a_bar_of_50_mm():
    scene = gap_gauge.scene(*with_gap("ilmari-okonjo-vale", "rear", 25.4), WORDS)
    # what is drawn at true size may not be enlarged with the letters; first the bar, then each gap
    lengths = [
        abs(line.x2 - line.x1)
        for panel in scene.panels
        if panel.true_size
        for line in panel.shapes
        if isinstance(line, Line) and line.width == 1.4
    ]
    # 25.4 mm are 72 points by the definition of the point, and so are 50 mm
    assert lengths[0] == pytest.approx(50 * 72 / 25.4) and lengths[1] == pytest.approx(72)


@of_each("place", sorted(ON_CHAIR))
def test_the_stop_switch_is_drawn_where_the_case_places_it_and_its_letter_beside_the_chair(place):
    stop = ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop
    only = stop.model_copy(update={"stop_switch_site": place, "power_off": None, "freewheel": None})
    scene = stop_sites.scene(*changed("ilmari-okonjo-vale", stop=only), WORDS)
    behind = place.removesuffix("_left").removesuffix("_right").removesuffix("_middle") in (
        "push_handle",
        "back",
        "low_back",
        "behind_seat",
    )
    title = WORDS["from_behind" if behind else "seen_from_above"]
    (view,) = (panel for panel in scene.panels if title in texts(panel))
    buttons = [s for s in view.shapes if isinstance(s, Circle) and s.fill == 0.0]
    letters = [
        s
        for s, text in zip(view.shapes, view.shapes[1:], strict=False)
        if isinstance(s, Circle) and isinstance(text, Text) and text.text == "A"
    ]
    assert buttons and len(letters) == len(buttons)
    for button, letter in zip(buttons, letters, strict=True):
        apart = math.hypot(letter.x - button.x, letter.y - button.y)
        assert button.r + letter.r < apart < button.r + letter.r + 6  # right beside it, so that it needs no line
    chair = [s for s in view.shapes if isinstance(s, Rect | Poly)]
    left, right = (pick(b) for pick, b in ((min, [box(s)[0] for s in chair]), (max, [box(s)[2] for s in chair])))
    front, back = (pick(b) for pick, b in ((min, [box(s)[1] for s in chair]), (max, [box(s)[3] for s in chair])))
    if place.endswith(("left", "right")):
        assert (buttons[0].x > (left + right) / 2) == place.endswith("right")
    low = (buttons[0].y - front) / (back - front)  # from above 0 at the footplates; from behind 0 over the head
    part = place.removesuffix("_left").removesuffix("_right").removesuffix("_middle")
    assert {
        "push_handle": 0.2 < low < 0.4,
        "back": 0.35 < low < 0.6,
        "low_back": 0.6 < low < 0.8,
        "behind_seat": 0.75 < low < 0.95,
        "head": 0.4 < low < 0.7,
        "armrest": low < 0.4,
        "tray": low < 0.4,
        "knee": low < 0.4,
    }[part]


def test_a_switch_without_a_place_is_not_drawn_and_the_picture_says_so():
    stop = ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop
    scene = stop_sites.scene(
        *changed("ilmari-okonjo-vale", stop=stop.model_copy(update={"stop_switch_site": None})), WORDS
    )
    assert WORDS["no_site"] in " ".join(texts(scene)) and WORDS["no_site"] in scene.alt
    assert texts(scene).count("A") == 1 and texts(scene).count("B") == 2


def test_the_other_way_to_cut_the_power_has_its_letter_and_its_place():
    stop = ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop.model_copy(
        update={"other_way": "pull the plug", "other_way_site": "low_back_left"}
    )
    with_it, without_place, without = (
        stop_sites.scene(*changed("ilmari-okonjo-vale", stop=stop.model_copy(update=change)), WORDS)
        for change in ({}, {"other_way_site": None}, {"other_way": None})
    )
    assert [texts(scene).count("D") for scene in (with_it, without_place, without)] == [
        2,
        1,
        0,
    ]  # the list, and beside the chair
    assert f"D, {WORDS['other_way']}: pull the plug." in with_it.alt and WORDS["no_site"] in without_place.alt
    assert WORDS["no_site"] not in with_it.alt


def test_a_tray_is_drawn_where_a_switch_is_on_one():
    stop = ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop
    on_tray = changed("ilmari-okonjo-vale", stop=stop.model_copy(update={"power_off_site": "tray_right"}))
    assert WORDS["tray"] in texts(stop_sites.scene(*on_tray, WORDS)) and WORDS["tray"] not in texts(
        scene_of(stop_sites, "ilmari-okonjo-vale")
    )


def test_every_place_that_a_case_may_name_is_on_the_drawing():
    from typing import get_args

    from docgen.case.stop import OnChair

    assert set(get_args(OnChair)) == set(ON_CHAIR)


def test_the_driving_map_says_each_command_on_the_side_it_drives_to():
    scene = scene_of(driving_map, "marisol-quenneville-tran")
    ways = {}
    for panel in scene.panels:
        lines = [s for s in panel.shapes if isinstance(s, Poly) and not s.closed]
        ways[" ".join(texts(panel))] = [line.points for line in lines]
    ((start, *_, end),) = ways["turns left A soft sip"]
    assert end[0] < start[0] - 11 and end[1] < start[1]  # a turn starts forward and ends to its side
    ((start, *_, end),) = ways["turns right A soft puff"]
    assert end[0] > start[0] + 11 and end[1] < start[1]
    ((start, end),) = ways["goes forward A hard puff"]
    assert end[1] < start[1] - 6
    ((start, end),) = ways["backs up With the chair still, a hard sip of two seconds"]
    assert end[1] > start[1] + 6
    assert ways["stops Let go or press the cheek switch"] == []
    turned = (Command(does="left", input="nod"), Command(does="left", input="blink"))
    assert (
        "Nod / blink: the chair turns left."
        in driving_map.scene(*changed("marisol-quenneville-tran", commands=turned), WORDS).alt
    )


def test_rest_and_wake_are_drawn_with_what_is_heard():
    scene = scene_of(rest_wake, "ilmari-okonjo-vale")
    assert (
        "Press the left knee switch once, from drive or the other device: Rest: no driving. You hear: a falling tone."
        in scene.alt
    )
    assert "You hear: a rising tone" in texts(scene)
    assert rest_wake.scene(*changed("ilmari-okonjo-vale", commands=()), WORDS) is None


def test_a_change_that_has_to_wait_is_not_drawn():
    assert scene_of(rest_wake, "saoirse-villalobos-ng") is None
    settled = rest_wake.scene(*changed("saoirse-villalobos-ng", change_waits=None), WORDS)
    assert [text for text in texts(settled) if text.startswith("Press the round button")] != []


def test_a_drawing_without_its_facts_is_left_out():
    empty = changed(
        "ilmari-okonjo-vale",
        mounting=(),
        commands=(),
        stop=type(ASSESSED["ilmari-okonjo-vale"].file.case.configuration.stop)(),
    )
    assert [
        module.scene(*empty, WORDS)
        for module in (pad_layout, gap_gauge, marks_meet, driving_map, rest_wake, stop_sites)
    ] == [None] * 6
    empty = ASSESSED["ilmari-okonjo-vale"].file.case.with_records(())
    from docgen.evidence.gather import evidence

    assert methods_compared.scene(empty, evidence(empty), WORDS) is None
