"""Ten stops in a row: the chance to pass, how long it takes, and what none missed shows."""

from __future__ import annotations

import random

import pytest
from gathered import of_each

from docgen.evidence.stops_in_a_row import (
    IN_A_ROW,
    MISSED_IN_UPKEEP,
    MOST_BREAKS,
    N_DAYS,
    UPKEEP,
    chance_to_pass,
    least_share_shown,
    stops_until_settled,
)


# worked out apart from this program, 2026-11-28: chance in %, mean stops until settled; its 9.5 at .70 is 9.446 here
@of_each(
    ("share", "percent", "stops"),
    [(0.6, 1.8, 7.4), (0.7, 8.2, 9.5), (0.8, 28.9, 12.0), (0.9, 72.4, 13.5), (0.95, 93.5, 12.5), (0.98, 99.4, 11.1)],
)
def test_the_chance_to_pass_and_its_length_are_those_worked_out_apart(share, percent, stops):
    assert 100 * chance_to_pass(share) == pytest.approx(percent, abs=0.0501)
    assert stops_until_settled(share) == pytest.approx(stops, abs=0.0601)


# section 9: mean tries to ten in a row without a limit of breaks, (1-p^10)/(p^10 (1-p))
@pytest.mark.parametrize("share, tries", [(0.8, 41.6), (0.9, 18.7)])
def test_without_a_limit_it_takes_as_long_as_the_formula_of_runs_says(share, tries):
    assert stops_until_settled(share, breaks=500) == pytest.approx(tries, abs=0.0501)


def test_a_driver_who_always_stops_passes_at_the_tenth_and_one_who_never_does_breaks_off_at_the_third():
    assert (chance_to_pass(1), stops_until_settled(1)) == (1, 10)
    assert (chance_to_pass(0), stops_until_settled(0)) == (0, 3)
    assert stops_until_settled(0.9, breaks=0, in_a_row=1) == pytest.approx(1)  # the first stop settles it


def test_simulated_drivers_pass_as_often():
    draw, n_drivers, passed = random.Random(7), 10_000, 0
    for _ in range(n_drivers):
        run = breaks = 0
        while run < IN_A_ROW and breaks <= MOST_BREAKS:
            alone = draw.random() < 0.9
            run, breaks = (run + 1, breaks) if alone else (0, breaks + 1)
        passed += run == IN_A_ROW
    assert passed / n_drivers == pytest.approx(chance_to_pass(0.9), abs=0.02)


# section 4: none missed of n shows at least so many of 100, one-sided 95 %
@pytest.mark.parametrize("n, percent", [(5, 55), (10, 74), (15, 82), (20, 86), (29, 90), (59, 95), (100, 97)])
def test_none_missed_shows_no_more_than_its_number(n, percent):
    assert 100 * least_share_shown(n) == pytest.approx(percent, abs=0.501)
    assert least_share_shown(n) ** n == pytest.approx(0.05)  # what it means


@of_each(
    ("ask", "words"),
    [
        (lambda: chance_to_pass(1.2), "share must be"),
        (lambda: stops_until_settled(1.2), "share must be"),
        (lambda: chance_to_pass(0.9, -1), "breaks must be at least 0"),
        (lambda: stops_until_settled(0.9, in_a_row=0), "in_a_row must be at least 1"),
        (lambda: least_share_shown(0), "n must be at least 1"),
        (lambda: least_share_shown(10, 1), "error must lie strictly between 0 and 1"),
    ],
)
def test_what_cannot_be_is_refused_by_name(ask, words):
    with pytest.raises(ValueError, match=words):
        ask()


def test_the_numbers_of_the_rule_are_those_that_the_plan_tells():
    """A choice, no source: ten in a row on three days with two breaks; a second miss among twenty, the therapist."""
    assert (IN_A_ROW, N_DAYS, MOST_BREAKS, UPKEEP, MISSED_IN_UPKEEP) == (10, 3, 2, 20, 2)


def test_one_in_a_row_is_the_first_stop_that_is_made():
    """By hand: at one half with two breaks, 1 - 1/8; one stop a run, and 1 + 1/2 + 1/4 runs."""
    assert chance_to_pass(0.5, in_a_row=1) == pytest.approx(0.875)
    assert stops_until_settled(0.5, in_a_row=1) == pytest.approx(1.75)
