"""A case -> the same case about nobody, for teaching: names, numbers and places out, days moved, the clinical record as
it was.

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
from collections.abc import Collection, Iterator, Mapping
from datetime import date, timedelta
from typing import Any

from msgspec import Struct
from msgspec.structs import replace
from pydantic.fields import FieldInfo

from docgen.case.base import Part
from docgen.case.model import Case
from docgen.case.nobody.birth import OLDEST_AGE, Oldest, YearOnly
from docgen.case.nobody.keys import CODED_COLUMNS, ID_COLUMNS, days, ids, is_coded, is_id, texts
from docgen.case.nobody.names import Names, Owner, owner
from docgen.case.nobody.spans import Span, apart, without
from docgen.case.nobody.text import FreeText
from docgen.case.nobody.tokens import folded, words_of
from docgen.case.paper import OutsideRecord
from docgen.case.who import Client, Person
from docgen.months import whole_years

LEAST_WEEKS, MOST_WEEKS = 53, 260

_PEOPLE_COLUMNS = ("supervisor", "coach", "cleared_by")
_KINDS = {
    "supplier": "supplier",
    "school": "school",
    "payer": "payer",
    "evaluator": "clinic",
    "practitioner": "clinic",
    "respiratory": "clinic",
}


class Deidentified(Struct, frozen=True):
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
        return without(text, self.names.spans(text))


def deidentified(
    case: Case, case_id: str, weeks: int, labels: Mapping[str, str], ordinary: Collection[str]
) -> Deidentified:
    """The case about nobody.

    case_id   id of the copy; it must tell nothing of the person
    weeks     how far every day is moved
    labels    what stands in the place of a name or number, by kind; patterns of names hold {letter}
    ordinary  words in small letters that are no names, such as those of the program's own pages
    """
    return _Copy(case, timedelta(weeks=weeks), labels, ordinary).copied(case_id)


class _Copy:
    """One copy in the making: who is who, and what has been replaced so far."""

    def __init__(self, case: Case, move: timedelta, labels: Mapping[str, str], ordinary: Collection[str]) -> None:
        self.case, self.move, self.labels = case, move, labels
        self.letters = _letters()
        self.replaced: dict[str, str] = {}
        self.named: dict[str, str] = {}  # folded name -> label
        self.ids: dict[str, str] = {}
        self.near = case.dates.written_on or case.request.requested_on or max(days(case), default=date(2000, 1, 1))
        self.texts = tuple(texts(case))
        credentials = {word for person in case.people for word in words_of(person.credential or "")}
        conditions = {word for diagnosis in case.diagnoses for word in diagnosis.name.split() if word.islower()}
        self.names = Names(
            self._owners(), {*ordinary, *credentials} | conditions, self.texts, lambda name: self._label("name", name)
        )
        known = [
            number
            for number in (
                case.client.member_id,
                case.authorization.tracking,
                case.denial.reference,
                case.request.payer_phone,
                *(value for person in case.people for value in (person.license, person.phone)),
            )
            if number
        ]
        known += [case.id] if re.search(r"\d", case.id) else []
        self.free = FreeText(self.names, known, move, self.near, labels)

    def copied(self, case_id: str) -> Deidentified:
        """The copy; whoever has no name yet is named in the order of the case."""
        copy = self._part(self.case)
        records = tuple(self._row(row) for row in self.case.records)
        totals = tuple(self._row(total) for total in self.case.totals)
        sessions = tuple(self._row(row) for row in self.case.sessions)
        copy = copy.model_copy(
            update={"id": case_id, "client": self._client(self.case.client, copy.client), "photos": ()}
        )
        accepted = tuple(
            row.model_copy(
                update={"by": self._replace(row.by, self._label("person", row.by)), "on": row.on + self.move}
            )
            for row in self.case.accepted
        )
        doubtful = [word for text in self.texts for word in self.free.doubtful(text)]
        doubtful += [word for name in ids(self.case) for word in self.free.doubtful(name.replace("_", " "))]
        return Deidentified(
            copy.with_records(records).with_totals(totals).with_sessions(sessions).with_accepted(accepted),
            self.names,
            dict(self.replaced),
            tuple(dict.fromkeys(doubtful)),
        )

    # ---- who is who --------------------------------------------------------------------------------

    def _label(self, kind: str, name: str) -> str:
        """The label of a name, the same each time."""
        key = " ".join(words_of(name))
        if key not in self.named:
            self.named[key] = self.labels[kind].format(letter=next(self.letters))
        return self.named[key]

    def _owners(self) -> list[Owner]:
        client, owners = self.case.client, []
        first = client.name or client.called or client.name_in_own_script
        if first:
            owners.append(
                owner(self._label("client", first), (client.name, client.called, client.name_in_own_script), True)
            )
        by_kind = [(person.name, "person") for person in self.case.people]
        by_kind += [(person.organisation, _KINDS.get(person.role, "organisation")) for person in self.case.people]
        by_kind += [(record.author, "person") for record in self.case.outside_records]
        by_kind += [(record.organisation, "organisation") for record in self.case.outside_records]
        by_kind += [(self.case.request.payer_name, "payer")]
        by_kind += [(later.payer_name, "payer") for later in self.case.request.later_payers]
        owners += [owner(self._label(kind, name), (name,), kind == "person") for name, kind in by_kind if name]
        if not set(words_of(self.case.id)) <= set(words_of(f"{client.name} {client.called}")):
            owners.append(owner(self.labels["case"], (self.case.id,), False))
        return list(dict.fromkeys(known for known in owners if known))

    # ---- the parts ---------------------------------------------------------------------------------

    def _part(self, part: Part) -> Any:
        changed = {
            name: self._value(getattr(part, name), name, field) for name, field in type(part).model_fields.items()
        }
        if isinstance(part, Person):
            changed |= self._person(part)
        if isinstance(part, OutsideRecord):
            names = {"author": "person", "organisation": "organisation"}
            changed |= {
                key: name and self._replace(name, self._label(kind, name))
                for key, kind in names.items()
                for name in [getattr(part, key)]
            }
        if part is self.case.request:
            payer = self.case.request.payer_name
            changed["payer_name"] = payer and self._replace(payer, self._label("payer", payer))
            changed["payer_phone"] = self._removed(self.case.request.payer_phone)
            changed["later_payers"] = ()  # the copy is of a request to one payer
        if part is self.case.delivery:
            smaller_than_a_state = ("street", "city", "postal_code")
            changed |= {key: self._removed(getattr(self.case.delivery, key)) for key in smaller_than_a_state}
        if part is self.case.authorization:
            changed["tracking"] = self._removed(self.case.authorization.tracking)
        if part is self.case.denial:
            changed["reference"] = self._removed(self.case.denial.reference)
        if part is self.case.trial:
            changed["rows"] = "trial.csv"
        if part is self.case.training:
            changed["zone"] = (
                self.case.training.zone and "UTC"
            )  # a zone can be as small as a county; the hours on the wall stay
        return part.model_copy(update=changed)

    def _person(self, person: Person) -> dict[str, Any]:
        place = person.organisation
        return {
            "name": person.name and self._replace(person.name, self._label("person", person.name)),
            "organisation": place and self._replace(place, self._label(_KINDS.get(person.role, "organisation"), place)),
            **{key: self._removed(getattr(person, key)) for key in ("license", "phone", "email")},
            "private_note": None,
        }

    def _client(self, client: Client, copy: Client) -> Client:
        name = client.name or client.called
        label = self._label("client", name) if name else ""
        return copy.model_copy(
            update={
                "name": client.name and self._replace(client.name, label),
                "called": client.called and self._replace(client.called, label),
                "name_in_own_script": self._removed(client.name_in_own_script),
                "name_language": None,
                "member_id": self._removed(client.member_id),
                "born_on": self._born(client.born_on),
            }
        )

    def _born(self, born: date | None) -> date | None:
        """The first day of a year that gives the age on the day of the documents."""
        if born is None:
            return None
        age = whole_years(born, self.near)
        year = (self.near + self.move).year
        return Oldest(year - OLDEST_AGE - 1, 1, 1) if age > OLDEST_AGE else YearOnly(year - age, 1, 1)

    def _row(self, row: Any) -> Any:
        changed: dict[str, Any] = {"date": row.date + self.move}
        for name in row.__struct_fields__:
            value = getattr(row, name)
            if value and name in ID_COLUMNS:
                changed[name] = self._id(value)
            elif isinstance(value, str) and name not in CODED_COLUMNS:
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
        return self._replace(value, shown)

    # ---- the values --------------------------------------------------------------------------------

    def _value(self, value: Any, name: str, field: FieldInfo) -> Any:
        if isinstance(value, Part):
            return self._part(value)
        if isinstance(value, tuple):
            return tuple(self._value(entry, name, field) for entry in value)
        if isinstance(value, date):
            return value + self.move
        if not isinstance(value, str) or is_coded(name, field):
            return value
        return self._id(value) if is_id(field) else self._words(value)

    def _words(self, text: str) -> str:
        """A free text without names and numbers, its days moved."""
        for span in self.free.spans(text):
            if text[span.start : span.end] != span.label:
                self.replaced[text[span.start : span.end]] = span.label
        return self.free.copy(text)

    def _id(self, value: str) -> str:
        """An id without names in it, the same each time, and never that of another."""
        if value not in self.ids:
            words = value.replace("_", " ")
            shown = re.sub(r"[^a-z0-9]+", "_", without(words, self._parts_of_id(words)).lower()).strip("_")
            shown = value if shown == value.strip("_") else shown
            taken, n = set(self.ids.values()), 2
            unique = shown
            while unique in taken:
                unique, n = f"{shown}_{n}", n + 1
            self.ids[value] = unique
        return self.ids[value]

    def _parts_of_id(self, words: str) -> list[Span]:
        """The names in an id, and numbers as long as those of a person."""
        long = [span for span in self.free.spans(words) if re.search(r"\d{4}", words[span.start : span.end])]
        return apart([*long, *self.names.spans(words)], words)

    def _replace(self, value: str, label: str) -> str:
        if value != label:
            self.replaced[value] = label
        return label

    def _removed(self, value: str | None) -> str | None:
        return value and self._replace(value, self.labels["removed"])


def _letters() -> Iterator[str]:
    """A to Z, then AA, AB and so on."""
    alphabet = [chr(code) for code in range(ord("A"), ord("Z") + 1)]
    yield from alphabet
    yield from (first + second for first in alphabet for second in alphabet)
    raise OverflowError("more names than letters")
