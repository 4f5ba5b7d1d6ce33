"""submission.toml: what it takes, what it refuses with its place, how it is started."""

import json

import pytest
from filled import command, filled
from support import DEMOS

from docgen.case.read import read_case
from docgen.errors import UserError
from docgen.request.prepare import lacking
from docgen.request.starter import new_submission
from docgen.request.submission import read_submission
from docgen.resources import folder

ILMARI = "ilmari-okonjo-vale"
HEAD = 'format = "docgen submission 1"\n'


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("", 1, "format is missing. Write format = "),
        ('format = "docgen submission 2"', 1, '"docgen submission 1"'),
        (HEAD + "[request]\nprioritty = 1", 3, "Did you mean 'priority'?"),
        (HEAD + '[request]\npriority = "soon"', 3, '"normal" or "stat"'),
        (HEAD + '[request]\nplace_of_service = "home"', 3, 'Write it as "12"'),
        (HEAD + '[client]\ngender = "f"', 3, '"female" or "male" or "other" or "unknown"'),
        (HEAD + '[client]\ngiven = "Jo"', 3, '["Robin"]'),
        (HEAD + '[client.address]\npostal_code = "9"', 3, '"90001-0001"'),
        (HEAD + '[coverage]\nmember_system = "ours"', 3, "https://payer.example/members"),
        (HEAD + '[coverage]\npayer_id_kind = "naic"\npayer_id = "1"', 4, "is no NAIC code of five digits"),
        (HEAD + '[coverage]\npayer_id_kind = "npi"\npayer_id = "1234567890"', 4, "is no NPI whose last digit checks"),
        (HEAD + '[x12]\nrequest_type = "long one"', 3, "x12.request_type is 'long one'"),
        (HEAD + '[[people]]\nnpi = "1234567893"', 2, "people.id is missing"),
        (HEAD + '[[people]]\nid = "doctor"\nnpi = "1234567890"', 4, "is no NPI: its last digit does not check"),
        (HEAD + '[[people]]\nid = "a"\n[[people]]\nid = "a"', 5, "'a' is there twice"),
        (HEAD + "[request\n", 2, "is not valid TOML"),
        (HEAD + "people = 3\n", 2, "people"),
    ],
)
def test_a_mistake_is_told_with_its_line_and_the_form_that_it_takes(tmp_path, text, line, says):
    (tmp_path / "submission.toml").write_text(text)
    with pytest.raises(UserError) as refused:
        read_submission(tmp_path)
    problem = refused.value.problems[0]
    assert problem.where.endswith(f"submission.toml:{line}")
    assert says in str(problem)


def test_a_link_that_leads_out_is_not_followed(tmp_path):
    (tmp_path / "elsewhere.toml").write_text(HEAD)
    case = tmp_path / "case"
    case.mkdir()
    (case / "submission.toml").symlink_to(tmp_path / "elsewhere.toml")
    with pytest.raises(UserError, match="leads out of the case folder"):
        read_submission(case)


@pytest.mark.parametrize("name", DEMOS)
def test_a_new_one_is_read_and_lacks_what_none_would(name, demo):
    copied = demo(name)
    before = [str(gap.what) for gap in lacking(copied)]
    (copied / "submission.toml").write_text(new_submission(read_case(copied)))
    assert before[0] == "is not there yet"
    assert sorted(str(gap.what) for gap in lacking(copied)) == sorted(before[1:])


def test_a_new_one_holds_every_key_and_no_value_but_ids():
    lines = new_submission(read_case(folder("cases") / ILMARI)).splitlines()
    written = [line for line in lines if line and not line.startswith(("#", "["))]
    assert written == [HEAD.strip(), 'id = "doctor"', 'id = "therapist"', 'id = "supplier"']
    keys = {line.split()[1] for line in lines if line.startswith("# ") and " = " in line}
    asked = {line.split()[0] for line in filled(read_case(folder("cases") / ILMARI)).splitlines() if " = " in line}
    assert asked - {"format", "id"} <= keys and {"item", "category"} <= keys


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ('[[x12.lines]]\nitem = "head_aray"\ncategory = "1"', "'head_aray' is no line that is billed. Did you mean"),
        ('[[people]]\nid = "docter"', "'docter' is nobody in [people] of the case. Did you mean 'doctor'?"),
    ],
)
def test_a_line_or_a_person_that_the_case_has_not_is_told(demo, more, told):
    copied = demo(ILMARI)
    (copied / "submission.toml").write_text(filled(read_case(copied)) + more)
    assert any(told in str(gap) for gap in lacking(copied))


def test_who_asks_is_a_supplier(demo):
    copied = demo(ILMARI)
    (copied / "submission.toml").write_text(filled(read_case(copied), request__by='"therapist"'))
    assert any("is the evaluator of the case, and a supplier asks" in str(gap) for gap in lacking(copied))


def test_the_commands_start_it_once_and_list_what_it_lacks(demo):
    copied = demo(ILMARI)
    assert command("new", str(copied), "--submission").exit_code == 0
    again = command("new", str(copied), "--submission")
    assert again.exit_code == 2 and "is already there" in again.output
    asked = command("check", str(copied), "--for", "biller")
    assert asked.exit_code == 1 and "18 to fill in" in asked.output
    as_data = command("check", str(copied), "--for", "biller", "--json")
    told = json.loads(as_data.output)
    (case,) = told["cases"]
    assert as_data.exit_code == 1 and (told["format"], told["for"]) == ("docgen asked 1", "biller")
    assert len(case["points"]) == 18
    assert all(point["what"] in asked.output and point["do"] in asked.output for point in case["points"])
    (copied / "submission.toml").write_text(filled(read_case(copied)))
    done = command("check", str(copied), "--for", "biller")
    assert done == (0, f"{ILMARI}: all is there\n")
    (copied / "submission.toml").write_text("x = 1")
    assert command("check", str(copied), "--for", "biller").exit_code == 2
