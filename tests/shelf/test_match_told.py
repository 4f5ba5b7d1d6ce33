"""A match as it is told: on the terminal, as JSON, as a page; the trial beside what was expected; over a caseload."""

from __future__ import annotations

import json
import re
import tomllib

import pytest
from canaries import every_word, keys_in
from msgspec.structs import replace
from support import DEMO_FOLDERS, SMALL, run

from docgen.case.need import Space
from docgen.case.read import read_case
from docgen.console.match import caseload_text, match_text, why_text
from docgen.console.match_json import caseload_json, match_json
from docgen.documents.matched import apart_rows, caution_words, device_rows, stated_besides
from docgen.documents.matched_findings import beside_rows, mark_rows
from docgen.errors import UserError
from docgen.filling import match_files
from docgen.library import match_in, match_of
from docgen.packet.match_page import page_context
from docgen.packet.trees import template_tree
from docgen.shelf.caseload import caseload
from docgen.shelf.client import client_of
from docgen.shelf.match import match
from docgen.shelf.offered import entry_of, offered
from docgen.shelf.read import SHIPPED, shipped_shelf

DEMOS = {path.name: path for path in DEMO_FOLDERS}
MARISOL, ANSELM, ILMARI, DUNJA = (
    "marisol-quenneville-tran",
    "anselm-kirawira-boone",
    "ilmari-okonjo-vale",
    "dunja-achterberg-rao",
)


def flat(text):
    return " ".join(text.split())


def test_what_stands_first_comes_first_and_what_can_harm_is_told_with_its_finding(compared):
    text = flat(match_text(compared(ANSELM)))
    assert text.index("FIRST, WHATEVER THE ANSWERS hand_stick") < text.index("SET APART: CAN DO HARM")
    assert "Visual field deficit or inattention: Turning the head to scan the affected side drives the chair to" in text
    assert "the order of proof that a payer asks for, not better" in text
    assert not re.search(r"\bscore[sd]? \d|\d+ (?:of \d+ )?needs\b", text)


def test_each_finding_is_told_with_every_device(compared):
    told = compared(MARISOL)
    text = flat(match_text(told))
    section = text[text.index("EACH FINDING") : text.index("ALTERNATIVES FOR THE LETTER")]
    assert section.count("breath_and_head_switches") + section.count(": all.") == len(told.match.client.findings)


def test_why_the_one_rather_than_the_other_and_what_would_have_to_be_otherwise(compared):
    told = flat(why_text(compared(MARISOL), "breath_tube", "breath_and_head_switches"))
    assert "rather than" in told and "neck pain with use (against it)" in told
    assert "would stand beside it were nothing left open or against it in: neck pain with use" in told
    turned = flat(why_text(compared(MARISOL), "breath_and_head_switches", "breath_tube"))
    assert told == turned
    assert "recorded answer to: unpredictable spasms" in flat(why_text(compared(MARISOL), "breath_tube", "chin_stick"))
    with pytest.raises(UserError, match="the shelf holds no device 'breath'"):
        why_text(compared(MARISOL), "breath", "chin_stick")


def test_a_question_goes_to_the_lender_where_the_answer_could_change_what_leads(compared):
    text = flat(match_text(compared(DUNJA)))
    assert "COULD BE FIRST, ONCE IT IS KNOWN chin_stick" in text
    assert "The supplier in Port Ansel, of a small joystick below the chin" in text


def test_expected_and_seen_stand_side_by_side(compared):
    text = flat(match_text(compared(MARISOL)))
    assert "Expected: first. Seen: sip-and-puff, momentary: 25 of 28 (73 to 96%)" in text
    assert "39 percentage points (12 to 62). Not alike: " in text and "came first on every shared day" in text
    assert "It decides nothing here: too few attempts, or trials too unlike." in text
    assert compared(MARISOL).match.seen_better == frozenset()  # two signs of unfairness: no more than "so far"
    stick = ("head_array_proximity", "hand_stick")
    assert stick in compared(ILMARI).seen.better  # 38 of 46 against 2 of 20, 73 points (48 to 84)


def test_a_harm_that_was_expected_and_not_seen_is_told_and_stays(compared):
    told = compared(ANSELM)
    assert told.match.devices["head_array_proximity"].stage == "harm"
    head = read_case(DEMOS["saoirse-villalobos-ng"])
    assert head.case.trial.methods  # its head array was seen to go without intent, so nothing differs there
    assert [d for d in compared("saoirse-villalobos-ng").differs if d.device == "head_array_proximity"] == []


def test_a_movement_that_was_driven_counts_as_one(compared):
    told = compared(MARISOL)
    assert told.expected.devices["head_array_proximity"].stage == "movement"
    assert told.match.devices["head_array_proximity"].stage == "layered"
    assert told.match.layers[0] == ("breath_tube",)


def test_json_holds_what_the_page_says(compared):
    data = json.loads(json.dumps(match_json(compared(MARISOL), ("breath_tube", "chin_stick"))))
    assert data["format"] == "docgen match 1" and data["first"] == ["breath_tube"]
    assert {device["stage"] for device in data["devices"]} == {"layered", "harm", "movement"}
    assert data["why"]["above"] == "first" and data["seen_better"][0]["counts"] is False


def test_alternatives_are_offered_and_are_no_statement_until_confirmed(compared, demo):
    told = compared(ANSELM)
    offers = {offer.judged.device.id: offer for offer in offered(told.case, told.match, told.seen)}
    assert "hand_stick" not in offers and "finger_stick" not in offers  # not recorded is no ground
    entry = tomllib.loads(entry_of(told.case, offers["head_angle"]))["alternatives"]["head_angle"]
    assert entry["reason"] == "He does not notice the left side." and entry["ruled_out_by"] == "feature"
    toml = demo(ANSELM) / "case.toml"
    with_entry = toml.read_text(encoding="utf-8") + "\n" + entry_of(told.case, offers["head_angle"])
    toml.write_text(with_entry, encoding="utf-8")
    with pytest.raises(UserError, match="alternatives.by is '\\?'.*\n.*alternatives.on is '\\?'"):
        read_case(toml.parent)
    confirmed = with_entry.replace('by = "?"', 'by = "therapist"').replace('on = "?"', "on = 2026-01-27")
    toml.write_text(confirmed, encoding="utf-8")
    assert read_case(toml.parent).case.alternatives[-1].id == "head_angle"


def test_the_page_is_written_and_nothing_of_theirs_is_overwritten(compared, tmp_path):
    (page,) = match_files(compared(MARISOL), tmp_path, ["html"])
    text = page.read_text(encoding="utf-8")
    assert "sip-and-puff interface with four commands" in text and "Can Do Harm" in text
    assert match_files(compared(MARISOL), tmp_path, ["html"]) == [page]  # the same content
    page.write_text("a note", encoding="utf-8")
    with pytest.raises(UserError, match="is there already"):
        match_files(compared(MARISOL), tmp_path, ["html"])
    assert page.read_text(encoding="utf-8") == "a note"
    with pytest.raises(UserError, match="unknown format 'htm'"):
        match_files(compared(MARISOL), tmp_path, ["htm"])


# Written by hand: all that therapist and supplier need of a case to choose what to borrow.
MAY_TELL = {"client.called", "trial.methods.name", "spaces.name", "alternatives.reason", "alternatives.measure"}


@pytest.mark.parametrize("name", [MARISOL, "saoirse-villalobos-ng"])
def test_the_page_tells_findings_and_trial_and_nothing_else_of_a_case(name):
    assessed_case, words = every_word(name)
    told = match_in(assessed_case, shipped_shelf())
    context = page_context(told.assessed, told.match, told.seen, told.differs)
    shown = keys_in(json.dumps(context), words)
    assert {"client.called", "trial.methods.name"} <= shown <= MAY_TELL


def test_what_can_do_harm_stands_right_below_its_heading(compared):
    told = compared(ILMARI)
    context = page_context(told.assessed, told.match, told.seen, told.differs)
    kinds = [
        (node.kind, node.plain() if node.kind == "heading" else "")
        for node in template_tree("_match.md", context).children
    ]
    at = kinds.index(("heading", "Can Do Harm, and No Answer Is Recorded"))
    assert kinds[at + 1][0] == "table"  # a heading stays with what follows; a line between would stay with the heading


def test_a_control_that_was_placed_and_failed_is_told_with_what_was_seen_of_it(compared):
    told = compared(ILMARI)
    rows = {row["id"]: row for row in apart_rows(told.case, told.match, told.seen)}
    assert (
        rows["chin_stick"]["stage"] == "harm" and "jaw closed on the cup in 3 of 3" in rows["chin_stick"]["why"].lower()
    )
    assert "2 of 20" in rows["hand_stick"]["seen"]
    without = tuple(finding for finding in told.case.findings if finding.id != "head_control_emerging")
    unharmed = match(client_of(told.case.model_copy(update={"findings": without})), shipped_shelf())
    assert unharmed.devices["chin_stick"].stage == "movement"  # nothing but the record of the try speaks against it
    rows = {row["id"]: row for row in apart_rows(told.case, unharmed, told.seen)}
    assert rows["chin_stick"]["stage"] == "harm" and "No movement is recorded" not in rows["chin_stick"]["why"]


def test_a_resting_head_is_told_as_a_harm_with_its_answer_and_not_as_met(compared):
    told = compared(ILMARI)
    (row,) = [row for row in device_rows(told.case, told.match, told.seen) if row["id"] == "head_array_proximity"]
    assert "head rests on posterior support" not in row["meets"] and "tone increases with effort" in row["meets"]
    assert "head rests on posterior support: A head at rest near the pad cannot be told from one" in row["guarded"]
    assert "standby (head rests on posterior support" in row["set_up_with"]
    assert "Answer: standby and a measured gap between the resting head and the rear pad, with a roll" in row["guarded"]


@pytest.mark.parametrize("device", ["breath_tube", "breath_and_head_switches", "chin_stick"])
def test_what_is_hard_near_the_face_is_told_of_every_control_there(compared, device):
    text = flat(match_text(compared(MARISOL)))
    told = compared(MARISOL).match.devices
    assert "teeth, lips or eyes" in caution_words(told[device]) and "(unpredictable spasms)" in caution_words(
        told[device]
    )
    assert text.count("strike teeth, lips or eyes") == 3 and caution_words(told["head_array_proximity"]) == ""


def test_what_all_devices_have_alike_is_no_row_and_no_device_alone_meets_a_learner(compared):
    told = compared(ILMARI)
    rows, alike = mark_rows(told.match)
    devices = ", ".join(map(str, range(1, len(told.match.devices) + 1)))
    assert rows and all(devices not in row.values() for row in rows)
    assert "early or exploratory learner (helps, and does not meet it alone)" in alike
    beside = {row["finding"]: row for row in beside_rows(told.match)}
    assert (
        beside["Early or exploratory learner"]["alone"]
        and "supervision" in beside["Early or exploratory learner"]["takes"]
    )


def test_a_name_with_markup_stands_as_it_is_written(compared, tmp_path):
    told = compared(MARISOL)
    hostile = "a | tube **bold** <b>x</b> [y](http://z) {{ 1 }}"
    device = shipped_shelf().devices["breath_tube"].model_copy(update={"name": hostile})
    shelf = shipped_shelf().model_copy(update={"devices": {**shipped_shelf().devices, "breath_tube": device}})
    (page,) = match_files(match_in(told.assessed, shelf), tmp_path, ["html"])
    text = page.read_text(encoding="utf-8")
    assert "a | tube **bold** &lt;b&gt;x&lt;/b&gt; [y](http://z) {{ 1 }}" in text


def test_a_device_too_wide_for_a_doorway_says_so(compared):
    told = compared("yewande-sollingcrest")

    def limits(width_mm):
        chair = told.case.configuration.chair.model_copy(update={"width_mm": width_mm})
        configuration = told.case.configuration.model_copy(update={"chair": chair})
        door = Space(id="door", name="bathroom door", kind="doorway", clear_width_mm=815)
        case = told.case.model_copy(update={"configuration": configuration, "spaces": (door,)})
        (row,) = [row for row in device_rows(case, told.match, told.seen) if row["id"] == "foot_stick"]
        return row["limits"].partition(" Electronics:")[0]

    assert limits(780) == "With it the chair is 840 mm wide, and the bathroom door leaves 815 mm."
    assert "840 mm" not in limits(660)
    assert limits(None) == "It adds 60 mm to the width; whether the doorways leave that is not recorded."


def test_what_an_entry_states_beside_features_is_told():
    device = (
        shipped_shelf()
        .devices["breath_tube"]
        .model_copy(
            update={"electronics": "any controller.", "outputs": ("phone", "lamp"), "feedback_can_be_off": False}
        )
    )
    assert [*stated_besides(device)] == [
        "Electronics: any controller.",
        "It also runs: phone and lamp.",
        "Its sounds and lights cannot be turned off.",
    ]
    nothing = device.model_copy(update={"electronics": None, "outputs": (), "feedback_can_be_off": None})
    assert not [*stated_besides(nothing)]


def test_findings_alone_are_enough(case_folder):
    folder = case_folder(SMALL + '\n[[findings]]\nid = "foot_graded"\nsays = "She steers with her left foot."\n')
    status, out, _ = run("fit", folder, "--shelf", SHIPPED)
    assert status == 0 and "FIRST, WHATEVER THE ANSWERS foot_stick" in flat(out)


def test_a_caseload_is_counted_and_names_nobody(compared):
    names = [MARISOL, ANSELM, ILMARI]
    counts = caseload(shipped_shelf(), (compared(name).match for name in names))
    assert (counts.n, counts.n_none, counts.devices["breath_tube"].leads) == (3, 0, 1)
    text = caseload_text(counts, shipped_shelf(), 0) + json.dumps(caseload_json(counts, 0))
    assert not re.search("|".join(part for name in names for part in name.split("-")), text, re.I)


def test_the_command_holds_a_shelf_against_a_case():
    status, out, _ = run("fit", DEMOS[ANSELM], "--shelf", SHIPPED)
    assert status == 0 and out.startswith(f"{ANSELM}: twelve invented controls against the findings")
    assert run("fit", DEMOS[ANSELM], "--why", "hand_stick", "chin_stick")[0] == 2
    status, _, err = run("fit", DEMOS[ANSELM], "--shelf", DEMOS[ANSELM] / "case.toml")
    assert status == 2 and f"{DEMOS[ANSELM] / 'case.toml'}:" in err and "Traceback" not in err


def test_a_shelf_is_started_listed_and_never_written_over(tmp_path):
    target = tmp_path / "shelf.toml"
    assert run("new", "--shelf", target)[0] == 0
    before = target.read_bytes()
    status, out, _ = run("shelf", target, "--today", "2026-11-29")
    assert status == 0 and "an_example: an invented joystick by hand" in out
    assert run("new", "--shelf", target)[0] == 2 and target.read_bytes() == before
    status, out, _ = run("shelf", "--today", "2027-08-01")
    assert status == 0 and "Checked more than a year ago, on July 2, 2026." in flat(out)
    assert "Not known, and it parts it from another: standby." in flat(out)


def test_the_starter_names_every_key_of_a_device():
    from docgen.filling import start_shelf
    from docgen.shelf.device import Device

    assert start_shelf
    text = (SHIPPED.parent / "starter.toml").read_text(encoding="utf-8")
    missing = [key for key in Device.model_fields if key != "id" and not re.search(rf"^(?:# )?{key} = ", text, re.M)]
    assert missing == []


def test_a_device_of_another_shelf_is_told_and_stops_nothing(tmp_path):
    target = tmp_path / "shelf.toml"
    run("new", "--shelf", target)
    told = match_of(DEMOS[MARISOL], target)
    assert "Tried, and not on this shelf: head_array_proximity and breath_tube." in flat(match_text(told))


def test_a_case_without_a_finding_says_so(compared):
    told = compared(ANSELM)
    file = told.assessed.file
    bare = replace(
        told, assessed=replace(told.assessed, file=replace(file, case=file.case.model_copy(update={"findings": ()})))
    )
    assert "no finding is recorded" in match_text(bare)
