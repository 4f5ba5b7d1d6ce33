"""Valid bytes -> hostile or broken bytes, the same for the same seed: what the fuzzing script and the tests feed every
door."""

from __future__ import annotations

import copy
import csv
import io
import itertools
import re
import struct
import tomllib
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime, time
from functools import cache
from random import Random
from typing import Any

BIDI = "\u202e\u2066\u2069\u200f"
CONTROLS = "\x00\x01\x07\x08\x0b\x0c\x1b[2J\x7f\x85\x9b\ufffe"
FORMULAS = ("=1+1", "+1", "-1+2", "@SUM(A1)", '=HYPERLINK("http://x")', "\t=1", "|calc", "=cmd|' /C calc'!A0")
NUMBERS = (
    "9" * 400,
    "9" * 5000,
    "0x" + "f" * 6000,
    "1e400",
    "-1e400",
    "1e-400",
    "nan",
    "inf",
    "-inf",
    "-0.0",
    "1_0",
    "0.1e999999999",
    "9223372036854775808",
    "-1",
    "0",
    "1e308",
    "5e-324",
    "1" + "0" * 17,
)
DAYS = (
    "0001-01-01",
    "9999-12-31",
    "1899-12-31",
    "2200-01-01",
    "2026-02-30",
    "0000-00-00",
    "2026-03-31T00:00:00Z",
    "0001-01-01T00:00:00+23:59",
    "9999-12-31T23:59:59-23:59",
    "23:59:60",
)
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


def broken(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """The data after one to four changes that know nothing of its form; `others` lend pieces."""
    for _ in range(random.choice((1, 1, 1, 2, 3, 4))):
        data = random.choice(_CHANGES)(data, others, random)
    return data


def _at(data: bytes, random: Random) -> int:
    return random.randrange(len(data) + 1)


def _put(data: bytes, piece: bytes | str, random: Random) -> bytes:
    at = _at(data, random)
    return data[:at] + (piece.encode("utf-8", "surrogatepass") if isinstance(piece, str) else piece) + data[at:]


def _flip(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    changed = bytearray(data)
    for _ in range(random.choice((1, 1, 4, 30)) if data else 0):
        changed[random.randrange(len(changed))] ^= 1 << random.randrange(8)
    return bytes(changed)


def _delete(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    at = _at(data, random)
    return data[:at] + data[at + random.choice((1, 1, 5, 50, 500)) :]


def _repeat(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    at = _at(data, random)
    piece = data[at : at + random.choice((1, 3, 30, 300))]
    return data[:at] + piece * random.choice((2, 2, 10, 200)) + data[at:]


def _splice(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    other = random.choice(others)
    return data[: _at(data, random)] + other[_at(other, random) :]


def _truncate(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    return data[: _at(data, random)]


def _lines(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    lines = data.split(b"\n")
    a, b = random.randrange(len(lines)), random.randrange(len(lines))
    match random.randrange(4):
        case 0:
            lines.insert(b, lines[a])
        case 1:
            del lines[a]
        case 2:
            lines[a], lines[b] = lines[b], lines[a]
        case _:
            lines[a] = lines[b]
    return b"\n".join(lines)


def _number(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """One number in the data for one that nobody means."""
    starts = [at for at in range(len(data)) if data[at : at + 1].isdigit() and not data[at - 1 : at].isdigit()]
    if not starts:
        return data
    at = end = random.choice(starts)
    while data[end : end + 1].isdigit() or data[end : end + 1] in (b".", b"-"):
        end += 1
    return data[:at] + random.choice(NUMBERS + DAYS).encode() + data[end:]


def _deep(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    n = random.choice((10, 40, 200, 3000))
    piece = random.choice(
        (
            "[" * n,
            "{" * n,
            "[" * n + "]" * n,
            "{a=" * n + "1" + "}" * n,
            "a." * n + "a = 1\n",
            "[" + "a." * n + "a]\n",
            "(" * n,
            "{{" * n,
            "> " * n,
            "{% if 1 %}" * n,
            '"' * n,
            "'" * n,
            "- " * n,
        )
    )
    return _put(data, "\n" + piece if random.random() < 0.5 else piece, random)


def _long(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    n = random.choice((100, 5000, 60_000))
    return _put(
        data,
        random.choice(
            ("x" * n, "\nkey" + "k" * n + " = 1\n", '"' + "y" * n + '"', "," * n, " " * n, "\n" * n, "é" * n, "|" * n)
        ),
        random,
    )


def _ends(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    return data.replace(b"\n", random.choice((b"\r", b"\r\n", b"\r\r\n", b"\n\r", b"\x0b", "\u2028".encode(), b"\x85")))


def _coded(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    text = data.decode("utf-8", "replace")
    return random.choice(
        (
            b"\xef\xbb\xbf" + data,
            b"\xff\xfe" + data,
            text.encode("utf-16"),
            text.encode("utf-16-le"),
            text.encode("utf-32"),
            text.encode("cp1252", "replace"),
            text.encode("utf-7", "replace"),
            b"\xef\xbb\xbf" * 3 + data,
        )
    )


_CHANGES: tuple[Callable[[bytes, Sequence[bytes], Random], bytes], ...] = (
    _flip,
    _flip,
    _delete,
    _delete,
    _repeat,
    _splice,
    _truncate,
    _lines,
    _lines,
    _lines,
    _number,
    _number,
    _number,
    _deep,
    _long,
    _ends,
    _coded,
    lambda data, others, random: _put(data, random.randbytes(random.choice((1, 4, 64))), random),
    lambda data, others, random: _put(data, random.choice(CONTROLS + BIDI), random),
    lambda data, others, random: _put(
        data, random.choice((b"\xff", b"\xc0\xaf", b"\xed\xa0\x80", b"\xf4\x90\x80\x80", b"\x80")), random
    ),
    lambda data, others, random: _put(data, random.choice(FORMULAS), random),
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


# what a hostile or careless template may hold; each stands on a line of its own
SNIPPETS = (
    "{{ ''.__class__.__mro__ }}",
    "{{ client.__class__ }}",
    "{{ client|attr('__class__') }}",
    "{{ '{0.__class__}'.format(client) }}",
    "{{ self.__init__.__globals__ }}",
    "{{ range.__self__ }}",
    "{{ cycler.__init__ }}",
    "{{ lipsum.__globals__ }}",
    "{{ gap.__globals__ }}",
    "{{ client._values }}",
    "{{ loop }}",
    "{{ config }}",
    "{% include '/etc/passwd' %}",
    "{% include '../words.toml' %}",
    "{% extends 'letter.md' %}",
    "{% import 'os' as os %}",
    "{% from '../letter.md' import x %}",
    "{% for a in range(10**9) %}x{% endfor %}",
    "{% for a in range(999) %}{% for b in range(999) %}{% for c in range(999) %}x{% endfor %}{% endfor %}{% endfor %}",
    "{% for a in range(1000000000) %}x{% endfor %}",
    "{{ 'x' * 10**9 }}",
    "{{ 10**10**10 }}",
    "{{ 'a'|center(10**9) }}",
    "{{ '%1000000000d'|format(1) }}",
    "{{ 'a' ~ 'b' }}",
    "{% macro m() %}{{ m() }}{{ m() }}{% endmacro %}{{ m() }}",
    "{% set x %}{{ x }}{% endset %}",
    "{{ [1]*10**9 }}",
    "{% set a = client %}{{ a.private_note }}",
    "{{ client.member_id }}",
    "{{ client.name.upper() }}",
    "{{ client }}",
    "{{ 1.5 }}",
    "{{ none }}",
    "{{ undefined_name }}",
    "{{ client.name",
    "{% for %}",
    "{% endif %}",
    "{% raw %}",
    "[x](javascript:alert(1))",
    "[x](file:///etc/passwd)",
    "![x](http://example.org/a.png)",
    "![x](fig:none)",
    "![x](/etc/passwd)",
    "<script>alert(1)</script>",
    "[x](fact:none)",
    "> [!CAUTION]\n> x\n> > y\n> > > z",
    "- a\n  - b\n    - c\n      - d\n        - e",
    "| a |\n|---|\n" + "| b |\n" * 300,
    "|" + " a |" * 60 + "\n|" + "---|" * 60,
    "# x\n## y\n#### z",
    "Table: no table",
    "![](page:break)",
    "> ![](page:break)",
    "![a](sign:)",
    "1. a\n1. b\n\n999999999. c",
    "\\",
    "***",
    "[ ] x",
    "- [x] y",
    "x" * 4000,
    "\u202e",
    "漢字",
    "{# never closed",
)


def other_template(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """A template with some of the snippets between its lines, or one of its tags put elsewhere."""
    lines = data.decode().split("\n")
    for _ in range(random.choice((1, 1, 1, 2, 4))):
        at = random.randrange(len(lines) + 1)
        match random.randrange(6):
            case 0:
                del lines[at : at + random.choice((1, 2, 10))]
            case 1:
                lines.insert(at, random.choice(lines))
            case 2 if at < len(lines) and "{" in lines[at]:
                lines[at] = lines[at].replace(
                    random.choice(("|", ".", " ", "%}", "}}", "{%", '"')),
                    random.choice(("", "|", "..", "()", "[0]", " + ")),
                    1,
                )
            case _:
                lines.insert(at, random.choice(SNIPPETS))
        lines = lines or [""]
    return "\n".join(lines).encode("utf-8", "surrogatepass")


_PACKINGS = (zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED, zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA)


def other_parts(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """A zipped document with one part broken, swapped, doubled or blown up, zipped anew so that its sums are right."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = [(info.filename, archive.read(info)) for info in archive.infolist()]
    at = random.randrange(len(parts))
    name, held = parts[at]
    match random.randrange(10):
        case 0:
            del parts[at]
        case 1:
            parts[at] = (
                random.choice(("../" * 9 + "etc/passwd", "/etc/passwd", name + "\x01", "x" * 3000, name.upper(), "x")),
                held,
            )
        case 2:
            parts[at] = (name, b"0" * 45_000_000)
        case 3:
            parts += [(f"{name}{n}", b"") for n in range(3000)]
        case 4:
            parts[at] = (name, parts[random.randrange(len(parts))][1])
        case 5:
            bomb = (
                '<!DOCTYPE x [<!ENTITY a "'
                + "a" * 1000
                + '">'
                + "".join(f'<!ENTITY {b} "{10 * f"&{a};"}">' for a, b in itertools.pairwise("abcdefghijklmnop"))
                + "]>"
            )
            parts[at] = (name, bomb.encode() + held.partition(b"?>")[2].replace(b"</w:p>", b"&p;</w:p>"))
        case 6:
            parts[at] = (
                name,
                b'<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>'
                + held.partition(b"?>")[2].replace(b"<w:t>", b"<w:t>&e;"),
            )
        case 7:
            text = held.decode("utf-8", "replace")
            numbers = [*re.finditer(r'"(\d+)"', text)]
            if numbers:
                found = random.choice(numbers)
                wild = random.choice((*NUMBERS[2:], "", "x", "99999999", "-5"))
                parts[at] = (name, f"{text[: found.start(1)]}{wild}{text[found.end(1) :]}".encode())
        case _:
            parts[at] = (name, broken(held, others, random))
    made = io.BytesIO()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        small = len(parts) < 100 and all(len(held) < 10**6 for _, held in parts)
        with zipfile.ZipFile(
            made, "w", random.choice(_PACKINGS) if small else zipfile.ZIP_DEFLATED, compresslevel=1
        ) as archive:
            for name, held in parts:
                archive.writestr(name, held)
    return made.getvalue()


def other_picture(data: bytes, others: Sequence[bytes], random: Random) -> bytes:
    """A PNG that says it is of another size, depth or colour, its sum right; other pictures broken."""
    if not data.startswith(b"\x89PNG"):
        return broken(data, others, random)
    sizes = (0, 1, 2, 3999, 4001, 65_535, 100_000, 2**31 - 1, 2**32 - 1)
    head = struct.pack(
        ">IIBBBBB",
        random.choice(sizes),
        random.choice(sizes),
        random.choice((1, 2, 4, 8, 16, 3)),
        random.choice((0, 2, 3, 4, 6, 5)),
        random.choice((0, 0, 1)),
        0,
        random.choice((0, 1)),
    )
    return data[:16] + head + struct.pack(">I", zlib.crc32(b"IHDR" + head)) + data[33:]
