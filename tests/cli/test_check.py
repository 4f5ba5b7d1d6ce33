"""`docgen check` as an adviser: order of the page, the shortest way, the calendar, many cases, a payer's own file."""

from __future__ import annotations

import json
import re
import shutil
import tomllib
from datetime import date

import pytest
from in_full import write_in_full
from support import DEMO_FOLDERS, SMALL
from test_commands import DRAFTS, READY, run

from docgen.console.check_page import _section
from docgen.criteria.criterion import HEADINGS
from docgen.resources import folder

TODAY = ("--today", "2026-11-25")
CASES = folder("cases")
TITLES = (
    "MUST BE SETTLED FIRST",
    "A REVIEWER MAY ASK",
    "SHORTEST WAY TO READY",
    "WHAT EXPIRES WHEN",
    "GOOD PRACTICE",
    "NOT ASKED BY THIS PAYER",
)
BOHDAN = CASES / "bohdan-lacroix-mbeki"
ILMARI = CASES / "ilmari-okonjo-vale"
PAYER = """\
id = "harbour"
name = "Harbour State Health Plan"
reviewed_on = 2024-01-01
review_by = 2024-03-01

[[requirements]]
id = "encounter"
criterion = "encounter_before_order"
severity = "blocks"
from = 2020-01-01
citation = "plan manual, part 3"
version = "2024-01"
known = "read"
settings = { months = 1 }
"""


@pytest.fixture
def payer_file(tmp_path):
    """Write a payer file; returns its path."""

    def write(text=PAYER):
        path = tmp_path / "harbour.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def report(*words):
    return json.loads(run("check", *words, *TODAY, "--json")[1])


def part(page: str, title: str) -> str:
    """A part of the page, from its title in capitals to the next."""
    after = page.split(title, 1)[1]
    return re.split(r"\n\n[A-Z]{2}[A-Z ]+\b", after, maxsplit=1)[0]


# ---- one case ----------------------------------------------------------------------------------------


def test_what_blocks_is_never_told_as_good_practice_that_nothing_waits_for(demo, payer_file):
    """A stop that nobody is told of, under a payer none of whose rows asks for it."""
    case = demo(BOHDAN.name)
    text = (case / "case.toml").read_text(encoding="utf-8")
    (case / "case.toml").write_text(re.sub(r"(?m)^(helper|power_off) = .*\n", "", text), encoding="utf-8")
    words = (case, "--payer", payer_file())
    told = report(*words)
    blocking = {one["claim"] for one in told["findings"] if one["blocks"]}
    unasked = {one["claim"] for one in told["findings"] if one["blocks"] and not one["asked_by_payer"]}
    page = run("check", *words, *TODAY, "--all")[1]
    assert "Anyone near can stop the chair" in blocking and unasked
    assert all(claim in part(page, "MUST BE SETTLED FIRST") for claim in blocking)
    assert not any(claim in part(page, "NOT ASKED BY THIS PAYER") for claim in blocking)


@pytest.mark.parametrize("case", DRAFTS, ids=lambda f: f.name)
def test_the_page_goes_from_what_blocks_to_what_is_good_practice(case):
    page = run("check", case, *TODAY, "--all")[1]
    titles = [t for t in TITLES if f"\n{t}" in page]
    assert titles[0] == TITLES[0] and {"SHORTEST WAY TO READY", "WHAT EXPIRES WHEN"} <= set(titles)
    assert [page.index(f"\n{t}") for t in titles] == sorted(page.index(f"\n{t}") for t in titles)
    for title in ("MUST BE SETTLED FIRST", "A REVIEWER MAY ASK", "GOOD PRACTICE", "NOT ASKED BY THIS PAYER"):
        headings = (
            [line for line in part(page, title).split("\n") if line in HEADINGS.values()] if title in page else []
        )
        assert headings == [words for words in HEADINGS.values() if words in headings]


@pytest.mark.parametrize("payer", ["general", "charity_or_school", "medicaid_adult", "medicaid_under_21"])
def test_good_practice_that_the_payer_does_not_ask_is_one_short_entry_each(payer):
    told, page = report(BOHDAN, "--payer", payer), run("check", BOHDAN, "--payer", payer, *TODAY, "--all")[1]
    by_payer = {f["mend"] for f in told["findings"] if f["asked_by_payer"]}
    unasked = [
        f
        for f in told["findings"]
        if not f["asked_by_payer"] and f["status"] == "cannot_tell" and f["mend"] not in by_payer
    ]
    lines = part(page, "NOT ASKED BY THIS PAYER").split("\n")
    full = _section("advise", unasked)  # as a point that the payer asks is told
    assert len(unasked) > 8 and len(lines) < len(full) / 3
    text = " ".join(" ".join(lines).split())
    for one in unasked:
        assert text.count(one["claim"]) == 1 and one["reason"] not in text
        assert re.findall(r"[a-z_]+", re.sub("<[^>]*>", "", one["mend"]))[-1] in text
    assert "case.toml" not in text and "<" not in text


def test_a_table_that_is_not_there_has_no_line_and_many_places_are_counted():
    page = run("check", BOHDAN, "--payer", "medicare_part_b", *TODAY, "--all")[1]
    assert "case.toml:1\n" not in page and "case.toml, not in it yet" in page
    marisol = run("check", CASES / "marisol-quenneville-tran", "--payer", "medicare_part_b", *TODAY, "--all")[1]
    told = part(marisol, "Claim modifiers fit the request").split("\n\n")[0]
    n_lines = len(
        next(
            f
            for f in report(CASES / "marisol-quenneville-tran", "--payer", "medicare_part_b")["findings"]
            if f["id"] == "modifiers"
        )["where"]
    )
    assert n_lines > 3 and told.count("case.toml:") == 3 and f"and {n_lines - 3} lines more" in told


def test_a_point_that_only_repeats_another_is_told_once():
    told, page = report(BOHDAN), run("check", BOHDAN, *TODAY, "--all")[1]
    once = next(f for f in told["findings"] if f["id"] == "evaluator")
    again = [f for f in told["findings"] if f["mend"] == once["mend"]]
    assert page.count("license of the evaluator") == 1 and len([f for f in again if f["asked_by_payer"]]) == 1


def test_every_point_of_an_unfinished_case_fits_on_four_sheets(monkeypatch):
    monkeypatch.chdir(CASES.parent)  # long paths of a checkout would wrap lines
    page = run("check", BOHDAN.relative_to(CASES.parent), *TODAY, "--all")[1].split("\n")
    assert len(page) < 220  # about 55 lines a sheet; the first page alone is one


def test_what_contradicts_good_practice_is_told_in_full_even_where_no_payer_asks():
    anselm = CASES / "anselm-kirawira-boone"
    findings = report(anselm)["findings"]
    by_payer = {finding["mend"] for finding in findings if finding["asked_by_payer"]}
    against = [
        finding
        for finding in findings
        if finding["severity"] == "advise"
        and finding["status"] == "not_met"
        and (finding["asked_by_payer"] or finding["mend"] not in by_payer)
    ]
    page = " ".join(part(run("check", anselm, *TODAY, "--all")[1], "\nGOOD PRACTICE").split())
    assert against
    for finding in against:
        assert f"NOT MET {finding['claim']}" in page and finding["reason"] in page and finding["mend"] in page


def test_a_base_too_weak_for_its_rider_must_be_settled_first_whatever_the_payer_asks(demo):
    copy = demo(ILMARI.name)
    text = (copy / "case.toml").read_text(encoding="utf-8")
    (copy / "case.toml").write_text(re.sub(r"weight_kg = \S+", "weight_kg = 250", text), encoding="utf-8")
    told = part(run("check", copy, *TODAY, "--all")[1], "MUST BE SETTLED FIRST")
    assert (
        "NOT MET  The client's weight fits the class of the base" in told
        and "552 lb (250 kg)" in told
        and "Request a base of the class that fits" in told
    )


@pytest.mark.parametrize("case", DEMO_FOLDERS, ids=lambda f: f.name)
def test_the_first_line_says_what_is_left_and_nothing_that_changes_with_the_day(case):
    first = {
        run("check", case, "--today", day, "--all")[1].split("\n")[0]
        for day in ("2026-03-01", "2026-11-25", "2030-01-01")
    }
    (told,) = first
    assert told.startswith(f"{case.name}: {'ready' if case in READY else 'not ready'}")


def test_the_first_line_counts_the_keys_and_the_work():
    assert (
        "4 points must be settled first: 6 keys to fill in (ruled_out_by, reason, clear_width_mm, by, license)"
        in run("check", BOHDAN, *TODAY, "--all")[1]
    )
    assert (
        "3 points must be settled first: 2 decisions or pieces of work, then 1 key to fill in (answer)"
        in run("check", CASES / "anselm-kirawira-boone", *TODAY, "--all")[1]
    )


@pytest.mark.parametrize("case", DRAFTS, ids=lambda f: f.name)
def test_every_blocking_finding_has_a_step_and_every_step_a_line_in_the_file(case):
    told = report(case)
    assert {one for step in told["shortest"] for one in step["settles"]} == {
        f["id"] for f in told["findings"] if f["blocks"]
    }
    for step in told["shortest"]:
        path, _, line = step["where"].rpartition(":")
        assert path.endswith("case.toml") and 1 <= int(line) <= len(
            (case / "case.toml").read_text(encoding="utf-8").split("\n")
        )


def test_filling_in_what_the_shortest_way_names_makes_an_unfinished_case_ready(demo):
    # values of this test's own; the program gives none
    values = {
        "ruled_out_by": '"condition"',
        "clear_width_mm": "900",
        "by": '"an aunt"',
        "license": '"OT-1"',
        "reason": '"Slips off it."',
    }
    copy = write_in_full(demo(BOHDAN.name))
    lines = (copy / "case.toml").read_text(encoding="utf-8").split("\n")
    steps = report(copy)["shortest"]
    assert steps and all(step["kind"] == "fill" for step in steps)
    for step in sorted(steps, key=lambda step: -int(step["where"].rpartition(":")[2])):
        at = int(step["where"].rpartition(":")[2])  # the line of the table's head
        assert lines[at - 1].strip() == step["table"]
        lines[at:at] = [f"{key} = {values[key]}" for key in step["keys"]]
    (copy / "case.toml").write_text("\n".join(lines), encoding="utf-8")
    assert tomllib.loads("\n".join(lines))
    told = report(copy)
    assert (told["verdict"], told["blocking"], told["shortest"]) == ("ready", 0, [])


def test_the_page_shows_each_key_with_its_form_and_place():
    lines = part(run("check", BOHDAN, *TODAY, "--all")[1], "SHORTEST WAY TO READY")
    assert 'license = "<license number>"  in [people.therapist]' in lines
    assert "bedroom_door.clear_width_mm = <number: clear width in mm>  in [spaces]" in lines
    assert lines.count("case.toml:") == 5  # two keys of one alternative stand together
    form = '<"trial", "condition", "feature", "refusal", "not_a_fair_try" or "nothing">'
    reason = '"<why it will not do, tied to this client>" in [alternatives] mini_stick'
    assert f"ruled_out_by = {form}, reason = {reason}" in " ".join(lines.split())  # over two lines


def test_a_decision_comes_before_the_keys_that_it_may_make_needless(demo):
    copy = demo("anselm-kirawira-boone")
    text = (copy / "case.toml").read_text(encoding="utf-8")
    (copy / "case.toml").write_text(re.sub(r"(?m)^license = .*\n", "", text), encoding="utf-8")
    kinds = [step["kind"] for step in report(copy)["shortest"]]
    assert kinds[0] == "do" and kinds[-1] == "fill" and kinds == sorted(kinds, key=lambda kind: kind != "do")
    page = part(run("check", copy, *TODAY, "--all")[1], "SHORTEST WAY TO READY")
    assert page.index("Decide or do") < page.index("Request the hand-operated") < page.index("license = ")


def test_a_ready_case_with_a_question_of_safety_says_so_in_its_first_line(demo):
    copy = demo("marisol-quenneville-tran")
    text = (copy / "case.toml").read_text(encoding="utf-8")
    (copy / "case.toml").write_text(re.sub(r"(?m)^vision\.\w+ = .*\n", "", text), encoding="utf-8")  # not screened
    first = run("check", copy, *TODAY, "--all")[1].split("\n")[0]
    assert first.endswith("ready for the clinician's review; a reviewer may ask about 1 point (safety)")


def test_a_ready_case_has_no_way_to_go():
    page = run("check", ILMARI, *TODAY, "--all")[1]
    assert "SHORTEST WAY" not in page and "MUST BE SETTLED" not in page and report(ILMARI)["shortest"] == []


# ---- the calendar ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("today", "told"),
    [
        # 42 CFR 410.38(d)(2), six months; encounter of 2026-02-24, order of 2026-04-16
        ("2026-08-25", "2026-08-24  kept"),
        ("2026-08-01", "2026-08-24  kept"),
    ],
)
def test_a_kept_window_stays_on_the_calendar_as_kept(today, told):
    assert told in run("check", ILMARI, "--today", today, "--all")[1]


def test_an_order_in_the_last_days_of_its_window_is_said_to_be_borderline(demo):
    copy = demo(ILMARI.name)
    text = (copy / "case.toml").read_text(encoding="utf-8")
    assert "Borderline" not in run("check", copy, *TODAY, "--all")[1]
    # ordered on 2026-04-16; six months after 2025-10-16 are 182 days
    (copy / "case.toml").write_text(
        re.sub(r"(?m)^encounter_on = .*$", "encounter_on = 2025-10-16", text), encoding="utf-8"
    )
    assert "Borderline: 182 days; whoever counts 180 days instead of 6 months ends on April 14, 2026." in " ".join(
        run("check", copy, *TODAY, "--all")[1].split()
    )
    assert [entry["note"] for entry in report(copy)["calendar"] if entry["note"]]


@pytest.mark.parametrize(
    ("review_by", "today", "told"),
    [
        # days between two dates, from a published table of date arithmetic (GNU date and Python agree)
        ("2024-03-01", "2024-02-28", "in 2 days"),
        ("2027-03-01", "2027-02-28", "in 1 day"),
        ("2100-03-01", "2100-02-28", "in 1 day"),  # no leap year
        ("2024-12-31", "2023-12-31", "in 366 days"),
        ("2024-12-31", "2024-01-01", "in 365 days"),
        ("2024-03-16", "2024-01-31", "in 45 days"),
        ("2024-03-01", "2024-03-01", "today"),
    ],
)
def test_days_ahead_are_counted_on_the_calendar(payer_file, review_by, today, told):
    path = payer_file(PAYER.replace("review_by = 2024-03-01", f"review_by = {review_by}"))
    page = run("check", ILMARI, "--payer", path, "--today", today, "--all")[1]
    assert re.search(rf"{review_by}  {told} +the rules of 'harbour' are due for review", page)


@pytest.mark.parametrize(("today", "overdue"), [("2024-02-29", False), ("2024-03-01", False), ("2024-03-02", True)])
@pytest.mark.parametrize("many", [False, True], ids=["one case", "many cases"])
def test_rules_past_their_review_say_so_on_every_check(payer_file, today, overdue, many):
    page = run("check", CASES if many else ILMARI, "--payer", payer_file(), "--today", today, "--all")[1]
    assert ("These rules were due for review by 2024-03-01 and may have changed" in page) == overdue


def test_a_missed_deadline_leads_the_caseload_row(demo):
    copy = demo(ILMARI.name)
    text = (copy / "case.toml").read_text(encoding="utf-8")
    (copy / "case.toml").write_text(re.sub(r"(?m)^(ordered_on|accepted_on) = .*\n", "", text), encoding="utf-8")
    told = report(copy)
    assert told["next_expiry"]["on"] == "2026-08-24" and told["next_expiry"]["state"] == "passed"
    assert "2026-08-24  PASSED" in run("check", copy, *TODAY, "--all")[1]


def test_json_and_page_tell_the_same_days():
    told, page = report(ILMARI), run("check", ILMARI, *TODAY, "--all")[1]
    days = re.findall(r"(?m)^  (\d{4}-\d\d-\d\d)  ", part(page, "WHAT EXPIRES WHEN"))
    assert days == [entry["on"] for entry in told["calendar"]] == sorted(days) and len(days) >= 3
    for entry in told["calendar"]:
        assert entry["days"] == (date.fromisoformat(entry["on"]) - date(2026, 11, 25)).days and entry["source"]


def test_without_a_day_given_it_looks_from_the_day_it_is():
    told = json.loads(run("check", ILMARI, "--json")[1])
    assert abs((date.fromisoformat(told["today"]) - date.today()).days) <= 1


# ---- many cases --------------------------------------------------------------------------------------


def test_a_caseload_leads_with_its_table_most_to_settle_first():
    status, page, _ = run("check", CASES, *TODAY)
    table = page.split("\n\n")[0].split("\n")
    assert status == 1 and table[0].split() == ["case", "verdict", "blocking", "next", "expiry"]
    rows = [re.split(r" {2,}", line) for line in table[1:]]
    assert [(row[0], row[1], row[2]) for row in rows] == [
        ("bohdan-lacroix-mbeki", "not ready", "4"),
        ("anselm-kirawira-boone", "not ready", "3"),
        ("pilar-nakashima-holt", "not ready", "2"),
        ("ilmari-okonjo-vale", "ready", "0"),
        ("marisol-quenneville-tran", "ready", "0"),
        ("saoirse-villalobos-ng", "ready", "0"),
    ]
    assert [page.index(f"\n{row[0]}: ") for row in rows] == sorted(page.index(f"\n{row[0]}: ") for row in rows)


def test_a_brief_names_what_blocks_and_what_may_be_asked_of_safety():
    page = run("check", CASES, *TODAY)[1]
    brief = page.split("\nanselm-kirawira-boone: ")[1].split("\nilmari-okonjo-vale: ")[0]
    assert (
        "A hand- or chin-operated standard proportional joystick is ruled out" in brief
        and "SHORTEST WAY TO READY" in brief
    )
    assert "4 of 6 stops on command were made" in brief
    assert "Why a payer asks" not in brief and "WHAT EXPIRES WHEN" not in brief


def test_a_caseload_as_json_holds_each_case_as_it_is_told_alone():
    told = report(CASES)
    assert told["format"] == "docgen caseload 1" and told["unreadable"] == []
    assert [one["case"] for one in told["cases"]] == [case.name for case in DEMO_FOLDERS]
    for one, case in zip(told["cases"], DEMO_FOLDERS, strict=True):
        assert one == report(case)


@pytest.mark.parametrize("as_json", [False, True], ids=["page", "json"])
def test_a_case_that_cannot_be_read_is_in_the_caseload(as_json, demo, tmp_path):
    demo(ILMARI.name)
    broken = tmp_path / "cases" / "small"
    broken.mkdir()
    (broken / "case.toml").write_text(SMALL.replace("name =", "nmae =", 1), encoding="utf-8")
    status, out, err = run("check", tmp_path / "cases", *TODAY, *(["--json"] if as_json else []))
    assert status == 2 and "unknown key 'nmae'" in err
    if as_json:
        assert json.loads(out)["unreadable"] == ["small"] and [one["case"] for one in json.loads(out)["cases"]] == [
            ILMARI.name
        ]
    else:
        assert re.search(r"(?m)^small +unreadable +- +-$", out) and re.search(rf"(?m)^{ILMARI.name} +ready +0", out)


# ---- a payer of one's own ----------------------------------------------------------------------------


def test_a_local_payer_file_changes_the_verdict_of_check_and_build(payer_file, tmp_path):
    path = payer_file()
    status, page, _ = run("check", ILMARI, "--payer", path, *TODAY, "--all")
    assert status == 1  # an order 51 days after the encounter, where this plan allows one month
    assert (
        "Rules: Harbour State Health Plan, reviewed 2024-01-01. The case itself names the payer 'general'."
        in page.replace("\n  ", " ")
    )
    assert "plan manual, part 3" in page and "had to follow by March 24, 2026" in " ".join(page.split())
    status, out, _ = run(
        "build", ILMARI, "--payer", path, "--out", tmp_path / "out", "--formats", "html", "--only", "cover"
    )
    assert status == 1 and "draft, 1 open" in out
    assert "Harbour State Health Plan" in (tmp_path / "out" / ILMARI.name / "cover.html").read_text(encoding="utf-8")


def test_a_payer_can_be_named_by_its_id():
    assert run("check", ILMARI, "--payer", "general", *TODAY, "--all") == run("check", ILMARI, *TODAY, "--all")


def test_a_case_whose_own_payer_is_not_there_can_be_held_against_a_file(payer_file, demo):
    copy = demo(ILMARI.name)
    text = (copy / "case.toml").read_text(encoding="utf-8")
    (copy / "case.toml").write_text(text.replace('payer = "general"', 'payer = "harbour"'), encoding="utf-8")
    status, _, err = run("check", copy, *TODAY, "--all")
    assert status == 2 and "unknown payer 'harbour'" in err
    assert run("check", copy, "--payer", payer_file(), *TODAY, "--all")[0] == 1


@pytest.mark.parametrize(("command", "words"), [("check", ()), ("build", ("--formats", "html", "--out", "OUT"))])
@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        (
            'criterion = "encounter_before_order"',
            'criterion = "encounter_befor_order"',
            8,
            "Did you mean 'encounter_before_order'?",
        ),
        ("months = 1", "month = 1", 14, "Did you mean 'months'?"),
        ('known = "read"', 'known = "memory"', 9, "a row known from memory cannot block"),
        ("review_by = 2024-03-01\n", "", 1, "review_by is missing"),
        ("from = 2020-01-01", "from = ", 10, "is not valid TOML"),
    ],
)
def test_a_mistake_in_a_local_payer_file_has_its_line_and_writes_nothing(
    payer_file, tmp_path, command, words, old, new, line, told
):
    path = payer_file(PAYER.replace(old, new, 1))
    words = [tmp_path / "out" if word == "OUT" else word for word in words]
    status, out, err = run(command, ILMARI, "--payer", path, *words)
    assert (status, out) == (2, "") and f"{path}:{line}: " in err and told in err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--payer", "generl"), "--payer: unknown payer 'generl'. Did you mean 'general'?"),
        (("--payer", "nowhere.toml"), "nowhere.toml: there is no such file"),
        (("--today", "2026-13-01"), "--today: '2026-13-01' is not a day. Write it as 2026-03-31."),
        (("--today", "tomorrow"), "--today: 'tomorrow' is not a day"),
    ],
)
def test_a_mistake_in_an_option_is_one_sentence(words, told):
    status, out, err = run("check", ILMARI, *words)
    assert (status, out) == (2, "") and told in err and err.count("\n") == 1


def test_the_same_case_on_the_same_day_gives_the_same_page(tmp_path):
    copy = shutil.copytree(CASES, tmp_path / "cases")
    pages = {run("check", copy, *TODAY, "--all")[1] for _ in range(2)}
    assert len(pages) == 1 and str(tmp_path) in pages.pop()
