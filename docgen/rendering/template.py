"""Jinja2 made safe for this job: case text is text, a missing fact is a gap, a number keeps its trace.

A template sees only the mapping it is given. Whatever it prints is escaped so that Markdown reads it
as plain text; a Gap prints as a marked gap, a Number as a link to the record it comes from. None, bare
floats and containers cannot be printed at all, and there is no way to paper over a missing name.
"""

from __future__ import annotations

import re
import traceback
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from jinja2 import StrictUndefined, TemplateError, TemplateSyntaxError, Undefined
from jinja2.loaders import BaseLoader
from jinja2.sandbox import SandboxedEnvironment, safe_range
from markupsafe import Markup

_PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")
# every white space but the no-break ones, which keep a number and its unit together
_SPACE = re.compile(r"[^\S\u00a0\u202f]+")
# a line of nothing but tags or comments leaves no line behind; its newline goes into a comment, so that
# lines keep their numbers, and a tag at the end of a line of text does not swallow the blank line after it
_TAG_LINE = re.compile(r"^[ \t]*((?:\{%(?:(?!%\}).)*%\}[ \t]*|\{#(?:(?!#\}).)*#\}[ \t]*)+)\n", re.M)
_FILTERS = ("first", "last", "length", "list", "map", "selectattr", "rejectattr", "select", "reject", "sort", "groupby",
            "unique", "batch", "sum", "min", "max")
_TESTS = ("equalto", "eq", "ne", "in", "none", "true", "false", "sameas", "odd", "even", "gt", "ge", "lt", "le")


@dataclass(frozen=True, slots=True)
class Gap:
    """A fact the case lacks: false in a condition, a visible mark when printed."""

    name: str
    words: str

    def __bool__(self) -> bool:
        return False

    def __html__(self) -> str:
        return f"[{escape(self.words)}](gap:{self.name})"


@dataclass(frozen=True, slots=True)
class Number:
    """A number with its record's id; prints its short form. `full` adds the interval, `aside` is the interval alone."""

    name: str
    short: str
    full: str
    bare: str = ""
    aside: str = ""
    level: str = ""
    value: float | None = None
    n: int = 0
    verdict: str = ""
    note: str = ""

    def __html__(self) -> str:
        return f"[{escape(self.short)}](fact:{self.name})"


class TemplateProblem(Exception):
    """What a template did wrong, with its file name and line."""

    def __init__(self, name: str, line: int, what: str) -> None:
        self.name, self.line, self.what = name, line, what
        super().__init__(f"{name}:{line}: {what}")


def escape(text: str) -> str:
    """Markdown that reads as exactly this text: NFC, white space folded, punctuation escaped."""
    folded = _SPACE.sub(" ", unicodedata.normalize("NFC", text)).strip(" ")
    return _PUNCTUATION.sub(r"\\\1", folded)


def _finalize(value: Any) -> Any:
    if isinstance(value, Undefined):
        return value  # refuses by itself when it is printed
    if hasattr(value, "__html__"):
        return Markup(value.__html__())
    if isinstance(value, bool) or not isinstance(value, (str, int)):
        raise TypeError(f"a template cannot print a {type(value).__name__} as it stands")
    return Markup(escape(str(value)))


class _Environment(SandboxedEnvironment):
    def preprocess(self, source: str, name: str | None = None, filename: str | None = None) -> str:
        return _TAG_LINE.sub(r"\1{#\n#}", super().preprocess(source, name, filename))


class _Refusing(StrictUndefined):
    """A name outside the document's view: every use of it is an error."""


def environment(
    loader: BaseLoader, filters: Mapping[str, Callable[..., Any]], functions: Mapping[str, Callable[..., Any]]
) -> SandboxedEnvironment:
    """The environment every template runs in, with these filters and functions besides a few plain ones of Jinja2."""
    env = _Environment(loader=loader, autoescape=True, undefined=_Refusing, finalize=_finalize, keep_trailing_newline=True)
    env.filters = {name: env.filters[name] for name in _FILTERS} | dict(filters)
    env.tests = {name: env.tests[name] for name in _TESTS}
    env.globals = {"range": safe_range} | dict(functions)
    return env


def fill(env: SandboxedEnvironment, name: str, context: Mapping[str, Any]) -> str:
    """The template's Markdown. Raises TemplateProblem with the line of the template."""
    try:
        return env.get_template(name).render(context)
    except TemplateSyntaxError as failure:
        raise TemplateProblem(failure.name or name, failure.lineno, str(failure.message)) from None
    except (TemplateError, TypeError, ValueError, ArithmeticError, LookupError, AttributeError) as failure:
        raise TemplateProblem(*_place(failure, name), str(failure)) from failure


def _place(failure: Exception, name: str) -> tuple[str, int]:
    """Template and line in which it happened; Jinja2 puts template frames into the traceback."""
    for frame in reversed(traceback.extract_tb(failure.__traceback__)):
        if frame.filename.endswith(".md"):
            return frame.filename.rpartition("/")[2], frame.lineno or 1
    return name, 1
