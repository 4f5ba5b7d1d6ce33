"""What letters of cases written up from plain notes told wrongly: a refusal twice, days of another control, a question
of one's own, an assessment nobody made, published coverage of another base, a measured stop left out, names of keys."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from made import FOLDERS
from support import ASSESSED, assess
from test_asked_of_a_chair import ILMARI, MARISOL, configured, each, page

from docgen.case.awaited import Awaited
from docgen.case.model import Case
from docgen.case.read import read_text
from docgen.documents.record_index import record_index
from docgen.documents.requested import coverage
from docgen.documents.still_missing import still_missing
from docgen.packet.trees import trees
from docgen.packet.wording import language_words
from docgen.rendering.tree import Node

ANSELM = "anselm-kirawira-boone"
WORDS = language_words()


def with_awaited(*asked: tuple[str, str]):
    entries = tuple(Awaited(id=f"q{at}", of=of, what=what) for at, (of, what) in enumerate(asked))
    return lambda case: case.model_copy(update={"awaited": entries})


def test_a_question_that_the_therapist_answers_is_not_put_to_the_payer():
    ask = with_awaited(("supplier", "which code the tray has"), ("therapist", "which count is right"))
    letter = page(ILMARI, "letter", ask)
    body = letter.partition("Supporting Medical Records")[0]
    assert (
        "I prepare to ask for" in body and "which code the tray has (by the supplier); and once I have settled" in body
    )
    assert "which count is right" not in body


def test_each_open_question_is_told_to_whom_it_is_put():
    case = with_awaited(("supplier", "which code"), ("therapist", "which count"))(ASSESSED[ILMARI].file.case)
    answer = {"blocks": True, "asked_of": "supplier", "reason": "Not answered yet.", "keys": ("awaited.0", "awaited.1")}
    shown = still_missing(Node("document"), [answer], case, WORDS)
    assert {asked["who"]: [point["says"] for point in asked["points"]] for asked in shown} == {
        "therapist": ["Which count"],
        "supplier": ["Which code"],
    }


@pytest.mark.parametrize(
    ("reason", "before"),
    [("She does not want it: she talks all day.", False), ("The tube tires her lips.", True)],
)
def test_a_refusal_is_told_once(reason, before):
    def change(case: Case) -> Case:
        refused = each(ruled_out_by="refusal", reason=reason)(case.alternatives)
        return case.model_copy(update={"alternatives": refused})

    assert ("will not have it" in page(ILMARI, "letter", change)) is before


def test_attempts_of_other_days_are_not_told_as_of_the_days_of_a_simpler_control(tmp_path):
    folder = tmp_path / ANSELM
    shutil.copytree(FOLDERS[ANSELM], folder)
    made = ASSESSED[ANSELM].file.case
    head, *rows = (folder / "trial.csv").read_text(encoding="utf-8").splitlines()
    own = [at for at, row in enumerate(rows) if row.split(",")[1] == made.configuration.method]
    for at in own[-5:]:  # the last attempts with the requested control on a day more
        rows[at] = ",".join(["2026-03-30", *rows[at].split(",")[1:]])
    (folder / "trial.csv").write_text("\n".join([head, *sorted(rows)]) + "\n", encoding="utf-8")
    words = " ".join(trees(assess(folder), ["letter"])["letter"].plain().split())
    assert "attempts with it, and on three 16 of 20 with the requested control, too close to tell" in words
    assert "attempts with it and 16 of 20" not in words


def test_measures_that_nobody_is_recorded_to_have_taken_claim_no_home_assessment():
    def rows(**update):
        case = ASSESSED[ILMARI].file.case
        case = case.model_copy(update={"spaces": each(**update)(case.spaces)})
        return list(record_index(case, frozenset(), WORDS))

    unknown = [row for row in rows(by=None, on=None) if row["by"] is None]
    assert [row["what"] for row in unknown] == [("measures of the home",)] and not unknown[0]["on"]
    assert any("home assessment" in row["what"] for row in rows())


def test_coverage_of_a_base_with_power_options_is_no_ground_for_one_without():
    made = ASSESSED[ILMARI]

    def said(code: str) -> str:
        chair = made.file.case.configuration.chair.model_copy(update={"base_code": code})
        return coverage(configured(chair=lambda _: chair)(made.file.case), made.verdicts)

    assert not said("K0848") and "power option" in said("K0861")


def test_a_stop_that_was_measured_is_told_with_its_speed():
    def change(case: Case) -> Case:
        chair = case.configuration.chair.model_copy(update={"braked_mm": 700, "braked_from_m_s": 0.9})
        return configured(chair=lambda _: chair)(case)

    told = "In the longest stop that was measured, the chair stood after 27 3/4 in (700 mm), from "
    assert told in " ".join(page(ILMARI, "letter", change).split("\xa0"))
    assert "longest stop that was measured" not in page(ILMARI, "letter")


def test_the_drivers_own_stop_switch_stands_beside_how_the_driver_stops():
    def change(case: Case) -> Case:
        stop = case.configuration.stop.model_copy(
            update={"driver": "lets go", "stop_switch": "by the left knee", "stop_switch_by": "driver"}
        )
        return configured(stop=lambda _: stop)(case)

    assert "also has a stop switch (by the left knee)." in page(MARISOL, "letter", change)
    assert "also has a stop switch" not in page(MARISOL, "letter")  # how she stops names it


def read(text: str, folder: Path) -> Case:
    (robin := folder / "robin").mkdir()
    (robin / "trial.csv").write_text("date,method,task,success\n")
    return read_text(f'format = "docgen case 2"\nid = "robin"\n{text}', robin).case


def test_a_place_named_as_a_key_is_told_in_words(tmp_path):
    text = '[supervision]\nfront_ramp = "same_room"\n"at home" = "alone"\n'
    assert [place.place for place in read(text, tmp_path).supervision] == ["front ramp", "at home"]


def test_what_was_worn_on_the_foot_stands_with_the_set_up():
    case = ASSESSED[ILMARI].file.case

    def change(case: Case) -> Case:
        methods = tuple(m.model_copy(update={"footwear": "a winter boot"}) for m in case.trial.methods)
        return case.model_copy(update={"trial": case.trial.model_copy(update={"methods": methods})})

    assert page(ILMARI, "letter", change).count("on the foot: a winter boot") == len(case.trial.methods)


def test_a_path_outdoors_is_a_place_of_its_own_kind(tmp_path):
    (space,) = read("[spaces]\ngarden_path = 1000\n", tmp_path).spaces
    assert (space.kind, space.name, space.clear_width_mm) == ("path", "garden path", 1000)
