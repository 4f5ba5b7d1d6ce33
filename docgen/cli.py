"""The program `docgen`: its commands, in the order its help lists them."""

from __future__ import annotations

from typing import Annotated

import typer

from docgen import __version__
from docgen.commands import packets, record, reports, request

app = typer.Typer(
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"docgen {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and exit.")
    ] = False,
) -> None:
    """Documents for an alternative drive control on a power wheelchair, from one recorded case."""


for command in (
    record.new,
    reports.check,
    record.ask,
    record.answers,
    reports.evidence,
    reports.fit,
    reports.shelf,
    reports.features,
    packets.build,
    packets.approve,
    request.fhir,
    request.decision,
    packets.forget,
    record.count,
    record.rows,
    reports.criteria,
    record.find,
    reports.schema,
):
    app.command()(command)
