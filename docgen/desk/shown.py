"""Pages of the desk from their templates, and mistakes as they stand on them."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from starlette.responses import HTMLResponse, Response

from docgen.desk.topics import topic_of
from docgen.errors import Problem

PAGES = Path(__file__).parent / "pages"


def page(template: str, /, status: int = 200, headers: Mapping[str, str] | None = None, **shown: Any) -> Response:
    """A page of the desk; every text in it is escaped."""
    return HTMLResponse(_pages().get_template(template).render(shown), status, headers)


def pieces(template: str, /, **shown: Any) -> Iterator[str]:
    """The same piece by piece, as what is shown becomes known."""
    return _pages().get_template(template).generate(shown)


def sentence(problem: Problem) -> str:
    """A mistake as it stands beside its question, which says where it is."""
    return f"{problem.what[:1].upper()}{problem.what[1:]}. {problem.do}".strip()


@cache
def _pages() -> Environment:
    pages = Environment(
        loader=FileSystemLoader(PAGES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    pages.filters["topic"] = lambda path: topic_of(path).id
    pages.filters["key_path"] = lambda path: json.dumps(list(path))
    return pages
