"""No template can show what its reader must never see: every document, every table, every key, derived ones too."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import time
from functools import cache
from itertools import product
from typing import Any

import pytest
from canaries import every_word, keys_in
from documents.readers import NEVER, NEVER_ASKED, beyond
from gathered import of_each
from pydantic import BaseModel
from support import DEMOS, assess

from docgen.case.privacy import Privacy
from docgen.documents.classed import Classed
from docgen.documents.classes import case_tables, classes_of, classes_of_drawing, declared, hidden, unclassed
from docgen.documents.made_from import MadeFrom, classes_of_key, made_from, of_people
from docgen.documents.view import Shown, project
from docgen.errors import UserError
from docgen.figures.draw import figures, shown_in
from docgen.packet.trees import tables, trees
from docgen.packet.wording import document_names, overlaid, wording
from docgen.rendering.template import Gap, Number
from docgen.resources import folder

DOCUMENTS = [name for name in document_names() if name in NEVER]  # test_audience.py tells of one without a list


def _tables(value: Any, name: str = "") -> Iterator[tuple[str, list[str]]]:
    """Dotted table -> keys of plain values, for every table that a front matter could list."""
    listed = isinstance(value, tuple)
    rows = value if isinstance(value, tuple) else ()
    if listed:
        value = value[0] if value else {}
    if isinstance(value, BaseModel):
        value = {key: getattr(value, key) for key in type(value).model_fields}
    if not isinstance(value, Mapping):
        return
    keys = []
    for key, child in value.items():
        part = child[0] if isinstance(child, tuple) and child else child
        inner = (getattr(row, key, ()) for row in rows if isinstance(row, BaseModel))
        if key == "_labels" or (listed and isinstance(part, (BaseModel, Mapping))):
            continue  # no table that [shows] can name
        if any(isinstance(entry, BaseModel) for entries in inner if isinstance(entries, tuple) for entry in entries):
            continue  # no table that [shows] can name
        if isinstance(part, (BaseModel, Mapping)):
            yield from _tables(child, f"{name}.{key}".lstrip("."))
        elif name and not isinstance(part, time):  # nothing prints a time of day
            keys.append(key)
    if keys:
        yield name, keys


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, Shown):
        yield from (text for key in value for text in _texts(value[key]))
    elif isinstance(value, tuple):
        yield from (text for one in value for text in _texts(one))
    elif isinstance(value, (Number, Gap)):
        yield value.__html__()
    elif isinstance(value, str):
        yield value


@cache
def laid_out(demo: str) -> dict[str, Any]:
    return tables(every_word(demo)[0], wording())


@cache
def all_keys() -> frozenset[tuple[str, str]]:
    """Every table and key of every demo."""
    return frozenset((table, key) for demo in DEMOS for table, keys in _tables(laid_out(demo)) for key in keys)


def _allowed(document: str, table: str, key: str) -> bool:
    classes = classes_of(table, key)
    return classes is not None and not hidden(classes, wording().documents[document].may_see)


@pytest.mark.parametrize("demo", DEMOS)
@pytest.mark.parametrize("name", DOCUMENTS)
def test_a_template_that_asks_for_all_it_can_get_still_shows_nothing_forbidden(name, demo):
    words, may_see = every_word(demo)[1], wording().documents[name].may_see
    shows: dict[str, tuple[str, ...]] = {}
    for table, keys in _tables(laid_out(demo)):
        allowed = tuple(key for key in keys if _allowed(name, table, key))
        shows[table] = ("*",) if table.startswith("evidence.") and allowed else allowed
    assert sum(map(len, shows.values())) > 60
    seen = keys_in(" ".join(_texts(Shown(project(laid_out(demo), shows, "{label}", None, may_see)))), words)
    assert len(seen) > min(10, 2 * len(may_see))  # a document for few classes has less to show
    assert not beyond(name, seen)


def _listed(document: str, table: str, key: str) -> bool:
    """Whether the list written by hand forbids a key to a document."""
    return any(
        entry == table or table.startswith(f"{entry}.") or entry in (f"{table}.{key}", f"*.{key}")
        for entry in NEVER_ASKED[document]
    )


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_key_of_the_list_written_by_hand_is_refused_in_every_table(name):
    listed = {(table, key) for table, key in all_keys() if _listed(name, table, key)}
    assert len(listed) > 15
    assert not {f"{table}.{key}" for table, key in listed if _allowed(name, table, key)}


@of_each("name", DOCUMENTS)
def test_every_entry_of_the_list_written_by_hand_names_something(name):
    named = {entry for table, key in all_keys() for entry in (table, f"{table}.{key}", f"*.{key}")}
    named |= {table.rpartition(".")[0] for table, _ in all_keys()}
    # of nothing that a front matter could name: the people stand by their roles alone, a drawing is none of [shows]
    assert {entry for entry in NEVER_ASKED[name] if entry not in named} <= {"people", "figures.methods_compared"}


def test_every_key_that_could_be_shown_has_a_class():
    assert len(all_keys()) > 600
    assert not {f"{table}.{key}" for table, key in all_keys() if not classes_of(table, key)}


def test_a_private_note_is_for_no_document_in_no_table():
    notes = [(table, key) for table, key in all_keys() if key == "private_note"]
    assert len(notes) > 6
    assert not [(name, table) for name in DOCUMENTS for table, key in notes if _allowed(name, table, key)]


@pytest.mark.parametrize("demo", DEMOS)
def test_no_page_of_a_demo_shows_what_its_reader_must_never_see(demo):
    assessed, words = every_word(demo)
    made = {name: tree for name, tree in trees(assessed).items() if name in DOCUMENTS}
    found = {name: beyond(name, keys_in(tree.plain(), words)) for name, tree in made.items()}
    assert not {name: keys for name, keys in found.items() if keys}


def test_the_programs_own_documents_are_all_made_of_the_demos():
    made = {name for demo in DEMOS for name in trees(assess(folder("cases") / demo))}
    assert made == set(document_names())


# ---- a clinic's own template ------------------------------------------------------------------------------------

# an entry of the list that is a whole table -> one key by which a front matter would ask for it
_ONE_KEY = {"evidence": "evidence.total.*", "trial": "trial.chair", "packet": "packet.rules", "request": "request.kind"}


def _asked_for(entry: str) -> tuple[str, str]:
    entry = _ONE_KEY.get(entry, entry)
    if entry.startswith("*."):
        return "evaluator", entry[2:]
    table, _, key = entry.rpartition(".")
    if (table, key) in all_keys() or key == "*":
        return table, key
    return entry, min((key for table, key in all_keys() if table == entry), default="name")


def _with_line(name: str, line: str, under: str, tmp_path: Any) -> tuple[Any, int]:
    """A clinic's copy of a template with one line put in, or in place of the one for the same table."""
    text = wording().paths[f"{name}.md"].read_text(encoding="utf-8")
    text = re.sub(rf"^{re.escape(line.partition(' = ')[0])} = .*\n", "", text, flags=re.M)
    text = text.replace(f"{under}\n", f"{under}\n{line}\n", 1)
    (tmp_path / f"{name}.md").write_text(text, encoding="utf-8")
    return tmp_path / f"{name}.md", text.split("\n").index(line) + 1


@of_each(
    "name, entry",
    [(name, entry) for name, entries in NEVER_ASKED.items() for entry in entries if "figures" not in entry],
)
def test_what_a_reader_must_never_see_cannot_be_asked_for_by_a_clinics_template(name, entry, tmp_path):
    table, key = _asked_for(entry)
    shown = f'"{table}"' if "." in table else table
    (own := tmp_path / name).mkdir(exist_ok=True)
    path, line = _with_line(name, f'{shown} = ["{key}"]', "[shows]", own)
    with pytest.raises(UserError) as failure:
        overlaid(own)
    said = str(failure.value)
    if entry == "people":
        assert f"{path}:{line}: [shows] there is no table 'people'." in said
    else:
        assert f"{path}:{line}: the {name} must never show {table}.{key}: its reader may not see the class " in said


@of_each("name, wanted", product(DOCUMENTS, (privacy for privacy in Privacy if privacy is not Privacy.PRIVATE)))
def test_a_clinics_template_cannot_let_its_reader_see_another_class(name, wanted, tmp_path):
    sees = wording().documents[name].may_see
    classes = ", ".join(f'"{privacy}"' for privacy in sorted(sees | {wanted}))
    (own := tmp_path / name).mkdir(exist_ok=True)
    path, line = _with_line(name, f"may_see = [{classes}]", "+++", own)
    if wanted in sees:
        assert overlaid(own).documents[name].may_see == sees
        return
    with pytest.raises(
        UserError, match=rf"{path.name}:{line}: the reader of the {name} may not see the class {wanted}"
    ):
        overlaid(own)


@pytest.mark.parametrize(
    "word, said",
    [
        ("private", "no document shows what is private"),
        ("clinial", "there is no class 'clinial'. Did you mean 'clinical'?"),
    ],
)
def test_a_class_that_no_reader_may_see_or_that_there_is_not_is_refused(word, said, tmp_path):
    path, line = _with_line("letter", f'may_see = ["{word}"]', "+++", tmp_path)
    with pytest.raises(UserError) as failure:
        overlaid(tmp_path)
    assert f"{path}:{line}: {said}" in str(failure.value)


def test_a_front_matter_without_classes_shows_nothing_and_does_not_load(tmp_path):
    text = wording().paths["cover.md"].read_text(encoding="utf-8")
    (tmp_path / "cover.md").write_text(re.sub(r"^may_see = .*\n", "", text, flags=re.M), encoding="utf-8")
    with pytest.raises(UserError) as failure:
        overlaid(tmp_path)
    assert "its front matter lacks 'may_see'" in str(failure.value)
    assert "the cover must never show client.name: its reader may not see the class name" in str(failure.value)


# ---- drawings ---------------------------------------------------------------------------------------------------


@of_each("name", DOCUMENTS)
def test_a_document_places_no_drawing_that_its_reader_may_not_see(name):
    document = wording().documents[name]
    placed = {*document.figures, *shown_in(name)}
    assert not {drawing for drawing in placed if hidden(classes_of_drawing(drawing), document.may_see)}


@of_each("drawing", figures())
def test_each_drawing_names_keys_of_the_case(drawing):
    assert classes_of_drawing(drawing)


@pytest.mark.parametrize("name", ["guide", "order", "lesson"])
def test_a_clinics_template_cannot_list_or_place_the_methods_of_the_trial(name, tmp_path):
    if name == "lesson":  # whose reader may see the trial
        assert not hidden(classes_of_drawing("methods_compared"), wording().documents[name].may_see)
        return
    path, line = _with_line(name, 'figures = ["methods_compared"]', "+++", tmp_path)
    with pytest.raises(UserError) as failure:
        overlaid(tmp_path)
    assert (
        f"{path}:{line}: the {name} must never show the drawing methods_compared: its reader may not see the class"
        in str(failure.value)
    )
    text = wording().paths[f"{name}.md"].read_text(encoding="utf-8")
    path.write_text(f"{text}\n\n![Methods](fig:methods_compared)\n", encoding="utf-8")
    with pytest.raises(UserError) as failure:
        trees(assess(folder("cases") / "ilmari-okonjo-vale"), [name], overlaid(tmp_path))
    assert f"the {name} must never show the drawing methods_compared: its reader may not see the class" in str(
        failure.value
    )


# ---- what a table is made from ----------------------------------------------------------------------------------


@of_each(
    "table, key, classes",
    [
        ("diagnoses", "name", "diagnosis"),
        ("diagnoses", "*", "billing diagnosis"),
        ("diagnoses", "code", "billing"),
        ("goals", "*", "goals"),
        ("client", "*", "care clinical contact device home identity name narrative"),
        ("client.head", "limit", "clinical"),
        ("evaluator", "phone", "office"),
        ("evaluator", "license", "credentials"),
        ("caregivers", "email", "contact"),
        ("contacts", "name", "circle contact"),
        ("lesser", "account", "need trial"),
        ("evidence.success", "head", "trial"),
        ("who", "course", "diagnosis"),
        ("who", "child", "name"),
        ("features", "because", "clinical device"),
        ("people", "name", ""),
        ("client", "nothing", ""),
        ("who", "nothing", ""),
        ("nothing", "name", ""),
        ("client.name", "name", ""),
    ],
)
def test_a_key_carries_the_classes_of_what_it_is_made_from(table, key, classes):
    assert " ".join(sorted(classes_of(table, key) or ())) == classes


def test_a_table_that_nothing_declares_and_a_key_without_a_source_do_not_load():
    assert unclassed({"client": {}, "who": {"called": "A", "_labels": {}}}) == ()
    assert unclassed({"weather": {"wet": True}, "who": {"called": "A", "mood": "B"}}) == ("weather", "who.mood")


def test_a_source_that_is_no_key_of_the_case_is_refused():
    with pytest.raises(KeyError, match=r"client\.mood"):
        made_from("client.mood")


def test_every_declared_table_is_laid_out_and_none_stands_for_one_of_the_case():
    assert set(declared()) <= set(laid_out(DEMOS[0]))
    assert not set(declared()) & set(case_tables())
    assert all(isinstance(made, MadeFrom) for made in declared().values())


def test_people_of_several_roles_carry_the_classes_of_each():
    assert of_people("evaluator", "caregiver").classes("phone") == {Privacy.OFFICE, Privacy.CONTACT}


def test_a_place_in_a_list_is_no_key():
    assert classes_of_key("goals.0.level") == {Privacy.GOALS} == classes_of_key("goals.0")


def test_a_fact_carries_the_classes_of_its_keys():
    single = laid_out("marisol-quenneville-tran")["evidence"]["total"]
    assert single["minutes_before_home"].needs == (frozenset([Privacy.NEED]),)
    shown = {
        name: set(
            project({"evidence": {"total": single}}, {"evidence.total": ("*",)}, "{label}", None, may_see)["evidence"][
                "total"
            ]
        )
        for name, may_see in (("plan", wording().documents["plan"].may_see), ("all", frozenset(Privacy)))
    }
    assert "minutes_before_home" in shown["all"] - shown["plan"] and "goals_t" in shown["plan"]


def test_a_value_that_its_reader_may_not_see_gives_way_to_what_stands_for_it():
    need, goal = frozenset([Privacy.NEED]), frozenset([Privacy.GOALS])
    bare = Classed("in part", (goal,), "nothing of it")
    whole = Classed("all of it", (need, goal), bare)
    assert [
        whole.shown_to(may_see) for may_see in ({Privacy.NEED, Privacy.GOALS}, {Privacy.GOALS}, {Privacy.NEED})
    ] == [
        "all of it",
        "in part",
        "nothing of it",
    ]
    assert Classed("either", (need | goal,)).shown_to({Privacy.NEED}) == "either"
    assert Classed("either", (need | goal,)).shown_to(()) is None
