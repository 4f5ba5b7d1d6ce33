"""What is read is built: cases with parts taken out, texts filled to the brim, lists as long as they may be."""

from __future__ import annotations

import shutil
import sys
import time
from collections.abc import Callable
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from random import Random

import pytest
from ablate import FILLINGS, Change, ablations, filled, together
from in_full import tables_in_full
from mutate_tables import as_toml
from support import DEMO_FOLDERS

from docgen.case.stage import STOP_TASKS
from docgen.errors import UserError
from docgen.evidence.stages import Rule, Try, walk
from docgen.evidence.training import once_a_case, walked
from docgen.packet.assess import assess
from docgen.packet.render import render
from docgen.packet.trees import trees
from docgen.packet.wording import overlaid
from docgen.rendering.template import TemplateProblem

made = sys.modules["docgen.packet.trees"]  # the package has a function of the same name
BY_NAME = {folder.name: folder for folder in DEMO_FOLDERS}
APPEAL, LESSONS = "marisol-quenneville-tran", "saoirse-villalobos-ng"


def _changed(source: Path, change: dict[str, bytes | None], under: Path) -> Path:
    folder = Path(shutil.copytree(source, under / source.name))
    for name, data in change.items():
        (folder / name).unlink() if data is None else (folder / name).write_bytes(data)
    return folder


@cache
def _single(source: Path) -> list[tuple[str, Callable[[], Change]]]:
    return [*ablations(source)]


@pytest.mark.parametrize("at", range(6))  # tests/bench/fuzz.py tries as many as one likes
def test_a_case_with_parts_taken_out_is_refused_when_it_is_read_or_built(at, tmp_path):
    random, source = Random(f"taken out {at}"), DEMO_FOLDERS[at % len(DEMO_FOLDERS)]
    if at % 2:
        label, make = random.choice(_single(source))
        change = make()
    else:
        label, change = together(source, random)
    try:
        one = assess(_changed(source, change, tmp_path))
    except UserError:
        return
    assert render(one, ["html"]), label


@pytest.mark.parametrize("kind", FILLINGS)
def test_texts_as_long_as_they_may_be_and_letters_of_no_typeface_fail_no_build(kind, tmp_path):
    seeds = (Random(f"filled {at}") for at in range(1000))
    change = next(c for label, c in (filled(BY_NAME[LESSONS], one) for one in seeds) if label.startswith(kind))
    try:
        one = assess(_changed(BY_NAME[LESSONS], change, tmp_path))
    except UserError as failure:  # a key that is no free text holds what it may not
        assert all("case.toml:" in problem.where for problem in failure.problems)
        return
    assert render(one, ["pdf"])


def test_an_appeal_with_as_many_reasons_as_a_case_may_hold_is_made(tmp_path):
    raw = tables_in_full(BY_NAME[APPEAL])
    reasons = raw["denial"]["reasons"]
    raw["denial"]["reasons"] = [reasons[at % len(reasons)] for at in range(200)]
    folder = _changed(BY_NAME[APPEAL], {"case.toml": as_toml(raw).encode()}, tmp_path)
    assert trees(assess(folder), ["appeal"])["appeal"].children


def _fails(env, name, context, more=0):
    raise TemplateProblem(name, 7, "something went wrong")


def test_a_fault_in_a_template_of_the_program_is_told_as_the_program_s_own(monkeypatch):
    monkeypatch.setattr(made, "fill", _fails)
    with pytest.raises(UserError) as caught:
        trees(assess(BY_NAME[APPEAL]), ["order"])
    told = str(caught.value)
    assert told.startswith(f"{BY_NAME[APPEAL]}: cannot have its ") and told.endswith(". Report it.")
    assert "by a fault of docgen in templates/en/order.md:7: something went wrong" in told


def test_a_fault_in_a_template_of_a_clinic_is_told_at_its_line(monkeypatch, tmp_path):
    own = made.wording().documents["order"].path
    shutil.copyfile(own, tmp_path / "order.md")
    worded = overlaid(tmp_path)
    monkeypatch.setattr(made, "fill", _fails)
    with pytest.raises(UserError, match=f"^{tmp_path / 'order.md'}:7: something went wrong"):
        trees(assess(BY_NAME[APPEAL]), ["order"], worded)


def test_stops_are_walked_in_time_that_grows_with_their_number():
    """Twenty thousand stops after the pass, one in thirty missed: no try is looked at again for each that follows."""
    stop = STOP_TASKS[0]
    # passed within the first thirty, then counted on as upkeep
    marks = ["alone"] * 30 + ["not", *["alone"] * 30] * 700
    tries = [
        Try(date(2026, 8, 10) + timedelta(days=at // 9), 0, stop, mark, stop=True, line=at)
        for at, mark in enumerate(marks)
    ]
    started = time.process_time()
    found = walk(tries, 0, {0: Rule(())})
    assert time.process_time() - started < 5  # one in a quadratic way took half a minute
    assert found.stage == 0


def test_what_is_reckoned_once_a_case_is_reckoned_anew_for_another():
    reckoned = []
    known = once_a_case(lambda case: reckoned.append(case.id) or len(reckoned))
    one, other = (assess(BY_NAME[name]).file.case for name in (APPEAL, LESSONS))
    assert [known(one), known(one), known(other), known(one)] == [1, 1, 2, 3]
    assert walked(other) is walked(other) and walked(one) is None
    assert walked(other.with_sessions(other.sessions[:5])) != walked(other)
