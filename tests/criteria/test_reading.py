"""Who reads what in which language, and what the packet has for them in none of these."""

from __future__ import annotations

import pytest
from whole_case import GONE, changed, grounds

from docgen.criteria.reading import Reader, readers

AUNT = {"id": "reader", "role": "caregiver", "name": "Kin Example"}


def _readers(*changes: tuple[str, object]) -> dict[tuple[str | int, ...], Reader]:
    return {reader.path: reader for reader in readers(grounds(changed(*changes)).case)}


def _person(**keys: object) -> Reader | None:
    at = len(grounds(changed()).case.people)
    return _readers(("people.+", AUNT | keys)).get(("people", at))


@pytest.mark.parametrize(
    ("reads", "role", "lacks", "instead"),
    [
        (["ja"], "caregiver", ("guide",), ""),
        (["ja", "en"], "caregiver", (), ""),
        (["ja", "es-MX"], "caregiver", (), "es-MX"),
        (["ja", "es"], "school", ("plan",), "es"),
        (["en", "es"], "school", (), ""),
    ],
)
def test_what_is_written_for_them_in_no_language_they_read_is_lacking(reads, role, lacks, instead):
    reader = _person(reads=reads, role=role)
    assert (reader.lacks, reader.instead, reader.interpreter) == (lacks, instead, "")
    assert reader.called == "Kin Example" and reader.reads == tuple(reads)


def test_whoever_coaches_reads_the_plan_too_and_a_supplier_nothing_of_it():
    assert _person(reads=["ja"], role="supplier") is None and _person() is None
    coach = _readers(("people.+", AUNT | {"reads": ["ja"], "role": "supplier"}), ("training.coach", "reader"))
    (reader,) = coach.values()
    assert reader.lacks == ("guide", "plan")


def test_who_goes_through_it_with_them_is_told():
    assert _person(reads=["ja"], interpreter="by video").interpreter == "by video"


@pytest.mark.parametrize(
    ("called", "name", "words"),
    [("Robbie", "Robin Example", "Robbie"), (GONE, "Robin Example", "Robin Example"), (GONE, GONE, "the client")],
)
def test_the_client_is_told_by_the_name_they_go_by(called, name, words):
    changes = [("client.called", None), ("client.name", None), ("client.reads", ["vi"])]
    reader = _readers(*changes, ("client.called", called), ("client.name", name))[("client",)]
    assert (reader.called, reader.lacks) == (words, ("guide",))
