"""Room on each side at the doors and corridors on the client's list."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.evidence.fact import Fact

ORDER = 60
QUESTION = "Does it fit the places on the list?"


def facts(case: Case) -> Iterator[Fact]:
    """margin.<space> in mm each side, for every door and corridor measured; negative when the chair is wider."""
    width = case.configuration.chair.width_mm
    for index, space in enumerate(case.spaces):
        if space.kind not in ("doorway", "corridor", "elevator") or space.clear_width_mm is None or width is None:
            continue
        yield Fact(
            f"margin.{space.id}",
            "passing",
            f"room on each side, {space.name}",
            "millimetres",
            (space.clear_width_mm - width) / 2,
            1,
            side="down",
            keys=(f"spaces.{index}.clear_width_mm", "configuration.chair.width_mm"),
            formula="(clear width - chair width) / 2",
        )
