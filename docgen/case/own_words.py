"""The therapist's own words for the letter: one key a section, printed at the head of it as written."""

from docgen.case.base import Part, Words, key
from docgen.case.privacy import Privacy


class Letter(Part):
    """Sentences for the letter that the rest of the case cannot make."""

    request: Words | None = key(Privacy.NARRATIVE, "own words on the request", "This is the second request; ...")
    person: Words | None = key(
        Privacy.NARRATIVE, "own words on the person", "Robin has steered every game console since the age of six."
    )
    need: Words | None = key(
        Privacy.NARRATIVE, "own words on the mobility limitation", "The hall is where the family meets."
    )
    lesser: Words | None = key(
        Privacy.NARRATIVE,
        "own words on the alternatives ruled out",
        "Two lighter joysticks were lent for a week each.",
    )
    trial: Words | None = key(
        Privacy.NARRATIVE, "own words on the trial", "The second day was a bad day, and it was kept."
    )
    safety: Words | None = key(Privacy.NARRATIVE, "own words on safety", "The stairs are behind a gate.")
    asked: Words | None = key(
        Privacy.NARRATIVE, "own words on what is requested", "The pads were moved four times before they stayed."
    )
    plan: Words | None = key(
        Privacy.NARRATIVE, "own words on training and follow-up", "The coach has taught two other drivers."
    )
    limits: Words | None = key(
        Privacy.NARRATIVE, "own words on what the evidence cannot show", "Winter coats were not tried."
    )
