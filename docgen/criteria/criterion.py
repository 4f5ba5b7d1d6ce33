"""A criterion: one payer-neutral claim that can be true, and the four answers it can get.

Each lives in a module of docgen.criteria.questions, found by its file name. The module holds
HEADING, CLAIM, SETTINGS and the function `answer`, and where they are wanted

    CHOICES        the words a list setting may hold
    DANGER         True where "not met" means that someone could be hurt, which blocks under any payer;
                   "untold" where not to know does so too
    HOLDS          True where nothing can be approved without it, whatever the payer asks
    NOT_FOR        kinds of request in which the question does not arise
    SHOWN_IN       where its answer is shown, each "document: Section", or "paper: ..." for a paper of someone
                   else's; else where words.toml shows the answers under its heading
    FITS_TOGETHER  True where the order tells its answer under what fits together, "open" where only an open one
    LINE_RANK      where a line of the order that its reason names stands there for its claim: the least rank
                   is told, so the closer a claim is to the line, the lower its rank
    IN_LIMITS      True where an answer that is not met, and blocks nothing, is told among the limits of the letter
    QUIET          True where "met" says nothing that a payer looks for: a check of the record or the order against
                   itself. The cover tells such an answer only while it is open
    WINDOW         the time it gives from one day to another, for the calendar

Its docstring has four fixed headings and is the text of `docgen criteria ID` and of the reasons a reviewer reads.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Collection, Mapping
from functools import cache, cached_property
from types import ModuleType
from typing import Any, Literal

from msgspec import Struct

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.who import KINDS
from docgen.criteria.mend import Mend
from docgen.criteria.window import Window
from docgen.discover import modules_in
from docgen.evidence.fact import Evidence
from docgen.fit.alternatives import Weighed, weigh
from docgen.fit.match import Fit
from docgen.grammar import said_once

Status = Literal["met", "not_met", "cannot_tell", "does_not_apply"]
Limit = Literal["", "in_part", "worked_out"]
HEADINGS = {
    "alternatives": "Alternatives ruled out",
    "safety": "Safety",
    "record": "Consistency of the record",
    "independence": "Functional benefit in MRADLs",
    "people": "Evaluation and signatures",
    "order": "Order and items",
    "privacy": "Privacy",
}
_QUIET = ("record", "privacy")  # headings under which nothing that is met is news to a payer
PARTS = ("Asks", "Why a payer asks", "What settles it", "Source")


class Grounds(Struct, frozen=True, dict=True):
    """All an answer may rest on: the case, what its rows support, how features meet findings."""

    case: Case
    evidence: Evidence
    fit: Fit

    @cached_property
    def weighed(self) -> tuple[Weighed, ...]:
        """Each device not chosen, held against the same findings."""
        return weigh(self.case, self.evidence, self.fit)


class Answer(Struct, frozen=True):
    """One of four answers, with its reason in a sentence that names this case's facts.

    where  key paths of the case that the answer rests on, or where the missing key belongs
    rows   line numbers of the trial it rests on; `totals` those of its day totals
    facts  ids of the numbers it rests on
    mend   the shortest way to "met"; None when there is nothing to mend
    danger  someone could be hurt, whatever DANGER says of the criterion
    bare   the reason without what it quotes of the case, for a reader who may not see that; else the claim stands in
           its place
    holds  nothing can be approved while it is open, whatever HOLDS says of the criterion
    of     ids of those who can answer, where its keys do not tell
    names  what it is about, in a word or two each, for a page with little room
    limit  how far a claim that is met is shown: most of it and not all, or worked out from measures and not driven
    """

    status: Status
    reason: str
    where: tuple[KeyPath, ...] = ()
    rows: tuple[int, ...] = ()
    facts: tuple[str, ...] = ()
    mend: Mend | None = None
    danger: bool = False
    bare: str = ""
    totals: tuple[int, ...] = ()
    names: tuple[str, ...] = ()
    holds: bool = False
    of: tuple[str, ...] = ()
    limit: Limit = ""

    @property
    def stands(self) -> Status | Limit:
        """How the claim stands, the same for every page that tells it: its status, or how far it is met."""
        return self.limit or self.status

    @property
    def to_settle(self) -> str:
        """What to do about it, as a sentence; empty where there is nothing to do."""
        return self.mend.say if self.mend else ""


def met(reason: str, *where: KeyPath, facts: tuple[str, ...] = (), bare: str = "", limit: Limit = "") -> Answer:
    """The record shows the claim, or so much of it as the limit says."""
    return Answer("met", said_once(reason), where, facts=facts, bare=said_once(bare), limit=limit)


def not_met(
    reason: str,
    *where: KeyPath,
    mend: Mend | str,
    rows: tuple[int, ...] = (),
    totals: tuple[int, ...] = (),
    facts: tuple[str, ...] = (),
    danger: bool = False,
    bare: str = "",
) -> Answer:
    """A recorded fact contradicts the claim. What no key settles is mended by a sentence alone."""
    return Answer("not_met", said_once(reason), where, rows, facts, _mend(mend), danger, said_once(bare), totals)


def cannot_tell(
    reason: str,
    *where: KeyPath,
    mend: Mend | str,
    rows: tuple[int, ...] = (),
    totals: tuple[int, ...] = (),
    facts: tuple[str, ...] = (),
    danger: bool = False,
    bare: str = "",
) -> Answer:
    """A needed fact is not recorded. Silence is never a pass. What no key settles is mended by a sentence alone."""
    return Answer("cannot_tell", said_once(reason), where, rows, facts, _mend(mend), danger, said_once(bare), totals)


def _mend(mend: Mend | str) -> Mend:
    return Mend(mend) if isinstance(mend, str) else mend


def does_not_apply(reason: str, *where: KeyPath) -> Answer:
    """The question does not arise for this request."""
    return Answer("does_not_apply", reason, where)


class Criterion(Struct, frozen=True):
    """A question with its words, what a payer may set, and where its answer is shown; its keys are told above."""

    id: str
    heading: str
    claim: str
    text: Mapping[str, str]
    settings: Mapping[str, Any]
    choices: Mapping[str, tuple[str, ...]]
    danger: bool | Literal["untold"]
    holds: bool
    ask: Callable[..., Answer]
    shown_in: tuple[str, ...]
    fits_together: bool | Literal["open"]
    line_rank: int | None
    line_claim: str
    window: Window | None
    in_limits: bool
    quiet: bool


@cache
def criteria() -> dict[str, Criterion]:
    """Every criterion by id, by heading and then by name."""
    import docgen.criteria.questions as questions

    all_criteria = [_criterion(module) for module in modules_in(questions)]
    places = list(HEADINGS)
    return {c.id: c for c in sorted(all_criteria, key=lambda c: (places.index(c.heading), c.id))}


def _criterion(module: ModuleType) -> Criterion:
    name = module.__name__.rpartition(".")[2]
    text = _parts(inspect.getdoc(module) or "", name)
    if module.HEADING not in HEADINGS:
        raise ValueError(f"criterion {name}: unknown heading {module.HEADING!r}")
    return Criterion(
        id=name,
        heading=module.HEADING,
        claim=module.CLAIM,
        text=text,
        settings=module.SETTINGS,
        choices=getattr(module, "CHOICES", {}),
        danger=getattr(module, "DANGER", False),
        holds=getattr(module, "HOLDS", False),
        ask=_only_where_it_arises(module.answer, getattr(module, "NOT_FOR", ())),
        shown_in=getattr(module, "SHOWN_IN", ()),
        fits_together=getattr(module, "FITS_TOGETHER", False),
        line_rank=getattr(module, "LINE_RANK", None),
        line_claim=getattr(module, "LINE_CLAIM", module.CLAIM),
        window=getattr(module, "WINDOW", None),
        in_limits=getattr(module, "IN_LIMITS", False),
        quiet=getattr(module, "QUIET", module.HEADING in _QUIET),
    )


def _only_where_it_arises(ask: Callable[..., Answer], not_for: Collection[str]) -> Callable[..., Answer]:
    """The question, which does not apply to these kinds of request."""
    if not not_for:
        return ask

    def asked(grounds: Grounds, **settings: Any) -> Answer:
        if grounds.case.request.kind in not_for:
            return does_not_apply(f"The request is for {KINDS[grounds.case.request.kind or '']}.", ("request", "kind"))
        return ask(grounds, **settings)

    return asked


def _parts(docstring: str, name: str) -> dict[str, str]:
    """The docstring's four headings; a missing or empty one is an error of the project."""
    parts: dict[str, str] = {}
    current = ""
    for line in docstring.splitlines():
        title, colon, rest = line.partition(":")
        if colon and title in PARTS:
            current = title
            parts[current] = rest.strip()
        elif current:
            parts[current] = f"{parts[current]} {line.strip()}".strip()
    if missing := [part for part in PARTS if not parts.get(part)]:
        raise ValueError(f"criterion {name}: its docstring lacks {', '.join(missing)}")
    return parts
