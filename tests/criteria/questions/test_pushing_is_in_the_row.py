"""What `pushing_is_in_the_row` says of each record."""

from __future__ import annotations

from records import Records

LEVERS = ("configuration.stop.freewheel", "two levers behind the seat")


def taught(what: str, *skills: str) -> tuple[str, list[dict[str, object]]]:
    return ("taught", [{"who": "aunt", "what": what, "skills": list(skills)}])


LATER = {"who": "aunt", "what": "levers and pushing"}

RECORDS = Records(
    "pushing_is_in_the_row",
    met=[
        ("the row says levers and pushing", [LEVERS, taught("stop, levers and pushing", "levers")]),
        ("levers alone, set to lock and not to push", [LEVERS, taught("stop, levers", "stop")]),
        ("a later row of the same person says it", [LEVERS, taught("stop", "levers"), ("taught.+", LATER)]),
    ],
    cannot_tell=[("no skills are recorded", [LEVERS, taught("stop, levers and pushing")])],
    not_met=[
        ("pushing was shown, the row says levers alone", [LEVERS, taught("stop, levers", "levers")]),
        ("the row says pushing, which the skills lack", [LEVERS, taught("stop, levers and pushing", "stop")]),
    ],
    does_not_apply=[
        ("the chair has no such levers", [taught("stop", "stop")]),
        ("nobody was shown anything", [LEVERS, ("taught", [])]),
    ],
    ready={"met": []},
)

test_each_record_gets_its_answer = RECORDS.test()
