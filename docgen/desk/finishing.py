"""What the last screen of a case offers, and what a new case is asked."""

from __future__ import annotations

from pathlib import Path
from typing import Any, get_args

import typer
from msgspec import Struct

from docgen.case.keys import bare_kind
from docgen.case.respondents import respondents
from docgen.case.who import Request
from docgen.choices import meaning
from docgen.criteria.asked_of import asked_of
from docgen.criteria.payer import payers
from docgen.documents.document import called_for
from docgen.errors import Problem, UserError
from docgen.fit.feature import feature_entries, features
from docgen.packet.wording import languages, wording
from docgen.rendering.formats import format_names
from docgen.results import CaseCheck


class Choice(Struct, frozen=True):
    """What a packet is to hold.

    langs    languages whose documents are written beside the English ones
    enclose  documents that packet.pdf holds besides those that are always sent
    """

    formats: tuple[str, ...] = format_names()
    langs: tuple[str, ...] = ()
    large_print: bool = True
    enclose: tuple[str, ...] = ()


EVERYTHING = Choice()


def choices(check: CaseCheck) -> dict[str, tuple[tuple[str, str], ...]]:
    """What there is to choose for a packet of this case, each with its words."""
    worded = wording()
    called = called_for(worded.documents, check.case)
    return {
        "formats": tuple((name, name.upper()) for name in format_names()),
        "langs": tuple((tag, worded.words["languages"][tag]) for tag in languages()),
        "large": tuple((name, called[name].title) for name in called if called[name].large_print),
        "enclose": tuple((name, called[name].title) for name in called if name not in worded.sent),
    }


def reviewers_of(check: CaseCheck) -> tuple[str, ...]:
    """Those of the case who may have reviewed it, as an approval names them."""
    return tuple(
        f"{person.name}, {person.credential}"
        for person in check.case.with_role("evaluator")
        if person.name and person.credential
    )


def open_folder(folder: Path | None) -> list[str]:
    """Show a folder in the file manager of this machine; what to tell of it. Raises UserError where there is none."""
    if folder is None:
        raise UserError([Problem("the packet", "is not built yet", "Build it first.")])
    opened = typer.launch(str(folder.resolve())) == 0
    return [f"{folder} is {'open' if opened else 'the folder: this machine has no program that shows it'}."]


def papers_of(check: CaseCheck) -> dict[str, str]:
    """The documents that the packet of this case holds, with their titles."""
    return {name: document.title for name, document in called_for(wording().documents, check.case).items()}


def askers_of(check: CaseCheck) -> tuple[tuple[str, str, int], ...]:
    """Who can be sent a sheet of questions: id, name, and how many points are open for them."""
    open_for = [name for verdict in check.verdicts if verdict.open for name in asked_of(verdict.answer, check.case)]
    return tuple(
        (id_, who.name, open_for.count(id_)) for id_, who in respondents().items() if who.may_see and id_ in open_for
    )


def new_questions() -> dict[str, Any]:
    """The three questions of a new case, each with its choices and their words."""
    kinds = get_args(bare_kind(Request.model_fields["kind"].annotation))
    controls = (entry for entry in feature_entries() if features()[entry.id].part == "control")
    return {
        "payers": tuple((payer.id, payer.name) for payer in payers()),
        "kinds": tuple((kind, meaning(("request", "kind"), kind)) for kind in kinds),
        "controls": tuple((entry.id, f"{entry.name}: {entry.meaning}") for entry in controls),
    }
