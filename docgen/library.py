"""What `import docgen` offers, and what the commands call: one case in, one typed result out.

Each function takes the path of a case folder or of its case.toml and raises UserError for whatever a user can mend.
Nothing is printed here, and only the day of today is read from the machine, where none is given.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable, Mapping
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import get_args

from msgspec import Struct

from docgen.case.answers import Sheet, read_sheet_of_answers, with_answers
from docgen.case.files import text_of
from docgen.case.model import Case
from docgen.case.read import MAX_TOML_BYTES, CaseFile, read_case
from docgen.case.respondents import respondents
from docgen.case.starter import Asked
from docgen.case.who import Request
from docgen.criteria.advice import Step, shortest_way
from docgen.criteria.calendar import Entry, calendar, undated
from docgen.criteria.payer import Payer, load, read_payer
from docgen.criteria.run import Verdict
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.evidence.fact import Evidence, Fact
from docgen.evidence.gather import questions
from docgen.fit.alternatives import Weighed, weigh
from docgen.fit.feature import features
from docgen.fit.match import Fit
from docgen.fit.mounting import Doubt, doubts, sites_lacking
from docgen.fit.settings import Computed, Moved, computed, moved
from docgen.packet.approval import NotReady, Review, approve, reviewed
from docgen.packet.assess import Assessed, assess, case_folders
from docgen.packet.contents import contents
from docgen.packet.hard_words import Ease, ease
from docgen.packet.letterhead import letterhead_files, read_letterhead
from docgen.packet.reading import reading_facts
from docgen.packet.recipe import Recipe
from docgen.packet.render import FORMATS
from docgen.packet.reviewer import check_day
from docgen.packet.typeface import Unset, unset
from docgen.packet.wording import Wording, document_names, languages, overlaid, template_files, wording
from docgen.packet.write import Outcome, Packet
from docgen.private import private_folder, write_whole

__all__ = [
    "Approval",
    "CaseCheck",
    "CaseEvidence",
    "CaseFit",
    "NotReady",
    "Outcome",
    "Packet",
    "Problem",
    "UserError",
    "approve_case",
    "build_packet",
    "build_packets",
    "check_case",
    "evidence_of",
    "fit_of",
]  # of these `import docgen` offers each; what else stands here is for the commands


class CaseCheck(Struct, frozen=True, dict=True):
    """What the record of a case supports, held against the rules of a payer as seen on a day.

    review  who reviewed the packet, and what has changed since; None when nobody has
    guide   how hard the guide is to read; None when that was not asked, or when it holds no sentence
    """

    assessed: Assessed
    today: date
    review: Review | None = None
    guide: Ease | None = None

    @property
    def case(self) -> Case:
        """The case as read."""
        return self.assessed.file.case

    @property
    def payer(self) -> Payer:
        """The payer whose rules were asked."""
        return self.assessed.payer

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """One answer for each requirement, worst first."""
        return self.assessed.verdicts

    @property
    def open(self) -> tuple[Verdict, ...]:
        """What must be settled before the packet can be sent."""
        return self.assessed.open

    @property
    def ready(self) -> bool:
        """Whether nothing blocks; a clinician still has to review it."""
        return not self.open

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """The shortest way to ready: keys to fill in, entries to add, work to do."""
        return shortest_way(self.assessed.grounds, self.verdicts)

    @cached_property
    def calendar(self) -> tuple[Entry, ...]:
        """Deadlines, planned days and reviews of the rules, soonest first."""
        return calendar(self.case, self.payer, self.verdicts)

    @property
    def undated(self) -> tuple[str, ...]:
        """What is planned without a day."""
        return tuple(undated(self.case))

    @cached_property
    def typeface(self) -> tuple[Unset, ...]:
        """Characters of the case that the PDF cannot set."""
        return unset(self.assessed.file)


class CaseEvidence(Struct, frozen=True):
    """Every number a case supports, with its interval, rows, keys and formula.

    facts      in the order of the questions; the last say how hard each document is to read
    questions  id of a question -> its words
    """

    case: Case
    facts: tuple[Fact, ...]
    questions: Mapping[str, str]


class CaseFit(Struct, frozen=True):
    """How the control asked for meets the findings, and each device that was not chosen.

    alternatives   each device not chosen against the same findings
    settings       the most the trial bears of speed and turn rate, profile by profile; none is one to apply
    moves          settings that a finding or a sign of the trial bears on, and which way
    sites_lacking  sites of the body with a part asked for and no mounting recorded
    doubts         figures of the mounting record to measure again
    """

    file: CaseFile
    evidence: Evidence
    fit: Fit
    alternatives: tuple[Weighed, ...]
    settings: tuple[Computed, ...]
    moves: tuple[Moved, ...]
    sites_lacking: tuple[str, ...]
    doubts: tuple[Doubt, ...]

    @property
    def case(self) -> Case:
        """The case as read."""
        return self.file.case


class Approval(Struct, frozen=True):
    """A record of who reviewed exactly this content.

    path    the file written
    remark  what to know of the reviewer's name or credential; empty where there is nothing
    """

    path: Path
    by: str
    on: date
    remark: str = ""


def check_case(
    path: str | Path,
    *,
    payer: str | Path | Payer | None = None,
    today: date | None = None,
    templates: str | Path | Wording | None = None,
    reading: bool = True,
) -> CaseCheck:
    """What is missing, contradictory or unsupported in a case.

    payer      id or file of a payer whose rules are asked instead of the case's
    today      the day to look from; the day it is when None
    templates  a folder of your own templates
    reading    whether to say how hard the guide is to read, for which it is laid out

    Raises UserError with every problem found in the case, the payer's file or the templates.
    """
    worded = worded_by(templates)
    assessed = assess(case_folder(path), payer_named(payer))
    review = reviewed(assessed, worded, any_letterhead=True)
    return CaseCheck(assessed, today or date.today(), review, ease(assessed, worded=worded) if reading else None)


def evidence_of(path: str | Path) -> CaseEvidence:
    """Every number a case supports. Raises UserError with every problem found in the case."""
    return evidence_in(assess(case_folder(path)))


def evidence_in(assessed: Assessed) -> CaseEvidence:
    """The same of a case that has been read."""
    facts = (*assessed.evidence.values(), *reading_facts(assessed))
    return CaseEvidence(assessed.file.case, facts, questions() | {"reading": "Can its reader read each document?"})


def fit_of(path: str | Path) -> CaseFit:
    """How the control asked for meets the findings. Raises UserError with every problem found in the case."""
    return fit_in(assess(case_folder(path)))


def fit_in(assessed: Assessed) -> CaseFit:
    """The same of a case that has been read."""
    case, evidence, fit = assessed.file.case, assessed.evidence, assessed.grounds.fit
    return CaseFit(
        assessed.file,
        evidence,
        fit,
        weigh(case, evidence, fit),
        computed(case, evidence),
        moved(case, evidence),
        sites_lacking(case, fit),
        doubts(case, fit),
    )


def build_packet(
    path: str | Path,
    out: str | Path,
    *,
    formats: Iterable[str] = (),
    only: Iterable[str] = (),
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
    enclose: Iterable[str] = (),
    langs: Iterable[str] = (),
    deidentified: bool = False,
    force: bool = False,
) -> Packet:
    """Write the packet of one case into out/<id>; one with open points is a draft that shows them.

    formats, only  names of formats and documents; all when empty
    payer          id or file of a payer whose rules are asked instead of the case's
    templates      a folder of your own templates; `letterhead` one with letterhead.toml, letterhead.docx or both
    enclose        documents that packet.pdf holds besides cover, letter and order
    langs          languages whose documents are written beside the English ones, such as es
    deidentified   write a copy about nobody, for teaching, in a folder of its own; its `remarks` say what it is not
    force          build it even where the same stands already; `unchanged` of the result tells

    Raises UserError with every problem found; nothing is then written over what stands there. The first build of a
    case writes key.toml beside its case.toml.
    """
    begun = build_packets(
        [case_folder(path)],
        out,
        formats=formats,
        only=only,
        payer=payer,
        templates=templates,
        letterhead=letterhead,
        enclose=enclose,
        langs=langs,
        deidentified=deidentified,
        force=force,
    )
    (outcome,) = begun
    if outcome.packet is None:
        raise UserError(outcome.problems)
    return outcome.packet


def build_packets(
    folders: Iterable[str | Path],
    out: str | Path,
    *,
    formats: Iterable[str] = (),
    only: Iterable[str] = (),
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
    enclose: Iterable[str] = (),
    langs: Iterable[str] = (),
    deidentified: bool = False,
    jobs: int = 1,
    cluster: str = "",
    force: bool = False,
) -> Generator[Outcome]:
    """The packets of many case folders, one outcome each in their order; a case that fails stops no other.

    jobs     processes that work at a time; 0 for one a core where there are more than a few cases. A script that asks
             for more than one needs the usual `if __name__ == "__main__":`
    cluster  address of a Dask scheduler that does the work instead; the cases go there, see README.md

    The rest as of `build_packet`. Raises UserError at once for what concerns all of them: names, templates,
    letterhead, payer, two cases of one id. Close the generator to stop early.
    """
    cases, target = [Path(folder) for folder in folders], Path(out)
    if deidentified and letterhead is not None:
        raise UserError([Problem("--letterhead", "names the clinic: leave out --letterhead or --deidentified")])
    # what starts processes is loaded for a build alone
    from docgen.packet.many import build_many, workers

    own_words, head = _path(templates), _path(letterhead)
    worded_by(own_words)  # mistakes in it, and in the letterhead, are told before any work is done
    if head:
        read_letterhead(head)
    recipe = Recipe(
        _known("--formats", formats, FORMATS) or FORMATS,
        _known("--only", only, document_names()),
        _known("--enclose", enclose, document_names()),
        _known("--lang", langs, languages()),
        payer_named(payer),
        contents(own_words, template_files(own_words)) if own_words else None,
        contents(head, letterhead_files(head)) if head else None,
        deidentified,
    )
    return build_many(cases, recipe, target, workers(recipe, target, len(cases), jobs, cluster), force)


def approve_case(
    path: str | Path,
    by: str,
    on: date | None = None,
    *,
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
) -> Approval:
    """Record beside the case that a clinician has reviewed exactly this content. It is no signature.

    by  "Name, credential"; `on` is the day of the review, the day it is when None
    The rest as of `build_packet`; a packet that is built with another letterhead than this one is a draft.

    Raises NotReady when points are open that block, and UserError when `by` cannot have reviewed it, when the day is
    none of a review, or for any problem found in the case.
    """
    today = date.today()
    on, worded, head = on or today, worded_by(templates), _path(letterhead)
    letter = read_letterhead(head) if head else None
    check_day(on, today)
    assessed = assess(case_folder(path), payer_named(payer))
    record, remark = approve(assessed, by, on, worded, letter)
    return Approval(record, by, on, remark)


def case_folder(path: str | Path) -> Path:
    """The one case folder that a path names. Raises UserError when it names none, or several."""
    folders = case_folders([Path(path)])
    if len(folders) > 1:
        raise UserError([Problem(str(path), f"holds {len(folders)} cases", "Name one of them.")])
    return folders[0]


def payer_named(payer: str | Path | Payer | None) -> Payer | None:
    """The payer of an id or of a file, which ends in .toml or lies in a folder; None for none. Raises UserError."""
    if payer is None or isinstance(payer, Payer):
        return payer
    if isinstance(payer, Path) or payer.endswith(".toml") or "/" in payer:
        return read_payer(Path(payer))
    return load(payer, "--payer")


def ask_sheet(
    path: str | Path, respondent: str, out: str | Path | None = None, formats: Iterable[str] = ()
) -> list[Path]:
    """The files written of a sheet of questions for one who can answer; none when nothing is asked of them.

    respondent  "supplier", "practitioner", "family", "school" or "payer"
    out         folder they are written to; the case folder when None

    Raises UserError when a file of the sheet is there already with other content: someone may have answered on it.
    """
    from docgen.packet.answer_sheet import answer_sheet

    if not respondents()[respondent].may_see:
        raise UserError([Problem("--for", f"no sheet is written for '{respondent}'", "The check tells what is open.")])
    suffixes = tuple(formats)
    if unknown := [suffix for suffix in suffixes if suffix not in FORMATS]:
        raise UserError(
            [Problem("--formats", f"unknown format '{brief(unknown[0])}'", did_you_mean(unknown[0], FORMATS))]
        )
    assessed = assess(case_folder(path))
    folder = Path(out) if out is not None else assessed.file.folder
    files = {folder / name: data for name, data in answer_sheet(assessed, respondent, suffixes).items()}
    kept = [target for target, data in files.items() if target.exists() and target.read_bytes() != data]
    if kept:
        raise UserError(
            [
                Problem(str(target), "is there already, and may hold answers", "Move it, then ask again.")
                for target in kept
            ]
        )
    try:
        if files:
            private_folder(folder)
        for target, data in files.items():
            write_whole(target, data)
    except OSError as failure:
        raise UserError([Problem(str(failure.filename or folder), f"cannot be written: {failure.strerror}")]) from None
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
    try:
        write_whole(toml, text.encode())
    except OSError as failure:
        raise UserError([Problem(str(toml), f"cannot be written: {failure.strerror}")]) from None
    return case_file


def asked_of_new(payer: str | Path | Payer, kind: str | None = None, control: str | None = None) -> Asked:
    """What a new case has to hold under the rules of a payer.

    kind     kind of request, such as "new_chair"
    control  id of the feature that is the control to be asked for
    Raises UserError for a payer, kind or control that is not known.
    """
    from docgen.criteria.starting import asked

    rules = payer_named(payer)
    kinds = get_args(get_args(Request.model_fields["kind"].annotation)[0])
    if kind and kind not in kinds:
        raise UserError([Problem("--kind", f"unknown kind of request '{brief(kind)}'", f"One of: {', '.join(kinds)}.")])
    controls = {feature.id: feature.name for feature in features().values() if feature.part == "control"}
    if control and control not in controls:
        raise UserError([Problem("--control", f"'{brief(control)}' is no control", did_you_mean(control, controls))])
    return asked(rules or load("general", "--payer"), kind, control)


def worded_by(templates: str | Path | Wording | None) -> Wording:
    """The program's wording, with your own from a folder over it. Raises UserError with every mistake in them."""
    if isinstance(templates, Wording):
        return templates
    return wording() if templates is None else overlaid(Path(templates))


def _path(given: str | Path | None) -> Path | None:
    return None if given is None else Path(given)


def _known(option: str, names: Iterable[str], allowed: tuple[str, ...]) -> tuple[str, ...]:
    """The names, each once. Raises UserError for one that is not allowed."""
    if isinstance(names, str):
        names = [names]
    wanted = tuple(dict.fromkeys(names))
    if unknown := [name for name in wanted if name not in allowed]:
        raise UserError(Problem(option, f"'{name}' is not known", did_you_mean(name, allowed)) for name in unknown)
    return wanted
