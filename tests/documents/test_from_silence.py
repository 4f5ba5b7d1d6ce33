"""What is not recorded is said to be unknown, never to be absent, and what is counted is said with what it is counted
over."""

from __future__ import annotations

import csv
import io

import pytest
from made import page
from support import DEMO_FOLDERS

ANSELM, BOHDAN, ILMARI, MARISOL, PILAR, SAOIRSE = (
    next(folder for folder in DEMO_FOLDERS if folder.name.startswith(name))
    for name in ("anselm", "bohdan", "ilmari", "marisol", "pilar", "saoirse")
)
CASE, TRIAL, SESSIONS = "case.toml", "trial.csv", "sessions.csv"


def without_columns(source, *names, file=TRIAL):
    """The change that takes columns out of a demo's rows."""
    text = (source / file).read_text(encoding="utf-8")
    rows = list(csv.DictReader(io.StringIO(text)))
    made = io.StringIO()
    writer = csv.DictWriter(made, [name for name in rows[0] if name not in names], lineterminator="\n")
    writer.writeheader()
    writer.writerows({name: value for name, value in row.items() if name not in names} for row in rows)
    return file, text, made.getvalue()


# ---- what was seen, and what could have been ------------------------------------------------------


@pytest.mark.parametrize(
    ("columns", "says"),
    [
        (("distance_m",), "Bumps into things. You stop the chair"),
        (("minutes",), "The chair acts when nothing was meant. You stop the chair"),
        (("distance_m",), "In the trial: bumps, 5 in 38 attempts."),
        (("minutes",), "In the trial: acts not meant, 10 in 38 attempts."),
        ((), "In the trial: no move after a touch, 6 in 38 attempts."),
    ],
)
def test_what_is_counted_without_a_distance_is_told_by_attempts(columns, says, tmp_path):
    changes = [without_columns(ILMARI, *columns)] if columns else []
    assert says in page(tmp_path, "plan", ILMARI, *changes)


def test_the_letter_says_the_same_count(tmp_path):
    words = page(tmp_path, "letter", ILMARI, without_columns(ILMARI, "distance_m", "minutes"))
    assert "5 in 38 attempts" in words and "10 in 38 attempts" in words
    assert "counts with their" not in words


@pytest.mark.parametrize(
    ("columns", "name"),
    [
        (("contacts",), "Bumps into things"),
        (("unintended",), "The chair acts when nothing was meant"),
        (("missed",), "A touch is made and nothing happens"),
        (("tone_after",), "Gets stiff"),
    ],
)
def test_what_has_no_column_is_not_known_rather_than_not_seen(columns, name, tmp_path):
    words = page(tmp_path, "plan", ILMARI, without_columns(ILMARI, *columns))
    seen, _, unknown = words.partition("Not recorded, so not known: ")
    assert f'"{name}"' in unknown.partition("You never change")[0]
    assert f'"{name}"' not in seen.partition("Not seen so far: ")[2]
