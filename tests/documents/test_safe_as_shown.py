"""What the letter says of speed, ways out, helpers, missed stops and days of evaluation, each with a record in which
there is nothing to say."""

from __future__ import annotations

from datetime import date

import pytest
from support import ASSESSED

from docgen.case.supervision import Supervision
from docgen.documents.everything import _days_seen, _is_of_trial
from docgen.documents.places import places
from docgen.documents.stopping_told import slower
from docgen.documents.supervised import supervised
from docgen.documents.training import _trainers
from docgen.documents.trial_table import method_row
from docgen.evidence.gather import evidence
from docgen.packet.wording import language_words

ILMARI, MARISOL, SAOIRSE = (
    ASSESSED[name] for name in ("ilmari-okonjo-vale", "marisol-quenneville-tran", "saoirse-villalobos-ng")
)
WORDS = language_words()


def configured(case, **keys):
    return case.model_copy(update={"configuration": case.configuration.model_copy(update=keys)})


def test_the_profile_that_holds_the_chair_below_the_speed_of_the_trial_is_named_with_who_sets_it():
    [row] = slower(MARISOL.file.case, MARISOL.evidence)
    assert (row["name"], row["places"]) == ("tight places", ("bathroom door", "elevator of the building"))
    assert (row["speed_m_s"], row["driven_m_s"], row["chosen_by"]) == (0.3, 0.5, "helper")


def test_no_profile_is_named_where_every_place_is_driven_as_fast_as_the_trial():
    case = MARISOL.file.case
    as_tried = tuple(profile.model_copy(update={"speed_m_s": 0.5}) for profile in case.configuration.profiles)
    case = configured(case, profiles=as_tried)
    assert list(slower(case, evidence(case))) == []


@pytest.mark.parametrize(
    ("of", "turning_mm", "backs"), [(MARISOL, None, True), (MARISOL, 1400, False), (ILMARI, None, False)]
)
def test_it_backs_out_where_no_floor_to_turn_on_is_recorded_and_it_can(of, turning_mm, backs):
    case = of.file.case
    spaces = [space.model_copy(update={"turning_mm": turning_mm}) for space in case.spaces if space.kind == "doorway"]
    case = case.model_copy(update={"spaces": tuple(spaces)})
    assert {row["backs_out"] for row in places(case, evidence(case), language_words("en"), lambda fact: None)} == {
        backs
    }


@pytest.mark.parametrize(
    ("by", "level"),
    [
        ("her aide behind her at the stop, the neighbor waiting at the end", "one_in_reach"),
        ("her aide behind her, an aunt beside her", "arms_length"),
        ("her aide", "arms_length"),
    ],
)
def test_of_two_people_only_those_at_the_chair_are_within_reach(by, level):
    place = Supervision(place="on the ramp", level="arms_length", by=by, needs=2)
    case = SAOIRSE.file.case.model_copy(update={"supervision": (place,)})
    assert [row["level"] for row in supervised(case, WORDS)] == [level]


def test_a_control_that_missed_stops_has_their_number_beside_its_longest_release():
    case = MARISOL.file.case
    rows = {m.id: method_row(case, m, MARISOL.evidence, lambda fact: fact, WORDS) for m in case.trial.methods}
    missed = {method: row["n_missed"] for method, row in rows.items()}
    assert missed == {"chin_stick": 1, "head_pads": 3, "sip_puff": 1, "sip_puff_latched": 0}


def test_the_days_of_the_evaluation_are_those_of_the_evaluators_visits_and_entries():
    assert date(2026, 2, 24) in _days_seen(SAOIRSE.file.case)
    assert _days_seen(MARISOL.file.case)[:3] == (date(2026, 2, 5), date(2026, 2, 12), date(2026, 2, 19))
    assert date(2026, 3, 3) in _days_seen(MARISOL.file.case)  # driven that day, and no other entry of it
    by_another = [entry.model_copy(update={"by": "doctor"}) for entry in MARISOL.file.case.findings]
    gone = {"findings": tuple(by_another), "limits": (), "alternatives": ()}
    alone = MARISOL.file.case.model_copy(update=gone).with_records(())
    assert _days_seen(alone) == ()
    first = tuple(visit for visit in SAOIRSE.file.case.visits if visit.on == date(2026, 2, 10))
    rows_besides = SAOIRSE.file.case.model_copy(
        update={"findings": (), "limits": (), "alternatives": (), "visits": first}
    )
    assert _days_seen(rows_besides) == (date(2026, 2, 10),)  # who saw the other days of the trial is on no record


def test_a_trainer_was_taught_a_skill_on_no_day_on_which_something_else_was_shown():
    before = tuple(entry for entry in SAOIRSE.file.case.taught if entry.on < date(2026, 7, 1))
    whole = SAOIRSE.file.case
    two = whole.model_copy(update={"training": whole.training.model_copy(update={"substitute": "job_coach"})})
    case = two.model_copy(update={"taught": before})
    days = {row["name"]: row["on"] for row in _trainers(case, WORDS)}
    assert days == {"Philippa Dunmore-Iyer": date(2026, 3, 3), "Gideon Ashgrove-Lam": date(2026, 3, 3)}
    later = {row["name"]: row["on"] for row in _trainers(two, WORDS)}
    assert later == dict.fromkeys(days, date(2026, 7, 6))


def test_days_of_the_trial_alone_are_told_as_days_of_a_trial():
    case = MARISOL.file.case
    nothing_found = case.model_copy(update={"findings": (), "limits": (), "alternatives": ()})
    assert _is_of_trial(nothing_found)
    assert _is_of_trial(case)  # on March 3 she drove, and nothing else is of that day
    assert not _is_of_trial(SAOIRSE.file.case) and not _is_of_trial(nothing_found.with_records(()))
