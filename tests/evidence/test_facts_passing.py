"""Room on each side, by hand."""

from __future__ import annotations

from gathered import of_each
from small_trial import known, small_case

from docgen.evidence.facts import passing


@of_each(
    ("kind", "clear_mm", "width_mm", "each_side"),
    [
        ("doorway", 800, 640, 80.0),
        ("corridor", 641, 640, 0.5),
        ("elevator", 600, 640, -20.0),
        ("turning", 800, 640, None),
        ("doorway", None, 640, None),
        ("doorway", 800, None, None),
    ],
)
def test_half_of_what_the_chair_leaves_is_the_room_on_each_side(kind, clear_mm, width_mm, each_side):
    space = {"id": "d", "name": "door", "kind": kind, "clear_width_mm": clear_mm}
    facts = known(passing.facts, small_case(spaces=[space], configuration={"chair": {"width_mm": width_mm}}))
    assert {name: (fact.value, fact.n) for name, fact in facts.items()} == (
        {} if each_side is None else {"margin.d": (each_side, 1)}
    )
