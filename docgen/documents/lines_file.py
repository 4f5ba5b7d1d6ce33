"""The lines of the order as a file of comma-separated values, for entry by hand or import: one row a line.

Each row can be taken in by itself: it says whose it is, of which order, and has a key that no other row has. Nothing
in it can run as a formula in a spreadsheet: a cell that would begin one begins with an apostrophe instead (OWASP, CSV
Injection). Commas, quotes and line ends are as in RFC 4180. It is UTF-8 without a mark at its head: the mark would
become part of the first heading for a program that reads it strictly, and the key of each row would be lost, while a
spreadsheet that takes the file for another encoding shows a name with a wrong letter, which is seen.

An empty cell has one meaning, that the supplier fills it in; what nobody has recorded, and what a row cannot have, is
told in words.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from functools import reduce
from typing import Any

from docgen.case.nobody.birth import YearOnly
from docgen.case.privacy import Privacy
from docgen.documents.asks import asks_of_parts
from docgen.documents.beside_lines import EXTERNAL, beside_lines, delivered_to, sized
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
    "prescriber_credential": ("practitioner", "credential"),
    "prescriber_phone": ("practitioner", "phone"),
    "supplier": ("supplier", "organisation"),
    "contact": ("supplier", "name"),
    "contact_number": ("supplier", "license"),
    "supplier_phone": ("supplier", "phone"),
    "therapist": ("evaluator", "name"),
    "therapist_phone": ("evaluator", "phone"),
    "street": ("delivery", "street"),
    "city": ("delivery", "city"),
    "state_of": ("delivery", "state"),
    "postal_code": ("delivery", "postal_code"),
    "deliver_to": ("delivery", "place"),
    "received_on": ("order", "received_on"),
    "supplier_assessed_on": ("dates", "supplier_assessed_on"),
    "home_visit_on": ("dates", "home_visit_on"),
    "base_looked_up_on": ("order", "base_looked_up_on"),
    "encounter_on": ("dates", "encounter_on"),
    "evaluated_on": ("dates", "evaluated_on"),
    "accepted_on": ("dates", "accepted_on"),
    "height_mm": ("client", "height_mm"),
    "weight_kg": ("client", "weight_kg"),
    "seat_width_mm": ("configuration.chair", "seat_width_mm"),
    "seat_depth_mm": ("configuration.chair", "seat_depth_mm"),
    "back_height_mm": ("configuration.chair", "back_height_mm"),
    "leg_mm": ("configuration.chair", "leg_mm"),
    "growth": ("request", "growth"),
    "authorization": ("authorization", "tracking"),
    "authorization_is": ("authorized", "says"),
    "state": ("authorized", "state"),
    "waits": ("authorized", "waits"),
    "asked_on": ("authorized", "asked_on"),
    "decided_on": ("authorized", "decided_on"),
    "payer_says_of_all": ("request", "payer_says"),
    "payer_phone": ("request", "payer_phone"),
    "route": ("request", "route"),
}
_NEVER_RECORDED = ("payer_id", "npi")  # no case holds them: an import must know that they are to be asked for
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
_BESIDE = ("must_do", "comes_with", "fitted", "goes_with")
_SUPPLIERS = ("manufacturer", "model", "part_number")  # left empty for the supplier, as modifiers are
_CODES = re.compile(r"[A-Z][0-9A-Z]{2}(?:\.[0-9A-Z]{1,4})?")  # of diagnoses, where a line answers more than one
_BEGINS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%", "＝", "＋", "－", "＠")


def lines_of_order(
    tables: Mapping[str, Any],
    shown: tuple[Mapping[str, tuple[str, ...]], Collection[Privacy]],
    words: Words,
    status: str,
    day: date | None,
) -> bytes:
    """The file of one order.

    tables  every table that a document could be shown
    shown   tables and keys that the order shows, and the classes of privacy of its reader: the file tells no more
    status  as in `lines_file`
    day     that of the order, as its pages have it
    """
    shows, may_see = shown
    heads: Mapping[str, str] = words["lines_file"]
    whole = order_told(tables, shows, may_see, day, words) | {"standard_parts": parts_told(tables, shows, words)}
    whole |= base_told(tables, shows, words) | ask_told(tables, shows, day, words)
    if whole.get("deliver_to"):
        whole["deliver_to"] = delivered_to(whole["deliver_to"], tables, shows, words)
    lines = sized(tables["order_lines"], tables, shows, words)
    if whole.get("payer_says_of_all"):
        of_all = dict.fromkeys(("payer_says", "payer_said_on"), heads["as_of_all"])
        lines = [line if line["payer_says"] else line | of_all for line in lines]
    return lines_file(lines, shows["order_lines"], words, status, whole, beside_lines(tables, shows, words))


def order_told(
    tables: Mapping[str, Any],
    shows: Mapping[str, tuple[str, ...]],
    may_see: Collection[Privacy],
    day: date | None,
    words: Words,
) -> dict[str, Any]:
    """What each row says of the whole order: heading of its column -> value, None where nobody has recorded it, empty
    where there is nothing to record.

    tables   every table that a document could be shown
    shows    tables and keys that the order shows, and `may_see` the classes of privacy of its reader: the file tells
             no more
    day      that of the order, as its pages have it
    words    words of the documents
    """
    recorded = _recorded_of_order(tables, shows, may_see)
    if "recorded_on" in recorded:
        recorded["recorded_on"] = day
    if recorded.get("state") == "not_needed":  # nothing was asked for and nothing decided, and it has no number
        recorded |= {name: recorded[name] or "" for name in ("authorization", "asked_on") if name in recorded}
        recorded |= {"decided_on": ""} if "decided_on" in recorded else {}
    if recorded.get("route") and all(line["code"] for line in tables["order_lines"]):
        recorded["route"] = words["lines_file"]["no_exception"].format(route=recorded["route"])
    if recorded.get("state"):
        recorded["state"] = recorded["state"].replace("_", " ")
    if tables["who"]["adult"] and recorded.get("growth") is None and "growth" in recorded:
        recorded["growth"] = ""
    if "decided" not in shows.get("after_order", ()):
        return recorded
    return recorded | _come_since(recorded, tables["after_order"], words)


def _recorded_of_order(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], may_see: Collection[Privacy]
) -> dict[str, Any]:
    """Values of the whole order that it shows: heading of the column -> value, None where nobody has recorded it."""
    places = {name: place for name, place in _ORDER.items() if place[1] in shows.get(place[0], ())}
    wanted: dict[str, tuple[str, ...]] = {}
    for table, key in places.values():
        wanted[table] = (*wanted.get(table, ()), key)
    shown = project(tables, wanted, "{label}", may_see=may_see)
    values = {
        name: reduce(lambda part, of: part[of], table.split("."), shown)[key] for name, (table, key) in places.items()
    }
    return {name: None if isinstance(value, Gap) else value for name, value in values.items()}


def _come_since(recorded: Mapping[str, Any], after: Mapping[str, Any], words: Words) -> dict[str, str]:
    """What came after the order, and what its cells say in place of what waited for that: a delivery ends the waiting,
    a decision stands below what came since."""
    heads: Mapping[str, str] = words["lines_file"]
    cells = {"since": _since(after, words)}
    if after["delivered"] and "waits" in recorded:
        cells["waits"] = heads["waits_over"]
    if after["decided"] and recorded.get("decided_on", "") is None:
        cells["decided_on"] = heads["under_since"]
    return cells


def _since(after: Mapping[str, Any], words: Words) -> str:
    """What came after the order, each with its day where one is recorded."""
    heads: Mapping[str, str] = words["lines_file"]
    decision = words["decision"].get(after["decision"], "")
    days = {name: after[f"{name}_on"] for name in ("decided", "delivered") if after[name]}
    in_cells = {name: _in_cell(day, heads, {}) if day else "" for name, day in days.items()}
    sentences = "; ".join(
        " ".join(heads[f"since_was_{name}"].format(on=on, decision=decision).split()) for name, on in in_cells.items()
    )
    state = "since_delivered" if after["delivered"] else "since_decided" if after["decided"] else "since_nothing"
    return heads[state].format(days=sentences)


def parts_told(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> str:
    """The standard parts in one cell, each with where it comes from, what is particular about it and how it is mounted,
    as far as the order shows them."""
    if not {"part", "comes", "line", "says", "mounted", "set_at"} <= {*shows.get("standard_parts", ())}:
        return ""
    heads = words["lines_file"]
    answers = []
    for part in tables["standard_parts"]:
        comes = f"{heads['number'].lower()} {part['line']}" if part["line"] else part["comes"]
        sentences = [
            f"{part['part']}: {words['comes'].get(comes, comes or heads['not_recorded'])}",
            part["says"].rstrip("."),
        ]
        if part["is_headrest"] and comes == "with_base":
            sentences.append(words["base_asked"]["ask_headrest"].format(therapist=_therapist(tables, words)))
        if part["mounted"] != "":
            sentences.append(heads["mounted"].format(where=part["mounted"] or heads["not_recorded"]))
        if part["set_at"] != "":
            sentences.append(heads["set_at"].format(where=part["set_at"] or heads["not_recorded"]))
        answers.append(". ".join(filter(None, sentences)))
    if answers and tables["base_asked"]["has"]:
        answers.append(heads["switches_of_base"])
    if answers and "cushion" in shows.get("configuration.chair", ()) and tables["base_asked"]["has"]:
        chair = tables["configuration"].chair
        cushion = ". ".join(filter(None, (chair.cushion and chair.cushion.rstrip("."), chair.back_hung)))
        answers.append(
            words["base_asked"]["cushion"].format(says=cushion.rstrip(".") if cushion else heads["not_recorded"])
        )
        if "chair_now_seat" in shows.get("request", ()) and (seat := tables["request"].chair_now_seat):
            answers.append(words["base_asked"]["old_chair"].format(says=seat.rstrip(".")))
    return " | ".join(answers)  # what a part says has semicolons of its own


def base_told(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> dict[str, str]:
    """What the base must have, with the room that it has, and every diagnosis of the order, as far as the order shows
    them."""
    values, wording = {}, words["base_asked"]
    if "has" in shows.get("base_asked", ()):
        has = [*tables["base_asked"]["has"]]
        parts = tables["standard_parts"] if "part" in shows.get("standard_parts", ()) else ()
        brought = [part["part"] for part in parts if part["comes"] == "with_base" and not part["line"]]
        others = [part for part in brought if part and not any(named.startswith(part) for named in has)]
        standard = [wording["standard"].format(parts=", ".join(others))] if has and others else []
        details = tables["configuration"].chair.details if "details" in shows.get("configuration.chair", ()) else None
        besides = [details.rstrip(".")] if has and details else []
        room = _room_of_base(tables, shows, wording) if has else ()
        values["base_has"] = "; ".join([*has, *standard, *besides, *room])
    if "code" in shows.get("diagnoses", ()):
        values["all_diagnoses"] = "; ".join(diagnosis.code for diagnosis in tables["diagnoses"] if diagnosis.code)
    return values


def _room_of_base(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], wording: Mapping[str, str]
) -> Iterator[str]:
    """How large the base may be, what it climbs and for which slope it is rated, as far as the order shows it."""
    shown, chair = shows.get("configuration.chair", ()), tables["configuration"].chair
    sizes = [getattr(chair, name) for name in ("width_mm", "length_mm", "turning_mm") if name in shown]
    if len(sizes) == 3 and None not in sizes:
        yield wording["no_larger"].format(sizes=" x ".join(f"{size:g}" for size in sizes))
    if "climbs_mm" in shown and chair.climbs_mm is not None:
        yield wording["climbs"].format(mm=f"{chair.climbs_mm:g}")
    percents = [slope["percent"] for slope in tables["slopes"] if slope["percent"] is not None]
    if percents and "percent" in shows.get("slopes", ()):
        yield wording["rated"].format(percent=f"{max(percents):g}")


def ask_told(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], day: date | None, words: Words
) -> dict[str, str]:
    """What no row tells and whom to ask for it, in the words of the order and as far as it names them. The order tells
    what was open on its day; of a chair that was delivered since, the cell says so first."""
    if not {"name", "phone"} <= {*shows.get("evaluator", ())} & {*shows.get("practitioner", ())}:
        return {}
    practitioner, wording = tables["practitioner"], words["base_asked"]
    who = {
        "therapist": _therapist(tables, words),
        "practitioner": getattr(practitioner, "name", None) or wording["the_practitioner"],
    }
    after, rooms = tables["after_order"], tables["client"].not_measured
    who |= {
        "rooms": ", ".join(rooms) if "not_measured" in shows.get("client", ()) else "",
        "day": day.isoformat() if day else words["lines_file"]["not_recorded"],
    }
    orders_base = bool(tables["base_asked"]["has"]) and tables["request"].kind != "control_only"
    asks = [*(["ask_as_of"] if after["delivered"] else []), "ask_office", "ask_hour"]
    asks += ["ask_lacking"] if tables["base_asked"]["has"] else []
    asks += ["ask_base"] if orders_base and not tables["configuration"].chair.details else []
    asks += ["ask_rooms"] if tables["base_asked"]["has"] and who["rooms"] else []
    asks += ["ask_force"] if any(item["tried"] for item in tables["items"]) else []
    asks += ["ask_leads"] if tables["ordered"]["unlined"] else []
    if any(feature["id"] == EXTERNAL for feature in tables["features"]):
        asks.append("ask_make" if tables["configuration"].external_jacks else "ask_device")
    of_office_and_base = [wording[ask].format(**who) for ask in asks]
    return {"to_ask": " | ".join([*of_office_and_base, *asks_of_parts(tables, shows, who["therapist"], words)])}


def _therapist(tables: Mapping[str, Any], words: Words) -> str:
    return getattr(tables["evaluator"], "name", None) or str(words["base_asked"]["the_therapist"])


def lines_file(
    rows: Sequence[Mapping[str, Any]],
    may_show: Collection[str],
    words: Words,
    status: str,
    of_order: Mapping[str, Any] | None = None,
    beside: Mapping[str, Mapping[str, str | None]] | None = None,
) -> bytes:
    """The file, its heads in the words of the documents.

    rows      the lines, see `lines.order_lines`
    may_show  keys of a line that the order itself shows: the file tells no more
    status    what every page says about the state of the packet; it stands in each row, for a row travels alone
    of_order  what every row says of the whole order, see `order_told`
    beside    what else is told of the line of a code, see `beside_lines`
    """
    heads: Mapping[str, str] = words["lines_file"]
    short_forms: Mapping[str, str] = words["short_forms"]
    keys = [key for key in _KEYS if key in may_show]
    whole = dict(of_order or {})
    if whole:
        whole |= dict.fromkeys(_NEVER_RECORDED) | {"n_lines": len(rows)}
    released = status.startswith(words["reviewed"].partition("{")[0])
    keyed = {"number"} <= {*keys} and {"member_id", "ordered_on"} <= whole.keys()
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    columns = [*(["key"] if keyed else []), *whole, *(head for key in keys for head in _columns(key))]
    columns += [*(_BESIDE if beside is not None else ()), *_SUPPLIERS, "draft", "status"]
    writer.writerow([_headed(column, heads) for column in columns])
    for row in rows:
        cells = [_in_cell(value, heads, short_forms) for value in whole.values()]
        cells += [cell for key in keys for cell in _cells(key, row, heads, short_forms)]
        if beside is not None:
            beside_it = beside.get(row["code"] or "", {})
            cells += [_in_cell(beside_it.get(name, ""), heads, short_forms) for name in _BESIDE]
        key = [_key_of(row, whole, heads)] if keyed else []
        last = [heads["no" if released else "yes"], harmless(status)]
        writer.writerow([*key, *cells, *[""] * len(_SUPPLIERS), *last])
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
        no_more = heads["not_applicable"] if of_line else ""  # none recorded: all are for the supplier
        yield from (harmless(of_line[at]) if at < len(of_line) else no_more for at in range(_N_MODIFIERS))
    elif key == "name" and value:
        yield _in_cell(f"{value[:1].upper()}{value[1:]}", heads, short_forms)
    elif key == "diagnoses" and value:
        yield _in_cell("; ".join(_CODES.findall(value)) or value, heads, short_forms)
    elif key == "code" and row.get("without_code"):
        yield heads["no_code"]
    elif key == "described" and value:
        yield _in_cell(f"{value}{row.get('seated_by', '')}", heads, short_forms)
    else:
        yield _in_cell(value, heads, short_forms)


def _in_cell(value: Any, heads: Mapping[str, str], short_forms: Mapping[str, str]) -> str:
    if value is None or value == "":
        return heads["not_recorded" if value is None else "not_applicable"]
    if isinstance(value, bool):
        return heads["yes" if value else "no"]
    if isinstance(value, float):
        value = f"{value:g}"
    if isinstance(value, YearOnly):  # of a copy about nobody
        return "" if value.oldest else str(value.year)
    return harmless(value.isoformat() if isinstance(value, date) else in_full(str(value), short_forms))
