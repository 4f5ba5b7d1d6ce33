"""`docgen decision`: the payer's answer as keys of the case, shown before they are written, and what then uses them."""

import pytest
from filled import command

from docgen.case.read import read_case
from docgen.criteria.calendar import calendar
from docgen.packet.assess import assess
from docgen.packet.trees import trees

ANSELM = "anselm-kirawira-boone"
DENIED = (
    *("--outcome", "partly", "--on", "2026-06-01", "--number", "D-77", "--deadline", "2026-07-01", "--yes"),
    *("--reason", "Tilt is not medically necessary.", "--reason", 'No trial of a "simple" device was made.'),
    *("--line", "chair=authorized, 1 each", "--until", "2026-12-01"),
)


def test_a_denial_is_written_where_order_calendar_and_appeal_read_it(demo):
    copied = demo(ANSELM)
    before = (copied / "case.toml").read_text()
    done = command("decision", copied, *DENIED)
    assert done.exit_code == 0 and 'says = "Tilt is not medically necessary."' in done.output
    case = read_case(copied).case
    assert (case.authorization.decision, case.authorization.tracking) == ("partly", "D-77")
    assert [reason.says for reason in case.denial.reasons] == [DENIED[10], DENIED[12]]
    assert case.configuration.chair.payer_says == "authorized, 1 each"
    assert [line for line in before.splitlines() if line not in (copied / "case.toml").read_text().splitlines()] == []
    assessed = assess(copied)
    days = {entry.what: entry.on.isoformat() for entry in calendar(case, assessed.payer, assessed.verdicts)}
    assert days["last day of the authorization, by which the chair is delivered"] == "2026-12-01"
    assert days["last day for the appeal of the denial of June 1, 2026"] == "2026-07-01"
    appeal = trees(assessed, ("appeal",))["appeal"].plain()
    assert "Tilt is not medically necessary." in appeal and 'No trial of a "simple" device was made.' in appeal


def test_an_authorization_has_its_number_and_its_days(demo):
    copied = demo(ANSELM)
    dates = read_case(copied).case.dates  # the order tells what was known on its own day
    words = ("--outcome", "affirmed", "--on", dates.written_on, "--number", "A-1", "--from", "2026-06-02", "--yes")
    assert command("decision", copied, *words, "--until", "2026-12-01").exit_code == 0
    order = trees(assess(copied), ("order",))["order"].plain()
    assert "number A-1, from June 2, 2026, until December 1, 2026" in order


def test_what_is_asked_for_holds_the_request_until_it_is_answered(demo):
    copied = demo(ANSELM)
    words = ("--outcome", "more_information", "--on", "2026-06-01", "--asks", "the raw rows of the trial", "--yes")
    assert command("decision", copied, *words).exit_code == 0
    case = read_case(copied).case
    assert [(entry.what, entry.of) for entry in case.awaited] == [("the raw rows of the trial", "therapist")]
    assert case.authorization.decision is None
    assert "the raw rows of the trial" in command("check", copied, "--all").output


def test_what_is_recorded_stays_and_nothing_is_written_unasked(demo):
    copied = demo(ANSELM)
    text = (copied / "case.toml").read_text()
    unasked = command("decision", copied, "--outcome", "affirmed", "--on", "2026-06-01")
    assert "Nothing was written." in unasked.output and (copied / "case.toml").read_text() == text
    assert command("decision", copied, *DENIED).exit_code == 0
    text = (copied / "case.toml").read_text()
    again = command("decision", copied, "--outcome", "affirmed", "--on", "2026-06-02", "--number", "A-9", "--yes")
    assert again.exit_code == 2 and "a decision is recorded already" in again.output
    assert command("decision", copied, *DENIED).exit_code == 2  # two answers are never mixed
    assert (copied / "case.toml").read_text() == text


def test_what_is_asked_for_again_has_a_name_of_its_own(demo):
    copied = demo(ANSELM)
    for asked in ("rows", "a video"):
        words = ("--outcome", "more_information", "--on", "2026-06-01", "--asks", asked, "--yes")
        assert command("decision", copied, *words).exit_code == 0
    assert [entry.id for entry in read_case(copied).case.awaited] == ["payer_1", "payer_2"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "--on: is missing"),
        (("--on", "yesterday", "--outcome", "affirmed"), "'yesterday' is not a day"),
        (("--on", "2026-06-01", "--outcome", "affirmd"), "Did you mean 'affirmed'?"),
        (("--on", "2026-06-01", "--outcome", "not_affirmed"), "a denial is answered reason by reason"),
        (("--on", "2026-06-01", "--outcome", "affirmed", "--line", "chiar=yes"), "Did you mean 'chair'?"),
        (("--on", "2026-06-01", "--outcome", "affirmed", "--line", "chair"), "Write it as ITEM=WORDS"),
        (("--on", "2026-06-01", "--outcome", "affirmed", "--reason", "No."), "--reason: has no place"),
        (("--on", "2026-06-01", "--outcome", "more_information"), "--asks: is missing"),
        (("--on", "2026-06-01", "--outcome", "more_information", "--asks", " "), "--asks: is missing"),
        (("--on", "2026-06-01", "--outcome", "affirmed", "--until", "2026-05-01"), "--until: is 2026-05-01, before"),
    ],
)
def test_a_mistake_is_one_sentence(demo, words, told):
    done = command("decision", demo(ANSELM), *words)
    assert done.exit_code == 2 and told in done.output


def test_at_a_terminal_what_is_not_given_is_asked(demo, monkeypatch):
    import io
    import sys

    from typer.testing import CliRunner

    from docgen.cli import app

    class Terminal(io.BytesIO):
        def isatty(self) -> bool:
            return True

    copied = demo(ANSELM)
    monkeypatch.setattr("docgen.commands.request.sys", type("Sys", (), {"stdin": Terminal(), "stderr": sys.stderr}))
    typed = "not_affirmed\n2026-06-01\nD-1\nToo heavy.\n\n2026-07-01\ny\n"
    done = CliRunner().invoke(app, ["decision", str(copied)], input=typed)
    assert done.exit_code == 0, done.output
    denial = read_case(copied).case.denial
    assert (denial.reference, [reason.says for reason in denial.reasons]) == ("D-1", ["Too heavy."])
    assert denial.deadline_on is not None
