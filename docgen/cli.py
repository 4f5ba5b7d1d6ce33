"""The commands: read the words, call one function, print, choose the exit status.

Nothing heavy is imported at the top of this file: `docgen --help` must answer at once.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

if TYPE_CHECKING:
    from docgen.packet.contents import Contents

from docgen.rendering.formats import format_names

app = typer.Typer(
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
    help="Documents for an alternative drive control on a power wheelchair, from one recorded case.",
)

Cases = Annotated[
    list[Path], typer.Argument(help="Case folder, its case.toml, or a folder of case folders.", metavar="CASE...")
]
One = Annotated[Path, typer.Argument(help="Case folder or its case.toml.", metavar="CASE")]
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
Today = Annotated[str, typer.Option(help="Day to look from, as 2026-03-31; the day it is when empty.", metavar="DATE")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON for programs.")]

READY, GAPS, UNREADABLE, STOPPED = 0, 1, 2, 130


@app.command()
def new(
    case_id: Annotated[str, typer.Argument(help="Id of the case; also the name of its folder.", metavar="ID")] = "",
    example: Annotated[bool, typer.Option("--example", help="A filled case of an invented person.")] = False,
    templates: Annotated[
        Path | None,
        typer.Option("--templates", help="Copy the templates to this folder instead, to change them.", metavar="DIR"),
    ] = None,
) -> None:
    """Start a case folder, or a folder of your own templates."""
    from docgen.case.new import start
    from docgen.packet import copy_out
    from docgen.recording_sheet import clipboard_pdf

    if templates is not None and not case_id:
        with _problems():
            copied = copy_out(templates)
        typer.echo(f"Copied {len(copied)} templates to {templates}. Keep those you change, take the others away.")
        typer.echo(f"Build with them: docgen build CASE --templates {templates}")
        return
    if templates is not None or not case_id:
        raise typer.BadParameter("name a case to start, or a folder for templates: one of the two")
    with _problems():
        started = start(Path(case_id), clipboard_pdf, example)
    typer.echo(f"Made {started}: case.toml, trial.csv and clipboard.pdf, a recording sheet to print.")
    typer.echo(
        f"Look at it with: docgen check {started}"
        if example
        else f"Fill in {started / 'case.toml'}, then run: docgen check {started}"
    )


@app.command()
def check(
    cases: Cases, payer: PayerOption = "", today: Today = "", as_json: Json = False, templates: TemplatesOption = None
) -> None:
    """Say what is missing, contradictory or unsupported, worst first, and what expires when."""
    from docgen.console.caseload import caseload, caseload_row
    from docgen.console.check import check_report
    from docgen.console.check_page import check_text, rules_text
    from docgen.packet import reviewed
    from docgen.packet.hard_words import ease

    on, rules, worded, folders = _day(today), _payer(payer), _wording(templates), _folders(cases)
    reports, rows, pages, broken, gaps = [], [], [], [], False
    told: dict[str, None] = {}
    alone = len(folders) == 1
    for folder in folders:  # each case is let go once its lines are made, so that many take hardly more room than one
        one = _assessed(folder, rules)
        if one is None:
            broken.append(folder.resolve().name)
            continue
        gaps = gaps or bool(one.open)
        try:
            report = check_report(
                one,
                on,
                reviewed(one, worded, any_letterhead=True),
                ease(one, worded=worded) if alone or as_json else None,
            )
        except Exception as failure:
            _tell(failure)
            broken.append(folder.resolve().name)
            continue
        if as_json:
            reports.append(report)
            continue
        rows.append(caseload_row(report))
        told |= dict.fromkeys(rules_text(report))
        pages.append((-report["blocking"], report["case"], check_text(report, brief=not alone)))
    if as_json:
        _print_json(
            reports[0] if alone and reports else {"format": "docgen caseload 1", "cases": reports, "unreadable": broken}
        )
    elif alone:
        typer.echo("".join(page for _, _, page in pages), nl=bool(pages))
    else:
        typer.echo(
            "\n".join(
                [
                    caseload(rows, broken),
                    *(["", *told] if told else []),
                    *(f"\n\n{page}" for _, _, page in sorted(pages)),
                ]
            )
        )
    _leave(gaps, bool(broken))


@app.command()
def evidence(case: One, as_json: Json = False) -> None:
    """Show every computed number with its interval, its rows and its formula."""
    from docgen.console.evidence import evidence_json, evidence_text

    one = _only(case)
    if as_json:
        _print_json(evidence_json(one))
    else:
        typer.echo(evidence_text(one))


@app.command()
def fit(case: One, as_json: Json = False) -> None:
    """Hold the findings against the control asked for, and against each one that was not chosen."""
    from docgen.console.fit import fit_json, fit_text

    one = _only(case)
    if as_json:
        _print_json(fit_json(one))
    else:
        typer.echo(fit_text(one))


@app.command()
def features(
    feature_id: Annotated[str | None, typer.Argument(help="One feature, in full.", metavar="[ID]")] = None,
) -> None:
    """List the features of drive controls and what calls for each, or explain one."""
    from docgen.console.features import feature_text, features_text

    with _problems():
        typer.echo(feature_text(feature_id) if feature_id else features_text())


@app.command()
def build(
    cases: Cases,
    out: Annotated[Path, typer.Option(help="Folder the packets are written to.")] = Path("out"),
    formats: Annotated[
        list[str] | None,
        typer.Option(
            help=f"Formats, with commas between: {', '.join(format_names())}; all when left out.", metavar="NAMES"
        ),
    ] = None,
    only: Annotated[
        list[str] | None, typer.Option(help="Documents, with commas between; all when left out.", metavar="NAMES")
    ] = None,
    payer: PayerOption = "",
    templates: TemplatesOption = None,
    letterhead: LetterheadOption = None,
    enclose: Annotated[
        list[str] | None,
        typer.Option(
            help="Documents that packet.pdf holds besides cover, letter and order, with commas between.",
            metavar="NAMES",
        ),
    ] = None,
    deidentified: Annotated[
        bool, typer.Option("--deidentified", help="A copy about nobody, for teaching, in a folder of its own.")
    ] = False,
    lang: Annotated[
        list[str] | None,
        typer.Option(
            help="Languages whose documents are written beside the English ones, with commas between, such as es.",
            metavar="NAMES",
        ),
    ] = None,
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
    """Write the packet of each case. A case with open gaps is built as a draft that shows them."""
    from docgen.console.progress import Progress, waited_for
    from docgen.packet import FORMATS, document_names, languages
    from docgen.packet.many import build_many, told, workers
    from docgen.packet.recipe import Recipe

    if deidentified and letterhead is not None:
        raise typer.BadParameter("a letterhead names the clinic: leave out --letterhead or --deidentified")
    wanted = _chosen("--formats", formats, FORMATS) or FORMATS
    documents = _chosen("--only", only, document_names())
    enclosed = _chosen("--enclose", enclose, document_names())
    langs = _chosen("--lang", lang, languages())
    rules, folders = _payer(payer), _folders(cases)
    _wording(templates), _letterhead(letterhead)  # mistakes in them are told before any work is done
    recipe = Recipe(wanted, documents, enclosed, langs, rules, *_own_files(templates, letterhead), deidentified)
    with _problems():
        those = workers(recipe, out, len(folders), jobs, cluster)
    failed, gaps, n_done, progress = False, False, 0, Progress(len(folders), sys.stderr)
    try:
        progress.show(0, worked=False)
        with _problems():
            begun = build_many(folders, recipe, out, those, force)
        with closing(begun) as outcomes:
            shown = waited_for(outcomes, sys.stderr) if len(folders) == 1 else outcomes
            for n_done, outcome in enumerate(shown, 1):
                progress.clear()
                for line in told(outcome):
                    typer.echo(line, err=outcome.packet is None)
                failed, gaps = (
                    failed or outcome.packet is None,
                    gaps or bool(outcome.packet and outcome.packet.is_draft),
                )
                progress.show(n_done, worked=not (outcome.packet and outcome.packet.unchanged))
    except KeyboardInterrupt:
        progress.clear()
        typer.echo(
            f"Stopped after {n_done} of {len(folders)} cases. Every file written is whole; the same command again does the rest.",
            err=True,
        )
        raise typer.Exit(STOPPED) from None
    progress.clear()
    _leave(gaps, failed)


@app.command()
def approve(
    case: One,
    by: Annotated[
        str, typer.Option("--by", help="Clinician who reviewed the packet, as 'Name, credential'.", metavar="NAME")
    ],
    on: Annotated[
        str, typer.Option("--on", help="Day of the review, as 2026-03-31; the day it is when empty.", metavar="DATE")
    ] = "",
    payer: PayerOption = "",
    templates: TemplatesOption = None,
    letterhead: LetterheadOption = None,
) -> None:
    """Record that a clinician has reviewed exactly this content. Any later change makes it a draft again."""
    from docgen.packet import approve
    from docgen.packet.reviewer import check_day

    reviewed_on, worded, head = _day(on, "--on"), _wording(templates), _letterhead(letterhead)
    with _problems():
        check_day(reviewed_on, _day(""))
    one = _only(case, _payer(payer))
    if one.open:
        typer.echo(f"{one.file.case.id} cannot be approved while these points are open:")
        for verdict in one.open:
            typer.echo(f"  {verdict.criterion.claim}: {verdict.answer.reason}")
        raise typer.Exit(GAPS)
    with _problems():
        record, remark = approve(one, by, reviewed_on, worded, head)
    if remark:
        typer.echo(f"Note: {remark}.", err=True)
    typer.echo(f"Wrote {record}: reviewed by {by} on {reviewed_on}. Build the packet anew to mark its pages.")


@app.command()
def forget(
    case: One,
    out: Annotated[Path, typer.Option(help="Folder the packets were written to.")] = Path("out"),
    yes: Annotated[bool, typer.Option("--yes", help="Remove without asking, once the list is shown.")] = False,
) -> None:
    """Remove what a case has left in the folder of packets, after showing it, and say where else its words may be."""
    from docgen.packet.forget import ELSEWHERE, forget, left_by

    folder = _one_folder(case)
    with _problems():
        left = left_by(folder, out)
    typer.echo(f"{left.folder}: {f'{len(left.names)} to remove' if left.names else 'holds nothing of this case'}")
    for name in left.names:
        typer.echo(f"  {name}")
    for name in left.stays:
        typer.echo(f"  {name} was not written by docgen and stays")
    if left.names and (yes or _agreed("Remove these for good?")):
        with _problems():
            forget(left)
        typer.echo(f"Removed {len(left.names)}.")
    elif left.names:
        typer.echo("Nothing was removed.")
    typer.echo("docgen cannot reach, and you may have to see to:")
    for place in ELSEWHERE:
        typer.echo(f"  {place}")


@app.command()
def criteria(
    criterion_id: Annotated[str | None, typer.Argument(help="One criterion, in full.", metavar="[ID]")] = None,
) -> None:
    """List the criteria with their sources and thresholds, or explain one."""
    from docgen.console.criteria import criteria_text, criterion_text

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


def _one_folder(path: Path) -> Path:
    """The one case folder that a path names."""
    from docgen.errors import Problem, UserError

    folders = _folders([path])
    if len(folders) > 1:
        _fail(UserError([Problem(str(path), f"holds {len(folders)} cases", "Name one of them.")]))
    return folders[0]


def _agreed(question: str) -> bool:
    """Whether a person at the terminal says yes; nobody there is a no."""
    try:
        return typer.confirm(question, err=True)
    except typer.Abort:
        return False


def _only(path: Path, payer: Any = None) -> Any:
    """The one case that a path names, with its answers."""
    one = _assessed(_one_folder(path), payer)
    if one is None:
        raise typer.Exit(UNREADABLE)
    return one


def _assessed(folder: Path, payer: Any = None) -> Any:
    """The case with its answers, or None when it cannot be read; its problems then go to standard error."""
    from docgen.console.progress import waiting
    from docgen.errors import UserError
    from docgen.packet import assess

    try:
        with waiting(sys.stderr):
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


def _wording(templates: Path | None) -> Any:
    """The program's wording, with a clinic's own over it if a folder is named."""
    from docgen.packet import overlaid, wording

    with _problems():
        return overlaid(templates) if templates else wording()


def _letterhead(folder: Path | None) -> Any:
    """The letterhead in the folder an option names; None when the option is empty."""
    if folder is None:
        return None
    from docgen.packet.letterhead import read_letterhead

    with _problems():
        return read_letterhead(folder)


def _own_files(templates: Path | None, letterhead: Path | None) -> tuple[Contents | None, Contents | None]:
    """The files that a clinic's templates and its letterhead are read from; None when the option is empty."""
    from docgen.packet.contents import contents
    from docgen.packet.letterhead import letterhead_files
    from docgen.packet.wording import template_files

    with _problems():
        return (
            contents(templates, template_files(templates)) if templates else None,
            contents(letterhead, letterhead_files(letterhead)) if letterhead else None,
        )


def _day(words: str, option: str = "--today") -> date:
    """The day to look from: the only place that reads a clock."""
    from docgen.errors import Problem, UserError

    try:
        return date.fromisoformat(words) if words else date.today()
    except ValueError:
        _fail(UserError([Problem(option, f"'{words}' is not a day", "Write it as 2026-03-31.")]))


def _chosen(option: str, given: list[str] | None, allowed: tuple[str, ...]) -> tuple[str, ...]:
    """The words of an option, which may be given more than once and may hold several with commas between; none when it was left out."""
    from docgen.errors import Problem, UserError, did_you_mean

    words = [word.strip().lower() for one in given or () for word in one.split(",") if word.strip()]
    if wrong := [word for word in dict.fromkeys(words) if word not in allowed]:
        _fail(UserError([Problem(option, f"'{word}' is not known", did_you_mean(word, allowed)) for word in wrong]))
    return tuple(dict.fromkeys(words))


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
