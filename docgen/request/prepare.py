"""One case -> its request for prior authorization in the packet's folder, or all that keeps it from being written."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from docgen.criteria.payer import Payer
from docgen.criteria.run import Verdict
from docgen.errors import Problem, UserError, did_you_mean
from docgen.library import case_folder, payer_named, worded_by
from docgen.packet.approval import Review, reviewed
from docgen.packet.assess import Assessed, assess, on_its_day
from docgen.packet.letterhead import read_letterhead
from docgen.packet.manifest import Entry, Manifest, read_manifest
from docgen.packet.place import plain_bytes, sha256
from docgen.packet.render import PACKET
from docgen.packet.wording import Wording
from docgen.packet.write import content_now, put_beside
from docgen.request.bundle import as_bytes
from docgen.request.claim import request
from docgen.request.guide import GUIDES, LATEST, Guide
from docgen.request.submission import read_submission

FILE = "request.fhir.json"
DRAFT_FILE = "request_draft_not_to_send.fhir.json"


class Prepared(Struct, frozen=True):
    """What became of a request.

    path   the file written; None where something keeps it from being written
    open   answers of the case that block
    gaps   what is missing or not as it was approved, each with its place
    remarks  what else the biller must know
    """

    case_id: str
    path: Path | None
    open: tuple[Verdict, ...] = ()
    gaps: tuple[Problem, ...] = ()
    remarks: tuple[str, ...] = ()


def prepare_request(
    path: str | Path,
    out: str | Path = "out",
    *,
    version: str = LATEST,
    draft: bool = False,
    payer: str | Path | Payer | None = None,
    templates: str | Path | None = None,
    letterhead: str | Path | None = None,
) -> Prepared:
    """Write the request for prior authorization of a case into out/<id>, for whoever sends it.

    version  of the guide: one of `guide.GUIDES`
    draft    write what there is, as a draft that no conforming server takes, whatever is missing
    The rest as of `build_packet`: what was approved and built with them is what is sent.

    Raises UserError for a case or a submission that cannot be read.
    """
    guide = _guide(version)
    worded, head = worded_by(templates), read_letterhead(Path(letterhead)) if letterhead else None
    assessed = assess(case_folder(path), payer_named(payer))
    folder, case_id = assessed.file.folder, assessed.file.case.id
    review = reviewed(assessed, worded, head)
    target = Path(out) / case_id
    content = content_now(assessed, worded, head, review)
    manifest = read_manifest(target)
    pdf = _standing(target, manifest, content, draft)
    attached = {PACKET: pdf} if pdf is not None else {}
    submission = read_submission(folder)
    result = request(on_its_day(assessed).file, submission, guide, attached, draft)
    gaps = (
        *_unapproved(assessed, review),
        *([] if attached else [_no_packet(target, folder)]),
        *_too_much(target, manifest, worded),
        *([] if submission.read else [_no_submission(submission.path, folder)]),
        *result.gaps,
    )
    if not draft and (assessed.open or gaps):
        return Prepared(case_id, None, assessed.open, gaps, (*_remarks(assessed), *_earlier(target, manifest)))
    entry = Entry("", content, "draft" if draft else "approved", str(review or ""))
    name = put_beside(target, DRAFT_FILE if draft else FILE, as_bytes(result.bundle), entry, folder)
    return Prepared(case_id, target / name, remarks=_remarks(assessed))


def lacking(path: str | Path, version: str = LATEST) -> tuple[Problem, ...]:
    """What an electronic request of a case still needs from the biller and of the record, before any packet is made.

    Raises UserError for a case or a submission that cannot be read.
    """
    assessed = assess(case_folder(path))
    file = on_its_day(assessed).file
    submission = read_submission(file.folder)
    gaps = request(file, submission, _guide(version), {PACKET: b""}).gaps
    return gaps if submission.read else (_no_submission(submission.path, file.folder), *gaps)


def _guide(version: str) -> Guide:
    if version not in GUIDES:
        raise UserError(
            [Problem("--pas", f"'{version}' is no version that can be written", did_you_mean(version, GUIDES))]
        )
    return GUIDES[version]


def _unapproved(assessed: Assessed, review: Review | None) -> list[Problem]:
    """What keeps the case from being sent as it is: nobody has approved it, or not as it is now."""
    where, do = str(assessed.file.folder), "Review the packet and approve it with 'docgen approve'."
    if review is None:
        return [Problem(where, "nobody has approved this case", do)]
    return [] if review.stands else [Problem(where, f"the case was {review}", do)]


def _standing(target: Path, manifest: Manifest, content: str, draft: bool) -> bytes | None:
    """packet.pdf as it was built of just this content and approved; None where it does not stand there."""
    entry, data = manifest.files.get(PACKET), plain_bytes(target / PACKET)
    if entry is None or data is None or sha256(data) != entry.sha256 or entry.content != content:
        return None
    return data if draft or entry.verdict == "approved" else None


def _no_packet(target: Path, folder: Path) -> Problem:
    what = "is not there as the approved case makes it, and it goes with the request"
    return Problem(str(target / PACKET), what, f"Build the approved case: docgen build {folder}.")


def _no_submission(path: Path, folder: Path) -> Problem:
    return Problem(str(path), "is not there yet", f"Start it: docgen new {folder} --submission.")


def _too_much(target: Path, manifest: Manifest, worded: Wording) -> list[Problem]:
    """Documents in packet.pdf that are for others than the payer: they name caregivers, phones and lessons."""
    others = [name for name in manifest.packet_holds if name not in worded.sent]
    do = "Build it without them: leave --enclose out."
    what = f"holds what is not for the payer: {', '.join(others)}"
    return [Problem(str(target / PACKET), what, do)] if others else []


def _earlier(target: Path, manifest: Manifest) -> tuple[str, ...]:
    """That a request of an earlier submission stands there still."""
    stands = FILE in manifest.files and (target / FILE).exists()
    return (f"{target / FILE} is of an earlier state: do not send it.",) if stands else ()


def _remarks(assessed: Assessed) -> tuple[str, ...]:
    """Whether this payer must take a request in this form, as its file has it."""
    return (assessed.payer.electronic,) if assessed.payer.electronic else ()
