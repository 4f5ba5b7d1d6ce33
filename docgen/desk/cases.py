"""The cases of a folder as the desk shows them, read again when a file of theirs has changed."""

from __future__ import annotations

import hashlib
import re
import secrets
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager, nullcontext
from datetime import date
from pathlib import Path
from typing import Any

from msgspec import Struct
from msgspec.structs import replace
from pydantic.fields import FieldInfo
from starlette.exceptions import HTTPException
from starlette.requests import Request

from docgen.building import NotReady, approve_case, build_packet
from docgen.case.answers import with_answers
from docgen.case.edit import Edited, with_entry, with_key, without_entry
from docgen.case.key import FILE as KEY
from docgen.case.keys import keys_at, value_at
from docgen.case.lines import KeyPath
from docgen.case.new import start as start_case
from docgen.case.read import CaseFile, read_case
from docgen.case.rename import read_beside
from docgen.console.check import check_report
from docgen.console.first_page import respondent_named
from docgen.desk import history, papers, photos
from docgen.desk.approved import since_approval
from docgen.desk.builds import Build, Builds
from docgen.desk.fields import in_order, shown_answer, value_of
from docgen.desk.finishing import EVERYTHING, Choice, papers_of
from docgen.desk.forms import Upload
from docgen.desk.measured import unit_shown
from docgen.desk.naming import new_name
from docgen.desk.pasting import Pasted
from docgen.desk.picked import name_of
from docgen.desk.placed import closed_up, in_their_place
from docgen.desk.renaming import Proposal, others_of, renamed, replaced
from docgen.desk.sections import OF_ONES_OWN, Step, title_of, where_named
from docgen.desk.taking import read_answers
from docgen.errors import Problem, UserError
from docgen.filling import ask_sheet, asked_of_new
from docgen.library import check_case
from docgen.packet.approval import FILE as APPROVAL
from docgen.packet.assess import assess
from docgen.packet.contents import case_contents, contents
from docgen.packet.write import Packet
from docgen.private import alone_in, write_whole, writing
from docgen.recording_sheet import clipboard_pdf
from docgen.results import CaseCheck

_CASE = "case.toml"
_WORDLESS = (APPROVAL, KEY)  # files of a case that no page tells a word of


_KEYS_TO_FILL = re.compile(r"\bkey(s?) to fill in \([^()]*\)")


class Looked(Struct, frozen=True):
    """A case as it stands: what was read and judged of it, or why it cannot be read.

    stamp  changes when the case does, and tells nothing about it
    """

    folder: Path
    check: CaseCheck | None
    report: dict[str, Any]
    problems: tuple[Problem, ...] = ()
    stamp: str = ""

    @property
    def name(self) -> str:
        """The client's name, or the folder's where the case has none yet or cannot be read."""
        return (self.check and self.check.case.client.name) or self.folder.name

    @property
    def summary(self) -> str:
        """Where it stands, without the names of keys, which nobody sees at the desk."""
        return _KEYS_TO_FILL.sub(lambda n: "answers to give" if n[1] else "answer to give", str(self.report["summary"]))

    @property
    def file(self) -> CaseFile:
        """The case as read; only where it can be."""
        assert self.check is not None
        return self.check.assessed.file


class Conflict(Exception):
    """A key has another value than the page showed when it was answered; `now` is what the case holds."""

    def __init__(self, now: str) -> None:
        self.now = now
        super().__init__(now)


class NamedElsewhere(Exception):
    """An entry that was to be taken out is named by others; `steps` lead to each, and `others` are those of its list
    that can be put in its place."""

    def __init__(self, entry: KeyPath, steps: tuple[Step, ...], others: tuple[tuple[str, str], ...]) -> None:
        self.entry, self.steps, self.others = entry, steps, others
        super().__init__(steps)


class Cases:
    """The cases below a folder; each has an address that tells nothing about anybody."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._salt = secrets.token_bytes(16)
        self.out = (folder.parent if (folder / "case.toml").is_file() else folder) / "out"  # where packets are written
        self._looked: dict[Path, tuple[str, Looked]] = {}
        self._read: dict[Path, tuple[str, set[str]]] = {}
        self._chosen: dict[Path, Choice] = {}
        self.builds = Builds()

    def folders(self) -> dict[str, Path]:
        """Address -> folder of each case, by name."""
        folders = [self.folder] if (self.folder / "case.toml").is_file() else []
        folders += sorted(path.parent for path in self.folder.glob("*/case.toml") if not path.parent.is_symlink())
        return {self.address(path): path for path in folders}

    def of_request(self, request: Request) -> Path:
        """The case that an address names. Raises HTTPException where there is none."""
        folder = self.folders().get(request.path_params["case"])
        if folder is None:
            raise HTTPException(404)
        return folder

    def address(self, folder: Path) -> str:
        """The address of a case, from which nothing can be told without this run of the desk."""
        return hashlib.blake2b(folder.name.encode(), key=self._salt, digest_size=9).hexdigest()

    def known(self, folder: Path) -> Looked | None:
        """The case as it was looked at; None where it was not yet, or has changed since."""
        return self._known(folder, _stamp(folder)) if folder in self._looked else None

    def _known(self, folder: Path, stamp: str) -> Looked | None:
        before, looked = self._looked.get(folder, ("", None))
        return looked if before == stamp else None

    def _file(self, folder: Path) -> CaseFile:
        """The case as it is now, which is read once for what is shown and what is changed. Raises UserError."""
        looked = self.known(folder)
        return looked.file if looked and looked.check else read_case(folder)

    def look(self, folder: Path) -> Looked:
        """The case as it stands now."""
        stamp = _stamp(folder)
        if looked := self._known(folder, stamp):
            return looked
        try:
            check = check_case(folder, today=date.today(), reading=False)
            mark = hashlib.blake2b(stamp.encode(), key=self._salt, digest_size=6).hexdigest()
            looked = Looked(folder, check, check_report(check), stamp=mark)
        except UserError as failure:
            looked = Looked(folder, None, {}, failure.problems)
        self._looked[folder] = stamp, looked
        return looked

    def answer(self, folder: Path, path: KeyPath, given: list[str], was: str, photo: Upload | None = None) -> None:
        """Write the answer to one question.

        was    what the page showed when it was answered
        photo  in place of a text, for the key of a photo's file
        Raises Conflict where the key has changed meanwhile, ValueError for what is no answer, UserError where the case
        could not be read with it.
        """
        with _photo_beside(folder, photo, path) as name, alone_in(folder):
            file = self._file(folder)
            info, value = _answered(file, path, [name] if name else given)
            _refuse_missing_entry(file, path)
            if len(given) > 1:
                value = in_order(value, value_at(file.case, path))
            now = shown_answer(file, path, info, value_at(file.case, path))
            if now != was.replace("\r\n", "\n").strip() and now != shown_answer(file, path, info, _frozen(value)):
                raise Conflict(now)
            if isinstance(value, str) and value == now:  # a measure is shown in another unit than the file may have
                return
            self._write(folder, file, in_their_place(file, with_key(file, path, value)), f"answered: {title_of(path)}")

    def add(self, folder: Path, of_list: KeyPath, keys: dict[str, list[str]], photo: Upload | None = None) -> KeyPath:
        """Add an entry to a list; its path. Raises ValueError for what is no answer, UserError where the case could not
        be read with it."""
        with _photo_beside(folder, photo, (*of_list, 0, "file")) as photo_name, alone_in(folder):
            file = self._file(folder)
            given = keys | ({"file": [photo_name]} if photo_name else {})
            if of_list == ("findings",) and given.get("id") == [OF_ONES_OWN]:
                given = {name: texts for name, texts in given.items() if name != "id"} | {"own": ["true"]}
            values = {name: _answered(file, (*of_list, 0, name), texts)[1] for name, texts in given.items()}
            values = {name: value for name, value in values.items() if value is not None}
            name = new_name(file.case, of_list, values)
            edited = in_their_place(file, with_entry(file, of_list, ({"id": name} if name else {}) | values))
            self._write(folder, file, edited, f"added to: {title_of(of_list)}")
        before, now = (value_at(case, of_list, ()) for case in (file.case, edited.file.case))
        return (*of_list, next((at for at, entry in enumerate(now) if entry not in before), len(now) - 1))

    def remove(self, folder: Path, entry: KeyPath) -> None:
        """Take an entry out of its list. Raises NamedElsewhere where others name it, ValueError where it is not there,
        UserError where the case could not be read without it."""
        with alone_in(folder):
            file = self._file(folder)
            _refuse_missing_entry(file, entry)
            says = f"taken out: {name_of(value_at(file.case, entry))}"
            try:
                edited = closed_up(file, without_entry(file, entry))
            except UserError:
                if steps := where_named(file.case, entry):
                    raise NamedElsewhere(entry, steps, others_of(file.case, entry)) from None
                raise
            self._write(folder, file, edited, says)

    def rename(
        self, folder: Path, entry: KeyPath, name: str, shown: str = "", takes_out: bool = False
    ) -> Proposal | None:
        """Change the name of an entry wherever it stands, or put another one in its place and take it out.

        shown  the stamp of the case as it was when the change was shown
        What is to be shown first; None once it is done, which it is only in the case as it was shown. Raises UserError.
        """
        with alone_in(folder):
            file = self._file(folder)
            _refuse_missing_entry(file, entry)
            proposal, change = (replaced if takes_out else renamed)(file, entry, name)
            if not shown or shown != self.look(folder).stamp:
                return proposal
            before = {name: (folder / name).read_bytes() for name in change.files} | {_CASE: file.text.encode()}
            after = {**change.files, _CASE: change.text.encode()}
            says = (
                f"instead of {proposal.what}: {proposal.instead}" if takes_out else f"renamed: {proposal.old} to {name}"
            )
            with writing(folder):
                history.keep(folder, before, after, says)
                for file_name, data in after.items():
                    write_whole(folder / file_name, data)
        return None

    def take_back(self, folder: Path, all_the_same: bool = False) -> None:
        """Put what was there before the last change back, if there is one. Raises ChangedSince where a file of it was
        changed elsewhere afterwards and that is not to go too, UserError where the case could not be read."""
        with alone_in(folder):
            files = dict(history.before_last(folder) or {})
            if (text := files.pop(_CASE, None)) is not None:
                read_beside(text.decode(), {name: data for name, data in files.items() if data is not None}, folder)
            with writing(folder):
                history.put_back(folder, all_the_same)

    def take_rows(self, folder: Path, take: Callable[[], Pasted]) -> Pasted:
        """Take rows into a case; what was written can be taken back.

        take  takes them, and writes them where its user said so
        """
        with alone_in(folder):
            before = {path.name: path.read_bytes() for path in folder.glob("*.csv") if not path.is_symlink()}
            result = take()
            if result.written:
                after = {name: (folder / name).read_bytes() for name in result.written}
                says = f"rows taken in: {result.written[0]}"
                history.keep(folder, {name: before.get(name) for name in after}, after, says)
            return result

    def note_read(self, folder: Path, name: str) -> None:
        """Note that a document was opened as it now is."""
        self._read[folder] = _stamp_of_words(folder), self.read_of(folder) | {name}

    def read_of(self, folder: Path) -> set[str]:
        """Names of the documents that were opened as they now are."""
        stamp, names = self._read.get(folder, ("", set()))
        return names if stamp == _stamp_of_words(folder) else set()

    def chosen(self, folder: Path) -> Choice:
        """What was chosen for the last packet of a case in this run of the desk."""
        return self._chosen.get(folder, EVERYTHING)

    def build(self, folder: Path, chosen: Choice) -> Build:
        """Begin the packet of a case, with what is chosen and the papers of others that are kept."""
        self._chosen[folder] = chosen

        def work() -> Packet:
            return build_packet(
                folder,
                self.out,
                formats=chosen.formats,
                langs=chosen.langs,
                large_print=chosen.large_print,
                enclose=[*chosen.enclose, *papers.words_of(folder)],
            )

        return self.builds.begin(folder, work)

    def packet_of(self, folder: Path) -> Path | None:
        """Where the packet of a case is; None where none was built."""
        packet = self.out / folder.resolve().name
        return packet if packet.is_dir() else None

    def approve(self, folder: Path, by: str) -> list[str]:
        """Record who reviewed exactly this, once each document was opened. Raises UserError where that cannot be."""
        looked = self.look(folder)
        unread = [name for name in papers_of(looked.check) if name not in self.read_of(folder)] if looked.check else []
        if unread:
            what = f"these documents were not opened as they now are: {', '.join(unread)}"
            raise UserError([Problem(str(folder), what, "Open each, read it, then approve.")])
        try:
            approval = approve_case(folder, by)
        except NotReady as refusal:
            says = [f"{verdict.criterion.claim}: {verdict.answer.reason}" for verdict in refusal.open]
            raise UserError(Problem(str(folder), "cannot be approved yet", reason) for reason in says) from None
        since_approval(assess(folder))  # keeps its words
        remark = [f"{approval.remark}."] if approval.remark else []
        return [f"Reviewed by {approval.by} on {approval.on}. Build the packet to mark its pages.", *remark]

    def take_signed(self, folder: Path, by: str, scan: Upload | None) -> list[str]:
        """Take the scan of the signed letter into the case folder. Raises UserError where it cannot be that."""
        if scan is None:
            raise UserError([Problem("the scan", "was not chosen", "Choose the PDF of the signed letter.")])
        names = (f"signed-letter{number}.pdf" for number in ("", *(f"-{n}" for n in range(2, 1000))))
        path = next(folder / name for name in names if not (folder / name).exists())
        scan.put(path)
        try:
            approve_case(folder, by, signed_letter=path, out=self.out)
        except UserError as failure:
            path.unlink()
            raise UserError(
                [Problem(scan.name, f"the scan {problem.what}", problem.do) for problem in failure.problems]
            ) from None
        return [f"{path.name} is the letter, signed. Build the packet again."]

    def sheet(self, folder: Path, respondent: str) -> list[str]:
        """Write a sheet of what is still needed from one reader. Raises UserError where that cannot be."""
        written = ask_sheet(folder, respondent_named(respondent, by_sheet=True))
        return [f"Wrote {', '.join(path.name for path in written)} into the case folder."] if written else []

    def take_answers(self, folder: Path, path: Path) -> list[str]:
        """Take a file of answers into a case as one change. Raises UserError where that cannot be."""
        with alone_in(folder):
            file = self._file(folder)
            answers, sheet = read_answers(file, path)
            edited = in_their_place(file, Edited(*with_answers(file, sheet, date.today())))
            self._write(folder, file, edited, f"answers taken in from {answers.who}")
        n = len(answers.taken)
        return [f"{n} {'answer' if n == 1 else 'answers'} taken in from {answers.who}."]

    def start(self, given: Mapping[str, str]) -> Path:
        """A new case from three answers and its name. Raises UserError where that cannot be."""
        name = given.get("id", "")
        if not name or Path(name).name != name:
            do = "Use small letters, digits and hyphens, such as robin-example."
            raise UserError([Problem(name or "the name", "is not an id", do)])
        asked = asked_of_new([given["payer"]] if given.get("payer") else (), given.get("kind"), given.get("control"))
        return start_case(self.folder / name, clipboard_pdf, asked=asked)

    def _write(self, folder: Path, file: CaseFile, edited: Edited, says: str) -> None:
        if edited.text == file.text:
            return
        with writing(folder / _CASE):
            history.keep(folder, {_CASE: file.text.encode()}, {_CASE: edited.text.encode()}, says)
            write_whole(folder / _CASE, edited.text.encode())


def _photo_beside(folder: Path, photo: Upload | None, path: KeyPath) -> AbstractContextManager[str]:
    """The name of a photo that is put beside the case; "" where none was sent, or for a key of anything else."""
    is_of_photo = path[0] == "photos" and path[-1] == "file"
    return photos.beside(folder, photo) if photo and is_of_photo else nullcontext("")


def _answered(file: CaseFile, path: KeyPath, given: list[str]) -> tuple[FieldInfo, Any]:
    """A question of a case, and what the case is to hold for its answer. Raises ValueError for what is neither."""
    name = str(path[-1])
    info = keys_at(path[:-1]).get(name)
    if info is None:
        raise ValueError("The case has no such question.")
    return info, value_of(info, name, given, unit_shown(file, path))


def _refuse_missing_entry(file: CaseFile, path: KeyPath) -> None:
    """Raise ValueError where the path leads through an entry that there is not, or no more."""
    for at, part in enumerate(path):
        if isinstance(part, int) and value_at(file.case, path[: at + 1]) is None:
            raise ValueError("This entry is not in the case any more. Load the page again.")


def _frozen(value: Any) -> Any:
    return tuple(value) if isinstance(value, list) else value


def _stamp(folder: Path) -> str:
    """What changes when a file of a case does."""
    return contents(folder).digest


def _stamp_of_words(folder: Path) -> str:
    """What changes when a page of the case may: neither its key, which the first build writes, nor its approval."""
    case = case_contents(folder)
    return replace(case, files={name: data for name, data in case.files.items() if name not in _WORDLESS}).digest
