"""What `taught_in_time` says of each record."""

from __future__ import annotations

from datetime import date, timedelta

from changes import LESSONS
from records import Records
from whole_case import DELIVERED, GONE, ask, changed, grounds

CHAIR = next(value for path, value in DELIVERED if path == "dates.delivered_on")
FIRST = LESSONS[0]["date"]
NAMED = ("people.2.name", "Ann Example")  # her initials are those of the coach
COACHED = ("sessions", [row | {"coach": "AE"} for row in LESSONS])
STRANGER = ("sessions", [row | {"coach": "ZZ"} for row in LESSONS])
RELIED = ("supervision.0", {"place": "at home", "level": "same_room", "by": "an aunt", "covers": ["corner"]})
RELIED_ON_HER = (RELIED[0], RELIED[1] | {"covers": [LESSONS[0]["task"]], "who": ["aunt"]})
LATER = (RELIED[0], RELIED_ON_HER[1] | {"after_stage": "tight"})
SKILLS = ("taught.0.skills", ["setup", "stop"])
UNTOLD = ("taught.0.skills", [])
SHOWN = date(2026, 3, 24)  # when the whole case has her taught
PART, STEP = "configuration.mounting.0.on", "emergency.steps"


def taught(on: date, *skills: str) -> tuple[str, dict[str, object]]:
    return "taught.+", {"who": "aunt", "what": "again", "skills": [*skills], "on": on}


def step(on: date) -> tuple[str, list[dict[str, object]]]:
    return STEP, [{"says": "Push the red button.", "on": date(2026, 3, 2)}, {"says": "Call.", "on": on}]


AFTER = SHOWN + timedelta(days=1)

ALONE = [("taught", []), ("sitting.moved_by", 0), ("supervision", [{"place": "at home", "level": "alone"}])]

RECORDS = Records(
    "taught_in_time",
    met=[
        ("the whole case", []),
        ("a coach taught on the delivered chair", [*DELIVERED, NAMED, COACHED, taught(CHAIR)]),
        ("a coach taught on the day of the first lesson", [*DELIVERED, NAMED, COACHED, taught(FIRST)]),
        (
            "a coach taught on the day of the first lesson, and never before",
            [*DELIVERED, NAMED, COACHED, ("taught", [taught(FIRST)[1]])],
        ),
        ("a coach whose initials are nobody's", [*DELIVERED, STRANGER]),
        ("the therapist coached", [*DELIVERED, ("sessions", [row | {"coach": "JE"} for row in LESSONS])]),
        ("near, and taught on the delivered chair", [*DELIVERED, COACHED, RELIED_ON_HER, taught(CHAIR)]),
        ("near where no lesson went", [*DELIVERED, COACHED, RELIED]),
        ("near only after a later step", [*DELIVERED, COACHED, LATER]),
        ("the setup shown on the day a part was measured", [SKILLS, (PART, SHOWN)]),
        ("shown on the day a part was measured, and not what", [UNTOLD, (PART, SHOWN)]),
        (
            "shown before a part was measured, and the setup on that day",
            [UNTOLD, (PART, AFTER), taught(AFTER, "setup")],
        ),
        ("shown before a part was measured, and the stop alone since", [UNTOLD, (PART, AFTER), taught(AFTER, "stop")]),
        ("the setup shown again after a part was measured", [SKILLS, (PART, AFTER), taught(AFTER, "setup")]),
        ("the stop alone, and a part measured later", [("taught.0.skills", ["stop"]), (PART, AFTER)]),
        ("the emergency page shown after its last step", [step(SHOWN), ("taught.0.skills", ["emergency"])]),
    ],
    not_met=[
        (
            "a coach taught after the first lesson",
            [*DELIVERED, NAMED, COACHED, ("taught", [taught(AFTER.replace(year=2027))[1]])],
        ),
        ("a coach taught on the trial chair alone", [*DELIVERED, NAMED, COACHED]),
        ("a coach not taught", [*DELIVERED, NAMED, COACHED, ("taught.0.who", "doctor")]),
        ("near, and taught on the trial chair alone", [*DELIVERED, COACHED, RELIED_ON_HER]),
        ("near, and taught the day after", [*DELIVERED, COACHED, RELIED_ON_HER, taught(FIRST + timedelta(days=1))]),
        ("the setup shown before a part was measured", [SKILLS, (PART, AFTER)]),
        (
            "a coach taught twice after the first lesson",
            [*DELIVERED, NAMED, COACHED, ("taught", [taught(FIRST + timedelta(days=n))[1] for n in (9, 8)])],
        ),
        (
            "a coach taught before the second lesson, which stands before the first",
            [
                *DELIVERED,
                NAMED,
                ("sessions", COACHED[1][::-1]),
                ("taught", [taught(FIRST + timedelta(days=1))[1]]),
            ],
        ),
        ("a late coach, and a setup that no longer holds", [*DELIVERED, NAMED, COACHED, SKILLS, (PART, AFTER)]),
        (
            "the setup shown twice before a part was measured",
            [SKILLS, taught(AFTER, "setup"), (PART, AFTER + timedelta(days=1))],
        ),
        ("the setup shown before a part was fitted", [SKILLS, ("fitted", [{"mount": "left", "on": AFTER}])]),
        ("the emergency page shown before its last step", [step(AFTER), ("taught.0.skills", ["emergency"])]),
    ],
    cannot_tell=[
        ("nobody taught", [("taught", [])]),
        ("no day", [("taught.0.on", GONE)]),
        ("shown before a part was measured, and not what", [UNTOLD, (PART, AFTER)]),
        (
            "shown before a part was measured, and not what, to someone who is not among the people",
            [UNTOLD, (PART, AFTER), ("taught.0.who", "nurse")],
        ),
    ],
    does_not_apply=[("moves without help, and alone in every place", ALONE)],
    rests_on=("taught.*.on",),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_a_setup_that_no_longer_holds_could_hurt_and_a_late_coach_is_a_question():
    setup = ask("taught_in_time", grounds(changed(SKILLS, (PART, AFTER))))
    coach = ask("taught_in_time", grounds(changed(*DELIVERED, NAMED, COACHED)))
    assert setup.danger and not coach.danger
    assert set(setup.where) == {("taught", 0, "on"), ("configuration", "mounting", 0, "on")}
