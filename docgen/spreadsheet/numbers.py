"""Numbers and yes or no as people write them: decimal marks, units behind the number, words of four languages."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Literal

from docgen.case.namesakes import letters_and_digits
from docgen.spreadsheet.headings import UNIT_OF

Mark = Literal["point", "comma"]
_NUMBER = re.compile(r"([+-]?\d[\d.,' \u2019]*)\s*([^\d\s.,]\S*)?$")
_YES = frozenset(
    "yes y true ok pass passed done success successful ja j oui vrai si verdadero reussi geschafft".split()
)
_NO = frozenset("no n not false fail failed nein non faux falso echec".split())
_NO_EVENT = frozenset(("nothing", "nobody", "not ill", "nichts", "rien", "nada"))
_TICKS, _CROSSES = frozenset("\u2713\u2714\u2705\u2611"), frozenset("\u2717\u2718\u2716\u274c")


def mark_of(texts: Iterable[str]) -> tuple[Mark | None, bool]:
    """The decimal mark that the numbers of a sheet show, and whether a number stands there that could have either.

    Raises ValueError where one number shows a comma and another a point.
    """
    shown: set[Mark] = set()
    open_ = False
    for text in texts:
        match = _NUMBER.match(text.strip())
        if not match:
            continue
        digits = match.group(1).strip()
        points, commas = digits.count("."), digits.count(",")
        if points and commas:
            shown.add("comma" if digits.rfind(",") > digits.rfind(".") else "point")
        elif points + commas == 1:
            sign: Mark = "point" if points else "comma"
            whole, _, behind = digits.replace(",", ".").partition(".")
            if len(behind) == 3 and 1 <= len(whole.lstrip("+-")) <= 3 and whole.lstrip("+-") != "0":
                open_ = True  # 1.234 is a thousand and more, or one and a bit
            else:
                shown.add(sign)
        elif points + commas > 1:
            shown.add("comma" if points else "point")  # the other sign parts thousands
    if len(shown) > 1:
        raise ValueError("some numbers have a decimal comma and others a decimal point")
    return (next(iter(shown)) if shown else None), open_


def number(text: str, mark: Mark | None) -> tuple[float, str] | None:
    """A number and the unit behind it ("" for none); None where the text is no number."""
    match = _NUMBER.match(text.strip())
    if not match:
        return None
    digits, behind = match.group(1).strip(), (match.group(2) or "").strip().rstrip(".").casefold()
    if behind and behind not in UNIT_OF:
        return None
    decimal = {"comma": ",", "point": "."}.get(mark or "point", ".")
    thousands = "." if decimal == "," else ","
    digits = re.sub(r"(?<=\d)[' \u2019](?=\d{3}\b)", "", digits)
    digits = re.sub(rf"(?<=\d){re.escape(thousands)}(?=\d{{3}}(?!\d))", "", digits)
    if thousands in digits:
        return None
    try:
        return float(digits.replace(decimal, ".")), UNIT_OF.get(behind, "")
    except ValueError:
        return None


def yes_or_no(text: str) -> bool | None:
    """What a word says; None for one that says neither, such as an x, which some write for done and some for not."""
    if text.strip() in _TICKS | _CROSSES:
        return text.strip() in _TICKS
    if "?" in text:
        return None
    words = " ".join(letters_and_digits(text))
    if words in ("1", "1 0") or words in _YES:
        return True
    return False if words in ("0", "0 0") or words in _NO else None


def no_event(text: str) -> bool:
    """Whether a cell for something that happened says that it did not."""
    return yes_or_no(text) is False or text.strip().rstrip(".").casefold() in _NO_EVENT
