"""What a row of the file of lines says beside its line: what the part must do, what comes with it and what it goes
with."""

from __future__ import annotations

from collections.abc import Mapping
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
    heads, opens = words["lines_file"], words["base_asked"]["opens"]
    asked = [
        (feature["line"], f"{feature['name']} {opens}" if feature["id"] == "stop_switch" else feature["name"])
        for feature in tables["features"]
    ]
    beside = {}
    for item in tables["items"]:
        functions = [name for line, name in asked if line == item["code"]]
        functions += [item["moves"]] if item["moves"] else []
        names = f" ({', '.join(item['set_names'])})" if item["set_names"] else ""
        functions += [f"{item['sets']}{names}"] if item["sets"] else []
        functions += [item["own_settings"]] if item["own_settings"] else []
        functions += item["speeds"]
        functions += item["tried"]
        if any(feature["line"] == item["code"] and feature["id"] == _SWINGS for feature in tables["features"]):
            functions += _swinging(tables, shows)
        is_link = any(feature["line"] == item["code"] and feature["id"] == EXTERNAL for feature in tables["features"])
        if is_link and "external_device" in shows.get("configuration", ()):
            functions.append((tables["configuration"].external_device or heads["not_recorded"]).rstrip("."))
        beside[item["code"]] = {
            "must_do": "; ".join(functions) or heads["its_name"],
            "comes_with": "; ".join(item["includes"]) or heads["nothing"],
            "fitted": item["fitted"],
            "goes_with": "; ".join(item["connected"]) or heads["the_base"],
        }
    return {code: cells for code, cells in beside.items() if code}


def _swinging(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]]) -> list[str]:
    """The bracket of each part that swings, which decides what is bought, as far as the order shows it."""
    if not {"part", "bracket", "swings", "swing"} <= {*shows.get("mounting", ())}:
        return []
    mounts = [mount for mount in tables["mounting"] if mount["swings"] and mount["bracket"]]
    return ["; ".join(filter(None, (f"{mount['part']}: {mount['bracket']}", mount["swing"]))) for mount in mounts]
