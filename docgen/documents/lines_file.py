"""The lines of the order as a file of comma-separated values, for entry by hand or import: one row a line.

Each row can be taken in by itself: it says whose it is, of which order, and has a key that no other row has. Nothing
in it can run as a formula in a spreadsheet: a cell that would begin one begins with an apostrophe instead (OWASP, CSV
Injection). Commas, quotes and line ends are as in RFC 4180. It is UTF-8 without a mark at its head: the mark would
become part of the first heading for a program that reads it strictly, and the key of each row would be lost, while a
spreadsheet that takes the file for another encoding shows a name with a wrong letter, which is seen.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from docgen.case.nobody.birth import YearOnly
from docgen.case.privacy import Privacy
from docgen.documents.phrase import Words
from docgen.documents.view import project
from docgen.documents.written_out import in_full
from docgen.rendering.template import Gap

# heading of the column -> table and key of the documents; the same in every row
_ORDER: dict[str, tuple[str, str]] = {
    "client": ("client", "name"),
    "born_on": ("client", "born_on"),
    "member_id": ("client", "member_id"),
    "payer": ("request", "payer_name"),
    "ordered_on": ("dates", "ordered_on"),
    "recorded_on": ("dates", "written_on"),
    "prescriber": ("practitioner", "name"),
    "supplier": ("supplier", "organisation"),
    "contact": ("supplier", "name"),
    "authorization": ("authorization", "tracking"),
    "authorization_is": ("authorization", "needed"),
    "payer_says_of_all": ("request", "payer_says"),
}
_KEYS = (
    "number",
    "code",
    "name",
    "described",
    "size_mm",
    "quantity",
    "unit",
    "modifiers",
    "billed",
    "diagnoses",
    "months",
    "why",
    "payer_says",
    "payer_said_on",
)
_N_MODIFIERS = 4  # places for modifiers of a claim line; CMS-1500 form, from memory
_SUPPLIERS = ("manufacturer", "model", "part_number")  # left empty for the supplier
_MAY_BE_EMPTY = frozenset(
    {"described", "size_mm", "payer_says", "payer_said_on", "authorization", "payer_says_of_all", "supplier", "contact"}
)
_BEGINS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%", "＝", "＋", "－", "＠")


def order_told(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], may_see: Collection[Privacy], day: date | None
) -> dict[str, Any]:
    """What each row says of the whole order: heading of its column -> value, None where nobody has recorded it.

    tables   every table that a document could be shown
    shows    tables and keys that the order shows, and `may_see` the classes of privacy of its reader: the file tells
             no more
    day      that of the order, as its pages have it
    """
    places = {name: place for name, place in _ORDER.items() if place[1] in shows.get(place[0], ())}
    wanted: dict[str, tuple[str, ...]] = {}
    for table, key in places.values():
        wanted[table] = (*wanted.get(table, ()), key)
    shown = project(tables, wanted, "{label}", may_see=may_see)
    values = {name: shown[table][key] for name, (table, key) in places.items()}
    recorded = {name: None if isinstance(value, Gap) else value for name, value in values.items()}
    if "authorization_is" in recorded:
        recorded["authorization_is"] = _authorized(tables, shows, may_see)
    return recorded | ({"recorded_on": day} if "recorded_on" in recorded else {})


def _authorized(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], may_see: Collection[Privacy]
) -> str | None:
    """Where prior authorization stands, as the id of a word; None where it is not recorded."""
    shown = project(tables, {"authorization": shows["authorization"]}, "{label}", may_see=may_see)["authorization"]
    if "decision" in shown and not isinstance(shown["decision"], Gap) and shown["decision"]:
        return str(shown["decision"])
    if "requested_on" in shown and not isinstance(shown["requested_on"], Gap) and shown["requested_on"]:
        return "requested"
    return {True: "needed", False: "not_needed"}.get(shown["needed"]) if isinstance(shown["needed"], bool) else None


def lines_file(
    rows: Sequence[Mapping[str, Any]],
    may_show: Collection[str],
    words: Words,
    status: str,
    of_order: Mapping[str, Any] | None = None,
) -> bytes:
    """The file, its heads in the words of the documents.

    rows      the lines, see `lines.order_lines`
    may_show  keys of a line that the order itself shows: the file tells no more
    status    what every page says about the state of the packet; it stands in each row, for a row travels alone
    of_order  what every row says of the whole order, see `order_told`
    """
    heads: Mapping[str, str] = words["lines_file"]
    short_forms: Mapping[str, str] = words["short_forms"]
    keys = [key for key in _KEYS if key in may_show]
    whole = dict(of_order or {})
    if state := whole.get("authorization_is"):
        whole["authorization_is"] = {**words["decision"], **heads}[state]
    keyed = {"number"} <= {*keys} and {"member_id", "ordered_on"} <= whole.keys()
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    columns = [*(["key"] if keyed else []), *whole, *(head for key in keys for head in _columns(key)), *_SUPPLIERS]
    writer.writerow([*(_headed(column, heads) for column in columns), heads["status"]])
    for row in rows:
        cells = [_in_cell(name, value, heads, short_forms) for name, value in whole.items()]
        cells += [cell for key in keys for cell in _cells(key, row, heads, short_forms)]
        key = [_key_of(row, whole, heads)] if keyed else []
        writer.writerow([*key, *cells, *[""] * len(_SUPPLIERS), harmless(status)])
    return text.getvalue().encode()


def harmless(value: str) -> str:
    """The text on one line, and as text where a spreadsheet would take it for a formula."""
    begins = value.startswith(_BEGINS_FORMULA) or value.strip().startswith(_BEGINS_FORMULA)
    folded = " ".join(value.split())
    return f"'{folded}" if begins else folded


def _columns(key: str) -> Iterator[str]:
    if key != "modifiers":
        yield key
        return
    yield from (f"modifiers {at}" for at in range(1, _N_MODIFIERS + 1))


def _headed(column: str, heads: Mapping[str, str]) -> str:
    name, _, at = column.partition(" ")
    return f"{heads[name]} {at}".rstrip()


def _key_of(row: Mapping[str, Any], whole: Mapping[str, Any], heads: Mapping[str, str]) -> str:
    """Member, day of the order and line; told as not recorded where one of the first two is lacking, for a part of a
    key would not be the only one of its kind."""
    member, ordered_on = whole["member_id"], whole["ordered_on"]
    if not member or not isinstance(ordered_on, date):
        return heads["not_recorded"]
    return harmless(f"{member}-{ordered_on.isoformat()}-{row['number']}")


def _cells(key: str, row: Mapping[str, Any], heads: Mapping[str, str], short_forms: Mapping[str, str]) -> Iterator[str]:
    value = row[key]
    if key == "modifiers":
        asked = str(value or "").replace(",", " ").split()
        last = " ".join(asked[_N_MODIFIERS - 1 :])  # none is lost where there are more
        of_line = [*asked[: _N_MODIFIERS - 1], *([last] if last else [])]
        yield from (harmless(of_line[at]) if at < len(of_line) else "" for at in range(_N_MODIFIERS))
    elif key == "code" and row.get("without_code"):
        yield heads["no_code"]
    else:
        yield _in_cell(key, value, heads, short_forms)


def _in_cell(key: str, value: Any, heads: Mapping[str, str], short_forms: Mapping[str, str]) -> str:
    if value is None or value == "":
        return "" if key in _MAY_BE_EMPTY or value == "" else heads["not_recorded"]
    if isinstance(value, YearOnly):  # of a copy about nobody
        return "" if value.oldest else str(value.year)
    return harmless(value.isoformat() if isinstance(value, date) else in_full(str(value), short_forms))
