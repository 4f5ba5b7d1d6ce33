"""Tables of the program's own TOML as Python, made once when the package is built, so that no start reads them anew.

They stand in the package, in compiled/tables.py, and a run writes none. Each is known by the digest of its text, so a
text that was changed since, and any that is not the program's own, is read as TOML.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from hashlib import sha256
from importlib.machinery import SourceFileLoader
from typing import Any

import tomli

from docgen.resources import folder

FILE = "tables.py"


def shipped(text: str) -> dict[str, Any] | None:
    """The tables of a text that the package was built with, made anew; None for any other text."""
    build = _compiled().get(_digest(text))
    return build() if build else None


def tables_of(text: str) -> dict[str, Any]:
    """The tables of a text of the program's own."""
    tables = shipped(text)
    return tomli.loads(text) if tables is None else tables


def python_of(texts: Iterable[str]) -> str:
    """Python that holds the tables of these texts."""
    entries = (f"    {_digest(text)!r}: lambda: {tomli.loads(text)!r},\n" for text in dict.fromkeys(texts))
    return f"import datetime\nfrom math import inf\n\nTABLES = {{\n{''.join(entries)}}}\n"


@cache
def _compiled() -> Mapping[str, Callable[[], dict[str, Any]]]:
    file = folder("compiled") / FILE
    if not file.is_file():  # in a checkout
        return {}
    code = SourceFileLoader(file.stem, str(file)).get_code(file.stem)
    namespace: dict[str, Any] = {}
    exec(code or "", namespace)
    tables: Mapping[str, Callable[[], dict[str, Any]]] = namespace["TABLES"]
    return tables


def _digest(text: str) -> str:
    return sha256(text.encode()).hexdigest()
