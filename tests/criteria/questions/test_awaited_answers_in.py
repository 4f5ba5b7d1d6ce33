"""What `awaited_answers_in` says of each record."""

from __future__ import annotations

from datetime import date

import pytest
from records import Records
from whole_case import GONE, changed, grounds

from docgen.criteria.asked_of import asked_of
from docgen.criteria.asked_questions import questions_for
from docgen.criteria.payer import payers
from docgen.criteria.run import Verdict, verdicts

SHUNT = {"id": "shunt", "what": "whether a pad may sit beside the shunt", "of": "practitioner"}
LIFT = {"id": "lift", "what": "how wide the lift of the bus is", "of": "school", "holds": False}
HOSPITAL = {"of": "hospital", "whom": "the neurosurgery clinic of Example Hospital"}
ANSWERED = {"answer": "A pad may, 25 mm off.", "answered_on": date(2026, 3, 8)}
LATE = ANSWERED | {"answered_on": date(2026, 9, 8)}

RECORDS = Records(
    "awaited_answers_in",
    met=[
        ("answered", [("awaited", [SHUNT | ANSWERED])]),
        (
            "answered on the day of the letter",
            [("awaited", [SHUNT | ANSWERED]), ("dates.written_on", date(2026, 3, 8))],
        ),
        ("no letter yet", [("awaited", [SHUNT | LATE]), ("dates.written_on", GONE)]),
    ],
    not_met=[
        ("answered after the letter", [("awaited", [SHUNT | LATE])]),
        (
            "asked by the payer after the letter, which does not tell the answer",
            [("awaited", [SHUNT | LATE | {"asked_by": "payer", "asked_on": date(2026, 9, 1)}])],
        ),
        ("asked on the day of the letter", [("awaited", [SHUNT | LATE | {"asked_on": date(2026, 4, 14)}])]),
    ],
    does_not_apply=[
        ("nothing is open", []),
        ("answered later, and nothing waited for it", [("awaited", [LIFT | LATE])]),
        ("open, and the request does not wait for it", [("awaited", [LIFT])]),
    ],
    cannot_tell=[
        ("not answered", [("awaited", [SHUNT | {"asked_on": date(2026, 7, 15)}])]),
        ("answered without a day", [("awaited", [SHUNT | ANSWERED | {"answered_on": None}])]),
        ("both, of which one holds nothing", [("awaited", [LIFT, SHUNT])]),
        (
            "asked of the client, in words of somebody else",
            [("awaited", [{"id": "bath", "what": "whether she gets onto the toilet", "of": "client"}])],
        ),
        ("asked of a hospital", [("awaited", [SHUNT | HOSPITAL])]),
    ],
)

test_each_record_gets_its_answer = RECORDS.test()


def _verdict(*entries, payer=None) -> tuple[Verdict, tuple[Verdict, ...]]:
    rules = payer or payers()[0]
    answered = verdicts(grounds(changed(("awaited", list(entries)))), rules, rules.reviewed_on)
    return next(verdict for verdict in answered if verdict.criterion.id == "awaited_answers_in"), answered


@pytest.mark.parametrize("payer", payers(), ids=lambda payer: payer.id)
def test_an_open_question_holds_the_packet_whoever_pays(payer):
    assert _verdict(SHUNT, payer=payer)[0].blocks
    held = [v.criterion.id for v in _verdict(LIFT, payer=payer)[1] if v.blocks and v.answer.where == (("awaited", 0),)]
    assert held == [], "the request does not wait for it"
    assert not _verdict(SHUNT | ANSWERED, payer=payer)[0].open
    assert _verdict(SHUNT | LATE, payer=payer)[0].blocks


def test_a_client_is_asked_in_the_words_put_to_the_client():
    bath = {
        "id": "bath",
        "what": "whether she gets onto the toilet",
        "of": "client",
        "asks": "do you get onto the toilet",
    }
    _, answered = _verdict(bath)
    case = grounds(changed(("awaited", [bath]))).case
    asked = [q.words for q in questions_for("client", case, answered) if q.path[0] == "awaited"]
    assert asked == ["Do you get onto the toilet: what was answered", "Do you get onto the toilet: date of the answer"]


def test_whoever_answers_is_asked_and_nobody_else():
    verdict, answered = _verdict(LIFT, SHUNT)
    assert asked_of(verdict.answer, grounds(changed()).case) == ("practitioner",)
    case = grounds(changed(("awaited", [LIFT, SHUNT]))).case
    asked = {
        who: [q for q in questions_for(who, case, answered) if q.path[0] == "awaited"]
        for who in ("practitioner", "school", "family", "supplier")
    }
    assert [q.words for q in asked["practitioner"]] == [
        "Whether a pad may sit beside the shunt: what was answered",
        "Whether a pad may sit beside the shunt: date of the answer",
    ]
    assert [q.about for q in asked["school"]] == [LIFT["what"]] * 2
    assert not asked["family"] and not asked["supplier"]
