"""What `caregivers_taught` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

REST = ("configuration.commands", [{"does": "rest", "input": "press the knee switch"}])
AGAIN = ("taught.+", {"who": "aunt", "what": "rest", "skills": ["standby"], "on": date(2026, 4, 2)})


def skills(*learned: str) -> tuple[str, list[str]]:
    return "taught.0.skills", [*learned]


ALONE = [("taught", []), ("sitting.moved_by", 0), ("supervision", [{"place": "at home", "level": "alone"}])]

RECORDS = Records(
    "caregivers_taught",
    met=[
        ("the whole case", []),
        (
            "a person with a relation of more words, and one with a name alone",
            [
                ("people.2.relation", "her aunt"),
                ("taught.+", {"who": "doctor", "what": "stop", "on": date(2026, 4, 2)}),
            ],
        ),
        (
            "someone who is not among the people",
            [("taught.+", {"who": "nurse", "what": "stop", "on": date(2026, 4, 2)})],
        ),
        ("the setup and standby", [REST, skills("setup", "standby")]),
        ("the setup, and standby on another day", [REST, skills("setup"), AGAIN]),
        ("the stop alone", [REST, skills("stop")]),
        ("the setup of a control without standby", [skills("setup")]),
    ],
    cannot_tell=[
        ("the setup without standby, of a control that has it", [REST, skills("setup", "stop")]),
        ("skills not recorded, of a control that has standby", [REST, skills()]),
        ("standby in free words alone", [REST, skills(), ("taught.0.what", "setup, stop, rest and wake")]),
        (
            "the setup without standby, by someone called by a longer name",
            [REST, ("people.2.relation", "her aunt"), skills("setup")],
        ),
        (
            "a caregiver left out, for whom two days are planned",
            [
                ("people.+", {"id": "uncle", "role": "caregiver", "relation": "uncle"}),
                (
                    "to_teach",
                    [
                        {"who": "uncle", "what": "the stop", "planned_on": date(2026, 9, 14)},
                        {"who": "uncle", "what": "standby", "planned_on": date(2026, 9, 7)},
                        {"who": "aunt", "what": "standby", "planned_on": date(2026, 9, 1)},
                        {"who": "uncle", "what": "the setup"},
                    ],
                ),
            ],
        ),
        ("nobody taught", [("taught", [])]),
        ("no day", [("taught.0.on", GONE)]),
        ("a caregiver left out", [("people.+", {"id": "uncle", "role": "caregiver", "relation": "uncle"})]),
        (
            "a caregiver left out who has a name too",
            [("people.+", {"id": "uncle", "role": "caregiver", "relation": "her uncle", "name": "Al Example"})],
        ),
    ],
    ready={"met": [], "cannot_tell": [(("taught",), [])]},
    does_not_apply=[("moves without help, and alone in every place", ALONE)],
    rests_on=(
        "people.*.id",
        "taught.*.on",
    ),
    only_recorded=True,
)

test_each_record_gets_its_answer = RECORDS.test()
