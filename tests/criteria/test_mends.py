"""What settles a criterion is data: keys that the case knows, and a sentence that the search never reads."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest
from msgspec.structs import replace
from pydantic import ValidationError
from whole_case import GONE, WHOLE, changed, grounds, key_paths

from docgen.case.keys import entries_at, keys_at, table_at
from docgen.case.lines import KeyPath
from docgen.criteria.advice import shortest_way
from docgen.criteria.criterion import Answer, Grounds
from docgen.criteria.mend import Mend, NewEntry, add_entry, fill_in
from docgen.criteria.payer import load
from docgen.criteria.run import Verdict, verdicts

GENERAL, ON = load("general", ""), date(2026, 5, 4)
EMPTY = {"format": "docgen case 1", "id": "robin-example"}


@cache
def records_and_verdicts() -> list[tuple[Grounds, tuple[Verdict, ...]]]:
    """The empty case, and the whole case without each of its keys."""
    records = [grounds(EMPTY, ())]
    for path in key_paths(WHOLE):
        try:
            records.append(grounds(changed((path, GONE))))
        except ValidationError:  # a key that its table cannot do without
            continue
    return [(record, tuple(verdicts(record, GENERAL, ON))) for record in records]


def _tables(where: tuple[KeyPath, ...]) -> list[KeyPath]:
    """The tables to which keys without dots belong: those pointed to, an entry of a list pointed to, those of a key."""
    return [(*place, 0) if entries_at(place) else place if table_at(place) else place[:-1] for place in where]


def _unknown(answer: Answer) -> set[str]:
    """What a mend names and the case does not have."""
    assert answer.mend
    known = {key for table in _tables(answer.where) for key in keys_at(table)}
    unknown = {key for key in answer.mend.fill if "." not in key and key not in known}
    unknown |= {key for key in answer.mend.fill if "." in key and not _is_key(tuple(key.split(".")))}
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


@pytest.mark.parametrize(
    ("mend", "expected"),
    [
        (
            lambda: fill_in({"dates.ordered_on": "<date>"}),
            Mend("Fill in dates.ordered_on <date>.", ("dates.ordered_on",)),
        ),
        (
            lambda: fill_in({"why": "", "without": ""}, " of the item"),
            Mend("Fill in why and without of the item.", ("why", "without")),
        ),
        (
            lambda: fill_in({"payer_says": "<words>"}, lead="Ask the payer, and fill in"),
            Mend("Ask the payer, and fill in payer_says <words>.", ("payer_says",), work=True),
        ),
        (
            lambda: add_entry("activities", "before", at_home=True),
            Mend(
                "Add [[activities]] with at_home = true and before.",
                add=(NewEntry("activities", ("before",), (("at_home", "true"),)),),
            ),
        ),
        (lambda: add_entry("goals"), Mend("Add [[goals]].", add=(NewEntry("goals"),))),
    ],
)
def test_the_sentence_is_made_of_the_keys(mend, expected):
    assert mend() == expected
