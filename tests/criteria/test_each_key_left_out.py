"""The whole case with each of its keys left out in turn: what is asked then, what would settle it, and the shortest way
back to ready. All that rests on this stands here, for a process makes these cases once."""

from __future__ import annotations

import re
from functools import cache

from hypothesis import example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from records import all_records
from whole_case import GONE, WHOLE, answers, ask, blocks, changed, grounds, key_paths, steps, without_each_key

from docgen.case.keys import entries_at, keys_at, table_at
from docgen.case.lines import KeyPath
from docgen.criteria.advice import shortest_way
from docgen.criteria.criterion import Answer, Grounds, criteria
from docgen.criteria.forms import form
from docgen.criteria.run import Verdict, blocking

EMPTY = {"format": "docgen case 1", "id": "robin-example"}


# ---- silence ----------------------------------------------------------------------------------------


@cache
def answers_without_each_key() -> dict[str, dict[str, Answer]]:
    """Key or entry of the whole case -> the answer of each criterion, by its own settings, when it alone is left out.

    A row of the rules that sets nothing has asked by the same settings."""
    return {
        path: {verdict.criterion.id: verdict.answer for verdict in asked if not verdict.requirement.settings}
        | {verdict.criterion.id: ask(verdict.criterion.id, left) for verdict in asked if verdict.requirement.settings}
        for path, (left, asked) in without_each_key().items()
    }


def test_any_one_key_left_out_gives_every_question_exactly_one_answer():
    told = answers_without_each_key()
    assert 0 < len(list(key_paths(WHOLE))) - len(told) < 150
    for path, by_criterion in told.items():
        assert by_criterion.keys() == criteria().keys(), path
        for criterion, answer in by_criterion.items():
            assert answer.status in ("met", "not_met", "cannot_tell", "does_not_apply"), (path, criterion)
            assert bool(answer.mend) is (answer.status in ("not_met", "cannot_tell")), (path, criterion)
    assert sum(map(len, told.values())) > 3000


def resting(criterion: str) -> set[str]:
    """The innermost keys of the whole case without which a criterion cannot be told, entries of a list as "*"."""
    needed = {path for path, given in answers_without_each_key().items() if given[criterion].status == "cannot_tell"}
    keys = {re.sub(r"\.\d+(?=\.|$)", ".*", path) for path in needed}
    return {key for key in keys if not any(other.startswith(f"{key}.") for other in keys)}


def test_a_criterion_cannot_be_told_without_exactly_the_keys_it_rests_on():
    needed = {criterion: (resting(criterion), set(records.rests_on)) for criterion, records in all_records().items()}
    assert {criterion: keys for criterion, keys in needed.items() if keys[0] != keys[1]} == {}


def test_the_records_name_many_keys():
    assert len(set().union(*map(resting, all_records()))) > 30


# ---- what settles a criterion is data ---------------------------------------------------------------


def records_and_verdicts() -> list[tuple[Grounds, tuple[Verdict, ...]]]:
    """The empty case, and the whole case without each of its keys."""
    empty = grounds(EMPTY, ())
    return [(empty, answers(empty)), *without_each_key().values()]


def _tables(where: tuple[KeyPath, ...]) -> list[KeyPath]:
    """The tables to which keys without dots belong: those pointed to, an entry of a list pointed to, those of a key."""
    return [(*place, 0) if entries_at(place) else place if table_at(place) else place[:-1] for place in where]


def _unknown(answer: Answer) -> set[str]:
    """What a mend names and the case does not have."""
    assert answer.mend
    known = {key for table in _tables(answer.where) for key in keys_at(table)}
    unknown = {key for key in answer.mend.fill if "." not in key and key not in known}
    unknown |= {key for key in answer.mend.fill if "." in key and not _is_key(_typed(key))}
    for new in answer.mend.add:
        held = keys_at((*new.table.split("."), 0))
        unknown |= {f"{new.table}.{key}" for key in (*new.keys, *dict(new.fixed)) if key not in held}
    return unknown


def _is_key(path: KeyPath) -> bool:
    return path[-1] in keys_at(path[:-1])


def test_each_key_and_entry_of_a_mend_is_one_that_the_case_has():
    mended = 0
    unknown: dict[str, set[str]] = {}
    for _, asked in records_and_verdicts():
        for verdict in asked:
            if verdict.open:
                mended += 1
                unknown.setdefault(verdict.criterion.id, set()).update(_unknown(verdict.answer))
    assert mended > 500 and not {criterion: keys for criterion, keys in unknown.items() if keys}


def _speechless(verdict: Verdict) -> Verdict:
    """The verdict of a criterion that says nothing of what to do, now and when it is asked again."""

    def silent(answer: Answer) -> Answer:
        return replace(answer, mend=answer.mend and replace(answer.mend, say="..."))

    ask = verdict.criterion.ask
    criterion = replace(verdict.criterion, ask=lambda on, **settings: silent(ask(on, **settings)))
    return replace(verdict, criterion=criterion, answer=silent(verdict.answer))


def test_the_shortest_way_reads_no_sentence():
    settled = 0
    for record, asked in records_and_verdicts():
        steps = [(step.kind, step.table, step.keys) for step in shortest_way(record, asked) if step.kind != "do"]
        silent = shortest_way(record, [_speechless(verdict) for verdict in asked])
        assert [(step.kind, step.table, step.keys) for step in silent if step.kind != "do"] == steps
        settled += len(steps)
    assert settled > 80


# ---- the shortest way to ready ----------------------------------------------------------------------


def _typed(path: str) -> tuple[str | int, ...]:
    return tuple(int(part) if part.isdigit() else part for part in path.split("."))


def _optional(path: str) -> bool:
    *table, key = _typed(path)
    model = table_at(tuple(table))
    return (
        model is not None
        and str(key) in model.model_fields
        and not model.model_fields[str(key)].is_required()
        and not entries_at(_typed(path))
    )


@cache
def blocking_keys() -> list[str]:
    """Optional keys of the whole case without which something cannot be told that blocks."""
    found = []
    for path, (_, asked) in without_each_key().items():
        if _optional(path) and table_at(_typed(path)) is None:
            opened = blocking(asked)
            if opened and all(verdict.answer.status == "cannot_tell" for verdict in opened):
                found.append(path)
    return found


@cache
def steps_without(path: str):
    """The shortest way for the whole case without one key."""
    return shortest_way(*without_each_key()[path])


def test_the_whole_case_is_ready_and_needs_no_step():
    assert not blocks(WHOLE) and not steps(WHOLE)
    assert len(blocking_keys()) >= 30  # else the tests below would try little


def test_a_key_taken_out_is_the_key_to_fill_in():
    def is_told(path: str) -> bool:
        *table, key = _typed(path)
        told = {(step.table, name) for step in steps_without(path) for name, _ in step.keys if step.kind == "fill"}
        return (tuple(table), key) in told or {step.kind for step in steps_without(path)} == {"do"}

    assert [path for path in blocking_keys() if not is_told(path)] == []


def test_most_keys_are_told_as_keys_and_few_as_work():
    told = [path for path in blocking_keys() if any(step.kind == "fill" for step in steps_without(path))]
    assert len(told) >= 0.8 * len(blocking_keys())


@settings(max_examples=25, deadline=None)
@given(st.deferred(lambda: st.sets(st.sampled_from(blocking_keys()), min_size=1, max_size=6)))
@example({"activities.0.at_home"})  # a place that is open is filled in; no second activity is asked for
def test_putting_back_the_keys_named_makes_the_case_ready_and_none_can_be_spared(paths):
    left = set(paths)
    for _ in range(3):  # what is put back, such as a code, can raise one more question
        raw = changed(*((path, GONE) for path in left))
        found = steps(raw)
        assert {one for step in found for one in step.settles} == blocks(raw)
        if not found or any(step.kind != "fill" for step in found):
            break
        named = {".".join(map(str, (*step.table, key))) for step in found for key, _ in step.keys}
        assert named <= left  # nothing is requested that was there
        for one in named:
            assert blocks(changed(*((path, GONE) for path in (left - named) | {one})))
        left -= named
    assert not found or any(step.kind == "do" for step in found)


def test_a_form_shows_how_to_write_a_value_and_none_of_its_content():
    def is_form(path: str) -> bool:
        shown, examples = form(_typed(path)), table_at(_typed(path)[:-1]).model_fields[str(_typed(path)[-1])].examples
        told_apart = isinstance(examples[0], (bool, list)) or "or" in shown or str(examples[0]) not in shown
        return "<" in shown and shown.strip('[]"').endswith(">") and told_apart

    assert [path for path in blocking_keys() if not is_form(path)] == []
