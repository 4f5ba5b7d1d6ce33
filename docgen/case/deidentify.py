"""A case -> the same case about nobody, for teaching: names, numbers and places out, days moved, the clinical record as it was.

What goes follows the 18 identifiers of 45 CFR 164.514(b)(2)(i): names; places smaller than a state; days; ages over 89;
phone, fax, email, record, plan, account, licence, vehicle and device numbers; web and network addresses; any other
number, mark or code of the person. Texts hold what nobody foresaw, so a person has to read the result.

Days. The rule leaves the year alone. Teaching needs what lies between two days, and training its days of the week, so
every day is moved by the same whole number of weeks instead; the number is drawn for each copy and kept nowhere. It
moves days forward, so that none is mistaken for a real one and none falls before a code or a rule began. A birth date
keeps its year alone, moved so that the age stays. Moved days are more than the year that the rule allows: whether they
may leave the clinic is for an expert's judgment under 164.514(b)(1), or for an agreement with who gets the copy.
"""

from __future__ import annotations

import re
import typing
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from typing import Any

from pydantic import StringConstraints
from pydantic.fields import FieldInfo

from docgen.case.base import Part
from docgen.case.model import Case
from docgen.case.moved import moved_days
from docgen.case.names import Names, Owner, Span, folded, owner, words_of
from docgen.case.numbers import numbers_in
from docgen.case.who import Client, Person

OLDEST_AGE = 89  # above it, 164.514(b)(2)(i)(C) allows one category, 90 or more
LEAST_WEEKS, MOST_WEEKS = 53, 260

# public codes, never words; zone and rows are replaced by hand
_CODED = frozenset(("format", "code", "base_code", "modifier", "codes", "questions", "zone", "rows"))
_PEOPLE_COLUMNS = ("supervisor", "coach", "cleared_by")
_KINDS = {
    "supplier": "supplier",
    "school": "school",
    "payer": "payer",
    "evaluator": "clinic",
    "practitioner": "clinic",
    "respiratory": "clinic",
}


class YearOnly(date):
    """A birth date of which only the year may be shown; `oldest` where not even that."""

    oldest = False


class Oldest(YearOnly):
    """The birth date of someone older than the public list lets anyone tell."""

    oldest = True


@dataclass(frozen=True, slots=True)
class Deidentified:
    """A case about nobody.

    names     what was known of names, to look for what is left
    replaced  what stood in the case -> what stands there now
    doubtful  words that stay and may be a name; a person must look
    """

    case: Case
    names: Names
    replaced: Mapping[str, str]
    doubtful: tuple[str, ...]

    def text(self, text: str) -> str:
        """Another text, such as the name of a payer's rules, without the names known."""
        return _without(text, self.names.spans(text))


def deidentified(
    case: Case, case_id: str, weeks: int, labels: Mapping[str, str], ordinary: Collection[str]
) -> Deidentified:
    """The case about nobody.

    case_id   id of the copy; it must tell nothing of the person
    weeks     how far every day is moved
    labels    what stands in the place of a name or number, by kind; patterns of names hold {letter}
    ordinary  words in small letters that are no names, such as those of the program's own pages
    """
    return _Copy(case, timedelta(weeks=weeks), labels, ordinary).made(case_id)


class _Copy:
    """One copy in the making: who is who, and what has been replaced so far."""

    def __init__(self, case: Case, move: timedelta, labels: Mapping[str, str], ordinary: Collection[str]) -> None:
        self.case, self.move, self.labels = case, move, labels
        self.letters = _letters()
        self.replaced: dict[str, str] = {}
        self.named: dict[str, str] = {}  # folded name -> label
        self.ids: dict[str, str] = {}
        self.near = case.dates.written_on or case.request.requested_on or max(_days(case), default=date(2000, 1, 1))
        self.texts = tuple(_texts(case))
        credentials = {word for person in case.people for word in words_of(person.credential or "")}
        conditions = {word for one in case.diagnoses for word in one.name.split() if word.islower()}
        self.names = Names(
            self._owners(), {*ordinary, *credentials} | conditions, self.texts, lambda name: self._label("name", name)
        )
        self.known = [
            number
            for number in (
                case.client.member_id,
                case.authorization.tracking,
                case.denial.reference,
                *(value for person in case.people for value in (person.license, person.phone)),
            )
            if number
        ]
        self.known += [case.id] if re.search(r"\d", case.id) else []

    def made(self, case_id: str) -> Deidentified:
        """The copy; whoever has no name yet is named in the order of the case."""
        copy = self._part(self.case)
        records = tuple(self._row(row) for row in self.case.records)
        sessions = tuple(self._row(row) for row in self.case.sessions)
        copy = copy.model_copy(update={"id": case_id, "client": self._client(self.case.client, copy.client)})
        doubtful = dict.fromkeys(word for text in self.texts for word in self.names.doubtful(text))
        return Deidentified(
            copy.with_records(records).with_sessions(sessions), self.names, dict(self.replaced), tuple(doubtful)
        )

    # ---- who is who --------------------------------------------------------------------------------

    def _label(self, kind: str, name: str) -> str:
        """The label of a name, the same each time."""
        key = " ".join(words_of(name))
        if key not in self.named:
            self.named[key] = self.labels[kind].format(letter=next(self.letters))
        return self.named[key]

    def _owners(self) -> list[Owner]:
        client, found = self.case.client, []
        first = client.name or client.called
        if first:
            found.append(owner(self._label("client", first), (client.name, client.called), True))
        by_kind = [(person.name, "person") for person in self.case.people]
        by_kind += [(person.organisation, _KINDS.get(person.role, "organisation")) for person in self.case.people]
        by_kind.append((self.case.request.payer_name, "payer"))
        found += [owner(self._label(kind, name), (name,), kind == "person") for name, kind in by_kind if name]
        if not set(words_of(self.case.id)) <= set(words_of(f"{client.name} {client.called}")):
            found.append(owner(self.labels["case"], (self.case.id,), False))
        return list(dict.fromkeys(one for one in found if one))

    # ---- the parts ---------------------------------------------------------------------------------

    def _part(self, part: Part) -> Any:
        changed = {
            name: self._value(getattr(part, name), name, field) for name, field in type(part).model_fields.items()
        }
        if isinstance(part, Person):
            changed |= self._person(part)
        if part is self.case.request:
            changed["payer_name"] = part.payer_name and self._told(
                part.payer_name, self._label("payer", part.payer_name)
            )
        if part is self.case.authorization:
            changed["tracking"] = self._removed(part.tracking)
        if part is self.case.denial:
            changed["reference"] = self._removed(part.reference)
        if part is self.case.trial:
            changed["rows"] = "trial.csv"
        if part is self.case.training:
            changed["zone"] = part.zone and "UTC"  # a zone can be as small as a county; the hours on the wall stay
        return part.model_copy(update=changed)

    def _person(self, person: Person) -> dict[str, Any]:
        place = person.organisation
        return {
            "name": person.name and self._told(person.name, self._label("person", person.name)),
            "organisation": place and self._told(place, self._label(_KINDS.get(person.role, "organisation"), place)),
            **{key: self._removed(getattr(person, key)) for key in ("license", "phone", "email")},
            "private_note": None,
        }

    def _client(self, client: Client, copy: Client) -> Client:
        label = self._label("client", client.name or client.called) if client.name or client.called else None
        return copy.model_copy(
            update={
                "name": client.name and self._told(client.name, label),
                "called": client.called and self._told(client.called, label),
                "member_id": self._removed(client.member_id),
                "born_on": self._born(client.born_on),
            }
        )

    def _born(self, born: date | None) -> date | None:
        """The first day of a year that gives the age on the day of the documents."""
        if born is None:
            return None
        age = self.near.year - born.year - ((self.near.month, self.near.day) < (born.month, born.day))
        year = (self.near + self.move).year
        return Oldest(year - OLDEST_AGE - 1, 1, 1) if age > OLDEST_AGE else YearOnly(year - age, 1, 1)

    def _row(self, row: Any) -> Any:
        changed: dict[str, Any] = {"date": row.date + self.move}
        for name in (field.name for field in fields(row)):
            value = getattr(row, name)
            if name in ("method", "task"):
                changed[name] = self._id(value)
            elif isinstance(value, str):
                changed[name] = self._who(value) if name in _PEOPLE_COLUMNS else self._words(value)
        return replace(row, **changed)

    def _who(self, value: str) -> str:
        """Who supervised or coached: someone known by name or initials, else someone of their own; a role stays."""
        shown = self._words(value)
        if shown == value:
            owners = self.names.of_initials.get(folded(value.replace(".", ""))[0], set())
            if len(owners) == 1:
                shown = next(iter(owners)).label
            elif any(char.isupper() for char in value):
                shown = self._label("person", value)
        return self._told(value, shown)

    # ---- the values --------------------------------------------------------------------------------

    def _value(self, value: Any, name: str, field: FieldInfo) -> Any:
        if isinstance(value, Part):
            return self._part(value)
        if isinstance(value, tuple):
            return tuple(self._value(one, name, field) for one in value)
        if isinstance(value, date):
            return value + self.move
        if not isinstance(value, str) or _is_coded(name, field):
            return value
        return self._id(value) if _holds(field, _is_pattern) else self._words(value)

    def _words(self, text: str) -> str:
        """A free text without names and numbers, its days moved."""
        found = [
            *numbers_in(text, self.known, self.labels),
            *moved_days(text, self.move, self.near),
            *self.names.spans(text),
        ]
        spans = list(_apart(found))
        for span in spans:
            self.replaced[text[span.start : span.end]] = span.label
        return _without(text, spans)

    def _id(self, value: str) -> str:
        """An id without names in it, the same each time, and never that of another."""
        if value not in self.ids:
            words = value.replace("_", " ")
            shown = re.sub(r"[^a-z0-9]+", "_", _without(words, self.names.spans(words)).lower()).strip("_")
            shown = value if shown == value.strip("_") else shown
            taken, n = set(self.ids.values()), 2
            made = shown
            while made in taken:
                made, n = f"{shown}_{n}", n + 1
            self.ids[value] = made
        return self.ids[value]

    def _told(self, value: str, label: str) -> str:
        if value != label:
            self.replaced[value] = label
        return label

    def _removed(self, value: str | None) -> str | None:
        return value and self._told(value, self.labels["removed"])


def _apart(spans: Iterable[Span]) -> Iterator[Span]:
    """Spans that do not overlap; of two that do, the one that comes first in the list."""
    taken: list[Span] = []
    for span in spans:
        if all(span.end <= one.start or one.end <= span.start for one in taken):
            taken.append(span)
    return iter(sorted(taken, key=lambda span: span.start))


def _without(text: str, spans: Iterable[Span]) -> str:
    shown, at = [], 0
    for span in spans:
        shown += [text[at : span.start], span.label]
        at = span.end
    return "".join([*shown, text[at:]])


def _letters() -> Iterator[str]:
    """A to Z, then AA, AB and so on."""
    alphabet = [chr(code) for code in range(ord("A"), ord("Z") + 1)]
    yield from alphabet
    yield from (first + second for first in alphabet for second in alphabet)
    raise OverflowError("more names than letters")


def _leaves(value: Any, name: str = "", field: FieldInfo | None = None) -> Iterator[tuple[Any, str, FieldInfo | None]]:
    """Each value of a case that is no table, with its key and field."""
    if isinstance(value, Part):
        for key, inner in type(value).model_fields.items():
            yield from _leaves(getattr(value, key), key, inner)
    elif isinstance(value, tuple):
        for one in value:
            yield from _leaves(one, name, field)
    else:
        yield value, name, field


def _texts(case: Case) -> Iterator[str]:
    """Every free text once."""
    words = (
        value
        for value, name, field in _leaves(case)
        if isinstance(value, str) and field and not _is_coded(name, field) and not _holds(field, _is_pattern)
    )
    rows = (
        getattr(row, one.name)
        for row in (*case.records, *case.sessions)
        for one in fields(row)
        if one.name not in ("method", "task")
    )
    yield from dict.fromkeys((*words, *(value for value in rows if isinstance(value, str))))


def _days(case: Case) -> Iterator[date]:
    yield from (value for value, name, _ in _leaves(case) if isinstance(value, date) and name != "born_on")
    yield from (row.date for row in (*case.records, *case.sessions))


def weeks_apart(case: Case, weeks: Iterable[int]) -> int:
    """The first number of weeks that moves no day of the case onto another of its days; else the first of all."""
    days, given = set(_days(case)), list(weeks)
    return next((n for n in given if not days & {day + timedelta(weeks=n) for day in days}), given[0])


def _holds(field: FieldInfo, wanted: Callable[[Any], bool]) -> bool:
    """Whether the type of a field holds something, however deep."""
    below = [field.annotation, *field.metadata]
    while below:
        one = below.pop()
        if wanted(one):
            return True
        below += typing.get_args(one)
    return False


def _is_coded(name: str, field: FieldInfo) -> bool:
    return name in _CODED or _holds(field, _is_literal)


def _is_literal(kind: Any) -> bool:
    return typing.get_origin(kind) is typing.Literal


def _is_pattern(kind: Any) -> bool:
    return (isinstance(kind, StringConstraints) and kind.pattern is not None) or bool(getattr(kind, "pattern", None))
