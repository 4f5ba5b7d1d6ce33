"""The settings of the electronics as a technician enters them: what was measured, how, and what stays as delivered.
A row a setting, with the value of each profile in it; what does not apply stands apart, by its reason.

Speeds and the latch are those of the profiles, braking that of the chair; all others stand in
[[configuration.settings]]. The step of the programmer is never told: it is left to be written in beside the measured
value.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import groupby
from typing import TypedDict

from docgen.case.change import VALUE_OF
from docgen.case.model import Case
from docgen.case.profile import Profile, SetTo
from docgen.documents.made_from import made_from
from docgen.documents.measures import decimal, m_s
from docgen.documents.phrase import Words
from docgen.documents.settings_apply import LATCH, not_applicable, stays_unlatched
from docgen.fit.feature import features
from docgen.fit.settings import drive_settings

_SOURCES = made_from(
    "configuration.profiles",
    "configuration.settings",
    "configuration.chair.seat_actuators",
    "configuration.chair.base_code",
    "configuration.items.code",
    "configuration.chair.blends_commands",
    "configuration.commands",
    "configuration.starts_in",
)
MADE_FROM = {"parameters": _SOURCES, "to_enter": _SOURCES, "set_cautions": _SOURCES, "unused_parameters": _SOURCES}

_VALUES_APART = re.compile(r"; (?![^(]*\))")  # not inside brackets
_WAY_TO_STOP = re.compile(r"[\d.,]+ ?(m|cm|mm|ft|in|s)\b(?!/)")  # of braking: the shorter it is, the harder
# a figure of the programmer (percent, steps) has no side: on one device more of it is softer, on another harder
_MEASURED = re.compile(r"[\d.,]+ ?(m/s|m/s²|m/s2|km/h|mph|degrees/s|s|m|cm|mm|ft|in|degrees)(?![\w/²])")
_SECONDS = re.compile(r"[\d.,]+ ?s(?![\w/])")
_SOUND_ON = re.compile(r"on\b")  # the value of a sound is "on" or "off", with what is heard behind it
_FIGURE = re.compile(r"\d")  # "off" and "on" stand as they are
_HARDEST = frozenset({"deceleration"})  # at or above the value and yet not any: a stop can throw the driver forward
_TIMED = frozenset({"acceleration", "turn_acceleration", "turn_deceleration"})  # the side is that of seconds alone
_OF_PROFILES = LATCH | VALUE_OF.keys()


class Setting(TypedDict):
    """One setting of one profile, or of all.

    value   what was measured, with its unit, or in words that it stays as delivered or does not apply; None where
            nobody has said
    how     how it was measured, or why; None where that is not recorded
    passes  range in which a measurement passes; empty where the side of the value tells it, None where it has to be
            told and nobody has
    side    "less", "more" or empty, as in `DriveSetting.passes`
    """

    name: str
    profile: str
    value: str | None
    how: str | None
    passes: str | None
    side: str
    _labels: dict[str, str]


class ParameterRow(TypedDict):
    """One setting as the page has it.

    profiles  name of the profile of each value; empty for what holds in all of them
    set_to    one for each of these, or the one of all; None where nobody has said
    how       as in `Setting`
    """

    name: str
    profiles: tuple[str, ...]
    set_to: tuple[str | None, ...]
    how: str | None
    _labels: dict[str, str]


class EnteredRow(Setting):
    """One measured value of one setting in one profile, with a cell of its own for the programmer; as in `Setting`.

    side          mark before the value: at it or below, at it or above; empty where it is set as it stands
    as_delivered  whether nothing is set and what is delivered is written down
    """

    as_delivered: bool


class CautionRow(TypedDict):
    """What is told of a setting as a caution."""

    name: str
    says: str


class UnusedRow(TypedDict):
    """Settings that this control or chair cannot have, by the reason; `together` where they are a group with a name."""

    why: str
    names: tuple[str, ...]
    together: str


def parameters(case: Case, words: Words) -> Iterator[ParameterRow]:
    """What there is to enter: a row for each setting that applies; profiles told in the same way share one."""
    wording = words["parameter"]
    applying = (row for row in settings(case, words) if row["value"] != wording["not_applicable"])
    told_alike = groupby(applying, key=lambda row: (row["name"], row["how"], row["profile"] == wording["all"]))
    for (name, how, is_of_all), alike in told_alike:
        rows = [*alike]
        yield {
            "name": name,
            "profiles": () if is_of_all else tuple(row["profile"] for row in rows),
            "set_to": tuple(row["value"] for row in rows),
            "how": how,
            "_labels": {"set_to": rows[0]["_labels"]["value"], "how": rows[0]["_labels"]["how"]},
        }


def to_enter(case: Case, words: Words) -> Iterator[EnteredRow]:
    """What there is to enter, a row for each value: "10 s in drive; none in seat" are two."""
    wording = words["parameter"]
    before: tuple[str, str | None] = ("", None)
    for row in settings(case, words):
        if row["value"] == wording["not_applicable"]:
            continue
        for value, how, passes in _values(row):
            here = row["name"], how
            yield {
                "name": row["name"],
                "profile": row["profile"],
                "value": value,
                "how": wording["as_above"] if how and here == before else how,
                "passes": passes if value else "",
                "side": _sign(row, value, passes, words),
                "as_delivered": (value or "").startswith(wording["as_delivered"]),
                "_labels": row["_labels"],
            }
            before = here


def _names(settings_by_id: frozenset[str]) -> set[str]:
    return {drive_settings()[name].name for name in settings_by_id}


def _sign(row: Setting, value: str | None, passes: str | None, words: Words) -> str:
    """The mark before a value that may be lower, or higher; empty where a range tells it, or nothing measured stands
    there."""
    is_measured = not passes and _MEASURED.match(value or "") is not None
    if _WAY_TO_STOP.match(value or "") and row["name"] in _names(_HARDEST):
        is_measured = False  # a longer way to a stop is a softer brake
    if row["name"] in _names(_TIMED) and not _SECONDS.match(value or ""):
        is_measured = False
    return str(words["parameter"]["side"][row["side"]]) if row["side"] and is_measured else ""


def ordered_values(case: Case, name: str, words: Words) -> tuple[str, ...]:
    """What is entered of a setting by its name, each value with the mark that it has on the order."""
    ids = [id_ for id_, setting in drive_settings().items() if setting.name == name]
    entries = [entry for id_ in ids for entry in _entries(case, id_)]
    rows = [
        (value, _row(name, "", value, None, drive_settings()[entry.setting].passes), _passes(entry, entry.setting))
        for entry in entries
        if (value := _entered(entry, words))
    ]
    return tuple(f"{_sign(row, value, passes, words)}{value}" for value, row, passes in rows)


def _values(row: Setting) -> list[tuple[str | None, str | None, str | None]]:
    """The values of a setting apart, each with how it was measured, where as many ways are told as values, and where
    it is a figure with the range that passes: its own, where as many are told."""
    if not row["value"]:
        return [(row["value"], row["how"], row["passes"])]
    values, ways = _VALUES_APART.split(row["value"]), _VALUES_APART.split(row["how"] or "")
    apart = len(ways) == len(values) > 1
    ranges = _VALUES_APART.split(row["passes"] or "")
    ranged = len(ranges) == len(values) > 1
    return [
        (
            value,
            ways[at] if apart else row["how"],
            "" if not _FIGURE.search(value) else ranges[at] if ranged else row["passes"],
        )
        for at, value in enumerate(values)
    ]


def limits_of(case: Case, name: str, words: Words) -> tuple[str | None, ...]:
    """Values of a setting by its name, each with the range in which it passes and how it was measured: what a change
    must stay within. None for one whose range has to be told and is not."""
    wording = words["parameter"]
    ids = [id_ for id_, setting in drive_settings().items() if setting.name == name]
    rows = [row for id_ in ids for row in _of_setting(case, id_, words) if row["passes"] != ""]
    return tuple(
        wording["limit" if row["how"] else "limit_alone"].format(**row) if row["value"] and row["passes"] else None
        for row in rows
    )


def set_cautions(case: Case) -> Iterator[CautionRow]:
    """Each caution of a setting, in the order of the case."""
    for entry in case.configuration.settings:
        if entry.caution:
            yield {"name": drive_settings()[entry.setting].name, "says": entry.caution}


def unused_parameters(case: Case, words: Words) -> Iterator[UnusedRow]:
    """What does not apply here, each reason once."""
    of_reason: dict[str, list[str]] = {}
    for row in settings(case, words):
        if row["value"] == words["parameter"]["not_applicable"]:
            of_reason.setdefault(row["how"] or "", []).append(row["name"])
    for why, names in of_reason.items():
        is_of_no_seat = why == words["parameter"]["because"]["seat"]
        yield {
            "why": why,
            "names": tuple(names),
            "together": words["parameter"]["of_the_seat"] if is_of_no_seat else "",
        }


def settings(case: Case, words: Words) -> Iterator[Setting]:
    """Every setting there is, in the order they are looked at, what two pads at once do and what is on at power-on, and
    last the delay, which is measured and not set."""
    wording = words["parameter"]
    for name in drive_settings():
        yield from _of_setting(case, name, words)
    if any("pads" in features()[chosen.id].kinds for chosen in case.configuration.features):
        yield _two_pads(case, words)
    yield _power_on(case, words)
    delay = case.configuration.chair.electronics_delay_s
    value = None if delay is None else f"{decimal(f'{delay:g}', words)} s"
    how = case.configuration.chair.electronics_delay_how
    yield _row(wording["delay"], wording["all"], value, how and f"{how}; {wording['not_set']}", "less")


def _two_pads(case: Case, words: Words) -> Setting:
    """What a pad does that is reached while another is kept: it decides whether a head that rolls turns the chair."""
    wording, blends = words["parameter"], case.configuration.chair.blends_commands
    value = None if blends is None else wording["both_count" if blends else "first_counts"]
    return _row(wording["two_pads"], wording["all"], value, wording["as_tried"])


def _power_on(case: Case, words: Words) -> Setting:
    """Mode and profile at power-on; where a control has standby and wakes in drive, the therapist confirms that."""
    wording, asked = words["parameter"], case.configuration
    how = wording["power_on_confirmed" if asked.wakes_in_drive else "power_on_how"]
    return _row(wording["power_on"], wording["all"], asked.starts_in, how)


def _of_setting(case: Case, name: str, words: Words) -> Iterator[Setting]:
    """The rows of one setting by its id, and why where it does not apply."""
    shown, wording = drive_settings()[name].name, words["parameter"]
    if name == "reverse_speed" and case.configuration.backs is False:
        if case.configuration.has_reverse:  # not the driver, and somebody: off would take it from them
            yield _row(shown, wording["all"], None, wording["reverse_by_other"])
        else:
            yield _row(shown, wording["all"], wording["no_reverse"], wording["no_reverse_why"])
    elif name == "latch" and stays_unlatched(case):
        yield _row(shown, wording["all"], wording["off"], wording["unlatched_why"])
    elif why := not_applicable(case, name, words):
        yield _row(shown, wording["all"], wording["not_applicable"], why)
    elif name in _OF_PROFILES and case.configuration.profiles:
        yield from _of_each_profile(case, name, words)
    else:
        yield from _of_all_profiles(case, name, words)


def _of_each_profile(case: Case, name: str, words: Words) -> Iterator[Setting]:
    """A setting that profiles have: a row for each of them, or one for all where they are alike."""
    setting, entries, rows = drive_settings()[name].name, _entries(case, name), []
    side = drive_settings()[name].passes
    for profile in case.configuration.profiles:
        entry = next((e for e in entries if e.profile in (None, profile.id)), None)
        value = _entered(entry, words) or _of_profile(profile, name, words)
        rows.append(_row(setting, profile.name, value, _how(entry, words), side, _passes(entry, name)))
    alike = len({(row["value"], row["how"], row["passes"]) for row in rows}) == 1
    if alike:
        yield {**rows[0], "profile": words["parameter"]["all"]}
    else:
        yield from rows


def _of_all_profiles(case: Case, name: str, words: Words) -> Iterator[Setting]:
    """A setting as it is entered, or as it was measured on the chair."""
    setting, wording, measured = drive_settings()[name].name, words["parameter"], _of_chair(case, name, words)
    names = {profile.id: profile.name for profile in case.configuration.profiles}
    entries, side = _entries(case, name), drive_settings()[name].passes
    for entry in entries:
        value = _entered(entry, words) or measured
        of_profile = names.get(entry.profile or "", wording["all"])
        yield _row(setting, of_profile, value, _how(entry, words), side, _passes(entry, name))
    if not entries:
        how = wording["trial_chair"] if name == "deceleration" and measured is not None else None
        yield _row(setting, wording["all"], measured, how, side, _passes(None, name))


def _passes(entry: SetTo | None, name: str) -> str | None:
    recorded = entry.passes if entry else None
    return recorded or (None if name in _HARDEST else "")


def _entries(case: Case, name: str) -> list[SetTo]:
    return [entry for entry in case.configuration.settings if entry.setting == name]


def _row(
    name: str, profile: str, value: str | None, how: str | None, side: str = "", passes: str | None = ""
) -> Setting:
    labels = {
        "value": f"{name[:1].lower()}{name[1:]}",
        "how": "how it was measured",
        "passes": "the hardest that passes",
    }
    return {
        "name": name,
        "profile": profile,
        "value": value,
        "how": how,
        "passes": passes,
        "side": side,
        "_labels": labels,
    }


def _entered(entry: SetTo | None, words: Words) -> str | None:
    if entry is None:
        return None
    return entry.value or (str(words["parameter"]["as_delivered"]) if entry.as_delivered else None)


def _how(entry: SetTo | None, words: Words) -> str | None:
    """As recorded; of what stays as delivered, with the value of the trial chair."""
    wording = words["parameter"]
    if entry is None or entry.value or not entry.as_delivered:
        return _with_loudness(entry, wording) if entry else None
    of_trial = entry.on_trial_chair
    if of_trial:
        known: str = wording["trial_value"].format(value=of_trial)
        return f"{entry.how}; {known}" if entry.how else known
    return f"{entry.how or wording['delivered_why']}; {wording['no_trial_value']}"


def _with_loudness(entry: SetTo, wording: Mapping[str, str]) -> str | None:
    """How a setting was measured; of a sound that is on, who sets how loud it is, where the case does not say."""
    if entry.setting != "sound" or not _SOUND_ON.match((entry.value or "").lower()):
        return entry.how
    loudness = wording["loudness"].format(set=entry.loudness or wording["loudness_set"])
    return "; ".join(filter(None, (entry.how, loudness)))


def _of_chair(case: Case, name: str, words: Words) -> str | None:
    braking = case.configuration.chair.deceleration_m_s2
    if name != "deceleration" or braking is None:
        return None
    return f"{decimal(f'{braking:g}', words)} m/s²"  # the least that passes: in ft/s² it would have to go up


def _of_profile(profile: Profile, name: str, words: Words) -> str | None:
    """What a profile records of a setting, in words."""
    wording = words["parameter"]
    if name == "latch":
        return None if profile.latched is None else str(wording["on" if profile.latched else "off"])
    if name == "latch_timeout" and profile.latched is False:
        return str(wording["latch_stays_off"])
    value = getattr(profile, VALUE_OF[name])
    return None if value is None else in_words(name, value, words)


def in_words(name: str, value: float, words: Words) -> str:
    """A value that profiles hold of a setting, with its unit."""
    if name in ("forward_speed", "reverse_speed"):
        return m_s(value, words=words)
    unit = "degrees/s" if name == "turn_speed" else "s"
    return f"{decimal(f'{value:g}', words)} {unit}"
