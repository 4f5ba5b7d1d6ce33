"""A photo of the case in place of a drawing, in the documents whose reader may see photos."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from docgen.case.model import Case
from docgen.case.photo_files import photo_of
from docgen.case.photos import Photo
from docgen.case.privacy import Privacy
from docgen.case.read import CaseFile
from docgen.figures.panels import PANEL, Told, composed, listed
from docgen.figures.strokes import arrow, ringed
from docgen.packet.assess import Assessed
from docgen.packet.wording import Wording
from docgen.photo import PlainPhoto
from docgen.scene import Picture, Scene, Shape

_DRAWINGS = {"seat": "ready_card", "stops": "stop_card", "parts": "pad_layout", "marks": "marks_meet"}
_ARROW, _HIGH = 40.0, 140.0  # from the number of an arrow to its tip, and the tallest photo, in points


def plain_photos(file: CaseFile) -> dict[str, PlainPhoto]:
    """Photo's id -> its pixels, for every photo of the case."""
    return {
        photo.id: photo_of(file.folder, photo.file, file.where("photos", at, "file"))
        for at, photo in enumerate(file.case.photos)
    }


def scenes_of(
    names: Iterable[str], scenes: Mapping[str, Scene], assessed: Assessed, worded: Wording
) -> dict[str, Mapping[str, Scene]]:
    """Document -> its drawings, a photo in place of each that has one.

    None in a copy about nobody, and none in a document whose reader may see no photo.
    """
    case, by_document = assessed.file.case, dict.fromkeys(names, scenes)
    shown_in = [name for name in by_document if Privacy.PHOTO in worded.documents[name].may_see]
    if not case.photos or assessed.copy is not None or not shown_in:
        return by_document
    plain = plain_photos(assessed.file)
    shown = {
        _DRAWINGS[photo.instead_of]: _scene(photo, plain[photo.id], case, scenes.get(_DRAWINGS[photo.instead_of]))
        for photo in case.photos
    }
    return by_document | dict.fromkeys(shown_in, {**scenes, **shown})


def _scene(photo: Photo, plain: PlainPhoto, case: Case, drawing: Scene | None) -> Scene:
    """The photo with its arrows, below it what each points to; where the switches are, also the name of each letter."""
    wide = min(PANEL, _HIGH * plain.width_px / plain.height_px)
    high = wide * plain.height_px / plain.width_px
    shapes: list[Shape] = [Picture(0, 0, wide, high, plain.jpeg)]
    numbers = {mount.id: str(number) for number, mount in enumerate(case.configuration.mounting, 1)}
    panels: list[Scene] = []
    for letter, pointed in zip("abcdefghijkl", photo.arrows, strict=False):
        mark = numbers.get(pointed.part or "", letter)
        x, y = pointed.x * wide, pointed.y * high
        turn = math.atan2(y - high / 2, x - wide / 2) if (x, y) != (wide / 2, high / 2) else 0.0
        # from the middle of the photo outwards, so that two arrows do not cross; turned back where the paper ends
        at_x, at_y = x + _ARROW * math.cos(turn), y + _ARROW * math.sin(turn)
        if not (11 <= at_x <= wide - 11 and 11 <= at_y <= high - 11):
            at_x, at_y = x - _ARROW * math.cos(turn), y - _ARROW * math.sin(turn)
        shapes += [*arrow([(at_x, at_y), (x, y)], 2.4, 10), *ringed(at_x, at_y, mark)]
        panels.append(listed(mark, [Told(pointed.says)], f"{mark}: {pointed.says.rstrip('. ')}."))
    names = drawing.panels[-1:] if drawing and photo.instead_of == "stops" else ()
    return composed([Scene(wide, high, f"{photo.alt.rstrip('. ')}.", tuple(shapes)), *panels, *names])
