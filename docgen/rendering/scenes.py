"""The drawing a figure node names."""

from __future__ import annotations

from collections.abc import Mapping

from docgen.scene import Scene


def scene_named(name: str, scenes: Mapping[str, Scene]) -> Scene:
    """The drawing of that name. Raises ValueError naming it and those there are."""
    if name not in scenes:
        raise ValueError(f"no drawing is named {name!r}; there are: {', '.join(sorted(scenes)) or 'none'}")
    return scenes[name]
