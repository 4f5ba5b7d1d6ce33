"""Every public function of the statistics says where its formula is from and which values it meets."""

from __future__ import annotations

import importlib
import inspect
import re

import pytest
from gathered import of_each
from msgspec import Struct

TOPICS = (
    "special",
    "solve",
    "student",
    "proportion",
    "difference",
    "equal_controls",
    "further_attempts",
    "rate",
    "time",
    "release",
    "stopping",
    "steering",
    "spaces",
    "kendall",
    "trend",
    "rows_of_five",
    "stops_in_a_row",
    "goals",
    "stages",
    "stop_rules",
    "trial_size",
    "trial_order",
)
MODULES = {name: importlib.import_module(f"docgen.evidence.{name}") for name in TOPICS}


def _public(kind):
    return [
        pytest.param(member, id=f"{topic}.{name}")
        for topic, module in MODULES.items()
        for name, member in inspect.getmembers(module, kind)
        if not name.startswith("_") and member.__module__ == module.__name__
    ]


@of_each("function", _public(inspect.isfunction))
def test_a_function_names_its_source_its_check_values_and_its_arguments(function):
    text = inspect.getdoc(function) or ""
    assert "Source:" in text
    assert re.search(r"Check: .*(\d|as )", text, re.S)
    assert text.splitlines()[0].endswith((".", ";", ":"))
    for argument in inspect.signature(function).parameters:
        assert re.search(rf"\b{argument}\b", text), f"{argument} is not explained"


@of_each("result", _public(inspect.isclass))
def test_a_result_is_a_frozen_value_with_slots_and_a_docstring(result):
    assert issubclass(result, Struct)
    assert result.__struct_config__.frozen
    assert not result.__struct_config__.dict
    assert inspect.getdoc(result) and "(" not in inspect.getdoc(result).split(" ")[0]
