"""The program `docgen`: its commands, in the order its help lists them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import typer

from docgen import __version__
from docgen.commands import choose, packets, record, reports, request

_COMMANDS = (
    record.new,
    reports.check,
    record.ask,
    record.answers,
    reports.evidence,
    reports.fit,
    reports.shelf,
    choose.options,
    choose.trial,
    reports.features,
    packets.build,
    packets.approve,
    request.fhir,
    request.decision,
    packets.forget,
    record.desk,
    record.count,
    record.rows,
    reports.criteria,
    record.find,
    reports.schema,
)


def program(words: Sequence[str] = ()) -> typer.Typer:
    """The program with all its commands, or with the one alone that these words of the line begin with: making up the
    others takes as long as reading a case."""
    named = tuple(command for command in _COMMANDS if command.__name__ in words[:1])
    typer_program = typer.Typer(
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        no_args_is_help=True,
    )
    typer_program.callback()(_options)
    for command in named or _COMMANDS:
        typer_program.command()(command)
    return typer_program


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"docgen {__version__}")
        raise typer.Exit


def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and exit.")
    ] = False,
) -> None:
    """Documents for an alternative drive control on a power wheelchair, from one recorded case."""


app = program()
