"""Templates, packed files and pictures -> others in their place, hostile or broken, the same for the same seed."""

from __future__ import annotations

import io
import itertools
import re
import struct
import warnings
import zipfile
import zlib
from collections.abc import Sequence
from random import Random

from hostile.mutate import NUMBERS, broken

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
