"""The demo cases: they load, their dates are in order, and rows and words agree with the trial sheets."""

from __future__ import annotations

import calendar
import re
from collections import defaultdict
from datetime import date

import pytest
from gathered import of_each
from support import CASES, DEMO_FOLDERS, assess

from docgen.case.read import read_case
from docgen.criteria.payer import load
from docgen.evidence.gather import evidence
from docgen.evidence.stopping import stopping_distance

ILMARI, MARISOL, ANSELM = "ilmari-okonjo-vale", "marisol-quenneville-tran", "anselm-kirawira-boone"
BOHDAN, PILAR, SAOIRSE = "bohdan-lacroix-mbeki", "pilar-nakashima-holt", "saoirse-villalobos-ng"
COMPLETE = [ILMARI, MARISOL, ANSELM, PILAR, SAOIRSE]
READY = [ILMARI, MARISOL, SAOIRSE]

# k of n for each control, as totalled on the trial sheets of the invented clients
TOTALS = {
    (ILMARI, "hand_stick"): (2, 20),
    (ILMARI, "head_pads"): (38, 46),
    (ILMARI, "force_headrest"): (1, 7),
    (MARISOL, "chin_stick"): (6, 16),
    (MARISOL, "head_pads"): (8, 16),
    (MARISOL, "sip_puff"): (25, 28),
    (MARISOL, "sip_puff_latched"): (17, 20),
    (ANSELM, "hand_delivered"): (2, 6),
    (ANSELM, "hand_midline"): (18, 20),
    (ANSELM, "head_pads"): (16, 20),
    (BOHDAN, "finger_beams"): (5, 6),
    (PILAR, "head_pads"): (18, 20),
    (PILAR, "force_headrest"): (13, 20),
    (SAOIRSE, "hand_stick"): (2, 8),
    (SAOIRSE, "head_pads"): (7, 16),
    (SAOIRSE, "foot_stick"): (29, 32),
}

# each block of the trial sheets: done, attempts, missed stops, unintended, contacts, m, min, spoken and hands-on
# prompts, slowest release in s
BLOCKS = [
    (ILMARI, "2026-03-03", "hand_stick", 2, 10, 1, 18, 9, 46, 18, 9, 8, 2.8),
    (ILMARI, "2026-03-10", "hand_stick", 0, 10, 2, 19, 9, 44, 17, 8, 7, 2.7),
    (ILMARI, "2026-03-03", "head_pads", 6, 10, 1, 4, 2, 62, 17, 5, 1, 2.2),
    (ILMARI, "2026-03-10", "head_pads", 10, 12, 0, 3, 2, 88, 20, 4, 0, 0.8),
    (ILMARI, "2026-03-17", "head_pads", 11, 12, 0, 2, 1, 95, 21, 2, 0, 0.7),
    (ILMARI, "2026-03-24", "head_pads", 11, 12, 0, 1, 0, 104, 22, 1, 0, 0.6),
    (ILMARI, "2026-03-17", "force_headrest", 1, 7, 1, 11, 6, 28, 10, 5, 2, 3.1),
    (MARISOL, "2026-02-05", "chin_stick", 3, 8, 0, 9, 4, 58, 16, 3, 0, 1.4),
    (MARISOL, "2026-02-12", "chin_stick", 3, 8, 1, 8, 5, 55, 16, 3, 0, 1.3),
    (MARISOL, "2026-02-05", "head_pads", 4, 8, 2, 4, 3, 60, 17, 4, 0, 0.8),
    (MARISOL, "2026-02-19", "head_pads", 4, 8, 1, 4, 3, 61, 18, 3, 0, 0.8),
    (MARISOL, "2026-02-12", "sip_puff", 6, 8, 1, 1, 2, 66, 20, 5, 0, 1.6),
    (MARISOL, "2026-02-19", "sip_puff", 9, 10, 0, 1, 1, 92, 22, 2, 0, 0.9),
    (MARISOL, "2026-02-26", "sip_puff", 10, 10, 0, 1, 0, 101, 24, 0, 0, 0.8),
    (MARISOL, "2026-03-03", "sip_puff_latched", 8, 10, 0, 1, 1, 70, 21, 4, 0, 0.9),
    (MARISOL, "2026-03-06", "sip_puff_latched", 9, 10, 0, 0, 1, 88, 23, 2, 0, 0.8),
    (ANSELM, "2026-01-13", "hand_delivered", 2, 6, 2, 11, 7, 34, 14, 6, 0, 0.8),
    (ANSELM, "2026-01-20", "hand_midline", 9, 10, 0, 2, 1, 96, 20, 3, 0, 0.6),
    (ANSELM, "2026-01-27", "hand_midline", 9, 10, 1, 1, 1, 102, 20, 2, 0, 0.6),
    (ANSELM, "2026-01-20", "head_pads", 8, 10, 1, 2, 2, 90, 20, 4, 0, 0.6),
    (ANSELM, "2026-01-27", "head_pads", 8, 10, 1, 2, 2, 93, 20, 3, 0, 0.6),
    (BOHDAN, "2026-04-09", "finger_beams", 5, 6, 0, 0, 1, 24, 12, 5, 2, 0.6),
    (PILAR, "2026-06-02", "head_pads", 9, 10, 0, 1, 1, 98, 18, 1, 0, 0.6),
    (PILAR, "2026-06-09", "head_pads", 9, 10, 0, 1, 1, 101, 18, 1, 0, 0.6),
    (PILAR, "2026-06-02", "force_headrest", 6, 10, 2, 5, 4, 92, 18, 4, 0, 2.3),
    (PILAR, "2026-06-09", "force_headrest", 7, 10, 1, 5, 3, 95, 18, 3, 0, 2.8),
    (SAOIRSE, "2026-02-10", "hand_stick", 2, 8, 2, 18, 12, 40, 17, 2, 0, 1.6),
    (SAOIRSE, "2026-02-10", "head_pads", 3, 8, 0, 15, 7, 44, 16, 2, 0, 1.3),
    (SAOIRSE, "2026-02-24", "head_pads", 4, 8, 1, 13, 5, 47, 16, 1, 0, 1.2),
    (SAOIRSE, "2026-02-17", "foot_stick", 8, 10, 0, 2, 2, 110, 19, 0, 0, 0.6),
    (SAOIRSE, "2026-02-24", "foot_stick", 9, 10, 1, 1, 1, 126, 20, 0, 0, 1.7),
    (SAOIRSE, "2026-03-03", "foot_stick", 12, 12, 0, 0, 0, 130, 24, 0, 0, 0.4),
]


def rows(name: str, method: str | None = None, day: str | None = None) -> list:
    return [row for row in CASES[name].records if method in (None, row.method) and day in (None, row.date.isoformat())]


def summed(name: str, method: str | None, column: str, day: str | None = None) -> int:
    """Sum of a column over the rows that record it."""
    return int(sum(getattr(row, column) or 0 for row in rows(name, method, day)))


def months_before(day: date, months: int) -> date:
    """The same day of the month some months before, or that month's end."""
    year, month = divmod(day.year * 12 + day.month - 1 - months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


@pytest.mark.parametrize("path", DEMO_FOLDERS, ids=lambda path: path.name)
def test_every_demo_case_loads_with_its_rows_and_says_that_it_is_invented(path):
    case = read_case(path).case
    assert case.id == path.name and case.invented and case.records


@of_each(("name", "method"), list(TOTALS))
def test_attempts_done_of_attempts_made_equal_the_trial_sheets(name, method):
    tried = rows(name, method)
    assert (sum(row.success for row in tried), len(tried)) == TOTALS[name, method]


@of_each("block", BLOCKS, ids=lambda block: "-".join(block[:3]))
def test_the_counts_of_each_block_equal_the_trial_sheets(block):
    name, day, method, *expected = block
    tried = rows(name, method, day)
    columns = ("missed", "unintended", "contacts", "distance_m", "minutes", "prompts_verbal", "prompts_physical")
    totals = [summed(name, method, column, day) for column in columns]
    slowest_s = max(row.release_s for row in tried)
    assert [summed(name, method, "success", day), len(tried), *totals, slowest_s] == expected


def test_no_row_of_these_cases_is_outside_the_blocks_of_the_trial_sheets():
    blocks = {block[:3] for block in BLOCKS}
    for name in (*COMPLETE, BOHDAN):
        assert {(name, row.date.isoformat(), row.method) for row in rows(name)} <= blocks


@of_each("name", [*COMPLETE, BOHDAN])
def test_attempts_are_numbered_and_tasks_come_in_the_order_of_the_cards(name):
    blocks = defaultdict(list)
    for row in rows(name):
        blocks[row.date, row.method].append(row)
    cards = [task.id for task in CASES[name].trial.tasks]
    for tried in blocks.values():
        assert [row.attempt for row in tried] == list(range(1, len(tried) + 1))
        assert [row.task for row in tried] == [cards[i % len(cards)] for i in range(len(tried))]


@of_each("name", [*COMPLETE, BOHDAN])
def test_a_success_has_no_contact(name):
    assert not [row.line for row in rows(name) if row.success and row.contacts]


@of_each("name", [*COMPLETE, BOHDAN])
def test_dates_are_in_order(name):
    case = CASES[name]
    dates = case.dates
    days = [row.date for row in case.records]
    assert dates.referred_on <= dates.encounter_on <= dates.supplier_assessed_on <= dates.evaluated_on
    assert max(days) <= dates.evaluated_on and dates.home_visit_on <= dates.evaluated_on
    assert dates.evaluated_on <= dates.accepted_on <= dates.ordered_on <= dates.written_on
    assert dates.written_on <= case.request.requested_on
    assert months_before(dates.ordered_on, 6) <= dates.encounter_on <= min(days)
    observed = (case.findings, case.limits, case.alternatives, case.spaces, case.configuration.mounting)
    for part in (part for parts in observed for part in parts):
        assert part.on is None or dates.referred_on <= part.on <= dates.evaluated_on, part


@pytest.mark.parametrize("name", COMPLETE)
def test_a_complete_case_lacks_none_of_what_a_reviewer_asks_first(name):
    case = CASES[name]
    absent = {field for field in type(case.client).model_fields if getattr(case.client, field) is None}
    absent |= {field for field in type(case.dates).model_fields if getattr(case.dates, field) is None}
    # no demo person needs the others
    assert absent <= {
        *("delivered_on", "home_report_on", "interpreter", "member_id_with"),
        *("name_in_own_script", "name_language", "works", "between_rooms", "way_out_measured"),
    }
    (evaluator,) = case.with_role("evaluator")
    assert evaluator.license and evaluator.statement_on and evaluator.employed_by_supplier is False
    assert case.with_role("practitioner") and case.with_role("supplier") and case.with_role("caregiver")
    assert {"cognition", "judgment", "vision", "seizures"} <= {limit.kind for limit in case.limits}
    assert all(limit.answer for limit in case.limits if limit.found)
    assert all(finding.measure and finding.on and finding.by for finding in case.findings)
    assert len(case.activities) >= 4 and sum(activity.at_home for activity in case.activities) >= 3
    assert all(len(goal.levels) == 5 for goal in case.goals) and case.goals
    assert all(
        mount.gap_mm is not None and mount.tool and mount.mark and mount.by and mount.on
        for mount in case.configuration.mounting
    )
    assert all(item.code and item.why and item.without for item in case.configuration.items)


@pytest.mark.parametrize("name", COMPLETE)
def test_simpler_devices_stand_first_and_in_order(name):
    kinds = [alternative.kind for alternative in CASES[name].alternatives]
    simpler = ["cane_or_walker", "manual_chair", "scooter", "stick_by_hand", "stick_by_chin"]
    assert list(dict.fromkeys(kinds))[: len(simpler)] == simpler


@pytest.mark.parametrize("name", [*READY, ANSELM, BOHDAN])
def test_each_profile_stops_inside_every_space_where_it_is_used(name):
    # v (slowest release + delay) + v^2 / (2 a), uniform deceleration, written out here on its own
    case = CASES[name]
    chair = case.configuration.chair
    slowest_s = max(row.release_s for row in rows(name, case.configuration.method))
    spaces = [space for space in case.spaces if space.clear_ahead_mm is not None]
    assert spaces
    for space in spaces:
        speed = next(p.speed_m_s for p in case.configuration.profiles if p.id == space.profile)
        stop_m = speed * (slowest_s + chair.electronics_delay_s) + speed**2 / (2 * chair.deceleration_m_s2)
        assert stop_m * 1000 < space.clear_ahead_mm, space.id


@of_each("name", [*COMPLETE, BOHDAN])
def test_the_chair_fits_the_spaces_that_were_measured(name):
    chair = CASES[name].configuration.chair
    for space in CASES[name].spaces:
        assert space.clear_width_mm is None or space.clear_width_mm > chair.width_mm
        assert space.turning_mm is None or space.turning_mm >= chair.turning_mm


@of_each(
    ("name", "text", "number"),
    [
        (ILMARI, "midline joystick: {} of 20 attempts successful", summed(ILMARI, "hand_stick", "success")),
        (MARISOL, "1 of {} unintended in momentary drive", summed(MARISOL, "sip_puff", "unintended")),
        (ANSELM, "he completed {} of 20, with the head array", summed(ANSELM, "hand_midline", "success")),
        (ANSELM, "with the head array {} of 20", summed(ANSELM, "head_pads", "success")),
        (ANSELM, "{} on the left, 0 on the right", summed(ANSELM, None, "contacts")),
        (PILAR, "0.8 to {} s with the force-sensing", max(row.release_s for row in rows(PILAR, "force_headrest"))),
        (PILAR, "0.4 to {} s with the proximity", max(row.release_s for row in rows(PILAR, "head_pads"))),
        (
            PILAR,
            "{} of 6 stops on command were late",
            sum(not row.success for row in rows(PILAR, "force_headrest") if row.task == "stop_request"),
        ),
        (MARISOL, "{} spasms in 32 minutes with the chin joystick", summed(MARISOL, "chin_stick", "spasms")),
        (MARISOL, "2 spasms in {} minutes with the chin joystick", summed(MARISOL, "chin_stick", "minutes")),
        (MARISOL, "{} in 66 minutes with momentary", summed(MARISOL, "sip_puff", "spasms")),
        (MARISOL, "3 in {} minutes with momentary", summed(MARISOL, "sip_puff", "minutes")),
        (MARISOL, "{} in 35 with the head array", summed(MARISOL, "head_pads", "spasms")),
        (MARISOL, "2 in {} with the head array", summed(MARISOL, "head_pads", "minutes")),
        (MARISOL, "{} in 44 with latched", summed(MARISOL, "sip_puff_latched", "spasms")),
        (MARISOL, "2 in {} with latched", summed(MARISOL, "sip_puff_latched", "minutes")),
    ],
)
def test_numbers_in_the_words_of_a_case_are_those_of_its_rows(name, text, number):
    folder = next(path for path in DEMO_FOLDERS if path.name == name)
    written = (folder / "case.toml").read_text(encoding="utf-8")
    assert text.format(number) in re.sub(r"\\\n\s*", "", written)  # a text over several lines is one


def test_each_contact_of_the_unsupported_case_has_its_side_on_its_row():
    touched = [row for row in rows(ANSELM) if row.contacts]
    assert touched and all("on the left" in (row.note or "") for row in touched)


def test_minutes_of_help_are_those_of_the_care_diaries():
    ilmari = CASES[ILMARI]
    assert sum(a.minutes_before for a in ilmari.activities) == 96
    assert sum(a.minutes_with for a in ilmari.activities) == 41


def test_the_unfinished_case_leaves_blank_what_was_not_recorded():
    case = CASES[BOHDAN]
    assert case.client.weight_kg is None and case.client.height_mm is None
    doors = [space for space in case.spaces if space.kind == "doorway"]
    assert doors and all(door.clear_width_mm is None for door in doors)
    assert not case.with_role("caregiver")
    assert case.with_role("evaluator")[0].license is None
    (mini,) = (alternative for alternative in case.alternatives if alternative.kind == "mini_stick")
    assert mini.ruled_out_by is None and mini.reason is None and mini.measure is None and mini.method is None
    assert not [visit for visit in case.follow_up if "grow" in visit.what]
    assert case.supervision and all(place.by is None for place in case.supervision)


def test_the_unsupported_case_does_not_say_that_its_trial_rules_out_the_stick():
    case = CASES[ANSELM]
    midline = next(alternative for alternative in case.alternatives if alternative.method == "hand_midline")
    assert midline.ruled_out_by == "nothing" and "18 of 20" in midline.reason
    assert len(rows(ANSELM, "hand_midline")) == len(rows(ANSELM, case.configuration.method)) == 20
    assert summed(ANSELM, "hand_midline", "success") > summed(ANSELM, case.configuration.method, "success")


# what a competent reviewer concludes about this invented client: k, n and interval by Wilson 1927, slowest
# release in s, metres to stop at 0.6 m/s by d = v (release + 0.15) + v^2 / (2 x 0.8), rise of tiredness and
# of stiffness each day
CONCLUSION = {
    "head_pads": ((18, 20, 70, 97), 0.6, 0.675, ([1, 1], [0, 0])),
    "force_headrest": ((13, 20, 43, 82), 2.8, 1.995, ([3, 4], [2, 2])),
}


@pytest.mark.parametrize("method", CONCLUSION)
def test_the_record_of_the_unsafe_request_supports_the_published_conclusion(method):
    success, slowest_s, stop_m, rises = CONCLUSION[method]
    found, chair = evidence(CASES[PILAR]), CASES[PILAR].configuration.chair
    done, release_s = found[f"success.{method}"], found[f"release_slowest.{method}"].value
    days = [rows(PILAR, method, day) for day in ("2026-06-02", "2026-06-09")]
    assert (done.k, done.n, round(done.low * 100), round(done.high * 100)) == success
    assert release_s == slowest_s
    stop = stopping_distance(0.6, release_s, chair.electronics_delay_s, chair.deceleration_m_s2)
    assert stop.total_m == pytest.approx(stop_m)
    assert [day[-1].fatigue_after - day[0].fatigue_before for day in days] == rises[0]
    assert [day[-1].tone_after - day[0].tone_before for day in days] == rises[1]


def test_the_unsafe_request_is_not_told_apart_by_count_and_does_not_stop_where_it_is_used():
    # -25 points (-48 to 1): Newcombe 1998, method 10; 1.2 m of space at the ramp, 0.6 m/s wanted there
    found, case = evidence(CASES[PILAR]), CASES[PILAR]
    less = found["difference.head_pads"]
    assert [round(share * 100) for share in (less.value, less.low, less.high)] == [-25, -48, 1]
    (ramp,) = (space for space in case.spaces if space.profile == "outdoor")
    (outdoor,) = (profile for profile in case.configuration.profiles if profile.id == "outdoor")
    assert (ramp.clear_ahead_mm, outdoor.speed_m_s) == (1200, 0.6)
    assert found["stopping.outdoor"].value > 1.995  # counts a bound beyond the slowest release seen
    (offered,) = (alternative for alternative in case.alternatives if alternative.method)
    assert (offered.ruled_out_by, offered.method) == ("nothing", "head_pads")
    assert "in 2 ft 3 in (0.68 m) with it and in 6 ft 7 in (2.00 m) with the force-sensing headrest" in offered.reason


@pytest.mark.parametrize("payer", ["general", "medicaid_under_21"])
def test_the_unsafe_request_lacks_no_paper_and_is_at_odds_with_its_findings(payer):
    folder = next(path for path in DEMO_FOLDERS if path.name == PILAR)
    found = assess(folder, load(payer, "")).verdicts
    open_ = {verdict.criterion.id: verdict.answer.status for verdict in found if verdict.open}
    assert {"no_unanswered_risk", "stops_within_space"} <= set(open_)
    # only what conditions change is not yet asked; nothing else waits for a fact
    assert {name for name, status in open_.items() if status != "not_met"} <= {"conditions_considered"}
    wanting = {"features_have_findings"} if payer == "general" else set()
    assert {verdict.criterion.id for verdict in found if verdict.blocks} == {
        "no_unanswered_risk",
        "stops_within_space",
    } | wanting


@pytest.mark.parametrize("name", READY)
def test_a_ready_case_has_one_private_note(name):
    assert sum(person.private_note is not None for person in CASES[name].people) == 1


@of_each("name", [*COMPLETE, BOHDAN])
def test_codes_that_go_together_stand_together_once(name):
    # Medicare article A52504 on wheelchair options, text read: an interface on a new chair needs the
    # expandable controller and its harness; sip-and-puff includes its swing-away hardware; parts for
    # repair stay out
    codes = [item.code for item in CASES[name].configuration.items]
    assert len(set(codes)) == len(codes)
    assert {"E2377", "E2313"} <= set(codes)
    assert not {"E2374", "E2375", "E2376", "E2378", "E2399"} & set(codes)
    assert not ("E2325" in codes and {"E1028", "E1032"} & set(codes))
    assert ("E2311" in codes) == bool({"E1005", "E1006", "E1007", "E1008"} & set(codes))


@pytest.mark.parametrize("name", [*COMPLETE, BOHDAN])
def test_words_for_the_caregiver_read_at_grade_six_or_below(name):
    # textstat 0.7.8 as the outside measure
    textstat = pytest.importorskip("textstat")
    case = CASES[name]
    asked = case.configuration
    texts = [
        asked.works,
        asked.rest,
        asked.swing,
        *(
            text for key, text in asked.stop.model_dump().items() if not key.endswith(("_site", "_by", "_looks"))
        ),  # ids are no words
    ]
    texts += [command.input for command in asked.commands]
    texts += [caution.says for caution in case.cautions] + [person.call_for for person in case.people]
    told = [text for text in texts if isinstance(text, str)]
    assert told
    assert not [text for text in told if textstat.flesch_kincaid_grade(text) > 6]
