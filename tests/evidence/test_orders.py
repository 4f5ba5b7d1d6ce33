"""Orders of methods: published squares and orders, some of which were printed wrong."""

import itertools

import pytest

from docgen.evidence.orders import MOST_METHODS, followers, is_balanced, mirrored, places, square


def _letters(rows):
    return " ".join("".join("ABCDEFGHIJ"[number] for number in row) for row in rows)


# Williams 1949; n = 3 and the first row of n = 10 as the Williams function of an R package prints them, 4 and 6 as in
# published squares; n = 5 worked out after the same rule
PRINTED = {
    2: "AB BA",
    3: "ABC BCA CAB CBA ACB BAC",
    4: "ABDC BCAD CDBA DACB",
    5: "ABECD BCADE CDBEA DECAB EADBC DCEBA EDACB AEBDC BACED CBDAE",
    6: "ABFCED BCADFE CDBEAF DECFBA EFDACB FAEBDC",
}
# printed as balanced and are not: one has AB twice and AC never, one is no Latin square
WRONG = ("ABCD BADC CDAB DCBA", "ABFCED BCABFE", "ABC BCA CAB", "AB AB", "AB", "ABC BCA CAB CBA ACB BAC ABC BCA CAB")
RIGHT = ("ABCD BDAC CADB DCBA",)


@pytest.mark.parametrize("n", PRINTED)
def test_a_square_is_as_printed(n):
    assert _letters(square(n)) == PRINTED[n]


def test_the_first_row_of_ten_is_as_printed():
    assert [number + 1 for number in square(10)[0]] == [1, 2, 10, 3, 9, 4, 8, 5, 7, 6]
    assert square(1) == ((0,),)


@pytest.mark.parametrize("n", range(1, 13))
def test_a_square_is_balanced_for_place_and_for_what_precedes_what(n):
    rows = square(n)
    times = 2 if n % 2 and n > 1 else 1
    assert len(rows) == n * times and is_balanced(rows)
    assert {*places(rows).values()} == {times}
    assert followers(rows) == dict.fromkeys(itertools.permutations(range(n), 2), times)


@pytest.mark.parametrize("n", range(2, 13))
def test_a_square_holds_the_reverse_of_each_of_its_rows(n):
    rows = {*square(n)}
    assert {row[::-1] for row in rows} == rows


@pytest.mark.parametrize("rows", WRONG)
def test_an_order_that_is_not_balanced_is_told_from_one_that_is(rows):
    assert not is_balanced(rows.split())


@pytest.mark.parametrize("rows", (*RIGHT, *PRINTED.values()))
def test_one_that_is_balanced_is_told_too(rows):
    assert is_balanced(rows.split())


def test_half_of_an_odd_square_is_not_balanced():
    half = square(3)[:3]
    assert not is_balanced(half)
    counted = followers(half)
    assert [counted[pair] for pair in ((0, 1), (1, 2), (2, 0), (1, 0), (0, 2), (2, 1))] == [2, 2, 2, 0, 0, 0]


@pytest.mark.parametrize("methods", ["AB", "ABC", "ABDC"])
def test_a_mirrored_pair_gives_each_method_the_same_mean_place(methods):
    rows = mirrored(methods)
    assert rows == (tuple(methods), tuple(reversed(methods)))
    means = {method: sum(row.index(method) for row in rows) for method in methods}
    assert len({*means.values()}) == 1
    assert all(followers(rows)[pair] == followers(rows)[pair[::-1]] for pair in itertools.combinations(methods, 2))


@pytest.mark.parametrize("n", [0, -1, MOST_METHODS + 1])
def test_a_number_of_methods_that_there_cannot_be_is_refused(n):
    with pytest.raises(ValueError, match=f"n = {n}|n is {n}|{n}"):
        square(n)


def test_the_most_there_can_be_is_still_balanced():
    assert is_balanced(square(MOST_METHODS))
