"""`import docgen`: light, typed, the same answers as the commands, and errors that say where."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from datetime import date
from inspect import signature
from pathlib import Path
from types import SimpleNamespace

import pytest
from library import typed_use
from support import DEMO_FOLDERS, NOT_REVIEWED, run

import docgen
from docgen import building, library

READY, DRAFT = (
    next(folder for folder in DEMO_FOLDERS if folder.name.startswith(name)) for name in ("ilmari", "anselm")
)
REVIEWER = "Perpetua Lindqvist-Amadi, OTR/L"


@pytest.fixture
def ready(tmp_path) -> Path:
    return Path(shutil.copytree(READY, tmp_path / READY.name, ignore=NOT_REVIEWED))


def test_importing_it_loads_nothing_of_the_program():
    script = "import sys, docgen; print([n for n in sys.modules if n.startswith('docgen.')], docgen.__version__)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == f"[] {docgen.__version__}"


def test_every_name_it_offers_is_there_and_hides_no_package():
    offered = {name: module for module in (library, building) for name in module.__all__}
    assert docgen.__all__ == sorted(offered) and set(docgen.__all__) <= set(dir(docgen))
    package = Path(docgen.__file__).parent
    for name in docgen.__all__:
        assert getattr(docgen, name) is getattr(offered[name], name)
        assert not (package / name).exists() and not (package / f"{name}.py").exists()
    with pytest.raises(AttributeError, match="has no attribute 'check_cases'"):
        docgen.check_cases  # noqa: B018


def test_every_function_documents_what_it_raises():
    functions = [getattr(docgen, name) for name in docgen.__all__ if name[0].islower()]
    assert len(functions) >= 6
    assert [f.__name__ for f in functions if "UserError" not in f.__doc__] == []


@pytest.mark.parametrize("path", [DRAFT, str(DRAFT), DRAFT / "case.toml"], ids=["Path", "str", "case.toml"])
def test_check_case_answers_as_the_command(path):
    check = docgen.check_case(path, today=date(2026, 3, 31))
    told = json.loads(run("check", DRAFT, "--today", "2026-03-31", "--json")[1])
    assert not check.ready and len(check.open) == told["blocking"] == 3
    assert [v.requirement.id for v in check.verdicts] == [finding["id"] for finding in told["findings"]]
    assert [step.kind for step in check.steps] == [step["kind"] for step in told["shortest"]]
    assert [str(entry.on) for entry in check.calendar] == [entry["on"] for entry in told["calendar"]]


def test_check_case_asks_another_payers_rules():
    check = docgen.check_case(DRAFT, payer="charity_or_school", reading=False)
    assert check.payer.id == "charity_or_school" and check.guide is None
    assert len(check.open) == json.loads(run("check", DRAFT, "--payer", "charity_or_school", "--json")[1])["blocking"]


def test_evidence_and_fit_answer_as_the_commands():
    evidence, told = docgen.evidence_of(DRAFT), json.loads(run("evidence", DRAFT, "--json")[1])
    assert [fact.id for fact in evidence.facts] == [fact["id"] for fact in told["facts"]]
    assert typed_use.intervals(str(DRAFT)).keys() == {f["id"] for f in told["facts"] if f.get("low") is not None}
    fit, told = docgen.fit_of(str(DRAFT)), json.loads(run("fit", DRAFT, "--json")[1])
    assert [one.alternative.id for one in fit.alternatives] == [one["id"] for one in told["alternatives"]]
    preferred = [one["id"] for one in told["alternatives"] if one["preferred"]]
    assert typed_use.simpler_devices(DRAFT) == preferred != []


def test_build_packet_writes_what_the_command_writes(ready, tmp_path):
    letter = typed_use.letter_of(str(ready), str(tmp_path / "library"))
    assert run("build", ready, "--out", tmp_path / "command", "--formats", "pdf", "--only", "letter")[0] == 0
    assert letter.read_bytes() == (tmp_path / "command" / ready.name / "letter.pdf").read_bytes()
    again = docgen.build_packet(ready, tmp_path / "library", formats=["pdf"], only=["letter"])
    assert again.unchanged and again.state == "ready for review" and again.verdict == "ready"


def test_build_packet_tells_what_a_copy_about_nobody_is_not(ready, tmp_path):
    packet = docgen.build_packet(ready, tmp_path, formats=["html"], only=["guide"], deidentified=True)
    assert packet.remarks[-1].startswith("This is no legal de-identification")


def test_build_packets_tells_of_each_in_order(ready, tmp_path):
    (tmp_path / "broken").mkdir()
    (tmp_path / "broken" / "case.toml").write_text("id = ", encoding="utf-8")
    outcomes = list(
        docgen.build_packets([tmp_path / "broken", ready], tmp_path / "out", formats=["html"], only=["letter"])
    )
    assert [outcome.packet is None for outcome in outcomes] == [True, False]
    assert str(outcomes[0].problems[0]).startswith(f"{tmp_path / 'broken' / 'case.toml'}:1")


def test_build_packet_asks_of_one_case_what_build_packets_asks_of_many(monkeypatch, tmp_path):
    """The two write their options out, so that each tells what it takes; no option of one is lost on the way."""
    of_one, of_many = (
        {name: option for name, option in signature(build).parameters.items() if option.kind is option.KEYWORD_ONLY}
        for build in (building.build_packet, building.build_packets)
    )
    assert of_one == {name: option for name, option in of_many.items() if name not in ("jobs", "cluster")}
    asked, packet = {name: object() for name in of_one}, object()

    def recorded(folders, out, **options):
        assert (folders, out, options) == ([READY], tmp_path, asked)
        yield SimpleNamespace(packet=packet)

    monkeypatch.setattr(building, "build_packets", recorded)
    assert building.build_packet(READY, tmp_path, **asked) is packet


def test_approve_case_records_a_review_and_refuses_a_draft(ready):
    assert typed_use.approved_by(DRAFT, "Jo Example, OTR/L") == "3 points are open"
    assert not (DRAFT / "approval.toml").exists()
    assert typed_use.claims_open(DRAFT) and not typed_use.claims_open(ready)
    assert typed_use.approved_by(ready, REVIEWER) == f"{REVIEWER}, {date.today()}"
    review = docgen.check_case(ready).review
    assert review is not None and review.stands and review.by == REVIEWER


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda tmp: docgen.check_case(tmp), "is neither a case folder nor a folder of case folders"),
        (lambda tmp: docgen.evidence_of(str(DRAFT.parent)), f"holds {len(DEMO_FOLDERS)} cases"),
        (lambda tmp: docgen.fit_of(tmp / "nothing"), "is neither a case folder"),
        (lambda tmp: docgen.check_case(DRAFT, payer="nobody"), "unknown payer 'nobody'"),
        (lambda tmp: docgen.check_case(DRAFT, templates=tmp / "none"), "is no folder of templates"),
        (lambda tmp: docgen.build_packet(DRAFT, tmp, formats=["doc"]), "'doc' is not known"),
        (lambda tmp: docgen.build_packet(DRAFT, tmp, only=["leter"]), "Did you mean 'letter'"),
        (
            lambda tmp: docgen.build_packet(DRAFT, tmp, letterhead=tmp, deidentified=True),
            "--letterhead: names the clinic",
        ),
        (
            lambda tmp: docgen.approve_case(DRAFT, "Jo Example, OTR/L", date(1900, 1, 1)),
            "cannot be the day of a review",
        ),
    ],
)
def test_what_a_user_can_mend_is_a_user_error(call, words, tmp_path):
    with pytest.raises(docgen.UserError, match="(?s).*" + words.replace("(", r"\(")) as failure:
        call(tmp_path)
    assert isinstance(failure.value.problems[0], docgen.Problem)
    assert not any(tmp_path.iterdir())


def test_the_command_prints_the_version():
    assert run("--version") == (0, f"docgen {docgen.__version__}\n", "")


def test_its_types_are_told_to_other_programs():
    assert (Path(docgen.__file__).parent / "py.typed").read_bytes() == b""
