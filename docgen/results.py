"""What the functions of `docgen/library.py` give back: a check, the evidence, the fit, an approval."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from docgen.case.kept import Kept, kept_beside
from docgen.case.model import Case
from docgen.case.read import CaseFile
from docgen.criteria.advice import Step, shortest_way
from docgen.criteria.calendar import Entry, calendar, undated
from docgen.criteria.payer import Payer
from docgen.criteria.run import Verdict
from docgen.evidence.fact import Evidence, Fact
from docgen.fit.alternatives import Weighed
from docgen.fit.match import Fit
from docgen.fit.mounting import Doubt
from docgen.fit.settings import Computed, Moved
from docgen.packet.assess import Assessed, for_later_payers
from docgen.packet.typeface import Unset, unset

if TYPE_CHECKING:
    from docgen.packet.approval import Review
    from docgen.packet.hard_words import Ease
    from docgen.shelf.match import Match
    from docgen.shelf.planned import Planned
    from docgen.shelf.seen import Differs, Seen


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
    def for_later_payers(self) -> tuple[Assessed, ...]:
        """The case as each payer judges it that is asked after the first, in their order."""
        return for_later_payers(self.assessed)

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

    @cached_property
    def kept(self) -> tuple[Kept, ...]:
        """Headings of the clinic's sheets whose cells were kept beside the rows, and count for nothing."""
        return kept_beside(self.assessed.file.folder)


class CaseEvidence(Struct, frozen=True):
    """Every number a case supports, with its interval, rows, keys and formula.

    facts      in the order of the questions; the last say how hard each document is to read
    questions  id of a question -> its words
    contradictions  where one side of the record says what another says otherwise, those of the trial first
    """

    case: Case
    facts: tuple[Fact, ...]
    questions: Mapping[str, str]
    contradictions: tuple[str, ...] = ()


class CaseFit(Struct, frozen=True):
    """How the requested control meets the findings, and each device that was not chosen.

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


class CaseMatch(Struct, frozen=True):
    """A shelf held against the findings of a case, and against what its trial showed.

    expected  by the findings alone
    match     with the trial, which outweighs what was expected
    seen      what the trial showed of devices of the shelf, and `differs` where that is not what was expected
    """

    assessed: Assessed
    expected: Match
    match: Match
    seen: Seen
    differs: tuple[Differs, ...]

    @property
    def case(self) -> Case:
        """The case as read."""
        return self.assessed.file.case


class CaseTrial(Struct, frozen=True):
    """A trial planned from the devices of a shelf and what the case decides.

    compared  that shelf against the case
    """

    compared: CaseMatch
    plan: Planned

    @property
    def case(self) -> Case:
        """The case as read."""
        return self.compared.case


class Approval(Struct, frozen=True):
    """A record of who reviewed exactly this content.

    path    the file written
    remark  what to know of the reviewer's name or credential; empty where there is nothing
    """

    path: Path
    by: str
    on: date
    remark: str = ""
