"""The controls that a client and a family can choose between: two to four, by a rule that favors none.

From a shelf: those that stand first by what was found, the next ones where fewer than two do. Without one: the controls
of the case itself. What the therapist has ruled out in the case is no option, and neither is what can do harm without
an answer or may do some. A case's own controls were tried or chosen to be considered: they stay, with what speaks
against them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date
from typing import get_args

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.tried import Alternative, ControlKind, Method
from docgen.evidence.blocks import by_method, tally
from docgen.fit.alternatives import kinds
from docgen.fit.feature import features
from docgen.shelf.device import Device, Shelf, Site, site_of_part, sites_of
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match
from docgen.shelf.read import shipped_shelf

FEWEST, MOST = 2, 4
OWN_SHELF = "the record"  # name of the shelf that holds a case's own controls
_ARTICLE = re.compile(r"^(?:an?|the)\s+", re.IGNORECASE)
_MOST_SITES = 6


class MissedStop(Struct, frozen=True):
    """A stop that was not done: the day, and what is noted beside it; None where nothing is."""

    on: date
    note: str | None


class TriedAs(Struct, frozen=True):
    """One way in which a control was tried: attempts done, of how many; stops apart, so that none is hidden.

    days    the days of its rows
    missed  the stops that were not done, as far as a row stands for each
    """

    method: Method
    driving: tuple[int, int]
    stops: tuple[int, int]
    days: tuple[date, ...]
    missed: tuple[MissedStop, ...]


class Option(Struct, frozen=True):
    """A control to choose, with the ways in which it was tried, in the order of the case."""

    judged: Judged
    tried: tuple[TriedAs, ...]

    @property
    def name(self) -> str:
        """Its name without an article: what it is sorted by."""
        return _ARTICLE.sub("", self.judged.device.name)


class Options(Struct, frozen=True):
    """What there is to choose from.

    options  in the order of the alphabet
    more     names of controls that could suit as well and for which there is no room
    """

    options: tuple[Option, ...]
    more: tuple[str, ...]


def options(case: Case, matched: Match) -> Options:
    """The controls to choose from, whatever the order of the shelf."""
    judged, own = matched.devices, matched.shelf.name == OWN_SHELF
    tried = {name: tuple(_tried(case, name, own)) for name in judged}
    out = {name for name in judged if not own and _is_ruled_out(case, judged[name].device)}
    layered = [name for name in matched.may_lead if judged[name].stage == "layered"]
    groups: Iterable[Iterable[str]] = [judged] if own else [layered, *matched.layers]
    chosen: dict[str, Option] = {}
    more: list[Option] = []
    for group in groups:
        if len(chosen) >= FEWEST:
            break
        could = [Option(judged[name], tried[name]) for name in dict.fromkeys(group) if name not in {*chosen, *out}]
        could.sort(key=_place)
        room = MOST - len(chosen)
        chosen |= {option.judged.device.id: option for option in could[:room]}
        more = could[room:]
    return Options(tuple(sorted(chosen.values(), key=_place)), tuple(option.name for option in more))


def _place(option: Option) -> tuple[str, str]:
    return option.name.casefold(), option.judged.device.id


def _tried(case: Case, name: str, own: bool) -> Iterator[TriedAs]:
    """How a device was tried, without ways of it that were ruled out: those are not to choose from.

    A case's own control is known by the id of its method.
    """
    stops = case.trial.stop_tasks
    rows_of = by_method(case.tried)
    for method in case.trial.methods:
        rows = rows_of.get(method.id, ())
        if rows and name == (method.id if own else method.device) and method.id not in _methods_out(case):
            driving = [row for row in rows if row.task not in stops]
            stopping = [row for row in rows if row.task in stops]
            missed = [
                MissedStop(row.date, getattr(row, "note", None))
                for row in stopping
                for _ in range(row.n_attempts - row.n_done)
            ]
            days = tuple(sorted({row.date for row in rows}))
            yield TriedAs(method, tally(driving), tally(stopping), days, tuple(missed))


def _is_ruled_out(case: Case, device: Device) -> bool:
    """Whether the therapist has ruled it out: by its name, or in each way that the case names for it."""
    named = {_bare(entry.name) for entry in case.alternatives if not _is_open(entry)}
    ways = {method.id for method in case.trial.methods if method.device == device.id}
    return _bare(device.name) in named or (bool(ways) and ways <= _methods_out(case))


def _methods_out(case: Case) -> set[str]:
    """Ways of trying a control that the therapist has ruled out."""
    return {entry.method for entry in case.alternatives if entry.method and not _is_open(entry)}


def _bare(name: str) -> str:
    return _ARTICLE.sub("", name).casefold()


def _is_open(entry: Alternative) -> bool:
    """Whether nothing is recorded that rules an alternative out."""
    return not entry.is_ruled_out and (entry.ruled_out_by is not None or entry.reason is None)


def own_shelf(case: Case) -> Shelf | None:
    """The controls of a case that are not ruled out, as a shelf; None where there is none.

    What the case does not state of one is unknown, as on any shelf.
    """
    devices = {device.id: device for device in _own_devices(case)}
    carried = shipped_shelf().with_any  # by the chair, beside any control: the same for each
    return Shelf(format="docgen shelf 1", name=OWN_SHELF, with_any=carried, devices=devices) if devices else None


def _own_devices(case: Case) -> Iterator[Device]:
    by_method = {entry.method: entry for entry in case.alternatives if entry.method}
    for method in case.trial.methods:
        entry = by_method.get(method.id)
        if entry is not None and not _is_open(entry):
            continue
        asked = method.id == case.configuration.method
        wanted = [wanted.id for wanted in case.configuration.features] if asked else []
        also = entry.features if entry else ()
        mounted = [mount.site for mount in case.configuration.mounting] if asked else []
        yield _device(method.id, method.name, (*method.features, *wanted, *also), entry, mounted)
    tried = {method.id for method in case.trial.methods}
    for entry in case.alternatives:
        if entry.kind in kinds() and entry.method not in tried and _is_open(entry):
            yield _device(entry.id, entry.name, entry.features, entry)


def _device(
    device_id: str, name: str, known: Iterable[str], entry: Alternative | None, mounted: Iterable[str] = ()
) -> Device:
    """A control as the case states it, with what its kind brings; `mounted` are sites of its parts."""
    stated = list(dict.fromkeys(known))
    kind = _kind(stated, entry)
    stated = list(dict.fromkeys([*kinds()[kind].features, *stated]))
    drives = tuple(feature for feature in stated if features()[feature].part == "control")
    driven_by = frozenset[str]().union(*(sites_of(features()[feature]) for feature in drives))
    sites = [*(kinds()[kind].sites if kind != "other_control" else ()), *sorted(driven_by)]
    sites = sites or [site for site in map(site_of_part, mounted) if site in get_args(Site)]
    return Device.model_validate(
        {
            "id": device_id,
            "name": name,
            "kind": kind,
            "sites": tuple(dict.fromkeys(sites))[:_MOST_SITES] or ("elsewhere",),
            "drives": drives or None,
            "has": tuple(feature for feature in stated if feature not in drives),
        }
    )


def _kind(stated: list[str], entry: Alternative | None) -> ControlKind:
    """The kind of a control: as the case has it, else the first whose features it all has."""
    if entry is not None and entry.kind in kinds():
        return entry.kind  # type: ignore[return-value]  # a kind with features is one of a control
    named: dict[str, ControlKind] = {
        "breath_control": "breath_control",
        "head_control": "head_control",
        "foot_control": "foot_control",
        "finger_switches": "finger_switches",
        "mini_stick": "mini_stick",
        "stick_by_chin": "stick_by_chin",
    }
    marks = {name: set(kinds()[name].features) - {"proportional_control", "nonproportional_control"} for name in named}
    return next((kind for name, kind in named.items() if marks[name] <= {*stated}), "other_control")
