"""What somebody asked for and the request leaves out."""

from __future__ import annotations

from docgen.case.base import Id, Part, Words, key, must
from docgen.case.privacy import Privacy


class LeftOut(Part):
    """One thing that the client, the family, a school or somebody else asked for, and that is not requested."""

    id: Id = must(Privacy.NEED, "short id", "recline")
    what: Words = must(Privacy.NEED, "what was asked for and is not requested", "power recline")
    asked_by: Words | None = key(Privacy.NEED, "who asked for it, by what they are to the client", "the school")
    why_not: Words | None = key(
        Privacy.NEED, "why it is not requested", "He sits for an hour at a time, and tilt relieves his seat."
    )
