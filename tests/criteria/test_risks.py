"""Of several risks the one that is not met is told before one that cannot be told, with what settles each of them."""

from __future__ import annotations

from msgspec.structs import replace

from docgen.criteria.criterion import cannot_tell, not_met
from docgen.criteria.mend import Mend
from docgen.criteria.risks import worst

OPEN, ALSO_OPEN = (cannot_tell(f"Open {at}.", ("id",), mend="Ask.") for at in (1, 2))
WRONG = not_met("Wrong.", ("id",), mend="Mend.")


def test_what_is_not_met_comes_before_what_cannot_be_told():
    both = replace(WRONG, mend=Mend("Mend. Ask."))
    assert worst([OPEN, WRONG, ALSO_OPEN]) == both == worst([WRONG, OPEN]) and worst([WRONG]) == WRONG
    assert worst([OPEN, ALSO_OPEN]) == OPEN and worst([]) is None


def test_what_the_trial_bears_out_comes_before_what_is_only_missing():
    seen = not_met("Seen.", ("id",), facts=("release_slowest.pads",), mend="Request another.")
    assert worst([WRONG, seen]) == replace(seen, mend=Mend("Request another. Mend."))
