"""Silence is never a pass: what is not recorded is never met, and nothing left out makes a question fail."""

from __future__ import annotations

import pytest
from records import all_records
from whole_case import GONE, ROWS, WHOLE, answers, ask, changed, grounds, key_paths

from docgen.case.keys import bare_kind, choices_in
from docgen.case.stop import Stop
from docgen.criteria.criterion import Grounds, criteria

WHOLE_GROUNDS, WITHOUT_ROWS = grounds(WHOLE), grounds(WHOLE, ())
NOTHING = grounds({"format": "docgen case 1", "id": "robin-example"}, ())
ROWS_ALONE = grounds(
    {"format": "docgen case 1", "id": "robin-example", "trial": WHOLE["trial"], "configuration": {"method": "pads"}}
)
TABLES = [name for name in WHOLE if name not in ("format", "id")]


def test_an_empty_case_meets_nothing():
    told = {criterion: ask(criterion, NOTHING) for criterion in criteria()}
    for name in (
        # only about what the record itself calls open
        "awaited_answers_in",
        "side_questions_answered",
        "left_out_explained",
        # only about what it calls the only or the narrowest, another device that it asks for, and a signal that it
        # gives to the seat twice: whether the seat's signals are recorded is asked by another
        "only_of_those_compared",
        "other_device_was_tried",
        "choosing_moves_nothing",
        # only about a seat that it says is reused, and a way out that it says was not measured
        "old_chair_keeps_a_seat",
        "chair_reaches_lessons",
        # only about what single attempts say of themselves, and what is told of them or claimed without a hand
        "row_agrees_with_itself",
        "causes_told_are_noted",
        "help_left_fits_its_level",
        # only about what was shown of levers and pushing: who was shown anything is asked by others
        "pushing_is_in_the_row",
        # only about a medicine that it holds for a crew: the emergency page asks for what a crew is told
        "medicine_is_told",
    ):
        awaited = told.pop(name)
        assert awaited.status == "does_not_apply" and awaited.where
    assert [criterion for criterion, answer in told.items() if answer.status != "cannot_tell"] == []
    whole = {c: answer.reason.endswith(".") and answer.mend and answer.where for c, answer in told.items()}
    assert [criterion for criterion, is_whole in whole.items() if not is_whole] == []


def test_rows_alone_meet_only_what_needs_no_other_half():
    met = {criterion for criterion in all_records() if ask(criterion, ROWS_ALONE).status == "met"}
    assert met - {criterion for criterion, records in all_records().items() if records.rows_suffice} == set()


def test_a_case_without_rows_meets_only_what_needs_none():
    """What is asked only of a later day is not met with the rows either."""
    met_with = {criterion for criterion in all_records() if ask(criterion, WHOLE_GROUNDS).status == "met"}
    met_without = {criterion for criterion in all_records() if ask(criterion, WITHOUT_ROWS).status == "met"}
    needing = {criterion for criterion, records in all_records().items() if records.needs_rows}
    assert met_without ^ (met_with - needing) == set()


def test_each_table_left_out_is_missed_by_some_criterion():
    for table in TABLES:
        left = grounds({key: value for key, value in WHOLE.items() if key != table}, () if table == "trial" else ROWS)
        assert any(ask(criterion, left).status == "cannot_tell" for criterion in criteria()), table


def test_a_word_of_how_it_stops_that_speaks_against_a_claim_is_asked_for_where_it_is_left_out():
    """A key left out is never better than what it says: the claim is not met then, or something asks for the key.
    Whether a stop holds the seat is asked only where the record tells what moves the seat once it is pressed."""
    tried, unasked = 0, []
    for criterion, records in all_records().items():
        for name, changes, *rows in records.not_met:
            for path in (path for path, value in changes if isinstance(value, (bool, str)) and _is_of_stop(path)):
                tried += 1
                others = [(p, v) for p, v in changes if p != path]
                held = path in {*key_paths(changed(*others))}
                left = grounds(changed(*others, *([(path, GONE)] if held else [])), *rows)
                if ask(criterion, left).status == "met" and path.rpartition(".")[2] not in _asked_for(left):
                    unasked.append((criterion, name, path))
    assert tried > 5 and {path for _, _, path in unasked} == {"configuration.stop.holds_seat"}


_BATH = [("spaces.0.ahead_from", "way_in"), ("spaces.0.clear_ahead_mm", 2500)]
_BACKS = ("configuration.commands", [{"does": "back", "input": "head back twice"}])
_UNSEEN = {"kind": "other", "found": True, "says": "She faints on some mornings.", "driving_seen": False}
# criterion, what the record says against it, and each key that says so: without it the claim stands no better
_SAID_AGAINST = [
    ("need_at_home", [_BACKS, *_BATH], ("spaces.0.at_home", "spaces.0.ahead_from", "configuration.commands")),
    ("limits_screened", [("limits.+", _UNSEEN)], (f"limits.{len(WHOLE['limits'])}.found",)),
    (
        "settings_within_evidence",
        [_BACKS, ("configuration.profiles.0.reverse_m_s", 0.39)],
        ("configuration.profiles.0.reverse_m_s",),
    ),
    ("settings_within_evidence", [("spaces.0.clear_ahead_mm", 300)], ("configuration.profiles.0.speed_m_s",)),
    ("set_up_was_tried", [("trial.methods.1.speed_m_s", 0.3)], ("configuration.profiles",)),
    ("papers_agree", [("authorization", {"needed": True})], ("authorization.needed", "authorization")),
    ("way_back_was_tried", [_BACKS, *_BATH], ("configuration.commands",)),
]


@pytest.mark.parametrize(("criterion", "against", "keys"), _SAID_AGAINST)
def test_what_the_record_says_against_a_claim_is_not_mended_by_leaving_it_out(criterion, against, keys):
    said = ask(criterion, grounds(changed(*against), ROWS))
    assert said.status in ("not_met", "cannot_tell") or said.limit
    for key in keys:
        left = ask(criterion, grounds(changed(*against, (key, GONE)), ROWS))
        assert left.status in ("not_met", "cannot_tell") or (left.limit and said.limit), (key, left.reason)


def _is_of_stop(path: str) -> bool:
    """Whether a key says in one word, or by yes or no, how the chair is stopped."""
    *table, key = path.split(".")
    return table == ["configuration", "stop"] and (
        bare_kind(Stop.model_fields[key].annotation) is bool or bool(choices_in(Stop.model_fields[key].annotation))
    )


def _asked_for(left: Grounds) -> set[str]:
    """Last names of the keys that any open answer asks for."""
    mends = [verdict.answer.mend for verdict in answers(left) if verdict.open]
    return {key.rpartition(".")[2] for mend in mends if mend for key in mend.fill}
