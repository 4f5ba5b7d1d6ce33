"""What must hold of any shelf against any client, by Hypothesis, and by enumeration of what is not known."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shelves import BASES, MOVES, OPEN, device, devices, findings, held, layer_of, outcome, shelf, stages

from docgen.fit.feature import Against, features
from docgen.shelf import judge
from docgen.shelf.match import why

CHEAP = settings(max_examples=40, deadline=None)
FEATURE = st.sampled_from(OPEN)


def with_finding(feature_id, *, calls=False, against=False, safety=False):
    """The table of features with a finding more, own_new, that bears on one feature."""
    feature = features()[feature_id]
    risk = (Against(finding="own_new", risk="It could go wrong.", safety=safety),) if against else ()
    change = {
        "called_for_by": (*feature.called_for_by, *(["own_new"] if calls else [])),
        "spoken_against_by": (*feature.spoken_against_by, *risk),
    }
    return {**features(), feature_id: feature.model_copy(update=change)}


@given(devices(), findings, st.booleans())
@CHEAP
def test_a_finding_that_speaks_against_one_device_alone_never_raises_it(drawn, words, safety):
    only = device("z", 0, has=("surface_cue",))
    known = with_finding("surface_cue", against=True, safety=safety)
    before = held(words, shelf(*drawn, only), known)
    after = held([*words, "own_new"], shelf(*drawn, only), known)
    was, now = layer_of(before, "z"), layer_of(after, "z")
    assert now is None or (was is not None and now >= was)
    assert "z" not in after.leads or "z" in before.leads
    assert {n: s for n, s in stages(before).items() if n != "z"} == {n: s for n, s in stages(after).items() if n != "z"}


@given(devices(), findings, FEATURE)
@CHEAP
def test_no_benefit_moves_a_device_out_of_the_stage_of_harm(drawn, words, feature):
    before = held(words, shelf(*drawn))
    after = held([*words, "own_new"], shelf(*drawn), with_finding(feature, calls=True))
    harmful = {name for name, stage in stages(before).items() if stage == "harm"}
    assert harmful <= {name for name, stage in stages(after).items() if stage == "harm"}
    assert not harmful & {name for layer in after.layers for name in layer}


def test_an_answer_does():
    words = ["head_three_way", "neck_pain"]
    latched = device("a", 2, has=("latched_drive",))
    assert stages(held(words, shelf(latched))) == {"a": "harm"}
    stopped = device("a", 2, has=("latched_drive",), can_have=("stop_switch",))
    assert stages(held(words, shelf(stopped))) == {"a": "layered"}
    unknown = device("a", 2, has=("latched_drive",), unknown=("stop_switch",))
    result = held(words, shelf(unknown))
    assert stages(result) == {"a": "harm_unknown"} and result.questions == {"a": ("stop_switch",)}
    wet = device("a", 2, answers={"sweats_wet": "The pads are sealed."})
    assert stages(held([*words, "sweats_wet"], shelf(wet))) == {"a": "layered"}
    assert stages(held([*words, "sweats_wet"], shelf(device("a", 2)))) == {"a": "harm"}


@given(devices(3), findings, FEATURE, st.integers(0, 3))
@CHEAP
def test_an_unknown_never_beats_a_known_good(drawn, words, feature, base):
    known = device("y", base, can_have=(feature,))
    unknown = device("z", base, unknown=(feature,))
    result = held(words, shelf(*drawn, known, unknown))
    good, open_ = layer_of(result, "y"), layer_of(result, "z")
    assert open_ is None or (good is not None and good <= open_)
    assert "z" not in result.leads or "y" in result.leads
    assert why(result, "z", "y").above != "first"


def _with_always(device, feature):
    others = tuple(name for name in device.has_not if name != feature)
    return device.model_copy(update={"has": (*device.has, feature), "has_not": others})


@given(devices(), findings, st.booleans())
@CHEAP
def test_on_what_all_devices_share_nothing_turns(drawn, words, calls):
    known = with_finding("locked_settings", calls=calls, against=not calls)
    shared = shelf(*(_with_always(each, "locked_settings") for each in drawn))
    words = [word for word in words if word != "progressive_fast"]
    before, after = held(words, shared, known), held([*words, "own_new"], shared, known)
    assert [set(layer) for layer in before.layers] == [set(layer) for layer in after.layers]
    assert before.parted_by() == after.parted_by()


@given(devices(), findings, st.sampled_from(["has", "can_have", "unknown"]), st.integers(0, 3))
@CHEAP
def test_a_feature_that_nobody_needs_changes_nothing(drawn, words, state, at):
    words = [
        word for word in words if word not in ("neck_restricted", "attention_short", "visual_processing", "vision_low")
    ]
    before = held(words, shelf(*drawn, device("z", at)))
    changed = device("z", at, **{state: ("rear_view_aid",)})
    assert outcome(before) == outcome(held(words, shelf(*drawn, changed)))


@given(devices(most_unknown=1), findings, st.randoms())
@CHEAP
def test_the_order_of_entries_and_of_findings_changes_nothing(drawn, words, random):
    before = outcome(held(words, shelf(*drawn)))
    random.shuffle(drawn)
    random.shuffle(words)
    assert before == outcome(held(words, shelf(*drawn)))


@given(devices(3, most_unknown=2), findings)
@CHEAP
def test_a_device_equal_to_another_is_never_apart_from_it(drawn, words):
    twin = drawn[0].model_copy(update={"id": "z", "name": "the same again"})
    result = held(words, shelf(*drawn, twin))
    first = drawn[0].id
    assert stages(result)["z"] == stages(result)[first]
    assert layer_of(result, "z") == layer_of(result, first)
    assert ("z" in result.leads, "z" in result.may_lead) == (first in result.leads, first in result.may_lead)
    assert why(result, "z", first).above in ("equal", "neither")


def _worlds(drawn):
    """The shelf under every answer: each unknown feature not there, to be had, or always there."""
    open_ = [(at, name) for at, each in enumerate(drawn) for name in shelf(each).stands[each.id].unknown]
    for states in product(("has_not", "can_have", "has"), repeat=len(open_)):
        answered = list(drawn)
        for (at, name), state in zip(open_, states, strict=True):
            answered[at] = answered[at].model_copy(update={state: (*getattr(answered[at], state), name)})
        yield shelf(*answered)


# a stop switch that nobody is sure of: where there is one, latched drive is set up and asks for a second site
IN_DOUBT = [device("a", 2, ("standby",), ("latched_drive",), ("stop_switch",)), device("b", 0, OPEN)]
LATCH_IN_DOUBT = [device("a", 2, ("standby",), ("stop_switch",), ("latched_drive",)), device("b", 0, OPEN)]
TWO_IN_DOUBT = [
    device("a", 1, ("standby", "momentary_drive"), (), ("latched_drive", "stop_switch")),
    device("b", 0, OPEN),
]
ONE_SITE = [*MOVES, "one_site_only"]


@given(devices(3, most_unknown=2), findings)
@example(IN_DOUBT, ONE_SITE)
@example(LATCH_IN_DOUBT, ONE_SITE)
@example(TWO_IN_DOUBT, ONE_SITE)
@settings(max_examples=30, deadline=None)
def test_first_places_are_those_of_every_and_of_some_answer(drawn, words):
    if sum(len(shelf(each).stands[each.id].unknown) for each in drawn) > 4:
        return
    result, firsts, kinds = held(words, shelf(*drawn)), [], []
    for world in _worlds(drawn):
        known = held(words, world)
        assert known.leads == known.may_lead  # nothing is left open
        firsts.append(set(known.leads))
        kinds.append(stages(known))
    assert set(result.leads) == set.intersection(*firsts)
    assert set(result.may_lead) == set.union(*firsts)
    for name, stage in stages(result).items():
        seen = {each[name] for each in kinds}
        assert seen == {"harm", "layered"} if stage == "harm_unknown" else seen == {stage}, (name, stage, seen)


@given(devices(3, most_unknown=2), findings)
@example(IN_DOUBT, ONE_SITE)
@example(LATCH_IN_DOUBT, ONE_SITE)
@example(TWO_IN_DOUBT, ONE_SITE)
@settings(max_examples=30, deadline=None)
def test_of_more_doubts_than_are_tried_the_range_holds_every_answer(drawn, words):
    if sum(len(shelf(each).stands[each.id].unknown) for each in drawn) > 4:
        return
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(judge, "_MOST_TRIED", 0)
        result = held(words, shelf(*drawn))
        ranges = {name: own.grades for name, own in result.devices.items()}
    for world in _worlds(drawn):
        known = held(words, world)
        assert {*result.leads} <= {*known.leads} and {*result.may_lead} >= {*known.leads}
        for name, own in known.devices.items():
            if own.stage == "layered":
                grades, told = own.best.grades, ranges[name]
                assert not told.stands or all(low <= at for low, at in zip(told.worst[0], grades, strict=True)), name
                assert any(all(at <= high for at, high in zip(grades, best, strict=True)) for best in told.best), name


@pytest.mark.parametrize("drawn", [IN_DOUBT, LATCH_IN_DOUBT])
def test_what_speaks_against_a_device_under_some_answers_only_is_not_known(drawn):
    result = held(ONE_SITE, shelf(*drawn))
    seen = {held(ONE_SITE, world).devices["a"].standing("one_site_only") for world in _worlds(drawn)}
    assert len(seen) > 1 and result.devices["a"].standing("one_site_only") == "unknown"


@given(devices(3), findings)
@CHEAP
def test_why_gives_the_concerns_on_which_each_is_better(drawn, words):
    result = held(words, shelf(*drawn))
    names = [each.id for each in drawn]
    for first, second in product(names, names):
        told, turned = why(result, first, second), why(result, second, first)
        assert told.for_first == turned.for_second
        layered = stages(result)[first] == stages(result)[second] == "layered"
        if layered and told.above == "first":
            assert told.for_first and not told.for_second
            assert layer_of(result, first) < layer_of(result, second)
        if layered and told.above == "equal":
            assert not told.for_first and not told.for_second


@pytest.mark.parametrize("base", range(len(BASES)))
def test_a_device_of_which_it_is_not_known_what_drives_it_is_set_apart_with_a_question(base):
    unknown = device("a", base).model_copy(update={"drives": None})
    assert stages(held(["hand_tremor"], shelf(unknown))) == {"a": "harm_unknown"}


def test_a_trial_that_showed_one_better_outweighs_what_was_expected():
    from docgen.shelf.client import client
    from docgen.shelf.match import match

    words = ("hand_tremor", "finger_isolated", "transfer_sling", "alone_hours", "computer_user")
    plain = device("a", 0, can_have=("swing_away_mount",))
    rich = device("b", 0, can_have=("swing_away_mount", "standby", "alignment_marks", "stop_switch", "mode_switch"))
    expected = match(client(words, features()), shelf(plain, rich))
    assert expected.leads == ("b",)
    seen = match(client(words, features()), shelf(plain, rich), [("a", "b")], ["a", "b"])
    assert seen.leads == ("a",) and seen.layers == (("a",), ("b",)) and why(seen, "a", "b").above == "seen_first"
