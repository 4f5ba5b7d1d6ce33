"""What several tests of the shelf start from: clients held against it, and their trials planned."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import pytest
from clients.made import assessed
from msgspec.structs import replace

from docgen.case.trial_plan import TrialPlan
from docgen.library import match_in, trial_in
from docgen.results import CaseMatch, CaseTrial
from docgen.shelf.client import client_of
from docgen.shelf.match import match
from docgen.shelf.options import options, own_shelf
from docgen.shelf.read import shipped_shelf


@pytest.fixture(scope="session")
def compared(tmp_path_factory) -> Callable[[str], CaseMatch]:
    """The shelf against a client by name, each once."""
    known: dict[str, CaseMatch] = {}

    def of(name: str) -> CaseMatch:
        if name not in known:
            known[name] = match_in(assessed(name, tmp_path_factory.mktemp("client")), shipped_shelf())
        return known[name]

    return of


@pytest.fixture(scope="session")
def planned_with(compared) -> Callable[..., CaseTrial]:
    """The trial of a client by name, with what its plan, its trial and its case hold instead."""

    def of(
        name: str, plan: Mapping[str, Any] | None, of_trial: Mapping[str, Any], of_case: Mapping[str, Any]
    ) -> CaseTrial:
        held = compared(name)
        file = held.assessed.file
        trial = file.case.trial.model_copy(update={**of_trial, **({"plan": TrialPlan(**plan)} if plan else {})})
        case = file.case.model_copy(update={"trial": trial, **of_case})
        return trial_in(replace(held, assessed=replace(held.assessed, file=replace(file, case=case))))

    return of


@pytest.fixture(scope="session")
def planned(planned_with):
    """The trial of a client, with what its plan and its trial hold instead."""
    return lambda name, plan=None, **of_trial: planned_with(name, plan, of_trial, {})


@pytest.fixture(scope="session")
def given(tmp_path_factory):
    """Case, match and options of a client, each once."""
    known = {}

    def of(name, source="own", shelf=None):
        key = (name, source)
        if shelf is not None or key not in known:
            case = assessed(name, tmp_path_factory.mktemp("client"))
            own = shelf or (own_shelf(case.file.case) if source == "own" else shipped_shelf())
            matched = match(client_of(case.file.case), own)
            made = case, matched, options(case.file.case, matched)
            if shelf is not None:
                return made
            known[key] = made
        return known[key]

    return of
