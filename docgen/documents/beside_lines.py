"""What a row of the file of lines says beside its line: what the part must do, what comes with it and what it goes
with; the sizes of its parts, and the whole of where the order is delivered."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from docgen.documents.phrase import Words, joined

EXTERNAL = "external_device_control"
_SWINGS = "swing_away_mount"


def beside_lines(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words
) -> dict[str, dict[str, str | None]]:
    """Code of a line -> what it must do, what comes with it and is fitted of that, and the codes it goes with, in the
    words of the order and as far as it shows them."""
    if not {"code", "includes", "connected", "fitted", "moves", "sets", "settles", "tried"} <= {
        *shows.get("items", ())
    }:
        return {}
    heads, of_base = words["lines_file"], words["base_asked"]
    return {
        item["code"]: {
            "must_do": "; ".join(_functions(item, tables, shows, words)) or heads["its_name"],
            "comes_with": "; ".join(item["includes"]) or heads["nothing"],
            "fitted": item["fitted"],
            # rows have no heading Mounted: there it stands with the standard parts
            "goes_with": "; ".join(item["connected"]).replace(of_base["mounted_on"], of_base["held"])
            or heads["the_base"],
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
    sets = f"{item['sets']}{names}{item['settles']}" if item["sets"] else ""
    yield from filter(None, (item["moves"], sets, item["own_settings"]))
    yield from item["speeds"]
    yield from item["tried"]
    if _SWINGS in carried:
        yield from _swinging(tables, shows, words)
    if "part" in shows.get("standard_parts", ()):
        wording, rows = words["base_asked"], tables["standard_parts"]
        of_line = [row for row in rows if row["line"] and row["code"] == item["code"]]
        parts = [row["part"] or wording["a_part"] for row in of_line]
        yield from [wording["see_parts"].format(parts=joined(parts, words))] if parts else []
    if EXTERNAL in carried and "external_device" in shows.get("configuration", ()):
        yield (tables["configuration"].external_device or words["lines_file"]["not_recorded"]).rstrip(".")
        yield from filter(None, (tables["configuration"].external_jacks,))


def _swinging(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> list[str]:
    """The bracket of each part that swings, which decides what is bought, as far as the order shows it; of one in front
    of the face, that nobody has said whether it gives way."""
    if not {"part", "bracket", "swings", "swing"} <= {*shows.get("mounting", ())}:
        return []
    mounts = [mount for mount in tables["mounting"] if mount["swings"] and mount["bracket"]]
    asks = words["base_asked"]["arm_gives_way"] if "gives_way" in shows["mounting"] else ""
    return [
        "; ".join(
            filter(
                None,
                (
                    f"{mount['part']}: {mount['bracket']}",
                    mount["swing"],
                    asks if mount["faces"] and not mount["gives_way"] else "",
                ),
            )
        )
        for mount in mounts
    ]


def sized(
    lines: Iterable[dict[str, Any]], tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words
) -> list[dict[str, Any]]:
    """The lines, each that has no size of its own with those of the parts that it brings."""
    sizes = _sizes(tables, shows, words)
    return [line if line["size_mm"] != "" else {**line, "size_mm": sizes.get(line["number"], "")} for line in lines]


def _sizes(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> dict[int, str]:
    """Number of a line -> the size of each part that it brings, in mm, as the order tells them apart from the lines; of
    its standard parts, that they are told with these."""
    if not {"part", "line", "size_mm", "thick_mm", "runs"} <= {*shows.get("mounting", ())}:
        return {}
    wording, sizes = words["base_asked"], dict[int, list[str]]()
    for mount in tables["mounting"]:
        if mount["line"] and mount["size_mm"]:
            runs = f" ({words['runs'][mount['runs']]})" if mount["runs"] else ""
            thick = [wording["thick"].format(mm=f"{mount['thick_mm']:g}")] if mount["thick_mm"] else []
            size = ", ".join([f"{mount['size_mm']}{runs}", *thick])
            sizes.setdefault(mount["line"], []).append(wording["sized"].format(part=mount["part"], size=size))
    measured = {mount["part"] for mount in tables["mounting"]}
    parts = tables["standard_parts"] if {"part", "line"} <= {*shows.get("standard_parts", ())} else ()
    for line, of_parts in sizes.items():
        others = [part["part"] for part in parts if part["line"] == line and part["part"] not in measured]
        if others:
            of_parts.append(wording["see_parts"].format(parts=joined(others, words)))
    return {line: "; ".join(of_parts) for line, of_parts in sizes.items()}


def delivered_to(place: str, tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> str:
    """The place of delivery with all that the order says beside it: who takes the chair to lessons, what is measured
    first and who settles the hour, as far as it shows them."""
    wording, evaluator, sentences = words["base_asked"], tables["evaluator"], [place]
    if "to_lessons" in shows.get("delivery", ()) and tables["delivery"].to_lessons:
        sentences.append(tables["delivery"].to_lessons)
    rooms = tables["client"].not_measured if "not_measured" in shows.get("client", ()) else ()
    if rooms and tables["base_asked"]["has"]:
        sentences.append(wording["measure_first"].format(rooms=", ".join(rooms)))
    if {"name", "phone"} <= {*shows.get("evaluator", ())}:
        who = ", ".join(filter(None, (getattr(evaluator, "name", None), getattr(evaluator, "phone", None))))
        sentences.append(wording["by_hour"].format(therapist=who or wording["the_therapist"]))
    return " ".join(f"{sentence.rstrip('.')}." for sentence in sentences)
