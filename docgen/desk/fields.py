"""The keys of a part as questions: made from the descriptions that check and label a case, so that nothing is named
twice. A measure may be typed in any unit of its kind, and stands in the case as it was typed."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import date, time
from functools import cache
from typing import Any, Literal, get_args, get_origin

from msgspec import Struct
from pydantic.fields import FieldInfo

from docgen.case.base import Part, is_free_text, part_of
from docgen.case.forgiving import days_of
from docgen.case.keys import bare_kind, choices_in, keys_at, value_at
from docgen.case.lines import KeyPath, dotted
from docgen.case.measures_written import EXAMPLES, measure_of, unit_of_key
from docgen.case.mistakes import toml_of
from docgen.case.read import CaseFile
from docgen.case.respondents import FIRST_ASKED, respondent_of, respondents
from docgen.case.stage import STEPS, is_step, step_words
from docgen.choices import meaning
from docgen.codes.icd10 import names as names_of_codes
from docgen.desk.measured import METRIC, PLAIN, beside, shown_measure, unit_shown, with_unit
from docgen.desk.picked import Choices, Picks, picks_at

FEW = 8  # choices that are ticked without looking for one
Kind = Literal["words", "text", "number", "date", "time", "choice", "choices", "lines", "yes_no", "photo"]
_YES_NO = (("true", "yes"), ("false", "no"))
_TIME = re.compile(r"(\d{1,2})(?::(\d\d)(?::00)?)?\s*(?:([ap])\.?m\.?)?", re.I)
_ISO = re.compile(r"\d{4}-\d\d-\d\d")
_ANSWERS = {"true": True, "false": False}


class Field(Struct, frozen=True):
    """One question about a case.

    path      of the key
    label     the question in plain words
    kind      how it is answered
    shown     the answer as the form shows it: one text; of several, one a line
    choices   of a choice: what the case holds, and the words for it
    is_open   whether an answer may be typed that is none of the choices
    default   what holds where nothing is recorded, in words; "" where nothing does
    of_list   the list of the case whose entries are the choices; () where they are none
    unit      of a number that is typed without one; "" where it has none
    also      the same measure in the other units; "" where there is none
    example   one answer of the right form
    required  whether its entry cannot be without it
    asked_of  who can answer it besides the therapist, in words; "" where that is nobody
    """

    path: KeyPath
    label: str
    kind: Kind
    shown: str
    choices: tuple[tuple[str, str], ...] = ()
    unit: str = ""
    also: str = ""
    example: str = ""
    required: bool = False
    asked_of: str = ""
    is_open: bool = False
    of_list: KeyPath = ()
    default: str = ""

    @property
    def id(self) -> str:
        """Its place on the page."""
        return "-".join(str(part) for part in self.path)

    @property
    def in_words(self) -> tuple[str, ...]:
        """The answer as a person reads it: of a choice its words, of several each."""
        words = dict(self.choices)
        return tuple(words.get(text, text).partition(": ")[0] for text in self.shown.split("\n") if text)

    @property
    def unit_word(self) -> str:
        """Its unit as it is told beside a question."""
        return {"in": "inches", "ft": "feet", "lb": "pounds"}.get(self.unit, self.unit)

    @property
    def measure(self) -> str:
        """A measure as a person reads it, in both kinds of units: 33 in (838 mm); "" for what is none."""
        typed = f"{self.shown} {self.unit}" if self.shown[-1:].isdigit() else self.shown
        return f"{typed} ({self.also})" if self.also and self.unit else ""

    @property
    def ticked(self) -> tuple[tuple[str, str], ...]:
        """The choices that are its answer, in the order of the answer."""
        words = dict(self.choices)
        return tuple((text, words[text]) for text in self.shown.split("\n") if text in words)

    @property
    def is_long(self) -> bool:
        """Whether it has more choices than are looked through at a glance."""
        return len(self.choices) > FEW


def fields_of(file: CaseFile, part: Part, path: KeyPath) -> tuple[Field, ...]:
    """The questions of a part that stands at a path; what is a part of its own in it is none of them."""
    return tuple(
        _field(file, info, (*path, name), getattr(part, name))
        for name, info in type(part).model_fields.items()
        if part_of(info.annotation) is None and name not in ("format", "id")
    )


def field_at(file: CaseFile, path: KeyPath) -> Field:
    """The question of one key that a table of the case may hold."""
    return _field(file, keys_at(path[:-1])[str(path[-1])], path, value_at(file.case, path))


def _field(file: CaseFile, info: FieldInfo, path: KeyPath, value: Any) -> Field:
    name, kind = str(path[-1]), _kind(info)
    unit, choices = unit_of_key(name) if kind == "number" else "", _choices(info, kind, path)
    shown = shown_answer(file, path, info, value)
    picks = picks_at(path) if kind in ("words", "lines") and not is_free_text(info) else None
    if picks:
        kind = "choices" if kind == "lines" else "words" if picks.is_open else "choice"
        choices = _picked(file, picks, path, shown)
    if path[0] == "photos" and name == "file":
        kind = "photo"
    example = EXAMPLES.get(unit) or (toml_of(info.examples[0]).strip('"') if info.examples else "")
    return Field(
        path,
        label_of(path, info),
        kind,
        shown,
        choices,
        unit_shown(file, path) if unit else "",
        beside(path, value, shown) if unit and shown else _meaning(name, shown),
        "" if picks and not picks.is_open else example,
        info.is_required(),
        _asked_of(dotted(path)),
        picks is not None and picks.is_open,
        picks.of_list if picks else (),
        "" if info.is_required() else dict(choices).get(_shown(info.default), ""),
    )


def _picked(file: CaseFile, picks: Picks, path: KeyPath, shown: str) -> Choices:
    """What a key can name; what it names already stands first of what can be ticked, in its order."""
    words = dict(picks.choices(file.case, path))
    there = {text: words.get(text, text.replace("_", " ")) for text in shown.split("\n") if text}
    return tuple((there | words).items()) if picks.is_open or len(words) > FEW else tuple((words | there).items())


def _meaning(name: str, shown: str) -> str:
    """What a diagnosis code stands for; "" where it is none of the usual ones."""
    return names_of_codes().get(shown.upper().replace(".", ""), "") if name == "code" and shown else ""


def label_of(path: KeyPath, info: FieldInfo) -> str:
    """The question of a key in plain words, without the unit in which the case holds it."""
    name = str(path[-1])
    label = info.description or name.replace("_", " ")
    if unit := unit_of_key(name):
        label = re.sub(rf",? in {METRIC[unit]}(?![\w/])", "", label, count=1)
        label = label.replace("within how many meters", "within what distance")
    for choice in choices_in(info.annotation):
        label = label.replace(choice, choice.replace("_", " "))
    return label[:1].upper() + label[1:]


@cache
def _asked_of(key: str) -> str:
    """Who can be sent a sheet that asks for a key; nobody but the therapist where none is written for anybody else."""
    who = respondents()[respondent_of(key)]
    return who.name if who.may_see and who.id != FIRST_ASKED else ""


def shown_answer(file: CaseFile, path: KeyPath, info: FieldInfo, value: Any) -> str:
    """What a key holds as a form shows it; "" for what holds where nothing is recorded."""
    if not info.is_required() and value == info.default:
        return ""
    if isinstance(value, (int, float)) and not isinstance(value, bool) and unit_of_key(str(path[-1])):
        return shown_measure(file, path, value)
    return STEPS[value] if is_step(info.annotation) and isinstance(value, int) else _shown(value)


def _shown(value: Any) -> str:
    if value in (None, ()):
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, time):
        return value.strftime("%H:%M")
    if isinstance(value, float):
        return str(value).removesuffix(".0")
    return "\n".join(map(_shown, value)) if isinstance(value, tuple) else str(value)


def _kind(info: FieldInfo) -> Kind:
    annotation: Any = info.annotation
    kind = bare_kind(annotation)
    if is_step(annotation):
        return "choice"
    if get_origin(kind) is tuple:
        return "choices" if choices_in(get_args(kind)[0]) else "lines"
    if choices_in(annotation):
        return "choice"
    simple: dict[Any, Kind] = {bool: "yes_no", int: "number", float: "number", date: "date", time: "time"}
    return simple.get(kind, "text" if is_free_text(info) else "words")


def _choices(info: FieldInfo, kind: Kind, path: KeyPath) -> tuple[tuple[str, str], ...]:
    if kind == "yes_no":
        return _YES_NO
    if is_step(info.annotation):
        return tuple((step, step_words(number)) for number, step in enumerate(STEPS))
    annotation = get_args(bare_kind(info.annotation))[0] if kind == "choices" else info.annotation
    return tuple((str(choice), meaning(path, str(choice))) for choice in choices_in(annotation))


def value_of(info: FieldInfo, name: str, given: Sequence[str], unit: str = "") -> Any:
    """What the case is to hold for what a form sent; None where nothing stands in it. A measure with its unit stays as
    it was typed.

    unit  of a number that stands alone

    Raises ValueError, in a sentence, for what is no answer to this question.
    """
    kind = _kind(info)
    texts = [text.replace("\r\n", "\n").strip() for text in given]
    if kind in ("lines", "choices"):
        several = [line.strip() for text in texts for line in text.split("\n") if line.strip()]
        inner = bare_kind(get_args(bare_kind(info.annotation))[0])
        each: Callable[[str], Any] = _day if inner is date else str
        return [_number(text, name) if inner in (int, float) else each(text) for text in several] or None
    text = texts[0] if texts else ""
    if not text:
        return None
    if kind == "yes_no":
        if text not in _ANSWERS:
            raise ValueError(f"'{text[:60]}' is neither yes nor no.")
        return _ANSWERS[text]
    if kind == "number":
        typed = with_unit(text, unit)
        number = _number(typed, name, unit)
        if not PLAIN.fullmatch(typed):
            return typed
        return int(number) if bare_kind(info.annotation) is int else number
    if kind == "time":
        return _time(text)
    return _day(text) if kind == "date" else text


def in_order(value: Any, before: Any) -> Any:
    """Several ticked answers: those that were there before in their order, then the new ones."""
    if not isinstance(value, list) or not isinstance(before, tuple):
        return value
    kept = [entry for entry in before if entry in value]
    return kept + [entry for entry in value if entry not in kept]


def _number(text: str, name: str, alone: str = "") -> int | float:
    """The number of a text. ValueError tells, with the unit of a number `alone`, where it is none."""
    unit = unit_of_key(name)
    plain = PLAIN.fullmatch(text)
    number = float(text.replace(",", ".")) if plain else measure_of(text, unit) if unit else None
    if number is None:
        form = f"a number of {alone or METRIC[unit]}, or a measure such as {EXAMPLES[unit]}" if unit else "a number"
        raise ValueError(f"'{text[:60]}' is not {form}.")
    return int(number) if float(number).is_integer() else number


def _time(text: str) -> time:
    """A time of day as a browser sends it, or as it is written: 14:00, 2:30 pm."""
    written = _TIME.fullmatch(text)
    hour, minute = (int(written[1]), int(written[2] or 0)) if written else (24, 0)
    if written and written[3]:
        hour = hour % 12 + 12 * (written[3].lower() == "p") if 0 < hour <= 12 else 24
    if hour > 23 or minute > 59 or (written and not written[2] and not written[3]):
        raise ValueError(f"'{text[:60]}' is not a time of day: write it as 14:00 or 2 pm.")
    return time(hour, minute)


def _day(text: str) -> date:
    """A day as a browser sends it, of any year, or as it is written."""
    if _ISO.fullmatch(text):
        with suppress(ValueError):
            return date.fromisoformat(text)
    days = days_of(text)
    if len(days) != 1:
        raise ValueError(f"'{text[:60]}' is not one day: write it as 2026-03-31 or March 31, 2026.")
    return days[0]
