"""Which form of a word goes with a number of things, by the rule of a language as GNU gettext writes it."""

from __future__ import annotations

import re
from collections.abc import Callable


def plural_rule(written: str) -> Callable[[float], int]:
    """Number of things -> place of its form; `written` as in the head of a PO file ("nplurals=2; plural=(n != 1);").

    English where there is none. What is no whole number takes the last form, as most languages have it.
    Raises ValueError for a rule that cannot be read.
    """
    if not written:
        return lambda count: 0 if count == 1 else 1
    from gettext import c2py

    rule = re.fullmatch(r"\s*nplurals\s*=\s*(\d+)\s*;\s*plural\s*=\s*(.+?)\s*;?\s*", written)
    if rule is None:
        raise ValueError(f"'{written}' is no rule of gettext for a number of things")
    last, of_whole = int(rule[1]) - 1, c2py(rule[2])
    return lambda count: int(of_whole(int(count))) if float(count).is_integer() else last
