"""The counting page of a case: one HTML file with all that it needs.

It works from the storage of a phone or tablet and asks nothing of any other machine. What is tapped stays in the
browser's own database; what the page saves is a file of rows that `docgen rows` takes in. It holds ids of the case and
a mark made from its key, by which a file of another client is refused: no name, no word that a therapist wrote.
"""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping, Sequence
from functools import cache
from itertools import chain
from pathlib import Path

from jinja2 import Environment, StrictUndefined, Template
from msgspec import Struct
from msgspec.structs import asdict

from docgen.case.stage import STEPS, STOP_TASKS
from docgen.evidence.rows_of_five import FULL
from docgen.resources import folder
from docgen.shipped import tables_of
from docgen.spreadsheet.counted_for import COUNTED_FOR
from docgen.spreadsheet.known import Known

FILE = "count.html"
_WORDS = "count.toml"
_HERE = Path(__file__).parent
# The columns of each file that the page saves, in their order; `cell` of page.js says what stands under each.
_TRIAL = (
    "date method task success order attempt seconds missed unintended contacts release_s prompts_physical seating note"
).split()
_LESSONS = (
    "date stage task success help surprise seconds missed unintended contacts near_misses release_s note"
).split()
_COUNTED = {
    "trial": ("contacts", "unintended", "missed", "helped"),
    "lessons": ("contacts", "near_misses", "unintended", "missed"),
}


class Planned(Struct, frozen=True):
    """A block of a planned trial: its visit, its place in it, its method, and the task of each attempt, by ids."""

    visit: int
    block: int
    method: str
    tasks: tuple[str, ...]


def count_page(known: Known, mark: str, lang: str = "en", planned: Sequence[Planned] = ()) -> bytes:
    """The page for a case.

    known    methods and tasks of the case; with none, they are typed on the page
    mark     of the case's key, as `docgen/case/key.py` makes it
    planned  blocks of the planned trial: the page offers each, and leads from card to card
    """
    words = count_words(lang)
    style, script = _text("page.css"), _text("page.js")
    setup = {
        "mark": mark,
        "words": words,
        "methods": list(known.of_trial["method"]),
        "tasks": list(known.of_trial["task"]),
        "stops": {"trial": list(known.stop_tasks), "lessons": list(STOP_TASKS)},
        "steps": {step: [task for task, of in known.steps.items() if of == step] for step in STEPS},
        "first": FULL,
        "counted": _COUNTED,
        "planned": [asdict(block) for block in planned],
        "columns": {"trial": [*_TRIAL, COUNTED_FOR], "lessons": [*_LESSONS, COUNTED_FOR]},
    }
    policy = (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; form-action 'none'; "
        "base-uri 'none'"
    )
    # a script element ends at the first "</", wherever that stands
    data = json.dumps(setup, ensure_ascii=False).replace("<", "\\u003c")
    counted = tuple(dict.fromkeys(chain(*_COUNTED.values())))
    shown = {"lang": lang, "words": words, "counted": counted, "planned": bool(planned)}
    return _template().render(shown, style=style, script=script, setup=data, policy=policy).encode()


@cache
def count_words(lang: str) -> Mapping[str, str]:
    """Its words in a language, with the English one where the language has none."""
    root = folder("templates")
    files = [root / tag / _WORDS for tag in dict.fromkeys(("en", lang))]
    return {key: text for path in files if path.is_file() for key, text in tables_of(path.read_text("utf-8")).items()}


@cache
def _template() -> Template:
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return environment.from_string(_text("page.html"))


@cache
def _text(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8").rstrip("\n")


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
