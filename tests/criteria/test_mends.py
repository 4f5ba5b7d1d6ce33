"""What settles a criterion is data: keys that the case knows, and a sentence that the search never reads."""

from __future__ import annotations

from datetime import date

import pytest

from docgen.criteria.mend import Mend, NewEntry, add_entry, fill_in
from docgen.criteria.payer import load

GENERAL, ON = load("general", ""), date(2026, 5, 4)
EMPTY = {"format": "docgen case 1", "id": "robin-example"}


@pytest.mark.parametrize(
    ("mend", "expected"),
    [
        (
            lambda: fill_in({"dates.ordered_on": "<date>"}),
            Mend("Fill in dates.ordered_on <date>.", ("dates.ordered_on",)),
        ),
        (
            lambda: fill_in({"why": "", "without": ""}, " of the item"),
            Mend("Fill in why and without of the item.", ("why", "without")),
        ),
        (
            lambda: fill_in({"payer_says": "<words>"}, lead="Ask the payer, and fill in"),
            Mend("Ask the payer, and fill in payer_says <words>.", ("payer_says",), work=True),
        ),
        (
            lambda: add_entry("activities", "before", at_home=True),
            Mend(
                "Add [[activities]] with at_home = true and before.",
                add=(NewEntry("activities", ("before",), (("at_home", "true"),)),),
            ),
        ),
        (lambda: add_entry("goals"), Mend("Add [[goals]].", add=(NewEntry("goals"),))),
    ],
)
def test_the_sentence_is_made_of_the_keys(mend, expected):
    assert mend() == expected
