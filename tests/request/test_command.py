"""`docgen fhir`: what is written, when, and what keeps it from being written."""

import json

import pytest
from filled import command, with_submission
from validator import Verdict

from docgen.case.read import read_case

ILMARI, BOHDAN = "ilmari-okonjo-vale", "bohdan-lacroix-mbeki"


@pytest.fixture(scope="module")
def approved(tmp_path_factory):
    """A copy of a demo with its approval anew and a whole submission, and the folder of its packet."""
    import shutil

    from docgen.resources import folder

    root = tmp_path_factory.mktemp("approved")
    case = shutil.copytree(folder("cases") / ILMARI, root / ILMARI)
    with_submission(case, read_case(case))
    reviewer = "Perpetua Lindqvist-Amadi, OTR/L"
    assert command("approve", str(case), "--by", reviewer, "--on", "2026-04-20").exit_code == 0
    assert command("build", str(case), "--out", str(root / "out"), "--formats", "pdf").exit_code == 0
    return case, root / "out"


def _fhir(case, out, *more):
    return command("fhir", str(case), "--out", str(out), *more)


def test_an_approved_case_is_written_whole_with_its_packet(approved):
    case, out = approved
    done = _fhir(case, out)
    path = out / ILMARI / "request.fhir.json"
    assert done == (0, f"Wrote {path}\n")
    first = path.read_bytes()
    bundle = json.loads(first)
    assert not Verdict(bundle, "2.2.1").errors
    import base64

    documents = [e["resource"] for e in bundle["entry"] if e["resource"]["resourceType"] == "DocumentReference"]
    sent = base64.b64decode(documents[0]["content"][0]["attachment"]["data"])
    assert sent == (out / ILMARI / "packet.pdf").read_bytes() and sent.startswith(b"%PDF")
    assert len(documents) == 1
    assert _fhir(case, out).exit_code == 0 and path.read_bytes() == first
    entry = {e["name"]: e for e in json.loads((out / ILMARI / "manifest.json").read_text())["files"]}
    assert entry["request.fhir.json"]["verdict"] == "approved"
    assert command("build", str(case), "--out", str(out), "--formats", "pdf").output.count("unchanged") == 1
    assert path.read_bytes() == first


def test_the_other_version_takes_its_place(approved):
    case, out = approved
    assert _fhir(case, out, "--pas", "2.0.1").exit_code == 0
    assert not Verdict(json.loads((out / ILMARI / "request.fhir.json").read_text()), "2.0.1").errors
    assert _fhir(case, out).exit_code == 0
    assert _fhir(case, out, "--pas", "3.0").exit_code == 2


def test_a_draft_stands_under_another_name_and_says_so(approved):
    case, out = approved
    done = _fhir(case, out, "--draft")
    path = out / ILMARI / "request_draft_not_to_send.fhir.json"
    assert done.exit_code == 0 and "It is a draft" in done.output
    bundle = json.loads(path.read_text())
    assert bundle["entry"][0]["resource"]["status"] == "draft" and Verdict(bundle, "2.2.1").errors


def test_a_request_changed_by_hand_is_not_overwritten(approved):
    case, out = approved
    assert _fhir(case, out).exit_code == 0
    path = out / ILMARI / "request.fhir.json"
    path.write_text("{}")
    assert f"Wrote {out / ILMARI / 'request.fhir.new.json'}" in _fhir(case, out).output
    assert path.read_text() == "{}"


def test_another_case_after_approval_is_refused_and_the_next_build_takes_the_request_away(approved, tmp_path):
    import shutil

    case = shutil.copytree(approved[0], tmp_path / ILMARI)
    out = shutil.copytree(approved[1], tmp_path / "out")
    (out / ILMARI / "request.fhir.json").unlink(missing_ok=True)
    assert _fhir(case, out).exit_code == 0
    toml = case / "case.toml"
    toml.write_text(toml.read_text().replace("weight_kg = 24.5", "weight_kg = 24.6"))
    refused = _fhir(case, out)
    assert refused.exit_code == 1
    assert (
        "changed since: client" in refused.output and "packet.pdf: is not there as the approved case" in refused.output
    )
    assert command("build", str(case), "--out", str(out), "--only", "cover", "--formats", "html").exit_code == 1
    assert not (out / ILMARI / "request.fhir.json").exists()


def test_what_blocks_and_what_is_missing_are_told_and_nothing_is_written(demo, tmp_path):
    case = demo(BOHDAN)
    refused = _fhir(case, tmp_path / "out")
    assert refused.exit_code == 1 and not (tmp_path / "out").exists()
    for told in ("nobody has approved this case", "missing: the client's family name", "who signed the order"):
        assert told in refused.output
    (case / "submission.toml").write_text("x = 1")
    broken = _fhir(case, tmp_path / "out")
    assert broken.exit_code == 2 and "submission.toml:1" in broken.output


def test_a_payer_outside_the_rule_is_told_of_and_not_refused(demo, tmp_path):
    noted = _fhir(demo(BOHDAN), tmp_path / "out", "--payer", "medicare_part_b")
    assert "Note: CMS-0057-F does not bind traditional Medicare" in noted.output


def test_a_packet_that_holds_what_is_not_for_the_payer_is_not_sent(approved, tmp_path):
    """The guide names caregivers and their phones."""
    case, out = approved[0], tmp_path / "out"
    words = ("--out", out, "--formats", "pdf", "--enclose", "guide")
    assert command("build", case, *words).exit_code == 0
    refused = _fhir(case, out)
    assert refused.exit_code == 1 and "packet.pdf: holds what is not for the payer: guide" in refused.output
    assert not (out / ILMARI / "request.fhir.json").exists()
    assert command("build", case, "--out", out, "--formats", "pdf").exit_code == 0
    assert _fhir(case, out).exit_code == 0
    (case / "submission.toml").rename(tmp_path / "kept.toml")
    left = _fhir(case, out)
    (tmp_path / "kept.toml").rename(case / "submission.toml")
    assert left.exit_code == 1 and "is of an earlier state: do not send it" in left.output
    assert "submission.toml: is not there yet. Start it: docgen new" in left.output
