"""A page says in plain words what is missing: keys, tables, commands and ids stay in `docgen check`."""

from __future__ import annotations

import re
from random import Random

import pytest
from ablate import together
from support import ASSESSED, DEMO_FOLDERS, DEMOS, assess
from taking_away import Taken, everything_taken, less

from docgen.case.starter import first_line, starter
from docgen.errors import UserError
from docgen.packet.trees import trees

OF_THE_PROGRAM = re.compile(
    r"\[\[|\]\]|(?<![^\W_])[a-z]+(?:_[a-z0-9]+)+|\bdocgen [a-z]+|[Ff]ill in [a-z]+[._]|Add \[|Write in\b"
    r"|\b(?:case|client|request|dates|configuration|trial|training|order|people|supervision|emergency|spaces)\.[a-z]+_"
)


def held(case):
    """What the pages of a case hold that belongs to `docgen check`, each with the words around it."""
    words = {name: tree.plain() for name, tree in trees(case).items()}
    assert {"letter", "cover", "guide", "plan", "order"} <= words.keys()
    return [
        (name, text[max(0, at.start() - 80) : at.end() + 40])
        for name, text in words.items()
        for at in OF_THE_PROGRAM.finditer(text)
    ]


def without(source, key, tmp_path):
    """A case without one key."""
    return less(source, next(taken for taken in everything_taken(source) if taken.label == key), tmp_path)


def test_pages_of_an_empty_case_name_no_key(tmp_path):
    folder = tmp_path / "robin-example"
    folder.mkdir()
    (folder / "case.toml").write_text(starter(folder.name), encoding="utf-8")
    (folder / "trial.csv").write_text(first_line(), encoding="utf-8")
    assert held(assess(folder)) == []


@pytest.mark.parametrize("demo", DEMOS)
def test_pages_of_a_demo_name_no_key(demo):
    assert held(ASSESSED[demo]) == []


@pytest.mark.parametrize("source", DEMO_FOLDERS, ids=lambda folder: folder.name)
def test_pages_of_a_demo_with_parts_taken_out_name_no_key(source, tmp_path):
    random = Random(f"no key of {source.name}")
    label, change = together(source, random)
    for taken in (Taken(label, files=change), *random.sample([*everything_taken(source)], 2)):
        try:
            assert held(less(source, taken, tmp_path)) == []
        except UserError:
            continue


BY_NAME = {folder.name.split("-")[0]: folder for folder in DEMO_FOLDERS}


@pytest.mark.parametrize(
    ("source", "key", "says", "never"),
    [
        ("saoirse", "configuration.profiles.0.speed_m_s", "forward speed in m/s", "speed_m_s"),
        ("saoirse", "configuration.items.1.without", "what happens without it", "lacks without"),
        ("ilmari", "configuration.mounting.0.gap_mm", "gap at rest in mm", "gap_mm"),
        ("ilmari", "configuration.stop.power_off", "where the power switch is", "power_off"),
    ],
)
def test_what_lacks_is_told_by_its_label(source, key, says, never, tmp_path):
    pages = trees(without(BY_NAME[source], key, tmp_path), ["cover", "letter", "order"])
    text = " ".join(tree.plain() for tree in pages.values())
    assert says in text and never not in text


def test_someone_without_a_name_is_not_called_by_the_id(tmp_path):
    source = BY_NAME["pilar"]
    at, doctor = next(
        (at, person) for at, person in enumerate(assess(source).file.case.people) if person.role == "practitioner"
    )
    cover = trees(without(source, f"people.{at}.name", tmp_path), ["cover"])["cover"].plain()
    assert f"The practitioner, name not recorded, {doctor.credential}, signed the order" in cover
    assert f"{doctor.id}, {doctor.credential}" not in cover.lower()
