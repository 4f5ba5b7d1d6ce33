"""The commands that fill a case: start it, take in rows and answers, find its words."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from docgen.commands.options import (
    OneCase,
    Today,
    agreed,
    day_of,
    fail,
    parted,
    problems_told,
    write_answers,
)
from docgen.commands.statuses import UNREADABLE
from docgen.rendering.formats import format_names


def new(
    case_id: Annotated[str, typer.Argument(help="Id of the case; also the name of its folder.", metavar="ID")] = "",
    example: Annotated[bool, typer.Option("--example", help="A filled case of an invented person.")] = False,
    templates: Annotated[
        Path | None,
        typer.Option("--templates", help="Copy the templates to this folder instead, to change them.", metavar="DIR"),
    ] = None,
    payer: Annotated[
        list[str] | None,
        typer.Option(help="Payer of the request, by id or as a payer file; each in the order in which it is asked."),
    ] = None,
    kind: Annotated[
        str,
        typer.Option(  # as docgen/case/who.py says it, which no command waits for
            help="Kind of request. new_chair: a chair with its control; control_only: another control on a chair "
            "already there, which stays; replacement: a chair in place of one that was lost or cannot be repaired, not "
            "a control alone."
        ),
    ] = "",
    control: Annotated[
        str, typer.Option(help="The control to be requested, by the id of its feature, such as head_array.")
    ] = "",
    everything: Annotated[
        bool, typer.Option("--all", help="Every key that a case may hold, not only those of this request.")
    ] = False,
    shelf: Annotated[
        Path | None,
        typer.Option("--shelf", help="Start a shelf of devices to borrow in this file instead.", metavar="FILE"),
    ] = None,
    language: Annotated[
        str,
        typer.Option(
            "--language",
            help="Start the folder of a language with every text to translate, or make its pages of what came back.",
            metavar="TAG",
        ),
    ] = "",
    former: Annotated[
        Path | None,
        typer.Option(
            "--from", help="A former case to carry over; each dated fact is to be checked again.", metavar="CASE"
        ),
    ] = None,
    submission: Annotated[
        bool,
        typer.Option(
            "--submission", help="For the case that is there: the file of what only an electronic request needs."
        ),
    ] = False,
) -> None:
    """Start a case folder, a folder of your own templates, or a shelf of devices."""
    if language:
        if case_id or templates is not None or shelf is not None:
            raise typer.BadParameter("--language starts a language alone: leave out the rest")
        _new_language(language)
    elif submission:
        _new_submission(Path(case_id))
    elif templates is not None and not case_id:
        _new_templates(templates)
    elif shelf is not None:
        if case_id or templates is not None:
            raise typer.BadParameter("--shelf starts a shelf alone: leave out the case and the templates")
        _new_shelf(shelf)
    elif templates is not None or not case_id:
        raise typer.BadParameter("name a case to start, or a folder for templates: one of the two")
    else:
        asked_for = None if example or everything or former else (payer or (), kind or None, control or None)
        _new_case(Path(case_id), example, asked_for, former)


def _new_case(
    case: Path, example: bool, asked_for: tuple[Sequence[str], str | None, str | None] | None, former: Path | None
) -> None:
    """Start a case: with the keys that payers, kind and control of `asked_for` need, or with every key."""
    from docgen.case.new import start
    from docgen.filling import asked_of_new, count_file
    from docgen.recording_sheet import clipboard_pdf

    with problems_told():
        started = start(case, clipboard_pdf, example, asked_of_new(*asked_for) if asked_for else None, former)
        count_file(started)
    typer.echo(f"Made {started}: case.toml, trial.csv, clipboard.pdf to print and count.html to count on a phone.")
    typer.echo(
        f"Look at it with: docgen check {started}"
        if example
        else f"Fill in {started / 'case.toml'}, then run: docgen check {started}"
    )


def _new_templates(templates: Path) -> None:
    from docgen.packet.wording import copy_out

    with problems_told():
        copied = copy_out(templates)
    typer.echo(f"Copied {len(copied)} templates to {templates}. Keep those you change, take the others away.")
    typer.echo(f"Build with them: docgen build CASE --templates {templates}")


def _new_shelf(shelf: Path) -> None:
    from docgen.filling import start_shelf

    with problems_told():
        start_shelf(shelf)
    typer.echo(f"Made {shelf}. Fill in your devices, then run: docgen shelf {shelf}")


def _new_language(tag: str) -> None:
    from docgen.criteria.sentences import counted
    from docgen.languages.folder import start_language, take_language
    from docgen.resources import folder

    with problems_told():
        if not Path(tag).is_dir():
            typer.echo(f"Made {start_language(tag)}. Give it to a qualified translator, then run the same again.")
            return
        taken = take_language(Path(tag))
    typer.echo(
        f"Made {counted(len(taken.files), 'file', 'files')} in {tag}: {taken.n_translated} of {taken.n_texts} texts."
    )
    for name, n in taken.left_out.items():
        lacks = "has" if name.endswith(".toml") else "is not made:"
        typer.echo(f"{name} {lacks} {counted(n, 'text', 'texts')} without a translation.")
    typer.echo(
        f"Signed by {taken.signed_by}." if taken.signed_by else "No translator has signed it as Last-Translator."
    )
    typer.echo(f"To use it, put {tag} into {folder('templates')}, then: docgen build CASE --lang {tag}")


def _new_submission(case: Path) -> None:
    from docgen.case.read import read_case
    from docgen.library import case_folder
    from docgen.request.starter import start_submission

    with problems_told():
        path = start_submission(read_case(case_folder(case)))
    typer.echo(f"Made {path}, for the biller. What it still lacks: docgen check {case} --for biller")


def ask(
    case: OneCase,
    respondent: Annotated[
        str,
        typer.Option(
            "--for",
            help="Who is asked: client, family, residence, supplier, practitioner, hospital, school or payer.",
            metavar="WHO",
        ),
    ],
    out: Annotated[
        Path | None, typer.Option(help="Folder the sheet is written to; the case folder itself if not named.")
    ] = None,
    formats: Annotated[
        list[str] | None,
        typer.Option(help=f"{', '.join(format_names())}; all of them if not named.", metavar="FORMATS"),
    ] = None,
) -> None:
    """Write a sheet of what is still needed from one reader, in words that reader may see, with room to answer."""
    from docgen.console.first_page import respondent_named
    from docgen.filling import ask_sheet

    with problems_told():
        written = ask_sheet(case, respondent_named(respondent, by_sheet=True), out, parted(formats))
    if not written:
        typer.echo(f"Nothing is open for: {respondent}.")
        return
    typer.echo("Wrote " + ", ".join(str(path) for path in written))
    typer.echo(f"What the page in HTML saves comes back with: docgen answers {case} FILE")


def answers(
    case: OneCase,
    file: Annotated[Path, typer.Argument(help="The file of answers that a sheet saved.", metavar="FILE")],
    yes: Annotated[bool, typer.Option("--yes", help="Write without asking.")] = False,
    today: Today = "",
) -> None:
    """Take the answers of a sheet into the case: shown first, and nothing that is recorded is replaced."""
    from docgen.filling import answers_of

    day = day_of(today)
    with problems_told():
        case_file, sheet = answers_of(case, file)
    write_answers(case_file, sheet, yes, day)


def rows(
    case: OneCase,
    file: Annotated[Path, typer.Argument(help="Spreadsheet as it came: CSV, XLSX, XLS or ODS.", metavar="FILE")],
    answers: Annotated[
        list[str] | None,
        typer.Option(
            "--map", help="Answer to a question, as it is shown; may be given many times.", metavar="KEY=ANSWER"
        ),
    ] = None,
    add: Annotated[bool, typer.Option("--add", help="Add to the rows that are there.")] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the rows that are there.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Write without asking, once all is shown.")] = False,
) -> None:
    """Take rows or day totals of a trial, or tries of training, from a spreadsheet, after showing how it was read."""
    from docgen.console.rows import made_text, questions_text
    from docgen.library import case_folder
    from docgen.spreadsheet.session_sums import SumsOfLessons
    from docgen.spreadsheet.take import answers_of, take
    from docgen.spreadsheet.write import write_rows

    if add and replace:
        raise typer.BadParameter("--add or --replace: one of the two")
    with problems_told():
        folder, given = case_folder(case), answers_of(answers or [])
        try:
            taken = take(folder, file, given, add or replace)
        except SumsOfLessons as sums:
            typer.echo("\n".join(sums.lines))
            raise
    while taken.read.questions and sys.stdin.isatty():
        question = taken.read.questions[0]
        given[question.key] = typer.prompt(f"{question.asks} [{' / '.join(question.options)}]", err=True).strip()
        with problems_told():
            taken = take(folder, file, given, add or replace)
    typer.echo(made_text(taken.read, file, taken.target))
    if taken.read.questions:
        sys.stdout.flush()
        typer.echo(questions_text(taken.read, taken.foreseen, taken.certain), err=True)
        raise typer.Exit(UNREADABLE)
    if taken.problems or not taken.read.rows:
        from docgen.errors import Problem, UserError

        fail(UserError(taken.problems or [Problem(str(file), "holds no row", "Is this the right file?")]))
    if not (yes or agreed(f"Write them to {folder / taken.target}?", needs_answer=True)):
        typer.echo("Nothing was written.")
        return
    with problems_told():
        mode = "add" if add else "replace" if replace else ""
        for path in write_rows(taken.read, file, folder, taken.rows_name, mode, taken.stop_tasks):
            typer.echo(f"Wrote {path}")


def count(
    case: OneCase,
    lang: Annotated[str, typer.Option("--lang", help="Language of the page, by its tag.", metavar="TAG")] = "en",
) -> None:
    """Write count.html: a page that counts a trial on a phone or tablet, without a network and without a name."""
    from docgen.filling import count_file

    with problems_told():
        path = count_file(case, lang)
    typer.echo(f"Wrote {path}. Copy it to the phone and open it in a web browser.")
    typer.echo(f"What it saves comes back with: docgen rows {case} FILE")


def desk(
    folder: Annotated[Path, typer.Argument(help="Folder of cases, or one case.", metavar="FOLDER")] = Path("."),
    port: Annotated[int, typer.Option(help="Port of this machine; any free one if left out.", min=0, max=65535)] = 0,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open the browser at the link.")] = True,
) -> None:
    """Open the cases of a folder in the browser of this machine; Ctrl-C or the page closes it."""
    with problems_told():
        from docgen.desk.serve import serve

        def show(link: str) -> None:
            typer.echo(f"The desk is open on this machine alone. The link works once: {link}")
            if browser:
                import webbrowser

                webbrowser.open(link)

        serve(folder, port, show)
    typer.echo("The desk is closed.")


def find(
    words: Annotated[
        list[str] | None, typer.Argument(help="What to look for, in words of your own.", metavar="[WORD...]")
    ] = None,
) -> None:
    """Look for a finding, feature, kind, setting, condition, payer or code by any word, synonym or trade term."""
    from docgen.console.find import found_text, vocabularies_text

    typer.echo(found_text(" ".join(words)) if words else vocabularies_text())
