"""A valid case with something taken out of it, or filled to the brim: what must still be read, checked and built.

Each change is valid or refused at its line when the case is read; what is read must be built in every format.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

from in_full import tables_in_full
from mutate_tables import as_toml
from support import each_key_gone, without

# text as long as a key allows, and text that no typeface sets
FILLINGS = {
    "words": ("Nothing of this may be lost on the way to the page. " * 80)[:4000].strip(),
    "one word": "w" * 4000,
    "lines": ("ab\n" * 1000).strip(),
    "letters of no typeface": "\u738b \U0001f600\ufe0f \u0645\u0631\u062d\u0628\u0627 a\u200d\u200e\u034fb",
}
_ROWS = ("trial.csv", "sessions.csv")
Change = dict[str, bytes | None]  # file of the case -> what it holds now; None when it is taken away


def ablations(case: Path) -> Iterator[tuple[str, Callable[[], Change]]]:
    """Every way to take one thing out of a case: a key, an entry of a list, a column, a row, all rows, a file. What
    makes its files is called where they are wanted: of hundreds, a test tries one."""
    raw = tables_in_full(case)
    for path, changed in each_key_gone(raw):
        yield "case.toml without " + ".".join(map(str, path)), partial(_in_toml, changed)
    for path, n in _lists(raw):
        for at in range(n):
            gone = (*path, at)
            yield "case.toml without " + ".".join(map(str, gone)), partial(_in_toml, without(raw, gone))
    for name in (name for name in _ROWS if (case / name).is_file()):
        yield f"no {name}", partial(dict, {name: None})
        for label, change in _of_rows(name, (case / name).read_text(encoding="utf-8").strip().split("\n")):
            yield label, partial(dict, change)


def _in_toml(tables: dict[str, Any]) -> Change:
    return {"case.toml": as_toml(tables).encode()}


def together(case: Path, random: Random) -> tuple[str, Change]:
    """Two to six of them at once, as far as they touch different tables."""
    raw = tables_in_full(case)
    gone = []
    for _ in range(random.randint(2, 6)):
        keys = [name for name in raw if name not in ("format", "id")]
        table = raw[name := random.choice(keys)]
        part = table if isinstance(table, dict) else random.choice(table) if isinstance(table, list) and table else {}
        if isinstance(part, dict) and part and random.random() < 0.7:
            inner = random.choice([*part])
            gone.append(f"{name}.{inner}")
            del part[inner]
        else:
            gone.append(name)
            del raw[name]
    change: Change = {"case.toml": as_toml(raw).encode()}
    for name in (name for name in _ROWS if (case / name).is_file() and random.random() < 0.3):
        lines = (case / name).read_text(encoding="utf-8").split("\n")
        change[name] = "\n".join(lines[: random.randint(1, 6)]).encode() + b"\n"
        gone.append(f"rows of {name}")
    return "without " + ", ".join(gone), change


def filled(case: Path, random: Random) -> tuple[str, Change]:
    """Up to forty texts of a case as long as they may be, or in letters of no typeface."""
    raw = tables_in_full(case)
    kind = random.choice([*FILLINGS])
    texts = [path for path in _texts(raw) if path[-1] not in ("format", "id")]
    chosen = random.sample(texts, min(len(texts), random.randint(1, 40)))
    for path in chosen:
        _at(raw, path[:-1])[path[-1]] = FILLINGS[kind]
    return f"{kind} in {', '.join('.'.join(map(str, path)) for path in chosen)}", {"case.toml": as_toml(raw).encode()}


def _of_rows(name: str, lines: list[str]) -> Iterator[tuple[str, Change]]:
    names = lines[0].split(",")
    yield f"{name} without rows", {name: (lines[0] + "\n").encode()}
    for at in range(0, len(names)):
        kept = [",".join(cells[:at] + cells[at + 1 :]) for cells in (line.split(",") for line in lines)]
        yield f"{name} without {names[at]}", {name: ("\n".join(kept) + "\n").encode()}
    for at in range(1, len(lines), max(1, len(lines) // 40)):
        yield f"{name} without row {at}", {name: ("\n".join(lines[:at] + lines[at + 1 :]) + "\n").encode()}


def _lists(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], int]]:
    for key, child in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        if isinstance(child, list):
            yield (*path, key), len(child)
        yield from _lists(child, (*path, key))


def _texts(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    for key, child in node.items() if isinstance(node, dict) else enumerate(node):
        if isinstance(child, str):
            yield (*path, key)
        elif isinstance(child, (dict, list)):
            yield from _texts(child, (*path, key))


def _at(node: Any, path: tuple[str | int, ...]) -> Any:
    for part in path:
        node = node[part]
    return node
