"""Nothing is said from silence, from the order in which rows were typed, or from what an id is called."""

from __future__ import annotations

import csv
import io
from random import Random

import pytest
from support import DEMO_FOLDERS
from taking_away import changed

from docgen.packet import assess, trees


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
