"""The commands: read the words, call one function, print, choose the exit status.

Nothing heavy is imported at the top of this file: `docgen --help` must answer at once.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Any, NoReturn

import typer

app = typer.Typer(
    add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False, no_args_is_help=True,
    help="Documents for an alternative drive control on a power wheelchair, from one recorded case.",
)

Cases = Annotated[list[Path], typer.Argument(help="Case folder, its case.toml, or a folder of case folders.", metavar="CASE...")]
One = Annotated[Path, typer.Argument(help="Case folder or its case.toml.", metavar="CASE")]
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
def check(cases: Cases, as_json: Json = False) -> None:
    """Say what is missing, contradictory or unsupported, worst first."""
    from docgen.report import caseload, findings, findings_text

    found, broken = _assessed(cases)
    if as_json:
        reports = [findings(one) for one in found]
        _print_json(reports[0] if len(reports) == 1 and not broken else {"format": "docgen caseload 1", "cases": reports})
    else:
        if len(found) > 1:
            typer.echo(caseload(found))
        for one in found:
            typer.echo(findings_text(one, brief=len(found) > 1))
    _leave(found, broken)


@app.command()
def evidence(case: One, as_json: Json = False) -> None:
    """Show every computed number with its interval, its rows and its formula."""
    from docgen.errors import Problem, UserError
    from docgen.report import evidence_json, evidence_text

    found, broken = _assessed([case])
    if broken:
        raise typer.Exit(UNREADABLE)
    if len(found) > 1:
        _fail(UserError([Problem(str(case), f"holds {len(found)} cases", "Name one of them.")]))
    if as_json:
        _print_json(evidence_json(found[0]))
    else:
        typer.echo(evidence_text(found[0]))


@app.command()
def build(
    cases: Cases,
    out: Annotated[Path, typer.Option(help="Folder the packets are written to.")] = Path("out"),
    formats: Annotated[str, typer.Option(help="Formats, with commas between.")] = "docx,pdf,html",
    only: Annotated[str, typer.Option(help="Documents, with commas between; all when empty.")] = "",
) -> None:
    """Write the packet of each case. A case with open gaps is built as a draft that shows them."""
    from docgen.packet import FORMATS, build, document_names

    wanted = _chosen("--formats", formats, FORMATS)
    documents = _chosen("--only", only, document_names()) if only else ()
    found, broken = _assessed(cases)
    many = len(found) > 3 and sys.stderr.isatty()
    failed = broken
    for place, one in enumerate(found, 1):
        if many:
            typer.echo(f"\r{place} of {len(found)}  {one.file.case.id:<40.40}", nl=place == len(found), err=True)
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
    _leave(found, failed)


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


def _assessed(paths: list[Path]) -> tuple[list[Any], bool]:
    """Every case that could be read; the problems of the others go to standard error."""
    from docgen.errors import UserError
    from docgen.packet import assess, case_folders

    found, broken = [], False
    try:
        folders = case_folders(paths)
    except UserError as failure:
        _fail(failure)
    for folder in folders:
        try:
            found.append(assess(folder))
        except UserError as failure:
            _tell(failure)
            broken = True
    return found, broken


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


def _leave(found: list[Any], broken: bool) -> NoReturn:
    if broken:
        raise typer.Exit(UNREADABLE)
    raise typer.Exit(GAPS if any(one.open for one in found) else READY)


def _print_json(data: Any) -> None:
    typer.echo(json.dumps(data, indent=2, ensure_ascii=False))
