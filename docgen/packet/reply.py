"""What a worker on another machine sends back: bytes of JSON, read by shape; nothing in it is a program.

A name that is not plainly that of a file in the packet's folder is refused, so that no worker chooses where to write.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from docgen.errors import Problem
from docgen.packet.approval import Review
from docgen.packet.contents import Contents
from docgen.packet.manifest import MANIFEST
from docgen.packet.recipe import Recipe
from docgen.packet.work import Failed, Made, attempt_elsewhere
from docgen.packet.write import Packet


def _plain(name: str) -> str:
    if name in ("", MANIFEST) or name[0] == "." or any(char in name for char in "/\\:") or not name.isprintable():
        raise ValueError("is no plain name of a file")
    return name


class _Plain(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, ser_json_bytes="base64", val_json_bytes="base64")


class _Review(_Plain):
    by: str
    on: date
    program: str
    changed: tuple[str, ...]


class _Problem(_Plain):
    where: str
    what: str
    do: str


class _Reply(_Plain):
    """Either files with what is known of them, or problems."""

    files: dict[Annotated[str, AfterValidator(_plain)], bytes] = {}
    remarks: tuple[str, ...] = ()
    open: Annotated[int, Field(ge=0)] = 0
    review: _Review | None = None
    content: str = ""
    letter_words: str = ""
    unreviewed: tuple[Annotated[str, AfterValidator(_plain)], ...] = ()
    problems: tuple[_Problem, ...] = ()


def answer(recipe: Recipe, case: Contents) -> bytes:
    """What a worker does: the packet of a case that was sent to it, as bytes to send back."""
    return to_bytes(attempt_elsewhere(recipe, case, Path()))


def to_bytes(result: Made | Failed) -> bytes:
    """What a worker made of a case, to be sent."""
    if isinstance(result, Failed):
        reply = _Reply(
            problems=tuple(
                _Problem(where=problem.where, what=problem.what, do=problem.do) for problem in result.problems
            )
        )
    else:
        review = result.packet.review
        reply = _Reply(
            files=dict(result.files),
            remarks=result.remarks,
            open=result.packet.open,
            review=_Review(by=review.by, on=review.on, program=review.program, changed=review.changed)
            if review
            else None,
            content=result.packet.content,
            letter_words=result.packet.letter_words,
            unreviewed=tuple(sorted(result.packet.unreviewed)),
        )
    return reply.model_dump_json().encode()


def from_bytes(data: object, case_id: str, out: Path, made_from: str, key: str) -> Made | Failed:
    """What was sent, as what this machine asked for: the packet of this case in out/<id>, and in no other place.

    key  of the case as this machine knows it, so that no worker chooses whose folder it writes to
    """
    try:
        if not isinstance(data, bytes):
            raise TypeError
        reply = _Reply.model_validate_json(data)
        if bool(reply.files) == bool(reply.problems):
            raise ValueError
    except (TypeError, ValueError, ValidationError):
        wrong = "was not built: what a worker sent back is no packet"
        return Failed((Problem(case_id, wrong, "Install the same docgen on all machines."),))
    if reply.problems:
        return Failed(tuple(Problem(problem.where, problem.what, problem.do) for problem in reply.problems))
    sent = reply.review
    review = Review(sent.by, sent.on, sent.program, sent.changed) if sent else None
    packet = Packet(
        case_id,
        out / case_id,
        reply.open,
        review,
        key,
        reply.content,
        frozenset(reply.unreviewed),
        letter_words=reply.letter_words,
    )
    return Made(packet, reply.files, reply.remarks, made_from)
