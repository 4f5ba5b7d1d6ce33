"""A user's text file -> text, or one clear problem: missing, no plain file, too large, not text, not UTF-8."""

from __future__ import annotations

import codecs
import os
import re
import stat
from pathlib import Path

from docgen.errors import Problem, UserError

# Control characters break the office formats; bidirectional controls can make a page read as it is not.
_REFUSED = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f\u202a-\u202e\u2066-\u2069\ufffe\uffff\ud800-\udfff]"
)

_DEVICE = re.compile(
    r"(?:con|prn|aux|nul|conin\$|conout\$|(?:com|lpt)[1-9\u00b9\u00b2\u00b3])(?:\s*\..*|\s*)", re.I | re.S
)
_NOT_IN_NAMES = re.compile(r'[<>:"/\\|?*\x00-\x1f]')


def refused_character(text: str) -> str:
    """What is wrong with the first character that no page can show; empty when all can."""
    bad = _REFUSED.search(text)
    return f"holds the character U+{ord(bad.group()):04X}, which no page can show; take it out" if bad else ""


def forbidden_name(name: str) -> str:
    """Why a file or folder cannot have this name on every system; empty when it can.

    Source: Microsoft, "Naming Files, Paths, and Namespaces": devices, with or without an ending, nine characters, and
    no space or dot at the end (from memory; held against PureWindowsPath.is_reserved of Python).
    """
    if _DEVICE.fullmatch(name):
        return f"'{name}' is the name of a device on Windows"
    if _NOT_IN_NAMES.search(name):
        return f"'{name}' holds a character that no name has on Windows"
    return f"'{name}' ends in a space or a dot" if name[-1:] in (" ", ".") else ""


def text_of(path: Path, shown: str, most_bytes: int, missing: Problem | None = None) -> str:
    """The text of a UTF-8 (or, with its mark, UTF-16) file, line ends as \\n.

    shown       how the path is named in a problem
    most_bytes  a size that no real file of this kind reaches
    missing     the problem to report when the file is not there
    """
    return decoded(bytes_of(path, shown, most_bytes, missing), shown)


def bytes_of(path: Path, shown: str, most_bytes: int, missing: Problem | None = None) -> bytes:
    """What a plain file holds; `shown` may be the line that names it.

    A pipe or a device is never waited for, and a file too large is never read.
    """
    try:
        with open(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)), "rb") as stream:
            status = os.fstat(stream.fileno())
            if not stat.S_ISREG(status.st_mode):
                raise UserError([Problem(shown, "is no plain file", "Put the file itself there.")])
            data = b"" if status.st_size > most_bytes else stream.read(most_bytes + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise UserError([missing or Problem(shown, "there is no such file", "Check the name.")]) from None
    except OSError as failure:
        raise UserError(
            [Problem(shown, f"cannot be read: {failure.strerror}", "Check its name and its permissions.")]
        ) from None
    except ValueError:  # a NUL in the name
        raise UserError([Problem(shown, "is no name of a file", "Check the name.")]) from None
    size = max(status.st_size, len(data))
    if size > most_bytes:
        where = shown if re.search(r":\d+$", shown) else f"{shown}:1"
        raise UserError(
            [Problem(where, f"is {size:,} bytes, more than the {most_bytes:,} allowed", "Is this the right file?")]
        )
    return data


def leads_out(path: Path, folder: Path) -> bool:
    """Whether a file of a folder is a link to something outside of it, or to nothing."""
    try:
        return path.is_symlink() and path.resolve(strict=True).parent != folder.resolve(strict=True)
    except (OSError, RuntimeError):  # a link that leads nowhere, or to itself
        return True


def decoded(data: bytes, shown: str) -> str:
    """Text from bytes; a byte that is not UTF-8, or a character that is no text, is a problem with its line."""
    encoding = "utf-16" if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)) else "utf-8-sig"
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as failure:
        line = data[: failure.start].count(b"\n") + 1
        raise UserError(
            [
                Problem(
                    f"{shown}:{line}",
                    f"holds a byte that is not {encoding.removesuffix('-sig').upper()}",
                    "Save the file as UTF-8 text.",
                )
            ]
        ) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if bad := _REFUSED.search(text):
        line = text.count("\n", 0, bad.start()) + 1
        refusal = "is not a text file" if bad.group() == "\0" else refused_character(bad.group())
        raise UserError([Problem(f"{shown}:{line}", refusal, "Save it as UTF-8 text." if bad.group() == "\0" else "")])
    return text
