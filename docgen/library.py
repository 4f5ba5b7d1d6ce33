"""What `import docgen` offers to ask of a case, and what the commands call: one case in, one typed result out.
`docgen/building.py` holds what it offers to write.

Each function takes the path of a case folder or of its case.toml and raises UserError for whatever a user can mend.
Nothing is printed here, and only the day of today is read from the machine, where none is given.
What only some of them need is loaded when they are called: a check loads nothing of the pages.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from docgen.criteria.payer import Payer, load, read_payer
from docgen.errors import Problem, UserError
from docgen.packet.approval import reviewed
from docgen.packet.assess import Assessed, assess, case_folders
from docgen.results import CaseCheck, CaseEvidence, CaseFit, CaseMatch, CaseTrial

if TYPE_CHECKING:
    from docgen.packet.wording import Wording
    from docgen.shelf.device import Shelf

__all__ = [
    "CaseCheck",
    "CaseEvidence",
    "CaseFit",
    "CaseMatch",
    "CaseTrial",
    "Problem",
    "UserError",
    "check_case",
    "evidence_of",
    "fit_of",
    "match_of",
    "trial_of",
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
    worded = None if templates is None else worded_by(templates)  # mistakes in them are told before any in the case
    assessed = assess(case_folder(path), payer_named(payer))
    review = reviewed(assessed, worded, any_letterhead=True)
    guide = None
    if reading:
        from docgen.packet.hard_words import ease

        guide = ease(assessed, worded=worded)
    return CaseCheck(assessed, today or date.today(), review, guide)


def evidence_of(path: str | Path) -> CaseEvidence:
    """Every number a case supports. Raises UserError with every problem found in the case."""
    return evidence_in(assess(case_folder(path)))


def evidence_in(assessed: Assessed) -> CaseEvidence:
    """The same of a case that has been read."""
    from docgen.criteria.contradictions import contradictions
    from docgen.evidence.gather import questions
    from docgen.packet.reading import reading_facts

    facts = (*assessed.evidence.values(), *reading_facts(assessed))
    asked = questions() | {"reading": "Can its reader read each document?"}
    return CaseEvidence(assessed.file.case, facts, asked, contradictions(assessed.verdicts))


def fit_of(path: str | Path) -> CaseFit:
    """How the requested control meets the findings. Raises UserError with every problem found in the case."""
    return fit_in(assess(case_folder(path)))


def fit_in(assessed: Assessed) -> CaseFit:
    """The same of a case that has been read."""
    from docgen.fit.alternatives import weigh
    from docgen.fit.mounting import doubts, sites_lacking
    from docgen.fit.settings import computed, moved

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


def trial_of(path: str | Path, shelf: str | Path | Shelf | None = None) -> CaseTrial:
    """The trial of a case as planned, with the devices of a shelf; no choice, trial or row is needed.

    shelf  as of `match_of`
    Raises UserError with every problem found in the case or the shelf, and for a control of the plan that neither the
    trial nor the shelf holds.
    """
    return trial_in(match_of(path, shelf))


def trial_in(compared: CaseMatch) -> CaseTrial:
    """The same of a case that has been held against a shelf."""
    from docgen.shelf.planned import planned

    return CaseTrial(compared, planned(compared.case, compared.match, compared.assessed.file.where))


def shelf_at(shelf: str | Path | Shelf | None) -> Shelf:
    """The shelf of a file or a folder; the one that comes with the program when None. Raises UserError."""
    from docgen.shelf.read import read_shelf, shipped_shelf

    if shelf is None:
        return shipped_shelf()
    return read_shelf(Path(shelf)) if isinstance(shelf, (str, Path)) else shelf


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
    from docgen.packet.wording import Wording, overlaid, wording

    if isinstance(templates, Wording):
        return templates
    return wording() if templates is None else overlaid(Path(templates))
