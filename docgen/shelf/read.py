"""shelf.toml, or a folder of them, one a supplier -> a shelf, or every mistake with file and line."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError

from docgen.case.files import text_of
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.fit.alternatives import kinds
from docgen.fit.feature import features, unknown_feature
from docgen.fit.finding import vocabulary
from docgen.fit.settings import drive_settings
from docgen.shelf.device import FORMAT, Device, Shelf, sites_of

SHIPPED = Path(__file__).with_name("shipped.toml")
_MOST_BYTES, _MOST_PROBLEMS, _MOST_FILES = 1_000_000, 100, 100
_NO_FORCE = ("proximity_sensing", "optical_beam_sensing")  # sense without push or travel
_ONE_OF = ("proportional_control", "nonproportional_control")

Where = Callable[..., str]


def read_shelf(path: Path) -> Shelf:
    """The shelf of a file, or of all the TOML files of a folder together.

    Raises UserError with every mistake: unknown ids, contradictions, a device that two files hold, no device.
    """
    if not path.is_dir():
        return _read(path)
    files = sorted(path.glob("*.toml"))
    if not files:
        raise UserError([Problem(str(path), "holds no shelf", "Put a .toml file of devices into it.")])
    if len(files) > _MOST_FILES:
        raise UserError([Problem(str(path), f"holds {len(files)} files", f"A shelf is at most {_MOST_FILES} files.")])
    return _together({file: _read(file) for file in files})


@cache
def shipped_shelf() -> Shelf:
    """The shelf of invented devices that comes with the program."""
    return _read(SHIPPED)


def _together(shelves: Mapping[Path, Shelf]) -> Shelf:
    """One shelf of several files: what the chair can carry beside a device holds for those of its own file."""
    first: dict[str, Path] = {}
    problems = []
    devices: dict[str, Device] = {}
    for path, shelf in shelves.items():
        for name, device in shelf.devices.items():
            if name in first:
                problems.append(
                    Problem(str(path), f"the device '{name}' stands in {first[name].name} too", "Give it another id.")
                )
            first.setdefault(name, path)
            own = {feature for _, feature in device.stated()}
            devices[name] = device.model_copy(
                update={
                    "can_have": (*device.can_have, *(name for name in shelf.with_any if name not in own)),
                    "has_not": (*device.has_not, *(name for name in shelf.with_none if name not in own)),
                }
            )
    if problems:
        raise UserError(problems)
    return Shelf(format="docgen shelf 1", name=", ".join(shelf.name for shelf in shelves.values()), devices=devices)


def _read(path: Path) -> Shelf:
    raw = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    tables = dict(raw.tables)
    if isinstance(entries := tables.get("devices"), dict):
        tables["devices"] = {name: {**entry, "id": name} for name, entry in entries.items() if isinstance(entry, dict)}
        if wrong := [
            Problem(raw.where("devices", name), f"'{brief(name)}' is no table", f"Write [devices.{brief(name)}].")
            for name, entry in entries.items()
            if not isinstance(entry, dict)
        ]:
            raise UserError(wrong)
        if ids := [(name, "id") for name, entry in entries.items() if isinstance(entry, dict) and "id" in entry]:
            raise UserError(
                Problem(
                    raw.where("devices", *key), "unknown key 'id'", "The name of the table is the id of the device."
                )
                for key in ids
            )
    try:
        shelf = Shelf.model_validate(tables)
    except ValidationError as failure:
        raise UserError(_problems(failure, raw.where)) from None
    if problems := [*_mistakes(shelf, raw.where)]:
        raise UserError(problems)
    return shelf


def _problems(failure: ValidationError, where: Where) -> Iterator[Problem]:
    """What is wrong with the form of a file, each with its place."""
    for error in failure.errors(include_url=False)[:_MOST_PROBLEMS]:
        path = tuple(part for part in error["loc"] if part != "[key]")
        name = brief(path[-1]) if path else "the shelf"
        model: type[BaseModel] = Device if path[:1] == ("devices",) else Shelf
        if error["type"] == "extra_forbidden":
            yield Problem(where(*path), f"unknown key '{name}'", did_you_mean(name, {*model.model_fields} - {"id"}))
        elif error["type"] == "missing":
            yield Problem(where(*path), f"{name} is missing", _form(name))
        elif path[2:] == ("id",):
            yield Problem(
                where(*path[:2]),
                f"'{brief(path[1])}' is no id",
                "Small letters, digits and _, at most 40, beginning with a letter.",
            )
        else:
            complaint = error["msg"].removeprefix("Value error, ").removeprefix("Input ")
            yield Problem(where(*path), f"{name} is {brief(repr(error.get('input')))}: {complaint}")


def _form(key: str) -> str:
    return {
        "format": f'Write: format = "{FORMAT}"',
        "devices": "Write a table for each device, as [devices.hand_stick].",
        "sites": 'The sites of the body that drive it, as sites = ["head"].',
        "kind": 'The kind of control, as kind = "head_control".',
        "name": "What your clinic calls it.",
    }.get(key, "")


def _mistakes(shelf: Shelf, where: Where) -> Iterator[Problem]:
    """What a model cannot see: unknown ids, and statements that contradict each other."""
    both = [name for name in shelf.with_any if name in shelf.with_none]
    for key in ("with_any", "with_none"):
        for at, name in enumerate(getattr(shelf, key)):
            if (problem := _unfit(name, where(key, at))) is not None:
                yield problem
            elif features()[name].part == "control":
                yield Problem(where(key, at), f"'{name}' is what drives a device", "Put it into drives of its entry.")
            elif key == "with_none" and name in both:
                yield Problem(where(key, at), f"'{name}' stands in with_any too", "Take it out of one of them.")
    named: dict[str, str] = {}
    for name, device in shelf.devices.items():
        at_device = ("devices", name)
        if (other := named.setdefault(device.name.casefold(), name)) != name:
            yield Problem(where(*at_device, "name"), f"has the name of '{other}'", "Call them by names of their own.")
        yield from _of_device(shelf, device, lambda *path, at=at_device: where(*at, *path))


def _unfit(name: str, place: str) -> Problem | None:
    return None if name in features() else Problem(place, *unknown_feature(name))


def _of_device(shelf: Shelf, device: Device, where: Where) -> Iterator[Problem]:
    unknown = [problem for path, name in device.stated() if (problem := _unfit(name, where(*path)))]
    yield from unknown
    yield from _unknown_words(device, where)
    if unknown:
        return
    yield from _doubled(device, where)
    yield from _in_the_wrong_place(shelf, device, where)
    drives = device.drives or ()
    for at, name in enumerate(drives):
        if (sites := sites_of(features()[name])) and not sites & {*device.sites}:
            yield Problem(
                where("drives", at), f"'{name}' is driven by {_words(sites)}, the device by {_words(device.sites)}"
            )
    if all(name in drives for name in _ONE_OF):
        yield Problem(where("drives"), f"a device is not both {_ONE_OF[0]} and {_ONE_OF[1]}", "Take one out.")
    kind = kinds().get(device.kind)
    if kind is not None and kind.sites and not {*kind.sites} & {*device.sites}:
        yield Problem(
            where("kind"), f"a {device.kind} is driven by {_words(kind.sites)}, the device by {_words(device.sites)}"
        )
    if device.force_g and (free := [name for name in drives if name in _NO_FORCE]) and len(device.sites) == 1:
        yield Problem(where("force_g"), f"'{free[0]}' takes no force, and {device.force_g:g} g are given")


def _unknown_words(device: Device, where: Where) -> Iterator[Problem]:
    """Settings and findings that there are not."""
    for at, setting in enumerate(device.program):
        if setting not in drive_settings():
            yield Problem(where("program", at), f"unknown setting '{setting}'", did_you_mean(setting, drive_settings()))
    for finding in device.answers:
        if finding not in vocabulary():
            yield Problem(
                where("answers", finding), f"unknown finding '{finding}'", did_you_mean(finding, vocabulary())
            )


def _doubled(device: Device, where: Where) -> Iterator[Problem]:
    """Features that the entry names twice, and so says two things of."""
    first: dict[str, str] = {}
    for path, name in device.stated():
        if name in first:
            yield Problem(
                where(*path), f"'{name}' stands in {first[name]} and in {path[0]}", "Leave it in one of them."
            )
        first.setdefault(name, str(path[0]))


def _in_the_wrong_place(shelf: Shelf, device: Device, where: Where) -> Iterator[Problem]:
    """What drives a device outside of `drives`, other features inside, and features that do not go with it."""
    named = {name for path, name in device.stated() if path[0] != "has_not"} | {*shelf.with_any}
    for path, name in device.stated():
        feature = features()[name]
        if (path[0] == "drives") != (feature.part == "control"):
            right = "drives" if feature.part == "control" else "has, can_have, has_not or choices"
            yield Problem(where(*path), f"'{name}' does not belong in {path[0]}", f"It belongs in {right}.")
        elif path[0] not in ("has_not", "drives") and device.drives is not None and not feature.fits(named):
            yield Problem(
                where(*path), f"'{name}' goes with {_words(feature.goes_with, 4)}, and the device has none of them"
            )


def _words(names: Iterable[Any], most: int = 8) -> str:
    listed = sorted(map(str, names))
    return ", ".join(listed[:most]) + (", ..." if len(listed) > most else "")
