"""A finding of the therapist's own counts as a finding, is marked as one, and is not mistaken for a word there is."""

from __future__ import annotations

import pytest
from whole_case import WHOLE, ask, changed, grounds

from docgen.documents.requested import requested
from docgen.documents.telling import finding_sentences
from docgen.errors import UserError
from docgen.fit.match import features_of
from docgen.packet.wording import wording

CLICKS = {
    "id": "yawns_wide",
    "own": True,
    "says": "Yawns throw the head back against the rear pad.",
    "measure": "4 in an hour",
    "calls_for": ["standby"],
    "speaks_against": ["latched_drive"],
}


def with_own(**change):
    finding = {key: value for key, value in {**CLICKS, **change}.items() if value is not None}
    return grounds(changed(("findings.+", finding)))


def test_it_calls_for_features_and_speaks_against_others():
    case = with_own().case
    known = features_of(case)
    assert "yawns_wide" in known["standby"].called_for_by
    assert [(no.finding, no.risk) for no in known["latched_drive"].spoken_against_by][-1] == (
        "yawns_wide",
        "Yawns throw the head back against the rear pad.",
    )
    assert features_of(grounds(WHOLE).case)["standby"].called_for_by == known["standby"].called_for_by[:-1]


def test_the_table_of_the_request_tells_it_in_its_words_and_not_by_its_id():
    made = with_own()
    line = made.case.configuration.items[0].model_copy(
        update={"because": ("yawns_wide",), "brief": None, "features": ()}
    )
    asked = made.case.configuration.model_copy(update={"items": (line,)})
    case = made.case.model_copy(update={"configuration": asked})
    reasons = [row["reason"] for row in requested(case, made.fit, (), wording("en").words)]
    assert reasons[-1] == "Yawns throw the head back against the rear pad"


def test_it_is_a_reason_like_any_other_finding():
    own = {"id": "standby", "because": ["yawns_wide"]}
    case = grounds(changed(("findings.+", CLICKS), ("configuration.features.+", own)))
    chosen = next(c for c in case.fit.chosen if c.feature.id == "standby")
    assert chosen.calling == ("yawns_wide",) and "yawns_wide" in case.fit.answers


def test_it_is_marked_as_the_therapists_own():
    case, words = with_own().case, wording().words
    assert finding_sentences(case, ["yawns_wide"], words)[0].endswith(
        "(4 in an hour). (A finding of the therapist's own.)"
    )
    first = case.findings[0].id
    assert "own" not in finding_sentences(case, [first], words)[0]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"own": None, "calls_for": None, "speaks_against": None}, "unknown finding 'yawns_wide'"),
        ({"own": None, "id": "own_yawns"}, "calls_for is of a finding of one's own"),
        ({"id": "hand_contracture"}, "'hand_contracture' is a word of the vocabulary"),
        ({"calls_for": ["stanby"]}, "unknown feature 'stanby'. Did you mean 'standby'? Nearest: standby (standby)"),
    ],
)
def test_what_is_amiss_is_told(change, says):
    with pytest.raises(UserError, match=".") as failure:
        with_own(**change)
    assert any(says in str(problem) for problem in failure.value.problems), str(failure.value)


def test_an_unknown_finding_is_answered_with_the_nearest_and_their_meaning():
    with pytest.raises(UserError) as failure:
        with_own(own=None, calls_for=None, speaks_against=None, id="knees_fixed")
    told = str(failure.value.problems[0])
    assert "leg_contracture (lower extremity contracture)" in told and "write own = true" in told
    assert "..." not in told


def test_a_feature_without_a_finding_yet_is_a_gap():
    with_bare = grounds(changed(("configuration.features.+", {"id": "mode_switch"})))
    answer = ask("features_have_findings", with_bare)
    assert answer.status == "not_met" and answer.reason == "No finding is given for mode selection switch."
