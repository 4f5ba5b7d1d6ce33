"""Tables and rows of a case -> others in their place, hostile or careless, the same for the same seed."""

from __future__ import annotations

import copy
import csv
import io
import tomllib
from collections.abc import Iterator, Sequence
from datetime import date, datetime, time
from functools import cache
from random import Random
from typing import Any

from hostile.mutate import BIDI, DAYS, FORMULAS, NUMBERS
from hostile.mutate_files import SNIPPETS

VALUES: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    -1,
    1,
    7,
    10**6,
    -(10**6),
    2**63,
    2**64,
    10**400,
    0.0,
    -0.0,
    0.5,
    1e-320,
    1e308,
    float("nan"),
    float("inf"),
    float("-inf"),
    "",
    " ",
    "x",
    "x" * 5000,
    "\u202ex",
    "a\x01b",
    "\x1b[31mred",
    "=1+1",
    "{{ client.name }}",
    "{% for x in y %}",
    "<b>",
    "漢字",
    "e\u0301" * 50,
    "\ud7ff\ue000",
    "🦽",
    "line\nline",
    "../../etc/passwd",
    "/dev/zero",
    "trial.csv\u202e",
    date(1, 1, 1),
    date(9999, 12, 31),
    date(1900, 1, 1),
    date(2199, 12, 31),
    date(2026, 3, 31),
    datetime(2026, 3, 31, 1, 2),
    time(1, 2),
    [],
    [[]],
    [1, "x"],
    ["x"] * 300,
    {},
    {"x": 1},
    {"x": {"y": {}}},
)


def other_tables(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """Valid TOML that says something else: values of another kind or size, keys and tables gone, doubled or renamed."""
    tables = copy.deepcopy(tomllib.loads(data.decode()))
    for _ in range(random.choice((1, 1, 1, 2, 3, 8))):
        places = [*spots(tables)]
        if not places:
            break
        node, key = random.choice(places)
        if random.random() < 0.5:
            _nudge(node, key, random)
            continue
        match random.randrange(6):
            case 0 if isinstance(node, list):
                node[key:key] = [copy.deepcopy(node[key])] * random.choice((1, 2, 250))
            case 1:
                other, there = random.choice(places)
                node[key] = (
                    copy.deepcopy(other[there])
                    if there in (other if isinstance(other, dict) else range(len(other)))
                    else 0
                )
            case 2 if isinstance(node, dict):
                node[random.choice((key + "x", key[:-1] or "k", "x" * 3000, "a\x1b", "", "a b", "__class__"))] = (
                    node.pop(key)
                )
            case _:
                node[key] = copy.deepcopy(random.choice(VALUES))
    return as_toml(tables).encode("utf-8", "surrogatepass")


def _nudge(node: Any, key: Any, random: Random) -> None:
    """A value of the same kind that is often still allowed, or none."""
    value = node[key]
    if type(value) in (int, float) and abs(value) < 10**15:
        node[key] = random.choice(
            (-value, value * 10, value / 1000, value + 0.5, value + 1, 0, type(value)(1), value * 1000)
        )
    elif type(value) is bool:
        node[key] = not value
    elif type(value) is date and value.year > 1:
        node[key] = random.choice(
            (
                date(1900, 1, 1),
                date(2199, 12, 31),
                date(2024, 2, 29),
                date(1, 1, 1),
                date(2026, 12, 31),
                value.replace(year=1999, day=1),
                str(value),
            )
        )
    elif isinstance(value, str):
        node[key] = random.choice(
            (
                value * 100,
                value + random.choice(BIDI),
                value[::-1],
                value.upper(),
                "=" + value,
                random.choice(SNIPPETS),
                "x",
                value.partition(" ")[0],
            )
        )
    else:
        del node[key]


def spots(node: Any) -> Iterator[tuple[Any, Any]]:
    """Every place below a table or list, as the table or list and the key in it."""
    children = node.items() if isinstance(node, dict) else enumerate(node)
    for key, child in children:
        yield node, key
        if isinstance(child, (dict, list)):
            yield from spots(child)


def as_toml(tables: dict[str, Any]) -> str:
    """Tables as TOML, those within them as inline tables; None is left out."""
    lines = []
    for key, value in tables.items():
        if isinstance(value, list) and value and all(isinstance(one, dict) for one in value):
            for one in value:
                lines += [f"\n[[{_key(key)}]]", *(f"{_key(k)} = {_value(v)}" for k, v in one.items() if v is not None)]
        elif isinstance(value, dict):
            lines += [f"\n[{_key(key)}]", *(f"{_key(k)} = {_value(v)}" for k, v in value.items() if v is not None)]
        elif value is not None:
            lines.insert(0, f"{_key(key)} = {_value(value)}")
    return "\n".join(lines) + "\n"


@cache
def _key(key: str) -> str:
    return key if key.isascii() and key.replace("_", "a").replace("-", "a").isalnum() else _text(key)


def _text(text: str) -> str:
    if text.isprintable() and '"' not in text and "\\" not in text:
        return f'"{text}"'
    return '"' + "".join(c if c.isprintable() and c not in '"\\' else f"\\U{ord(c):08X}" for c in text) + '"'


def _value(value: Any) -> str:
    match value:
        case bool():
            return str(value).lower()
        case str():
            return _text(value)
        case list():
            return "[" + ", ".join(_value(one) for one in value if one is not None) + "]"
        case dict():
            return "{" + ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items() if v is not None) + "}"
        case int() if abs(value) > 10**300:
            return hex(value)
    return value.isoformat() if hasattr(value, "isoformat") else repr(value)


def other_rows(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """Valid CSV that says something else: hostile cells, rows and columns gone, doubled or out of order."""
    rows = [*csv.reader(io.StringIO(data.decode()))]
    for _ in range(random.choice((1, 1, 2, 5, 20))):
        at = random.randrange(len(rows))
        place = random.randrange(len(rows[at])) if rows[at] else 0
        match random.randrange(10):
            case 0 if len(rows) > 2:
                del rows[at]
            case 1:
                rows[at:at] = [
                    list(rows[at])
                    for _ in range(random.choice((1, 3, 1000 if len(rows) < 3000 and len(rows[at]) < 500 else 2)))
                ]
            case 2:
                random.shuffle(rows)
            case 3:
                for row in rows:
                    del row[place : place + 1]
            case 4:
                for row in rows:
                    row[place:place] = row[place : place + 1]
            case 5:
                rows[at] = rows[at] + [""] * random.choice((1, 5, 3000))
            case 6 | 7 if rows[at]:
                rows[at][place] = random.choice([row[place] for row in rows if place < len(row)])
            case _ if rows[at]:
                rows[at][place] = random.choice(
                    (
                        *NUMBERS,
                        *DAYS,
                        *FORMULAS,
                        "",
                        " ",
                        "x",
                        "1,5",
                        "1.5",
                        "yes",
                        "-",
                        "x" * 2000,
                        "\x1b[2J",
                        BIDI,
                        "a\nb",
                        '"',
                        "漢",
                        "٣",
                    )
                )
    out = io.StringIO()
    csv.writer(
        out,
        delimiter=random.choice(",,,,;\t"),
        lineterminator="\n",
        quoting=random.choice((csv.QUOTE_MINIMAL, csv.QUOTE_ALL)),
    ).writerows(rows)
    return out.getvalue().encode("utf-8", "surrogatepass")
