"""Where each part stands, by the part of the body it is for: from above and from the side, gaps and sizes to one scale.

A part is drawn where the mounting record says that it is, see `placing`; one whose place is not known is not drawn, and
the drawing names it and says so. Each part has a number, the same in both views and in the list below.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.evidence.fact import Evidence
from docgen.figures.gap_gauge import in_mm
from docgen.figures.outlines import FOOT, HAND, HEAD_MM, KNEE, MOST_HEAD_MM, Body, head, mirrored
from docgen.figures.panels import PAGE, PANEL, Told, bounds, box_of, composed, listed, panel, stacked, text_width
from docgen.figures.parts_from_above import from_above
from docgen.figures.parts_from_side import from_side
from docgen.figures.placing import PLACES, Drawn, lacking, placed
from docgen.figures.strokes import arrow
from docgen.scene import LETTERS_PT, PANELS_APART_PT, Scene, Shape, Text

MADE_FROM = ("configuration.mounting", "client.head.width_mm")

_TITLE = 142.0  # width of a title, so that two views stand side by side in a column
_LEAST, _CLOSE = 100.0, 2.0  # width of words beside both views; between the words of two parts
_THIRD = (PAGE - 2 * PANELS_APART_PT) / 3


def scene(case: Case, evidence: Evidence, words: Mapping[str, str]) -> Scene | None:
    """Both views of each part of the body with a part, then a panel of words for each part; None when the case records
    no part."""
    mounts = case.configuration.mounting
    if not mounts:
        return None
    bands: dict[tuple[str, str | None], list[tuple[int, Mount]]] = {}
    for number, mount in enumerate(mounts, 1):
        if not lacking(mount):
            place = PLACES[mount.site]
            bands.setdefault((place.body, mount.limb if place.limb else None), []).append((number, mount))
    panels: list[Scene] = []
    for (name, limb), numbered in bands.items():
        above, side = _band(name, limb, numbered, case, words)
        panels += _with_words(above, side, numbered, words)
    panels += [_words_of(number, mount, PANEL, words) for number, mount in enumerate(mounts, 1) if lacking(mount)]
    drawing = composed(panels)  # the words of the whole say that it is no drawing to measure on
    return replace(drawing, alt=f"{drawing.alt} {words['pads_scale']}") if bands else drawing


def _with_words(
    above: Scene, side: Scene, numbered: Sequence[tuple[int, Mount]], words: Mapping[str, str]
) -> list[Scene]:
    """Both views with the words of their parts: below the lower view where they fit, else beside both, else below."""
    words_below = [_words_of(number, mount, _THIRD, words) for number, mount in numbered]
    if (column := stacked([side, *words_below], _CLOSE)).h <= above.h:
        return [above, column]
    left = PAGE - above.w - side.w - 2 * PANELS_APART_PT
    if left >= _LEAST and len(numbered) > 2:  # two stand side by side below
        return [above, side, stacked([_words_of(*part, min(left, PANEL), words) for part in numbered], _CLOSE)]
    return [above, side, *(_words_of(*part, _own_width(part[1], words), words) for part in numbered)]


def _own_width(mount: Mount, words: Mapping[str, str]) -> float:
    """The least width of the words of one part, at most a panel, so that short names stand side by side."""
    lines = [text_width(mount.part, True)] + ([] if mount.wide_mm else [text_width(words["no_size"])])
    return min(PANEL, 30 + max(lines))


def _words_of(number: int, mount: Mount, room: float, words: Mapping[str, str]) -> Scene:
    """The words of one part: number, name, gap and what is not known of it."""
    named = f"{mount.part}, {mount.at.rstrip('. ')}" if mount.at else mount.part
    if why := lacking(mount):
        line = words["not_drawn"].format(part=mount.part, why=words[why])
        return listed(str(number), [Told(line, True)], f"{number}: {line}.", w=room)
    gap = in_mm(mount.gap_mm or 0, words)
    lines = [Told(mount.part, True)]  # its gap stands at true size in the next drawing, and on the card
    if mount.wide_mm is None:
        lines.append(Told(words["no_size"]))
    return listed(str(number), lines, words["pads_alt"].format(part=f"{number}, {named}", gap=gap), w=room)


def _band(
    name: str, limb: str | None, mounts: Sequence[tuple[int, Mount]], case: Case, words: Mapping[str, str]
) -> list[Scene]:
    """Both views of one part of the body."""
    body = _body(name, [mount for _, mount in mounts], case)
    if limb == "right":
        body = Body(
            mirrored(body.above),
            body.side,
            tuple(map(mirrored, body.under)),
            tuple(map(mirrored, body.above_more)),
            body.side_more,
        )
    long_mm = min(case.client.head.length_mm or HEAD_MM[1], MOST_HEAD_MM[1])
    parts = list(placed(name, limb, mounts, long_mm, _cushion_top_mm(case)))
    seen = _seen_from(limb, parts)
    title = words["head_band"] if limb is None else words[f"{name}_{limb}"]
    views = (
        (words["from_above"], from_above(body, parts, name == "head", words), 0),
        (words[f"from_{seen}"], from_side(body, parts, seen, words), 1 if seen == "left" else -1),
    )
    return [
        panel(
            [*shapes, *_front(shapes, sign, words)],
            words["view_alt"].format(body=title, view=view),
            words["view_title"].format(body=title, view=view),
            leads=sign == 0,
            room=_TITLE,
        )
        for view, shapes, sign in views
    ]


def _cushion_top_mm(case: Case) -> float | None:
    """The top of the loaded cushion above the zero of the heights."""
    measured_from = case.configuration.measured_from
    return 0.0 if measured_from.height == "loaded_cushion" else measured_from.cushion_mm


def _front(shapes: Sequence[Shape], sign: int, words: Mapping[str, str]) -> list[Shape]:
    """An arrow that says where the front is: beside a view from above, over a view from the side.

    sign  0 from above, 1 from the left, -1 from the right
    """
    left, top, right, _ = bounds(shapes)
    if sign == 0:
        beside = [shape for shape in shapes if box_of(shape)[1] < top + 52]  # what hangs lower is not in its way
        x = bounds(beside)[0] - text_width(words["front"]) / 2 - 6
        return [Text(x, top + 46, words["front"], LETTERS_PT, anchor="middle"), *arrow([(x, top + 32), (x, top + 4)])]
    if sign > 0:
        word = Text(left + 34, top - 8, words["front"], LETTERS_PT)
        return [word, *arrow([(left + 28, top - 12), (left, top - 12)])]
    word = Text(right - 34, top - 8, words["front"], LETTERS_PT, anchor="end")
    return [word, *arrow([(right - 28, top - 12), (right, top - 12)])]


def _body(name: str, mounts: Sequence[Mount], case: Case) -> Body:
    if name == "head":
        size = case.client.head
        width, length = (
            min(size.width_mm or HEAD_MM[0], MOST_HEAD_MM[0]),
            min(size.length_mm or HEAD_MM[1], MOST_HEAD_MM[1]),
        )
        return head(width, length, any(mount.site in ("mouth", "chin") for mount in mounts))
    return {"hand": HAND, "knee": KNEE, "foot": FOOT}[name]


def _seen_from(limb: str | None, parts: Sequence[Drawn]) -> str:
    """The side to look from: where there is a part, else the outer side of the limb, else the left."""
    sides = {part.side for part in parts} & {"left", "right"}
    return sides.pop() if len(sides) == 1 else limb or "left"
