"""TOML text from anyone -> its tables with the line of each key, or every reason why not, each with its line.

The reader takes time that grows with the square of the parts of a dotted key, and values of any size and depth;
what is built on it here is bounded, and holds nothing that a page or a calendar cannot.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from functools import cached_property
from typing import Any

import tomli  # reads TOML 1.1 as well: an entry in braces may run over several lines
from msgspec import Struct

from docgen.case.files import refused_character
from docgen.case.lines import KeyPath, dotted, line_for, lines_of
from docgen.errors import Problem, UserError, brief
from docgen.shipped import shipped

FIRST_DAY, LAST_DAY = date(1900, 1, 1), date(2199, 12, 31)
_MOST_DEPTH = 12  # tables and lists within each other; a case needs five
_MOST_INTEGER = 10**15
_PART = r"""(?:"[^"\n]*+"|'[^'\n]*+'|[A-Za-z0-9_-]++)"""
_LONG_KEY = re.compile(rf"(?:^|[\[{{,])[ \t]*+(?:{_PART}[ \t]*+\.[ \t]*+){{{_MOST_DEPTH}}}", re.M)
_EMPTY = re.compile(r"=\s*(?:[,}#]|$)|\[\s*,")
_LONG_NUMBER = re.compile(r"[0-9_]{1000}")
_TOKEN = re.compile(r'"""(?:\\.|[^\\])*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}]', re.S)


class Toml(Struct, frozen=True, dict=True):
    """Tables of a file and where each key stands. `shown` is how the file is named in a problem."""

    tables: dict[str, Any]
    text: str
    shown: str

    @cached_property
    def lines(self) -> dict[KeyPath, int]:
        """Line of each key, looked for when a place is first asked for: most files are without a mistake."""
        return lines_of(self.text)

    def where(self, *path: str | int) -> str:
        """File and line of a key, or of the nearest table above it that is written down."""
        return f"{self.shown}:{line_for(self.lines, path)}"


def read_toml(text: str, shown: str, what: str = "is") -> Toml:
    """The tables of TOML text.

    shown  how the file is named in a problem
    what   how a sentence about it begins: "is", or "its front matter is" for a part of a file
    Raises UserError with a problem for each value that is too deep, too large, no day of this age or no text.
    """
    if (tables := shipped(text)) is not None:  # nothing of it was refused when the package was built
        return Toml(tables, text, shown)
    if long_key := _LONG_KEY.search(text):
        raise UserError(
            [
                Problem(
                    f"{shown}:{_line(text, long_key.end())}", f"{what} nested too deep", "Nothing here goes that deep."
                )
            ]
        )
    try:
        tables = tomli.loads(text)
    except tomli.TOMLDecodeError as failure:
        message, line = _message_and_line(str(failure), text)
        written = text.split("\n")[line - 1] if line <= text.count("\n") + 1 else ""
        raise UserError(
            [
                Problem(
                    f"{shown}:{line}",
                    f"{what} not valid TOML: {message[:1].lower()}{message[1:]}",
                    _advice(message, written, text),
                )
            ]
        ) from None
    except RecursionError:
        raise UserError(
            [
                Problem(
                    f"{shown}:{_deep_line(text)}",
                    f"{what} not valid TOML: it is nested too deep",
                    "Nothing here goes that deep.",
                )
            ]
        ) from None
    except ValueError:  # a number of thousands of digits, or a day that no calendar has
        long = _LONG_NUMBER.search(text)
        raise UserError(
            [
                Problem(
                    f"{shown}:{_line(text, long.start()) if long else 1}",
                    f"{what} not valid TOML: a number is too long",
                    "Check the numbers on this line.",
                )
            ]
        ) from None
    if _deep(tables):
        raise UserError(
            [Problem(f"{shown}:{_deep_line(text)}", f"{what} nested too deep", "Nothing here goes that deep.")]
        )
    toml = Toml(tables, text, shown)
    if problems := [*_unfit(toml)]:
        raise UserError(problems)
    return toml


def frozen(value: Any) -> Any:
    """Lists as tuples, so that strict models take them."""
    if isinstance(value, list):
        return tuple(frozen(entry) for entry in value)
    if isinstance(value, dict):
        return {name: frozen(entry) for name, entry in value.items()}
    return value


def _message_and_line(failure: str, text: str) -> tuple[str, int]:
    """What the reader says, without the place, and the line of that place."""
    message, _, place = failure.rpartition(" (at ")
    line = re.match(r"line (\d+)", place)
    if not line:
        return (message or failure).replace("(at end of document)", "").strip(), text.count("\n") + 1
    return message, int(line[1])


def _below_braces(text: str, written: str) -> str:
    """What to do about a head that goes on with an entry written in braces; "" for any other."""
    head = re.match(r"\s*\[(\[?)\s*([^\]\s]+)\.([\w-]+)\s*\]", written)
    name = head[2].rpartition(".")[2] if head else ""
    if not head or not re.search(rf"^\s*{re.escape(name)}\s*=\s*\{{", text, re.M):
        return ""
    inner, within = (f"[[{head[2]}.{head[3]}]]", "[{ ... }]") if head[1] else (f"[{head[2]}.{head[3]}]", "{ ... }")
    return (
        f"An entry in braces ends at its }}: write [{head[2]}] with its keys below it, before {inner}, or "
        f"{head[3]} = {within} within the braces."
    )


def _advice(message: str, written: str, text: str) -> str:
    """What to do about what the reader says of a line of the text."""
    value = written.partition("=")[2]
    if _EMPTY.search(written):
        return "A key has no value here: write one, or take the key out."
    if re.match(r"\s*\d+,\d", value):
        return "A number has no comma: write 1680 or 0.4."
    if re.match(r"\s*\d{1,4}[/.-]\d{1,2}[/.-]\d{2,4}\b", value):
        return "Write dates as 2026-03-31, or in quotes; check that there is such a day."
    if "Invalid value" in message:
        return 'Text stands in "quotes", dates as 2026-03-31 without quotes, yes and no as true and false.'
    lower = message.lower()
    if "inline table" in lower:
        return "Between the keys of an entry in braces stands a comma, text stands in quotes, and } stands at its end."
    if ("declare" in lower or "immutable" in lower) and (braces := _below_braces(text, written)):
        return braces
    if "immutable" in lower or (("overwrite" in lower or "twice" in lower or "declare" in lower) and "." in written):
        return "The same entry is there twice: put all of its keys in one place."
    if "overwrite" in lower or "twice" in lower or "declare" in lower:
        if head := re.match(r"\s*\[\[?\s*([^\]\s]+)\s*\]", written):
            return (
                f"[{head[1]}] is begun above: write the entry there by its name, or each entry of the file below a "
                f"[[{head[1]}]] of its own."
            )
        return "The same key is there twice in this table: keep one."
    if "date" in message.lower() or "time" in message.lower():
        return "Write dates as 2026-03-31; check that there is such a day."
    return "Check the quotes and brackets on this line and the one above."


def _line(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1


def _deep_line(text: str) -> int:
    """The line on which more brackets are open than anything here needs; 1 when there is none."""
    depth = 0
    for token in _TOKEN.finditer(text):
        depth += (token[0] in "[{") - (token[0] in "]}")
        if depth > _MOST_DEPTH:
            return _line(text, token.start())
    return 1


def _deep(tables: dict[str, Any]) -> bool:
    level: list[Any] = [tables]
    for _ in range(_MOST_DEPTH + 1):
        level = [child for node in level for child in _children(node).values() if isinstance(child, (dict, list))]
    return bool(level)


def _children(node: Any) -> dict[str | int, Any]:
    return node if isinstance(node, dict) else dict(enumerate(node))


def _unfit(toml: Toml) -> Iterator[Problem]:
    """Values that nothing further on could use, whatever their key is for."""
    below: list[tuple[KeyPath, Any]] = [((), toml.tables)]
    while below:
        path, node = below.pop()
        if isinstance(node, (dict, list)):
            below += (((*path, key), child) for key, child in _children(node).items())
            for key in node if isinstance(node, dict) else ():
                if refusal := refused_character(key):
                    yield Problem(toml.where(*path, key), f"a key {refusal}")
        elif fault := _fault_of(node):
            name = brief(dotted(path))
            yield Problem(toml.where(*path), f"{name} {fault[0]}", fault[1])


def _fault_of(value: object) -> tuple[str, str] | None:
    """What is wrong with one value and what to do; None when it can be used."""
    if isinstance(value, str):
        return (refusal, "") if (refusal := refused_character(value)) else None
    if isinstance(value, int) and abs(value) > _MOST_INTEGER:
        return "is a number too large to be meant", "Check its digits."
    if isinstance(value, date) and not FIRST_DAY.year <= value.year <= LAST_DAY.year:
        return f"is {value}, which is no day of this age", f"A day is between {FIRST_DAY} and {LAST_DAY}."
    return None
