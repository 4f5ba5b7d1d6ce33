"""A list of tables written by the names of its entries -> the list itself, and the line of each of its keys.

`[findings.hand_weak]` is an entry of `[[findings]]` with the id hand_weak. In a list written in this way

- `each` holds what every entry has that does not say otherwise; one with `each = false` has nothing of it
- `like = "left"` takes from an entry above what this one does not say
- an entry that is one value has it under the key for such a value: `tubes = "Keep it clear of the sling."`
- of some lists an entry is two texts, what was found and its measure: `hand_weak = ["He cannot push.", "90 g"]`
- some names say more than which entry it is: `[people.mother]` is a caregiver, and the mother
- several entries of one name stand in a list under it
- some lists gather names under what they have in common: `with_base = ["batteries", "armrests"]`

A name, a day and a person stand once; nothing is added that the case does not say.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from functools import cache
from typing import Any, Literal, get_args, get_origin

from msgspec import Struct

from docgen.case.asked import ChosenFeature, Command
from docgen.case.awaited import Awaited
from docgen.case.base import Part, part_of, parts_in
from docgen.case.emergency import (
    ConditionAnswer,
    EmergencyCall,
    EmergencyNumber,
    EmergencySign,
    EmergencyStep,
    Settled,
)
from docgen.case.fitted import Fitted
from docgen.case.items import ASKED_PARTS, Item, StandardPart
from docgen.case.left_out import LeftOut
from docgen.case.lines import KeyPath, dotted, line_for
from docgen.case.mount import Mount, NotApplicable
from docgen.case.names_that_say import may_be_measures, said_by_name
from docgen.case.need import Activity, Finding, Goal, Limit, Need, Space
from docgen.case.paper import OutsideRecord, Reason
from docgen.case.profile import Profile, SetTo
from docgen.case.sheets import SheetHeld
from docgen.case.supervision import Supervision
from docgen.case.training import Caution, FollowUp, Hours, SessionTotal, Taught, ToTeach
from docgen.case.tried import Alternative, Method, Task
from docgen.case.who import Diagnosis, LaterPayer, Person, Visit
from docgen.errors import Problem, brief

EACH, LIKE, OTHERS = "each", "like", "others"
_OF_VISIT = ("on", "by")
PRESENT = "docgen case 2"  # form of a file whose lists are written by name
_CODE = re.compile(r"[A-Z][0-9]{4}")
_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
_ID = re.compile(r"[a-z][a-z_]*")


class Form(Struct, frozen=True):
    """How the entries of a list are written by name.

    key      key that holds the name; "" where the name only tells the entries apart
    text, yes, number, day, texts
             key of an entry that is one text, yes or no, one number, one day, or a list of texts
    pair     keys of an entry that is two texts in a list
    also     key that holds the name too, where it is one of the key's words
    words    key that holds the name in words where the entry has none
    begins   pattern with which a name of `key` begins; another is a name of one's own, and holds no more than `words`
    gathers  word -> key and value of the entries whose names stand in a list under it
    others   names that `others = <text>` stands for, where they are not written
    topics   key of the topics that an entry serves, where its name is one of them: "epilepsy.seizure"
    """

    key: str = "id"
    text: str = ""
    yes: str = ""
    number: str = ""
    day: str = ""
    texts: str = ""
    pair: tuple[str, ...] = ()
    also: str = ""
    words: str = ""
    begins: str = ""
    gathers: Mapping[str, tuple[str, str | bool]] = {}
    others: tuple[str, ...] = ()
    topics: str = ""

    def key_of(self, value: object) -> str:
        """The key of an entry that is this value alone; "" where there is none."""
        if isinstance(value, bool):
            return self.yes
        if isinstance(value, str):
            return self.text
        if isinstance(value, (int, float)):
            return self.number
        if isinstance(value, date):
            return self.day
        return self.texts if isinstance(value, list) else ""

    def keys_of(self, value: object) -> dict[str, Any] | None:
        """The keys of an entry that is this value and no table; None where the list has no such entries."""
        if self.pair and isinstance(value, list) and len(value) == 2 and value == _texts(value):
            return dict(zip(self.pair, value, strict=True))
        key = self.key_of(value)
        return {key: value} if key else None


_FORMS: dict[type[Part], Form] = {
    LaterPayer: Form("payer", text="payer_name"),
    Diagnosis: Form("code", text="name", words="name", begins=r"[A-Za-z][0-9]"),
    ConditionAnswer: Form("ask", text="says", yes="yes", number="number"),
    EmergencySign: Form("", text="says", topics="serves"),
    EmergencyStep: Form("", text="says", topics="serves"),
    EmergencyCall: Form("who", text="answers"),
    EmergencyNumber: Form("name", text="value", words="name"),
    Settled: Form("conflict", text="says"),
    Reason: Form("", text="says"),
    Person: Form(text="name", also="role"),
    Visit: Form(text="on", day="on"),
    Limit: Form("kind", text="says"),
    Space: Form(text="clear_width_mm", number="clear_width_mm", words="name"),
    Supervision: Form("place", text="level", words="place"),
    Finding: Form(text="says", pair=("says", "measure")),
    Activity: Form(words="name"),
    Need: Form("name", number="before", words="name"),
    Goal: Form(text="says"),
    Alternative: Form(also="kind", text="reason", pair=("reason", "measure")),
    Method: Form(words="name", text="name"),
    Task: Form(text="shows", words="name"),
    Item: Form(text="why"),
    OutsideRecord: Form("what", words="what"),
    ChosenFeature: Form(texts="because"),
    StandardPart: Form(
        "part",
        text="comes",
        gathers={comes: ("comes", comes) for comes in ("with_base", "moves_over", "not_needed")},
        others=ASKED_PARTS,
    ),
    SetTo: Form("setting", text="value", gathers={"as_delivered": ("as_delivered", True)}),
    Mount: Form(also="site"),
    NotApplicable: Form("of", text="because"),
    Command: Form("does", text="input"),
    Profile: Form(words="name"),
    Hours: Form("day"),
    SessionTotal: Form("on"),
    Caution: Form("about", text="says"),
    Fitted: Form("mount"),
    Taught: Form("who", text="what"),
    ToTeach: Form("who", text="what"),
    LeftOut: Form(words="what", text="why_not"),
    SheetHeld: Form("what", number="edition"),
    FollowUp: Form("after_weeks", text="what"),
}


class Spread(Struct, frozen=True):
    """Tables without short forms.

    tables    as the model of a case reads them
    lines     line of each key of these tables
    by_name   lists that are written by name, or would be: in a case of the present form also those without an entry
    origins   key of these tables -> where the text has it
    problems  what cannot be an entry
    """

    tables: dict[str, Any]
    lines: dict[KeyPath, int]
    by_name: frozenset[KeyPath]
    origins: dict[KeyPath, KeyPath]
    problems: list[Problem]


def form_of(model: type[Part]) -> Form | None:
    """How entries of this part are written by name; None for those that have no name."""
    return _FORMS.get(model) or (Form() if "id" in model.model_fields else None)


@cache
def _forms_in(model: type[Part]) -> dict[str, Form]:
    """Keys of a part that hold a list whose entries have names, with how they are written by name."""
    return {key: form for key, field in model.model_fields.items() if (form := form_of_list(field.annotation))}


def form_of_list(kind: Any) -> Form | None:
    """How the entries of the list that a key holds are written by name; None where it holds no list of tables, or their
    entries have no name."""
    inner = part_of(kind)
    return form_of(inner) if inner and get_origin(kind) is tuple else None


def spread(
    tables: Mapping[str, Any], lines: dict[KeyPath, int], model: type[Part], where: Callable[..., str]
) -> Spread:
    """The tables of a file with each list that is written by name as a list.

    where  file and line of a key as it is written
    """
    spreader = _Spreader(where)
    written = spreader.table(tables, model, (), ())
    moved = {new: line_for(lines, old) for new, old in spreader.origins.items()}
    unwritten = unwritten_lists(tables, model) if tables.get("format") == PRESENT else ()
    return Spread(written, moved, frozenset((*spreader.by_name, *unwritten)), spreader.origins, spreader.problems)


def unwritten_lists(table: Mapping[str, Any], model: type[Part], path: KeyPath = ()) -> Iterator[KeyPath]:
    """Lists that can be written by name and of which a file has no entry yet, by their path."""
    for key, inner in parts_in(model).items():
        if get_origin(model.model_fields[key].annotation) is tuple:
            if key in _forms_in(model) and not table.get(key):
                yield (*path, key)
        elif isinstance(below := table.get(key, {}), dict):
            yield from unwritten_lists(below, inner, (*path, key))


class _Spreader:
    def __init__(self, where: Callable[..., str]) -> None:
        self.where = where
        self.origins: dict[KeyPath, KeyPath] = {}  # path in the lists -> path as written
        self.by_name: set[KeyPath] = set()
        self.problems: list[Problem] = []

    def table(self, table: Mapping[str, Any], model: type[Part] | None, old: KeyPath, new: KeyPath) -> dict[str, Any]:
        parts, forms = (parts_in(model), _forms_in(model)) if model else ({}, {})
        written: dict[str, Any] = {}
        for key, value in table.items():
            inner, form = parts.get(key), forms.get(key)
            at, to = (*old, key), (*new, key)
            if inner and form and isinstance(value, dict) and isinstance(value.get(form.key, {}), dict):
                self.origins[to] = at
                self.by_name.add(to)
                written[key] = self.entries(value, inner, form, at, to)
            else:
                written[key] = self.value(value, inner, at, to)
        return written

    def value(self, value: Any, model: type[Part] | None, old: KeyPath, new: KeyPath) -> Any:
        self.origins[new] = old
        if isinstance(value, dict):
            return self.table(value, model, old, new)
        if isinstance(value, list):
            return [self.value(entry, model, (*old, at), (*new, at)) for at, entry in enumerate(value)]
        return value

    def entries(self, table: dict[str, Any], model: type[Part], form: Form, old: KeyPath, new: KeyPath) -> list[Any]:
        each = table.get(EACH, {})
        named = dict(self.named(table, form, old))
        settled: dict[str, tuple[dict[str, Any], dict[str, KeyPath]]] = {}  # name -> entry and where its keys stand
        written: list[Any] = []
        for path, name, value in self.placed(named, form):
            entry = self.entry(value, form, path)
            if entry is None:
                continue
            origins = {key: (*path, *([key] if isinstance(value, dict) and key in value else [])) for key in entry}
            if isinstance(like := entry.get(LIKE), str) and (other := settled.get(like)):
                del entry[LIKE]
                entry, origins = {**other[0], **entry}, other[1] | origins
            settled[name] = (dict(entry), origins)
            if entry.get(EACH) is False:
                del entry[EACH]
            elif isinstance(each, dict):
                has_day = "visit" in entry
                common = {key: value for key, value in each.items() if not (has_day and key in _OF_VISIT)}
                entry = {**common, **entry}
                origins = {key: (*old, EACH, key) for key in common} | origins
            entry = {**_of_name(name, model, form, entry), **entry, **_of_word(name, model, value)}
            if not isinstance(value, dict) and (measures := may_be_measures(model, entry)):
                self.problems.append(self.unclear(path, name, value, measures))
            to = (*new, len(written))
            self.origins[to] = path
            for key in entry:
                self.origins[(*to, key)] = origins.get(key, path)
            inside = {key: self.origins[(*to, key)] for key in entry}
            written.append(self.inner(entry, model, inside, to))
        return written

    def unclear(self, path: KeyPath, name: str, value: Any, measures: Sequence[str]) -> Problem:
        """One measure of an entry that has several."""
        shown = brief(f'"{value}"' if isinstance(value, str) else value)
        return Problem(
            self.where(*path),
            f"{brief(dotted(path))} is {shown}, and that may be {' or '.join(measures)}",
            f"Write {brief(name)} = {{ {measures[0]} = {shown} }}, or {' or '.join(measures[1:])} in its place.",
        )

    def inner(self, entry: dict[str, Any], model: type[Part], origins: Mapping[str, KeyPath], to: KeyPath) -> Any:
        """The entry with what is written by name within it."""
        written: dict[str, Any] = {}
        for key, value in entry.items():
            old = origins[key]
            written |= self.table({key: value}, model, old[:-1] if old and old[-1] == key else old, to)
        return written

    def named(self, table: Mapping[str, Any], form: Form, old: KeyPath) -> Iterator[tuple[KeyPath, Any]]:
        """Path as written -> what stands there, without the words that are no names."""
        for name, value in table.items():
            if name == EACH or (name == OTHERS and form.others):
                continue
            if name in form.gathers and isinstance(value, list):
                for at, gathered in enumerate(value):
                    yield (*old, name, at), {form.key: gathered, form.gathers[name][0]: form.gathers[name][1]}
                continue
            yield (*old, name), value
        if form.others and isinstance(common := table.get(OTHERS), str):
            written = {*table, *(name for word in form.gathers for name in _texts(table.get(word)))}
            for name in form.others:
                if name not in written:
                    yield (*old, OTHERS, name), {form.key: name, form.text: common}

    def placed(self, named: Mapping[KeyPath, Any], form: Form) -> Iterator[tuple[KeyPath, str, Any]]:
        """Each entry with its place and name; several that stand under one name apart."""
        for path, value in named.items():
            name = str(path[-1])
            if isinstance(value, list) and (
                any(isinstance(entry, dict) for entry in value) or not (form.texts or form.pair)
            ):
                yield from (((*path, at), name, entry) for at, entry in enumerate(value))
            else:
                yield path, name, value

    def entry(self, value: Any, form: Form, path: KeyPath) -> dict[str, Any] | None:
        """An entry as a table; None, with a problem, for a value that is none."""
        if isinstance(value, dict):
            return dict(value)
        if (keys := form.keys_of(value)) is not None:
            return keys
        name = brief(dotted(path))
        if form.pair and isinstance(value, list):
            says, measure = form.pair
            self.problems.append(
                Problem(
                    self.where(*path),
                    f"{name} is {brief(value)}, and an entry in a list is two texts: {says}, then {measure}",
                    f'Write {dotted(path[-1:])} = ["<{says}>", "<{measure}>"], or [{name}] and its keys below it.',
                )
            )
            return None
        way = f"Write [{name}], and its keys below it."
        if tuple(path[-3:-1]) == ("configuration", "features") and isinstance(value, str) and _ID.fullmatch(value):
            way += f' Where {path[-1]}.{value} is the feature, write "{path[-1]}.{value}" = {{}}, in quotes.'
        self.problems.append(
            Problem(self.where(*path), f"{name} is {brief(value)}, and an entry has keys of its own", way)
        )
        return None


# entries that no other key names: with or without capitals, their name is the same
_NOT_NAMED_ELSEWHERE = (Awaited, LeftOut)


def _texts(value: Any) -> list[str]:
    return [text for text in value if isinstance(text, str)] if isinstance(value, list) else []


def _of_word(name: str, model: type[Part], written: object) -> dict[str, str]:
    """What a name that says more than which entry it is gives an entry that does not say it itself; it goes before what
    all entries have in common."""
    own = written if isinstance(written, dict) else {}
    return {key: word for key, word in said_by_name(model, name).items() if key not in own}


def _of_name(name: str, model: type[Part], form: Form, entry: Mapping[str, Any]) -> dict[str, Any]:
    """What the name of an entry says of it."""
    if model is Item and _CODE.fullmatch(name):
        return {"code": name}
    if not form.key:
        return {form.topics: [name]} if form.topics and "." in name else {}
    if model in _NOT_NAMED_ELSEWHERE:
        name = name.lower()
    of_name: dict[str, Any] = {} if form.begins and not re.match(form.begins, name) else {form.key: name}
    if form.key == "after_weeks" and _NUMBER.fullmatch(name):
        of_name = {form.key: float(name) if "." in name else int(name)}
    if form.also and name in choices_of(model, form.also):
        of_name[form.also] = name
    if form.words and not (form.begins and of_name):
        of_name[form.words] = name.replace("_", " ")
    return of_name


def choices_of(model: type[Part], key: str) -> tuple[str, ...]:
    """The words that a key can hold, where only some can."""
    kind = model.model_fields[key].annotation if key in model.model_fields else None
    return get_args(kind) if get_origin(kind) is Literal else ()
