"""Figures of the mounting record against one another and against the words beside them: a part that cannot stand where
the record says that it is. What is found is a question, never a refusal."""

from __future__ import annotations

import math
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.mount import Mount

Contradiction = tuple[str, tuple[KeyPath, ...]]  # what cannot be, in a sentence, and the keys it rests on

# Share of the length of a head from its back to the rear edge of the ear, and the longest head where none is recorded
# (ANSUR II, as in `mounting`); the share is a round figure from memory, as in the drawing of a head.
BEHIND_EAR, LONGEST_HEAD_MM = 0.35, 225.0
# Half the width of a shoe at its heel; how far the big toe is inward of the middle of the heel at the least: common
# practice, no source.
HALF_HEEL_MM, TOE_INWARD_MM = (22.0, 45.0), 5.0


def contradictions(case: Case) -> Iterator[Contradiction]:
    """Side pads over the ear that they are behind, parts beside a heel or at a big toe where neither can be."""
    yield from _over_ear(case)
    yield from _beside_heel(case)
    yield from _before_toe(case)


def _at(index: int, *keys: str) -> tuple[KeyPath, ...]:
    return tuple(("configuration", "mounting", index, name) for name in keys)


def _over_ear(case: Case) -> Iterator[Contradiction]:
    mounts = case.configuration.mounting
    back = next(
        (
            (index, mount.depth_mm + mount.gap_mm)
            for index, mount in enumerate(mounts)
            if mount.site == "head_back" and mount.depth_mm is not None and mount.gap_mm is not None
        ),
        None,
    )
    if back is None:
        return
    free_mm = BEHIND_EAR * (case.client.head.length_mm or LONGEST_HEAD_MM)
    for index, mount in enumerate(mounts):
        if mount.near != "behind_ear" or mount.depth_mm is None or mount.wide_mm is None:
            continue
        turned = math.cos(math.radians(mount.angle_deg or 0)) if mount.angle_axis == "yaw" else 1.0
        ahead_mm = mount.depth_mm + mount.wide_mm / 2 * turned - back[1]
        if ahead_mm > free_mm:
            yield (
                (
                    f"The {mount.part} is to be behind the ear, and its front edge is {ahead_mm:.0f} mm ahead of the "
                    f"back of the head; the ear begins about {free_mm:.0f} mm ahead of it."
                ),
                (*_at(index, "depth_mm", "wide_mm"), *_at(back[0], "depth_mm", "gap_mm")),
            )


def _heels(case: Case) -> Iterator[tuple[int, Mount, float]]:
    """Parts behind a heel, each with the side of its middle."""
    for index, mount in enumerate(case.configuration.mounting):
        if mount.site == "foot" and mount.side == "back" and mount.midline_mm is not None:
            yield index, mount, mount.midline_mm


def _beside_heel(case: Case) -> Iterator[Contradiction]:
    for i, heel, heel_mm in _heels(case):
        for j, mount in enumerate(case.configuration.mounting):
            beside = mount.site == "foot" and mount.near == "heel" and mount.side in ("left", "right")
            if not beside or mount.limb != heel.limb or mount.midline_mm is None or mount.gap_mm is None:
                continue
            half_mm = abs(mount.midline_mm - heel_mm) - mount.gap_mm
            if not HALF_HEEL_MM[0] <= half_mm <= HALF_HEEL_MM[1]:
                yield (
                    (
                        f"Between the {mount.part} and the middle of the {heel.part} the record leaves {half_mm:.0f} "
                        f"mm for half a heel; half a shoe is {HALF_HEEL_MM[0]:g} to {HALF_HEEL_MM[1]:g} mm wide there."
                    ),
                    (*_at(j, "midline_mm", "gap_mm"), *_at(i, "midline_mm")),
                )


def _before_toe(case: Case) -> Iterator[Contradiction]:
    for i, heel, heel_mm in _heels(case):
        for j, mount in enumerate(case.configuration.mounting):
            at_toe = mount.site == "foot" and mount.near == "big_toe" and mount.side == "front"
            if not at_toe or mount.limb != heel.limb or mount.midline_mm is None:
                continue
            inward_mm = (mount.midline_mm - heel_mm) * (-1 if mount.limb == "right" else 1)
            if inward_mm < TOE_INWARD_MM:
                yield (
                    (
                        f"The {mount.part} is to be at the big toe, and stands {inward_mm:.0f} mm inward of the middle "
                        f"of the {heel.part}; the big toe is on the inner side of a foot."
                    ),
                    (*_at(j, "midline_mm", "near"), *_at(i, "midline_mm")),
                )
