"""Facts of plain notes that had no place, or were told wrongly, each where a page tells it."""

from __future__ import annotations

import re
import shutil
from datetime import date

from made import BOHDAN, FOLDERS
from msgspec.structs import replace
from support import ASSESSED, assess
from test_asked_of_a_chair import ILMARI, SAOIRSE, configured, page

from docgen.case.asked import ChosenFeature
from docgen.case.items import Item
from docgen.case.model import Case
from docgen.case.who import Visit
from docgen.documents.requested import requested
from docgen.documents.trial_table import trial_places
from docgen.documents.view import project
from docgen.evidence.gather import evidence
from docgen.fit.match import fit
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

WORDS = language_words()


def test_a_ramp_without_its_slope_is_told_in_words_and_no_key_is_printed(tmp_path):
    folder = shutil.copytree(FOLDERS[SAOIRSE], tmp_path / SAOIRSE)
    text = (folder / "case.toml").read_text(encoding="utf-8")
    (folder / "case.toml").write_text(text.replace("slope_percent = 8.3\n", ""), encoding="utf-8")
    letter = " ".join(trees(assess(folder), ["letter"])["letter"].plain().split())
    assert re.search(r"It is [\w /]+ \([\d ]+mm\) long[^.]*\. Missing: slope of the ramp", letter)
    assert "It rises" not in letter and "slope_percent" not in letter


def test_what_a_table_does_not_name_is_told_in_words():
    shown = project({"a": {"most_slope_mm": None}}, {"a": ("most_slope_mm",)}, "missing: {label}", None, frozenset())
    assert shown["a"]["most_slope_mm"].words == "missing: most slope"


def test_figures_of_the_trial_chair_are_told_as_such_only_where_there_are_any():
    def with_figures(**figures):
        lacks = {"electronics_delay_s": None, "deceleration_m_s2": None, "figures_from": "the trial chair"}
        return configured(chair=lambda chair: chair.model_copy(update=lacks | figures))

    assert "of the trial chair, to be confirmed" not in page(ILMARI, "letter", with_figures())
    both = with_figures(electronics_delay_s=0.1, deceleration_m_s2=1.5)
    assert "Both are of the trial chair" in page(ILMARI, "letter", both)


def test_each_control_has_the_chair_that_it_was_tried_on():
    def change(case: Case) -> Case:
        methods = tuple(m.model_copy(update={"chair": f"chair {n}"}) for n, m in enumerate(case.trial.methods, 1))
        return case.model_copy(update={"trial": case.trial.model_copy(update={"methods": methods, "chair": None})})

    letter, case = page(ILMARI, "letter", change), ASSESSED[ILMARI].file.case
    for n, method in enumerate(case.trial.methods, 1):
        assert f"With the {method.name}, {case.client.called} drove chair {n}." in letter


def test_a_place_of_some_days_is_told_and_of_the_others_missing():
    case = ASSESSED[ILMARI].file.case
    days = sorted({row.date for row in case.tried})
    visits = (Visit(id="clinic", on=days[0], by="evaluator", place="the clinic"),)
    case = case.model_copy(update={"visits": visits, "trial": case.trial.model_copy(update={"place": None})})
    first, *others = trial_places(case)
    assert (first["place"], first["on"]) == ("the clinic", (days[0],))
    assert [(held["place"], held["on"]) for held in others] == ([(None, tuple(days[1:]))] if days[1:] else [])


def test_what_makes_a_part_a_danger_is_no_reason_for_its_line():
    def change(case: Case) -> Case:
        finding = case.findings[0].model_copy(update={"id": "head_push_extends"})
        features = tuple(
            ChosenFeature(id=name, because=("head_push_extends",)) for name in ("head_array", "proximity_sensing")
        )
        line = Item(id="e2330", name="head control", code="E2330", features=("head_array", "proximity_sensing"))
        of_case = case.model_copy(update={"findings": (*case.findings, finding)})
        return configured(features=lambda _: features, items=lambda _: (line,))(of_case)

    case = change(ASSESSED[ILMARI].file.case)
    [row] = [r for r in requested(case, fit(case, lambda *path: ""), (), WORDS) if r["code"] == "E2330"]
    assert "extension" not in row["reason"]


def test_how_the_seat_rests_the_client_has_a_place_and_is_no_weight_shift():
    def change(case: Case) -> Case:
        return case.model_copy(
            update={
                "sitting": case.sitting.model_copy(update={"rests": "Tilted 30 degrees after school, by her mother."}),
            }
        )

    assert "Rest in the seat, no weight shift: Tilted 30 degrees after school" in page(ILMARI, "guide", change)
    assert "For rest, the seat is moved: Tilted 30 degrees after school" in page(ILMARI, "letter", change)


def test_who_has_the_member_number_is_told_beside_it_and_not_the_family_asked():
    def change(case: Case) -> Case:
        return case.model_copy(
            update={"client": case.client.model_copy(update={"member_id": None, "member_id_with": "the biller"})}
        )

    letter = page(ILMARI, "letter", change)
    assert "ember ID, which the biller has" in letter
    family = letter.rpartition("Family")[2] if "Family" in letter else ""
    assert "member ID" not in family


def test_the_report_of_the_home_visit_has_its_own_day():
    def dated(**days):
        return lambda case: case.model_copy(update={"dates": case.dates.model_copy(update=days)})

    report = date(2026, 7, 17)
    both = page(ILMARI, "letter", dated(home_visit_on=date(2026, 7, 15), home_report_on=report))
    assert "The home visit was on July 15, 2026, its report is of July 17, 2026." in both
    alone = page(ILMARI, "letter", dated(home_visit_on=None, home_report_on=report))
    assert "The report of the home visit is of July 17, 2026. Missing: " in alone and "visit was on" not in alone


def test_help_on_some_days_alone_is_told_as_that():
    def change(case: Case) -> Case:
        activities = tuple(
            a.model_copy(update={"before": "done_for", "before_when": "at 2 of 3 meals"}) for a in case.activities
        )
        return case.model_copy(update={"activities": activities})

    assert "Dependent, at 2 of 3 meals" in page(ILMARI, "letter", change)


def test_a_stop_switch_that_the_driver_cannot_reach_is_told_as_that():
    def change(case: Case) -> Case:
        stop = case.configuration.stop.model_copy(
            update={
                "has_switch": True,
                "stop_switch": "red switch",
                "stop_switch_by": "helper",
                "helper_switch": "behind",
                "helper_stops_by": "own_switch",
            }
        )
        return configured(stop=lambda _: stop)(case)

    order = page(BOHDAN, "order", change)
    assert "Other attendant stop switch, out of the driver’s reach" in order


def test_verbal_help_without_its_number_is_counted_by_attempts():
    case = ASSESSED[ILMARI].file.case
    asked = case.configuration.method
    rows = tuple(replace(row, prompted=row.line % 3 == 0) if row.method == asked else row for row in case.records)
    told = evidence(case.with_records(rows))
    mine = [row for row in rows if row.method == asked]
    fact, done = told[f"prompted.{asked}"], told[f"prompted_done.{asked}"]
    assert (fact.k, fact.n) == (sum(bool(row.prompted) for row in mine), len(mine))
    assert (done.k, done.n) == (
        sum(bool(row.prompted) and row.success for row in mine),
        sum(row.success for row in mine),
    )
    assert not any(name.startswith("prompted") for name in evidence(case))
