"""Filling a case: a sheet of questions for one reader, its answers taken in, what a new case has to hold.

For the commands; each function raises UserError for whatever a user can mend, as those of `docgen/library.py` do.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, get_args

from docgen.case.answers import Sheet, read_sheet_of_answers, with_answers
from docgen.case.files import text_of
from docgen.case.key import mark_of, settle_key
from docgen.case.read import MAX_TOML_BYTES, CaseFile, read_case
from docgen.case.respondents import respondents
from docgen.case.starter import Asked
from docgen.case.who import MOST_LATER_PAYERS, Request
from docgen.criteria.payer import Payer, load
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.fit.controls import no_control
from docgen.fit.feature import features
from docgen.library import case_folder, match_in, payer_named, shelf_at
from docgen.packet.assess import assess
from docgen.packet.render import FORMATS
from docgen.packet.wording import ENGLISH_TAG, languages
from docgen.private import private_folder, write_whole, writing
from docgen.results import CaseMatch, CaseTrial
from docgen.spreadsheet.known import known_of

if TYPE_CHECKING:
    from docgen.counting.page import Planned
    from docgen.shelf.device import Shelf


def ask_sheet(
    path: str | Path, respondent: str, out: str | Path | None = None, formats: Iterable[str] = ()
) -> list[Path]:
    """The files written of a sheet of questions for one who can answer; none when nothing is asked of them.

    respondent  "client", "family", "residence", "supplier", "practitioner", "hospital", "school" or "payer"
    out         folder they are written to; the case folder when None

    Raises UserError when a file of the sheet is there already with other content: someone may have answered on it.
    """
    from docgen.packet.answer_sheet import answer_sheet

    if not respondents()[respondent].may_see:
        raise UserError([Problem("--for", f"no sheet is written for '{respondent}'", "The check shows what is open.")])
    suffixes = _known_formats(formats)
    assessed = assess(case_folder(path))
    folder = Path(out) if out is not None else assessed.file.folder
    return _written(folder, answer_sheet(assessed, respondent, suffixes), "Move it, then ask again.")


def match_files(result: CaseMatch, out: str | Path, formats: Iterable[str] = ()) -> list[Path]:
    """The files written of the page that compares the devices of a shelf with the findings of a case.

    out  folder they are written to
    Raises UserError for a format that there is not, and when another file stands in the place of one.
    """
    from docgen.packet.match_page import match_page

    suffixes = _known_formats(formats)
    files = match_page(result.assessed, result.match, result.seen, result.differs, suffixes)
    return _written(Path(out), files, "Move it, then write the page again.")


def options_files(
    path: str | Path,
    shelf: str | Path | Shelf | None = None,
    out: str | Path | None = None,
    formats: Iterable[str] = (),
    on: date | None = None,
) -> list[Path]:
    """The files written of the page on which a client and a family choose a control to try.

    shelf  the controls to choose from; those of the case itself, as far as they are not ruled out, when None
    out    folder they are written to; the case folder when None
    on     the date of the page; a line to write it on when None

    Raises UserError when there are fewer than two controls to choose from, for a format that there is not, and when
    another file stands in the place of one.
    """
    from docgen.packet.options_page import options_page
    from docgen.shelf.client import client_of
    from docgen.shelf.match import match
    from docgen.shelf.options import FEWEST, Options, options, own_shelf

    suffixes = _known_formats(formats)
    assessed = assess(case_folder(path))
    case = assessed.file.case
    if shelf is None:
        own = own_shelf(case)
        matched = match(client_of(case), own) if own else None
    else:
        matched = match_in(assessed, shelf_at(shelf)).match
    given = options(case, matched) if matched else Options((), ())
    if matched is None or len(given.options) < FEWEST:
        n = len(given.options)
        left = "no control" if n == 0 else f"only '{brief(given.options[0].name)}'"
        where = "the case, as not ruled out" if shelf is None else f"'{brief(matched.shelf.name if matched else '')}'"
        advice = "Name a shelf with --shelf." if shelf is None else "Add devices to the shelf, or talk it over without."
        raise UserError([Problem(str(assessed.file.folder), f"has {left} to choose from in {where}", advice)])
    folder = Path(out) if out is not None else assessed.file.folder
    return _written(folder, options_page(assessed, matched, given, suffixes, on), "Move it, then write the page again.")


def trial_files(
    result: CaseTrial, sheets: bytes | None, out: str | Path | None = None, formats: Iterable[str] = ()
) -> list[Path]:
    """The files written of a planned trial: its page, and its recording sheets to print where there are any.

    sheets  the recording sheets as PDF bytes; None where no order is planned
    out     folder they are written to; the case folder when None
    Raises UserError for a format that there is not, and when another file stands in the place of one.
    """
    from docgen.packet.trial_page import trial_page

    suffixes = _known_formats(formats)
    files = trial_page(result.compared.assessed, result.compared.match, result.plan, suffixes)
    if sheets is not None:
        files["trial_sheets.pdf"] = sheets
    folder = Path(out) if out is not None else result.compared.assessed.file.folder
    return _written(folder, files, "Move it, then plan the trial again.")


def _known_formats(formats: Iterable[str]) -> tuple[str, ...]:
    """The formats named. Raises UserError for one that there is not."""
    suffixes = tuple(formats)
    if unknown := [suffix for suffix in suffixes if suffix not in FORMATS]:
        raise UserError(
            [Problem("--formats", f"unknown format '{brief(unknown[0])}'", did_you_mean(unknown[0], FORMATS))]
        )
    return suffixes


def _written(folder: Path, contents: Mapping[str, bytes], advice: str) -> list[Path]:
    """The files of a sheet, written. Raises UserError when one is there already with other content."""
    files = {folder / name: data for name, data in contents.items()}
    kept = [target for target, data in files.items() if target.exists() and target.read_bytes() != data]
    if kept:
        raise UserError([Problem(str(target), "is there already, and may hold answers", advice) for target in kept])
    with writing(folder):
        if files:
            private_folder(folder)
        for target, data in files.items():
            write_whole(target, data)
    return list(files)


def answers_of(path: str | Path, answers: str | Path) -> tuple[CaseFile, Sheet]:
    """A case, and what a file of answers holds for it. Raises UserError when either cannot be read."""
    file = read_case(case_folder(path))
    return file, read_sheet_of_answers(Path(answers), file)


def take_in(file: CaseFile, sheet: Sheet, today: date | None = None) -> CaseFile:
    """Write the answers of a sheet into case.toml; the case as it then is.

    Raises UserError, and writes nothing, when the case could not be read with them or has changed meanwhile.
    """
    toml = file.folder / "case.toml"
    text, case_file = with_answers(file, sheet, today or date.today())
    if text_of(toml, str(toml), MAX_TOML_BYTES) != file.text:
        raise UserError([Problem(str(toml), "has changed meanwhile", "Run the command again.")])
    with writing(toml):
        write_whole(toml, text.encode())
    return case_file


def asked_of_new(payers: Sequence[str | Path | Payer], kind: str | None = None, control: str | None = None) -> Asked:
    """What a new case has to hold under the rules of its payers, in the order in which they are asked.

    kind     kind of request, such as "new_chair"
    control  id of the feature that is the control to be asked for
    Raises UserError for a payer, kind or control that is not known.
    """
    from docgen.criteria.starting import asked

    rules = [payer_named(payer) or load("general", "--payer") for payer in payers] or [load("general", "--payer")]
    kinds = get_args(get_args(Request.model_fields["kind"].annotation)[0])
    if kind and kind not in kinds:
        raise UserError([Problem("--kind", f"unknown kind of request '{brief(kind)}'", f"One of: {', '.join(kinds)}.")])
    if control and (control not in features() or features()[control].part != "control"):
        raise UserError([Problem("--control", f"'{brief(control)}' is not a control", no_control(control))])
    if len(rules) > 1 + MOST_LATER_PAYERS:
        raise UserError([Problem("--payer", f"names {len(rules)} payers", f"A case holds {1 + MOST_LATER_PAYERS}.")])
    return asked(rules, kind, control)


def count_file(path: str | Path, lang: str = "en") -> Path:
    """The counting page of a case, written into its folder in place of an earlier one.

    Raises UserError for a language that there is not, and for a case that cannot be read as TOML.
    """
    from docgen.counting.page import FILE, count_page

    tags = (ENGLISH_TAG, *languages())
    if lang not in tags:
        raise UserError([Problem("--lang", f"unknown language '{brief(lang)}'", did_you_mean(lang, tags))])
    folder = case_folder(path)
    known = known_of(folder)
    key, _ = settle_key(folder)
    with writing(folder / FILE):
        write_whole(folder / FILE, count_page(known, mark_of(key), lang, _planned(folder)))
    return folder / FILE


def _planned(folder: Path) -> tuple[Planned, ...]:
    """The blocks of the trial as planned with the shelf that comes with the program; none in a case that cannot be read
    yet, and none of a control that this shelf does not hold."""
    from docgen.counting.page import Planned
    from docgen.evidence.planned_trial import blocks_to_count
    from docgen.library import trial_of

    try:
        if not read_case(folder).case.trial.plan.methods:
            return ()
        result = trial_of(folder)
    except UserError:
        return ()
    driven = [control.id for control in result.plan.driven]
    blocks = blocks_to_count(result.case, result.plan.order, driven)
    return tuple(Planned(block.visit, block.place, method, tasks) for block, method, tasks in blocks)


def start_shelf(target: str | Path) -> Path:
    """A shelf file with one invented device and every key, to be filled in.

    Raises UserError when something is there already; nothing is written over.
    """
    path, starter = Path(target), Path(__file__).parent / "shelf" / "starter.toml"
    if path.exists() or path.is_symlink():
        raise UserError([Problem(str(path), "is already there", "Choose another name; nothing was changed.")])
    with writing(path):
        write_whole(path, starter.read_bytes())
    return path
