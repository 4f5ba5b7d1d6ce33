"""A case of a few keys, some of them placeholders, is held back and approved by nobody, whatever it is called."""

from __future__ import annotations

import json

import pytest
from support import run

EIGHT = """\
format = "docgen case 1"
id = "{id}"

[request]
payer = "{payer}"

[client]
name = "{word}"

[[people]]
id = "ot"
role = "evaluator"
name = "Ada Sample"
credential = "OTR/L"

[configuration.stop]
driver = "{word}"
power_off = "{word}"
helper = "{word}"
has_switch = false

[attendant]
drives = true
"""


@pytest.mark.parametrize(
    ("word", "payer", "name"),
    [(word, "general", "small") for word in ("x", "tbd", "n/a", "x x x", "somewhere")]
    + [("tbd", payer, "ready-case") for payer in ("general", "charity_or_school", "medicaid_adult")],
)
def test_a_case_of_eight_keys_is_approved_by_nobody(word, payer, name, tmp_path):
    folder = tmp_path / name
    folder.mkdir()
    (folder / "case.toml").write_text(EIGHT.format(id=name, payer=payer, word=word), encoding="utf-8")
    (folder / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    status, out, _ = run("approve", folder, "--by", "Ada Sample, OTR/L", "--on", "2026-11-20")
    assert status == 1 and "The record holds what every packet needs" in out
    assert ("No entry of the record is a placeholder" in out) is (word != "somewhere")
    assert not (folder / "approval.toml").exists()
    told = json.loads(run("check", folder, "--json", "--today", "2026-11-25")[1])
    assert told["verdict"] == "gaps" and {one["id"] for one in told["findings"] if one["holds"]} >= {"basics_recorded"}


def test_a_placeholder_is_printed_on_no_page(tmp_path):
    folder = tmp_path / "small"
    folder.mkdir()
    text = EIGHT.format(id="small", payer="general", word="tbd")
    (folder / "case.toml").write_text(text, encoding="utf-8")
    (folder / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    run("build", folder, "--out", tmp_path / "out", "--formats", "html", "--only", "card")
    page = (tmp_path / "out" / "small" / "card.html").read_text(encoding="utf-8")
    assert ">tbd<" not in page and "where the power switch is" in page
