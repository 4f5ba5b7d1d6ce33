"""The training plan says what the case holds: its own way to stop, the warnings of every site, who is near, what is not known."""

from __future__ import annotations

import re
import shutil

import pytest
from support import DEMO_FOLDERS

from docgen.case.asked import ChosenFeature
from docgen.documents.training import errors_of, training_tables
from docgen.packet import assess, language_words, trees

WORDS = language_words()
FOLDERS = {folder.name: folder for folder in DEMO_FOLDERS}
SAOIRSE, MARISOL, ILMARI = "saoirse-villalobos-ng", "marisol-quenneville-tran", "ilmari-okonjo-vale"
FOUND = {name: assess(FOLDERS[name]) for name in (SAOIRSE, MARISOL, ILMARI)}


def with_features(*asked):
    case = FOUND[ILMARI].file.case
    chosen = tuple(ChosenFeature(id=one, because=("head_three_way",)) for one in asked)
    return case.model_copy(update={"configuration": case.configuration.model_copy(update={"features": chosen})})


def made(tmp_path, name, document, **changes):
    """One document of a demo whose files were changed, as text: file -> function of its text, None takes the file away."""
    target = shutil.copytree(FOLDERS[name], tmp_path / name)
    for file, change in changes.items():
        path = target / file.replace("_", ".")
        if change is None:
            path.unlink()
            continue
        text = path.read_text(encoding="utf-8")
        changed = change(text)
        assert changed != text
        path.write_text(changed, encoding="utf-8")
    return trees(assess(target), [document])[document].plain()


# ---- errors ----------------------------------------------------------------------------------------


def test_a_control_at_mouth_and_head_keeps_the_warnings_of_both():
    said = errors_of(with_features("breath_plus_pads"), WORDS)
    assert "a head that turns to look can drive" in said["contacts_often"]["coach"]
    assert "Hair, a hat" in said["unintended_often"]["look"] and "water in the tube" in said["unintended_often"]["look"]
    assert "breath out" not in said["release_late"]["coach"] and "Mouthpiece out" in said["unintended_often"]["coach"]
    assert said["missed_often"]["name"] == WORDS["errors"]["missed_often"]["name"]  # a pad is no puff


@pytest.mark.parametrize("asked, words", [
    ("chin_site", "a chin that moves to look can drive"), ("pneumatic_four_command", "can lose the mouthpiece"),
    ("rear_side_pads", "a head that turns to look can drive"), ("foot_site", "Look to that side, then drive"),
])
def test_looking_before_a_place_with_bumps_is_told_for_each_site(asked, words):
    assert words in errors_of(with_features(asked), WORDS)["contacts_often"]["coach"]


def test_stops_are_practiced_by_the_drivers_own_way_to_stop(tmp_path):
    says = "takes the lips off the mouthpiece"
    text = made(tmp_path, MARISOL, "plan", case_toml=lambda t: re.sub(r'(\[configuration.stop\]\ndriver = )"[^"]*"', rf'\1"{says}"', t))
    late = next(line for line in text.splitlines() if "Say nothing about breath" in line)
    assert f"To stop, Marisol {says}." in late.partition("Say nothing about breath")[2] and "sip" not in late.partition("Say nothing about breath")[2][:90]
