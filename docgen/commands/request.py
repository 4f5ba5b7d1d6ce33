"""The commands for whoever sends a request to the payer as data, and takes the answer."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from docgen.commands.options import (
    LetterheadOption,
    OneCase,
    PayerOption,
    TemplatesOption,
    Today,
    day_of,
    problems_told,
    write_answers,
)
from docgen.commands.statuses import GAPS


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


def decision(
    case: OneCase,
    outcome: Annotated[
        str, typer.Option(help="affirmed, partly, not_affirmed or more_information.", metavar="OUTCOME")
    ] = "",
    on: Annotated[str, typer.Option("--on", help="Day of the decision, such as 2026-03-31.", metavar="DATE")] = "",
    number: Annotated[str, typer.Option(help="Number of the authorization or of the denial.")] = "",
    valid_from: Annotated[str, typer.Option("--from", help="First day of the authorization.", metavar="DATE")] = "",
    valid_until: Annotated[str, typer.Option("--until", help="Last day of the authorization.", metavar="DATE")] = "",
    line: Annotated[
        list[str] | None,
        typer.Option(help="What the payer says of one line; once for each.", metavar="ITEM=WORDS"),
    ] = None,
    reason: Annotated[
        list[str] | None, typer.Option(help="A reason for denying, as the payer writes it; once for each.")
    ] = None,
    deadline: Annotated[str, typer.Option(help="Last day for an appeal.", metavar="DATE")] = "",
    asks: Annotated[list[str] | None, typer.Option(help="What more the payer asks for; once for each.")] = None,
    yes: Annotated[bool, typer.Option("--yes", help="Write without asking.")] = False,
    today: Today = "",
) -> None:
    """Take the payer's answer into the case: asked for what is not given, and shown before it is written."""
    from docgen.case.read import read_case
    from docgen.console.decision import Given, ask_what_is_left, line_answered
    from docgen.errors import Problem, UserError
    from docgen.library import case_folder
    from docgen.request.decision import Decision, decided, outcome_named

    given = Given(outcome, on, number, valid_from, valid_until, deadline, _not_empty(reason), _not_empty(asks))
    if sys.stdin.isatty():
        ask_what_is_left(given, yes)
    days = {
        "--on": given.on,
        "--from": given.valid_from,
        "--until": given.valid_until,
        "--deadline": given.deadline,
    }
    read = {option: day_of(words, option) for option, words in days.items()}
    decided_on, today_is = read["--on"], day_of(today)
    with problems_told():
        if not given.outcome or decided_on is None:
            missing = [option for option, words in (("--outcome", given.outcome), ("--on", given.on)) if not words]
            raise UserError(
                Problem(option, "is missing", "Say what the payer decided, and when.") for option in missing
            )
        file = read_case(case_folder(case))
        answer = Decision(
            outcome_named(given.outcome),
            decided_on,
            given.number,
            read["--from"],
            read["--until"],
            dict(map(line_answered, line or ())),
            tuple(given.reasons),
            read["--deadline"],
            tuple(given.asks),
        )
        sheet = decided(file, answer)
    write_answers(file, sheet, yes, today_is)


def _not_empty(words: list[str] | None) -> list[str]:
    """The words given, without empty ones."""
    return [word.strip() for word in words or () if word.strip()]
