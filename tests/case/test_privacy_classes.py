"""Each key of a case carries one class of privacy; one without does not load."""

from __future__ import annotations

import pytest
from gathered import of_each
from pydantic import BaseModel

from docgen.case.base import Part, Words, key, many, part, part_of
from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.case.record import COLUMNS, Column
from docgen.case.session import COLUMNS as OF_LESSONS
from docgen.case.who import Person


def _parts(model: type[Part], seen: dict[str, type[Part]]) -> dict[str, type[Part]]:
    for field in model.model_fields.values():
        if (inner := part_of(field.annotation)) is not None and inner.__name__ not in seen:
            _parts(inner, seen | {inner.__name__: inner})
            seen.update(_parts(inner, {inner.__name__: inner}))
    return seen


PARTS = _parts(Case, {"Case": Case})


@of_each("model", PARTS.values(), ids=PARTS)
def test_every_key_has_a_class(model):
    own = [name for name, field in model.model_fields.items() if part_of(field.annotation) is None]
    assert all(isinstance(model.privacy_of(name), Privacy) for name in own)


def test_the_walk_over_the_parts_is_whole():
    assert {"Head", "Hours", "Reached", "SessionTotal", "Reason", "Mount"} < set(PARTS) and len(PARTS) > 30


def test_a_key_without_a_class_does_not_load():
    with pytest.raises(TypeError, match=r"Space\.wet has no class of privacy"):

        class Space(Part):
            wet: bool | None = None


def test_a_key_with_only_its_label_does_not_load():
    with pytest.raises(TypeError):
        key("whether the floor is wet")


def test_a_table_without_a_class_loads_by_its_keys():
    class Floor(Part):
        kind: Words | None = key(Privacy.HOME, "kind of floor")

    class Flat(Part):
        floor: Floor = part("the floor", Floor())
        floors: tuple[Floor, ...] = many("floors")

    assert Flat.model_fields["floor"].annotation.privacy_of("kind") is Privacy.HOME


@pytest.mark.parametrize("columns, own", [(COLUMNS, Privacy.TRIAL), (OF_LESSONS, Privacy.TRAINING)])
def test_a_column_of_the_rows_has_a_class_too(columns, own):
    assert {column.privacy for column in columns} == {own, Privacy.CIRCLE}
    with pytest.raises(TypeError):
        Column(name="wind", kind="number", means="wind")


@of_each("key_name", ["name", "phone", "email", "call_for"])
@of_each(
    "role, at_work",
    [("evaluator", True), ("practitioner", True), ("supplier", True), ("payer", True), ("caregiver", False)]
    + [(role, False) for role in ("coach", "school", "respiratory", "other")],
)
def test_who_works_on_the_request_is_reached_at_work(key_name, role, at_work):
    of_key = Person.privacy_of(key_name)
    assert of_key in (Privacy.CIRCLE, Privacy.CONTACT)
    assert Person(id="p", role=role).privacy(key_name) is (Privacy.OFFICE if at_work else of_key)


def test_a_private_note_is_private_whoever_it_is_about():
    assert all(Person(id="p", role=r).privacy("private_note") is Privacy.PRIVATE for r in ("evaluator", "caregiver"))


def test_the_schema_names_the_class_for_an_editor():
    from docgen.case.schema import schema

    assert schema()["$defs"]["Person"]["properties"]["phone"]["x-privacy"] == "contact"
    assert issubclass(Part, BaseModel)
