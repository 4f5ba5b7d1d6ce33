"""Valid bytes -> hostile or broken bytes, the same for the same seed: what the fuzzing script and the tests feed every
door."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

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
