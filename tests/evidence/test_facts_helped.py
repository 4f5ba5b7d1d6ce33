"""Minutes of help and levels of help, summed by hand over five activities."""

from __future__ import annotations

from small_trial import known, small_case

from docgen.evidence.facts import helped


def activity(at_home=True, **more):
    return {"id": "x", "name": "to eat", "needed_for": "feeding", "at_home": at_home} | more


LACKING = [
    activity(before="done_for", with_device="alone", minutes_before=30, minutes_with=10),
    activity(before="watched", with_device="watched", minutes_with=7),
    activity(before="set_up", with_device="hands_on", minutes_before=20),
    activity(False, with_device="alone", minutes_before=40, minutes_with=0),
    activity(False, before="alone", minutes_before=0, minutes_with=15),
]


def minutes(activities):
    facts = known(helped.facts, small_case(activities=activities))
    return {name: (fact.value, fact.n, fact.note) for name, fact in facts.items() if name.startswith("minutes")}


def test_minutes_are_summed_over_the_activities_that_record_both():
    all_told = (3, "2 of 5 activities lack minutes and are left out")
    at_home = (1, "2 of 3 activities lack minutes and are left out")
    assert minutes(LACKING) == {
        "minutes_before": (70, *all_told),
        "minutes_with": (25, *all_told),
        "minutes_fewer": (45, *all_told),
        "minutes_before_home": (30, *at_home),
        "minutes_with_home": (10, *at_home),
        "minutes_fewer_home": (20, *at_home),
    }
    assert minutes(LACKING[:1])["minutes_fewer"] == (20, 1, "")
    assert minutes(LACKING[1:3]) == {}


def test_help_is_gained_where_the_level_is_nearer_to_alone_among_those_rated_twice():
    gained = known(helped.facts, small_case(activities=LACKING))["help_gained"]
    assert (gained.k, gained.n, gained.value) == (1, 3, 1 / 3)
    assert gained.keys == tuple(f"activities.{at}.with_device" for at in (0, 1, 2))


def test_mradls_are_summed_apart_where_another_activity_stands_beside_them():
    rest = activity(minutes_before=32, minutes_with=4) | {"needed_for": "other"}
    both = minutes([*LACKING[:1], rest])
    assert (both["minutes_before_home"][0], both["minutes_with_home"][0]) == (62, 14)
    assert (both["minutes_before_mradl"][0], both["minutes_with_mradl"][0]) == (30, 10)
    assert "minutes_before_mradl" not in minutes([*LACKING[:1], rest | {"minutes_before": 0, "minutes_with": 0}])
