"""The last texts of a case.toml, each as it was before a change at the desk."""

from __future__ import annotations

from pathlib import Path

from docgen.desk.kept import FOLDER, place
from docgen.private import write_whole

MOST = 20


def keep(case: Path, text: str) -> None:
    """Keep the text that a change is about to replace."""
    folder = place(case)
    kept = _kept(folder)
    number = int(kept[-1].stem) + 1 if kept else 1
    write_whole(folder / f"{number:06d}.toml", text.encode())
    for old in kept[: max(len(kept) + 1 - MOST, 0)]:
        old.unlink()


def last(case: Path) -> str | None:
    """The text before the last change; None where none is kept."""
    kept = _kept(case / FOLDER)
    return kept[-1].read_text(encoding="utf-8") if kept else None


def drop_last(case: Path) -> None:
    """Forget the text before the last change, once it stands again."""
    _kept(case / FOLDER)[-1].unlink()


def count(case: Path) -> int:
    """How many changes can be taken back."""
    return len(_kept(case / FOLDER))


def _kept(folder: Path) -> list[Path]:
    return sorted(path for path in folder.glob("*.toml") if path.stem.isdecimal())
