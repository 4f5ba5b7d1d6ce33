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
from typing import Annotated, NoReturn

import typer

from docgen import __version__
from docgen.rendering.formats import format_names

app = typer.Typer(
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
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


@app.command()
def new(
    case_id: Annotated[str, typer.Argument(help="Id of the case; also the name of its folder.", metavar="ID")] = "",
    example: Annotated[bool, typer.Option("--example", help="A filled case of an invented person.")] = False,
    templates: Annotated[
        Path | None,
        typer.Option("--templates", help="Copy the templates to this folder instead, to change them.", metavar="DIR"),
    ] = None,
    payer: Annotated[str, typer.Option(help="Payer of the request, by id or as a payer file.")] = "general",
    kind: Annotated[str, typer.Option(help="Kind of request, such as new_chair.")] = "",
    control: Annotated[
        str, typer.Option(help="The control to be asked for, by the id of its feature, such as head_array.")
    ] = "",
    everything: Annotated[
        bool, typer.Option("--all", help="Every key that a case may hold, not only those of this request.")
    ] = False,
    former: Annotated[
        Path | None,
        typer.Option("--from", help="A former case to carry over, each dated fact to be looked at.", metavar="CASE"),
    ] = None,
) -> None:
    """Start a case folder, or a folder of your own templates."""
    from docgen.case.new import start
    from docgen.library import asked_of_new
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
        asked = None if example or everything or former else asked_of_new(payer, kind or None, control or None)
        started = start(Path(case_id), clipboard_pdf, example, asked, former)
    typer.echo(f"Made {started}: case.toml, trial.csv and clipboard.pdf, a recording sheet to print.")
    typer.echo(
        f"Look at it with: docgen check {started}"
        if example
        else f"Fill in {started / 'case.toml'}, then run: docgen check {started}"
    )


@app.command()
def check(
    cases: Cases,
    payer: PayerOption = "",
    today: Today = "",
    everything: Annotated[
        bool, typer.Option("--all", help="Every point with its reason and source, and the calendar.")
    ] = False,
    respondent: Annotated[
        str, typer.Option("--for", help="Only what this one can answer, such as supplier or family.", metavar="WHO")
    ] = "",
    as_json: Json = False,
    templates: TemplatesOption = None,
) -> None:
    """Say what is missing, contradictory or unsupported, worst first, and what expires when."""
    from docgen.console.caseload import caseload, caseload_row
    from docgen.console.check import check_report
    from docgen.console.check_page import check_text, rules_text
    from docgen.console.first_page import first_page, part_for, respondent_named
    from docgen.console.progress import waiting
    from docgen.errors import UserError
    from docgen.library import check_case, payer_named, worded_by

    day, folders = _day(today), _folders(cases)
    with _problems():
        rules, worded = payer_named(payer or None), worded_by(templates)
        respondent = respondent and respondent_named(respondent)
    reports, rows, pages, broken, gaps = [], [], [], [], False
    rules_told: dict[str, None] = {}
    alone = len(folders) == 1
    for folder in folders:  # each case is let go once its lines are made, so that many take hardly more room than one
        try:
            with waiting(sys.stderr):
                result = check_case(folder, payer=rules, today=day, templates=worded, reading=alone or as_json)
        except UserError as failure:
            _tell(failure)
            broken.append(folder.resolve().name)
            continue
        gaps, report = gaps or not result.ready, check_report(result)
        if as_json:
            reports.append(report)
            continue
        rows.append(caseload_row(report))
        rules_told |= dict.fromkeys(rules_text(report))
        if respondent:
            page = part_for(report, respondent)
        elif alone and not everything:
            page = first_page(report, f"docgen check {folder}")
        else:
            page = check_text(report, brief=not alone and not everything)
        pages.append((-report["blocking"], report["case"], page))
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
                    *(["", *rules_told] if rules_told else []),
                    *(f"\n\n{page}" for _, _, page in sorted(pages)),
                ]
            )
        )
    _leave(gaps, bool(broken))


@app.command()
def ask(
    case: One,
    respondent: Annotated[
        str, typer.Option("--for", help="Who is asked: supplier, practitioner, family, school or payer.", metavar="WHO")
    ],
    out: Annotated[
        Path | None, typer.Option(help="Folder the sheet is written to; the case folder itself if not named.")
    ] = None,
    formats: Annotated[
        list[str] | None, typer.Option(help="docx, pdf, html; all of them if not named.", metavar="FORMATS")
    ] = None,
) -> None:
    """Write a sheet of what is still needed from one reader, in words that reader may see, with room to answer."""
    from docgen.console.first_page import respondent_named
    from docgen.library import ask_sheet

    with _problems():
        written = ask_sheet(case, respondent_named(respondent), out, _parted(formats))
    if not written:
        typer.echo(f"Nothing is open that is asked of: {respondent}.")
        return
    typer.echo("Wrote " + ", ".join(str(path) for path in written))
    typer.echo(f"What the page in HTML saves comes back with: docgen answers {case} FILE")


@app.command()
def answers(
    case: One,
    file: Annotated[Path, typer.Argument(help="The file of answers that a sheet saved.", metavar="FILE")],
    yes: Annotated[bool, typer.Option("--yes", help="Write without asking.")] = False,
    today: Today = "",
) -> None:
    """Take the answers of a sheet into the case: shown first, and nothing that is recorded is replaced."""
    from docgen.case.answers import shown_answers
    from docgen.library import answers_of, take_in

    day = _day(today)
    with _problems():
        case_file, sheet = answers_of(case, file)
        lines = shown_answers(case_file, sheet.answers)
    for line in (*lines, *(f"left out: {reason}" for reason in sheet.left)):
        typer.echo(line)
    if not sheet.answers:
        typer.echo("Nothing to write.")
        return
    if not yes and not _agreed(f"Write these {len(lines)} into {case_file.folder / 'case.toml'}?"):
        typer.echo("Nothing was written.")
        return
    with _problems():
        take_in(case_file, sheet, day)
    typer.echo(f"Wrote {len(lines)} into {case_file.folder / 'case.toml'}. Next: docgen check {case}")


@app.command()
def evidence(case: One, as_json: Json = False) -> None:
    """Show every computed number with its interval, its rows and its formula."""
    from docgen.console.evidence import evidence_json, evidence_text
    from docgen.console.progress import waiting
    from docgen.library import evidence_of

    with _problems(), waiting(sys.stderr):
        result = evidence_of(case)
    if as_json:
        _print_json(evidence_json(result))
    else:
        typer.echo(evidence_text(result))


@app.command()
def fit(case: One, as_json: Json = False) -> None:
    """Compare the findings with the control asked for, and with each one that was not chosen."""
    from docgen.console.fit import fit_json, fit_text
    from docgen.console.progress import waiting
    from docgen.library import fit_of

    with _problems(), waiting(sys.stderr):
        result = fit_of(case)
    if as_json:
        _print_json(fit_json(result))
    else:
        typer.echo(fit_text(result))


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
    from docgen.library import build_packets
    from docgen.packet.many import outcome_lines

    folders = _folders(cases)
    with _problems():
        outcomes = build_packets(
            folders,
            out,
            formats=_parted(formats),
            only=_parted(only),
            payer=payer or None,
            templates=templates,
            letterhead=letterhead,
            enclose=_parted(enclose),
            langs=_parted(lang),
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
    from docgen.console.progress import waiting
    from docgen.errors import UserError
    from docgen.library import NotReady, approve_case

    day = _day(on, "--on")
    try:
        with waiting(sys.stderr):
            approval = approve_case(case, by, day, payer=payer or None, templates=templates, letterhead=letterhead)
    except NotReady as refusal:
        typer.echo(f"{refusal.case.id} cannot be approved while these points are open:")
        for verdict in refusal.open:
            typer.echo(f"  {verdict.criterion.claim}: {verdict.answer.reason}")
        raise typer.Exit(GAPS) from None
    except UserError as failure:
        _fail(failure)
    if approval.remark:
        typer.echo(f"Note: {approval.remark}.", err=True)
    typer.echo(
        f"Wrote {approval.path}: reviewed by {approval.by} on {approval.on}. Build the packet anew to mark its pages."
    )


@app.command()
def forget(
    case: One,
    out: Annotated[Path, typer.Option(help="Folder the packets were written to.")] = Path("out"),
    yes: Annotated[bool, typer.Option("--yes", help="Remove without asking, once the list is shown.")] = False,
) -> None:
    """Remove what a case has left in the folder of packets, after showing it, and say where else its words may be."""
    from docgen.library import case_folder
    from docgen.packet.forget import ELSEWHERE, forget, left_by

    with _problems():
        left = left_by(case_folder(case), out)
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
def rows(
    case: One,
    file: Annotated[Path, typer.Argument(help="Spreadsheet as it came: CSV, XLSX, XLS or ODS.", metavar="FILE")],
    answers: Annotated[
        list[str] | None,
        typer.Option(
            "--map", help="Answer to a question, as it is shown; may be given many times.", metavar="KEY=ANSWER"
        ),
    ] = None,
    add: Annotated[bool, typer.Option("--add", help="Add to the rows that are there.")] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Put them in the place of the rows there.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Write without asking, once all is shown.")] = False,
) -> None:
    """Take the rows or day totals of a trial from a spreadsheet, after showing what is made of it."""
    from docgen.console.rows import made_text, questions_text
    from docgen.library import case_folder
    from docgen.spreadsheet.take import answers_of, take
    from docgen.spreadsheet.write import write_rows

    if add and replace:
        raise typer.BadParameter("--add or --replace: one of the two")
    with _problems():
        folder, given = case_folder(case), answers_of(answers or [])
        taken = take(folder, file, given)
    while taken.read.questions and sys.stdin.isatty():
        question = taken.read.questions[0]
        given[question.key] = typer.prompt(f"{question.asks} [{' / '.join(question.options)}]", err=True).strip()
        with _problems():
            taken = take(folder, file, given)
    typer.echo(made_text(taken.read, file, taken.target))
    if taken.read.questions:
        typer.echo(questions_text(taken.read), err=True)
        raise typer.Exit(UNREADABLE)
    if taken.problems or not taken.read.rows:
        from docgen.errors import Problem, UserError

        _fail(UserError(taken.problems or [Problem(str(file), "holds no row", "Is this the right file?")]))
    if not (yes or _agreed(f"Write them to {folder / taken.target}?")):
        typer.echo("Nothing was written.")
        return
    with _problems():
        for path in write_rows(
            taken.read, file, folder, taken.rows_name, "add" if add else "replace" if replace else ""
        ):
            typer.echo(f"Wrote {path}")


@app.command()
def criteria(
    criterion_id: Annotated[str | None, typer.Argument(help="One criterion, in full.", metavar="[ID]")] = None,
) -> None:
    """List the criteria with their sources and thresholds, or explain one."""
    from docgen.console.criteria import criteria_text, criterion_text

    with _problems():
        typer.echo(criterion_text(criterion_id) if criterion_id else criteria_text())


@app.command()
def find(
    words: Annotated[
        list[str] | None, typer.Argument(help="What to look for, in words of your own.", metavar="[WORD...]")
    ] = None,
) -> None:
    """Look for a finding, feature, kind, setting, payer or code by any word, synonym or term of the trade."""
    from docgen.console.find import found_text, vocabularies_text

    typer.echo(found_text(" ".join(words)) if words else vocabularies_text())


@app.command()
def schema() -> None:
    """Print the JSON Schema of a case, for editors."""
    from docgen.vocabulary import schema

    _print_json(schema())


def _folders(paths: list[Path]) -> list[Path]:
    from docgen.packet import case_folders

    with _problems():
        return case_folders(paths)


def _agreed(question: str) -> bool:
    """Whether a person at the terminal says yes; nobody there is a no."""
    try:
        return typer.confirm(question, err=True)
    except typer.Abort:
        return False


def _day(words: str, option: str = "--today") -> date | None:
    """The day an option names; None when it is empty."""
    from docgen.errors import Problem, UserError

    try:
        return date.fromisoformat(words) if words else None
    except ValueError:
        _fail(UserError([Problem(option, f"'{words}' is not a day", "Write it as 2026-03-31.")]))


def _parted(given: list[str] | None) -> list[str]:
    """The words of an option, which may be given more than once and may hold several with commas between."""
    return [word.strip().lower() for words in given or () for word in words.split(",") if word.strip()]


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


def _print_json(data: object) -> None:
    typer.echo(json.dumps(data, indent=2, ensure_ascii=False))
