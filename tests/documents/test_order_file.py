"""order.json: the order as data, what the order shows and no more; its schema and those of the other files.

Outside: jsonschema (draft 2020-12) holds each file to its published schema.
"""

import csv
import io
import json

import pytest
from jsonschema import Draft202012Validator
from support import ASSESSED, DEMOS, run

from docgen.documents.order_file import order_file, order_schema
from docgen.packet.trees import tables
from docgen.packet.wording import in_locale, wording


@pytest.fixture(scope="module", params=DEMOS)
def data(request):
    assessed = ASSESSED[request.param]
    worded = in_locale(wording(), assessed.payer.locale)
    laid_out, order = tables(assessed, worded), worded.documents["order"]
    return assessed.file.case, laid_out, order, json.loads(order_file(laid_out, order.shows, order.may_see, "Draft"))


def test_it_is_as_its_schema_says(data):
    assert not [*Draft202012Validator(order_schema()).iter_errors(data[3])]


def test_it_holds_the_lines_parts_and_settings_of_the_order(data):
    case, laid_out, _, content = data
    assert [line["code"] for line in content["lines"]] == [row["code"] for row in laid_out["order_lines"]]
    assert [part["part"] for part in content["mounting"]] == [mount.part for mount in case.configuration.mounting]
    assert [part["gap_mm"] for part in content["mounting"]] == [mount.gap_mm for mount in case.configuration.mounting]
    assert {setting["name"] for setting in content["settings"]} == {row["name"] for row in laid_out["parameters"]}
    assert content["status"] == "Draft"


def test_a_key_that_the_order_does_not_show_is_in_no_file(data):
    _, laid_out, order, _ = data
    less = dict(order.shows) | {"order_lines": ("number", "code")}
    less.pop("mounting")
    content = json.loads(order_file(laid_out, less, order.may_see, ""))
    assert {key for line in content["lines"] for key in line} == {"number", "code"}
    assert "mounting" not in content
    assert order_file(laid_out, {}, order.may_see, "") == b""


def test_it_stands_beside_the_order_with_the_same_lines(tmp_path):
    name = "ilmari-okonjo-vale"
    from docgen.resources import folder

    run("build", folder("cases") / name, "--out", tmp_path, "--only", "order", "--formats", "html")
    content = json.loads((tmp_path / name / "order.json").read_text())
    rows = [*csv.DictReader(io.StringIO((tmp_path / name / "lines.csv").read_text(encoding="utf-8")))]
    assert rows and [line["code"] for line in content["lines"]] == [row["Code"] for row in rows]
    manifest = json.loads((tmp_path / name / "manifest.json").read_text())
    schema = json.loads(run("schema", "--of", "manifest")[1])
    assert not [*Draft202012Validator(schema).iter_errors(manifest)]


@pytest.mark.parametrize("name", ["case", "trial", "totals", "sessions", "submission", "order", "manifest"])
def test_each_schema_is_one(name):
    status, told, _ = run("schema", "--of", name)
    Draft202012Validator.check_schema(json.loads(told))
    assert status == 0


def test_a_schema_that_there_is_not_is_told():
    status, _, errors = run("schema", "--of", "trail")
    assert status == 2 and "Did you mean 'trial'?" in errors
