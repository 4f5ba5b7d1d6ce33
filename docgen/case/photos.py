"""The therapist's own photos, which take the place of a drawing in the papers for daily use."""

from datetime import date
from typing import Literal

from docgen.case.base import Id, Part, Words, key, many, must
from docgen.case.privacy import Privacy


class PhotoArrow(Part):
    """An arrow on a photo: where its tip is, and what it points to."""

    x: float = must(Privacy.PHOTO, "where its tip is, as a share of the width from the left", 0.4, ge=0, le=1)
    y: float = must(Privacy.PHOTO, "where its tip is, as a share of the height from the top", 0.55, ge=0, le=1)
    says: Words = must(Privacy.PHOTO, "what it points to", "Gray catch: press it, then swing")
    part: Id | None = key(Privacy.PHOTO, "part of the control that it points to, whose number it then has", "left")


class Photo(Part):
    """A photo of this client's chair or control. It is printed only in papers for daily use."""

    id: Id = must(Privacy.PHOTO, "short id", "chair_behind")
    file: Words = must(Privacy.PHOTO, "its file beside the case, a PNG or JPEG picture", "chair_behind.jpg")
    instead_of: Literal["seat", "stops", "parts", "marks"] = must(
        Privacy.PHOTO,
        "the drawing that it stands in place of: the driver ready in the chair, the whole chair with its switches, "
        "the parts of the control, or their catches and marks",
        "stops",
    )
    alt: Words = must(
        Privacy.PHOTO, "what it shows, for who cannot see it", "The chair from behind, the red button at the right"
    )
    agreed_by: Words = must(Privacy.PHOTO, "who agreed that it is printed and for whom", "the client's mother")
    agreed_on: date = must(Privacy.PHOTO, "date of that consent", date(2026, 7, 30))
    arrows: tuple[PhotoArrow, ...] = many("arrows on it", 12)
