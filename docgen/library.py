"""What `import docgen` offers, and what the commands call: one case in, one typed result out.

Each function takes the path of a case folder or of its case.toml and raises UserError for whatever a user can mend.
Nothing is printed here, and only the day of today is read from the machine, where none is given.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from docgen.criteria.payer import Payer, load, read_payer
from docgen.errors import Problem, UserError, did_you_mean
from docgen.evidence.gather import questions
from docgen.fit.alternatives import weigh
from docgen.fit.mounting import doubts, sites_lacking
from docgen.fit.settings import computed, moved
from docgen.packet.approval import NotReady, approve, reviewed
from docgen.packet.assess import Assessed, assess, case_folders
from docgen.packet.contents import contents
from docgen.packet.hard_words import ease
from docgen.packet.letterhead import letterhead_files, read_letterhead
from docgen.packet.papers import OPTION, is_paper, read_papers
from docgen.packet.reading import reading_facts
from docgen.packet.recipe import Recipe
from docgen.packet.render import FORMATS
from docgen.packet.reviewer import check_day
from docgen.packet.signed import record_signed
from docgen.packet.wording import Wording, document_names, languages, overlaid, template_files, wording
from docgen.packet.write import Outcome, Packet
from docgen.results import Approval, CaseCheck, CaseEvidence, CaseFit, CaseMatch

if TYPE_CHECKING:
    from docgen.shelf.device import Shelf

__all__ = [
    "Approval",
    "CaseCheck",
    "CaseEvidence",
    "CaseFit",
    "CaseMatch",
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
    "match_of",
]  # of these `import docgen` offers each; what else stands here is for the commands and `docgen/filling.py`


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
    """How the requested control meets the findings. Raises UserError with every problem found in the case."""
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


def match_of(path: str | Path, shelf: str | Path | Shelf | None = None) -> CaseMatch:
    """A shelf of devices held against the findings of a case, and against what its trial showed.

    shelf  a shelf, its file, or a folder of such files; the invented one that comes with the program when None
    Raises UserError with every problem found in the case or the shelf.
    """
    return match_in(assess(case_folder(path)), shelf_at(shelf))


def match_in(assessed: Assessed, shelf: Shelf) -> CaseMatch:
    """The same of a case that has been read."""
    from docgen.shelf.client import client_of
    from docgen.shelf.match import match
    from docgen.shelf.seen import differs, seen

    case = assessed.file.case
    known, shown = client_of(case), seen(case, assessed.evidence)
    expected = match(known, shelf)
    with_trial = match(known, shelf, shown.better, tuple(shown.devices))
    return CaseMatch(assessed, expected, with_trial, shown, differs(expected, shown))


def shelf_at(shelf: str | Path | Shelf | None) -> Shelf:
    """The shelf of a file or a folder; the one that comes with the program when None. Raises UserError."""
    from docgen.shelf.read import read_shelf, shipped_shelf

    if shelf is None:
        return shipped_shelf()
    return read_shelf(Path(shelf)) if isinstance(shelf, (str, Path)) else shelf


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
    enclose        what packet.pdf holds besides cover, letter and order: names of documents, and papers of others as
                   "FILE.pdf" or "NAME=FILE.pdf", where NAME is order, encounter, supplier, home or any other
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
    worded = worded_by(own_words)  # mistakes in it, and in the letterhead, are told before any work is done
    if head:
        read_letterhead(head)
    enclose = [enclose] if isinstance(enclose, str) else [*enclose]
    named = [word for word in enclose if is_paper(word)]
    if named and (refusal := _keeps_papers_out(len(cases), deidentified, cluster)):
        raise UserError([Problem(f"{OPTION} {named[0]}", *refusal)])
    recipe = Recipe(
        _known("--formats", formats, FORMATS) or FORMATS,
        _known("--only", only, document_names()),
        _known(OPTION, [word for word in enclose if word not in named], document_names()),
        read_papers(named, worded.words["enclosed_papers"]),
        _known("--lang", langs, languages()),
        payer_named(payer),
        contents(own_words, template_files(own_words)) if own_words else None,
        contents(head, letterhead_files(head)) if head else None,
        deidentified,
    )
    return build_many(cases, recipe, target, workers(recipe, target, len(cases), jobs, cluster), force)


def _keeps_papers_out(n_cases: int, deidentified: bool, cluster: str) -> tuple[str, str] | None:
    """Why a paper of one person cannot go into this build, and what to do; None where it can."""
    if n_cases != 1:
        return f"is a paper of one person, and this build is of {n_cases} cases", "Build that person's case alone."
    if deidentified:
        return "is a paper of one person and goes into no de-identified copy", "Leave it or --deidentified out."
    if cluster:
        return "is a paper of one person and is sent to no cluster", "Build this case without --cluster."
    return None


def approve_case(
    path: str | Path,
    by: str,
    on: date | None = None,
    *,
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
    signed_letter: str | Path | None = None,
    out: str | Path = "out",
) -> Approval:
    """Record beside the case that a clinician has reviewed exactly this content. It is no signature.

    by  "Name, credential"; `on` is the day of the review, the day it is when None
    signed_letter  a PDF in the case folder: nothing is approved anew, but it is recorded as the scan of the approved
                   letter in out/<id>, signed; each build then puts it into the letter's place in packet.pdf
    The rest as of `build_packet`; a packet that is built with another letterhead than this one is a draft.

    Raises NotReady when points are open that block, and UserError when `by` cannot have reviewed it, when the day is
    none of a review, or for any problem found in the case.
    """
    today = date.today()
    on, worded, head = on or today, worded_by(templates), _path(letterhead)
    letter = read_letterhead(head) if head else None
    check_day(on, today)
    assessed = assess(case_folder(path), payer_named(payer))
    if signed_letter is not None:
        review = reviewed(assessed, worded, letter)
        record, review = record_signed(assessed.file.folder, Path(signed_letter), Path(out), review, by)
        return Approval(record, review.by, review.on)
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
