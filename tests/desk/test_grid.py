"""Rows typed into a grid become the same rows as those of a sheet; what is recorded by day is counted from the file."""

from __future__ import annotations

import csv
import html
import re
from collections import Counter

from docgen.case.read import read_case


def _row(n, **cells):
    return {f"rows.{n}.{name}": cell for name, cell in cells.items()}


_DAY = "2026-02-06"
_TYPED = {
    "grid": "rows",
    **_row(0, date=_DAY, method="head_pads", task="doorway", success="1", missed="0", note="went well"),
    **_row(1, date=_DAY, method="head_pads", task="park", success="0", missed="1", note=""),
    **_row(2, date=_DAY, method="head_pads", task="park", success="", missed="", note=""),  # begun and left
}


def test_rows_are_typed_looked_at_and_added(visitor, at, case):
    before = len(read_case(case).case.records)
    looked = visitor.post(f"{at}/rows", mode="", **_TYPED)
    assert looked.status == 200 and "2 rows on 1 day for trial.csv" in looked.text
    assert 'name="rows.0.note" value="went well"' in looked.text  # still in the grid
    assert len(read_case(case).case.records) == before
    text = html.unescape(re.search(r"<textarea id=\"text\"[^>]*>([^<]*)</textarea>", looked.text)[1])
    added = visitor.post(f"{at}/rows", mode="add", text=text)
    assert "Written: trial.csv" in added.text
    rows = read_case(case).case.records[before:]
    assert [(row.task, row.success, row.missed, row.note) for row in rows] == [
        ("doorway", True, 0, "went well"),
        ("park", False, 1, None),
    ]


def test_totals_by_day_are_typed_alike(visitor, at, case):
    cells = {"date": _DAY, "method": "head_pads", "task": "doorway", "attempts": "8", "done": "6"}
    typed = {f"totals.0.{name}": cell for name, cell in cells.items()}
    looked = visitor.post(f"{at}/rows", mode="", grid="totals", **typed)
    assert looked.status == 200 and "totals.csv" in looked.text, looked.text
    text = html.unescape(re.search(r"<textarea id=\"text\"[^>]*>([^<]*)</textarea>", looked.text)[1])
    assert "Written: totals.csv" in visitor.post(f"{at}/rows", mode="add", text=text).text
    assert [(total.attempts, total.done) for total in read_case(case).case.totals] == [(8, 6)]
    assert "<td>6 of 8 (a total)</td>" in visitor.get(f"{at}/rows").text


def test_more_rows_keep_what_was_typed(visitor, at):
    page = visitor.post(f"{at}/rows", mode="more", **_TYPED).text
    assert 'value="went well"' in page and 'name="rows.11.note"' in page
    assert 'name="rows.11.note"' not in visitor.get(f"{at}/rows").text


def test_a_mistake_is_told_with_its_row(visitor, at):
    wrong = _TYPED | {"rows.1.missed": "<b>many</b>"}
    answer = visitor.post(f"{at}/rows", mode="", **wrong)
    assert answer.status in (200, 422)
    assert "<b>many" not in answer.text
    assert "Row 3: " in answer.text or "&lt;b&gt;many" in answer.text


def test_what_is_recorded_by_day_is_what_the_file_holds(visitor, at, case):
    """Counted from trial.csv by the csv module of Python; success of a row with a collision is what its file says."""
    with (case / "trial.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    tried = Counter((row["date"], row["method"]) for row in rows)
    done = Counter((row["date"], row["method"]) for row in rows if row["success"] == "1")
    names = {method.id: method.name for method in read_case(case).case.trial.methods}
    shown = re.findall(
        r'<tr><th scope="row">([\d-]+)</th><td>([^<]+)</td><td>(\d+) of (\d+)</td>', visitor.get(f"{at}/rows").text
    )
    wanted = [(day, names[method], str(done[day, method]), str(n)) for (day, method), n in tried.items()]
    assert sorted(shown) == sorted(wanted)
