"""Who reviewed exactly this content, and what has changed since.

The content is kept as digests by part: each section of the case, the rows and totals of the trial, the payer's rules in
force, each template and the fixed words, the letterhead, and each document as worked out. What counts is content:
comments, the layout of a TOML file and the place of a folder change nothing; any fact, row, rule or word does.

An approval is a record beside the case, not a signature: nothing on a page is signed by it.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec import Struct
from msgspec.structs import asdict

from docgen import __version__
from docgen.case.files import leads_out, text_of
from docgen.case.model import Case
from docgen.case.private_keys import private_masked
from docgen.case.toml import read_toml
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.who import ORDINALS
from docgen.criteria.payer import Payer
from docgen.criteria.run import Verdict
from docgen.errors import Problem, UserError
from docgen.packet.assess import Assessed, asked_on, later_payers
from docgen.packet.reviewer import reviewer
from docgen.private import write_whole, writing

if TYPE_CHECKING:
    from docgen.packet.wording import Wording
    from docgen.rendering.letterhead import Letterhead

FILE = "approval.toml"
LETTER = "letter"
_FORMAT = "docgen approval 1"
_MOST_BYTES = 100_000
_TEMPLATE_COMMENT = re.compile(r"\{#.*?#\}", re.S)
_WORDINGS_KEPT = 10  # of the languages, and of a clinic
_PAGES, _LETTERHEAD = "pages of ", "letterhead"


class Review(Struct, frozen=True):
    """A recorded approval held against the content as it is now.

    by       name and credential as given
    program  program and version that worked out what was reviewed
    changed  parts that differ from what was reviewed, in words
    """

    by: str
    on: date
    program: str
    changed: tuple[str, ...] = ()

    @property
    def stands(self) -> bool:
        """Whether nothing has changed since."""
        return not self.changed

    def outdates(self, on: date) -> bool:
        """Whether a page of this day has changed since this review, on a day of which there is no record: with the day
        of the page there would be two sheets of one day."""
        return not self.stands and on <= self.on

    def __str__(self) -> str:
        text = f"reviewed by {self.by} on {self.on}"
        return text if self.stands else f"{text}, changed since: {', '.join(self.changed)}"


def printed_day(day: date | None, review: Review | None) -> date | None:
    """The day that a page of this day bears; None where the record has none, or the page has changed since it was
    reviewed."""
    return None if day and review and review.outdates(day) else day


class NotReady(UserError):
    """Points are open that block, so nothing was approved; `open` holds them."""

    def __init__(self, case: Case, open_points: tuple[Verdict, ...]) -> None:
        self.case, self.open = case, open_points
        super().__init__(
            Problem(case.id, f"is not approved: {verdict.criterion.claim}: {verdict.answer.reason.rstrip('.')}")
            for verdict in open_points
        )


def parts(assessed: Assessed, worded: Wording, letterhead: Letterhead | None = None) -> dict[str, str]:
    """Part of the content -> its SHA-256, for every part that holds anything: what pages follow from, and the pages."""
    return basis(assessed, worded, letterhead) | _pages(assessed, worded)


def _pages(assessed: Assessed, worded: Wording) -> dict[str, str]:
    """The same of the pages alone."""
    # a case that nobody has approved is looked through without what lays pages out
    from docgen.packet.trees import trees_to_read
    from docgen.rendering.tree import outline

    return {_PAGES + name: digest(outline(tree)) for name, tree in trees_to_read(assessed, worded).items()}


def basis(
    assessed: Assessed, worded: Wording, letterhead: Letterhead | None = None, *, of_pages: bool = False
) -> dict[str, str]:
    """The same without the pages, which follow from all this and from the program.

    of_pages  without the private notes, which no page shows and which a worker elsewhere never sees
    """
    case = assessed.file.case
    recorded = private_masked(sections(case)) if of_pages else sections(case)
    contents = {name: section for name, section in recorded.items() if section}
    contents["trial.csv"] = _filled_in(case.records)
    if case.totals:
        contents[TOTALS_FILE] = _filled_in(case.totals)
    if case.sessions:
        contents["sessions.csv"] = _filled_in(case.sessions)
    contents["payer rules"] = _rules(case, assessed.payer)
    for order, payer in zip(ORDINALS, later_payers(assessed.file), strict=False):
        contents[f"rules of the {order} payer"] = _rules(case, payer)
    digests = {name: digest(content) for name, content in contents.items()} | _wording_digests(worded)
    if case.photos and assessed.copy is None:  # the files too: another picture under the same name is another page
        from docgen.packet.photos import plain_photos  # with what draws

        files = {name: hashlib.sha256(photo.jpeg).hexdigest() for name, photo in plain_photos(assessed.file).items()}
        digests["photo files"] = digest(files)
    if letterhead is not None:
        digests[_LETTERHEAD] = digest(letterhead.digest)
    return digests


def _rules(case: Case, payer: Payer) -> list[Any]:
    """What counts of a payer's rules for a case."""
    rows = payer.in_force(asked_on(case, payer))
    return [payer.id, payer.name, payer.locale, [row.model_dump(mode="json") for row in rows]]


def _filled_in(rows: Iterable[Struct]) -> list[dict[str, Any]]:
    """What rows or totals hold, without their place in the file."""
    return [{k: v for k, v in asdict(row).items() if k != "line" and v is not None} for row in rows]


@lru_cache(_WORDINGS_KEPT)
def _wording_digests(worded: Wording) -> dict[str, str]:
    """Digests of the templates, of the parts that they share, and of the fixed words; the same for every case."""
    contents: dict[str, Any] = {}
    for name, document in worded.documents.items():
        front = [
            document.title,
            document.head,
            document.reader,
            document.order,
            document.plain,
            document.shows,
            document.figures,
        ]
        contents[f"{name} wording"] = [front, _speaking_lines(document.body)]
    for name, text in worded.parts.items():
        if any(f'"{name}"' in document.body for document in worded.documents.values()):
            contents[f"shared wording {name}"] = _speaking_lines(text)
    return {name: digest(content) for name, content in contents.items()} | {"fixed words": digest(worded.words)}


def sections(case: Case) -> dict[str, Any]:
    """Sections of the case without what is not recorded; format and name of the files are no content."""
    sections = case.model_dump(mode="json", exclude_defaults=True)
    sections.pop("format")
    sections.get("trial", {}).pop("rows", None)
    return sections


def _speaking_lines(template: str) -> list[str]:
    """Lines of a template that say or do something."""
    lines = (line.rstrip() for line in _TEMPLATE_COMMENT.sub("", template).split("\n"))
    return [line for line in lines if line]


def digest(content: Any) -> str:
    """SHA-256 of plain data, however its keys are ordered."""
    text = json.dumps(content, sort_keys=True, ensure_ascii=False, separators=(",", ":"), default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def approve(
    assessed: Assessed, by: str, on: date, worded: Wording, letterhead: Letterhead | None = None
) -> tuple[Path, str]:
    """Record that `by` reviewed exactly this content on that day: the file written, and a remark or "".

    Raises NotReady when points are open that block, and UserError when `by` cannot have reviewed it.
    """
    folder = assessed.file.folder
    if assessed.open:
        raise NotReady(assessed.file.case, assessed.open)
    by, remark = reviewer(by, assessed.file.case)
    content = parts(assessed, worded, letterhead)
    text = _written(by, on, f"docgen {__version__}", content)
    with writing(folder / FILE):
        write_whole(folder / FILE, text.encode())
    return folder / FILE, remark


def _written(by: str, on: date, program: str, content: Mapping[str, str]) -> str:
    """The record as TOML. Its own digest makes a change by hand plain."""
    lines = [
        "# Written by 'docgen approve': who reviewed exactly this content. It is no signature.",
        "# Any change to the case, its rows, the rules or the wording makes the packet a draft again.",
        f'format = "{_FORMAT}"',
        f"by = {quoted(by)}",
        f"on = {on}",
        f"program = {quoted(program)}",
        f'digest = "{_seal(by, on, program, content)}"',
        "",
        "# SHA-256 of each part",
        "[parts]",
        *(f'{quoted(name)} = "{digest}"' for name, digest in content.items()),
    ]
    return "\n".join(lines) + "\n"


def quoted(text: str) -> str:
    """A text as a string of TOML."""
    return json.dumps(text, ensure_ascii=False)  # a JSON string is a TOML string


def _seal(by: str, on: date, program: str, content: Mapping[str, str]) -> str:
    return digest([by, str(on), program, dict(content)])


def reviewed(
    assessed: Assessed,
    worded: Wording | None = None,
    letterhead: Letterhead | None = None,
    any_letterhead: bool = False,
) -> Review | None:
    """The approval recorded beside the case, held against its content now; None when there is none.

    worded          the program's own wording when None
    any_letterhead  whatever the letterhead was, as for one who looks at the case alone

    Raises UserError when the record is not one that this program wrote.
    """
    path = assessed.file.folder / FILE
    if not os.path.lexists(path):
        return None
    if leads_out(path, path.parent):
        raise UserError(
            [Problem(str(path), "is a link that leads out of the case folder", "Put the file itself there.")]
        )
    by, on, program, then = _read(path)
    if worded is None:
        from docgen.packet.wording import wording

        worded = wording()
    if any_letterhead:
        then.pop(_LETTERHEAD, None)
    pages_then = {name: then.pop(name) for name in [*then] if name.startswith(_PAGES)}
    changed = _differing(then, basis(assessed, worded, letterhead))
    # pages follow from everything else, so they are named, and made, only when nothing else explains a change
    return Review(by, on, program, changed or _differing(pages_then, _pages(assessed, worded)))


def _differing(then: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """Parts that differ, or that only one of both has."""
    return tuple(name for name in {**then, **now} if then.get(name) != now.get(name))


def record_to_send(case: Case, path: Path) -> bytes:
    """The record as it stands for the case with its private notes masked: a note that has not changed since leaves no
    mark.

    Raises UserError when the record is not one that this program wrote.
    """
    by, on, program, then = _read(path)
    unchanged = {name: section for name, section in sections(case).items() if then.get(name) == digest(section)}
    masked = {name: digest(section) for name, section in private_masked(unchanged).items()}
    return _written(by, on, program, {**then, **masked}).encode()


def _read(path: Path) -> tuple[str, date, str, dict[str, str]]:
    text = text_of(path, str(path), _MOST_BYTES)
    try:
        raw = read_toml(text, str(path)).tables
        by, on, program, content, seal = raw["by"], raw["on"], raw["program"], raw["parts"], raw["digest"]
        whole = raw["format"] == _FORMAT and type(on) is date and seal == _seal(by, on, program, content)
    except (UserError, KeyError, TypeError, AttributeError, ValueError, RecursionError):
        whole = False
    if not whole:
        raise UserError(
            [
                Problem(
                    f"{path}:1",
                    "is not as 'docgen approve' wrote it",
                    "Take it away, or review the packet and approve it again.",
                )
            ]
        )
    return by, on, program, content
