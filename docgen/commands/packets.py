"""The commands that write, approve and remove packets."""

from __future__ import annotations

import sys
from contextlib import closing
from pathlib import Path
from typing import Annotated

import typer

from docgen.commands.options import (
    Cases,
    LetterheadOption,
    OneCase,
    PayerOption,
    TemplatesOption,
    agreed,
    day_of,
    enclosed,
    fail,
    folders_of,
    leave,
    parted,
    problems_told,
)
from docgen.commands.statuses import GAPS, STOPPED
from docgen.rendering.formats import format_names


def build(
    cases: Cases,
    out: Annotated[Path, typer.Option(help="Folder the packets are written to.")] = Path("out"),
    formats: Annotated[
        list[str] | None,
        typer.Option(
            help=f"Formats, separated by commas: {', '.join(format_names())}; all when left out.", metavar="NAMES"
        ),
    ] = None,
    only: Annotated[
        list[str] | None, typer.Option(help="Documents, separated by commas; all when left out.", metavar="NAMES")
    ] = None,
    payer: PayerOption = "",
    templates: TemplatesOption = None,
    letterhead: LetterheadOption = None,
    enclose: Annotated[
        list[str] | None,
        typer.Option(
            help=(
                "What packet.pdf holds besides cover, letter and order: documents, separated by commas, and papers of "
                "others, each in an --enclose of its own, as FILE.pdf or NAME=FILE.pdf (order, encounter, concurrence, "
                "supplier, home, authorization, rows or a name of yours)."
            ),
            metavar="NAMES|FILE",
        ),
    ] = None,
    deidentified: Annotated[
        bool, typer.Option("--deidentified", help="A de-identified copy, for teaching, in a folder of its own.")
    ] = False,
    lang: Annotated[
        list[str] | None,
        typer.Option(
            help="Languages whose documents are written beside the English ones, separated by commas, such as es.",
            metavar="NAMES",
        ),
    ] = None,
    no_large_print: Annotated[
        bool, typer.Option("--no-large-print", help="Leave out the sheets for daily use in large letters.")
    ] = False,
    jobs: Annotated[
        int,
        typer.Option(
            help="Processes that work at a time; when 0, one a core if there are more than a few cases.",
            min=0,
            metavar="N",
        ),
    ] = 0,
    cluster: Annotated[
        str,
        typer.Option(
            help="Scheduler of a Dask cluster that does the work instead; the cases go there.", metavar="ADDRESS"
        ),
    ] = "",
    force: Annotated[bool, typer.Option("--force", help="Build unchanged cases too.")] = False,
) -> None:
    """Write the packet of each case. A case with open points is built as a draft that shows them."""
    from docgen.building import build_packets
    from docgen.console.progress import Progress, waited_for
    from docgen.packet.many import outcome_lines

    folders = folders_of(cases)
    with problems_told():
        outcomes = build_packets(
            folders,
            out,
            formats=parted(formats),
            only=parted(only),
            payer=payer or None,
            templates=templates,
            letterhead=letterhead,
            enclose=enclosed(enclose),
            langs=parted(lang),
            large_print=not no_large_print,
            deidentified=deidentified,
            jobs=jobs,
            cluster=cluster,
            force=force,
        )
    failed, gaps, n_done, progress = False, False, 0, Progress(len(folders), sys.stderr)
    try:
        progress.show(0, worked=False)
        with closing(outcomes):
            shown = waited_for(outcomes, sys.stderr) if len(folders) == 1 else outcomes
            for n_done, outcome in enumerate(shown, 1):
                progress.clear()
                for line in outcome_lines(outcome):
                    typer.echo(line, err=outcome.packet is None)
                failed, gaps = (
                    failed or outcome.packet is None,
                    gaps or bool(outcome.packet and outcome.packet.is_draft),
                )
                progress.show(n_done, worked=not (outcome.packet and outcome.packet.unchanged))
    except KeyboardInterrupt:
        progress.clear()
        typer.echo(
            (
                f"Stopped after {n_done} of {len(folders)} cases. Every file written is whole; the same command "
                "again does the rest."
            ),
            err=True,
        )
        raise typer.Exit(STOPPED) from None
    progress.clear()
    leave(gaps, failed)


def approve(
    case: OneCase,
    by: Annotated[
        str, typer.Option("--by", help="Clinician who reviewed the packet, as 'Name, credential'.", metavar="NAME")
    ],
    on: Annotated[
        str,
        typer.Option(
            "--on", "--today", help="Day of the review, such as 2026-03-31; today if left out.", metavar="DATE"
        ),
    ] = "",
    payer: PayerOption = "",
    templates: TemplatesOption = None,
    letterhead: LetterheadOption = None,
    signed_letter: Annotated[
        Path | None,
        typer.Option(
            help=(
                "Scan of the approved letter, signed, as a PDF in the case folder: it takes the letter's place in "
                "packet.pdf. Nothing is approved again."
            ),
            metavar="FILE",
        ),
    ] = None,
    out: Annotated[Path, typer.Option(help="Folder the packet with that letter was written to.")] = Path("out"),
) -> None:
    """Record that a clinician has reviewed exactly this content. Any later change makes it a draft again."""
    from docgen.building import NotReady, approve_case
    from docgen.console.progress import waiting
    from docgen.errors import UserError

    day = day_of(on, "--on")
    try:
        with waiting(sys.stderr):
            approval = approve_case(
                case,
                by,
                day,
                payer=payer or None,
                templates=templates,
                letterhead=letterhead,
                signed_letter=signed_letter,
                out=out,
            )
    except NotReady as refusal:
        typer.echo(f"{refusal.case.id} cannot be approved while these points are open:")
        for verdict in refusal.open:
            typer.echo(f"  {verdict.criterion.claim}: {verdict.answer.reason}")
        raise typer.Exit(GAPS) from None
    except UserError as failure:
        fail(failure)
    if approval.remark:
        typer.echo(f"Note: {approval.remark}.", err=True)
    if signed_letter:
        typer.echo(f"Wrote {approval.path}: {signed_letter.name} is the letter, signed. Build the packet again.")
        return
    typer.echo(
        f"Wrote {approval.path}: reviewed by {approval.by} on {approval.on}. Build the packet again to mark its pages."
    )


def forget(
    case: OneCase,
    out: Annotated[Path, typer.Option(help="Folder the packets were written to.")] = Path("out"),
    yes: Annotated[bool, typer.Option("--yes", help="Remove without asking, once the list is shown.")] = False,
) -> None:
    """Remove what a case has left in the folder of packets, after showing it, and say where else its words may be."""
    from docgen.desk import kept
    from docgen.library import case_folder
    from docgen.packet.forget import ELSEWHERE, forget, left_by

    with problems_told():
        left = left_by(case_folder(case), out)
        of_desk = kept.names(left.case)
    typer.echo(f"{left.folder}: {f'{len(left.names)} to remove' if left.names else 'holds nothing of this case'}")
    for name in left.names:
        typer.echo(f"  {name}")
    for name in left.stays:
        typer.echo(f"  {name} was not written by docgen and stays")
    if of_desk:
        files = "1 file" if len(of_desk) == 1 else f"{len(of_desk)} files"
        typer.echo(f"  {kept.FOLDER} in the case folder, with {files} that the desk keeps: earlier texts of the case")
    if (left.names or of_desk) and (yes or agreed("Remove these for good?")):
        with problems_told():
            if left.names:
                forget(left)
            kept.forget(left.case)
        typer.echo(f"Removed {len(left.names) + len(of_desk)}.")
    elif left.names or of_desk:
        typer.echo("Nothing was removed.")
    typer.echo("docgen cannot reach, and you may have to see to:")
    for place in ELSEWHERE:
        typer.echo(f"  {place}")
