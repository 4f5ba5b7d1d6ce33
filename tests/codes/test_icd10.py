"""Diagnosis codes: which exist, which are billable; the list loads fast because it is small."""

from __future__ import annotations

import lzma
import re
import subprocess
import sys
from string import ascii_uppercase

import pytest
from gathered import of_each
from pydantic import TypeAdapter, ValidationError

from docgen.case.base import DiagnosisCode
from docgen.case.who import Diagnosis
from docgen.codes import icd10

# simple-icd-10-cm 1.5.0, release of April 2026: is_valid_item and is_leaf, asked once of the package itself
BILLABLE = [
    "G12.21",
    "G71.01",
    "G80.0",
    "G80.3",
    "G82.51",
    "G82.54",
    "G14",
    "S14.112A",
    "Z99.3",
    "M62.81",
    "G35.D",
    "S00.03XA",
    "I69.354",
]
HEADINGS = ["G35", "G82.5", "Z99", "S14.112", "G80"]
ABSENT = ["G99.9", "S00.03X", "G12.2100", "A", "", "ZZZ", "G80-", "g80.3"]


def _codes() -> list[str]:
    """Every line of the list, as the program has it by letter."""
    return [line for letter in ascii_uppercase for line in icd10._codes(letter).decode("ascii").split()]


@of_each("code", BILLABLE)
def test_a_code_with_nothing_below_it_is_billable(code):
    assert icd10.exists(code) and icd10.billable(code)


@pytest.mark.parametrize("code", HEADINGS)
def test_a_heading_exists_and_is_not_billable(code):
    assert icd10.exists(code) and not icd10.billable(code)


@of_each("code", ABSENT)
def test_a_code_outside_the_list_does_not_exist(code):
    assert not icd10.exists(code) and not icd10.billable(code)


def test_the_list_is_whole_sorted_and_small():
    # counts of the package itself: 98,186 categories and subcategories, of which 74,719 have nothing below them
    packed = [path.read_bytes() for path in sorted(icd10._LISTS.iterdir())]
    codes = b"".join(map(lzma.decompress, packed)).decode("ascii").split()
    assert codes == _codes()
    assert len(codes) == 98_186 and sum(not code.endswith("-") for code in codes) == 74_719
    assert codes == sorted(codes) and sum(map(len, packed)) < 60_000
    assert all(re.fullmatch(r"[A-Z][0-9A-Z]{2,6}-?", code) for code in codes)


def test_a_heading_has_a_code_below_it_and_a_billable_code_has_none():
    codes = _codes()
    for code, after in zip(codes, codes[1:], strict=False):
        assert code.endswith("-") == after.startswith(code.rstrip("-")), (code, after)


def test_importing_the_criteria_does_not_unpack_the_list():
    script = (
        "from docgen.criteria.criterion import criteria; criteria()\n"
        "from docgen.codes import icd10; print(icd10._codes.cache_info().currsize)"
    )
    assert (
        subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True).stdout.strip() == "0"
    )


def test_a_case_can_hold_every_code_of_the_list():
    # letter, digit or letter, digit or letter, then up to four more; QA00 came with the release of April 2026
    read_code = TypeAdapter(DiagnosisCode).validate_python
    codes = [code.rstrip("-") for code in _codes()]
    written = [code if len(code) == 3 else f"{code[:3]}.{code[3:]}" for code in codes]
    assert [read_code(code) for code in written] == written and len(written) > 70_000
    assert "QA0.0101" in written and icd10.billable("QA0.0101")


@of_each("code", ["g80.3", "G8", "G80.", "G80.33333", "80.3", "G80 3", "GÖ0.1"])
def test_a_case_refuses_what_has_not_the_form_of_a_code(code):
    with pytest.raises(ValidationError):
        Diagnosis(code=code, name="a condition")


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("postpolio syndrome", "G14"),
        ("amyotrophic lateral sclerosis", "G12.21"),
        ("Duchenne muscular dystrophy", "G71.01"),
        ("multiple sclerosis, secondary progressive", "G35.C0"),
        ("tetraplegia C5 incomplete", None),  # the list says quadriplegia; its spinal lesions do say C5
        ("C4 complete spinal cord injury", "S14.114S"),
        ("arthrogryposis", "Q74.3"),
        ("scoliosis, fused", "M41.9"),  # what stands behind the comma is no name
    ],
)
def test_the_nearest_code_by_name_comes_first(words, code):
    """The names are those of the list itself."""
    nearest = icd10.nearest_by_name(words)
    assert nearest and (code is None or nearest[0] == code)


def test_what_no_name_is_near_offers_nothing():
    assert icd10.nearest_by_name("scarf on Tuesdays") == ()
    assert icd10.nearest_by_name("") == ()


def test_each_named_code_is_billable():
    assert len(icd10.names()) > 3000
    assert [code for code in icd10.names() if not icd10.billable(code)] == []
