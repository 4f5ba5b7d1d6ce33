"""Papers of others that a packet is to hold: kept beside the case from the day on which they were sent to the desk."""

from __future__ import annotations

from pathlib import Path

from docgen.desk.forms import Upload
from docgen.desk.kept import FOLDER, place
from docgen.errors import Problem, UserError
from docgen.packet.papers import Paper, read_papers
from docgen.packet.wording import wording

_PLACE = "papers"


def kinds() -> dict[str, str]:
    """The kinds of paper that the program knows, with their titles."""
    titles: dict[str, str] = wording().words["enclosed_papers"]
    return titles


def words_of(case: Path) -> list[str]:
    """The papers as a build takes them, by kind."""
    kept = sorted((case / FOLDER / _PLACE).glob("*.pdf"))
    return [f"{path.stem}={path}" for path in kept if path.stem in kinds() and not path.is_symlink()]


def papers_of(case: Path) -> tuple[Paper, ...]:
    """The papers as they were read. Raises UserError with each that cannot be taken any more."""
    return read_papers(words_of(case), kinds())


def keep(case: Path, kind: str, sent: Upload | None) -> None:
    """Keep a paper in the place of the one of its kind. Raises UserError for what is no PDF that a packet can hold."""
    if sent is None or kind not in kinds():
        raise UserError([Problem("the paper", "was not chosen", "Choose what it is, and a PDF.")])
    folder = place(case, _PLACE)
    new = folder / f".{kind}.part"
    sent.put(new)
    try:
        others = [word for word in words_of(case) if not word.startswith(f"{kind}=")]
        read_papers([*others, f"{kind}={new}"], kinds())
        new.replace(folder / f"{kind}.pdf")
    except UserError as failure:
        raise UserError(
            [Problem(sent.name, f"the paper {problem.what}", problem.do) for problem in failure.problems]
        ) from None
    finally:
        new.unlink(missing_ok=True)


def take_out(case: Path, kind: str) -> None:
    """Take the paper of a kind away."""
    if kind in kinds():
        (case / FOLDER / _PLACE / f"{kind}.pdf").unlink(missing_ok=True)
