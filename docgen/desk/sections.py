"""A screen of a case: its parts as sections of questions, those that matter first, and what is still missing."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.base import Part, part_of
from docgen.case.heads import with_names
from docgen.case.keys import entries_at, keys_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import Limit
from docgen.case.read import CaseFile
from docgen.choices import meaning
from docgen.criteria.criterion import Answer
from docgen.desk.fields import Field, fields_of, label_of
from docgen.desk.leaning import ROWS, name_in_file, named_at
from docgen.desk.picked import name_of
from docgen.desk.topics import Topic, topic_of
from docgen.fit.condition import conditions
from docgen.fit.feature import feature_entries
from docgen.fit.finding import vocabulary
from docgen.results import CaseCheck

_OF_THE_FILE = re.compile(
    r"\[\[|[^\W_]_[^\W_]|\b[a-z]{2,}\.(?!csv\b)[a-z]{2,}| = |<\w|\bin because\b"
)  # a list, a key, a dotted path, a form
_ASKED_TOO: dict[KeyPath, tuple[str, ...]] = {
    ("people",): ("name", "credential", "relation"),
    ("visits",): ("by",),
    ("diagnoses",): ("since", "course"),
    ("limits",): ("says", "by"),
    ("findings",): ("measure", "visit"),
    ("activities",): ("barrier", "before", "with_device"),
    ("trial", "methods"): ("setup", "features"),
    ("trial", "tasks"): ("shows", "rule"),
    ("alternatives",): ("reason",),
    ("spaces",): ("clear_width_mm",),
    ("configuration", "items"): ("code", "why", "features"),
    ("supervision",): ("who", "stands"),
    ("goals",): ("levels",),
}  # asked of a new entry beside what it cannot be without
OF_ONES_OWN = "own"  # in place of a word of the vocabulary of findings
_SEVERITIES = {"blocks": "To settle first", "query": "A reviewer may ask", "advise": "Good practice"}


class Section(Struct, frozen=True):
    """A part of a case on a screen.

    first    questions answered, needed or open; `more` the others
    inside   parts within it, and the entries of a list
    adds     of a list, the questions of a new entry; None for what is no list
    entry    whether it is an entry of a list, which can be taken out
    name     its name in the file, where that is one of its own; else ""
    """

    path: KeyPath
    title: str
    first: tuple[Field, ...] = ()
    more: tuple[Field, ...] = ()
    inside: tuple[Section, ...] = ()
    adds: tuple[Field, ...] | None = None
    entry: bool = False
    name: str = ""

    @property
    def id(self) -> str:
        """Its place on the page."""
        return "-".join(str(part) for part in self.path)


class Step(Struct, frozen=True):
    """What to do about a point: in words, and the screen and place where it is done."""

    words: str
    topic: str
    anchor: str


class Missing(Struct, frozen=True):
    """A point that is open: what it is, and what to do. Neither names a key.

    in_file  what to do in the words of the file, for whoever opens that; "" where it is the same
    """

    severity: str
    reason: str
    steps: tuple[Step, ...]
    in_file: str = ""


def sections(file: CaseFile, topic: Topic, wanted: Collection[KeyPath]) -> tuple[Section, ...]:
    """The sections of a screen.

    wanted  keys that open points ask for
    """
    return tuple(_section(file, (name,), wanted) for name in topic.parts)


def _section(file: CaseFile, path: KeyPath, wanted: Collection[KeyPath]) -> Section:
    value, title = value_at(file.case, path), title_of(path)
    if isinstance(value, Part):
        return _of_part(file, path, title, value, wanted)
    entries = tuple(
        replace(
            _of_part(file, (*path, at), _name_of(path, entry), entry, wanted),
            entry=True,
            name=name_in_file(file.case, (*path, at)),
        )
        for at, entry in enumerate(value or ())
    )
    return Section(path, title, inside=entries, adds=_of_new(file, (*path, len(entries))))


def _name_of(path: KeyPath, entry: Part) -> str:
    """What an entry is called; a screening by what was screened first, since its words are the result."""
    screened = f"{meaning((*path, 'kind'), entry.kind).capitalize()}: " if isinstance(entry, Limit) else ""
    return f"{screened}{name_of(entry)}"


def _of_part(file: CaseFile, path: KeyPath, title: str, part: Part, wanted: Collection[KeyPath]) -> Section:
    fields = fields_of(file, part, path)
    first = tuple(field for field in fields if field.shown or field.required or field.path in wanted)
    inside = tuple(
        _section(file, (*path, name), wanted)
        for name, info in type(part).model_fields.items()
        if part_of(info.annotation) is not None
    )
    return Section(path, title, first, tuple(field for field in fields if field not in first), inside)


def title_of(path: KeyPath) -> str:
    """The label of a key or a part."""
    return label_of(path, keys_at(path[:-1])[str(path[-1])])


def _of_new(file: CaseFile, entry: KeyPath) -> tuple[Field, ...]:
    """What a new entry cannot be without, or the first thing that can be said of one."""
    model = entries_at(entry[:-1])
    assert model is not None and issubclass(model, Part)
    blank = model.model_construct(**{name: None for name in model.model_fields})
    fields = [replace(field, shown="", also="") for field in fields_of(file, blank, entry)]
    asked_too = _ASKED_TOO.get(entry[:-1], ())
    needed = [field for field in fields if field.required or field.path[-1] in asked_too] or fields[:1]
    return (*_of_vocabulary(entry), *needed)


def _of_vocabulary(entry: KeyPath) -> Iterator[Field]:
    """The id of an entry that is a word of a vocabulary, with the words for each."""
    vocabularies: dict[KeyPath, Callable[[], tuple[tuple[str, str], ...]]] = {
        ("findings",): _findings,
        ("conditions",): _conditions,
        ("configuration", "features"): _features,
    }
    entries = vocabularies.get(entry[:-1])
    if entries:
        yield Field((*entry, "id"), "Which", "choice", "", entries(), required=True)


def _findings() -> tuple[tuple[str, str], ...]:
    known = tuple((id_, f"{meaning.name}: {meaning.says}") for id_, meaning in vocabulary().items())
    return ((OF_ONES_OWN, "none of these: a finding in your own words"), *known)


def _conditions() -> tuple[tuple[str, str], ...]:
    return tuple((id_, condition.name) for id_, condition in conditions().items())


def _features() -> tuple[tuple[str, str], ...]:
    return tuple((entry.id, f"{entry.name}: {entry.meaning}") for entry in feature_entries())


def missing(check: CaseCheck) -> tuple[Missing, ...]:
    """Every point that is open, heaviest first; those that one line settles are told once."""
    shown: dict[str, Missing] = {}
    for severity, words in _SEVERITIES.items():
        for verdict in check.verdicts:
            if verdict.open and verdict.severity == severity:
                answer = verdict.answer
                reasons = (answer.reason, answer.bare, f"{verdict.criterion.claim}.")
                reason = next(text for text in reasons if text and not _OF_THE_FILE.search(text))
                in_file = with_names(answer.to_settle, check.assessed.file, answer.where)
                point = Missing(words, reason, _steps(check.case, answer), in_file * bool(_OF_THE_FILE.search(in_file)))
                shown.setdefault(answer.to_settle or reason, point)
    return tuple(shown.values())


def where_named(case: Case, entry: KeyPath) -> tuple[Step, ...]:
    """Each question whose answer names an entry, as a way to it."""
    return steps_to(case, named_at(case, entry))


def steps_to(case: Case, paths: Iterable[KeyPath]) -> tuple[Step, ...]:
    """A way to each of these questions."""
    return tuple(dict.fromkeys(_step(case, _what_stands_at(case, path), path) for path in paths))


def _steps(case: Case, answer: Answer) -> tuple[Step, ...]:
    """What settles an answer: keys to fill in, entries to add, or what it says in words."""
    keys = [path for path in _keys_to_fill(answer) if str(path[-1]) in keys_at(path[:-1])]
    adds = [tuple(entry.table.split(".")) for entry in (answer.mend.add if answer.mend else ())]
    steps = [_step(case, f"Fill in: {title_of(path)}{_of_entry(case, path)}", path) for path in keys]
    steps += [_step(case, f"Add to: {title_of(path)}", path) for path in adds]
    says = answer.to_settle
    if not steps or (answer.mend and answer.mend.work):
        place = next((path for path in answer.where if path), ())
        words = says if says and not _OF_THE_FILE.search(says) else f"Look at: {_what_stands_at(case, place)}"
        steps.insert(0, _step(case, words, place))
    return tuple(dict.fromkeys(steps))


def _what_stands_at(case: Case, path: KeyPath) -> str:
    """A question, an entry or a part in words."""
    if not path:
        return "the case"
    if isinstance(path[-1], int):
        return name_of(value_at(case, path))
    return f"{title_of(path)}{_of_entry(case, path)}" if path != ROWS else "rows of the trial"


def _step(case: Case, words: str, path: KeyPath) -> Step:
    if path == ROWS:  # which have a screen of their own
        return Step(words, "rows", "")
    return Step(words, topic_of(path).id, "-".join(map(str, _there(case, path))))


def _of_entry(case: Case, path: KeyPath) -> str:
    """Which entry of a list a key is of, in brackets; empty for a key of none."""
    last = max((at for at, part in enumerate(path) if isinstance(part, int)), default=-1)
    return f" ({name_of(value_at(case, path[: last + 1]))})" if last >= 0 else ""


def _keys_to_fill(answer: Answer) -> Iterator[KeyPath]:
    """Keys that an answer asks for: with dots from the top of the case, without in the tables that it points to."""
    for key in answer.mend.fill if answer.mend else ():
        if "." in key:
            yield tuple(int(part) if part.isdecimal() else part for part in key.split("."))
        else:
            yield from ((*place, key) for place in answer.where)


def _there(case: Case, path: KeyPath) -> KeyPath:
    """The path itself, or the nearest part of it that stands on a screen."""
    while len(path) > 1 and isinstance(path[-1], int) and value_at(case, path) is None:
        path = path[:-1]
    return path


def wanted_keys(check: CaseCheck) -> frozenset[KeyPath]:
    """Keys that open points ask for."""
    wanted: set[KeyPath] = set()
    for answer in (verdict.answer for verdict in check.verdicts if verdict.open):
        wanted.update(answer.where, _keys_to_fill(answer))
    return frozenset(wanted - {ROWS})  # the name of their file is hardly ever another
