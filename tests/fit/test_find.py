"""A word of anyone's own finds what the vocabulary has for it; an unknown one is answered with the five nearest."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from gathered import of_each
from support import run

import docgen
from docgen.errors import did_you_mean
from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.nearest import Entry, how_near, near_words, nearest
from docgen.shipped import tables_of
from docgen.vocabulary import keys_of_case, schema, vocabularies


@of_each(
    ("words", "kind", "first"),
    [
        ("knees fixed", "finding", "leg_contracture"),
        ("elbow fixed", "finding", "hand_contracture"),
        ("scarf", "finding", "wears_head_items"),
        ("hijab", "finding", "wears_head_items"),
        ("drools", "finding", "saliva_heavy"),
        ("hoist", "finding", "transfer_sling"),
        ("ATNR", "finding", "reflex_head_turn"),
        ("extensor thrust", "finding", "head_push_extends"),
        ("shaky hands", "finding", "hand_tremor"),
        ("numb", "finding", "touch_reduced"),
        ("cannot let go", "finding", "grip_release_slow"),
        ("trach", "finding", "vent_trach"),
        ("bedsore", "finding", "pressure_risk"),
        ("epilepsy", "finding", "seizure_active"),
        ("hemianopia", "finding", "field_cut"),
        ("sip and puff", "feature", "pneumatic_four_command"),
        ("mirror", "feature", "rear_view_aid"),
        ("goalpost", "feature", "joystick_handle"),
        ("tremor filter", "feature", "tremor_dampening"),
        ("cruise control", "feature", "latched_drive"),
        ("swing away", "feature", "swing_away_mount"),
        ("braking", "setting", "deceleration"),
        ("dead zone", "setting", "dead_zone"),
        ("manual wheelchair", "kind", "manual_chair"),
        ("E2312", "code", "E2312"),
        ("Medicaid under 21", "payer", "medicaid_under_21"),
    ],
)
def test_a_word_of_ones_own_finds_it_first(words, kind, first):
    assert nearest(words, vocabularies()[kind])[0].id == first


def test_every_finding_and_feature_has_words_of_its_own_and_is_found_by_each():
    for kind, table in (("finding", vocabulary()), ("feature", features())):
        entries = vocabularies()[kind]
        for key, entry in table.items():
            assert entry.synonyms, key
            for words in entry.synonyms:
                found = [hit.id.partition(".")[0] for hit in nearest(words, entries, 8)]
                assert key.partition(".")[0] in found, (words, found)


def test_nothing_is_near_a_word_of_another_world():
    assert [hit.id for entries in vocabularies().values() for hit in nearest("zeppelin", entries)] == []


def test_the_command_tells_where_each_word_is_written():
    code, out, _ = run("find", "knees", "fixed")
    assert code == 0 and out.startswith("finding: [findings.NAME]\n  leg_contracture ")
    assert "A joint of the hip, knee or ankle" in out
    code, out, _ = run("find")
    assert code == 0 and all(f"  {name} " in out for name in (*vocabulary(), *features()))
    assert run("find", "zeppelin")[1].startswith("Nothing is near 'zeppelin'.")


def test_the_schema_carries_each_vocabulary_with_its_meaning():
    definitions = schema()["$defs"]
    for table, key, kind in (
        ("Finding", "id", "finding"),
        ("ChosenFeature", "id", "feature"),
        ("Alternative", "kind", "kind"),
        ("Change", "setting", "setting"),
        ("Request", "payer", "payer"),
        ("Item", "code", "code"),
    ):
        told = {e["const"]: e["description"] for e in definitions[table]["properties"][key]["anyOf"] if "const" in e}
        assert told.keys() == {entry.id for entry in vocabularies()[kind]} and all(told.values()), (table, key)
    assert json.dumps(definitions)
    features_of_item = definitions["Item"]["properties"]["features"]["items"]["anyOf"]
    assert {entry["const"] for entry in features_of_item} == features().keys()


@pytest.mark.parametrize("n", [3, 20, 21, 60])
def test_no_list_of_words_is_cut(n):
    words = [f"word_{at:02}" for at in range(n)]
    told = did_you_mean("zzz", words)
    assert "..." not in told
    if n <= 20:
        assert all(word in told for word in words)
    else:
        assert f"The nearest of the {n} there are: " in told and told.count("word_") == 5


@pytest.mark.parametrize("word", ["conditions", "condition"])
def test_the_conditions_are_listed_by_their_own_word(word):
    out = run("find", word)[1]
    assert "[conditions.NAME]" in out and all(name in out for name in ("epilepsy", "no_speech", "ventilator"))
    assert "finding:" not in out


def test_a_condition_is_found_by_a_word_of_it():
    assert nearest("stroke", vocabularies()["condition"])[0].id == "brain_injury_or_stroke"


@pytest.mark.parametrize("word", ["owner", "astronaut", "office"])
def test_where_nothing_is_near_it_is_said_and_how_all_are_listed(word):
    out = run("find", word)[1]
    assert out.startswith(f"Nothing is near '{word}'") and "docgen find" in out and "conditions" in out


def test_a_list_that_is_cut_names_the_command_that_shows_all():
    assert did_you_mean("zzz", [f"w{n}" for n in range(22)], "docgen find conditions").endswith(
        "All of them: docgen find conditions."
    )


@of_each(
    ("words", "kind", "first"),
    [
        ("scissor", "finding", "leg_spasm"),
        ("letter board", "finding", "aac_user"),
        ("swelling", "finding", "seat_functions_needed"),
        ("redness", "finding", "pressure_risk"),
        ("nystagmus", "finding", "vision_low"),
        ("double vision", "finding", "vision_low"),
        ("heel", "finding", "foot_graded"),
        ("yawn", "finding", "jaw_moves_talking"),
        ("lightheaded", "finding", "dizzy_upright"),
        ("forgets", "finding", "memory_poor"),
        ("slide board", "finding", "transfer_slide"),
        ("gravel", "finding", "slopes_rough"),
        ("alone at home", "finding", "alone_hours"),
        ("mini joystick", "feature", "mini_joystick"),
        ("compact joystick", "feature", "compact_joystick"),
        ("head pads", "feature", "head_array"),
        ("click switch", "feature", "contact_switch_sensing"),
        ("knee switch", "feature", "switch_type_by_site"),
        ("T-handle", "feature", "joystick_handle"),
        ("gooseneck", "feature", "pneumatic_four_command"),
        ("winter boots", "feature", "foot_site"),
        ("remote stop", "feature", "attendant_stop"),
        ("one switch", "feature", "single_switch_scanning"),
        ("display", "feature", "display_in_view"),
        ("latched drive", "feature", "latched_drive"),
        ("chin stick", "kind", "stick_by_chin"),
        ("cup", "code", "E2324"),
        ("K0861", "code", "K0861"),
        ("credential", "key", "people.credential"),
        ("hour meter", "key", "request.chair_now_history"),
        ("stroke", "condition", "brain_injury_or_stroke"),
        ("elevator", "key", "spaces.kind"),
        ("fire plan", "key", "supervision.fire_plan"),
        ("home visit", "key", "dates.home_visit_on"),
        ("second wheelchair", "key", "request.keeps_other_chair"),
        ("who was taught", "key", "taught.who"),
        ("four tie downs", "key", "transport.four_tie_downs"),
    ],
)
def test_a_plain_word_is_answered_first_by_the_vocabulary_that_has_it(words, kind, first):
    head, entry, *_ = run("find", *words.split())[1].split("\n")
    assert head.startswith(f"{kind}: ") and entry.split()[0] == first, (words, head, entry)


def test_a_key_is_told_with_an_example_and_a_base_with_its_driver():
    assert run("find", "credential")[1].rstrip().endswith('Credential. As "OTR/L".')
    assert "driver of up to 300 lb" in " ".join(run("find", "K0861")[1].split())


def test_a_code_on_no_list_is_said_to_be_and_no_other_stands_in_its_place():
    status, out = run("find", "e9999")[:2]
    assert status == 0 and out.startswith("E9999 is on no list") and "E1002" not in out
    assert 'E9999 = { name = "<what it is>" } under [configuration.items]' in out
    assert [line.split()[0] for line in run("find", "E2330")[1].rstrip().split("\n")[1:2]] == ["E2330"]


def test_a_diagnosis_without_a_code_is_shown_its_place():
    assert 'until then [diagnoses] "its name" = {}' in run("find", "traumatic", "brain", "injury")[1]


# as a therapist types them, after the headings of a referral, an evaluation, an order and a training note
TYPED = {
    "face to face": "dates.encounter_on", "F2F visit": "dates.encounter_on", "insurance": "request.payer_name",
    "policy number": "client.member_id", "stepfather": "people.relation", "guardian": "people.relation",
    "lap belt": "sitting.belts", "chest harness": "sitting.belts", "teach-back": "taught.skills",
    "showed it back": "taught.skills", "DOB": "client.born_on", "nickname": "client.called",
    "GMFCS": "client.function", "translator": "client.interpreter", "ROM": "client.head.forward_deg",
    "second insurance": "request.later_payers.payer_name", "current chair": "request.chair_now",
    "length of need": "request.months_needed", "outgrown": "request.growth", "ICD-10": "diagnoses.code",
    "prognosis": "diagnoses.course", "onset": "diagnoses.since", "aide": "people.role", "vendor": "people.role",
    "telephone": "people.phone", "conflict of interest": "people.statement_on", "telehealth": "encounter.mode",
    "concurrence": "dates.accepted_on", "prescription": "dates.ordered_on", "SWO": "dates.ordered_on",
    "home assessment": "dates.home_visit_on", "prior auth": "authorization.tracking", "appeal": "denial.reasons.says",
    "IEP": "outside_records.what", "clearance": "awaited.what", "LMN": "letter.request", "MRADL": "activities.name",
    "caregiver burden": "help_a_day.minutes_before", "laterals": "sitting.trunk", "headrest": "sitting.head",
    "pressure relief": "weight_shift.every_min", "door width": "spaces.clear_width_mm",
    "turning radius": "spaces.turning_mm", "incline": "spaces.slope_percent", "school bus": "transport.vehicle",
    "tiedowns": "transport.four_tie_downs", "WC19": "transport.chair_labeled",
    "home alone": "supervision.hours.starts_at", "loaner": "trial.chair",
    "least costly alternative": "alternatives.reason", "mph": "configuration.profiles.speed_m_s",
    "kill switch": "configuration.stop.stop_switch", "power button": "configuration.stop.power_off",
    "freewheel": "configuration.stop.freewheel", "activation force": "configuration.mounting.force_g",
    "HCPCS": "configuration.items.code", "medical necessity": "configuration.items.why",
    "K code": "configuration.chair.base_code", "backrest": "configuration.chair.cushion", "braid": "configuration.worn",
    "motivators": "training.likes", "cueing": "training.prompts", "practice log": "training.totals.on",
    "recheck": "follow_up.what", "emergency contact": "emergency.calls.who", "meds": "emergency.medicine",
    "medicine": "emergency.medicine", "valproate": "emergency.medicine", "shoes": "configuration.worn",
    "boot": "configuration.worn", "double vision": "limits.kind", "maintenance log": "request.chair_now_history",
    "photo release": "photos.agreed_by", "objectives": "goals.says", "eyesight": "limits.kind",
    "subscriber": "request.plan_holder", "father's plan": "request.plan_holder", "employer": "client.works",
    "occupation": "client.works", "average wait": "counts.before", "neighbor": "people.available",
    "sleep": "client.function",
    "specialty": "people.specialty", "up to 2 hours": "supervision.longest_min",
    "braked on": "configuration.chair.braked_how",
    "kitchen": "spaces.name", "bath roll in": "spaces.name",
    "egg switch": "configuration.stop.power_off", "tech": "trial.log_by", "vent alarm": "supervision.calls_by",
    "wife's stop button": "configuration.stop.helper_switch", "student": "awaited.whom", "scoliosis": "findings.own",
    "roll-in shower": "spaces.says", "hand slides": "sitting.effect", "vent mount": "configuration.mounting.part",
    "missed because": "trial.methods.notes_say", "0 of 10": "alternatives.tries_done", "hours away": "people.available",
    "wooden ramp": "spaces.floor", "weight shift": "sitting.leans",
    "minutes pushing": "counts.before", "reach at tilt": "sitting.after.reached", "not asked yet": "awaited.what",
}  # fmt: skip


def keys_found(words):
    """The keys of a case that the command prints for words, in its order."""
    out = run("find", *words.split())[1]
    of_keys = out.partition("key: of case.toml")[2].partition("\n\n")[0]
    return re.findall(r"^  ([a-z_]+(?:\.[a-z_]+)*)  ", of_keys, re.MULTILINE)


@of_each(("words", "key"), list(TYPED.items()))
def test_an_everyday_word_leads_to_its_key(words, key):
    assert len(TYPED) >= 65
    assert key in keys_found(words), keys_found(words)


def test_each_word_that_people_say_for_a_key_finds_it_and_each_key_is_one():
    said = tables_of((Path(docgen.__file__).parent / "everyday.toml").read_text(encoding="utf-8"))
    keys = {entry.id: entry for entry in keys_of_case()}
    assert said.keys() <= keys.keys() and len(said) > 80
    lost = [
        (words, key)
        for key, all_words in said.items()
        for words in all_words
        if key not in [entry.id for entry in nearest(words, keys.values()) if how_near(words, entry) >= 2.5]
    ]
    assert lost == []


def test_beside_what_fits_in_whole_no_likeness_is_told():
    assert "surface_cue" not in run("find", "insurance")[1] and "sequence_hard" not in run("find", "stepfather")[1]


def test_no_id_is_suggested_that_is_like_a_word_only_in_what_both_have():
    for wrong, id_ in (("breath_site", "foot_site"), ("arm_contracture", "hand_contracture")):
        said = near_words(wrong, [Entry("finding", id_, "some name")])
        assert "Did you mean" not in said and f"Nearest: {id_}" in said
    assert "Did you mean 'foot_site'" in near_words("fot_site", [Entry("feature", "foot_site", "some name")])
