"""Every criterion has its records, says what it asks, and is not met by silence."""

from __future__ import annotations

from gathered import of_each
from ready_case import EVALUATOR, changed_ready, ready_grounds
from records import all_records
from support import each_key_gone
from whole_case import WHOLE, ask, grounds

from docgen.criteria.criterion import PARTS, criteria


def test_every_criterion_has_its_records():
    """In tests/criteria/questions/test_<criterion>.py; the name of the file is the name of the criterion."""
    records = all_records()
    assert {f"no file of records: {name}" for name in set(criteria()) - set(records)} == set()
    assert {f"no criterion: {name}" for name in set(records) - set(criteria())} == set()
    assert {name for name, these in records.items() if these.criterion != name} == set()


def test_every_criterion_has_a_record_of_each_answer_it_can_give():
    lacking = {
        name: sorted({"met", "cannot_tell"} - records.answers)
        for name, records in all_records().items()
        if not {"met", "cannot_tell"} <= records.answers
    }
    assert not lacking
    assert not {
        name for name, records in all_records().items() if ("not_met" in records.answers) == records.only_recorded
    }


@of_each("criterion_id", [name for name, records in all_records().items() if records.met])
def test_before_its_time_a_question_is_not_met_by_silence(criterion_id):
    """The whole case, of a request not yet delivered, meets it where its records say so, and else does not raise it."""
    now = any(not changes and not rows for _, changes, *rows in all_records()[criterion_id].met)
    assert ask(criterion_id, grounds(WHOLE)).status == ("met" if now else "does_not_apply")


@of_each("criterion_id", list(criteria()))
def test_a_criterion_says_what_it_asks_why_what_settles_it_and_its_source(criterion_id):
    criterion = criteria()[criterion_id]
    assert set(criterion.text) == set(PARTS) and all(criterion.text.values())
    assert criterion.claim and not criterion.claim.endswith(".")


def test_taking_any_one_key_away_turns_no_answer_into_met():
    """The ready demo with each key gone in turn: what could not be told, or was not met, does not become met."""

    def met(raw, asked):
        here = ready_grounds(raw)
        return {c.id for c in asked if c.ask(here, **c.settings).status == "met"}

    weak = changed_ready((("limits", 2, "answer"), None), (("people", EVALUATOR, "license"), None), (("goals",), []))
    already = met(weak, criteria().values())
    others = [c for c in criteria().values() if c.id not in already]
    assert len(already) > 50 and len(others) > 50
    for path, gone in each_key_gone(weak):
        try:
            risen = met(gone, others)
        except ValueError:
            continue  # a key its table cannot do without
        assert not risen, (path, risen)
