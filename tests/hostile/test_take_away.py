"""Nothing is said from silence, from the order in which rows were typed, or from what an id is called."""

from __future__ import annotations

import csv
import io
import re
import tomllib
import typing
from random import Random

import pytest
from in_full import text_in_full
from pydantic import BaseModel
from support import DEMO_FOLDERS, assess
from taking_away import Whole, changed, everything_taken, forms, less

from docgen.case.model import Case
from docgen.case.stage import STAGES, STOP_TASKS
from docgen.errors import UserError
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.packet.trees import trees


def without_columns(text, names):
    """The text of a file of rows without these columns."""
    rows, made = list(csv.DictReader(io.StringIO(text))), io.StringIO()
    writer = csv.DictWriter(made, [n for n in rows[0] if n not in names], lineterminator="\n", extrasaction="ignore")
    writer.writeheader()
    writer.writerows(rows)
    return made.getvalue()


# ---- order of rows ---------------------------------------------------------------------------------


def every_page(folder):
    return {name: tree.plain() for name, tree in trees(assess(folder)).items()}


@pytest.mark.parametrize("columns", [("order", "attempt"), ()], ids=["no order recorded", "as recorded"])
@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_the_order_in_which_rows_were_typed_changes_no_page(source, columns, tmp_path):
    """Rows are shuffled over the whole file: what order there is stands in their columns."""
    name = "trial.csv"
    text = without_columns((source / name).read_text(encoding="utf-8"), columns)
    head, *rows = text.strip().split("\n")
    typed = changed(source, {name: text.encode()}, tmp_path)
    pages = every_page(typed)
    Random(source.name).shuffle(rows)
    shuffled = changed(source, {name: "\n".join([head, *rows, ""]).encode()}, tmp_path)
    assert every_page(shuffled) == pages


# ---- ids -------------------------------------------------------------------------------------------

# lists whose ids are the case's own; those of findings and features are words of the vocabulary
OWN_IDS = ("people", "spaces", "alternatives", "visits")
OWN_IDS_BELOW = {"trial": ("methods",), "configuration": ("profiles", "items", "mounting")}


def own_ids(raw):
    """Every id that a case gives itself, with the new name it gets."""
    lists = [raw.get(name, []) for name in OWN_IDS]
    lists += [raw.get(table, {}).get(name, []) for table, names in OWN_IDS_BELOW.items() for name in names]
    ids = {entry["id"] for entries in lists for entry in entries if "id" in entry}
    # in the other order too: none of the alphabet of ids may show
    return {name: f"z{at:03}_renamed" for at, name in enumerate(sorted(ids, reverse=True))}


def words_of_the_program(annotation=Case):
    """Every value that a key may hold and an id may look like: choices, steps of the training, their tasks."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return {word for field in annotation.model_fields.values() for word in words_of_the_program(field.annotation)}
    if typing.get_origin(annotation) is typing.Literal:
        return set(map(str, typing.get_args(annotation)))
    return {word for part in typing.get_args(annotation) for word in words_of_the_program(part)}


def renamed(text, names):
    """The text of a case with each id replaced where it stands as a whole value, and is no name to be printed."""
    whole = r'(?<!name = )(?<!part = )(?<!place = )(?<!used = )(?<!relation = )"([a-z][a-z0-9_]*)"'
    return re.sub(whole, lambda word: f'"{names.get(word[1], word[1])}"', text)


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_what_an_id_is_called_changes_no_page(source, tmp_path):
    """No page shows the ids of places."""
    text = text_in_full(source)
    words = words_of_the_program() | {*vocabulary(), *features()}
    words |= {word for stage in STAGES for word in (stage.id, *stage.tasks)} | {*STOP_TASKS}
    names = {old: new for old, new in own_ids(tomllib.loads(text)).items() if old not in words}
    assert len(names) > 5
    change = {"case.toml": renamed(text, names).encode()}
    for file in ("trial.csv", "sessions.csv"):
        if (source / file).is_file():
            rows = (source / file).read_text(encoding="utf-8")
            change[file] = re.sub(
                r"(?m)(?<=,)[a-z0-9_]+(?=,|$)|^[a-z0-9_]+(?=,)", lambda cell: names.get(cell[0], cell[0]), rows
            ).encode()
    pages, again = every_page(source), every_page(changed(source, change, tmp_path))
    assert {name for name in pages if pages[name] != again[name]} == set()


# ---- taking away -----------------------------------------------------------------------------------

N_TAKEN = 300  # of some six thousand ways; tests/bench/take_away.py goes through all of them


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_nothing_is_said_from_what_was_taken_away(source, tmp_path):
    everything = [*everything_taken(source)]
    whole, from_silence = Whole(source), []
    for taken in Random(f"taken from {source.name}").sample(everything, N_TAKEN // len(DEMO_FOLDERS)):
        try:
            case = less(source, taken, tmp_path)
        except UserError:  # a key that a case must have
            continue
        said = [new for new in whole.newly_said(case) if not forms(new)]
        from_silence += [(taken.label, new.document, new.sentence) for new in said]
    assert from_silence == [], "\n".join(map(repr, from_silence))
