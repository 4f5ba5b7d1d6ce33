"""The keys of a case by their path: what stands there, what form a value has, and stand-ins of that form.

A stand-in exists to ask a criterion what it would say; it is never printed and never leaves the program.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any, Literal, get_args, get_origin

from docgen.case.keys import bare_kind, table_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.stage import STEPS, is_step, step_number
from docgen.criteria.sentences import listed

# key that names an entry of a list -> that list
_REFERS = {
    "method": ("trial", "methods"),
    "profile": ("configuration", "profiles"),
    "by": ("people",),
    "worn_checked_by": ("people",),
    "who": ("people",),
    "also": ("people",),
    "coach": ("people",),
    "because": ("findings",),
    "features": ("configuration", "features"),
    "signed_by": ("people",),
    "completed_by": ("people",),
    "few_guard": ("people",),
    "guard": ("people",),
    "substitute": ("people",),
    "held_press_by": ("people",),
    "seen_with": ("alternatives",),
    "reach_by": ("people",),
}
_SETTLES_NOTHING: dict[tuple[str, str], tuple[str, ...]] = {
    ("supervision", "chair_state"): ("rests",)
}  # alone, one in standby is woken by a command
_IN_WORDS = (("supervision", "by"),)  # no id there


def stand_ins(case: Case, path: KeyPath) -> tuple[Any, ...]:
    """Values of the right form for a key, likeliest first; none where no form is known."""
    field = _field(path)
    if field is None:
        return ()
    kind, key = bare_kind(field.annotation), str(path[-1])
    if _refers(path, kind):
        ids = tuple(entry.id for entry in value_at(case, _REFERS[key]))
        return tuple((entry_id,) for entry_id in ids) if get_origin(kind) is tuple else ids
    example = next(iter(field.examples or ()), None)
    if example is None:
        return ()
    # of words and of yes and no only the likeliest: another, such as "nothing rules it out", would settle a point by
    # giving it up
    if kind is date:
        return (example, *_recorded(case))
    if is_step(field.annotation):
        return (step_number(example),)
    if kind in (int, float):
        return (example, kind(example * 4), kind(example / 4))
    if get_origin(kind) is tuple:
        return (get_args(_inner(kind)) or _codes(case, key) or tuple(example),)
    return (example,)


def form(path: KeyPath) -> str:
    """How a value of this key is written, never what it is: "<license number>", <date, as YYYY-MM-DD>."""
    field = _field(path)
    if field is None:
        return "<value>"
    kind = bare_kind(field.annotation)
    if get_origin(kind) is Literal:
        without = _SETTLES_NOTHING.get((str(path[0]), str(path[-1])), ())
        return f"<{_quoted((word for word in get_args(kind) if word not in without), 'or')}>"
    if kind is bool:
        return "<true or false>"
    if kind is date:
        return "<YYYY-MM-DD>"
    if is_step(field.annotation):
        return f"<{_quoted(STEPS, 'or')}>"
    if kind in (int, float):
        return f"<number: {field.description}>"
    if get_origin(kind) is tuple:
        return (
            f"[<those that hold of {_choices(_inner(kind), 'and')}>]"
            if get_origin(_inner(kind)) is Literal
            else f'["<{field.description}>"]'
        )
    return (
        f'"<id of an entry of [[{".".join(_REFERS[str(path[-1])])}]]>"'
        if _refers(path, kind)
        else f'"<{field.description}>"'
    )


def refers(path: KeyPath) -> bool:
    """Whether a key names people by their id."""
    field = _field(path)
    return field is not None and _refers(path, bare_kind(field.annotation)) and _REFERS[str(path[-1])] == ("people",)


def _refers(path: KeyPath, kind: Any) -> bool:
    """Whether a key names an entry of a list by its id."""
    return str(path[-1]) in _REFERS and (path[0], path[-1]) not in _IN_WORDS and get_origin(kind) is not Literal


def _inner(kind: Any) -> Any:
    """What a list holds."""
    return bare_kind(get_args(kind)[0])


def _choices(kind: Any, last: str) -> str:
    return _quoted(get_args(kind), last)


def _quoted(words: Iterable[str], last: str) -> str:
    return listed((f'"{word}"' for word in words), last)


def _codes(case: Case, key: str) -> tuple[str, ...]:
    """The codes asked for, the base first, as a paper that agrees with them would name them."""
    if key != "codes":
        return ()
    return tuple(
        code for code in (case.configuration.chair.base_code, *(item.code for item in case.configuration.items)) if code
    )


def _field(path: KeyPath) -> Any:
    model = table_at(path[:-1])
    return model.model_fields.get(str(path[-1])) if model and path else None


def _recorded(case: Case) -> tuple[date, ...]:
    """The recorded days of the request, earliest first."""
    return tuple(
        sorted({value for name in type(case.dates).model_fields if (value := getattr(case.dates, name)) is not None})
    )
