"""The commands by which it is chosen what to try, and how."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from docgen.commands.options import Json, OneCase, day_of, parted, print_json, problems_told
from docgen.rendering.formats import format_names


def options(
    case: OneCase,
    shelf: Annotated[
        Path | None,
        typer.Option(
            "--shelf",
            help="Controls of this shelf.toml, or of a folder of them; those of the case itself if left out.",
            metavar="FILE",
        ),
    ] = None,
    out: Annotated[
        Path | None, typer.Option("--out", help="Folder of the page; the case folder if left out.", metavar="DIR")
    ] = None,
    formats: Annotated[
        list[str] | None,
        typer.Option(help=f"Formats of the page: {', '.join(format_names())}; all if left out.", metavar="FORMATS"),
    ] = None,
    today: Annotated[str, typer.Option(help="Date of the page, such as 2026-03-31; today if left out.")] = "",
) -> None:
    """Write two pages for the client and the family: the controls that could suit, side by side, favoring none."""
    from docgen.console.progress import waiting
    from docgen.filling import options_files

    with problems_told(), waiting(sys.stderr):
        written = options_files(case, shelf, out, parted(formats), day_of(today) or date.today())
    typer.echo("Wrote " + ", ".join(map(str, written)))


def trial(
    case: OneCase,
    shelf: Annotated[
        Path | None,
        typer.Option("--shelf", help="shelf.toml, or a folder of them; the invented one if left out.", metavar="FILE"),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(help="Folder the plan is written to; the case folder itself if not named.")
    ] = None,
    formats: Annotated[
        list[str] | None,
        typer.Option(help=f"Formats of the plan: {', '.join(format_names())}; all if left out.", metavar="FORMATS"),
    ] = None,
    as_json: Json = False,
) -> None:
    """Plan the trial: what to borrow, how to set it up, cards, a fair order, when to stop; with recording sheets."""
    from docgen.console.progress import waiting
    from docgen.console.trial_json import trial_json
    from docgen.filling import trial_files
    from docgen.library import trial_of
    from docgen.recording_sheet import trial_sheets

    with problems_told(), waiting(sys.stderr):
        result = trial_of(case, shelf)
    if as_json:
        print_json(trial_json(result))
        return
    with problems_told():
        written = trial_files(result, trial_sheets(result.case, result.plan), out, parted(formats))
    typer.echo("Wrote " + ", ".join(map(str, written)))
    if result.plan.order is None:
        typer.echo(
            "No order, and no recording sheets: fill in methods, visits and visit_minutes of [trial.plan], then run it "
            "again."
        )
