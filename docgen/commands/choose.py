"""The command by which a client and a family choose what to try."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from docgen.commands.options import OneCase, parted, problems_told
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
) -> None:
    """Write two pages for the client and the family: the controls that could suit, side by side, favoring none."""
    from docgen.console.progress import waiting
    from docgen.filling import options_files

    with problems_told(), waiting(sys.stderr):
        written = options_files(case, shelf, out, parted(formats))
    typer.echo("Wrote " + ", ".join(map(str, written)))
