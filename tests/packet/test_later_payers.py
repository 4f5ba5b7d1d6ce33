"""Several payers in their order: the rules of each are asked, each has its cover, and the letter is to the first."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

import docgen
from docgen.cli import app
from docgen.console.check import check_report
from docgen.console.first_page import LINES, first_page
from docgen.criteria.payer import load
from docgen.criteria.starting import asked
from docgen.filling import ask_sheet
from docgen.packet.approval import parts
from docgen.packet.assess import assess, for_later_payers
from docgen.packet.belonging import packet_names
from docgen.packet.recipe import Selection
from docgen.packet.render import rendered
from docgen.packet.wording import wording

FIRST, SECOND = "Fen Road Group Health", "Harbor State Medicaid"
IN_ORDER = f"""
[request.later_payers]
medicaid_under_21 = {{ payer_name = "{SECOND}", member_id = "HSM-77" }}
private_following_medicare = "Saltmarsh Plan"
"""
NAME = "ilmari-okonjo-vale"


@pytest.fixture
def folder(demo) -> Path:
    path = demo(NAME)
    text = (path / "case.toml").read_text(encoding="utf-8")
    (path / "case.toml").write_text(text.replace("\n[client]\n", f"{IN_ORDER}\n[client]\n", 1), encoding="utf-8")
    return path


def test_each_payer_is_asked_by_its_own_rules(folder):
    first = assess(folder)
    second, third = for_later_payers(first)
    assert (second.payer.id, third.payer.id) == ("medicaid_under_21", "private_following_medicare")
    assert second.file.case.client.member_id == "HSM-77"
    assert third.file.case.client.member_id is None, "a number with another payer is not its own"
    asked = {row.id for row in second.payer.requirements} - {row.id for row in third.payer.requirements}
    assert asked & {verdict.requirement.id for verdict in second.verdicts}
    assert not asked & {verdict.requirement.id for verdict in third.verdicts}


def test_what_a_later_payer_wants_besides_does_not_read_as_if_it_held(folder):
    path = folder / "case.toml"
    path.write_text(path.read_text(encoding="utf-8").replace("medicaid_under_21 = {", "medicaid_adult = {"), "utf-8")
    page = " ".join(first_page(check_report(docgen.check_case(folder, reading=False)), "docgen check").split())
    assert "The rules are those for the client's age (not so as recorded)" in page


def test_check_says_what_each_later_payer_wants_besides(folder):
    check = docgen.check_case(folder, reading=False)
    report = check_report(check)
    page = first_page(report, f"docgen check {folder}")
    assert f"Asked second: {SECOND}, by the rules of Medicaid, under 21" in page
    assert "Asked third: Saltmarsh Plan" in page
    assert len(page.splitlines()) <= LINES
    later = [{**payer, "open": []} for payer in report["later_payers"]]
    for blocking, says in ((2, "nothing besides what is open already"), (0, "nothing more to settle")):
        shown = first_page({**report, "later_payers": later, "blocking": blocking}, "docgen check")
        assert says in " ".join(shown.split())
    claims = {verdict.criterion.claim for verdict in check.open}
    assert not claims & {point["claim"] for later in report["later_payers"] for point in later["open"]}


def test_each_payer_has_its_cover_and_the_letter_is_to_the_first(folder):
    files = rendered(assess(folder), Selection(("html",))).files
    covers = {name: data.decode() for name, data in files.items() if name.startswith("cover")}
    assert covers.keys() == {"cover.html", "cover_second.html", "cover_third.html"}
    assert SECOND in covers["cover_second.html"] and "HSM-77" in covers["cover_second.html"]
    assert SECOND not in covers["cover.html"] and "HSM-77" not in covers["cover.html"]
    assert "Saltmarsh Plan" in covers["cover_third.html"] and "HSM-77" not in covers["cover_third.html"]
    assert SECOND not in files["letter.html"].decode()


def test_a_later_cover_is_known_as_a_file_of_the_packet(tmp_path):
    for name in ("cover_second.pdf", "cover_sixth.pdf"):
        (tmp_path / name).touch()
    assert packet_names(tmp_path)[0] == ["cover_second.pdf"]


def test_an_unknown_later_payer_is_told_with_its_line(folder):
    toml = folder / "case.toml"
    toml.write_text(toml.read_text().replace("medicaid_under_21 =", "medicaid_of_nowhere =", 1))
    with pytest.raises(docgen.UserError) as failure:
        check_report(docgen.check_case(folder, reading=False))
    (problem,) = failure.value.problems
    line = next(n for n, text in enumerate(toml.read_text().splitlines(), 1) if "medicaid_of_nowhere" in text)
    assert problem.where.endswith(f"case.toml:{line}") and "medicaid_under_21" in problem.do


def test_a_new_case_holds_its_payers_in_order(tmp_path):
    case = tmp_path / "robin-example"
    payers = ("--payer", "general", "--payer", "medicaid_under_21")
    assert CliRunner().invoke(app, ["new", str(case), *payers]).exit_code == 0
    (later,) = assess(case).file.case.request.later_payers
    assert later.payer == "medicaid_under_21"


def test_a_new_case_asks_what_any_of_its_payers_asks():
    first, second = (load(name, "") for name in ("charity_or_school", "medicare_part_b"))
    alone = asked([first], "new_chair", None).paths
    assert asked([first, second], "new_chair", None).paths > alone
    assert any(path.startswith("order.") for path in asked([first, second], "new_chair", None).paths - alone)


def test_a_change_of_a_later_payers_rules_ends_an_approval(folder):
    kept = parts(assess(folder), wording())
    assert {"rules of the second payer", "rules of the third payer"} <= kept.keys()
    toml = folder / "case.toml"
    toml.write_text(toml.read_text().replace("medicaid_under_21 =", "medicaid_adult =", 1))
    assert parts(assess(folder), wording())["rules of the second payer"] != kept["rules of the second payer"]


def test_what_a_later_payer_is_asked_is_no_question_to_the_first(folder, tmp_path):
    toml, asked_first = folder / "case.toml", assess(folder).file.case.request.payer_name
    asked = "".join(
        f'[[awaited]]\nid = "{name}"\nwhat = "whether it covers {name}"\nof = "payer"\n{whom}\n'
        for name, whom in (("tilt", ""), ("adults", f'whom = "{SECOND}"\n'), ("trays", f'whom = "{asked_first}"\n'))
    )
    toml.write_text(toml.read_text().replace("[request]\n", f"{asked}[request]\n", 1))
    sheets = {path.name: path.read_text() for path in ask_sheet(folder, "payer", tmp_path, ["html"])}
    assert sheets.keys() == {"ask-payer.html", "ask-payer-harbor-state-medicaid.html"}
    first, second = sheets["ask-payer.html"], sheets["ask-payer-harbor-state-medicaid.html"]
    assert [name in first for name in ("tilt", "adults", "trays", SECOND)] == [True, False, True, False]
    assert [name in second for name in ("covers tilt", "adults", "trays", SECOND)] == [False, True, False, True]
