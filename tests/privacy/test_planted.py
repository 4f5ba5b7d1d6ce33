"""Identifiers of the 18 kinds planted in sentences: each is replaced, or told as doubtful, or counts as missed.

planted_own.json was written beside the program; planted.json, where it is there, by someone who had not seen it.
Each entry holds a kind, a text, and the stretch of it that must not be left.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from gathered import of_each
from support import DEMO_FOLDERS

from docgen.case.model import Case
from docgen.case.nobody.copy import deidentified
from docgen.case.nobody.keys import texts
from docgen.case.read import read_case
from docgen.packet.teaching import _ordinary
from docgen.packet.wording import wording

TABLES = sorted(Path(__file__).parent.glob("planted*.json"))
MOST_NAMES_MISSED = 0.05
MOST_LISTED = 0.03  # of the words of a case
CASE = Case.model_validate(
    {
        "format": "docgen case 1",
        "id": "tamsin-vreeland",
        "client": {"name": "Tamsin Vreeland", "called": "Tamsin"},
        "dates": {"written_on": date(2026, 4, 17)},
    }
)
WORD = re.compile(r"[^\W_]+")


@cache
def told(text: str, weeks: int = 101) -> tuple[str, tuple[str, ...]]:
    """The text as a copy has it, and the doubtful words."""
    case = CASE.model_copy(update={"client": CASE.client.model_copy(update={"day": text})})
    copy = deidentified(case, "copy", weeks, wording().words["deidentified"], _ordinary())
    return copy.case.client.day or "", copy.doubtful


def is_left(shown: str, text: str, identifier: str) -> bool:
    """Whether the identifier stands there, alone where it does so in the text, or a number of three digits of it."""
    pattern = rf"(?<![^\W_]){re.escape(identifier)}(?![^\W_])"
    whole = bool(re.search(pattern, shown)) if re.search(pattern, text) else identifier in shown
    return whole or any(re.search(rf"(?<!\d){run}(?!\d)", shown) for run in re.findall(r"\d{3,}", identifier))


def outcome(text: str, identifier: str) -> str:
    """replaced, listed or missed. Two copies are asked: a day that one of them moves can come to be another of the
    text."""
    shown, doubtful = told(text)
    if not is_left(shown, text, identifier) or not is_left(told(text, 187)[0], text, identifier):
        return "replaced"
    listed = {word for entry in doubtful for word in WORD.findall(entry)}
    return "listed" if listed & set(WORD.findall(identifier)) else "missed"


def planted(path: Path) -> list[dict[str, str]]:
    return json.loads(path.read_text(encoding="utf-8"))


def is_name(entry: dict[str, str]) -> bool:
    return "name" in entry["kind"]


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_no_planted_identifier_but_a_name_is_missed_and_few_names_are(path):
    entries = planted(path)
    assert len(entries) >= 150 and all(entry["identifier"] in entry["text"] for entry in entries)
    found = [(outcome(entry["text"], entry["identifier"]), entry) for entry in entries]
    print(path.name, dict(Counter(how for how, _ in found)))
    missed = [entry for how, entry in found if how == "missed"]
    n_names = sum(map(is_name, entries))
    assert n_names and not [(entry["kind"], entry["text"]) for entry in missed if not is_name(entry)]
    assert sum(map(is_name, missed)) <= MOST_NAMES_MISSED * n_names, [entry["text"] for entry in missed]


def test_an_identifier_that_is_left_counts_as_missed():
    """The count can fail: a text that goes through untouched is missed."""
    assert outcome("Turn the pads.", "pads") == "missed"


@pytest.mark.parametrize("folder_of", DEMO_FOLDERS, ids=lambda f: f.name)
def test_few_words_are_listed_that_lead_to_nobody(folder_of):
    """Each word listed counts as often as it stands in the texts of the case, and none of a demo leads to someone."""
    case = read_case(folder_of).case
    copy = deidentified(case, "copy", 101, wording().words["deidentified"], _ordinary())
    words = [word for text in texts(case) for word in WORD.findall(text)]
    listed = {word for entry in copy.doubtful for word in WORD.findall(entry)}
    assert len(words) > 500
    assert sum(word in listed for word in words) <= MOST_LISTED * len(words), copy.doubtful


@of_each(
    "text",
    [
        "The pads stand 15 mm off, 110 x 60 mm, tilted 5 deg; 0.66 s to stop at 0.4 m/s, 24 V, 150 g.",
        "He did 118 of 120 stops and 1,250 presses in 14 sessions of 20 minutes.",
        "E2330, K0856 and E2377 with I69.354, G12.21 and G80.0; CPT 97542.",
        "ISO 7176-14, IEC 60601-1, ANSI/RESNA WC-4, 45 CFR 164.514(b)(2), LCD L33789, revision 9.",
        "b730 and d465 of the ICF; ICF: b7301, d4650.",
        "At 08:30 and 16:00 for 45 minutes; call 911.",
        "Strength 4/5, pain 3/10, stops 7/10, half at 50/100.",
        "Weakness below C5-C6, T12 and L4; SpO2 97 %, COVID-19 before.",
        "On Monday the ramp was 1:12, on Tuesdays it is dry.",
        "The guide is in English, Spanish and Braille; Medicare and Medicaid pay.",
        "As in Duchenne, Charcot-Marie-Tooth and Guillain-Barre.",
    ],
)
def test_measures_public_codes_and_figures_of_the_trade_stay_and_are_not_listed(text):
    assert told(text) == (text, ())
