"""A document: one Markdown template whose front matter names its reader and lists all it may show."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct

from docgen.case.files import text_of
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.toml import read_toml
from docgen.documents.classes import classes_of, hidden
from docgen.documents.made_from import ALL
from docgen.errors import Problem, UserError, did_you_mean
from docgen.fit.condition import emergency_wanted
from docgen.fit.in_force import changes
from docgen.rendering.style import STYLES
from docgen.shipped import shipped

_FENCE = "+++\n"
_KEYS = {
    "title": str,
    "head": str,
    "reader": str,
    "may_see": list,
    "order": int,
    "plain": bool,
    "figures": list,
    "shows": dict,
}
_OPTIONAL = {
    "large_print": bool,
    "needs": str,
    "sent": bool,
    "gathers": bool,
    "style": str,
    "about": str,
    "leaves_out": str,
    "jumps": list,
}
_KINDS = {str: "text", int: "a whole number", bool: "true or false", list: "a list", dict: "a table"}
_MOST_BYTES = 200_000
_CLASSES = {str(privacy): privacy for privacy in Privacy if privacy is not Privacy.PRIVATE}
# what a document can need -> whether a case holds it; without it the document is left out of the packet
NEEDS: Mapping[str, Callable[[Case], bool]] = {
    "sessions": lambda case: bool(case.sessions),
    "denial": lambda case: bool(case.denial.reasons),
    "emergency": emergency_wanted,
}


class Document(Struct, frozen=True):
    """One document as its template describes it.

    name     file name without its ending; also the name of the files made from it
    reader   for whom it is written
    may_see  classes of privacy that its reader may see; nothing of another class can be listed in `shows`
    plain    whether its reader should meet no term of the trade
    shows    key table -> the keys of it that may be shown; nothing else exists inside the template
    figures  names of the drawings it may show
    large_print  whether it is also printed in large letters
    sent     whether it goes to the payer and the supplier; None in a clinic's template that does not say
    about    what it shows, and `leaves_out` what it never does, as the README tells it
    gathers  whether its gaps are short marks, gathered once in a list at its end; else each keeps its words in place
    style    how it is set, a name of STYLES: "compact" a little smaller and closer, to be read in a few minutes,
             "record" of many tables, smaller again, "card" large, to hang up, "booklet" in two columns, "form" to be
             filled in by hand, "lesson" for use beside the chair; "card_long", "booklet_long" "form_long" for
             longer words
    jumps    headings that its page on a screen leads to from everywhere; "name: Heading" is one of another document
    needs    what the case must hold for it to be made, a name of NEEDS; empty when it always is
    body     the template, with blank lines in place of the front matter so that its lines keep their numbers
    """

    name: str
    title: str
    head: str
    reader: str
    order: int
    plain: bool
    shows: Mapping[str, tuple[str, ...]]
    figures: tuple[str, ...]
    body: str
    path: Path
    may_see: frozenset[Privacy]
    large_print: bool = False
    needs: str = ""
    sent: bool | None = None
    about: str = ""
    leaves_out: str = ""
    gathers: bool = False
    style: str = "regular"
    jumps: tuple[str, ...] = ()


def documents(folder: Path) -> dict[str, Document]:
    """Every document of a template folder by name, in packet order. Raises UserError for a broken one."""
    unordered = [_document(path) for path in sorted(folder.glob("*.md")) if not path.name.startswith("_")]
    return {document.name: document for document in sorted(unordered, key=lambda d: (d.order, d.name))}


def called_for(documents: Mapping[str, Document], case: Case) -> dict[str, Document]:
    """The documents that this case has the facts for, by name, in packet order."""
    return {name: document for name, document in documents.items() if not document.needs or NEEDS[document.needs](case)}


def dated_on(document: Document, case: Case) -> date | None:
    """The day on a document: of the packet, or of what the document needs, which came later; None when none is
    recorded."""
    later = {
        "sessions": max((row.date for row in case.sessions), default=None),
        "denial": case.denial.sent_on or case.denial.written_on or case.denial.denied_on,
    }
    needs = "sessions" if _moves(document) else document.needs
    if on := later.get(needs):
        return on
    written, asked = case.dates.written_on, case.request.requested_on
    if not is_of_the_request(document):
        return max(filter(None, (written or asked, *_since_delivery(document, case))), default=None)
    # what names the day of the request is made up on it; a letter that does not is of the day on which it is signed
    on_request = "requested_on" in document.shows.get("request", ())
    return max(filter(None, (written, asked)), default=None) if on_request else written or asked


def _since_delivery(document: Document, case: Case) -> Iterator[date | None]:
    """Days after the request of what a document for daily use tells: delivery, parts as fitted, settings changed."""
    if "as_fitted" in document.shows or "sheets" in document.shows:
        yield case.dates.delivered_on
        yield from (entry.on for entry in case.fitted)
        yield from (setting.on for setting in case.fitted_settings)
        yield from (change.on for change in changes(case))


def is_of_the_request(document: Document) -> bool:
    """Whether a document goes out with the request: it tells what was known on that day alone."""
    return bool(document.sent) and not document.needs and not _moves(document)


def _moves(document: Document) -> bool:
    """Whether a document changes with each lesson: it tells the step reached, the tasks open at it or what is set
    since."""
    return not {"stages", "lesson_tasks", "settings_now"}.isdisjoint(document.shows)


def front_matter(text: str) -> str:
    """The TOML above the words of a template, with an empty line in place of the fence."""
    return "\n" + text.partition(_FENCE)[2].partition(_FENCE)[0]


def _document(path: Path) -> Document:
    text = text_of(path, str(path), _MOST_BYTES)
    opening, _, rest = text.partition(_FENCE)
    _, closing, body = rest.partition(_FENCE)
    if opening or not closing:
        raise UserError([Problem(f"{path}:1", "has no front matter", "Open it with +++ and close it with +++.")])
    matter = front_matter(text)
    read = read_toml(matter, str(path), "its front matter is")
    front, where = read.tables, read.where
    # of a text that the package was built with nothing was refused then
    if shipped(matter) is None and (problems := [*_mistakes(path.stem, front, where)]):
        raise UserError(problems)
    shows = {table: tuple(keys) for table, keys in front["shows"].items()}
    blank = "\n" * (matter.count("\n") + 1)
    return Document(
        path.stem,
        front["title"],
        front["head"],
        front["reader"],
        front["order"],
        front["plain"],
        shows,
        tuple(front["figures"]),
        blank + body,
        path,
        frozenset(map(Privacy, front["may_see"])),
        front.get("large_print", False),
        front.get("needs", ""),
        front.get("sent"),
        front.get("about", ""),
        front.get("leaves_out", ""),
        front.get("gathers", False),
        front.get("style", "regular"),
        tuple(front.get("jumps", ())),
    )


def _mistakes(name: str, front: dict[str, Any], where: Callable[..., str]) -> Iterator[Problem]:
    """What is wrong with a front matter: keys, kinds of values, and what the reader may not see."""
    yield from _wrong_keys(front, where)
    listed = front["may_see"] if _names(front.get("may_see")) else []
    for at, word in enumerate(listed):
        if word not in _CLASSES:
            problem = "no document shows what is private" if word == Privacy.PRIVATE else f"there is no class '{word}'"
            yield Problem(where("may_see", at), problem, did_you_mean(word, _CLASSES))
    may_see = frozenset(_CLASSES[word] for word in listed if word in _CLASSES)
    if (needs := front.get("needs")) and needs not in NEEDS:
        yield Problem(where("needs"), f"a document cannot need '{needs}'", did_you_mean(str(needs), NEEDS))
    if (style := front.get("style")) and style not in STYLES:
        yield Problem(where("style"), f"there is no style '{style}'", did_you_mean(str(style), STYLES))
    shows = front.get("shows")
    for table, keys in shows.items() if isinstance(shows, dict) else ():
        if _names(keys):
            yield from _wrong_shows(name, table, keys, may_see, where)
        else:
            yield Problem(where("shows", table), f"[shows] {table} is no list of names")


def _wrong_keys(front: dict[str, Any], where: Callable[..., str]) -> Iterator[Problem]:
    """Keys that there are not, those that lack, and values of another kind."""
    for key in sorted(set(front) - set(_KEYS) - set(_OPTIONAL)):
        yield Problem(where(key), f"its front matter has no key '{key}'", did_you_mean(key, _KEYS))
    for key in sorted(set(_KEYS) - set(front)):
        yield Problem(where(), f"its front matter lacks '{key}'", f"It must hold {', '.join(sorted(_KEYS))}.")
    for key, kind in (_KEYS | _OPTIONAL).items():
        if key in front and type(front[key]) is not kind:
            yield Problem(where(key), f"'{key}' in its front matter is not {_KINDS[kind]}")
        elif key in front and kind is list and not _names(front[key]):
            yield Problem(where(key), f"'{key}' in its front matter is no list of names")


def _wrong_shows(
    name: str, table: str, keys: list[str], may_see: frozenset[Privacy], where: Callable[..., str]
) -> Iterator[Problem]:
    """Keys of a table that there are not, and those that the reader may not see."""
    for at, key in enumerate(keys):
        classes = classes_of(table, key)
        if classes is None:
            missing = f"key '{key}' in '{table}'" if classes_of(table, ALL) else f"table '{table}'"
            yield Problem(where("shows", table), f"[shows] there is no {missing}", "Correct the front matter.")
        elif beyond := hidden(classes, may_see):
            yield Problem(
                where("shows", table, at),
                f"the {name} must never show {table}.{key}: its reader may not see the class {beyond}",
                "Take it out of [shows].",
            )


def _names(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(name, str) for name in value)
