"""A user's text file -> text, or one clear problem: missing, too large, not text, not UTF-8."""

from __future__ import annotations

import codecs
from pathlib import Path

from docgen.errors import Problem, UserError


def text_of(path: Path, shown: str, most_bytes: int, missing: Problem | None = None) -> str:
    """The text of a UTF-8 (or, with its mark, UTF-16) file, line ends as \\n.

    shown       how the path is named in a problem
    most_bytes  a size that no real file of this kind reaches
    missing     the problem to report when the file is not there
    """
    if not path.is_file():
        raise UserError([missing or Problem(shown, "there is no such file", "Check the name.")])
    try:
        size = path.stat().st_size
        if size > most_bytes:
            raise UserError([Problem(f"{shown}:1", f"is {size:,} bytes, more than the {most_bytes:,} allowed",
                                     "Is this the right file?")])
        data = path.read_bytes()
    except OSError as failure:
        raise UserError([Problem(shown, f"cannot be read: {failure.strerror}", "Check the permissions.")]) from None
    return decoded(data, shown)


def decoded(data: bytes, shown: str) -> str:
    """Text from bytes; a byte that is not UTF-8 or a NUL is a problem with its line."""
    encoding = "utf-16" if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) else "utf-8-sig"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as failure:
        line = data[: failure.start].count(b"\n") + 1
        raise UserError([Problem(f"{shown}:{line}", f"holds a byte that is not {encoding.removesuffix('-sig').upper()}",
                                 "Save the file as UTF-8 text.")]) from None
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise UserError([Problem(f"{shown}:{line}", "is not a text file", "Save it as UTF-8 text.")])
    return text.replace("\r\n", "\n").replace("\r", "\n")
