"""Open answers -> the questions that one of those who can answer is asked, key by key, and nothing they may not see."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Any, Literal, get_args, get_origin

from msgspec import Struct

from docgen.case.asked import ChosenFeature
from docgen.case.awaited import Awaited, respondent_at
from docgen.case.base import Part
from docgen.case.keys import bare_kind, class_at, keys_at, table_at, value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.respondents import Respondent, respondents
from docgen.criteria.asked_of import keys_of_entry
from docgen.criteria.forms import refers
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend
from docgen.criteria.run import Verdict
from docgen.criteria.settle import unset_keys
from docgen.fit.feature import features

_NAMES = ("name", "part", "place", "says", "code", "kind", "what")  # what an entry is known by, first that is there
_NEW = {
    "spaces": "a place not yet recorded",
    "people": "someone not yet recorded",
    "taught": "someone who was taught",
}


class Question(Struct, frozen=True):
    """One key that is not recorded.

    path     of the key in the case; the place after the last stands for an entry that is to be added
    about    the entry it belongs to, in the words of the case; empty for a table of its own
    label    the key in words
    choices  value and words of each answer that there is; empty where it is free
    form     "yes_no", "date", "number", "choice", "list" or "text"
    heading  the part of the case it belongs to
    """

    path: KeyPath
    about: str
    label: str
    form: str
    choices: tuple[tuple[str, str], ...]
    heading: str

    @property
    def words(self) -> str:
        """The question, as a line."""
        words = f"{self.about}: {self.label}" if self.about else self.label
        return words[:1].upper() + words[1:]


def questions_for(respondent: str, case: Case, verdicts: Iterable[Verdict]) -> tuple[Question, ...]:
    """What this one is asked, in the order of a case, each key once; nothing of a class that they may not see."""
    reader = respondents()[respondent]
    asked: dict[KeyPath, Question] = {}
    for verdict in verdicts:
        mend = verdict.answer.mend if verdict.open else None
        for path in _paths_of(verdict, mend, case, reader) if mend else ():
            open_to = respondent_at(case, path) in reader.answers_for and class_at(case, path) in reader.may_see
            if path not in asked and open_to:
                question = _question(case, path, reader)
                if question.choices or not _of_one_role(path):  # nobody in it yet: no name stands there to be picked
                    asked[path] = question
    for path in _own_credentials(respondent, case):
        asked.setdefault(path, _question(case, path, reader))
    order = list(Case.model_fields)
    return tuple(sorted(asked.values(), key=lambda question: order.index(str(question.path[0]))))


def _paths_of(verdict: Verdict, mend: Mend, case: Case, reader: Respondent) -> Iterator[KeyPath]:
    """The keys that would settle an answer: those not set, and those of entries that are to be added."""
    yield from unset_keys(case, verdict.answer.where, mend.fill)
    for entry in mend.add:
        table: KeyPath = tuple(entry.table.split("."))
        new: KeyPath = (*table, len(value_at(case, table, ())))
        # whoever answers on a sheet has to say what a sentence of the program would fix
        asks = (*dict(entry.fixed), *keys_of_entry(new, entry))
        needed = [key for key in asks if keys_at(new)[key].is_required()]
        if all(respondent_at(case, (*new, key)) in reader.answers_for for key in needed):  # half of one cannot be read
            yield from ((*new, key) for key in asks)


def _own_credentials(respondent: str, case: Case) -> Iterator[KeyPath]:
    """Credentials of those who answer for themselves, where they are not recorded or stand in words."""
    for at, person in enumerate(case.people):
        own: KeyPath = ("people", at, "credential")
        is_open = person.credential is None or person.credential_in_words
        if is_open and respondent_at(case, own) == respondent == person.role:
            yield own


def _question(case: Case, path: KeyPath, asked: Respondent) -> Question:
    may_see = asked.may_see
    name = str(path[-1])
    model = table_at(path[:-1])
    field = model.model_fields[name] if model else None
    form, choices = _form(bare_kind(field.annotation) if field else str)
    if refers(path):
        able = case.with_role("practitioner") if _of_one_role(path) else case.people
        shown = ((person.id, str(person.name)) for person in able if person.name and person.privacy("name") in may_see)
        form, choices = form if form == "list" else "choice", tuple(shown)
    heading = recorded(Case.model_fields[str(path[0])].description)
    as_called = (field and field.description) or name
    label = asked.words.get(dotted(tuple(part for part in path if isinstance(part, str))), as_called)
    return Question(path, _about(case, path, may_see), label, form, choices, heading)


def _of_one_role(path: KeyPath) -> bool:
    """Whether a key names a practitioner and nobody else: the evaluator and the supplier may sign no order."""
    return path[0] == "order" and path[-1] in ("signed_by", "completed_by")


def _about(case: Case, path: KeyPath, may_see: frozenset[Privacy]) -> str:
    """The entry that a key belongs to, by the first of its names that the reader may see."""
    if len(path) < 2 or not isinstance(path[-2], int):
        return ""
    entry = value_at(case, path[:-1])
    if not isinstance(entry, Part):
        return _NEW.get(str(path[-3]), "not yet recorded")
    if isinstance(entry, Awaited) and entry.asks:
        return entry.asks
    if isinstance(entry, ChosenFeature) and entry.id in features():
        return features()[entry.id].name
    for name in (*_NAMES, "relation", "role"):  # somebody without a name is known by what they are to the client
        if name in type(entry).model_fields and entry.privacy(name) in may_see and (word := getattr(entry, name)):
            return str(word)
    return _in_words(path[-3])


def _in_words(table: object) -> str:
    return str(table).replace("_", " ")


def _form(kind: Any) -> tuple[str, tuple[tuple[str, str], ...]]:
    if get_origin(kind) is Literal:
        return "choice", tuple((str(word), _in_words(word)) for word in get_args(kind))
    if get_origin(kind) is tuple:
        return "list", _form(bare_kind(get_args(kind)[0]))[1]
    if kind is bool:
        return "yes_no", (("true", "yes"), ("false", "no"))
    return {int: "number", float: "number", date: "date"}.get(kind, "text"), ()
