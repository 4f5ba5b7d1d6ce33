"""A list written by the names of its entries is the same list, each key told at the line where it stands."""

from __future__ import annotations

import tomllib
from datetime import date

import pytest
from gathered import of_each

from docgen.case.by_name import form_of, spread
from docgen.case.emergency import ConditionAnswer
from docgen.case.heads import as_written
from docgen.case.lines import line_for, lines_of
from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.case.need import Need
from docgen.case.private_keys import is_private
from docgen.case.read import read_case, read_text
from docgen.case.schema import _parts as parts_of
from docgen.case.training import Hours
from docgen.errors import UserError

HEAD = 'format = "docgen case 2"\nid = "robin-example"\n'
ON = date(2026, 3, 3)


def read(text):
    return spread(
        tomllib.loads(text), lines_of(text), Case, lambda *path: f"case.toml:{line_for(lines_of(text), path)}"
    )


def listed(text, *path):
    tables = read(text).tables
    for step in path:
        tables = tables[step]
    return tables


@of_each(
    ("by_name", "as_list"),
    [
        ('[findings.hand_weak]\nsays = "x"', '[[findings]]\nid = "hand_weak"\nsays = "x"'),
        ('[findings]\nhand_weak = "x"', '[[findings]]\nid = "hand_weak"\nsays = "x"'),
        ('[goals]\ndog = "x"', '[[goals]]\nid = "dog"\nsays = "x"'),
        ('[alternatives]\nscooter = "x"', '[[alternatives]]\nid = "scooter"\nkind = "scooter"\nreason = "x"'),
        ('[outside_records.eye_test]\nsays = "x"', '[[outside_records]]\nwhat = "eye test"\nsays = "x"'),
        ('[trial.methods]\npads = "x"', '[[trial.methods]]\nid = "pads"\nname = "x"'),
        ("[trial.tasks.tight_door]", '[[trial.tasks]]\nid = "tight_door"\nname = "tight door"'),
        ('[findings]\nhand_weak.says = "x"', '[[findings]]\nid = "hand_weak"\nsays = "x"'),
        ("[limits]\nvision = { found = false }", '[[limits]]\nkind = "vision"\nfound = false'),
        ('[people.supplier]\nname = "x"', '[[people]]\nid = "supplier"\nrole = "supplier"\nname = "x"'),
        ('[people.friend]\nrole = "caregiver"', '[[people]]\nid = "friend"\nrole = "caregiver"'),
        ('[people]\nfriend.role = "caregiver"', '[[people]]\nid = "friend"\nrole = "caregiver"'),
        ('[people]\naunt = "x"', '[[people]]\nid = "aunt"\nrole = "caregiver"\nrelation = "aunt"\nname = "x"'),
        (
            '[people]\naunt.relation = "half"',
            '[[people]]\nid = "aunt"\nrole = "caregiver"\nrelation = "half"',
        ),
        ('[people]\natp = "x"', '[[people]]\nid = "atp"\nrole = "supplier"\nname = "x"'),
        (
            '[people]\ntherapist.role = "other"',
            '[[people]]\nid = "therapist"\nrole = "other"',
        ),
        ("[visits]\nhome = 2026-03-03", '[[visits]]\nid = "home"\non = 2026-03-03'),
        ('[visits]\nhome = "March 3, 2026"', '[[visits]]\nid = "home"\non = "March 3, 2026"'),
        ('[limits]\nvision = "x"', '[[limits]]\nkind = "vision"\nsays = "x"'),
        ('[findings]\nhand_weak = ["x", "y"]', '[[findings]]\nid = "hand_weak"\nsays = "x"\nmeasure = "y"'),
        (
            '[alternatives]\nscooter = ["x", "y"]',
            '[[alternatives]]\nid = "scooter"\nkind = "scooter"\nreason = "x"\nmeasure = "y"',
        ),
        ('[trial.tasks]\npark = "place"', '[[trial.tasks]]\nid = "park"\nname = "park"\nshows = "place"'),
        ('[supervision]\n"at home" = "alone"', '[[supervision]]\nplace = "at home"\nlevel = "alone"'),
        (
            '[spaces]\nfront_door = "33 in"\nden = 900',
            '[[spaces]]\nid = "front_door"\nname = "front door"\nkind = "doorway"\nclear_width_mm = "33 in"\n'
            '[[spaces]]\nid = "den"\nname = "den"\nclear_width_mm = 900',
        ),
        (
            '[spaces]\neach.kind = "doorway"\nback_ramp = {}\nside_ramp.kind = "corridor"',
            '[[spaces]]\nid = "back_ramp"\nname = "back ramp"\nkind = "ramp"\n'
            '[[spaces]]\nid = "side_ramp"\nname = "side ramp"\nkind = "corridor"',
        ),
        ('[configuration.items]\nE2377 = "x"', '[[configuration.items]]\ncode = "E2377"\nwhy = "x"'),
        ('[diagnoses]\nsma = "atrophy"', '[[diagnoses]]\nname = "atrophy"'),
        ("[diagnoses.spinal_atrophy]\nsince = 'birth'", '[[diagnoses]]\nname = "spinal atrophy"\nsince = "birth"'),
        ('[diagnoses]\n"G80.3" = "palsy"', '[[diagnoses]]\ncode = "G80.3"\nname = "palsy"'),
        ('[cautions]\nskin = "x"', '[[cautions]]\nabout = "skin"\nsays = "x"'),
        (
            '[cautions]\nskin = ["x", "y"]',
            '[[cautions]]\nabout = "skin"\nsays = "x"\n[[cautions]]\nabout = "skin"\nsays = "y"',
        ),
        ('[denial.reasons]\nsafe = "x"', '[[denial.reasons]]\nsays = "x"'),
        ('[emergency.calls]\naunt = "all day"', '[[emergency.calls]]\nwho = "aunt"\nanswers = "all day"'),
        ('[emergency.numbers]\nusual_pulse = "x"', '[[emergency.numbers]]\nname = "usual pulse"\nvalue = "x"'),
        ('[emergency.settled]\nK-01 = "x"', '[[emergency.settled]]\nconflict = "K-01"\nsays = "x"'),
        ("[counts]\nturned = { before = 16 }", '[[counts]]\nname = "turned"\nbefore = 16'),
        (
            '[emergency.steps]\noff = { says = "x", moves = "drive_off" }\n"epilepsy.seizure" = "y"',
            '[[emergency.steps]]\nsays = "x"\nmoves = "drive_off"\n'
            '[[emergency.steps]]\nsays = "y"\nserves = ["epilepsy.seizure"]',
        ),
        (
            '[training.totals]\n2026-09-24 = { task = "x", tries = 10 }',
            '[[training.totals]]\non = "2026-09-24"\ntask = "x"\ntries = 10',
        ),
        ('[taught]\naunt = { what = "x" }', '[[taught]]\nwho = "aunt"\nwhat = "x"'),
        ('[follow_up]\n2 = "fit"', '[[follow_up]]\nafter_weeks = 2\nwhat = "fit"'),
        ('[follow_up]\n"0.5" = "fit"', '[[follow_up]]\nafter_weeks = 0.5\nwhat = "fit"'),
        ('[configuration.commands]\nstop = "x"', '[[configuration.commands]]\ndoes = "stop"\ninput = "x"'),
        (
            '[configuration.features]\nstandby = ["hand_weak"]',
            '[[configuration.features]]\nid = "standby"\nbecause = ["hand_weak"]',
        ),
        ("[configuration.items]\nE2377 = {}", '[[configuration.items]]\ncode = "E2377"'),
        (
            '[configuration.settings]\nas_delivered = ["torque"]\nsound = "on"',
            '[[configuration.settings]]\nsetting = "torque"\nas_delivered = true\n'
            '[[configuration.settings]]\nsetting = "sound"\nvalue = "on"',
        ),
        (
            '[configuration.settings]\nforward_speed = [{ profile = "a" }, { profile = "b" }]',
            '[[configuration.settings]]\nsetting = "forward_speed"\nprofile = "a"\n'
            '[[configuration.settings]]\nsetting = "forward_speed"\nprofile = "b"',
        ),
        (
            "[configuration.profiles.tight_places]\nlatched = false",
            '[[configuration.profiles]]\nid = "tight_places"\nname = "tight places"\nlatched = false',
        ),
        (
            '[conditions.epilepsy.answers]\nlast = 30\never = true\nsigns = "x"',
            '[[conditions]]\nid = "epilepsy"\n[[conditions.answers]]\nask = "last"\nnumber = 30\n'
            '[[conditions.answers]]\nask = "ever"\nyes = true\n[[conditions.answers]]\nask = "signs"\nsays = "x"',
        ),
        ("[training.week]\nmonday = { free = false }", '[[training.week]]\nday = "monday"\nfree = false'),
    ],
)
def test_a_list_by_name_is_the_same_list(by_name, as_list):
    assert read(by_name).tables == read(as_list).tables == tomllib.loads(as_list)


def test_the_name_of_a_question_may_have_capitals():
    (question,) = listed('[awaited]\nE1028_for.supplier = "which part it holds"', "awaited")
    assert question["id"] == "e1028_for"


@of_each(
    "name, given, label, per",
    [
        ("times a week she gets stuck", {}, "times she gets stuck", "week"),
        ("times she gets stuck per month", {"per": "month"}, "times she gets stuck", "month"),
        ("times a week she gets stuck", {"per": "day"}, "times a week she gets stuck", "day"),
        ("times a day he is pushed", {}, "times a day he is pushed", "day"),
    ],
)
def test_the_week_or_month_of_a_count_is_said_once(name, given, label, per):
    count = Need.model_validate({"name": name, "before": 2, **given})
    assert (count.name, count.per) == (label, per)


def test_what_is_common_stands_once():
    text = '[spaces]\neach = { at_home = true, floor = "wood" }\nhall.floor = "tile"\nden.kind = "turning"'
    assert [(entry["at_home"], entry["floor"]) for entry in listed(text, "spaces")] == [(True, "tile"), (True, "wood")]


def test_an_entry_may_stand_apart_from_what_is_common():
    text = '[spaces]\neach.floor = "wood"\nhall.kind = "turning"\nden = { kind = "turning", each = false }'
    assert [entry.get("floor") for entry in listed(text, "spaces")] == ["wood", None]


def test_a_visit_of_its_own_leaves_the_common_day_and_person_out():
    text = '[findings]\neach = { by = "ot", on = 2026-03-03 }\na = { says = "x", visit = "home" }\nb.says = "y"'
    first, second = listed(text, "findings")
    assert "by" not in first and "on" not in first and (second["by"], second["on"]) == ("ot", ON)


def test_a_part_like_another_has_what_it_does_not_say():
    text = (
        '[configuration.mounting]\nleft = { part = "left pad", gap_mm = 12, midline_mm = -95 }\n'
        'right = { like = "left", part = "right pad", midline_mm = 95 }\n'
        'far = { like = "right", gap_mm = 20 }'
    )
    _, right, far = listed(text, "configuration", "mounting")
    assert right == {"id": "right", "part": "right pad", "gap_mm": 12, "midline_mm": 95}
    assert far == {"id": "far", "part": "right pad", "gap_mm": 20, "midline_mm": 95}


def test_other_standard_parts_come_as_said_once():
    text = '[configuration.standard_parts]\nheadrest = "moves_over"\nnot_needed = ["armrests"]\nothers = "with_base"'
    parts = {entry["part"]: entry["comes"] for entry in listed(text, "configuration", "standard_parts")}
    assert parts == {
        "headrest": "moves_over",
        "armrests": "not_needed",
        "batteries": "with_base",
        "transit_securement": "with_base",
        "legrests": "with_base",
    }


def test_each_key_has_the_line_where_it_stands():
    text = (
        '[findings]\neach.by = "ot"\n\nhand_weak.says = "x"\n[configuration.mounting.left]\ngap_mm = 12\n'
        '[configuration.mounting.right]\nlike = "left"\n[cautions]\nskin = "y"\n'
    )
    lines = read(text).lines
    assert lines["findings", 0, "says"] == lines["findings", 0] == lines["findings", 0, "id"] == 4
    assert lines["findings", 0, "by"] == 2
    assert lines["configuration", "mounting", 1, "gap_mm"] == 6 and lines["configuration", "mounting", 1] == 7
    assert lines["cautions", 0, "says"] == 10


def test_lists_by_name_are_known():
    assert read('[findings.a]\nsays = "x"\n[[spaces]]\nid = "hall"').by_name == {("findings",)}


def test_what_is_no_list_stays():
    text = '[client]\nname = "x"\n[sitting.after]\nrestart = "y"\n[[counts]]\nname = "z"'
    assert read(text).tables == tomllib.loads(text)


@pytest.mark.parametrize(
    ("text", "line", "told"),
    [
        ("[findings]\nhand_weak = 3", 4, "findings.hand_weak is 3, and an entry has keys of its own"),
        ('[findings]\nhand_weak = ["x", "y", "z"]', 4, 'is two texts: says, then measure Write hand_weak = ["<says>"'),
        (
            '[configuration.features]\nreverse_access = "own_switch"',
            4,
            'Where reverse_access.own_switch is the feature, write "reverse_access.own_switch" = {}, in quotes.',
        ),
        ('[findings]\nhand_weak = ["x"]', 4, "is two texts: says, then measure"),
        ('[findings]\nid = "hand_weak"\nsays = "x"', 3, "single table"),
        ('[findings.hand_weak]\nsays = "x"\nlike = "no_such"', 5, "which is no entry above this one"),
        ('[findings.hand_weak]\nsay = "x"', 4, "unknown key 'say'"),
        ('[findings.hand_weak]\nmeasure = "x"', 3, "findings.says is missing"),
        ('[findings]\neach.on = "soon"\nhand_weak.says = "x"', 4, "findings.on is 'soon'"),
        ("[limits]\nsight = { found = false }", 4, "limits.kind is 'sight'"),
        ('[findings.a]\nsays = "x"\n[[findings]]\nid = "b"', 5, "not valid TOML"),
    ],
)
def test_a_mistake_is_told_at_its_line(text, line, told, tmp_path):
    folder = tmp_path / "robin-example"
    folder.mkdir()
    (folder / "case.toml").write_text(f"{HEAD}{text}\n", encoding="utf-8")
    (folder / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    with pytest.raises(UserError) as refusal:
        read_case(folder)
    assert any(
        problem.where.endswith(f"case.toml:{line}") and told in f"{problem.what} {problem.do}"
        for problem in refusal.value.problems
    ), str(refusal.value)


@pytest.mark.parametrize(
    "path",
    [("people", 0, "private_note"), ("people", "aunt", "private_note"), ("people", "each", "private_note")],
)
def test_a_private_note_is_private_in_either_form(path):
    assert is_private(path) and not is_private((*path[:-1], "name"))


def test_a_key_is_never_taken_for_a_name():
    """Of each part with names, the words that are no names are keys of none of its entries."""
    parts_by_name = [(part, form) for part in parts_of(Case) if (form := form_of(part))]
    assert {Mount, Hours, ConditionAnswer} < {part for part, _ in parts_by_name}  # those within another too
    for part, form in parts_by_name:
        assert not {"each", "like", "others"} & part.model_fields.keys()
        assert form.key in part.model_fields or not form.key  # of some the name only tells the entries apart


@pytest.mark.parametrize(
    ("text", "says", "never"),
    [
        ('[diagnoses.g12]\nname = "atrophy"\n', "The name in [diagnoses.g12] is the code in this form", ""),
        ('[confirmed.eye]\nof = "letter"\n', "Write [[confirmed]], with two brackets", ".NAME]"),
    ],
)
def test_a_mistake_in_a_name_is_told_in_the_form_of_the_file(tmp_path, text, says, never):
    (tmp_path / "trial.csv").write_text("date,method,task,success\n", encoding="utf-8")
    with pytest.raises(UserError) as failure:
        read_text(f'format = "docgen case 2"\nid = "{tmp_path.name}"\n{text}', tmp_path)
    told = "\n".join(str(problem) for problem in failure.value.problems)
    assert says in told and not (never and never in told)


def test_a_list_without_an_entry_is_told_by_name_in_the_present_form():
    lists = {of: spread({"format": of}, {}, Case, str).by_name for of in ("docgen case 1", "docgen case 2")}
    says = "Add [[configuration.profiles]] with id, name."
    assert as_written(says, lists["docgen case 2"]) == "Add [configuration.profiles.NAME] with name."
    assert as_written(says, lists["docgen case 1"]) == says
