"""The commands that read a case, or a vocabulary, and print."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

from docgen.commands.options import (
    Cases,
    Json,
    OneCase,
    PayerOption,
    TemplatesOption,
    Today,
    day_of,
    folders_of,
    leave,
    parted,
    print_json,
    problems_told,
    tell,
)
from docgen.rendering.formats import format_names

if TYPE_CHECKING:
    from datetime import date

    from docgen.criteria.payer import Payer
    from docgen.packet.wording import Wording
    from docgen.shelf.device import Shelf

BILLER = "biller"  # who fills in submission.toml, and answers for no key of the case


def check(
    cases: Cases,
    payer: PayerOption = "",
    today: Today = "",
    everything: Annotated[
        bool, typer.Option("--all", help="Every point with its reason and source, and the calendar.")
    ] = False,
    respondent: Annotated[
        str,
        typer.Option(
            "--for", help="Only what this one can answer: supplier, family, biller and others.", metavar="WHO"
        ),
    ] = "",
    as_json: Json = False,
    templates: TemplatesOption = None,
) -> None:
    """Say what is missing, contradictory or unsupported, worst first, and what expires when."""
    from docgen.console.first_page import respondent_named
    from docgen.library import payer_named, worded_by

    day, folders = day_of(today), folders_of(cases)
    if respondent.strip().lower() == BILLER:
        _check_for_biller(folders, as_json)
    with problems_told():
        rules, worded = payer_named(payer or None), worded_by(templates) if templates else None
        respondent = respondent and respondent_named(respondent)
    # how hard the guide is to read stands on the whole page and in JSON; own templates are filled to find mistakes
    reading = as_json or (len(folders) == 1 and (everything or templates is not None))
    checked = _Checked(folders, rules, day, worded, reading)
    if as_json:
        _print_reports(checked, respondent)
    else:
        _print_pages(checked, respondent, everything)
    leave(checked.has_gaps, bool(checked.broken))


class _Checked:
    """The reports of these cases, made as they are asked for: a case is let go once its lines are made, so that many
    take hardly more room than one.

    broken    names of the cases read so far that cannot be used; why not is told on the way
    has_gaps  whether one of those read so far is not ready
    """

    def __init__(
        self, folders: list[Path], payer: Payer | None, today: date | None, templates: Wording | None, reading: bool
    ) -> None:
        self.alone = len(folders) == 1
        self.broken: list[str] = []
        self.has_gaps = False
        self._folders, self._payer, self._today = folders, payer, today
        self._templates, self._reading = templates, reading

    def __iter__(self) -> Iterator[tuple[Path, dict[str, Any]]]:
        from docgen.console.check import check_report
        from docgen.console.progress import waiting
        from docgen.errors import UserError
        from docgen.library import check_case

        for folder in self._folders:
            try:
                with waiting(sys.stderr):
                    result = check_case(
                        folder,
                        payer=self._payer,
                        today=self._today,
                        templates=self._templates,
                        reading=self._reading,
                    )
            except UserError as failure:
                tell(failure)
                self.broken.append(folder.resolve().name)
                continue
            self.has_gaps = self.has_gaps or not result.ready
            yield folder, check_report(result)


def _print_reports(checked: _Checked, respondent: str) -> None:
    """The reports for programs: of one case, of many, or what one respondent is asked of each."""
    from docgen.console.first_page import asked

    if respondent:
        points = [{"case": report["case"], "points": asked(report, respondent)} for _, report in checked]
        _print_asked(respondent, points, checked.broken)
        return
    reports = [report for _, report in checked]
    if checked.alone and reports:
        print_json(reports[0])
    else:
        print_json({"format": "docgen caseload 1", "cases": reports, "unreadable": checked.broken})


def _print_pages(checked: _Checked, respondent: str, everything: bool) -> None:
    """The page of one case; of many a line each, then their pages, those with most to settle first."""
    from docgen.console.caseload import caseload, caseload_row
    from docgen.console.check_page import rules_text

    rows, pages = [], []
    rules_told: dict[str, None] = {}
    for folder, report in checked:
        rows.append(caseload_row(report))
        rules_told |= dict.fromkeys(rules_text(report))
        page = _page(report, folder, respondent, checked.alone, everything)
        pages.append((-report["blocking"], report["case"], page))
    if checked.alone:
        typer.echo("".join(page for _, _, page in pages), nl=bool(pages))
        return
    rules = ["", *rules_told] if rules_told else []
    typer.echo("\n".join([caseload(rows, checked.broken), *rules, *(f"\n\n{page}" for _, _, page in sorted(pages))]))


def _page(report: dict[str, Any], folder: Path, respondent: str, alone: bool, everything: bool) -> str:
    """The page of one case: what a respondent is asked, or all that was found; in brief unless everything is wanted.

    alone  whether no other case is checked with it
    """
    from docgen.console.check_page import check_text
    from docgen.console.first_page import first_page, part_for

    if respondent:
        return part_for(report, respondent)
    if alone and not everything:
        return first_page(report, f"docgen check {folder}")
    return check_text(report, brief=not alone and not everything)


def _print_asked(respondent: str, cases: list[dict[str, Any]], broken: list[str]) -> None:
    """What one of those who can answer is asked of each case, for programs."""
    print_json({"format": "docgen asked 1", "for": respondent, "cases": cases, "unreadable": broken})


def _check_for_biller(folders: list[Path], as_json: bool) -> NoReturn:
    """What an electronic request of each case still lacks."""
    from msgspec.structs import asdict

    from docgen.errors import UserError
    from docgen.request.prepare import lacking

    broken: list[str] = []
    cases: list[dict[str, Any]] = []
    for folder in folders:
        name = folder.resolve().name
        try:
            missing = lacking(folder)
        except UserError as failure:
            tell(failure)
            broken.append(name)
            continue
        cases.append({"case": name, "points": [asdict(problem) for problem in missing]})
        if as_json:
            continue
        typer.echo(
            f"{name}: {len(missing)} to fill in for an electronic request" if missing else f"{name}: all is there"
        )
        for problem in missing:
            typer.echo(f"  {problem}")
    if as_json:
        _print_asked(BILLER, cases, broken)
    leave(any(case["points"] for case in cases), bool(broken))


def evidence(
    case: OneCase,
    everything: Annotated[
        bool, typer.Option("--all", help="Every number with its interval, its rows and its formula.")
    ] = False,
    as_json: Json = False,
) -> None:
    """Show on one page what the trial supports, each control a column; every number with --all."""
    from docgen.console.evidence import evidence_json, evidence_text
    from docgen.console.evidence_page import evidence_page
    from docgen.console.progress import waiting
    from docgen.library import evidence_of

    with problems_told(), waiting(sys.stderr):
        result = evidence_of(case)
    if as_json:
        print_json(evidence_json(result))
    else:
        typer.echo(evidence_text(result) if everything else evidence_page(result, f"docgen evidence {case}"))


def fit(
    case: Annotated[
        Path, typer.Argument(help="Case folder or its case.toml; with --shelf a folder of cases too.", metavar="CASE")
    ],
    shelf: Annotated[
        Path | None,
        typer.Option(
            "--shelf", help="Hold the devices of this shelf.toml, or of a folder of them, against it.", metavar="FILE"
        ),
    ] = None,
    pair: Annotated[
        tuple[str, str] | None,
        typer.Option("--why", help="With --shelf: why the one device rather than the other.", metavar="A B"),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option("--out", help="With --shelf: write the comparison as a page into this folder.", metavar="DIR"),
    ] = None,
    formats: Annotated[
        list[str] | None,
        typer.Option(help=f"Formats of that page: {', '.join(format_names())}; all if left out.", metavar="FORMATS"),
    ] = None,
    as_json: Json = False,
) -> None:
    """Compare the findings with the requested control, and with each one that was not chosen; or with a shelf."""
    from docgen.console.fit import fit_text
    from docgen.console.fit_json import fit_json
    from docgen.console.progress import waiting
    from docgen.library import fit_of

    if shelf is None and (pair is not None or out is not None):
        raise typer.BadParameter("--why and --out are about a shelf: name it with --shelf")
    if shelf is not None:
        _match(folders_of([case]), shelf, pair, as_json, out, parted(formats))
        return
    with problems_told(), waiting(sys.stderr):
        result = fit_of(case)
    if as_json:
        print_json(fit_json(result))
    else:
        typer.echo(fit_text(result))


def _match(
    folders: list[Path], path: Path, pair: tuple[str, str] | None, as_json: bool, out: Path | None, formats: list[str]
) -> None:
    """A shelf held against one case, or counted over many."""
    from docgen.console.match import match_text, why_text
    from docgen.console.match_json import match_json
    from docgen.console.progress import waiting
    from docgen.filling import match_files
    from docgen.library import match_of, shelf_at

    with problems_told(), waiting(sys.stderr):
        shelf = shelf_at(path)
        result = match_of(folders[0], shelf) if len(folders) == 1 else None
    if result is None:
        if out is not None:
            raise typer.BadParameter("--out writes a page about one client: name one case")
        _caseload(folders, shelf, pair, as_json)
        return
    with problems_told():
        text = why_text(result, *pair) if pair else match_text(result)
        written = match_files(result, out, formats) if out is not None else []
    if as_json:
        print_json(match_json(result, pair))
    elif written:
        typer.echo("Wrote " + ", ".join(map(str, written)))
    else:
        typer.echo(text)


def _caseload(folders: list[Path], shelf: Shelf, pair: tuple[str, str] | None, as_json: bool) -> None:
    from docgen.console.match import caseload_text
    from docgen.console.match_json import caseload_json
    from docgen.errors import UserError
    from docgen.library import match_of
    from docgen.shelf.caseload import caseload
    from docgen.shelf.match import Match

    if pair is not None:
        raise typer.BadParameter("--why asks about one client: name one case")
    broken = 0

    def matches() -> Iterator[Match]:
        nonlocal broken
        for folder in folders:
            try:
                yield match_of(folder, shelf).match
            except UserError as failure:
                tell(failure)
                broken += 1

    counts = caseload(shelf, matches())
    if as_json:
        print_json(caseload_json(counts, broken))
    else:
        typer.echo(caseload_text(counts, shelf, broken))
    leave(False, bool(broken))


def shelf(
    path: Annotated[
        Path | None,
        typer.Argument(help="shelf.toml, or a folder of them; the invented one if left out.", metavar="[FILE]"),
    ] = None,
    today: Today = "",
) -> None:
    """List the devices of a shelf, and say what is old, or not known where it decides something."""
    from datetime import date

    from docgen.console.shelf import shelf_text
    from docgen.library import shelf_at

    day = day_of(today) or date.today()
    with problems_told():
        typer.echo(shelf_text(shelf_at(path), day))


def features(
    feature_id: Annotated[str | None, typer.Argument(help="One feature, in full.", metavar="[ID]")] = None,
) -> None:
    """List the features of drive controls and what calls for each, or explain one."""
    from docgen.console.features import feature_text, features_text

    with problems_told():
        typer.echo(feature_text(feature_id) if feature_id else features_text())


def criteria(
    criterion_id: Annotated[str | None, typer.Argument(help="One criterion, in full.", metavar="[ID]")] = None,
) -> None:
    """List the criteria with their sources and thresholds, or explain one."""
    from docgen.console.criteria import criteria_text, criterion_text

    with problems_told():
        typer.echo(criterion_text(criterion_id) if criterion_id else criteria_text())


def schema(
    of: Annotated[
        str,
        typer.Option("--of", help="case, trial, totals, sessions, submission, order or manifest.", metavar="FILE"),
    ] = "case",
) -> None:
    """Print the JSON Schema of a case, for editors, or of another file that goes in or comes out."""
    from docgen.console.schemas import schema_of

    with problems_told():
        print_json(schema_of(of))
