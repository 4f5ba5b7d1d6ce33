"""Where each key of a TOML file stands: key path -> line, counted from 1; and the text without some of its values.

The reader gives values without lines. The scanner below walks text that it has already accepted,
so it only has to follow the structure and never has to judge it. It is linear in the size of the file.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable

import tomli
from msgspec import Struct

KeyPath = tuple[str | int, ...]
MASK = "-"

_SKIP = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_KEY = re.compile(
    r"""[ \t]*(?:"(?:\\.|[^"\\])*"|'[^']*'|[A-Za-z0-9_-]+)"""
    r"""(?:[ \t]*\.[ \t]*(?:"(?:\\.|[^"\\])*"|'[^']*'|[A-Za-z0-9_-]+))*[ \t]*"""
)
_STRING = re.compile(r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\])*"|\'[^\']*\'', re.S)
_BARE = re.compile(r"[^,\]}\n#]+")


def dotted(path: KeyPath) -> str:
    """A key path as a reader writes it: with dots, and without places in lists."""
    return ".".join(part for part in path if isinstance(part, str))


def lines_of(text: str) -> dict[KeyPath, int]:
    """Key path -> line for every table, key and array element of TOML text that can be read."""
    return _Scanner(text).scan()


def line_for(lines: dict[KeyPath, int], path: KeyPath) -> int:
    """Line of the key, or of the nearest table above it that is written down; 1 when none is."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)


def masked(text: str, hidden: Callable[[KeyPath], bool]) -> str:
    """The same text without its comments, and with `MASK` for each text under a key whose path is `hidden`.

    Every other value and the line of every key stay as they are.
    """
    scanner = _Masker(text, hidden)
    scanner.scan()
    kept, last = [], 0
    for start, end, instead in scanner.cuts:
        kept += [text[last:start], instead]
        last = end
    return "".join([*kept, text[last:]])


class Span(Struct, frozen=True):
    """Where a key stands in the text: from its name to the end of its value; of the head of a table, the head alone.

    value  where its value begins; the end for a head
    """

    start: int
    value: int
    end: int


def spans_of(text: str) -> tuple[dict[KeyPath, Span], list[tuple[KeyPath, Span]]]:
    """Key path -> where it stands with its value, for each key of TOML text that tomllib accepts; and the heads of
    tables, in their order."""
    scanner = _Spans(text)
    scanner.scan()
    return scanner.keys, scanner.heads


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[KeyPath, int] = {}
        self.last: dict[KeyPath, int] = {}  # array of tables -> index of its newest element
        self.starts = [0] + [line_end.end() for line_end in re.finditer("\n", text)]

    def scan(self) -> dict[KeyPath, int]:
        table: KeyPath = ()
        while self._skip() < len(self.text):
            if self.text.startswith("[[", self.at):
                table = self._header(2)
            elif self.text[self.at] == "[":
                table = self._header(1)
            else:
                self._pair(table)
        return self.lines

    def _skip(self) -> int:
        self._take(_SKIP)
        return self.at

    def _take(self, pattern: re.Pattern[str]) -> str:
        """What stands here, which the scanner then stands behind. ValueError says that this is no such text."""
        match = pattern.match(self.text, self.at)
        if match is None:
            raise ValueError(f"no TOML at character {self.at}")
        self.at = match.end()
        return match.group()

    def _note(self, path: KeyPath, at: int) -> None:
        self.lines.setdefault(path, bisect_right(self.starts, at))

    def _keys(self) -> list[str]:
        written = self._take(_KEY).strip()
        if '"' not in written and "'" not in written:
            return [part.strip() for part in written.split(".")]
        node: object = tomli.loads(f"{written} = 0")
        keys: list[str] = []
        while isinstance(node, dict):
            ((name, node),) = node.items()
            keys.append(name)
        return keys

    def _header(self, brackets: int) -> KeyPath:
        start = self.at
        self.at += brackets
        keys = self._keys()
        self.at += brackets
        path: KeyPath = ()
        for name in keys[:-1]:
            path = self._down((*path, name), start)
        path = (*path, keys[-1])
        self._note(path, start)
        if brackets == 1:
            return path
        index = self.last[path] = self.last.get(path, -1) + 1
        self._note((*path, index), start)
        return (*path, index)

    def _down(self, path: KeyPath, at: int) -> KeyPath:
        self._note(path, at)
        return (*path, self.last[path]) if path in self.last else path

    def _pair(self, table: KeyPath) -> None:
        start = self.at
        path = table
        for name in self._keys():
            path = (*path, name)
            self._note(path, start)
        self.at += 1  # the equals sign
        self._skip()
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        opener = self.text[self.at]
        if opener == "[":
            self._group(path, "]")
        elif opener == "{":
            self._group(path, "}")
        elif opener in "\"'":
            self._take(_STRING)
        else:
            self._take(_BARE)

    def _group(self, path: KeyPath, close: str) -> None:
        self.at += 1
        index = 0
        while self.text[self._skip()] != close:
            if self.text[self.at] == ",":
                self.at += 1
            elif close == "}":
                self._pair(path)
            else:
                self._note((*path, index), self.at)
                self._value((*path, index))
                index += 1
        self.at += 1


class _Masker(_Scanner):
    def __init__(self, text: str, hidden: Callable[[KeyPath], bool]) -> None:
        super().__init__(text)
        self.hidden, self.cuts = hidden, list[tuple[int, int, str]]()  # start, end, what stands there instead

    def _skip(self) -> int:
        start, end = self.at, super()._skip()
        comments = re.finditer(r"#[^\n]*", self.text[start:end])  # white space and comments are all there is
        self.cuts += [(start + comment.start(), start + comment.end(), "") for comment in comments]
        return end

    def _value(self, path: KeyPath) -> None:
        start, n_cuts = self.at, len(self.cuts)
        super()._value(path)
        if self.hidden(path):
            del self.cuts[n_cuts:]  # comments within the value go with it
            breaks = "\n" * self.text.count("\n", start, self.at)
            text = self.text[start] in "\"'"
            instead = f'"""{MASK}{breaks}"""' if text and breaks else f'"{MASK}"' if text else f"[{breaks}]"
            self.cuts.append((start, self.at, instead))


class _Spans(_Scanner):
    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.keys: dict[KeyPath, Span] = {}
        self.heads: list[tuple[KeyPath, Span]] = []
        self.begun = 0

    def _header(self, brackets: int) -> KeyPath:
        start = self.at
        path = super()._header(brackets)
        self.heads.append((path, Span(start, self.at, self.at)))
        return path

    def _pair(self, table: KeyPath) -> None:
        self.begun = self.at
        super()._pair(table)

    def _value(self, path: KeyPath) -> None:
        start, begins = self.begun if self.at > self.begun else self.at, self.at
        super()._value(path)
        end = self.at - (len(written) - len(written.rstrip())) if (written := self.text[begins : self.at]) else self.at
        self.keys[path] = Span(start, begins, end)
