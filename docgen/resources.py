"""Where templates and demo cases are: inside the installed package, or beside it in a checkout.

The Python of the templates, `compiled`, is in an installed package alone.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).parent


def folder(name: str) -> Path:
    """The folder `templates`, `compiled` or `cases` that belongs to this installation."""
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name
