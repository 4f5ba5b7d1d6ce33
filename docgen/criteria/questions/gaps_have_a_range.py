"""Each gap and angle has the range in which its part still works, and was checked with what is worn every day.

Asks: The smallest and the largest gap and angle at which each part works, as the therapist set them; what is worn
    every day at the parts, and who checked them with that on.
Why a payer asks: A payer does not. Whoever sets up the client each morning must know which difference counts.
What settles it: gap_from_mm and gap_to_mm, angle_from_deg and angle_to_deg of each part in
    [[configuration.mounting]], or why there is none under not_applicable, of "allowed" or "allowed_angle"; worn and
    worn_checked_by under [configuration].
Source: no published tolerance of a gap or angle was found; the range is this person's, as measured.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from docgen.case.mount import Mount
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "record"
CLAIM = "Each gap and angle has the range in which its part works"
SETTINGS: dict[str, object] = {}

_EITHER = re.compile(r"\bor\b", re.IGNORECASE)
_RANGE = ("gap_from_mm", "gap_to_mm")
_ANGLES = ("angle_from_deg", "angle_to_deg")


def answer(grounds: Grounds) -> Answer:
    asked = grounds.case.configuration
    if asked.is_empty:
        return cannot_tell(
            "No requested control is recorded, nor the parts of it that are mounted.",
            ("configuration",),
            mend=add_entry("configuration.mounting", "id", "part", "gap_mm", *_RANGE),
        )
    if not asked.mounting:
        return does_not_apply("No part is mounted, as far as is recorded.", ("configuration", "mounting"))
    without = _without_range(asked.mounting, "gap_mm", _RANGE, "allowed")
    if without:
        return cannot_tell(
            f"No range is set for the gap of the {listed(mount.part for _, mount in without)}, so that any difference "
            "counts.",
            *(("configuration", "mounting", at) for at, _ in without),
            mend=Mend("Try the smallest and the largest gap that work, and fill in gap_from_mm and gap_to_mm.", _RANGE),
        )
    if unranged := _without_range(asked.mounting, "angle_deg", _ANGLES, "allowed_angle"):
        return cannot_tell(
            f"No range is set for the angle of the {listed(mount.part for _, mount in unranged)}.",
            *(("configuration", "mounting", at) for at, _ in unranged),
            mend=Mend(
                "Try the smallest and the largest angle that work, and fill in angle_from_deg and angle_to_deg.",
                _ANGLES,
            ),
        )
    missing = [key for key in ("worn", "worn_checked_by") if getattr(asked, key) is None]
    if missing:
        return cannot_tell(
            "What is worn every day at the parts, and who checked them with that on, is not recorded.",
            *(("configuration", key) for key in missing),
            mend=fill_in({f"configuration.{key}": "" for key in missing}),
        )
    if asked.worn and _EITHER.search(asked.worn):
        return cannot_tell(
            f"More than one thing is worn at the parts, “{asked.worn.rstrip('. ')}”, and each changes the gaps.",
            ("configuration", "worn"),
            mend="Write in worn the one with which the gaps were set, and have them measured anew before driving in "
            "another.",
        )
    return met(
        "Each gap and angle has its range, and the parts were checked with what is worn every day.",
        ("configuration", "mounting"),
    )


def _without_range(
    mounting: Sequence[Mount], measure: str, ends: tuple[str, str], waived: str
) -> list[tuple[int, Mount]]:
    """Parts with this measure and without both ends of its range, or why there is none, each with its number."""
    return [
        (at, mount)
        for at, mount in enumerate(mounting)
        if getattr(mount, measure) is not None
        and any(getattr(mount, end) is None for end in ends)
        and not any(lacks.of == waived for lacks in mount.not_applicable)
    ]
