"""Who needs a weight shift, and which controls move the seat."""

from __future__ import annotations

import pytest
from gathered import of_each

from cases import case_of, where
from docgen.fit.match import fit
from docgen.fit.seat import moves_by_drive, needs_shift


@of_each(
    ("findings", "tables", "needed"),
    [
        (["pressure_risk"], {}, True),
        (["neck_pain", "pressure_risk"], {}, True),
        (["neck_pain"], {}, False),
        ([], {"diagnoses": ({"code": "L89.153", "name": "pressure ulcer"},)}, True),
        ([], {"diagnoses": ({"code": "G80.3", "name": "cerebral palsy"},)}, False),
        ([], {}, False),
    ],
)
def test_a_finding_or_a_condition_says_that_the_load_must_be_taken_off(findings, tables, needed):
    assert needs_shift(case_of(findings, **tables)) is needed


@pytest.mark.parametrize(
    ("asked", "tables", "moves"),
    [
        (["seat_functions_by_drive_input"], {}, True),
        (["head_array"], {}, False),
        ([], {"sitting": {"commands": ({"moves": "the seat goes back", "input": "head back"},)}}, True),
        ([], {"configuration": {"commands": ({"does": "seat", "input": "head back twice"},)}}, True),
        ([], {"configuration": {"commands": ({"does": "back", "input": "head back"},)}}, False),
    ],
)
def test_the_drive_control_moves_the_seat_by_a_feature_or_a_command(asked, tables, moves):
    case = case_of([], asked, **tables)
    assert moves_by_drive(case, fit(case, where)) is moves
