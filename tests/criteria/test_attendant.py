"""The caregiver who drives is told by what they are to the client, else by name, and never by an id of the case."""

from __future__ import annotations

import pytest
from whole_case import CAREGIVER_DRIVES, GONE, changed, grounds

from docgen.criteria.attendant import caregiver_can_drive


@pytest.mark.parametrize(
    ("relation", "name", "who"),
    [
        ("sister", "Ruth Example", "the sister"),
        (GONE, "Ruth Example", "Ruth Example"),
        (GONE, GONE, "the caregiver"),
    ],
)
def test_a_caregiver_who_drives_is_told_by_relation_else_by_name(relation, name, who):
    keys = {"id": "driver", "role": "caregiver", "relation": relation, "name": name}
    driver = {key: value for key, value in keys.items() if value is not GONE}
    case = grounds(changed(*CAREGIVER_DRIVES, ("people.+", driver), ("attendant.by", "driver"))).case
    said = f"The client cannot drive; {who} cannot push, and drove safely in the trial, as recorded."
    assert caregiver_can_drive(case).reason == said
