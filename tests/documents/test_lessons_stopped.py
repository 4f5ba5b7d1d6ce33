"""After a stop rule that nobody has cleared no lesson is planned: the plan, the sheets, the calendar and the report all
say so."""

from __future__ import annotations

import shutil
from datetime import date

import pytest
from gathered import of_each
from support import DEMO_FOLDERS, assess

from docgen.case.read import read_case
from docgen.case.session import SessionRow
from docgen.documents.events import calendar_file, events
from docgen.evidence.training import stops_standing
from docgen.fit.schedule import sessions
from docgen.packet.trees import trees
from docgen.packet.wording import language_words

SAOIRSE = next(folder for folder in DEMO_FOLDERS if folder.name == "saoirse-villalobos-ng")
CASE = read_case(SAOIRSE).case
KEY = "0f" * 16
WORDS = language_words()
LAST = {"line": 10_000, "date": date(2026, 10, 12), "stage": 7, "task": "archive_yard", "success": False}


def after(**columns):
    """The demo with one more try."""
    return CASE.with_sessions((*CASE.sessions, SessionRow(**LAST | columns)))


@of_each(
    "columns, kinds",
    [
        ({}, []),
        ({"injury": True}, ["injury"]),
        ({"person_contacts": 1}, ["person_contact"]),
        ({"pain_before": 1, "pain_after": 5}, ["pain"]),
        ({"skin": True}, ["skin"]),
        ({"injury": True, "cleared_by": "E. Strand-Whitlock, October 12"}, []),
    ],
)
def test_no_lesson_has_a_day_while_a_stop_rule_stands(columns, kinds):
    case = after(**columns)
    assert [met.kind for met in stops_standing(case)] == kinds
    assert (sessions(case) == ()) is bool(kinds)
    summaries = [event.summary for event in events(case, WORDS, KEY)]
    assert (WORDS["calendar"]["session"] in summaries) is not bool(kinds)
    # the follow-up due in January 2027 stays in the file either way
    assert (
        sum(summary != WORDS["calendar"]["session"] for summary in summaries) == 1
        and calendar_file(case, WORDS, KEY) is not None
    )


def test_driving_on_clears_nothing():
    hurt = after(injury=True)
    on = hurt.with_sessions(
        (*hurt.sessions, SessionRow(line=10_001, date=date(2026, 10, 14), stage=7, task="archive_yard", success=True))
    )
    assert [met.kind for met in stops_standing(on)] == ["injury"] and sessions(on) == ()


@pytest.fixture(scope="module", params=["", "E. Strand-Whitlock"], ids=["nobody", "cleared"])
def told(request, tmp_path_factory):
    """Who cleared it, and the documents of the demo with someone hurt in the last row."""
    target = shutil.copytree(SAOIRSE, tmp_path_factory.mktemp("hurt") / SAOIRSE.name)
    path = target / "sessions.csv"
    text = path.read_text(encoding="utf-8").rstrip("\n")
    names, last = text.split("\n")[0].split(","), text.split("\n")[-1].split(",")
    last[names.index("injury")], last[names.index("cleared_by")] = "1", request.param
    path.write_text("\n".join([*text.split("\n")[:-1], ",".join(last), ""]), encoding="utf-8")
    return bool(request.param), {
        name: tree.plain() for name, tree in trees(assess(target), ["plan", "lesson", "progress"]).items()
    }


def test_plan_sheets_and_report_name_the_rule_and_who_must_clear_it(told):
    cleared, made = told
    for name, follows in (("plan", "Where Saoirse is now"), ("lesson", "Beside the chair")):
        opening = made[name].partition(follows)[0]
        assert ("No session until Emeka Strand-Whitlock has cleared this" in opening) is not cleared, name
        assert ("October 9, 2026: someone was hurt" in opening) is not cleared, name
    assert ("Next: " in made["plan"]) is cleared and ("training.ics" in made["plan"]) is cleared
    what_follows = made["progress"].rpartition("Next Steps")[2]
    assert ("Training goes on at Straight and corners" in what_follows) is cleared
    assert ("No session until Emeka Strand-Whitlock has cleared" in what_follows) is not cleared
