"""From rows to facts: hand-worked values of the demo cases, thin and huge records, and how fair a comparison was."""

from __future__ import annotations

import copy
from datetime import date, timedelta

import pytest
from gathered import of_each
from hypothesis import given, settings
from hypothesis import strategies as st
from in_full import tables_in_full
from support import CASES, DEMO_FOLDERS, Lazily, assess

from docgen.case.model import Case
from docgen.case.read import frozen
from docgen.case.record import Row
from docgen.documents.phrase import number
from docgen.evidence.gather import evidence, questions
from docgen.packet.reading import reading_facts
from docgen.packet.wording import language_words, wording
from docgen.rendering.template import Gap

EVIDENCE = Lazily(lambda folder: evidence(CASES[folder.name]))
C1, C2, C5, C10 = "ilmari-okonjo-vale", "marisol-quenneville-tran", "anselm-kirawira-boone", "saoirse-villalobos-ng"


def shown(name, fact_id):
    return number(EVIDENCE[name][fact_id], language_words()).full


@of_each(
    "name, fact_id, words",
    [
        # worked by hand from the rows with Wilson 1927, Newcombe 1998 and Garwood 1936
        (C1, "success.hand_stick", "2 of 20 (3% to 30%)"),
        (C1, "success.head_pads", "38 of 46 (69% to 91%)"),
        (C1, "difference.hand_stick", "73 percentage points (48 to 84)"),
        (C1, "contacts.hand_stick", "20.0 per 328 ft (100 m), 11.9 to 31.6"),  # 18 in 90 m
        (C1, "contacts.head_pads", "1.4 per 328 ft (100 m), 0.5 to 3.3"),  # 5 in 349 m
        (C1, "unintended.hand_stick", "1.06 a minute (0.74 to 1.46)"),  # 37 in 35 min
        (C1, "stop_request.head_pads", "10 of 11 (62% to 98%)"),
        (C1, "stopping.indoor", "2 ft 6 in (0.77 m)"),  # 0.3 x (2.2 + 0.15) + 0.09 / 1.6
        (C1, "minutes_before", "96 minutes a day"),
        (C1, "minutes_with", "41 minutes a day"),
        (C5, "success.hand_midline", "18 of 20 (70% to 97%)"),
        (C5, "success.head_pads", "16 of 20 (58% to 92%)"),
        (C5, "difference.hand_midline", "-10 percentage points (-33 to 13)"),
    ],
)
def test_a_fact_of_a_demo_equals_its_value_worked_by_hand(name, fact_id, words):
    assert shown(name, fact_id) == words


# too many or too fine for a page: for the training plan and for programs
_OF_RULE = ("moves_on", "changes", "undecided", "tries_to_pass", "tries_to_change")
UNLISTED = (
    {"attempts", "shared_days", "stopping_with", "shown", "stops_pass", "stops_settled", "tries_to_look"}
    | {"braking_s", "braking_back", "braking_back_s", "braking_turn_s", "braking_on"}
    | {f"{what}{far}" for what in _OF_RULE for far in ("", "_far")}
)


@of_each("name", EVIDENCE)
def test_tables_of_the_plan_and_tasks_within_a_session_are_left_off_the_page_and_nothing_else_is(name):
    for fact in EVIDENCE[name].values():
        family, *parts = fact.id.split(".")
        too_fine = family in UNLISTED or (family == "session" and len(parts) == 4)  # method, day, success, task
        assert fact.listed != too_fine, fact.id


@pytest.mark.parametrize(
    "name, verdicts",
    [
        # one sign (days); two signs (order, days): "clearly" needs at most one
        (C1, {"hand_stick": "clearly_worse", "force_headrest": "worse_so_far"}),
        (C5, {"hand_midline": "not_told_apart", "hand_delivered": "worse_so_far"}),
    ],
)
def test_a_comparison_is_put_in_words_by_rule(name, verdicts):
    found = {method: fact.verdict for method, fact in EVIDENCE[name].family("difference").items()}
    assert found == verdicts


def test_a_method_always_first_on_shared_days_is_said():
    signs = {f.verdict for f in EVIDENCE[C2].values() if f.id.startswith("unfair.")}
    assert "always_first" in signs


def build(methods=("a", "b"), chosen="a", rows=(), **tables):
    raw = {
        "format": "docgen case 1",
        "id": "x",
        "client": {"name": "R"},
        "trial": {
            "methods": [{"id": m, "name": m} for m in methods],
            "tasks": [{"id": "t", "name": "t", "shows": "stop"}],
        },
        "configuration": {"method": chosen} | tables.pop("configuration", {}),
    } | tables
    return Case.model_validate(frozen(raw)).with_records(tuple(rows))


def row(line, method, success=True, day=date(2026, 3, 3), **more):
    return Row(line, day, method, "t", success, **more)


THIN = {
    "no rows": [],
    "one row": [row(2, "a")],
    "all done": [row(i, "a") for i in range(2, 7)],
    "none done": [row(i, "a", False) for i in range(2, 7)],
    "one method only": [row(i, "a", i % 2 == 0, contacts=0, distance_m=5.0) for i in range(2, 9)],
    "the other method only": [row(i, "b") for i in range(2, 5)],
    "every release the same": [row(i, m, release_s=0.4) for i, m in enumerate("ababab", 2)],
    "a release of nought": [row(i, "a", release_s=0.0) for i in range(2, 9)],
    "no distance": [row(i, m, contacts=1) for i, m in enumerate("ab", 2)],
    "a distance of nought": [row(i, "a", contacts=1, distance_m=0.0) for i in range(2, 4)],
    "no contacts at all": [
        row(i, m, contacts=0, distance_m=10.0, minutes=1.0, unintended=0) for i, m in enumerate("abab", 2)
    ],
    "seconds of nought": [row(i, m, seconds=0.0) for i, m in enumerate("ab", 2)],
    "holds": [row(i, "a", hold_s=0.2) for i in range(2, 5)],
}


@of_each("name", THIN)
def test_a_thin_record_gives_a_result_or_says_what_is_not_recorded(name):
    case = build(
        rows=THIN[name],
        configuration={
            "chair": {"width_mm": 640, "length_mm": 1080, "electronics_delay_s": 0.1, "deceleration_m_s2": 1},
            "profiles": [{"id": "p", "name": "p", "speed_m_s": 0.4, "turn_deg_s": 15}],
        },
        spaces=[
            {"id": "d", "name": "d", "kind": "doorway", "clear_width_mm": 800, "clear_ahead_mm": 900, "profile": "p"},
            {"id": "n", "name": "n", "kind": "doorway", "clear_width_mm": 600},
        ],
    )
    found = evidence(case)
    for fact in found.values():
        words = number(fact, language_words())
        text = words.words if isinstance(words, Gap) else words.full
        assert text and "nan" not in text and "None" not in text
        assert fact.question in questions()
    assert ("success.a" in found) == any(r.method == "a" for r in THIN[name])


def test_fifty_thousand_rows_give_the_same_kind_of_result():
    rows = [
        row(
            i + 2,
            "ab"[i % 2],
            i % 5 > 0,
            date(2026, 1, 1) + timedelta(days=i // 1000),
            attempt=i,
            release_s=0.3 + (i % 7) / 10,
            hold_s=0.2,
            contacts=i % 5 == 0,  # an attempt with a collision is not done
            distance_m=2.0,
            unintended=0,
            minutes=0.2,
            seconds=5.0 + i % 4,
            order=1 + i % 2,
        )
        for i in range(50_000)
    ]
    found = evidence(build(rows=rows))
    # 49,999 of 100,000: the share is 4 of 5 for both; Wilson interval at n 25,000
    assert found["success.a"].n == 25_000 and found["success.a"].value == pytest.approx(0.8)
    assert found["release.a"].value is not None and len(found["contacts.a"].rows) == 25_000


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from("ab"), st.booleans(), st.integers(0, 3), st.floats(0.1, 5), st.integers(0, 9)),
        max_size=25,
    )
)
def test_any_rows_give_intervals_that_hold_their_value(parts):
    rows = [
        row(i, m, done, date(2026, 3, 1) + timedelta(days=day), contacts=c, distance_m=4.0, release_s=r)
        for i, (m, done, c, r, day) in enumerate(parts, 2)
    ]
    for fact in evidence(build(rows=rows)).values():
        if None not in (fact.low, fact.value, fact.high):
            assert fact.low <= fact.value + 1e-12 and fact.value <= fact.high + 1e-12
        assert set(fact.rows) <= set(range(2, len(rows) + 2))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 12), st.integers(1, 12), st.integers(0, 12), st.integers(1, 12))
def test_swapping_the_methods_mirrors_their_difference(k1, n1, k2, n2):
    k1, k2 = min(k1, n1), min(k2, n2)
    rows = [row(i, "a", i < k1) for i in range(n1)] + [row(n1 + i, "b", i < k2) for i in range(n2)]
    ab = evidence(build(rows=rows, chosen="a"))["difference.b"]
    ba = evidence(build(rows=rows, chosen="b"))["difference.a"]
    assert (ab.value, ab.low, ab.high) == pytest.approx((-ba.value, -ba.high, -ba.low))
    assert ab.verdict.split("_")[-1] in ("worse", "far", "apart", "better")


def test_the_fastest_speed_for_a_space_stops_inside_it_step_by_step():
    """Simulated in steps of a millisecond, apart from the closed form."""
    for case_evidence, case in ((EVIDENCE[name], CASES[name]) for name in (C1, C2, C5, C10)):
        asked, chair = case.configuration.method, case.configuration.chair
        release = max(
            f.value
            for f in (case_evidence[f"release.{asked}"], case_evidence[f"release_slowest.{asked}"])
            if f.value is not None
        )
        for space in case.spaces:
            fact = case_evidence.of("safe_speed", space.id)
            if fact is None or fact.value is None or space.slope_percent:
                continue
            speed, run, time, step = fact.value, 0.0, 0.0, 0.001
            while speed > 0:
                run += speed * step
                time += step
                if time > release + chair.electronics_delay_s:
                    speed -= chair.deceleration_m_s2 * step
            assert run <= space.clear_ahead_mm / 1000 + 0.005


def test_steering_facts_follow_from_touch_and_turn_rate():
    raw = copy.deepcopy(tables_in_full(next(f for f in DEMO_FOLDERS if f.name == C1)))
    rows = tuple(row(i, "a", hold_s=0.25) for i in range(2, 10))
    chair = {
        "width_mm": 640,
        "length_mm": 1080,
        "axle_to_front_mm": 540,
        "electronics_delay_s": 0.0,
        "turn_deceleration_deg_s2": 4500,
    }
    case = build(
        rows=rows,
        configuration={
            "chair": chair,
            "features": [{"id": "head_array", "because": []}],
            "profiles": [{"id": "p", "name": "p", "speed_m_s": 0.45, "turn_deg_s": 30}],
        },
        spaces=[s | {"profile": "p"} for s in raw["spaces"] if s["kind"] == "doorway"],
    )
    found = evidence(case)
    assert found["correction.p"].value == pytest.approx(7.6)  # 30 degrees/s for 0.25 s, and 30^2 / (2 x 4500), by hand
    assert found["veer.p"].value == pytest.approx(0.8594, abs=1e-4)  # 0.45 / (30 x pi / 180), by hand
    door = found["allowed.bathroom_door"].value
    rate = found["turn_rate.bathroom_door"].value
    assert found["turn_rate_all_doors"].value == rate == min(f.value for f in found.family("turn_rate").values())
    assert "bathroom door" in found["turn_rate_all_doors"].note
    assert rate * 0.25 + rate * rate / 9_000 == pytest.approx(door)
    unknown = evidence(
        build(
            rows=rows,
            configuration={"chair": {k: v for k, v in chair.items() if k != "turn_deceleration_deg_s2"}},
            spaces=[{k: v for k, v in s.items() if k != "profile"} for s in raw["spaces"] if s["kind"] == "doorway"],
        )
    )
    assert (
        unknown["turn_rate.bathroom_door"].value is None
        and "how fast a turn slows" in unknown["turn_rate.bathroom_door"].note
    )


def test_speed_by_push_with_rising_tone_is_warned_of():
    rows = [
        row(2, "a", tone_before=1.0, release_s=2.0),
        row(3, "a", tone_after=4.0, release_s=1.5),
        row(4, "b", release_s=0.5),
    ]
    case = build(rows=rows, configuration={"features": [{"id": "force_graded_speed", "because": []}]})
    assert (
        "stiffness rose by 3 points and the slowest release was 2 s, with another control 0.5 s"
        in evidence(case)["force_warning"].text
    )
    assert "force_warning" not in evidence(build(rows=rows))


def test_the_longest_session_is_one_that_held_up():
    def block(day, minutes, rise):
        return [
            row(
                day * 10 + i,
                "a",
                True,
                date(2026, 3, day),
                attempt=i,
                minutes=minutes if i == 0 else None,
                fatigue_before=2.0 if i == 0 else None,
                fatigue_after=2.0 + rise if i == 5 else None,
            )
            for i in range(6)
        ]

    fact = evidence(build(rows=[*block(1, 15.0, 1), *block(2, 30.0, 4)]))["session_minutes"]
    assert fact.value == 15 and "30 minutes" in fact.note


@pytest.mark.parametrize("folder", DEMO_FOLDERS, ids=lambda f: f.name)
def test_each_document_has_its_reading_grade_among_the_evidence(folder):
    grades = {fact.id: fact.value for fact in reading_facts(assess(folder)) if fact.id.startswith("grade.")}
    documents = wording().documents
    always = {f"grade.{name}" for name, document in documents.items() if not document.needs}
    assert always <= set(grades) <= {f"grade.{name}" for name in documents}
    plain = {name for name, document in documents.items() if document.plain}
    assert plain >= {"guide", "plan", "lesson"}
    assert not [name for name in plain if grades.get(f"grade.{name}", 0) > 6]


@pytest.mark.parametrize(("n", "note"), [(5, "fewer than the 6 touches an interval needs"), (6, "")])
def test_the_shortest_touch_has_an_interval_from_six_touches_on(n, note):
    # all of 6 lie on one side of the median in 2 of 2^6 orders: 1 - 2/64 is above 95%, 1 - 2/32 is not
    hold = evidence(build(rows=[row(at + 2, "a", hold_s=0.1 * (at + 1)) for at in range(n)]))["hold.a"]
    assert hold.note == note and (hold.high is None) == bool(note)
