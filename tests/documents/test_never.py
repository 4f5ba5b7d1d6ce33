"""The list that no template can pass by: whatever a front matter asks for, what is refused covers what must never be seen."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from datetime import time

import pytest
from pydantic import BaseModel
from support import DEMO_FOLDERS
from test_audience import NEVER, _choices, _marked, _toml

from docgen.case.model import Case
from docgen.documents.never import never_shown
from docgen.documents.view import Shown, project
from docgen.errors import UserError
from docgen.packet import assess, document_names, overlaid, trees, wording
from docgen.packet.trees import tables
from docgen.rendering.template import Gap, Number


def _tables(value, name=""):
    """Dotted table -> keys of plain values, for every table that a front matter could list."""
    listed = isinstance(value, tuple)
    if listed:
        value = value[0] if value else {}
    if isinstance(value, BaseModel):
        value = {key: getattr(value, key) for key in type(value).model_fields}
    if not isinstance(value, Mapping):
        return
    keys = []
    for key, child in value.items():
        part = child[0] if isinstance(child, tuple) and child else child
        if key == "_labels" or (listed and isinstance(part, (BaseModel, Mapping))):
            continue  # no table that [shows] can name
        if isinstance(part, (BaseModel, Mapping)):
            yield from _tables(child, f"{name}.{key}".lstrip("."))
        elif name and not isinstance(part, time):  # nothing prints a time of day
            keys.append(key)
    if keys:
        yield name, keys


def _texts(value):
    if isinstance(value, Shown):
        yield from (text for key in value for text in _texts(value[key]))
    elif isinstance(value, tuple):
        yield from (text for one in value for text in _texts(one))
    elif isinstance(value, (Number, Gap)):
        yield value.__html__()
    elif isinstance(value, str):
        yield value


@pytest.fixture(
    scope="module", params=[*(f.name for f in DEMO_FOLDERS[:3]), "marisol-quenneville-tran", "saoirse-villalobos-ng"]
)
def greedy(request, tmp_path_factory):
    """A demo case of canary words, laid out as all that could be shown, and what each word stands for."""
    source = next(f for f in DEMO_FOLDERS if f.name == request.param)
    target = tmp_path_factory.mktemp("greedy") / request.param
    target.mkdir()
    words: dict[str, str] = {}
    data = _marked(tomllib.loads((source / "case.toml").read_text(encoding="utf-8")), "", words, _choices())
    (target / "case.toml").write_text(_toml(data), encoding="utf-8")
    for rows in source.glob("*.csv"):
        (target / rows.name).write_bytes(rows.read_bytes())
    one = assess(target)
    return tables(one, wording()), words


@pytest.mark.parametrize("name", NEVER)
def test_a_template_that_asks_for_all_it_can_get_still_shows_nothing_forbidden(name, greedy):
    all_tables, words = greedy
    shows = {
        table: tuple(key for key in keys if not never_shown(name, table, key)) for table, keys in _tables(all_tables)
    }
    assert sum(map(len, shows.values())) > 60
    text = " ".join(_texts(Shown(project(all_tables, shows, "{label}"))))
    seen = {words[word] for word in re.findall(r"canary\d{4}", text)}
    assert len(seen) > 10
    for never in NEVER[name]:
        table, _, role = never.partition("@")
        roles = ("caregiver", "school", "coach") if role else ("",)
        assert not {
            path for path in seen if path.split("@")[0].startswith(table) and (not role or path.endswith(roles))
        }, never


def test_every_document_has_its_list_and_every_entry_names_something():
    keys = {"packet.rules", "people.private_note", *(f"{name}." for name in Case.model_fields)}
    for folder in DEMO_FOLDERS:
        one = assess(folder)
        keys |= {f"{table}.{key}" for table, names in _tables(tables(one, wording())) for key in names}
    from docgen.documents.never import _lists

    assert set(_lists()) == set(document_names()) == set(NEVER)
    for name, entries in _lists().items():
        for entry in entries:
            if entry.startswith("figures."):
                continue
            assert any(
                key == entry or key.startswith(f"{entry}.") or (entry[0] == "*" and key.endswith(entry[1:]))
                for key in keys
            ), (name, entry)


@pytest.mark.parametrize(
    "table, key, refused",
    [
        ("diagnoses", "name", True),
        ("diagnoses", "*", True),
        ("evidence.total", "*", True),
        ("evidence.success", "head", True),
        ("client", "member_id", True),
        ("client", "*", True),
        ("client", "name", False),
        ("evaluator", "license", True),
        ("caregivers", "phone", False),
        ("configuration.items", "why", True),
        ("configuration", "items", True),
    ],
)
def test_an_entry_reaches_a_table_its_tables_and_its_keys(table, key, refused):
    assert never_shown("guide", table, key) is refused


def test_the_programs_own_documents_pass_their_lists():
    made = {name for folder in DEMO_FOLDERS for name in trees(assess(folder))}
    assert made == set(document_names())


# how a front matter would ask for an entry of the agreed list whose name is not a table and key of [shows]
_ASKED_FOR = {
    "trial": "methods.name",
    "people.phone@caregiver": "caregivers.phone",
    "people.license": "evaluator.license",
    "people.private_note": "evaluator.private_note",
    "alternatives": "lesser.reason",
    "taught": "taught_people.name",
}


@pytest.mark.parametrize("name, never", [(name, never) for name, entries in NEVER.items() for never in entries])
def test_what_a_reader_must_never_see_cannot_be_asked_for_by_a_clinics_template(name, never, tmp_path):
    entry = _ASKED_FOR.get(never, never)
    table, _, key = entry.rpartition(".") if "." in entry and entry != "configuration.items" else (entry, "", "name")
    shown = f'"{table}"' if "." in table else table
    text = wording().paths[f"{name}.md"].read_text(encoding="utf-8")
    text = re.sub(rf"^{re.escape(shown)} = .*\n", "", text, flags=re.M).replace(
        "[shows]\n", f'[shows]\n{shown} = ["{key}"]\n', 1
    )
    (tmp_path / f"{name}.md").write_text(text, encoding="utf-8")
    line = text.split("\n").index("[shows]") + 2
    with pytest.raises(UserError) as failure:
        overlaid(tmp_path)
    assert f"{tmp_path / f'{name}.md'}:{line}: the {name} must never show {table}.{key}." in str(failure.value)
