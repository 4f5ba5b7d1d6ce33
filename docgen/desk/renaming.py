"""The name that an entry has in the file, changed in every place that names it: shown first, then done in one save.

An entry that is taken out can have another one of its list put in its place in the same way.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from docgen.case.keys import value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.read import SESSIONS_FILE, CaseFile
from docgen.case.rename import Renamed, with_another, with_name
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.desk.leaning import COLUMN_OF, in_rows, keys_that_name, name_in_file
from docgen.desk.picked import name_of
from docgen.desk.sections import Step, steps_to
from docgen.errors import Problem, UserError
from docgen.fit.finding import vocabulary

_COUNTED: Mapping[KeyPath, str] = {("spaces",): "task", ("configuration", "profiles"): "changed_profile"}  # in lessons


class Proposal(Struct, frozen=True):
    """A change of a name as it is shown before it is done.

    what      the entry in words
    old, new  its names; of an entry to be taken out, its own and that of the one that takes its place
    instead   that other entry in words; "" where the entry is only renamed
    steps     a way to each place that names it
    files     files whose rows do, and how many rows
    on_phone  whether a page to count on may hold the old name
    """

    entry: KeyPath
    what: str
    old: str
    new: str
    instead: str
    steps: tuple[Step, ...]
    files: tuple[str, ...]
    n_rows: int
    on_phone: bool


def renamed(file: CaseFile, entry: KeyPath, name: str) -> tuple[Proposal, Renamed]:
    """The case with another name of an entry, and what is shown of that. Raises UserError where that cannot be."""
    old, of_list = name_in_file(file.case, entry), entry[:-1]
    if not old or (entry[0] == "findings" and name in vocabulary()):
        what = f"'{name[:60]}' would make another thing of this entry"
        raise UserError([Problem("the name", what, "Take it out, and add what it is.")])
    change = with_name(file, entry, name, [*keys_that_name(file.case, of_list, old)], _columns(file.case, of_list))
    return _proposal(file.case, entry, old, name, "", change), change


def replaced(file: CaseFile, entry: KeyPath, name: str) -> tuple[Proposal, Renamed]:
    """The case without an entry and with another one in its place; the same."""
    of_list, old = entry[:-1], value_at(file.case, entry).id
    if in_rows(file.case, of_list, old):
        do = "Take the rows out first, if they are wrong."
        raise UserError([Problem("the entry", "has rows of the trial, which are of nothing else", do)])
    try:
        change = with_another(file, entry, name, [*keys_that_name(file.case, of_list, old)])
    except UserError:
        do = "Choose there what is to stand, place by place."
        raise UserError([Problem("the other one", "stands already where this one does", do)]) from None
    instead = next(name_of(other) for other in value_at(file.case, of_list) if other.id == name)
    return _proposal(file.case, entry, old, name, instead, change), change


def others_of(case: Case, entry: KeyPath) -> tuple[tuple[str, str], ...]:
    """The entries that can be put in the place of one: id and words; none where its rows stand in the way."""
    there = value_at(case, entry)
    if in_rows(case, entry[:-1], getattr(there, "id", "")):
        return ()
    return tuple((other.id, name_of(other)) for other in value_at(case, entry[:-1]) if other is not there)


def _proposal(case: Case, entry: KeyPath, old: str, new: str, instead: str, change: Renamed) -> Proposal:
    of_list = entry[:-1]
    return Proposal(
        entry, name_of(value_at(case, entry)), old, new, instead, steps_to(case, change.keys), tuple(change.files),
        change.n_rows, of_list in COLUMN_OF,
    )  # fmt: skip


def _columns(case: Case, of_list: KeyPath) -> Mapping[str, Sequence[str]]:
    """File of the case -> its columns that name entries of a list."""
    column, of_lessons = COLUMN_OF.get(of_list), _COUNTED.get(of_list)
    files = {case.trial.rows: [column], TOTALS_FILE: [column]} if column else {}
    return files | ({SESSIONS_FILE: [of_lessons]} if of_lessons else {})
