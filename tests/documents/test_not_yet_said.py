"""What the record leaves open, the pages leave open: a device not tried, a call, hours alone."""

from __future__ import annotations

import re

import pytest
from made import MARISOL, SAOIRSE, rebuilt
from support import ASSESSED

from docgen.packet.languages import in_language
from docgen.packet.trees import trees

_ALONE = "At home, in the three hours alone"


def words(tmp_path, document: str, change, name: str = MARISOL) -> str:
    """The words of one document of a demo whose case.toml was changed by this function."""
    return " ".join(rebuilt(tmp_path, name, (document,), case_toml=change)[document].plain().split())


def test_a_control_without_an_attempt_is_said_to_have_none(tmp_path):
    letter = words(tmp_path, "letter", lambda text: f"{text}\n")
    sentence = re.search(r"The trial counted no attempt with ([^.]*)\.", letter)
    assert sentence and "foot or finger switches" in sentence[1].lower()
    # those that the trial has attempts with, and what is no drive control
    assert not re.search("chin-operated|proximity head array|walker|scooter", sentence[1].lower())


@pytest.mark.parametrize(
    ("ruled_out_by", "said"),
    [
        ('ruled_out_by = "nothing"\n', "The test device is not ruled out."),
        ("", "Missing: what rules out the test device."),
        ('ruled_out_by = "trial"\n', "Missing: what rules out the test device."),
        ('ruled_out_by = "condition"\n', ""),
    ],
)
def test_what_rules_a_device_out_is_a_gap_where_the_record_holds_no_ground(ruled_out_by, said, tmp_path):
    device = 'id = "test_device"\nkind = "stick_by_hand"\nname = "the test device"\nreason = "She does not reach it."\n'
    letter = words(tmp_path, "letter", lambda text: f"{text}\n[[alternatives]]\n{device}{ruled_out_by}")
    about = letter.partition("The test device.")[2][:120]
    assert (said in about) if said else "ruled out" not in about and "rules out" not in about


def test_tries_without_a_result_are_told_and_counted_nowhere(tmp_path):
    device = 'id = "test_device"\nkind = "head_control"\nname = "the test device"\nreason = "It hurts."\ntries = 10\n'
    letter = words(tmp_path, "letter", lambda text: f'{text}\n[[alternatives]]\n{device}ruled_out_by = "condition"\n')
    assert "tried the test device ten times; how each of these tries went was not kept" in letter
    counted = re.search(r"The trial counted no attempt with ([^.]*)\.", letter)
    assert not counted or "test device" not in counted[1]


@pytest.mark.parametrize("how", ['mode = "phone"', 'place = "by phone"'])
def test_a_phone_call_is_no_day_of_the_evaluation(how, tmp_path):
    letter = words(
        tmp_path, "letter", lambda text: text.replace('id = "clinic_2"\n', f'id = "clinic_2"\n{how}\n'), SAOIRSE
    )
    days = re.search("Specialty evaluation of ([^,]*),", letter)
    assert days and "10" in days[1] and "17" not in days[1]


def _all_settled(text: str) -> str:
    """Hours alone as they stand once a call without voice and a fire are settled."""
    for old, new in (
        (
            'settled = ["no_answer", ',
            'settled = ["call_without_voice", "call_fails", "fire", "faint", "sit_up", "phlegm", "weight_shifts", '
            '"no_answer", "night", ',
        ),
        ("A fire in that room or of the chair is not settled: ask her therapist, 555-0121.", ""),
    ):
        assert old in text, old
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("call_needs_chair = false\n", ""), "whether that call works without the chair"),
        (("call_needs_chair = false\n", "call_needs_chair = true\n"), "Help is called through the chair"),
    ],
)
@pytest.mark.parametrize("document", ["letter", "plan"])
def test_hours_alone_that_are_not_settled_need_nobody_away(document, change, says, tmp_path):
    settled = words(tmp_path / "settled", document, _all_settled)
    open_ = words(tmp_path / "open", document, lambda text: _all_settled(text).replace(*change))
    assert f"{_ALONE}: being alone there is not settled." in open_ and says in open_
    assert "being alone there is not settled" not in settled and "available by phone" in settled


@pytest.mark.parametrize(
    ("lang", "says"), [("en", "no, not yet. Still open: "), ("es", "no, todavía no. Sin resolver: ")]
)
def test_what_is_open_in_the_record_is_open_on_the_card_of_each_language(lang, says):
    """What the record leaves open is read in its own words: a translated card said that she may be left."""
    made = ASSESSED[MARISOL]
    card = in_language(made, lang, ["card"]).trees["card"] if lang != "en" else trees(made, ["card"])["card"]
    assert says in " ".join(card.plain().split())


@pytest.mark.parametrize(
    ("document", "said"),
    [
        ("letter", "Its seat is asked for with 50 degrees of tilt."),
        ("order", "its seat tilts to 50 degrees, as asked for"),
    ],
)
def test_a_tilt_that_is_asked_for_is_told(document, said, tmp_path):
    assert said not in words(tmp_path / "without", document, lambda text: f"{text}\n")
    chair = "[configuration.chair]\n"
    assert said in words(tmp_path / "with", document, lambda text: text.replace(chair, f"{chair}tilt_asked_deg = 50\n"))
