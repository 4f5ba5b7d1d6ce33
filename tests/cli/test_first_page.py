"""The first page of `docgen check`: at most 40 lines, worst first, each point with what to write, and whose it is."""

from __future__ import annotations

import json
import re
import shutil

import pytest
from gathered import of_each
from support import DEMO_FOLDERS
from test_commands import run

from docgen.case.base import part_of
from docgen.case.keys import class_at, entries_at
from docgen.case.model import Case
from docgen.case.respondents import respondent_of, respondents
from docgen.console.first_page import LINES, _begun, _named, _weight, respondent_named
from docgen.console.width import WIDTH
from docgen.resources import folder
from docgen.vocabulary import keys_of_case

TODAY = ("--today", "2026-11-25")
BOHDAN = folder("cases") / "bohdan-lacroix-mbeki"


def report(case):
    return json.loads(run("check", case, *TODAY, "--json")[1])


@pytest.fixture(scope="module")
def empty(tmp_path_factory):
    """A case that was started and not yet written."""
    target = tmp_path_factory.mktemp("first") / "robin-example"
    assert run("new", target)[0] == 0
    return target


@pytest.mark.parametrize("case", [*DEMO_FOLDERS, None], ids=lambda f: f.name if f else "empty")
def test_it_has_at_most_40_lines(case, empty):
    lines = run("check", case or empty, *TODAY)[1].rstrip("\n").split("\n")
    assert len(lines) <= LINES == 40 and max(map(len, lines)) <= WIDTH


def test_it_names_ten_points_of_an_empty_case_those_that_can_hurt_first(empty):
    points = re.findall(r"(?m)^(\d+)\. +(.*)$", run("check", empty, *TODAY)[1])
    assert [int(number) for number, _ in points] == list(range(1, 11))
    dangers = {f["reason"] for f in report(empty)["findings"] if f["dangerous"]}
    assert any(reason.startswith(points[0][1]) for reason in dangers)


def test_every_point_says_what_to_write_and_where(empty):
    page = run("check", empty, *TODAY)[1].split("WHAT MATTERS MOST NOW\n")[1].split("\n\n")[0]
    points = re.split(r"(?m)^\d+\. +", page)[1:]
    assert len(points) == 10 and all("case.toml" in point for point in points)


def test_points_that_the_same_lines_settle_are_told_once(empty):
    page = run("check", empty, *TODAY)[1]
    steps = [step for step in report(empty)["shortest"] if step["table"] == "[people.evaluator]"]
    assert page.count("[people.evaluator]") == len(steps) == 1 and len(steps[0]["settles"]) > 1


def test_a_new_entry_is_told_under_the_name_that_says_what_it_is(empty):
    page = run("check", empty, *TODAY)[1]
    assert "add a new [alternatives.scooter] with ruled_out_by, reason" in page
    steps = {step["table"]: step["keys"] for step in report(empty)["shortest"] if step["kind"] == "add"}
    assert not {"id", "kind", "name"} & steps["[alternatives.cane_or_walker]"].keys()
    assert "kind" not in steps["[limits.KIND]"] and "place" not in steps["[supervision.PLACE]"]


@pytest.mark.parametrize("case", DEMO_FOLDERS, ids=lambda f: f.name)
def test_what_is_left_is_counted_by_weight_and_by_who_can_answer(case):
    page = " ".join(run("check", case, *TODAY)[1].split())
    opened = {
        (f["reason"], f["mend"]) for f in report(case)["findings"] if f["status"] in ("not_met", "cannot_tell")
    }  # requirements with the same answer are one point
    counts = re.search(r"In all: (.*?)\. By who can answer, what several can for each: (.*?)\.", page)
    assert bool(counts) == bool(opened)
    if counts is None:
        return
    assert sum(map(int, re.findall(r"\d+", counts[1]))) == len(opened)
    for name, n in re.findall(r"([a-z ]+) (\d+)", counts[2]):  # as many as the page for that one lists
        assert (
            f": {n} point{'s' * (n != '1')} for: {name.strip()}" in run("check", case, *TODAY, "--for", name.strip())[1]
        )


def test_requirements_with_the_same_answer_are_one_point_and_are_told_once(tmp_path):
    assert run("new", tmp_path / "robin", "--control", "head_array", "--kind", "new_chair")[0] == 0
    toml = tmp_path / "robin" / "case.toml"
    text = toml.read_text(encoding="utf-8")
    toml.write_text(f'{text}\n[configuration.items.pads]\nname = "pads"\nwhy = "They drive it."\n', encoding="utf-8")
    blocking = [f for f in json.loads(run("check", toml.parent, "--json")[1])["findings"] if f["blocks"]]
    distinct = {(finding["reason"], finding["mend"]) for finding in blocking}
    page, whole = (" ".join(run("check", toml.parent, *words)[1].split()) for words in ((), ("--all",)))
    assert len(blocking) - len(distinct) > 5
    assert f"not ready, {len(distinct)} points must be settled first" in page
    assert f"In all: {len(distinct)} to settle first" in page
    settle_first = whole.partition("MUST BE SETTLED FIRST")[2].partition("A REVIEWER MAY ASK")[0]
    assert (
        settle_first.count("No item has a code.") == 1
        and "Open for the same reason: The connection code fits" in settle_first
    )


def test_the_part_of_one_reader_holds_what_that_reader_can_answer_and_no_more():
    status, page, _ = run("check", BOHDAN, *TODAY, "--for", "supplier")
    assert status == 1 and "clear_width_mm" in page and "base_looked_up_on" in page
    assert "license" not in page and "encounter." not in page
    for_practitioner = run("check", BOHDAN, *TODAY, "--for", "Practitioner")[1]
    assert "encounter." in for_practitioner and "clear_width_mm" not in for_practitioner


def test_the_part_of_one_reader_is_had_as_data_too():
    status, text, _ = run("check", BOHDAN, *TODAY, "--for", "supplier", "--json")
    asked = json.loads(text)
    assert status == 1 and (asked["format"], asked["for"], asked["unreadable"]) == ("docgen asked 1", "supplier", [])
    (case,) = asked["cases"]
    lines = run("check", BOHDAN, *TODAY, "--for", "supplier")[1].splitlines()
    page = " ".join(" ".join(lines).split())
    assert all(point["reason"] in page and point["mend"] in page for point in case["points"])
    assert 1 < sum(line.startswith("- ") for line in lines) == len(case["points"])


def test_nobody_is_asked_by_a_name_that_is_nobodys():
    status, _, err = run("check", BOHDAN, "--for", "plumber")
    assert status == 2 and "'plumber'" in err and "supplier" in err and "at_delivery" in err


def _paths(model, before=""):
    for name, field in model.model_fields.items():
        path = f"{before}{name}"
        inner = part_of(field.annotation)
        yield path
        if inner is not None:
            yield from _paths(inner, f"{path}.")


def test_every_key_that_a_respondent_is_asked_is_one_of_the_case():
    paths = set(_paths(Case))
    asked = [key for respondent in respondents().values() for key in respondent.keys]
    assert len(asked) == len(set(asked)) > 30 and set(asked) <= paths


@of_each(
    ("path", "who"),
    [
        ("configuration.items.payer_says", "payer"),
        ("configuration.items.code", "supplier"),
        ("configuration.items.why", "therapist"),
        ("order.signed_by", "practitioner"),
        ("order.base_looked_up_on", "supplier"),
        ("ordering", "therapist"),
        ("delivery.signed_on", "at_delivery"),
        ("fitted.gap_mm", "at_delivery"),
        # how near somebody must be, and what a weight shift is, the therapist decides; who is there, the family knows
        ("supervision.level", "therapist"),
        ("supervision.stands", "therapist"),
        ("supervision.reach_s", "therapist"),
        ("supervision.by", "family"),
        ("supervision.looks_in.at", "family"),
        ("weight_shift.tilt_deg", "therapist"),
        ("weight_shift.every_min", "therapist"),
        ("weight_shift.helper", "family"),
        ("transport.vehicle", "family"),
        ("transport.head_support", "therapist"),
        ("counts.with_device", "therapist"),
        ("counts.before", "family"),
        ("configuration.mounting.gap_mm", "therapist"),
        ("configuration.mounting.bracket", "supplier"),
        ("configuration.stop.power_off", "supplier"),
        ("configuration.stop.driver", "therapist"),
        ("authorization.requested_on", "supplier"),
        ("authorization.decision", "payer"),
        ("emergency.medicine", "practitioner"),
        ("emergency.address", "family"),
        ("request.months_needed", "practitioner"),
    ],
)
def test_the_longest_path_says_who_can_answer(path, who):
    assert respondent_of(path) == who


def test_nobody_is_named_for_what_their_sheet_may_not_show():
    case, unseen = Case.model_validate({"format": "docgen case 2", "id": "new"}), []
    for key in keys_of_case():
        respondent = respondents()[respondent_of(key.id)]
        path: list[str | int] = []
        for part in key.id.split("."):
            path.append(part)
            path += [0] if entries_at(tuple(path)) else []
        if respondent.may_see and class_at(case, tuple(path)) not in respondent.may_see:
            unseen.append((respondent.id, key.id))
    assert unseen == []


NAMES = [f"feature {n} of some length with finding_{n}" for n in range(12)]


@pytest.mark.parametrize(("n", "beyond"), [(2, ""), (12, "more, see --all")])
def test_risks_of_injury_are_named_and_those_beyond_the_page_counted(n, beyond):
    point = {"claim": "No risk of injury is left unaddressed", "names": NAMES[:n]}
    lines = _named(point, WIDTH - 4, 4)
    assert len(lines) <= 4 and NAMES[1] in " ".join(line.strip() for line in lines) and beyond in " ".join(lines)


def test_of_what_several_have_still_to_answer_each_is_told_what_is_theirs(empty):
    toml = empty / "case.toml"
    before = toml.read_text(encoding="utf-8")
    asked = (
        '[awaited]\nride = { supplier = "whether pads may stay on" }\n'
        'bus = { school = "the width of the bus lift", holds = false }\n'
    )
    toml.write_text(f"{before}\n{asked}", encoding="utf-8")
    try:
        pages = {who: run("check", empty, *TODAY, "--for", who)[1] for who in ("supplier", "school")}
        whole = run("check", empty, *TODAY, "--all")[1].partition("SHORTEST WAY")[0]
    finally:
        toml.write_text(before, encoding="utf-8")
    assert "whether pads may stay on" in pages["supplier"] and "bus lift" not in pages["supplier"]
    assert "the width of the bus lift" in pages["school"] and "pads" not in pages["school"]
    assert "TO SETTLE FIRST" in pages["supplier"] and "[awaited] ride." in pages["supplier"]
    assert "TO SETTLE FIRST" not in pages["school"] and "[awaited] bus." in pages["school"]
    assert whole.count("whether pads may stay on") == 1 and "In all 2" not in whole
    assert "the width of the bus lift" not in whole  # nothing waits for it


def test_an_order_before_the_trial_that_it_rests_on_is_told_on_the_first_page(tmp_path):
    folder = shutil.copytree(BOHDAN, tmp_path / BOHDAN.name)
    text = (folder / "case.toml").read_text(encoding="utf-8")
    text, n = re.subn(r"(?m)^ordered_on = .*$", "ordered_on = 2026-01-02", text)
    (folder / "case.toml").write_text(text, encoding="utf-8")
    page = " ".join(run("check", folder, *TODAY)[1].split())
    assert n == 1 and "order January 2, 2026" in page and "WHAT MATTERS MOST NOW" in page
    assert page.index("order January 2, 2026") < page.index("In all:")
    point = next(row for row in report(folder)["findings"] if row["criterion"] == "evaluation_before_order")
    assert (point["status"], point["blocks"]) == ("not_met", False)  # told there whatever it weighs
    waits = {**point, "criterion": "record_dated", "holds": True, "dangerous": False, "severity": "blocks"}
    assert _weight({**waits, "dangerous": True}) < _weight(point) < _weight(waits)


def test_a_feature_that_nothing_asks_for_is_told_with_all_that_it_needs_at_once(tmp_path):
    folder = shutil.copytree(BOHDAN, tmp_path / BOHDAN.name)
    text = (folder / "case.toml").read_text(encoding="utf-8")
    text = re.sub(r"(?m)^attendant_stop.*\n", "", text)
    text = text.replace("[findings]", '[findings]\nalone_hours = "Alone at noon."', 1)
    stop = 'helper_switch = "behind on the left"\nhelper_stops_by = "own_switch"'
    text = text.replace("[configuration.stop]", f"[configuration.stop]\n{stop}")
    (folder / "case.toml").write_text(text, encoding="utf-8")
    page = " ".join(run("check", folder, *TODAY)[1].split())
    assert (
        "Add [configuration.features.attendant_stop] with answer <what mitigates time without caregiver> "
        "and with_base <true or false>." in page
    )


@pytest.mark.parametrize(
    ("word", "name"), [("delivery", "at_delivery"), ("Doctor", "practitioner"), ("vendor", "supplier")]
)
def test_who_is_asked_is_known_by_other_words(word, name):
    assert respondent_named(word) == name


def test_the_help_of_new_explains_each_kind():
    from docgen.case.who import KINDS_SAY

    says = " ".join(re.sub(r"[^\w:;,.]", " ", run("new", "--help")[1]).split())
    assert all(" ".join(re.sub(r"[^\w:;,.]", " ", kind).split()) in says for kind in KINDS_SAY.split("; "))
    assert "request.kind" in run("find", "replacement chair")[1]


@pytest.mark.parametrize(
    ("says", "begun"),
    [
        ("Leave the words of Dr. Ama Duquesne-Birch. " + "Ask for the rest of it. " * 30, "Leave the words of Dr. Ama"),
        ('Fill in who of "in bed, at noon" and ' + "more of it and " * 40, "see SHORTEST WAY"),
    ],
)
def test_what_is_begun_ends_with_a_sentence_and_not_within_a_name(says, begun):
    text = " ".join(_begun(f"{says.strip()}  case.toml:7", 100, 2))
    assert begun in text
    assert "Dr. And" not in text
    assert '"in bed and' not in text
