"""What of a case leaves this machine for a worker on another: only what its pages are made from."""

from __future__ import annotations

from msgspec.structs import replace

from docgen.case.files import decoded
from docgen.case.lines import masked
from docgen.case.private_keys import is_private
from docgen.case.read import read_case
from docgen.errors import Problem, UserError
from docgen.packet.approval import FILE as APPROVAL
from docgen.packet.approval import record_to_send
from docgen.packet.contents import Contents
from docgen.packet.signed import FILE as SIGNED


def to_send(case: Contents) -> Contents:
    """The case without comments and private notes. Raises UserError, with its places, for one that cannot be read.

    A case that cannot be read is not sent: what stands under a misspelt key may be a private note.
    """
    if SIGNED in case.files:
        what = "has a scan of its signed letter, which is sent to no cluster"
        raise UserError([Problem(str(case.path), what, "Build this case without --cluster.")])
    read = read_case(case.path).case
    if read.photos:
        what = "has photos, which are sent to no cluster"
        raise UserError([Problem(str(case.path), what, "Build this case without --cluster.")])
    text = decoded(case.files.get("case.toml", b""), str(case.path / "case.toml"))
    files = {**case.files, "case.toml": masked(text, is_private).encode()}
    if APPROVAL in files:
        files[APPROVAL] = record_to_send(read, case.path / APPROVAL)
    return replace(case, files=files)
