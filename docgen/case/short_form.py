"""The short forms of a case -> the form its model reads: what stands once is written out where it is meant.

Nothing is added that does not stand in the case, but the name of a procedure code, which a published list gives.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any, get_args

from docgen.case.awaited import Awaited
from docgen.case.base import Part, fields_of, parts_in
from docgen.case.lists import entries_in, is_list
from docgen.case.named_otherwise import with_ids
from docgen.case.names_that_say import said_by_role

_OF_VISIT = ("on", "by")
DAY_OF_VISIT = {"encounter": "encounter_on", "home": "home_visit_on"}  # visits whose name says which day theirs is
ASKED: tuple[str, ...] = get_args(Awaited.model_fields["of"].annotation)  # who answers an open question
KIND_NAMES = {
    "cane_or_walker": "a cane or a walker",
    "manual_chair": "a manual wheelchair",
    "scooter": "a scooter",
    "stick_by_hand": "a hand-operated standard joystick",
    "stick_by_chin": "a chin-operated standard joystick",
    "mini_stick": "a mini joystick",
    "breath_control": "a sip-and-puff control",
    "head_control": "a head control",
    "foot_control": "a foot control",
    "finger_switches": "finger switches",
}

_TOUCHES = "it touches the body at rest"


def written_out(raw: Mapping[str, Any], model: type[Part]) -> dict[str, Any]:
    """The data of a case without short forms; what has another form than it should is left as it is.

    - an entry that names a `visit` has its day and who made it, where it has none of its own
    - the visit named `encounter` gives the day of the encounter, how, and who held it: the practitioner, where nobody
      else is named and the case has one alone; the one named `home` that of the home visit
    - an open question whose key is whoever answers it, `ride = { supplier = "..." }`, is a question of theirs
    - a line of the order that is a code alone has the code's name, and its id
    - a person whose role is a word for one, `role = "therapist"`, has the role and the relation that it says
    - a person without an id, who alone has a role, has the role as id
    - someone named by the role that they alone have is named by their id; a line of the order that a part names by its
      code too
    - a device of a usual kind without a name has the name of its kind; one tried that no method of the trial calls a
      standard joystick is a joystick
    - how the driver stops, where it is a thing, `driver = "a soft sip"`, is that the driver uses it
    - a record of which only the year is known, `on = 2015`, has that year
    - a part without a size in words has its sides, or how far across it is; one that touches the body has no gap
    """
    visits = {entry["id"]: entry for entry in entries_in(raw.get("visits")) if isinstance(entry.get("id"), str)}
    written = _with_days(_with_visits(raw, model, visits), visits)
    if is_list(written.get("awaited")):
        written["awaited"] = tuple(map(_question, written["awaited"]))
    configuration = written.get("configuration")
    if isinstance(configuration, Mapping):
        in_full = {"items": _line, "mounting": _mounted}
        lists = {
            key: tuple(map(full, configuration[key]))
            for key, full in in_full.items()
            if is_list(configuration.get(key))
        }
        written["configuration"] = {**configuration, **lists, **_with_verb(configuration)}
    if is_list(written.get("alternatives")):
        standard = _standard_sticks(written.get("trial"))
        written["alternatives"] = tuple(_with_name(device, standard) for device in written["alternatives"])
    if is_list(written.get("outside_records")):
        written["outside_records"] = tuple(map(_with_year, written["outside_records"]))
    if is_list(written.get("people")):
        written["people"] = _with_ids(tuple(map(_with_role, written["people"])))
    return with_ids(written, model)


def _with_visits(table: Mapping[str, Any], model: type[Part], visits: Mapping[str, Any]) -> dict[str, Any]:
    written, fields = dict(table), fields_of(model)
    for name, inner in parts_in(model).items() if visits else ():
        value = table.get(name)
        if isinstance(value, Mapping):
            written[name] = _with_visits(value, inner, visits)
        elif is_list(value) and isinstance(value, Sequence):
            written[name] = tuple(
                _with_visits(entry, inner, visits) if isinstance(entry, Mapping) else entry for entry in value
            )
    name_of_visit = table.get("visit")
    visit = visits.get(name_of_visit, {}) if "visit" in fields and isinstance(name_of_visit, str) else {}
    for key in _OF_VISIT:
        if key in fields and visit.get(key) is not None:
            written.setdefault(key, visit[key])
    return written


def _with_days(raw: dict[str, Any], visits: Mapping[str, Any]) -> dict[str, Any]:
    """The case with the days that the names of its visits say, where it does not give them itself."""
    days = {key: visits[name]["on"] for name, key in DAY_OF_VISIT.items() if visits.get(name, {}).get("on")}
    of_encounter = {key: value for key in ("by", "mode") if (value := visits.get("encounter", {}).get(key))}
    written = dict(raw)
    for table, given in (("dates", days), ("encounter", of_encounter)):
        stands = raw.get(table, {})
        if given and isinstance(stands, Mapping):
            written[table] = {**given, **stands}
    return written


def _question(awaited: Any) -> Any:
    """What somebody has still to answer, whose words may stand under the name of whoever answers."""
    asked = [of for of in ASKED if of in awaited] if isinstance(awaited, Mapping) else []
    if len(asked) != 1 or {"what", "of"} & awaited.keys():
        return awaited
    rest = {key: value for key, value in awaited.items() if key != asked[0]}
    return {"what": awaited[asked[0]], "of": asked[0], **rest}


def _line(item: Any) -> Any:
    """A line of the order, which may be its code alone."""
    line = {"code": item} if isinstance(item, str) else item
    code = line.get("code") if isinstance(line, Mapping) else None
    if not isinstance(code, str) or ("name" in line and "id" in line):
        return line
    from docgen.codes.hcpcs import code as known_code  # read only where a line leaves its name out

    known = known_code(code)
    return {"id": code.lower(), **({"name": known.words.partition(";")[0]} if known else {}), **line}


def _with_name(device: Any, standard: Mapping[str, bool]) -> Any:
    """The device with the name of its kind; tried in the trial, it is a standard joystick only where that says so."""
    name = KIND_NAMES.get(str(device.get("kind"))) if isinstance(device, Mapping) else None
    if name and not standard.get(str(device.get("method")), True):
        name = name.replace("standard ", "")
    return {"name": name, **device} if name else device


def _standard_sticks(trial: Any) -> dict[str, bool]:
    """Whether each method of the trial is said to be a standard joystick."""
    methods = trial.get("methods") if isinstance(trial, Mapping) else None
    listed = [method for method in methods or () if isinstance(method, Mapping)] if is_list(methods) else []
    return {str(method.get("id")): method.get("standard_stick") is True for method in listed}


def _mounted(part: Any) -> Any:
    return _without_gap(_with_size(part))


def _without_gap(part: Any) -> Any:
    """A part of the mounting record; where it touches the body at rest, a gap and its range do not apply."""
    if not isinstance(part, Mapping) or part.get("touches") is not True or part.get("gap_mm"):
        return part
    stated = part.get("not_applicable", ())
    if not is_list(stated):
        return part
    of_gap = ("gap_mm", "allowed") if "gap_mm" not in part else ("allowed",)
    more = tuple({"of": of, "because": _TOUCHES} for of in of_gap if not _has_none(part, of))
    return {**part, "not_applicable": (*stated, *more)}


def _with_size(part: Any) -> Any:
    """A part of the mounting record; its size in words is its two sides, or how far across it is."""
    if not isinstance(part, Mapping) or "size_mm" in part:
        return part
    wide, tall = part.get("wide_mm"), part.get("tall_mm")
    if not isinstance(wide, (int, float)) or _has_none(part, "size_mm"):
        return part
    if part.get("shape") == "round":
        return {**part, "size_mm": f"{wide:g} across"}
    return {**part, "size_mm": f"{wide:g} x {tall:g}"} if isinstance(tall, (int, float)) else part


def _has_none(part: Mapping[str, Any], key: str) -> bool:
    return any(entry.get("of") == key for entry in entries_in(part.get("not_applicable")))


def _with_verb(configuration: Mapping[str, Any]) -> dict[str, Any]:
    """How the driver stops, which pages read after the name: what begins as a thing is what the driver uses."""
    stop = configuration.get("stop")
    driver = stop.get("driver") if isinstance(stop, Mapping) else None
    if not isinstance(stop, Mapping) or not isinstance(driver, str) or not re.match(r"(?:an?|the) ", driver, re.I):
        return {}
    return {"stop": {**stop, "driver": f"uses {driver[:1].lower()}{driver[1:]}"}}


def _with_year(record: Any) -> Any:
    """A record from outside, whose day may be a year alone."""
    on = record.get("on") if isinstance(record, Mapping) else None
    if isinstance(on, bool) or not re.fullmatch(r"\d{4}", str(on)):
        return record
    return {"year": int(str(on)), **{key: value for key, value in record.items() if key != "on"}}


def _with_role(person: Any) -> Any:
    says = said_by_role(person.get("role")) if isinstance(person, Mapping) else {}
    return {**says, **person, "role": says["role"]} if says else person


def _with_ids(people: Sequence[Any]) -> tuple[Any, ...]:
    roles = Counter(person["role"] for person in entries_in(people) if isinstance(person.get("role"), str))
    taken = [person.get("id") for person in entries_in(people)]
    alone = {role for role, n in roles.items() if n == 1 and role not in taken}

    def with_id(person: Any) -> Any:
        role = person.get("role") if isinstance(person, Mapping) and "id" not in person else None
        return {"id": role, **person} if isinstance(role, str) and role in alone else person

    return tuple(map(with_id, people))
