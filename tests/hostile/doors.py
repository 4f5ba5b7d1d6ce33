"""The doors through which a user's files come in, and what may happen there: refused with the place, or valid. Nothing
else."""

from __future__ import annotations

import hashlib
import io
import json
import os
import re
import shutil
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from random import Random

import docx
import docx.oxml.ns
from mutate import broken
from mutate_files import other_parts, other_picture, other_template
from mutate_tables import other_rows, other_tables
from PIL import Image
from support import NOT_REVIEWED, SMALL, SMALL_ROWS

import docgen.fit.feature
from docgen.console.check import check_report
from docgen.console.check_page import check_text
from docgen.criteria.payer import read_payer
from docgen.errors import UserError
from docgen.packet.approval import reviewed
from docgen.packet.assess import assess
from docgen.packet.letterhead import read_letterhead
from docgen.packet.recipe import Selection
from docgen.packet.wording import overlaid, wording
from docgen.packet.write import build
from docgen.resources import folder
from docgen.results import CaseCheck

TODAY = date(2026, 11, 25)
REFUSED, VALID, BUILT = "refused with its place", "valid", "valid and built"
SECONDS = 20
_CASE = "ilmari-okonjo-vale"
_ANY_CASE = sorted(path.parent for path in folder("cases").glob("*/case.toml"))
_SESSIONS = b"""date,stage,task,success,help,seconds,contacts,near_misses,minutes,fatigue_after,skin,stopped,note
2026-06-01,ready,stop_still,1,I,2.5,0,0,15,2,no,,
2026-06-01,ready,stop_still,0,IV,4,1,0,,,,,"too tired, a rest"
2026-06-03,touch,act_again,1,I,3,0,1,20,3,no,pain,
"""


_TOTALS = b"""date,method,task,attempts,done,contacts,stops_asked,stops_made,slowest_release_s,releases_s,minutes,note
2026-02-03,head_pads,straight_10,6,5,2,4,4,1.1,,12,
2026-02-03,head_pads,stop_request,4,4,0,,,,0.4 0.5 0.9,,"by film, twice"
2026-02-04,head_pads,doorway,3,0,5,,,2,,8,
"""


class Failed(Exception):
    """Something happened at a door that must not."""


class _Hang(BaseException):
    pass


@dataclass(frozen=True)
class Door:
    """One way in: valid files to start from, how they may be changed, and what enters with the changed file.

    enter(home, data, depth) writes the data where the door looks for it and goes on as far as `depth` says:
    0 read and answered, 1 also checked, 2 also built as HTML, 3 built in every format. `home` is made by `make`.
    """

    name: str
    seeds: tuple[bytes, ...]
    changes: tuple[Callable[[bytes, Sequence[bytes], Random], bytes], ...]
    place: Callable[[Path, bytes], Path]
    enter: Callable[[Path, bytes, int], None]

    def hostile(self, random: Random) -> bytes:
        """One hostile input."""
        return random.choice(self.changes)(random.choice(self.seeds), self.seeds, random)

    def tried(self, home: Path, data: bytes, depth: int, at: Path | None = None) -> str:
        """What came of the data; `at` when something else than plain bytes already stands in its place. Raises
        Failed."""
        out = home / "out"
        shutil.rmtree(out, ignore_errors=True)
        try:
            with _limited():
                if at is None:
                    self.place(home, data).write_bytes(data)
                self.enter(home, data, depth)
        except UserError as failure:
            _located(failure, home)
            if out.exists() and any(out.rglob("*")):
                raise Failed("left files behind") from None
            return REFUSED
        except _Hang:
            raise Failed(f"took longer than {SECONDS} s") from None
        except Exception as failure:
            raise Failed(f"traceback: {type(failure).__name__}: {str(failure)[:200]}") from failure
        _whole(out)
        return BUILT if depth > 1 else VALID


@contextmanager
def _limited() -> Iterator[None]:
    def stop(*_: object) -> None:
        raise _Hang

    before = signal.signal(signal.SIGALRM, stop)
    signal.setitimer(signal.ITIMER_REAL, SECONDS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def _located(failure: UserError, home: Path) -> None:
    """Every problem names its file, is one line that a terminal shows as it is, and is not the whole file."""
    if not failure.problems or len(failure.problems) > 150:
        raise Failed(f"{len(failure.problems)} problems told")
    for problem in failure.problems:
        told = str(problem)
        file, _, line = (
            problem.where.rpartition(":") if re.search(r":\d+$", problem.where) else (problem.where, "", "1")
        )
        if not file.startswith((str(home), "docgen/")) or int(line) < 1:
            raise Failed(f"names no file: {told[:200]}")
        if len(told) > 2000 or not re.fullmatch(r"[^\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]+", told):
            raise Failed(f"is no plain sentence: {told[:200]!r}")


def _whole(out: Path) -> None:
    """Every file of a packet is the one its manifest names, and there is no other."""
    for manifest in out.glob("*/manifest.json"):
        named = {entry["name"]: entry["sha256"] for entry in json.loads(manifest.read_text(encoding="utf-8"))["files"]}
        found = {
            path.name: hashlib.sha256(path.read_bytes()).hexdigest()
            for path in manifest.parent.iterdir()
            if path != manifest
        }
        if named != found:
            raise Failed("partial files")


def make(home: Path) -> Path:
    """A folder with everything that a door needs beside the file under test."""
    for source in _ANY_CASE:
        shutil.copytree(source, home / source.name, ignore=NOT_REVIEWED)
    (home / "small").mkdir()
    (home / "small" / "case.toml").write_text(SMALL, encoding="utf-8")
    (home / "small" / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    for name in ("payer", "overlay", "features", "letterhead"):
        (home / name).mkdir()
    (home / "letterhead" / "letterhead.toml").write_bytes(_LETTERHEAD)
    (home / "letterhead" / "logo.png").write_bytes(_LOGOS[0])
    return home


def _on(case: Path, depth: int, payer: object = None, worded: object = None, head: object = None) -> None:
    one = assess(case, payer)
    worded = worded or wording()
    if depth > 0:
        check_text(check_report(CaseCheck(one, TODAY, reviewed(one, worded))))
    if depth > 1:
        build(
            one,
            case.parent / "out",
            Selection(("html",) if depth == 2 else ("docx", "pdf", "html")),
            worded=worded,
            letterhead=head,
        )


def _case_of(home: Path, data: bytes) -> Path:
    """The folder whose name the case gives, or the small one."""
    found = re.search(rb'^id = "([a-z-]+)"', data, re.M)
    name = found[1].decode() if found else "small"
    return home / (name if name in os.listdir(home) else "small")


def _csv(name: str) -> Callable[[Path, bytes, int], None]:
    def enter(home: Path, data: bytes, depth: int) -> None:
        try:
            _on(home / _CASE, depth)
        finally:
            if name in ("totals.csv", "sessions.csv") and (home / _CASE / name).is_file():
                (home / _CASE / name).unlink(missing_ok=True)

    return enter


def _enter_case(home: Path, data: bytes, depth: int) -> None:
    _on(_case_of(home, data), depth)


def _enter_payer(home: Path, data: bytes, depth: int) -> None:
    read_payer.cache_clear()
    _on(home / _CASE, depth, read_payer(home / "payer" / "own.toml"))


def _enter_feature(home: Path, data: bytes, depth: int) -> None:
    list(docgen.fit.feature._features_of(home / "features" / "proximity_sensing.toml"))
    if depth < 1:
        return
    own = docgen.fit.feature._FOLDER
    for path in own.glob("*.toml"):
        if path.name != "proximity_sensing.toml":
            shutil.copyfile(path, home / "features" / path.name)
    docgen.fit.feature._FOLDER = home / "features"
    docgen.fit.feature._features_in.cache_clear()
    try:
        _on(home / _CASE, depth)
    finally:
        docgen.fit.feature._FOLDER = own
        docgen.fit.feature._features_in.cache_clear()


def _place_overlay(home: Path, data: bytes) -> Path:
    for path in (home / "overlay").iterdir():
        path.unlink()
    if b"reader" not in data[:400]:
        part = next((name for name, start in _STARTS.items() if data.startswith(start)), "_open.md")
        return home / "overlay" / ("words.toml" if b"macro" not in data else part)
    title = re.search(rb"^title = .*", data, re.M)
    name = next((name for name in _TITLES if title and _TITLES[name] == title[0]), "letter")
    return home / "overlay" / f"{name}.md"


def _enter_overlay(home: Path, data: bytes, depth: int) -> None:
    _on(home / _CASE, depth, worded=overlaid(home / "overlay"))


def _enter_letterhead(home: Path, data: bytes, depth: int) -> None:
    try:
        head = read_letterhead(home / "letterhead")
        if depth > 0:
            one = assess(home / _CASE)
            build(one, home / "out", Selection(("docx", "pdf", "html"), ("order",)), letterhead=head)
    finally:
        if (home / "letterhead" / "letterhead.docx").is_file():
            (home / "letterhead" / "letterhead.docx").unlink()


def _models() -> Iterator[bytes]:
    """DOCX files as a word processor makes them: with a head, a foot, a page number and a picture."""
    for full in (False, True):
        document = docx.Document()
        if full:
            section = document.sections[0]
            section.header.paragraphs[0].text = "Example Seating Clinic"
            section.header.paragraphs[0].add_run().add_picture(io.BytesIO(_LOGOS[0]))
            section.different_first_page_header_footer = True
            section.footer.paragraphs[0]._p.append(
                docx.oxml.parse_xml(
                    f'<w:fldSimple {docx.oxml.ns.nsdecls("w")} w:instr="PAGE"><w:r><w:t>1</w:t></w:r></w:fldSimple>'
                )
            )
        held = io.BytesIO()
        document.save(held)
        yield held.getvalue()


def _pictures() -> Iterator[bytes]:
    for mode, form in (("RGB", "PNG"), ("RGBA", "PNG"), ("P", "PNG"), ("L", "PNG"), ("RGB", "JPEG"), ("CMYK", "JPEG")):
        held = io.BytesIO()
        Image.new(mode, (60, 20), 3 if mode in "PL" else 0).save(held, form)
        yield held.getvalue()


def _bytes(*paths: Path) -> tuple[bytes, ...]:
    return tuple(path.read_bytes() for path in paths)


_EN, _PAYERS, _FEATURES = (
    folder("templates") / "en",
    Path(docgen.__file__).parent / "payers",
    docgen.fit.feature._FOLDER,
)
_STARTS = {path.name: path.read_bytes()[:60] for path in sorted(_EN.glob("_*.md"))}
_LOGOS = tuple(_pictures())
_LETTERHEAD = b"""name = "Example Seating Clinic"
address = ["1 Example Street", "Sample Town"]
phone = "555-0100"
accent = "#224466"
logo = "logo.png"
logo_alt = "a chair"
"""
_TITLES = {
    path.stem: next(line for line in path.read_bytes().split(b"\n") if line.startswith(b"title = "))
    for path in _EN.glob("*.md")
    if not path.name.startswith("_")
}
DOORS = {
    door.name: door
    for door in (
        Door(
            "case.toml",
            (*_bytes(*(path / "case.toml" for path in _ANY_CASE)), SMALL.encode()),
            (broken, other_tables, other_tables),
            lambda home, data: _case_of(home, data) / "case.toml",
            _enter_case,
        ),
        Door(
            "trial.csv",
            _bytes(_ANY_CASE[0].parent / _CASE / "trial.csv"),
            (broken, other_rows),
            lambda home, data: home / _CASE / "trial.csv",
            _csv("trial.csv"),
        ),
        Door(
            "totals.csv",
            (_TOTALS,),
            (broken, other_rows, other_rows),
            lambda home, data: home / _CASE / "totals.csv",
            _csv("totals.csv"),
        ),
        Door(
            "sessions.csv",
            (_SESSIONS,),
            (broken, other_rows, other_rows),
            lambda home, data: home / _CASE / "sessions.csv",
            _csv("sessions.csv"),
        ),
        Door(
            "payer",
            _bytes(*sorted(_PAYERS.glob("*.toml"))),
            (broken, other_tables),
            lambda home, data: home / "payer" / "own.toml",
            _enter_payer,
        ),
        Door(
            "feature",
            _bytes(*sorted(_FEATURES.glob("*.toml"))),
            (broken, other_tables),
            lambda home, data: home / "features" / "proximity_sensing.toml",
            _enter_feature,
        ),
        Door(
            "template overlay",
            _bytes(*sorted(_EN / name for name in (*wording().parts, *(f"{name}.md" for name in wording().documents)))),
            (broken, other_template, other_template),
            _place_overlay,
            _enter_overlay,
        ),
        Door(
            "words overlay",
            _bytes(_EN / "words.toml"),
            (broken, other_tables, other_tables),
            lambda home, data: (_place_overlay(home, b""), home / "overlay" / "words.toml")[1],
            _enter_overlay,
        ),
        Door(
            "letterhead.toml",
            (_LETTERHEAD,),
            (broken, other_tables),
            lambda home, data: home / "letterhead" / "letterhead.toml",
            _enter_letterhead,
        ),
        Door(
            "letterhead.docx",
            tuple(_models()),
            (broken, other_parts, other_parts),
            lambda home, data: home / "letterhead" / "letterhead.docx",
            _enter_letterhead,
        ),
        Door(
            "logo",
            _LOGOS,
            (broken, other_picture),
            lambda home, data: home / "letterhead" / "logo.png",
            _enter_letterhead,
        ),
    )
}


def _sparse(path: Path, there: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(200_000_000)


# what may stand in the place of a file, made by (path, a file elsewhere)
INSTEAD: dict[str, Callable[[Path, Path], None]] = {
    "nothing": lambda path, there: None,
    "a folder": lambda path, there: path.mkdir(),
    "a pipe": lambda path, there: os.mkfifo(path),
    "a link to a device": lambda path, there: path.symlink_to("/dev/zero"),
    "a link out of the folder": lambda path, there: path.symlink_to(there),
    "a link to itself": lambda path, there: path.symlink_to(path),
    "a link to nothing": lambda path, there: path.symlink_to(there.with_name("gone")),
    "a file of 200 MB": _sparse,
}
