"""A case folder -> the case with all that follows from it, before any page is made."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.known_on import known_on
from docgen.case.model import Case
from docgen.case.read import CaseFile, read_case
from docgen.criteria.criterion import Grounds
from docgen.criteria.denial import check_questions
from docgen.criteria.payer import Payer, load
from docgen.criteria.run import Verdict, blocking, verdicts
from docgen.errors import Problem, UserError
from docgen.evidence.fact import Evidence
from docgen.evidence.gather import evidence
from docgen.fit.match import fit

if TYPE_CHECKING:
    from docgen.case.nobody.copy import Deidentified
    from docgen.rendering.tree import Node


class Assessed(Struct, frozen=True, dict=True):
    """A case with all that follows from it before any page is made; `copy` when it is a copy for teaching, about
    nobody."""

    file: CaseFile
    evidence: Evidence
    grounds: Grounds
    payer: Payer
    verdicts: tuple[Verdict, ...]
    copy: Deidentified | None = None

    @property
    def open(self) -> tuple[Verdict, ...]:
        """What must be settled before the packet can be sent."""
        return blocking(self.verdicts)

    @cached_property
    def as_it_stood(self) -> list[Assessed]:
        """What `on_its_day` has assessed of it, each state of the record once."""
        return []

    @cached_property
    def laid_out(self) -> dict[object, Mapping[str, Any]]:
        """Its tables as `trees.tables` has laid them out, by their wording and by what is sent, each once."""
        return {}

    @cached_property
    def trees_read(self) -> dict[object, dict[str, Node]]:
        """Its documents as `trees.trees_to_read` has made them, by their wording and by what is sent, until a packet
        takes them."""
        return {}


def assess(path: Path, payer: Payer | None = None) -> Assessed:
    """Read a case and answer every requirement of a payer, the one the case names unless another is given.

    Raises UserError with every problem found.
    """
    return assess_file(read_case(path), payer)


def assess_file(file: CaseFile, payer: Payer | None = None) -> Assessed:
    """The same of a case that is already read."""
    check_questions(file.case, file.where)
    facts = evidence(file.case)
    grounds = Grounds(file.case, facts, fit(file.case, file.where))
    payer = payer or load(file.case.request.payer, file.where("request", "payer"))
    return Assessed(file, facts, grounds, payer, verdicts(grounds, payer, asked_on(file.case, payer)))


def later_payers(file: CaseFile) -> tuple[Payer, ...]:
    """The rules of each payer that is asked after the first, in their order. Raises UserError for an unknown one."""
    return tuple(
        load(later.payer, file.where("request", "later_payers", place, "payer"))
        for place, later in enumerate(file.case.request.later_payers)
    )


def for_later_payers(assessed: Assessed) -> tuple[Assessed, ...]:
    """The same as each payer that is asked later judges it, in their order: named and numbered as that one, and held
    against its rules. Raises UserError for a payer that is not known."""
    case, file = assessed.file.case, assessed.file
    judged = []
    for later, rules in zip(case.request.later_payers, later_payers(file), strict=True):
        case_of_payer = case.model_copy(
            update={
                "request": case.request.model_copy(
                    update={
                        "payer": later.payer,
                        "payer_name": later.payer_name,
                        "plan_holder": later.plan_holder,
                    }
                ),
                "client": case.client.model_copy(update={"member_id": later.member_id}),
            }
        )
        grounds = Grounds(case_of_payer, assessed.evidence, assessed.grounds.fit)
        judged.append(
            replace(
                assessed,
                file=replace(file, case=case_of_payer),
                grounds=grounds,
                payer=rules,
                verdicts=verdicts(grounds, rules, asked_on(case_of_payer, rules)),
            )
        )
    return tuple(judged)


def on_its_day(assessed: Assessed, day: date | None = None) -> Assessed:
    """The same as it stood on a day, which is all that a paper of that day may tell; unchanged where nothing came
    later, or no day is recorded. Days between which nothing came give the same object.

    day  that of the paper; the later one of the letter and the request when None
    """
    case, file = assessed.file.case, assessed.file
    days = [day] if day else [on for on in (case.dates.written_on, case.request.requested_on) if on]
    then = known_on(case, max(days)) if days else case
    if then is case:
        return assessed
    if known := next((earlier for earlier in assessed.as_it_stood if earlier.file.case == then), None):
        return known
    grounds = Grounds(then, evidence(then), fit(then, file.where))
    earlier = replace(
        assessed,
        file=replace(file, case=then),
        evidence=grounds.evidence,
        grounds=grounds,
        verdicts=verdicts(grounds, assessed.payer, asked_on(then, assessed.payer)),
    )
    assessed.as_it_stood.append(earlier)
    return earlier


def asked_on(case: Case, payer: Payer) -> date:
    """The day whose rules count: the request's, else the letter's, else the day the rules were reviewed."""
    return case.request.requested_on or case.dates.written_on or payer.reviewed_on


def case_folders(paths: Iterable[Path]) -> list[Path]:
    """Case folders named: a case folder, its case.toml, or a folder of case folders. Raises UserError."""
    case_paths: list[Path] = []
    for path in paths:
        if path.name == "case.toml" or os.path.isfile(path / "case.toml"):
            case_paths.append(path.parent if path.name == "case.toml" else path)
            continue
        try:
            inside = sorted(p.parent for p in path.glob("*/case.toml")) if os.path.isdir(path) else []
        except OSError as failure:  # of a name too long below it
            raise UserError([Problem(str(path), f"cannot be looked through: {failure.strerror}")]) from None
        if not inside:
            raise UserError(
                [
                    Problem(
                        str(path),
                        "is neither a case folder nor a folder of case folders",
                        "Name a case folder, or start one with 'docgen new ID'.",
                    )
                ]
            )
        case_paths += inside
    return case_paths
