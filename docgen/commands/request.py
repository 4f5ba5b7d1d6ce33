"""The commands for whoever sends a request to the payer as data, and takes the answer."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from docgen.commands.options import (
    GAPS,
    LetterheadOption,
    OneCase,
    PayerOption,
    TemplatesOption,
    problems_told,
)


def fhir(
    case: OneCase,
    out: Annotated[Path, typer.Option(help="Folder of the packets; the request is written beside them.")] = Path("out"),
    version: Annotated[
        str, typer.Option("--pas", help="Version of the guide: 2.2.1 or 2.0.1.", metavar="VERSION")
    ] = "2.2.1",
    draft: Annotated[
        bool, typer.Option("--draft", help="Write what there is, as a draft that no conforming server takes.")
    ] = False,
    payer: PayerOption = "",
    templates: TemplatesOption = None,
    letterhead: LetterheadOption = None,
) -> None:
    """Write an approved case as a request for prior authorization in HL7 FHIR. It is a file: sending it is not done."""
    from docgen.request.prepare import prepare_request

    with problems_told():
        prepared = prepare_request(
            case,
            out,
            version=version,
            draft=draft,
            payer=payer or None,
            templates=templates,
            letterhead=letterhead,
        )
    for remark in prepared.remarks:
        typer.echo(f"Note: {remark}", err=True)
    if prepared.path is None:
        typer.echo(f"{prepared.case_id}: no request is written while this is open:", err=True)
        for verdict in prepared.open:
            typer.echo(f"  {verdict.criterion.claim}: {verdict.answer.reason}", err=True)
        for gap in prepared.gaps:
            typer.echo(f"  {gap}", err=True)
        raise typer.Exit(GAPS)
    typer.echo(f"Wrote {prepared.path}")
    if draft:
        typer.echo("It is a draft: it says so to every server, and values that are missing stand as missing.")
