"""Jinja2 made safe for this job: case text is text, a missing fact is a gap, a number keeps its trace.

A template sees only the mapping it is given. Whatever it prints is escaped so that Markdown reads it
as plain text; a Gap prints as a marked gap, a Number as a link to the record it comes from. None, bare
floats and containers cannot be printed at all, and there is no way to paper over a missing name.

A template may come from anyone. The language it is written in is closed: what `_ALLOWED` does not list is
refused with its line before anything of it runs, only its own macros and the functions given can be called,
and all it does and makes is drawn from one allowance, so that no template runs for ever or fills the memory.
"""

from __future__ import annotations

import re
import traceback
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any, cast

from jinja2 import StrictUndefined, TemplateError, TemplateRuntimeError, TemplateSyntaxError, Undefined, nodes
from jinja2.loaders import BaseLoader
from jinja2.runtime import Context, Macro
from jinja2.sandbox import SandboxedEnvironment
from jinja2.utils import pass_context
from markupsafe import Markup
from msgspec import Struct

_PUNCTUATION = re.compile(r"([!-/:-@\[-`{-~])")
# every white space but the no-break ones, which keep a number and its unit together
_SPACE = re.compile(r"[^\S\u00a0\u202f]+")
# a line of nothing but tags or comments leaves no line behind; its newline goes into a comment, so that
# lines keep their numbers, and a tag at the end of a line of text does not swallow the blank line after it
_TAG_LINE = re.compile(r"^[ \t]*((?:\{%(?:(?!%\}).)*%\}[ \t]*|\{#(?:(?!#\}).)*#\}[ \t]*)+)\n", re.M)
_TOO_DEEP = "the template is nested too deep"
_TEXTS_KEPT = 2_000  # names and words that stand on several pages
_LONG_NUMBER = re.compile(r"[0-9_]{1000}")
_FILTERS = (
    "first",
    "last",
    "length",
    "list",
    "map",
    "selectattr",
    "rejectattr",
    "select",
    "reject",
    "sort",
    "groupby",
    "unique",
    "batch",
    "min",
    "max",
)
_TESTS = ("equalto", "eq", "ne", "in", "none", "true", "false", "sameas", "odd", "even", "gt", "ge", "lt", "le")
_ALLOWED = (
    nodes.Template,
    nodes.Output,
    nodes.TemplateData,
    nodes.For,
    nodes.If,
    nodes.Assign,
    nodes.Macro,
    nodes.FromImport,
    nodes.Name,
    nodes.Const,
    nodes.Getattr,
    nodes.Getitem,
    nodes.Call,
    nodes.Keyword,
    nodes.Filter,
    nodes.Test,
    nodes.Compare,
    nodes.Operand,
    nodes.And,
    nodes.Or,
    nodes.Not,
    nodes.CondExpr,
    nodes.Add,
    nodes.Sub,
    nodes.List,
    nodes.Tuple,
)
_MOST_DEPTH = 40  # of one thing in another in a template; a page needs a dozen
_MOST_RANGE = 1000
_ALLOWANCE = 2_000_000  # characters made by one template; the longest document of a full case takes a twelfth
_STEP = 100  # what a turn of a loop or a call costs of it


class Gap(Struct, frozen=True):
    """A fact the case lacks: false in a condition, a visible mark when printed."""

    name: str
    words: str

    def __bool__(self) -> bool:
        return False

    def __html__(self) -> str:
        return f"[{escape(self.words)}](gap:{self.name})"


class Place(Struct, frozen=True):
    """A part of another document: its words, and its anchor in one file of them all."""

    words: str
    anchor: str

    def __html__(self) -> str:
        return f"[{escape(self.words)}](#{self.anchor})"


class Number(Struct, frozen=True):
    """A number with its record's id; prints its short form. `full` adds the interval, `aside` is the interval alone,
    `counted` what a rate was counted over, with the rate after it."""

    name: str
    short: str
    full: str
    bare: str = ""
    aside: str = ""
    counted: str = ""
    level: str = ""
    value: float | None = None
    n: int = 0
    verdict: str = ""
    note: str = ""

    def __html__(self) -> str:
        return f"[{escape(self.short)}](fact:{self.name})"


class Shown:
    """A read-only table of the values a document may show, by attribute or by key."""

    __slots__ = ("_values",)

    def __init__(self, values: Mapping[str, Any]) -> None:
        self._values = values

    def __getattr__(self, name: str) -> Any:
        try:
            return self._values[name]
        except KeyError:
            raise AttributeError(name) from None

    def __getitem__(self, name: str) -> Any:
        return self._values[name]

    def __contains__(self, name: object) -> bool:
        return name in self._values

    def __iter__(self) -> Iterator[str]:
        return iter(self._values)

    def __len__(self) -> int:
        return len(self._values)


class TemplateProblem(Exception):
    """What a template did wrong, with its file name and line."""

    def __init__(self, name: str, line: int, what: str) -> None:
        self.name, self.line, self.what = name, line, what
        super().__init__(f"{name}:{line}: {what}")


@lru_cache(_TEXTS_KEPT)
def escape(text: str) -> str:
    """Markdown that reads as exactly this text: NFC, white space folded, punctuation escaped."""
    folded = _SPACE.sub(" ", unicodedata.normalize("NFC", text)).strip(" ")
    return _PUNCTUATION.sub(r"\\\1", folded)


@pass_context  # so that Jinja2 cannot print a constant by itself beforehand
def _finalize(context: Context, value: Any) -> Any:
    env = cast(_Environment, context.environment)
    if type(value) is Markup:
        return env.spent(value)
    if isinstance(value, Undefined):
        return value  # refuses by itself when it is printed
    if hasattr(value, "__html__"):
        return env.spent(Markup(value.__html__()))
    if isinstance(value, bool) or not isinstance(value, (str, int)):
        raise TypeError(f"a template cannot print a {type(value).__name__} as it stands")
    return env.spent(Markup(escape(str(value))))


class _Environment(SandboxedEnvironment):
    """The sandbox of Jinja2 with a closed language and one allowance for all that a template does."""

    intercepted_binops = frozenset("+-")
    left = _ALLOWANCE

    def spend(self, cost: int) -> None:
        self.left -= cost
        if self.left < 0:
            raise TemplateRuntimeError("the template makes too much or never ends")

    def spent(self, value: Any) -> Any:
        """The value, paid for when it is text."""
        if isinstance(value, str):
            self.spend(len(value))
        return value

    def counted(self, values: Iterable[Any], n_characters: int = 0) -> Iterator[Any]:
        """The values, each paid for with the words a turn prints: what every loop of a template goes through."""
        for value in values:
            self.spend(_STEP + n_characters)
            yield value

    def preprocess(self, source: str, name: str | None = None, filename: str | None = None) -> str:
        return _TAG_LINE.sub(r"\1{#\n#}", super().preprocess(source, name, filename))

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        """The template as Jinja2 reads it, held to the closed language, its loops counted."""
        try:
            template = super()._parse(source, name, filename)
        except ValueError:  # of Python, about its digits
            long = _LONG_NUMBER.search(source)
            line = source.count("\n", 0, long.start()) + 1 if long else 1
            raise TemplateSyntaxError("a number in the template is too long", line, name, filename) from None
        except RecursionError:
            raise TemplateSyntaxError(_TOO_DEEP, 1, name, filename) from None
        below: list[tuple[nodes.Node, int]] = [(template, 0)]
        while below:
            node, depth = below.pop()
            if refused := _refused(node, depth):
                raise TemplateSyntaxError(refused, node.lineno, name, filename)
            below += ((child, depth + 1) for child in node.iter_child_nodes())
        for loop in [*template.find_all(nodes.For)]:
            n_characters = nodes.Const(sum(len(text.data) for text in loop.find_all(nodes.TemplateData)))
            loop.iter = nodes.Filter(loop.iter, "_counted", [n_characters], [], None, None, lineno=loop.lineno)
        return template

    def _compile(self, source: str, filename: str) -> Any:
        try:
            return super()._compile(source, filename)
        except (SyntaxError, RecursionError, MemoryError):  # of Python, for what Jinja2 has made of the template
            raise TemplateSyntaxError(_TOO_DEEP, 1, filename.rpartition("/")[2], filename) from None

    def get_template(self, name: Any, parent: str | None = None, globals: Any = None) -> Any:
        self.spend(_STEP)
        return super().get_template(name, parent, globals)

    def is_safe_callable(self, obj: Any) -> bool:
        return isinstance(obj, Macro) or any(obj is function for function in self.globals.values())

    def getattr(self, obj: Any, attribute: str) -> Any:
        """What stands under a name. A table holds values alone, so nothing of it has to be kept from running."""
        if type(obj) is Shown and attribute in obj and not attribute.startswith("_"):
            return obj[attribute]
        return super().getattr(obj, attribute)

    def call(__self, __context: Any, __obj: Any, *args: Any, **kwargs: Any) -> Any:  # noqa: N805
        __self.spend(_STEP)
        if not isinstance(__obj, Undefined) and not __self.is_safe_callable(__obj):
            raise TemplateRuntimeError("a template can call nothing but its own macros and the functions it is given")
        return super().call(__context, __obj, *args, **kwargs)

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        if type(left) is not int or type(right) is not int:
            raise TypeError(f"a template can use {operator} on whole numbers alone")
        return super().call_binop(context, operator, left, right)


def _refused(node: nodes.Node, depth: int) -> str:
    """Why a piece of a template is outside the closed language; empty when it is not."""
    if depth > _MOST_DEPTH:
        return _TOO_DEEP
    if not isinstance(node, _ALLOWED) or (isinstance(node, nodes.For) and node.recursive):
        word = "recursive" if isinstance(node, nodes.For) else type(node).__name__.lower()
        return f"a template has no '{word}'"
    if (
        isinstance(node, (nodes.List, nodes.Tuple))
        and getattr(node, "ctx", "load") == "load"
        and any(not isinstance(item, nodes.Const) for item in node.items)
    ):
        return "a list in a template holds plain words and numbers alone"
    if isinstance(node, nodes.Call) and (node.dyn_args or node.dyn_kwargs):
        return "a template names what it hands over one by one"
    return ""


def _range(*bounds: int) -> range:
    """The range of Python, held short."""
    numbers = range(*bounds)
    if len(numbers) > _MOST_RANGE:
        raise ValueError(f"a range in a template holds at most {_MOST_RANGE:,} numbers")
    return numbers


class _Refusing(StrictUndefined):
    """A name outside the document's view: every use of it is an error."""


def environment(
    loader: BaseLoader, filters: Mapping[str, Callable[..., Any]], functions: Mapping[str, Callable[..., Any]]
) -> SandboxedEnvironment:
    """The environment every template runs in, with these filters and functions besides a few plain ones of Jinja2."""
    env = _Environment(
        loader=loader, autoescape=True, undefined=_Refusing, finalize=_finalize, keep_trailing_newline=True
    )

    def paid(change: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *values, **named: env.spent(change(*values, **named))

    env.filters = {name: env.filters[name] for name in _FILTERS} | {
        name: paid(change) for name, change in filters.items()
    }
    env.filters |= {"batch": _batch, "_counted": env.counted}
    env.tests = {name: env.tests[name] for name in _TESTS}
    env.globals = {"range": _range} | dict(functions)
    return env


def _batch(values: Iterable[Any], size: int) -> Iterator[list[Any]]:
    """The values in lists of that many, the last as short as it comes."""
    entries = list(values)
    return (entries[at : at + size] for at in range(0, len(entries), size))


def fill(env: SandboxedEnvironment, name: str, context: Mapping[str, Any], more: int = 0) -> str:
    """The template's Markdown. Raises TemplateProblem with the line of the template.

    more  characters that what is shown may add to what a template may make
    """
    cast(_Environment, env).left = _ALLOWANCE + more
    try:
        return env.get_template(name).render(context)
    except TemplateSyntaxError as failure:
        template = (failure.name or name).rpartition("/")[2]  # Jinja2 names some by their file
        raise TemplateProblem(template, failure.lineno, str(failure.message)) from None
    except (RecursionError, MemoryError) as failure:
        raise TemplateProblem(*_place(failure, name), "a part of the template uses itself without end") from None
    except LookupError as failure:  # its words may be a client's
        what = str(failure) if isinstance(failure, TemplateError) else "there is no such entry"
        raise TemplateProblem(*_place(failure, name), what) from failure
    except (TemplateError, TypeError, ValueError, ArithmeticError, AttributeError) as failure:
        raise TemplateProblem(*_place(failure, name), str(failure)) from failure


def _place(failure: Exception, name: str) -> tuple[str, int]:
    """Template and line in which it happened; Jinja2 puts template frames into the traceback."""
    for frame in reversed(traceback.extract_tb(failure.__traceback__)):
        if frame.filename.endswith(".md"):
            return frame.filename.rpartition("/")[2], frame.lineno or 1
    return name, 1
