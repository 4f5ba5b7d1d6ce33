"""A folder with a clinic's letterhead -> a Letterhead, or every mistake in it.

    letterhead.toml   name, address, phone, accent, logo, logo_alt: for PDF, HTML and DOCX
    letterhead.docx   optional: styles, page setup, head and foot of the Word output; its text is ignored

The logo is drawn anew as a plain PNG, so that nothing that came with the picture's file goes out with a packet.
"""

from __future__ import annotations

import io
import os
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from docgen.case.base import clean_text
from docgen.case.files import bytes_of, forbidden_name, leads_out, text_of
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.rendering.contrast import LEAST_TEXT_CONTRAST, WHITE, contrast_ratio, from_hex
from docgen.rendering.fonts import glyph_name, missing_glyphs
from docgen.rendering.letterhead import Letterhead, Logo
from docgen.rendering.plain_picture import plain_png

if TYPE_CHECKING:
    from docgen.rendering.docx.reference import Reference

_TOML, _DOCX = "letterhead.toml", "letterhead.docx"
_KEYS = {"name": str, "address": list, "phone": str, "accent": str, "logo": str, "logo_alt": str}
_MOST_TOML_BYTES, _MOST_LOGO_BYTES, _MOST_DOCX_BYTES = 20_000, 5_000_000, 10_000_000
_MOST_PIXELS = 16_000_000
_MOST_LINES, _MOST_CHARACTERS = 6, 120
_WIDEST_PX = 1200  # what a logo keeps; enough for 500 pixels to the inch


def letterhead_files(folder: Path) -> list[str]:
    """Names of the files in a folder that its letterhead is read from. Raises UserError."""
    toml = folder / _TOML
    tables = read_toml(text_of(toml, str(toml), _MOST_TOML_BYTES), str(toml)).tables if os.path.lexists(toml) else {}
    logo = tables.get("logo")
    return [_TOML, _DOCX, *([logo] if isinstance(logo, str) and _is_plain(logo) and not forbidden_name(logo) else [])]


def read_letterhead(folder: Path) -> Letterhead:
    """The letterhead in a folder. Raises UserError with every mistake, each with its place."""
    toml, docx = folder / _TOML, folder / _DOCX
    if not os.path.lexists(toml) and not os.path.lexists(docx):
        raise UserError(
            [Problem(str(folder), f"holds neither {_TOML} nor {_DOCX}", "Name the folder of your letterhead.")]
        )
    reference = _reference(docx) if os.path.lexists(docx) else None
    if not os.path.lexists(toml):
        return Letterhead(reference=reference)
    text = text_of(toml, str(toml), _MOST_TOML_BYTES)
    read = read_toml(text, str(toml))
    raw, where = read.tables, read.where
    if problems := [*_mistakes(raw, where)]:
        raise UserError(problems)
    logo = _logo(folder, raw["logo"], raw["logo_alt"], where("logo")) if "logo" in raw else None
    contact = ", ".join(
        clean_text(part) for part in (*raw.get("address", ()), *([raw["phone"]] if "phone" in raw else []))
    )
    return Letterhead(clean_text(raw["name"]), contact, from_hex(raw.get("accent", "#000000")), logo, reference)


def _mistakes(raw: dict[str, Any], where: Callable[..., str]) -> Iterator[Problem]:
    for key in raw:
        if key not in _KEYS:
            yield Problem(where(key), f"unknown key '{key}'", did_you_mean(key, _KEYS))
    if "name" not in raw:
        yield Problem(where(), "name is missing", 'Give the name of the clinic: name = "Example Seating Clinic".')
    if "logo" in raw and "logo_alt" not in raw:
        yield Problem(
            where("logo"), "logo_alt is missing", "Say in words what the logo shows, for those who cannot see it."
        )
    for key, kind in _KEYS.items():
        if key in raw and not isinstance(raw[key], kind):
            yield Problem(where(key), f"{key} is not {'a list of lines' if kind is list else 'text in quotes'}")
    address = raw.get("address")
    if isinstance(address, list) and (len(address) > _MOST_LINES or not all(isinstance(line, str) for line in address)):
        yield Problem(where("address"), f"address is not a list of at most {_MOST_LINES} lines of text")
    for path, text in _texts(raw):
        if wrong := _unprintable(text):
            yield Problem(where(*path), f"{path[0]} {wrong}")
    if isinstance(accent := raw.get("accent"), str):
        try:
            ratio = contrast_ratio(from_hex(accent), WHITE)
        except ValueError as failure:
            yield Problem(where("accent"), f"accent '{accent[:40]}' {failure}")
        else:
            if ratio < LEAST_TEXT_CONTRAST:
                yield Problem(
                    where("accent"),
                    f"accent {accent} has a contrast of {ratio:.2f} to 1 on white, less than the "
                    f"{LEAST_TEXT_CONTRAST} to 1 that text needs",
                    "Choose a darker color.",
                )


def _texts(raw: dict[str, Any]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    for key in ("name", "phone", "logo_alt"):
        if isinstance(raw.get(key), str):
            yield (key,), raw[key]
    address = raw.get("address")
    for at, line in enumerate(address if isinstance(address, list) else ()):
        if isinstance(line, str):
            yield ("address", at), line


def _unprintable(text: str) -> str:
    try:
        clean = clean_text(text)
    except ValueError as failure:
        return str(failure)
    if "\n" in clean or len(clean) > _MOST_CHARACTERS:
        return f"is more than one line of {_MOST_CHARACTERS} characters"
    missing = missing_glyphs(clean)
    return f"holds {glyph_name(missing[0])}, which the page fonts cannot show" if missing else ""


def _is_plain(name: str) -> bool:
    """Whether it names a file in the folder itself."""
    return name == Path(name).name and name not in ("", ".", "..") and "\0" not in name


def _logo(folder: Path, name: str, alt: str, where: str) -> Logo:
    """The logo as a plain PNG. Its size is known from its head, and refused, before a pixel is made."""
    from PIL import Image

    if not _is_plain(name):
        raise UserError([Problem(where, f"'{name}' leads out of the folder", "Put the logo beside letterhead.toml.")])
    if refusal := forbidden_name(name):
        raise UserError(
            [Problem(where, f"the logo cannot be used: {refusal}", "Give it a name that every system has.")]
        )
    missing = Problem(where, f"there is no logo '{brief(name)}'", "Check the name.")
    if os.path.lexists(folder / name) and leads_out(folder / name, folder):
        raise UserError(
            [
                Problem(
                    where,
                    f"'{brief(name)}' is a link that leads out of the folder",
                    "Put the logo itself beside letterhead.toml.",
                )
            ]
        )
    data = bytes_of(folder / name, where, _MOST_LOGO_BYTES, missing)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of the library, about sizes that are checked here
            with Image.open(io.BytesIO(data), formats=("PNG", "JPEG")) as picture:
                n_pixels = picture.width * picture.height
                if n_pixels > _MOST_PIXELS:
                    raise UserError(
                        [
                            Problem(
                                where,
                                f"the logo is {picture.width:,} by {picture.height:,} pixels, more than the "
                                f"{_MOST_PIXELS:,} allowed in all",
                                "Save a smaller one.",
                            )
                        ]
                    )
                png, width_px, height_px = plain_png(picture, _WIDEST_PX)
    except UserError:
        raise
    except Image.DecompressionBombError:
        raise UserError(
            [Problem(where, f"the logo is of far more than the {_MOST_PIXELS:,} pixels allowed", "Save a smaller one.")]
        ) from None
    except Exception as failure:  # whatever a broken picture makes the library raise, it is this picture that is broken
        raise UserError(
            [
                Problem(
                    where,
                    f"the logo '{name}' is not a whole PNG or JPEG picture ({type(failure).__name__})",
                    "Save it again as PNG.",
                )
            ]
        ) from None
    return Logo(png, width_px, height_px, clean_text(alt))


def _reference(path: Path) -> Reference:
    from docgen.rendering.docx.reference import ReferenceProblem, read_reference

    data = bytes_of(path, str(path), _MOST_DOCX_BYTES)
    try:
        return read_reference(data)
    except ReferenceProblem as failure:
        raise UserError(
            [Problem(str(path), str(failure), "Save it again from a word processor as a plain DOCX.")]
        ) from None
