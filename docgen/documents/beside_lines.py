"""What a row of the file of lines says beside its line: what the part must do, what comes with it and what it goes
with."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from docgen.documents.phrase import Words

EXTERNAL = "external_device_control"
_SWINGS = "swing_away_mount"


def beside_lines(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words
) -> dict[str, dict[str, str | None]]:
    """Code of a line -> what it must do, what comes with it and is fitted of that, and the codes it goes with, in the
    words of the order and as far as it shows them."""
    if not {"code", "includes", "connected", "fitted", "moves", "sets", "tried"} <= {*shows.get("items", ())}:
        return {}
    heads = words["lines_file"]
    return {
        item["code"]: {
            "must_do": "; ".join(_functions(item, tables, shows, words)) or heads["its_name"],
            "comes_with": "; ".join(item["includes"]) or heads["nothing"],
            "fitted": item["fitted"],
            "goes_with": "; ".join(item["connected"]) or heads["the_base"],
        }
        for item in tables["items"]
        if item["code"]
    }


def _functions(
    item: Mapping[str, Any], tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words
) -> Iterator[str]:
    """What the part of a line must do: the features it carries, what it moves and sets, its settings, speeds and what
    was tried with it, then the bracket of a part that swings and the device that a link reaches."""
    opens = words["base_asked"]["opens"]
    carried = {feature["id"]: feature["name"] for feature in tables["features"] if feature["line"] == item["code"]}
    yield from (f"{name} {opens}" if feature_id == "stop_switch" else name for feature_id, name in carried.items())
    names = f" ({', '.join(item['set_names'])})" if item["set_names"] else ""
    sets = f"{item['sets']}{names}" if item["sets"] else ""
    yield from filter(None, (item["moves"], sets, item["own_settings"]))
    yield from item["speeds"]
    yield from item["tried"]
    if _SWINGS in carried:
        yield from _swinging(tables, shows)
    if EXTERNAL in carried and "external_device" in shows.get("configuration", ()):
        yield (tables["configuration"].external_device or words["lines_file"]["not_recorded"]).rstrip(".")
        yield from filter(None, (tables["configuration"].external_jacks,))


def _swinging(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]]) -> list[str]:
    """The bracket of each part that swings, which decides what is bought, as far as the order shows it."""
    if not {"part", "bracket", "swings", "swing"} <= {*shows.get("mounting", ())}:
        return []
    mounts = [mount for mount in tables["mounting"] if mount["swings"] and mount["bracket"]]
    return ["; ".join(filter(None, (f"{mount['part']}: {mount['bracket']}", mount["swing"]))) for mount in mounts]
