"""Words on a drawing: case text of any length, kept inside its place."""

from __future__ import annotations


def two_lines(text: str, most: int) -> list[str]:
    """The text in at most two lines of `most` characters, broken at a space where there is one; the rest is cut."""
    if len(text) <= most:
        return [text]
    cut = text.rfind(" ", 0, most + 1)
    cut = cut if cut > 0 else most
    rest = text[cut:].strip()
    return [text[:cut].strip(), rest if len(rest) <= most else rest[: most - 1].strip() + "\u2026"]
