"""What the commands share: options and arguments, exit statuses, how a problem is told.

Nothing heavy is imported at the top of these modules: `docgen --help` must answer at once.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from docgen.commands.statuses import GAPS, READY, UNREADABLE

if TYPE_CHECKING:
    from docgen.case.answers import Sheet
    from docgen.case.read import CaseFile

Cases = Annotated[
    list[Path], typer.Argument(help="Case folder, its case.toml, or a folder of case folders.", metavar="CASE...")
]
OneCase = Annotated[Path, typer.Argument(help="Case folder or its case.toml.", metavar="CASE")]
PayerOption = Annotated[
    str,
    typer.Option(
        "--payer",
        help="Rules of this payer instead of the case's: an id, or a payer file of your own.",
        metavar="ID|FILE",
    ),
]
TemplatesOption = Annotated[
    Path | None,
    typer.Option("--templates", help="Folder of your own templates; they replace those of their name.", metavar="DIR"),
]
LetterheadOption = Annotated[
    Path | None,
    typer.Option("--letterhead", help="Folder with letterhead.toml, letterhead.docx or both.", metavar="DIR"),
]
Today = Annotated[str, typer.Option(help="Day to look from, such as 2026-03-31; today if left out.", metavar="DATE")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON for programs.")]


def folders_of(paths: list[Path]) -> list[Path]:
    """The case folders that the words name; a word that names none ends the command."""
    from docgen.packet.assess import case_folders

    with problems_told():
        return case_folders(paths)


def agreed(question: str, *, needs_answer: bool = False) -> bool:
    """Whether a person at the terminal says yes; nobody there is a no.

    needs_answer  where nobody answers, the command ends with status 2, for a script to see that nothing was written
    """
    try:
        return typer.confirm(question, err=True)
    except typer.Abort:
        if not needs_answer:
            return False
        typer.echo("\nNothing was written. Nobody answered at the terminal: say yes beforehand with --yes.", err=True)
        raise typer.Exit(UNREADABLE) from None


def write_answers(file: CaseFile, sheet: Sheet, yes: bool, day: date | None) -> None:
    """Show what a sheet gives a case, and what it leaves out, and write it once someone has agreed.

    yes  whether someone has agreed already
    day  noted beside each; the day it is when None
    """
    from docgen.case.answers import shown_answers
    from docgen.filling import take_in

    with problems_told():
        lines = shown_answers(file, sheet.answers)
    for line in (*lines, *(f"left out: {reason}" for reason in sheet.left)):
        typer.echo(line)
    if not sheet.answers:
        typer.echo("Nothing to write.")
        return
    if not yes and not agreed(f"Write these {len(lines)} into {file.folder / 'case.toml'}?", needs_answer=True):
        typer.echo("Nothing was written.")
        return
    with problems_told():
        take_in(file, sheet, day)
    typer.echo(f"Wrote {len(lines)} into {file.folder / 'case.toml'}. Next: docgen check {file.folder}")


def day_of(words: str, option: str = "--today") -> date | None:
    """The day an option names; None when it is empty."""
    from docgen.errors import Problem, UserError

    try:
        return date.fromisoformat(words) if words else None
    except ValueError:
        fail(UserError([Problem(option, f"'{words}' is not a day", "Write it as 2026-03-31.")]))


def parted(given: list[str] | None) -> list[str]:
    """The words of an option, which may be given more than once and may hold several separated by commas."""
    return [word.strip().lower() for words in given or () for word in words.split(",") if word.strip()]


def enclosed(given: list[str] | None) -> list[str]:
    """The words of --enclose: names as of `parted`, and files as they were given, for a path may hold a comma."""
    from docgen.packet.papers import is_paper

    return [word for words in given or () for word in ([words.strip()] if is_paper(words) else parted([words]))]


@contextmanager
def problems_told() -> Iterator[None]:
    """What a user can mend ends the command with one line each and status 2."""
    from docgen.errors import UserError

    try:
        yield
    except UserError as failure:
        fail(failure)


def tell(failure: Exception) -> None:
    """Print each problem on standard error; what is no problem of a user is raised again."""
    from docgen.errors import UserError

    if not isinstance(failure, UserError):
        raise failure
    for problem in failure.problems:
        typer.echo(str(problem), err=True)


def fail(failure: Exception) -> NoReturn:
    """Print the problems and leave with status 2."""
    tell(failure)
    raise typer.Exit(UNREADABLE)


def leave(gaps: bool, broken: bool) -> NoReturn:
    """Leave with the status of the worst case: one that cannot be read, one with gaps, or all ready."""
    if broken:
        raise typer.Exit(UNREADABLE)
    raise typer.Exit(GAPS if gaps else READY)


def print_json(data: object) -> None:
    """Print data for programs."""
    typer.echo(json.dumps(data, indent=2, ensure_ascii=False))
