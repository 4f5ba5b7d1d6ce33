"""A fact and the facts of a case together: what a missing part means, and how one is requested."""

from __future__ import annotations

import json
import re

import pytest

from docgen.evidence.fact import RATES, UNITS, Evidence, Fact
from docgen.evidence.release import release_bound
from docgen.evidence.stopping_rule import Release, Stopping

IDS = ("success.head_pads", "success.head_pads.doorway", "success.hand_stick", "release.head_pads", "minutes")


def fact(name, **more):
    return Fact(name, "driving", "successful attempts", "proportion", 0.5, **more)


def test_a_fact_rests_on_no_observation_until_told_and_its_interval_is_of_95_percent():
    bare = fact("success.a")
    assert (bare.n, bare.k, bare.low, bare.high, bare.level) == (0, None, None, None, 0.95)
    assert (bare.rows, bare.keys, bare.verdict, bare.note) == ((), (), "", "") and bare.listed


def test_json_holds_every_part_with_the_unit_in_place_of_the_kind():
    printed = fact("success.a", n=4, k=2, low=0.1, high=0.9, rows=(3, 5), keys=("configuration.method",)).as_json()
    assert json.loads(json.dumps(printed)) == printed
    assert printed["unit"] == "proportion" and "kind" not in printed
    assert (printed["rows"], printed["keys"], printed["n"], printed["k"]) == ([3, 5], ["configuration.method"], 4, 2)
    assert set(printed) == {*Fact.__struct_fields__} - {"kind", "listed", "side"} | {"unit"}


@pytest.mark.parametrize("rate", RATES, ids=lambda rate: rate[0])
def test_a_rate_is_counted_over_as_much_as_its_unit_says(rate):
    _, amount, kind, per = rate
    number_in_unit = re.search(r"\d+", UNITS[kind])
    assert per == (float(number_in_unit[0]) if number_in_unit else 1.0)
    assert UNITS[kind].endswith({"distance_m": " m", "minutes": " minute"}[amount])


def test_facts_are_asked_for_by_name_by_its_parts_and_by_the_step_above():
    known = Evidence(map(fact, IDS))
    assert list(known) == list(IDS) and len(known) == 5 and known["minutes"].id == "minutes"
    assert known.of("success", "head_pads").id == "success.head_pads"
    assert known.of("success", "head_pads", "doorway").id == "success.head_pads.doorway"
    assert known.of("success", None) is None and known.of("success", "other") is None
    assert list(known.family("success")) == ["head_pads", "hand_stick"]
    assert list(known.family("success.head_pads")) == ["doorway"] and known.family("minutes") == {}


def test_two_facts_of_one_name_are_refused():
    with pytest.raises(ValueError, match="two facts have the id minutes"):
        Evidence(map(fact, ("minutes", "minutes")))


def test_the_stopping_rule_is_the_one_given_and_else_one_without_a_release():
    rule = Stopping(Release(0.9, "slowest", release_bound([0.9])))
    assert Evidence(iter(()), rule).stopping is rule
    bare = Evidence(iter(())).stopping
    assert (bare.release.seconds, bare.braking, bare.places) == (None, None, ())
