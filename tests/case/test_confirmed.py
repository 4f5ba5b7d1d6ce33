"""[[confirmed]]: what was looked up again, for the values named and for no other."""

from __future__ import annotations

from datetime import date

import pytest
from support import SMALL, SMALL_ROWS

from docgen.case.confirmed import Confirmed, confirmable
from docgen.case.read import read_case
from docgen.errors import UserError

ENTRY = '\n[[confirmed]]\nof = "{of}"\nvalues = [{values}]\nby = "{by}"\non = 2026-04-02\n'


def read(tmp_path, **entry):
    folder = tmp_path / "small"
    folder.mkdir()
    (folder / "case.toml").write_text(SMALL + ENTRY.format(**{"by": "ot", "values": "245", **entry}), encoding="utf-8")
    (folder / "trial.csv").write_text(SMALL_ROWS, encoding="utf-8")
    return read_case(folder).case


def test_a_value_is_confirmed_alone_and_two_with_what_lies_between(tmp_path):
    case = read(tmp_path, of="trial.release_s", values="0.12, 0.14")
    assert case.is_confirmed("trial.release_s", 0.12, 0.13, 0.14)
    assert not case.is_confirmed("trial.release_s", 0.11, 0.13)
    assert not case.is_confirmed("sessions.release_s", 0.13)


def test_a_day_is_confirmed_as_a_day():
    entry = Confirmed(of="client.born_on", values=(date(1906, 11, 2),), by="ot", on=date(2026, 4, 2))
    assert entry.covers(date(1906, 11, 2)) and not entry.covers(date(1906, 11, 3)) and not entry.covers(1906.0)


@pytest.mark.parametrize(
    ("entry", "says", "do"),
    [
        ({"of": "client.weight"}, "'client.weight' is not a measured key or column", "client.weight_kg"),
        ({"of": "client.weight_kg", "by": "nobody"}, "'nobody' is not an id in [[people]]", ""),
        ({"of": "client.weight_kg", "values": "1, 2, 3"}, "confirmed.values", ""),
    ],
)
def test_what_cannot_be_confirmed_is_refused_with_its_line(entry, says, do, tmp_path):
    with pytest.raises(UserError) as refused:
        read(tmp_path, **entry)
    (problem,) = refused.value.problems
    assert says in problem.what and do in problem.do and "case.toml:" in problem.where


def test_every_measure_and_day_can_be_confirmed():
    assert {"client.weight_kg", "client.born_on", "dates.ordered_on", "trial.release_s", "trial.date"} <= {
        *confirmable()
    }
    assert not [name for name in confirmable() if name.startswith("confirmed")]
