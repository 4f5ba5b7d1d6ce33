"""Of several risks the one that is not met is told before one that cannot be told, with what settles each of them."""

from __future__ import annotations

from msgspec.structs import replace
from whole_case import ask, changed, grounds

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


def test_hours_alone_are_no_reason_to_take_out_the_feature_of_a_stop_that_is_recorded():
    """To choose another feature only opened that the recorded switch comes from nowhere."""
    alone = ("findings.+", {"id": "alone_hours", "says": "He is alone from four to six."})
    feature = ("configuration.features.+", {"id": "attendant_stop"})
    switch = ("configuration.stop.helper_switch", "red box")
    told = ask("no_unanswered_risk", grounds(changed(alone, feature, switch))).to_settle
    assert "answer <what mitigates it> of attendant_stop" in told and "choose another feature" not in told
    assert "taking the feature out settles nothing while helper_switch is recorded" in told
    free = ask("no_unanswered_risk", grounds(changed(alone, feature))).to_settle
    assert "of attendant_stop, or choose another feature" in free and "settles nothing" not in free
    asked = ask("parts_are_brought", grounds(changed(alone, switch)))
    assert "with_base <true or false>" in asked.to_settle and "= true" not in asked.to_settle


def test_a_feature_that_the_base_is_recorded_without_is_not_told_as_unsaid():
    for with_base, said in ((False, "and the base is recorded without"), (None, "nothing says that it comes")):
        feature = {"id": "attendant_stop", "because": ["transfer_sling"], "with_base": with_base}
        assert said in ask("parts_are_brought", grounds(changed(("configuration.features.+", feature)))).reason
