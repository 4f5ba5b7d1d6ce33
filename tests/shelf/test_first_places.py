"""Layers and first places: worked examples, the definition by brute force, enumeration, and networkx."""

from __future__ import annotations

from itertools import permutations, product

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from docgen.shelf.order import Range, all_above, is_above, layers, places, with_seen

GRADES = st.lists(st.tuples(*[st.integers(0, 2)] * 3), min_size=1, max_size=8)


def named(peeled, names):
    return [{names[at] for at in layer} for layer in peeled]


def test_equals_stay_equals_and_the_layer_is_the_longest_chain_above():
    """Worked by hand: six devices on three criteria, six pairs of which five are drawn."""
    grades = [(3, 2, 1), (2, 2, 1), (3, 1, 3), (1, 1, 1), (2, 2, 1), (1, 3, 0)]
    assert named(layers(grades), "PQRSTU") == [{"P", "R", "U"}, {"Q", "T"}, {"S"}]
    above = {"PQRSTU"[a] + "PQRSTU"[b] for a, b in permutations(range(6), 2) if is_above(grades[a], grades[b])}
    assert above == {"PQ", "PT", "PS", "QS", "RS", "TS"}


def test_what_two_both_state_would_lead_in_a_circle_and_is_not_asked():
    """Skyline queries over incomplete data are known to cycle (Khalefa and others 2008, abstract)."""
    a, b, c = (2, None, 1), (1, 2, None), (None, 1, 2)

    def by_shared(x, y):
        pairs = [(p, q) for p, q in zip(x, y, strict=True) if p is not None and q is not None]
        return all(p >= q for p, q in pairs) and any(p > q for p, q in pairs)

    assert by_shared(a, b) and by_shared(b, c) and by_shared(c, a)
    ranges = [Range(((2, 2, 1),), ((2, 0, 1),)), Range(((1, 2, 2),), ((1, 2, 0),)), Range(((2, 1, 2),), ((0, 1, 2),))]
    assert places(ranges).leads == frozenset() and places(ranges).may_lead == {0, 1, 2}
    assert layers([own.worst[0] for own in ranges]) == ((0, 1, 2),)


ABCD = [Range(((2, 2, 1),), ((2, 2, 1),)), Range(((1, 1, 1),), ((1, 1, 1),)), Range(((2, 2, 1),), ((0, 2, 1),))]


@pytest.mark.parametrize(
    ("ranges", "leads", "may_lead", "cautious"),
    [
        ([*ABCD, Range(((1, 2, 0),), ((1, 0, 0),))], "A", "AC", [{"A"}, {"B", "C"}, {"D"}]),
        ([Range(((2, 2),), ((2, 2),)), Range(((1, 1),), ((1, 1),)), Range(((2, 2),), ((0, 0),))], "A", "AC", "ABC"),
    ],
)
def test_first_whatever_the_answers_and_first_under_some(ranges, leads, may_lead, cautious):
    first = places(ranges)
    assert {"ABCD"[at] for at in first.leads} == set(leads)
    assert {"ABCD"[at] for at in first.may_lead} == set(may_lead)
    assert named(layers([own.worst[0] for own in ranges]), "ABCD") == [set(layer) for layer in cautious]


def test_layers_below_the_first_cannot_be_told_from_best_and_worst():
    by_answer = {y1: named(layers([(1, 2), (y1, 2), (0, 1)]), ["y2", "y1", "x"]) for y1 in (0, 1, 2)}
    depth = {y1: next(n for n, layer in enumerate(found, 1) if "x" in layer) for y1, found in by_answer.items()}
    assert depth == {0: 3, 1: 2, 2: 3}


def test_layers_of_four_devices_under_every_answer():
    depths = {name: set() for name in "ABCD"}
    for c, d in product(range(3), repeat=2):
        found = named(layers([(2, 2, 1), (1, 1, 1), (c, 2, 1), (1, d, 0)]), "ABCD")
        for n, layer in enumerate(found, 1):
            for name in layer:
                depths[name].add(n)
    assert {name: (min(n), max(n)) for name, n in depths.items()} == {
        "A": (1, 1),
        "B": (2, 3),
        "C": (1, 2),
        "D": (2, 4),
    }


def test_a_finding_that_speaks_more_against_the_rival_can_raise_a_device():
    """Why the property below is of a finding that speaks against one device alone."""
    assert layers([(2, 2, 2), (1, 2, 2)]) == ((0,), (1,))
    assert layers([(2, 2, 0), (1, 2, 1)]) == ((0, 1),)


def test_meeting_many_needs_does_not_stand_above_meeting_another():
    """A count would put the first above; if the fourth need is the stop, the count hid it."""
    assert layers([(1, 1, 1, 0), (0, 0, 0, 1)]) == ((0, 1),)


@given(GRADES)
@settings(max_examples=60, deadline=None)
def test_layers_are_the_topological_generations_of_networkx(grades):
    graph = networkx.DiGraph()
    graph.add_nodes_from(range(len(grades)))
    graph.add_edges_from((a, b) for a, b in permutations(range(len(grades)), 2) if is_above(grades[a], grades[b]))
    assert [set(layer) for layer in layers(grades)] == [set(layer) for layer in networkx.topological_generations(graph)]


@given(GRADES)
@settings(max_examples=40, deadline=None)
def test_the_order_is_strict_and_agrees_with_its_definition(grades):
    above = all_above(grades)
    pairs = {(a, b) for b in range(len(grades)) for a in range(len(grades)) if above[b] >> a & 1}

    def better(x, y):
        return all(p >= q for p, q in zip(x, y, strict=True)) and any(p > q for p, q in zip(x, y, strict=True))

    assert pairs == {(a, b) for a, b in product(range(len(grades)), repeat=2) if better(grades[a], grades[b])}
    assert not any((b, a) in pairs for a, b in pairs)
    assert all((a, d) in pairs for a, b in pairs for c, d in pairs if b == c)


CELLS = st.tuples(st.integers(0, 2), st.integers(0, 2)).map(sorted)
RANGES = st.lists(
    st.tuples(CELLS, CELLS, st.booleans()).map(
        lambda drawn: Range(((drawn[0][1], drawn[1][1]),), ((drawn[0][0], drawn[1][0]),), drawn[2])
    ),
    min_size=1,
    max_size=4,
)


@given(RANGES)
@settings(max_examples=60, deadline=None)
def test_first_places_agree_with_every_set_of_answers(ranges):
    worlds = [
        [*product(*(range(low, high + 1) for low, high in zip(own.worst[0], own.best[0], strict=True)))]
        + ([] if own.stands else [None])
        for own in ranges
    ]
    firsts = []
    for world in product(*worlds):
        there = [at for at, grades in enumerate(world) if grades is not None]
        firsts.append({a for a in there if not any(is_above(world[b], world[a]) for b in there)})
    first = places(ranges)
    assert first.leads == set.intersection(*firsts)
    assert first.may_lead == set.union(*firsts)


@given(GRADES, st.lists(st.tuples(st.integers(0, 7), st.integers(0, 7)), max_size=4))
@settings(max_examples=60, deadline=None)
def test_what_was_seen_outweighs_what_was_expected_and_leads_in_no_circle(grades, drawn):
    n = len(grades)
    seen = {(a, b) for a, b in drawn if a < b < n}  # as shares seen are ordered, so is what a trial shows
    above = with_seen(all_above(grades), seen)
    pairs = {(a, b) for b in range(n) for a in range(n) if above[b] >> a & 1}
    assert seen <= pairs
    assert not any((b, a) in pairs for a, b in pairs)
    assert all((a, d) in pairs for a, b in pairs for c, d in pairs if b == c)
    if not seen:
        assert above == all_above(grades)


def test_a_circle_of_expectations_around_what_was_seen_is_left_out():
    """C was expected above B and B above A; then A was seen to be better than C. B is known against neither."""
    assert layers([(0,), (1,), (2,)], [(0, 2)]) == ((0, 1), (2,))


def test_an_order_that_goes_around_is_refused():
    from docgen.shelf.order import peeled

    with pytest.raises(ValueError, match="circle"):
        peeled([0b10, 0b01])
