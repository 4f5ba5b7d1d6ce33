"""The output formats: one module to_<suffix>.py each, found by its name alone, loaded only when it writes.

render(document, page, scenes, style, *, labels) -> bytes    what a module must have
draw_ahead(scenes)   for one whose figures are pictures: draws those of several documents at once
FIXED_SIZE = True    its letters cannot be made larger by the reader, so large print is written too
SENDS = 1            how likely its file is the one that goes out, 1 most; without it, behind all that say so
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from importlib import import_module
from pkgutil import iter_modules
from typing import TYPE_CHECKING, Protocol, cast

if TYPE_CHECKING:
    from docgen.rendering.labels import Labels
    from docgen.rendering.page import Page
    from docgen.rendering.style import Style
    from docgen.rendering.tree import Node
    from docgen.scene import Scene

_PREFIX = "to_"


class Format(Protocol):
    """A module that writes one format."""

    def render(
        self, document: Node, page: Page, scenes: Mapping[str, Scene], style: Style = ..., *, labels: Labels = ...
    ) -> bytes:
        """The document as a file of this format; the same input gives the same bytes."""
        ...


def format_names() -> tuple[str, ...]:
    """The suffix of every format, in order; nothing is loaded."""
    names = sorted(info.name for info in iter_modules(__path__))
    return tuple(name.removeprefix(_PREFIX) for name in names if name.startswith(_PREFIX))


def format_of(suffix: str) -> Format:
    """The module that writes files of this suffix."""
    return cast(Format, import_module(f"{__name__}.{_PREFIX}{suffix}"))


def is_fixed_size(suffix: str) -> bool:
    """Whether a reader of this format cannot make its letters larger."""
    return bool(getattr(format_of(suffix), "FIXED_SIZE", False))


def draw_ahead(suffix: str, scenes: Iterable[Scene]) -> None:
    """Let a format that needs its figures as pictures draw those of several documents at once."""
    if draw := getattr(format_of(suffix), "draw_ahead", None):
        draw(scenes)


def sent_as(suffixes: Collection[str]) -> str | None:
    """The suffix of these that most likely goes out; None of none."""
    return min(
        suffixes, key=lambda suffix: (getattr(format_of(suffix), "SENDS", len(suffixes) + 99), suffix), default=None
    )
