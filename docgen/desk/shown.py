"""Pages of the desk from their templates, and mistakes as they stand on them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse, Response

from docgen.case.keys import entries_at, keys_at
from docgen.case.lines import KeyPath
from docgen.desk.sections import Missing, title_of
from docgen.desk.topics import topic_of
from docgen.errors import Problem

_DOTTED = re.compile(r"\b[a-z_]+(?:\.[a-z_0-9]+)+(?![\w.])")
_LIST = re.compile(r"\[\[([a-z_]+(?:\.[a-z_]+)*)\]\]")
PAGES = Path(__file__).parent / "pages"
_REFUSED_ANSWERS = "409|422"
# what htmx may do: nothing that the policy of a page forbids, and nothing of a case is left in the browser
_HTMX = {
    "allowEval": False,
    "allowScriptTags": False,
    "includeIndicatorStyles": False,
    "historyEnabled": False,
    "historyCacheSize": 0,
    "responseHandling": [
        {"code": "204", "swap": False},
        {"code": "[23]..", "swap": True},
        {"code": _REFUSED_ANSWERS, "swap": True, "error": True},
        {"code": "...", "swap": False, "error": True},
    ],
}


def page(template: str, /, status: int = 200, headers: Mapping[str, str] | None = None, **shown: Any) -> Response:
    """A page of the desk; every text in it is escaped."""
    return HTMLResponse(_pages().get_template(template).render(shown), status, headers)


def pieces(template: str, /, **shown: Any) -> Iterator[str]:
    """The same piece by piece, as what is shown becomes known."""
    return _pages().get_template(template).generate(shown)


def sentence(problem: Problem) -> str:
    """A mistake as it stands beside its question, which says where it is."""
    what = without_keys(problem.what)
    return f"{what[:1].upper()}{what[1:]}. {without_keys(problem.do)}".strip()


def without_keys(text: str) -> str:
    """A sentence with the questions and lists of the desk in place of the keys of the file that it names."""
    return _LIST.sub(_list_in_words, _DOTTED.sub(_question, text))


def _of_screen(points: Sequence[Missing], topic: str) -> list[Missing]:
    """The points that something on one screen settles."""
    return [point for point in points if any(step.topic == topic for step in point.steps)]


def _question(dotted: re.Match[str]) -> str:
    path: KeyPath = ()
    for name in dotted[0].split("."):
        path = (*path, name, 0) if entries_at((*path, name)) else (*path, name)
    return f"“{title_of(path)}”" if str(path[-1]) in keys_at(path[:-1]) else dotted[0]


def _list_in_words(written: re.Match[str]) -> str:
    path: KeyPath = tuple(written[1].split("."))
    if str(path[-1]) not in keys_at(path[:-1]):
        return written[0]
    return f"“{title_of(path)}” on the screen “{topic_of(path).title}”"


@cache
def _pages() -> Environment:
    pages = Environment(
        loader=FileSystemLoader(PAGES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    pages.globals["htmx"] = _HTMX
    pages.filters["of_screen"] = _of_screen
    pages.filters["topic"] = lambda path: topic_of(path).id
    pages.filters["key_path"] = lambda path: json.dumps(list(path))
    return pages
