"""A new submission.toml: every key that a request of this case may need, commented out, with what it means."""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import get_origin

from pydantic.fields import FieldInfo

from docgen.case.base import Part
from docgen.case.keys import bare_kind, choices_in
from docgen.case.read import CaseFile
from docgen.errors import Problem, UserError
from docgen.private import write_whole, writing
from docgen.request.parties import care_team
from docgen.request.submission import (
    FILE,
    Address,
    Membership,
    Named,
    Professional,
    Sender,
    Subscriber,
    X12Codes,
    fields_in,
)

_WIDTH = 100
_HEAD = """What only an electronic request needs, for the supplier's biller. No page shows any of it.
Take the first # away from a key and write its value. Nothing here has a default: codes of X12 come from the payer or
from whoever holds its lists. 'docgen check CASE --for biller' says which keys are needed; the rest may stay out."""
_TABLES: tuple[tuple[str, type[Part]], ...] = (
    ("request", Sender),
    ("client", Named),
    ("client.address", Address),
    ("coverage", Membership),
    ("coverage.subscriber", Subscriber),
    ("x12", X12Codes),
)
_OF_A_LINE = """# a line of the order with a service type of its own: id of the item, or chair
# [[x12.lines]]
# item = ""
# category = ""
"""


def start_submission(file: CaseFile) -> Path:
    """Write it beside the case. Raises UserError where one is there, or it cannot be written."""
    path = file.folder / FILE
    if os.path.lexists(path):
        raise UserError([Problem(str(path), "is already there, and stays as it is", "Fill in that one.")])
    with writing(path):
        write_whole(path, new_submission(file).encode())
    return path


def new_submission(file: CaseFile) -> str:
    """Its text, with an entry for each person of the case whom a request names."""
    lines = [*(f"# {line}" for line in _HEAD.split("\n")), 'format = "docgen submission 1"']
    for name, model in _TABLES:
        lines += ["", f"[{name}]", *_keys(model)]
    lines += ["", *_OF_A_LINE.splitlines()]
    for person in (*care_team(file.case), *file.case.with_role("supplier")):
        keys = _keys(Professional, ("id",) if person.role == "supplier" else ("id", "organisation_npi"))
        lines += ["", f"[[people]]  # {person.called}", f'id = "{person.id}"', *keys]
    return "\n".join(lines) + "\n"


def _keys(model: type[Part], without: tuple[str, ...] = ()) -> Iterator[str]:
    for name, field in fields_in(model):
        if name not in without:
            means = f"{field.description}{_options(field)}"
            yield from textwrap.wrap(means, _WIDTH, initial_indent="# ", subsequent_indent="# ")
            yield f"# {name} = {_form(field)}"


def _options(field: FieldInfo) -> str:
    """The words that a value may be, after its meaning; empty where it may be any."""
    words = choices_in(field.annotation)
    return f" ({', '.join(words)})" if words else ""


def _form(field: FieldInfo) -> str:
    """The empty form of a value."""
    return "[]" if get_origin(bare_kind(field.annotation)) is tuple else '""'
