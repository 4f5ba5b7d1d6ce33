"""Why a helper's stop is asked for: who is near by the record, and no sentence that would stand in anyone's letter."""

from __future__ import annotations

from whole_case import GONE, changed, grounds

from docgen.documents.telling import answered
from docgen.packet.wording import wording

STOP = ("configuration.features.+", {"id": "attendant_stop"})


def told(*changes):
    """The row of the letter that tells of the helper's stop."""
    at = grounds(changed(STOP, *changes))
    [row] = [row for row in answered(at.case, at.fit, wording().words) if row["features"] == ("attendant stop switch",)]
    return row


def test_a_helpers_stop_rests_on_whoever_is_near_by_the_record():
    assert told()["findings"] == "At home, an aunt is in the same room."


def test_where_nobody_is_near_a_helpers_stop_asks_who_would_use_it():
    row = told(("supervision.0.level", "alone"), ("supervision.0.by", GONE))
    assert (row["findings"], row["lacks_finding"]) == ("", "who is near to use the attendant stop switch")
    assert row["says"] == ()
