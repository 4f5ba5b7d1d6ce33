"""Stops that were not made: in the order of their days and attempts, each with its note and the release it has."""

from __future__ import annotations

from small_trial import attempt, of_day, small_case

from docgen.evidence.misses import misses

CASE = small_case()


def halt(line, day, done=False, number=None, **more):
    return attempt(line, "a", done, "halt", day, attempt=number, **more)


def test_only_a_stop_that_was_not_made_is_missed():
    missed = halt(2, 3)
    (miss,) = misses(CASE, [missed, halt(3, 3, done=True), attempt(4, done=False)])
    assert (miss.row, miss.n_made, miss.n_asked, miss.n_missed) == (missed, 0, 1, 1)


def test_misses_stand_by_day_then_by_attempt_then_by_what_happened_however_the_rows_were_typed():
    in_order = [
        halt(2, 3, number=9),
        halt(3, 4, note="a door banged"),
        of_day(4, 2, 1, task="halt", day=4, note="the belt was loose"),
        halt(5, 4, note="the foot slipped"),
        halt(6, 4, number=1),
        halt(7, 4, number=10),
    ]
    assert [miss.row.line for miss in misses(CASE, in_order[::-1])] == [2, 3, 4, 5, 6, 7]


def test_the_release_of_a_miss_is_told_rounded_up_and_nothing_is_told_of_one_that_was_not_timed():
    timed, untimed = halt(2, 3, release_s=1.234), halt(3, 3, number=2)
    assert [miss.release for miss in misses(CASE, [timed, untimed])] == [" (release 1.3 s)", ""]


def test_a_total_says_how_many_of_how_many_and_no_release_for_its_slowest_may_be_of_a_stop_that_was_made():
    total = of_day(2, 5, 3, task="halt", slowest_release_s=2.0, note="tired")
    (miss,) = misses(CASE, [total])
    assert (miss.n_made, miss.n_asked, miss.n_missed, miss.what, miss.release) == (3, 5, 2, "tired", "")


def test_a_cell_of_the_sheet_that_is_a_yes_a_number_or_the_kind_of_help_is_no_account_of_a_miss():
    notes = ["gehalten: nein", "gehalten: nein; a cough", "floor: 3", "remarks: the foot slipped"]
    notes += ["help: verbal", "prompts given: by hand"]
    missed = [halt(2 + at, 3, number=at, note=note) for at, note in enumerate(notes)]
    assert [miss.what for miss in misses(CASE, missed)] == ["", "a cough", "", "remarks: the foot slipped", "", ""]


def test_a_contact_counted_at_a_missed_stop_is_what_happened_where_no_note_tells_it():
    missed = [halt(2, 3, number=1, contacts=1), halt(3, 3, number=2, contacts=1, note="the foot slipped")]
    missed.append(halt(4, 3, number=3, contacts=0))
    assert [miss.what for miss in misses(CASE, missed)] == ["a collision", "the foot slipped", ""]
