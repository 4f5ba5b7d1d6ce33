"""What letters of cases written up from plain notes told wrongly: a refusal twice, days of another control, a question
of one's own, an assessment nobody made, published coverage of another base, a measured stop left out, names of keys."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from made import FOLDERS
from support import ASSESSED, assess
from test_asked_of_a_chair import ILMARI, MARISOL, configured, each, page

from docgen.case.awaited import Awaited
from docgen.case.model import Case
from docgen.case.need import Need
from docgen.case.read import read_text
from docgen.case.supervision import Supervision
from docgen.documents.checklist import checklist
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

    told = "When its stopping was measured, the chair stood after 27 3/4 in (700 mm), from "
    assert told in " ".join(page(ILMARI, "letter", change).split("\xa0"))
    assert "longest stop that was measured" not in page(ILMARI, "letter")


def test_who_measured_the_stop_works_specialty_and_each_day_of_the_supplier_are_told():
    case = ASSESSED[ILMARI].file.case
    visit, *others = case.visits
    supplier = case.with_role("supplier")[0].id
    days = sorted({visit.on, case.dates.supplier_assessed_on})

    def day_range(days: list[date]) -> str:
        """Two days of one year, as the letter tells them."""
        first, last = days
        month = "" if first.month == last.month else f"{last:%B} "
        return f"{first:%B} {first.day} and {month}{last.day}, {last.year}"

    def change(case: Case) -> Case:
        chair = case.configuration.chair.model_copy(
            update={"braked_mm": 700, "braked_from_m_s": 0.9, "braked_how": "by the supplier on October 13"}
        )
        doctor = {"specialty": "pediatric rehabilitation medicine"}
        people = tuple(p.model_copy(update=doctor if p.role == "practitioner" else {}) for p in case.people)
        client = case.client.model_copy(update={"works": "Goes to second grade."})
        visits = (visit.model_copy(update={"also": (supplier,)}), *others)
        return configured(chair=lambda _: chair)(case).model_copy(
            update={"people": people, "client": client, "visits": visits}
        )

    letter = " ".join(page(ILMARI, "letter", change).split("\xa0"))
    for told in (
        ", measured by the supplier on October 13.",
        "Goes to second grade.",
        "(pediatric rehabilitation medicine), held",
    ):
        assert told in letter and told not in page(ILMARI, "letter")
    assert len(days) == 2 and f"saw him in person on {day_range(days)}." in letter


def test_a_count_says_what_it_is_of_and_expects_nothing_that_nobody_wrote():
    def change(case: Case) -> Case:
        counts = [
            {"name": "times he gets stuck", "per": "week", "before": 2},
            {"name": "minutes' wait for the neighbor, on average", "per": "time", "before": 40},
            {"name": "calls at night", "per": "week", "before": 9, "with_device": 1},
        ]
        return case.model_copy(update={"counts": tuple(map(Need.model_validate, counts))})

    letter = page(ILMARI, "letter", change)
    assert "Times he gets stuck, a week: 2 now. " in letter
    assert "Minutes' wait for the neighbor, on average: 40 now." in letter.replace("\u2019", "'")
    assert "Calls at night, a week: 9 now; with the control I expect 1." in letter


def test_whose_plan_it_is_stands_beside_the_member_number_of_cover_and_order():
    def change(case: Case) -> Case:
        return case.model_copy(update={"request": case.request.model_copy(update={"plan_holder": "his father"})})

    for name in ("cover", "order"):
        assert ", on the plan of his father. " in page(ILMARI, name, change)
        assert "on the plan of" not in page(ILMARI, name)


def test_how_long_somebody_is_alone_without_fixed_hours_is_told_in_the_guide():
    def change(minutes: float) -> Callable[[Case], Case]:
        def changed(case: Case) -> Case:
            places = (*case.supervision, Supervision(place="in his room", level="alone", longest_min=minutes))
            return case.model_copy(update={"supervision": places})

        return changed

    told = {
        45: "Alone for up to 45 minutes at a time.",
        60: "Alone for up to an hour at a time.",
        120: "up to 2 hours at a",
    }
    for minutes, words in told.items():
        assert words in page(ILMARI, "guide", change(minutes))


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


def test_each_record_of_an_author_has_its_own_day():
    """Three kinds beside three sorted days read as pairs, and told the order as of the day of the concurrence."""
    case = ASSESSED[ILMARI].file.case
    days = dict(zip(("encounter_on", "ordered_on", "accepted_on"), (date(2026, 7, n) for n in (6, 8, 22)), strict=True))

    def rows(**dates: date):
        changed = case.model_copy(update={"dates": case.dates.model_copy(update=dates), "limits": ()})
        signer = changed.person(changed.encounter.by)
        return [row for row in record_index(changed, frozenset(), WORDS) if signer and row["by"] == signer.name]

    assert [(*row["what"], *row["on"], row["begins"], row["ends"]) for row in rows(**days)] == [
        ("face-to-face encounter", date(2026, 7, 6), True, False),
        ("order", date(2026, 7, 8), False, False),
        ("concurrence", date(2026, 7, 22), False, True),
    ]
    same = rows(**dict.fromkeys(days, date(2026, 7, 6)))
    assert [(row["what"], row["begins"], row["ends"]) for row in same] == [
        (("face-to-face encounter", "concurrence", "order"), True, True)
    ]

    def change(case: Case) -> Case:
        return case.model_copy(update={"dates": case.dates.model_copy(update=days), "limits": ()})

    told = "face-to-face encounter, July 6, 2026; order, July 8, 2026; concurrence, July 22, 2026."
    assert told in page(ILMARI, "letter", change)


def test_a_stop_switch_that_others_reach_and_the_driver_does_not_is_told_with_that_of_the_attendant():
    def told(by: str) -> str:
        keys = {"stop_switch": "red switch on the left armrest", "stop_switch_by": by, "after_stop": None}
        keys |= {"helper_switch": "button behind", "helper_stops_by": "own_switch", "helper": "press the button behind"}
        return page(ILMARI, "letter", configured(stop=lambda stop: stop.model_copy(update=keys)))

    said = "There is a stop switch besides (red switch on the left armrest), which others reach and he does not."
    assert said in told("helper") and "There is a stop switch besides" not in told("both")


def test_a_report_of_the_home_stands_on_the_cover_where_the_day_of_the_visit_is_not_known():
    def home_of(**dates: date | None):
        case = ASSESSED[ILMARI].file.case
        changed = case.model_copy(update={"dates": case.dates.model_copy(update=dates)})
        return [row for row in checklist(changed, (), WORDS) if row["kind"] == "home"]

    report = {"home_visit_on": None, "home_report_on": date(2026, 7, 17)}
    assert [(row["paper"], row["on"]) for row in home_of(**report)] == [
        ("Home assessment, its report", date(2026, 7, 17))
    ]
    neither = {"home_visit_on": None, "home_report_on": None}
    assert [(row["paper"], row["on"]) for row in home_of(**neither)] == [("Home assessment", None)]


def test_growth_is_not_asked_of_an_adult_whose_request_has_no_day():
    def told(born: date) -> str:
        def change(case: Case) -> Case:
            return case.model_copy(
                update={
                    "client": case.client.model_copy(update={"born_on": born}),
                    "dates": case.dates.model_copy(update={"written_on": None}),
                    "request": case.request.model_copy(update={"requested_on": None, "growth": None}),
                }
            )

        return page(ILMARI, "order", change)

    assert "how growth" in told(date(2020, 2, 2)) and "how growth" not in told(date(1950, 2, 2))
