"""The ten invented clients against the shelf that comes with the program, as worked out by hand before it was held."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from clients.made import assessed
from clients.test_clients import TEN

from docgen.shelf.client import client_of
from docgen.shelf.match import match
from docgen.shelf.read import shipped_shelf

HERE = Path(__file__).parent
EXPECTED = tomllib.loads((HERE / "expected.toml").read_text(encoding="utf-8"))
DIFFERENCES = tomllib.loads((HERE / "differences.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def matched(tmp_path_factory):
    """The match of a client, by name, each once."""
    known = {}

    def of(name):
        if name not in known:
            case = assessed(name, tmp_path_factory.mktemp("client")).file.case
            known[name] = match(client_of(case), shipped_shelf())
        return known[name]

    return of


def _expected_stages(name: str) -> dict[str, str]:
    expected = EXPECTED[name]
    stages = dict.fromkeys(expected["harm"], "harm") | dict.fromkeys(expected["no_movement"], "movement")
    stages |= dict.fromkeys(expected.get("harm_unknown", ()), "harm_unknown")
    return stages | {device: "layered" for layer in expected["layers"] for device in layer}


@pytest.mark.parametrize("name", TEN)
def test_what_is_set_apart_is_what_the_table_of_features_sets_apart(matched, name):
    stages = {device: judged.stage for device, judged in matched(name).devices.items()}
    told = DIFFERENCES.get(name, {"stage": {}})["stage"]
    assert stages == _expected_stages(name) | told
    assert all(_expected_stages(name)[device] != stage for device, stage in told.items())


@pytest.mark.parametrize("name", TEN)
def test_layers_and_what_is_open(matched, name):
    result, expected = matched(name), EXPECTED[name]
    layers = DIFFERENCES.get(name, {}).get("layers", expected["layers"])
    assert [sorted(layer) for layer in result.layers_if_good] == [sorted(layer) for layer in layers]
    assert set(result.may_lead) - set(result.leads) == set(expected["could_lead"])


@pytest.mark.parametrize("name", TEN)
def test_the_reason_of_each_harm_is_a_row_that_was_expected(matched, name):
    result = matched(name)
    for device, reason in EXPECTED[name]["harm"].items():
        rows = {
            (harm.feature or result.devices[device].device.kind, harm.finding)
            for harm in result.devices[device].best.harms
        }
        assert any(feature in reason and str(finding) in reason for feature, finding in rows), (device, rows)


def test_nothing_on_the_shelf_drives_from_a_foot_that_only_presses(matched):
    result = matched("koa-fennimore-diallo")
    assert result.layers == () and result.open_needs == ("foot_ungraded",)


def test_only_what_could_change_who_stands_first_is_asked(matched):
    questions = {name: dict(matched(name).questions) for name in TEN}
    assert {name: asked for name, asked in questions.items() if asked} == {
        "dunja-achterberg-rao": {"chin_stick": ("external_device_control", "mode_switch")}
    }
