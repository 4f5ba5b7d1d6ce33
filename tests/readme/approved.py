"""The one demo that is approved, so that a newcomer sees a finished packet, and its renewal.

The record binds each part of the case, the wording and the program's pages, so it ends with any change of a word that
its pages show.
"""

from __future__ import annotations

import os

from readme.pictures import CASE, REVIEWED_BY, REVIEWED_ON

import docgen
from docgen.errors import UserError
from docgen.packet.approval import reviewed
from docgen.packet.assess import assess
from docgen.packet.wording import wording
from docgen.resources import folder

FOLDER = folder("cases") / CASE
_RENEW = "read its pages again, then DOCGEN_REWRITE=1 pytest tests/test_approved_demo.py tests/test_readme.py renews it"


def what_is_wrong() -> str:
    """Why the approval of the demo does not stand, in one sentence; "" while it does."""
    try:
        review = reviewed(assess(FOLDER), wording())
    except UserError as failure:
        return f"the approval of the demo {CASE} cannot be read ({failure}): {_RENEW}"
    if review is None:
        return f"the demo {CASE} is not approved: {_RENEW}"
    if (review.by, review.on) != (REVIEWED_BY, REVIEWED_ON):
        return f"the demo {CASE} is approved by another than its evaluator, or on another day: {_RENEW}"
    return (
        ""
        if review.stands
        else f"the demo {CASE} has changed since its approval ({', '.join(review.changed)}): {_RENEW}"
    )


def renew() -> None:
    """Approve it anew, where a rewriting run asks for that. Raises UserError where a point blocks."""
    if os.environ.get("DOCGEN_REWRITE"):
        docgen.approve_case(FOLDER, REVIEWED_BY, REVIEWED_ON)
