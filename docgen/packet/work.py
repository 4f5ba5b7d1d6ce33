"""One case after a recipe -> the files of its packet. Nothing is written, so any process anywhere can do it."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.nobody.kinds import no_legal_deidentification
from docgen.criteria.sentences import counted
from docgen.errors import Problem, UserError, place_of_fault
from docgen.packet.assess import Assessed, assess
from docgen.packet.contents import Contents, case_contents
from docgen.packet.letterhead import read_letterhead
from docgen.packet.recipe import Recipe, program_digest
from docgen.packet.scratch import Scratch
from docgen.packet.teaching import teaching_copy
from docgen.packet.typeface import unset
from docgen.packet.wording import Wording, overlaid, wording
from docgen.packet.write import Packet, packet_files

_MOST_LETTERS = 3  # that the PDF cannot set, told one by one
_ONE_AT_A_TIME = threading.Lock()  # what prints keeps fonts and styles for the whole process
_ELSEWHERE: dict[str, tuple[Worker, dict[str, str], Scratch]] = {}  # digest of a recipe -> of the latest alone


class Made(Struct, frozen=True):
    """The files of a packet by name, before they are written.

    remarks    what the user must be told of it
    made_from  digest of all that decides the files; empty when the case changed meanwhile
    """

    packet: Packet
    files: Mapping[str, bytes]
    remarks: tuple[str, ...]
    made_from: str


class Failed(Struct, frozen=True):
    """Why there is no packet."""

    problems: tuple[Problem, ...]


class Worker:
    """A process that makes packets after one recipe, each from a folder that it can read."""

    def __init__(self, recipe: Recipe, templates: Path | None = None, letterhead: Path | None = None) -> None:
        self.recipe = recipe
        self.worded = overlaid(templates) if templates else wording()
        self.letterhead = read_letterhead(letterhead) if letterhead else None

    def make(self, case: Contents, out: Path, at: Path | None = None) -> Made:
        """The packet of a case that stands at `at`, or where it was read. Raises UserError."""
        recipe, folder = self.recipe, at or case.path
        assessed = assess(folder, recipe.payer)
        if recipe.deidentified:
            assessed = teaching_copy(assessed, self.worded, out)
        files, packet = packet_files(assessed, out, recipe, self.worded, self.letterhead)
        same = at is not None or case_contents(folder, recipe.langs).digest == case.digest
        return Made(
            replace(packet, foreign=()),
            files,
            tuple(_remarks(assessed, packet, files, self.worded, recipe)),
            recipe.made_from(case) if same else "",
        )

    def attempt(self, case: Contents, out: Path, at: Path | None = None) -> Made | Failed:
        """The same, but whatever goes wrong is told, so that it stops no other case."""
        try:
            return self.make(case, out, at)
        except UserError as failure:
            return Failed(failure.problems)
        except Exception as fault:
            return fault_of(case, fault)


def here(recipe: Recipe) -> Worker:
    """A worker on the machine that the folders are on. Raises UserError for mistakes in templates or letterhead."""
    return Worker(recipe, *(part.path if part else None for part in (recipe.templates, recipe.letterhead)))


def attempt_elsewhere(recipe: Recipe, case: Contents, out: Path) -> Made | Failed:
    """A case on a machine that shares no disk: laid out in a folder of its own, which is gone at the end.

    What is told names the places that the user knows.
    """
    if recipe.program != program_digest():
        return Failed(
            (
                Problem(
                    "--cluster",
                    "a worker has another docgen than this machine, or other libraries to print with",
                    "Install the same on both.",
                ),
            )
        )
    with _ONE_AT_A_TIME, Scratch() as under:
        worker, places = _worker_elsewhere(recipe)
        at = case.lay_out(Path(under))
        result = worker.attempt(case, out, at)
        _forget_words()
        if isinstance(result, Made):
            return result
        return Failed(tuple(_renamed(problem, places | {str(at): str(case.path)}) for problem in result.problems))


def _worker_elsewhere(recipe: Recipe) -> tuple[Worker, dict[str, str]]:
    """The worker of a recipe in this process, and the user's name of each folder that is laid out for it."""
    if recipe.digest not in _ELSEWHERE:
        _forget()
        under = Scratch()
        own = {"templates": recipe.templates, "letterhead": recipe.letterhead}
        laid = {name: part.lay_out(Path(under.name) / name) if part else None for name, part in own.items()}
        places = {str(laid[name]): str(part.path) for name, part in own.items() if part}
        _ELSEWHERE[recipe.digest] = Worker(recipe, **laid), places, under
    return _ELSEWHERE[recipe.digest][:2]


def _forget_words() -> None:
    """What printing keeps of the words of a case; a process of a cluster may live for months."""
    from docgen.arial import arial_width
    from docgen.rendering.fonts import printable
    from docgen.rendering.pdf.lines import ems
    from docgen.rendering.picture import forget_pictures

    for kept in (arial_width, printable, ems):
        kept.cache_clear()
    forget_pictures()


def _forget() -> None:
    while _ELSEWHERE:
        _, _, under = _ELSEWHERE.popitem()[1]
        under.cleanup()


def _renamed(problem: Problem, places: Mapping[str, str]) -> Problem:
    sentences = [problem.where, problem.what, problem.do]
    for laid, named in places.items():
        sentences = [words.replace(laid, named) for words in sentences]
    return Problem(*sentences)


def fault_of(case: Contents, fault: BaseException) -> Failed:
    """A fault of the program: its kind and its place, for what it says may hold words of the case."""
    return Failed(
        (
            Problem(
                str(case.path),
                f"was not built, by a fault of docgen: {place_of_fault(fault)}",
                "Report it; with 'python -X dev -m docgen' the case alone shows all of it.",
            ),
        )
    )


def _remarks(
    assessed: Assessed, packet: Packet, files: Mapping[str, bytes], worded: Wording, recipe: Recipe
) -> Iterator[str]:
    for name in recipe.enclose if "packet.pdf" in files else ():
        yield f"packet.pdf holds the {name}, which is written for {worded.documents[name].reader}"
    for paper in recipe.papers:
        n_pages = counted(paper.pdf.n_pages, "page", "pages")
        yield f"packet.pdf holds {paper.file} as it came, {n_pages}: see that it is this person's and may be sent"
        if paper.pdf.left_out:
            yield f"what {paper.file} holds besides its pages is left out: {', '.join(paper.pdf.left_out)}"
    if packet.signed_letter:
        yield f"packet.pdf holds the scan {packet.signed_letter['file']} in place of the letter"
    if packet.unsigned:
        yield packet.unsigned
    if "pdf" in recipe.formats:
        lacking = unset(assessed.file)
        yield from map(str, lacking[:_MOST_LETTERS])
        if len(lacking) > _MOST_LETTERS:
            yield f"the PDF's typeface lacks {len(lacking) - _MOST_LETTERS} more; 'docgen check --json' lists them"
    if assessed.copy:
        yield (
            "Names and numbers are replaced and days moved, but free text needs a human eye: read every page "
            "before you pass it on."
        )
        yield f"Words that may be names: {', '.join(assessed.copy.doubtful) or 'none was found'}"
    for foreign in packet.foreign:
        yield from foreign.remarks()
    if assessed.copy:
        yield no_legal_deidentification()
