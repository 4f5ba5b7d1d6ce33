"""The commands: read the words, call one function, print, choose the exit status.

Nothing heavy is imported at the top of this file: `docgen --help` must answer at once.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer

app = typer.Typer(
    add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False, no_args_is_help=True,
    help="Documents for an alternative drive control on a power wheelchair, from one recorded case.",
)

Cases = Annotated[list[Path], typer.Argument(help="Case folder, its case.toml, or a folder of case folders.", metavar="CASE...")]
One = Annotated[Path, typer.Argument(help="Case folder or its case.toml.", metavar="CASE")]
PayerOption = Annotated[str, typer.Option("--payer", help="Rules of this payer instead of the case's: an id, or a payer file of your own.",
                                          metavar="ID|FILE")]
Today = Annotated[str, typer.Option(help="Day to look from, as 2026-03-31; the day it is when empty.", metavar="DATE")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON for programs.")]

READY, GAPS, UNREADABLE = 0, 1, 2


@app.command()
def new(
    case_id: Annotated[str, typer.Argument(help="Id of the case; also the name of its folder.", metavar="ID")],
    example: Annotated[bool, typer.Option("--example", help="A filled case of an invented person.")] = False,
) -> None:
    """Start a case folder."""
    from docgen.case.new import start
    from docgen.clipboard import clipboard_pdf

    with _problems():
        made = start(Path(case_id), clipboard_pdf, example)
    typer.echo(f"Made {made}: case.toml, trial.csv and clipboard.pdf, a recording sheet to print.")
    typer.echo(f"Fill in {made / 'case.toml'}, then run: docgen check {made}")


@app.command()
def check(cases: Cases, payer: PayerOption = "", today: Today = "", as_json: Json = False) -> None:
    """Say what is missing, contradictory or unsupported, worst first, and what expires when."""
    from docgen.findings import caseload, caseload_row, findings, findings_text, rules_text

    on, rules, folders = _day(today), _payer(payer), _folders(cases)
    reports, rows, pages, broken, gaps = [], [], [], [], False
    told: dict[str, None] = {}
    alone = len(folders) == 1
    for folder in folders:  # each case is let go once its lines are made, so that many take hardly more room than one
        one = _assessed(folder, rules)
        if one is None:
            broken.append(folder.resolve().name)
            continue
        gaps = gaps or bool(one.open)
        report = findings(one, on)
        if as_json:
            reports.append(report)
            continue
        rows.append(caseload_row(report))
        told |= dict.fromkeys(rules_text(report))
        pages.append((-report["blocking"], report["case"], findings_text(report, brief=not alone)))
    if as_json:
        _print_json(reports[0] if alone and reports else {"format": "docgen caseload 1", "cases": reports, "unreadable": broken})
    elif alone:
        typer.echo("".join(page for _, _, page in pages), nl=bool(pages))
    else:
        typer.echo("\n".join([caseload(rows, broken), *(["", *told] if told else []), *(f"\n\n{page}" for _, _, page in sorted(pages))]))
    _leave(gaps, bool(broken))


@app.command()
def evidence(case: One, as_json: Json = False) -> None:
    """Show every computed number with its interval, its rows and its formula."""
    from docgen.errors import Problem, UserError
    from docgen.report import evidence_json, evidence_text

    folders = _folders([case])
    if len(folders) > 1:
        _fail(UserError([Problem(str(case), f"holds {len(folders)} cases", "Name one of them.")]))
    one = _assessed(folders[0])
    if one is None:
        raise typer.Exit(UNREADABLE)
    if as_json:
        _print_json(evidence_json(one))
    else:
        typer.echo(evidence_text(one))


@app.command()
def build(
    cases: Cases,
    out: Annotated[Path, typer.Option(help="Folder the packets are written to.")] = Path("out"),
    formats: Annotated[str, typer.Option(help="Formats, with commas between.")] = "docx,pdf,html",
    only: Annotated[str, typer.Option(help="Documents, with commas between; all when empty.")] = "",
    payer: PayerOption = "",
) -> None:
    """Write the packet of each case. A case with open gaps is built as a draft that shows them."""
    from docgen.packet import FORMATS, build, document_names

    wanted = _chosen("--formats", formats, FORMATS)
    documents = _chosen("--only", only, document_names()) if only else ()
    rules, folders = _payer(payer), _folders(cases)
    many = len(folders) > 3 and sys.stderr.isatty()
    failed, gaps = False, False
    for place, folder in enumerate(folders, 1):
        if many:
            typer.echo(f"\r{place} of {len(folders)}  {folder.name:<40.40}", nl=place == len(folders), err=True)
        one = _assessed(folder, rules)
        if one is None:
            failed = True
            continue
        gaps = gaps or bool(one.open)
        try:
            packet = build(one, out, wanted, documents)
        except Exception as failure:
            _tell(failure)
            failed = True
            continue
        state = "ready for review" if not packet.open else f"draft, {packet.open} open"
        typer.echo(f"{packet.folder}: {len(packet.written)} files, {state}")
        for name in packet.kept:
            typer.echo(f"  {name} was changed by hand and is left as it is; the new one stands beside it")
    _leave(gaps, failed)


@app.command()
def criteria(
    criterion_id: Annotated[str | None, typer.Argument(help="One criterion, in full.", metavar="[ID]")] = None,
) -> None:
    """List the criteria with their sources and thresholds, or explain one."""
    from docgen.report import criteria_text, criterion_text

    with _problems():
        typer.echo(criterion_text(criterion_id) if criterion_id else criteria_text())


@app.command()
def schema() -> None:
    """Print the JSON Schema of a case, for editors."""
    from docgen.case.schema import schema

    _print_json(schema())


def _folders(paths: list[Path]) -> list[Path]:
    from docgen.packet import case_folders

    with _problems():
        return case_folders(paths)


def _assessed(folder: Path, payer: Any = None) -> Any:
    """The case with its answers, or None when it cannot be read; its problems then go to standard error."""
    from docgen.errors import UserError
    from docgen.packet import assess

    try:
        return assess(folder, payer)
    except UserError as failure:
        _tell(failure)
        return None


def _payer(words: str) -> Any:
    """The payer an option names, by its id or by its file; None when the option is empty."""
    from docgen.criteria.payer import load, read_payer

    if not words:
        return None
    with _problems():
        return read_payer(Path(words)) if words.endswith(".toml") or "/" in words else load(words, "--payer")


def _day(words: str) -> date:
    """The day to look from: the only place that reads a clock."""
    from docgen.errors import Problem, UserError

    try:
        return date.fromisoformat(words) if words else date.today()
    except ValueError:
        _fail(UserError([Problem("--today", f"'{words}' is not a day", "Write it as 2026-03-31.")]))


def _chosen(option: str, words: str, allowed: tuple[str, ...]) -> tuple[str, ...]:
    from docgen.errors import Problem, UserError, did_you_mean

    chosen = tuple(dict.fromkeys(word.strip().lower() for word in words.split(",") if word.strip()))
    wrong = [word for word in chosen if word not in allowed]
    if wrong or not chosen:
        _fail(UserError([Problem(option, f"'{word}' is not known", did_you_mean(word, allowed)) for word in wrong or [words]]))
    return chosen


@contextmanager
def _problems() -> Iterator[None]:
    from docgen.errors import UserError

    try:
        yield
    except UserError as failure:
        _fail(failure)


def _tell(failure: Exception) -> None:
    from docgen.errors import UserError

    if not isinstance(failure, UserError):
        raise failure
    for problem in failure.problems:
        typer.echo(str(problem), err=True)


def _fail(failure: Exception) -> NoReturn:
    _tell(failure)
    raise typer.Exit(UNREADABLE)


def _leave(gaps: bool, broken: bool) -> NoReturn:
    if broken:
        raise typer.Exit(UNREADABLE)
    raise typer.Exit(GAPS if gaps else READY)


def _print_json(data: Any) -> None:
    typer.echo(json.dumps(data, indent=2, ensure_ascii=False))
