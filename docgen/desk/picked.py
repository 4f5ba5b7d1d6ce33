"""What a key can name: entries of the case, or words of a vocabulary, each with the words by which a person knows it.
People are picked by name, visits by day, features by what they are."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any
from zoneinfo import available_timezones

from msgspec import Struct

from docgen.case.confirmed import confirmable
from docgen.case.keys import entries_at, keys_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.record import TRIAL
from docgen.case.session import SESSIONS
from docgen.case.stage import TASKS
from docgen.case.totals import TOTALS
from docgen.codes.hcpcs import bases, code, codes
from docgen.codes.icd10 import names, nearest_by_name
from docgen.criteria.criterion import criteria
from docgen.criteria.payer import payers
from docgen.fit.condition import conditions, conflicts_of, of_case, printable, rows
from docgen.fit.feature import features
from docgen.fit.settings import drive_settings
from docgen.library import shelf_at
from docgen.packet.wording import wording

Choices = tuple[tuple[str, str], ...]
_MOST_NAME = 80
_ROWS = {"trial": TRIAL, "totals": TOTALS, "sessions": SESSIONS}
_ROWS_IN_WORDS = {"trial": "the rows of the trial", "totals": "the totals of a day", "sessions": "the lessons"}
_SPINE = (("C", 8), ("T", 12), ("L", 5), ("S", 5))


class Picks(Struct, frozen=True):
    """What a key can name.

    choices   of a case and the path of the key: what the case holds, and in words
    of_list   the list of the case whose entries these are; () for a vocabulary
    is_open   whether others may be typed too
    """

    choices: Callable[[Case, KeyPath], Choices]
    of_list: KeyPath = ()
    is_open: bool = False


def picks_at(path: KeyPath) -> Picks | None:
    """What the key at a path can name; None for a key that names nothing."""
    names = [part for part in path if isinstance(part, str)]
    return _PICKED.get(".".join(names[-2:])) or _PICKED.get(names[-1])


def name_of(entry: Any) -> str:
    """What an entry of a list is called on a screen."""
    for key in ("name", "says", "what", "part", "place", "kind", "role", "text", "of", "id"):
        if isinstance(value := getattr(entry, key, None), str) and value:
            words = " ".join((value.replace("_", " ") if key in ("kind", "role", "id") else value).split())
            return words if len(words) <= _MOST_NAME else f"{words[: _MOST_NAME - 3]}..."
    return "Entry"


def _people(case: Case, path: KeyPath) -> Choices:
    return tuple((person.id, f"{name_of(person)} ({person.relation or person.role})") for person in case.people)


def _visits(case: Case, path: KeyPath) -> Choices:
    return tuple((visit.id, f"{visit.on}, {visit.id.replace('_', ' ')}") for visit in case.visits)


def _entries(*of_list: str) -> Picks:
    """The entries of a list of the case by their ids."""

    def choices(case: Case, path: KeyPath) -> Choices:
        return tuple((entry.id, name_of(entry)) for entry in value_at(case, of_list, ()))

    return Picks(choices, of_list)


def _words(vocabulary: Callable[[], Choices], is_open: bool = False) -> Picks:
    """Words that do not hang on the case."""
    return Picks(lambda case, path: vocabulary(), is_open=is_open)


def _settings() -> Choices:
    return tuple((id_, setting.name) for id_, setting in drive_settings().items())


@cache
def _features() -> Choices:
    return tuple((id_, f"{feature.name}: {feature.what}") for id_, feature in features().items())


def _requested(case: Case, path: KeyPath) -> Choices:
    known = features()
    return tuple((c.id, known[c.id].name if c.id in known else c.id) for c in case.configuration.features)


def _payers() -> Choices:
    return tuple((payer.id, payer.name) for payer in payers())


@cache
def _languages() -> Choices:
    return tuple(sorted(wording().words["languages"].items(), key=lambda language: language[1]))


@cache
def _zones() -> Choices:
    return tuple((zone, zone.replace("_", " ")) for zone in sorted(available_timezones()) if "/" in zone)


def _levels() -> Choices:
    return tuple((level, level) for region, last in _SPINE for level in (f"{region}{n}" for n in range(1, last + 1)))


def _questions_of_condition(case: Case, path: KeyPath) -> Choices:
    entry = value_at(case, path[:2])
    condition = conditions().get(entry.id) if entry else None
    return tuple((question.id, question.asks) for question in condition.asks) if condition else ()


def _served(case: Case, path: KeyPath) -> Choices:
    present = of_case(case).values()
    return tuple((f"{c.id}.{topic.id}", f"{c.name}: {topic.says}") for c in present for topic in c.page)


def _accepted_rows(case: Case, path: KeyPath) -> Choices:
    return tuple((row, words) for row in rows() if (words := printable(case, row)))


def _conflicts(case: Case, path: KeyPath) -> Choices:
    return tuple((conflict.id, conflict.says) for _, conflict in conflicts_of(case))


def _diagnoses(case: Case, path: KeyPath) -> Choices:
    return tuple((d.code, f"{d.code}, {d.name or 'not named'}") for d in case.diagnoses if d.code)


def _codes_by_name(case: Case, path: KeyPath) -> Choices:
    entry = value_at(case, path[:-1])
    return tuple((id_, names()[id_]) for id_ in nearest_by_name(entry.name)) if entry and entry.name else ()


def _order_codes(case: Case, path: KeyPath) -> Choices:
    asked = (case.configuration.chair.base_code, *(item.code for item in case.configuration.items))
    return tuple((id_, f"{id_}, {_words_of_code(id_)}") for id_ in dict.fromkeys(filter(None, asked)))


def _words_of_code(id_: str) -> str:
    known = code(id_)
    return known.words if known else "the power base" if id_ in bases() else "a line of the order"


def _item_codes() -> Choices:
    return tuple((id_, entry.words) for id_, entry in codes().items())


def _base_codes() -> Choices:
    return tuple(
        (id_, f"group {base.group}, {base.weight_class.replace('_', ' ')}, power options: {base.options or 'open'}")
        for id_, base in bases().items()
    )


def _criteria() -> Choices:
    return tuple((id_, criterion.claim) for id_, criterion in criteria().items())


def _devices() -> Choices:
    return tuple((id_, device.name) for id_, device in shelf_at(None).devices.items())


def _to_compare(case: Case, path: KeyPath) -> Choices:
    return (*((method.id, method.name) for method in case.trial.methods), *_devices())


def _covered(case: Case, path: KeyPath) -> Choices:
    tasks = wording().words["tasks"]
    return (*((space.id, name_of(space)) for space in case.spaces), *((id_, tasks.get(id_, id_)) for id_ in TASKS))


@cache
def _confirmable() -> Choices:
    return tuple((key, _words_of_key(key)) for key in confirmable())


def _words_of_key(dotted: str) -> str:
    """What a key or column that can be confirmed is called."""
    part, _, name = dotted.rpartition(".")
    if part in _ROWS and name in _ROWS[part].by_name:
        return f"{_ROWS[part].by_name[name].head or name.replace('_', ' ')}, in {_ROWS_IN_WORDS[part]}"
    path: KeyPath = ()
    for word in part.split("."):
        path = (*path, word, 0) if entries_at((*path, word)) else (*path, word)
    return str(keys_at(path)[name].description or name)


_MOUNTS = _entries("configuration", "mounting")
_PICKED: Mapping[str, Picks] = {
    **dict.fromkeys(
        (
            *(
                "by",
                "who",
                "also",
                "coach",
                "substitute",
                "signed_by",
                "completed_by",
                "worn_checked_by",
                "held_press_by",
            ),
            *("guard", "few_guard", "restart_by"),
        ),
        Picks(_people, ("people",)),
    ),
    "visit": Picks(_visits, ("visits",)),
    "method": _entries("trial", "methods"),
    "profile": _entries("configuration", "profiles"),
    "because": _entries("findings"),
    "item": _entries("configuration", "items"),
    "mount": _MOUNTS,
    "arrows.part": _MOUNTS,
    "setting": _words(_settings),
    **dict.fromkeys(("calls_for", "speaks_against", "features"), _words(_features)),
    "without": Picks(_requested, ("configuration", "features")),
    "items.features": Picks(_requested, ("configuration", "features")),
    "payer": _words(_payers),
    **dict.fromkeys(("reads", "name_language"), _words(_languages, is_open=True)),
    "zone": _words(_zones),
    "conditions.level": _words(_levels),
    "answers.ask": Picks(_questions_of_condition),
    "serves": Picks(_served),
    "steps.row": Picks(_accepted_rows),
    "conflict": Picks(_conflicts),
    "diagnoses.code": Picks(_codes_by_name, is_open=True),
    "diagnosis_codes": Picks(_diagnoses, ("diagnoses",)),
    **dict.fromkeys(("order.codes", "authorization.codes"), Picks(_order_codes, is_open=True)),
    "items.code": _words(_item_codes, is_open=True),
    "base_code": _words(_base_codes, is_open=True),
    "reasons.questions": _words(_criteria),
    "device": _words(_devices, is_open=True),
    "plan.methods": Picks(_to_compare),
    "covers": Picks(_covered),
    "confirmed.of": _words(_confirmable),
}
