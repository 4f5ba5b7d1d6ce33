"""A new case holds what its request needs: by the payer's rules, the kind of request and the control, and no more."""

from __future__ import annotations

import json
import re
import shutil
import tomllib
from datetime import date
from typing import get_origin

import pytest
import tomli
from in_full import text_in_full
from test_commands import run

from docgen.case.base import part_of
from docgen.case.by_name import form_of
from docgen.case.carry_over import carried_over
from docgen.case.model import Case
from docgen.case.read import read_text
from docgen.case.short_form import KIND_NAMES
from docgen.case.starter import starter
from docgen.criteria.payer import payers
from docgen.criteria.starting import _usual, asked
from docgen.filling import asked_of_new
from docgen.resources import folder

PAYERS = {payer.id: payer for payer in payers()}
MOST_KEYS, WIDTH = 350, 110


def shown(text):
    """Dotted paths of the keys that a starter shows: as keys, as the name of an entry, in its line, or with a visit."""
    keys, table, part, form, is_entry, in_lines = set(), "", None, None, False, False
    for line in text.split("\n"):
        if head := re.match(r"(?:# )?\[\[?([A-Za-z0-9_.]+)\]\]?", line):
            table, part, is_entry = plain(head[1])
            form = form_of(part) if is_entry else None
            in_lines = is_entry and not line.startswith("# ")
            if form and not head[1].endswith(".each"):
                keys |= {f"{table}.{key}" for key in (form.key, form.also) if key}
                known = head[1].rpartition(".")[2] in KIND_NAMES
                keys |= {f"{table}.{key}" for key in (form.words, "name" if known else "") if key}
        elif in_lines and (entry := re.match(r"#? *([a-z_]+) +=", line)) and entry[1] in KIND_NAMES:
            keys.add(f"{table}.name")
        if in_lines and (within := re.match(r"#   ([a-z_]+) = \[?\{", line)):
            part = part_of(part.model_fields[within[1]].annotation)
            table = f"{table}.{within[1]}"
        elif in_lines and (key := re.match(r"#   ([a-z_0-9]+) +# ", line)):
            keys |= with_visit(table, key[1], part)
        elif in_lines:
            keys |= {f"{table}.{key}" for key in re.findall(r"[{,] (\w+) = [^{]", line)}
        elif key := re.match(r"(?:# )?([a-z_0-9]+) +=", line):
            keys |= with_visit(table, key[1], part)
    return keys


def with_visit(table, key, part):
    """A key, and where it names a visit what that gives."""
    of_visit = {f"{table}.{name}" for name in ("on", "by") if key == "visit" and name in part.model_fields}
    return {f"{table}.{key}".strip("."), *of_visit}


def plain(head):
    """The dotted path that the head of a block leads to, its part, and whether that is an entry under its name."""
    path, part, is_entry, steps = [], Case, False, head.split(".")
    while steps:
        step = steps.pop(0)
        kind = part.model_fields[step].annotation
        path, part = [*path, step], part_of(kind)
        is_entry = get_origin(kind) is tuple and form_of(part) is not None
        if is_entry and steps:
            steps.pop(0)
    return ".".join(path), part, is_entry


KINDS = ("new_chair", "control_only", None)
EVERYTHING = shown(starter("robin-example"))


@pytest.mark.parametrize(
    ("payer", "kind"),
    [(payer, KINDS[at % 3]) for at, payer in enumerate(PAYERS)] + [("general", kind) for kind in KINDS],
)
def test_it_shows_each_key_that_the_rules_of_the_payer_ask_for(payer, kind, tmp_path):
    words = ("--payer", payer, *(("--kind", kind) if kind else ()))
    assert run("new", tmp_path / "robin-example", *words)[0] == 0
    text = (tmp_path / "robin-example" / "case.toml").read_text(encoding="utf-8")
    tomllib.loads(text)
    keys = shown(text)
    later = tuple(_usual()["later"])
    wanted = {path for path in asked([PAYERS[payer]], kind, None).paths if path in EVERYTHING}
    assert len(wanted) > 60 and wanted <= keys < EVERYTHING
    assert not any(key.startswith(later) for key in keys)
    told = json.loads(run("check", tmp_path / "robin-example", "--json")[1])
    assert told["payer"] == payer and told["verdict"] != "ready"
    named = {
        key
        for finding in told["findings"]
        if finding["blocks"]
        for key in re.findall(r"\b[a-z]+(?:\.[a-z_]+)+\b", finding["mend"])
        if key in EVERYTHING and not key.startswith(later)
    }
    assert named <= keys


@pytest.mark.parametrize("payer", PAYERS)
def test_it_is_shorter_than_all_there_is_and_no_line_is_long(payer):
    text = starter("robin-example", asked([PAYERS[payer]], "new_chair", "head_array"))
    assert len(shown(text)) < 0.7 * len(EVERYTHING)
    assert text.count(" =") <= MOST_KEYS and max(map(len, text.split("\n"))) <= WIDTH


def entries(text, table):
    """Names of the entries that a starter lays out below the head of a list, each with its keys."""
    block = re.search(rf"(?ms)^\[{re.escape(table)}\]\n(.*?)\n\n", text)[1]
    found = re.findall(r"(?m)^# ([a-z_]+) = (.*(?:\n#   [a-z_]+ =.*)*)", block)
    return {name: re.findall(r"(\w+) =", keys) for name, keys in found if name != "each"}


def test_the_control_brings_its_feature_its_sites_and_the_findings_that_call_for_it():
    text = starter("robin-example", asked_of_new(["general"], "new_chair", "head_array"))
    assert [*entries(text, "configuration.features")] == ["head_array"]
    assert [*entries(text, "configuration.mounting")] == ["head_back", "head_left", "head_right"]
    assert "\n# head_three_way = [ , ]  # says, then measure\n" in text


def test_each_role_is_asked_for_its_own_keys():
    people = entries(starter("robin-example", asked_of_new(["medicare_part_b"])), "people")
    assert {"evaluator", "practitioner", "supplier", "caregiver"} == set(people)
    assert "took_part" in people["supplier"] and "took_part" not in people["evaluator"]
    assert "experience" in people["evaluator"] and "license" not in people["caregiver"]


def test_the_lesser_devices_of_the_payers_rules_are_laid_out_one_by_one():
    kinds = entries(starter("robin-example", asked_of_new(["medicare_part_b"])), "alternatives")
    assert {"cane_or_walker", "manual_chair", "scooter", "stick_by_hand", "stick_by_chin"} <= set(kinds)


def test_what_most_entries_have_is_laid_out_once():
    text = starter("robin-example", asked_of_new(["general"], "new_chair", "head_array"))
    assert "# each = { visit =, ruled_out_by = }\n# cane_or_walker = { method =, reason =, measure = }\n" in text
    assert "quantity" not in entries(text, "configuration.items").get("NAME", [])


def test_of_yes_and_no_neither_is_offered_and_no_screening_is_laid_out_as_one_that_found_nothing(tmp_path):
    text = starter("robin-example", asked_of_new(["medicaid_under_21"], "new_chair", "foot_site"))
    limits = text[text.index("\n[limits]\n") : text.index("\n[findings]\n")]
    assert "found = false" not in text and "# NAME = { found =, says =, answer = }" in limits
    assert limits.count("true or false") == 1
    robin = tmp_path / "robin"
    robin.mkdir()
    (robin / "trial.csv").write_text("date,method,task,success\n")
    (short,) = re.findall(r"#   in short: (.*)", limits)
    (limit,) = read_text(f'format = "docgen case 2"\nid = "robin"\n[limits]\n{short}\n', robin).case.limits
    assert limit.says and limit.found is None  # a text alone says nothing of found
    assert not re.search(r"form: (?:true|false)$", text, re.MULTILINE)


def test_all_shows_every_key(tmp_path):
    assert run("new", tmp_path / "robin-example", "--all")[0] == 0
    assert shown((tmp_path / "robin-example" / "case.toml").read_text(encoding="utf-8")) == EVERYTHING
    assert len(EVERYTHING) > 330


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (("--payer", "nobody"), "unknown payer 'nobody'"),
        (("--kind", "new_cart"), "unknown kind of request 'new_cart'"),
        (("--control", "head_arrays"), "'head_arrays' is not a control. Did you mean 'head_array'?"),
        # the words in which the README names the controls
        (
            ("--control", "foot_control"),
            "At the foot: compact_joystick (compact remote joystick); nonproportional_control",
        ),
        (("--control", "sip-and-puff"), "Did you mean 'pneumatic_four_command'?"),
        (("--control", "chin joystick"), "At the chin: compact_joystick"),
        (
            ("--control", "switch array"),
            "By switches: nonproportional_control (one or several switches anywhere on the body or on a tray: at "
            "forearm, elbow, knee or foot); finger_switch_array (a small switch at each finger, and nowhere else)",
        ),
        (("--control", "head_control"), "At the head: head_array (head array)"),
        (("--control", "arm switches"), "At forearm, elbow or shoulder: nonproportional_control"),
        (("--control", "knee switch"), "At the knee or leg: nonproportional_control"),
    ],
)
def test_what_is_not_known_is_refused_and_nothing_is_made(words, named, tmp_path):
    status, _, err = run("new", tmp_path / "robin-example", *words)
    assert status == 2 and named in " ".join(err.split()) and not (tmp_path / "robin-example").exists()


def test_a_former_case_is_carried_over_with_each_date_to_be_looked_at(tmp_path):
    former = tmp_path / "ilmari-okonjo-vale"
    shutil.copytree(folder("cases") / "ilmari-okonjo-vale", former)
    text = text_in_full(former).replace("docgen case 2", "docgen case 1")
    former_names = {"head_array": "rear_side_pads", "external_device": "output"}
    for now, was in former_names.items():
        assert f'"{now}"' in text
        text = text.replace(f'"{now}"', f'"{was}"')
    (former / "case.toml").write_text(text, encoding="utf-8")
    before = (former / "case.toml").read_bytes()
    assert run("new", tmp_path / "ilmari-again", "--from", former)[0] == 0
    carried = (tmp_path / "ilmari-again" / "case.toml").read_text(encoding="utf-8")
    tables = tomllib.loads(carried)
    assert tables["format"] == "docgen case 2"
    assert tables["id"] == "ilmari-again" and tables["client"]["name"] == "Ilmari Okonjo-Vale"
    assert all(f'"{now}"' in carried for now in former_names) and not {"dates", "encounter", "order"} & set(tables)
    dated = re.findall(r"(?m)^\w+ = \d{4}-\d\d-\d\d(.*)$", carried)
    assert len(dated) > 30 and set(dated) == {"  # look again"}
    assert (tmp_path / "ilmari-again" / "trial.csv").read_bytes() == (former / "trial.csv").read_bytes()
    assert not (tmp_path / "ilmari-again" / "approval.toml").exists()
    keys = [(each / "key.toml").read_text(encoding="utf-8") for each in (former, tmp_path / "ilmari-again")]
    assert keys[0] != keys[1] and (former / "case.toml").read_bytes() == before
    assert run("check", tmp_path / "ilmari-again")[0] == 1


def test_a_former_case_in_short_form_is_carried_over_too():
    carried = carried_over(
        'format = "docgen case 2"\nid = "old"\n[configuration.features.rear_side_pads]\nbecause = ["hand_weak"]\n'
        '[configuration.commands]\noutput = { input = "x" }\n[visits]\nhome = { on = 2026-03-03, by = "ot" }\n'
        '[findings]\nhand_weak = { says = "on = 2026-03-03", measure = "x" }\noutput.says = "y"\n'
        "[dates]\nordered_on = 2026-03-03\n",
        "new-id",
        date(2026, 11, 1),
    )
    tables = tomllib.loads(carried)
    assert (
        "head_array" in tables["configuration"]["features"] and "external_device" in tables["configuration"]["commands"]
    )
    assert "output" in tables["findings"] and "dates" not in tables
    assert [line.partition(" ")[0] for line in carried.split("\n") if line.endswith("# look again")] == ["former_home"]


def test_the_encounter_and_the_home_visit_of_a_former_request_are_none_of_the_new():
    carried = carried_over(
        'format = "docgen case 2"\nid = "old"\n[visits]\neach.by = "ot"\nhome = 2026-03-03\n'
        'encounter = { on = 2026-02-02,\n  by = "doctor" }\n[findings]\nhand_weak = { says = "x", visit = "home" }\n'
        '[limits]\neach = { visit = "encounter" }\n',
        "new-id",
        date(2026, 11, 1),
    )
    tables = tomli.loads(carried)
    assert tables["visits"].keys() == {"each", "former_home", "former_encounter"}
    assert tables["findings"]["hand_weak"]["visit"] == "former_home"
    assert tables["limits"]["each"]["visit"] == "former_encounter"
    in_lists = carried_over('[[visits]]\nid = "home"\non = 2026-03-03\n', "new-id", date(2026, 11, 1))
    assert 'id = "former_home"' in in_lists


def test_a_former_case_that_is_none_is_refused(tmp_path):
    (tmp_path / "other").mkdir()
    status, _, err = run("new", tmp_path / "robin-example", "--from", tmp_path / "other")
    assert status == 2 and "holds no case.toml" in " ".join(err.split())


@pytest.mark.parametrize("control", ["pneumatic_four_command", "head_array"])
def test_no_head_of_a_starter_goes_on_with_an_entry_in_braces(control, tmp_path):
    text = starter("new", asked([PAYERS["medicare_part_b"]], "new_chair", control))
    assert not re.search(r"^#? ?\[\[?[a-z_.]+\.NAME\.", text, re.MULTILINE)
    assert "#   there = [{ starts_at =, ends_at = }]" in text
