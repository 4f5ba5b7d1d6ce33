"""Which documents of training a case has, the day on each, and that the rows of training are reviewed with them."""

from __future__ import annotations

import shutil

import pytest
from made import FOLDERS, ILMARI, MARISOL, SAOIRSE
from support import ASSESSED, assess
from training_told import MADE


def test_only_a_case_with_sessions_has_a_progress_report_and_only_a_denied_one_an_appeal():
    assert {name for name, made in MADE.items() if "progress" in made} == {SAOIRSE}
    assert {name for name, made in MADE.items() if "appeal" in made} == {MARISOL}


def test_a_template_that_needs_what_no_case_can_hold_is_refused_with_its_line(tmp_path):
    from docgen.documents.document import documents
    from docgen.errors import UserError
    from docgen.resources import folder

    text = (folder("templates") / "en" / "appeal.md").read_text(encoding="utf-8")
    (tmp_path / "appeal.md").write_text(text.replace('needs = "denial"', 'needs = "denail"'), encoding="utf-8")
    line = text.split("\n").index('needs = "denial"') + 1
    with pytest.raises(UserError, match=rf"appeal.md:{line}: a document cannot need 'denail'. Did you mean 'denial'"):
        documents(tmp_path)


def test_each_document_carries_the_day_of_what_it_tells():
    from docgen.documents.document import dated_on
    from docgen.packet.wording import wording

    docs = wording().documents
    case, denied = ASSESSED[SAOIRSE].file.case, ASSESSED[MARISOL].file.case
    days = {name: str(dated_on(docs[name], case)) for name in ("letter", "guide", "plan", "lesson", "progress")}
    assert days == {
        "letter": "2026-03-26",
        "guide": "2026-08-24",  # of the last setting that it tells
        "plan": "2026-10-09",
        "lesson": "2026-10-09",
        "progress": "2026-10-09",
    }
    assert str(dated_on(docs["appeal"], denied)) == "2026-05-04"


def test_rows_of_training_are_part_of_what_is_reviewed(tmp_path):
    from docgen.packet.approval import parts
    from docgen.packet.wording import wording

    target = shutil.copytree(FOLDERS[SAOIRSE], tmp_path / SAOIRSE)
    before = parts(assess(target), wording())
    path = target / "sessions.csv"
    path.write_text(
        path.read_text(encoding="utf-8").replace(
            "2026-07-13,corners,straight,1,I,,25,", "2026-07-13,corners,straight,1,I,,26,"
        ),
        encoding="utf-8",
    )
    after = parts(assess(target), wording())
    assert {name for name in before if before[name] != after[name]} == {"sessions.csv"}
    assert "sessions.csv" not in parts(ASSESSED[ILMARI], wording())
