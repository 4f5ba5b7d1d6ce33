"""What `own_words_hold` says of each record."""

from __future__ import annotations

from changes import MISSED_STOPS, STICK
from records import Records
from whole_case import GONE, ROWS, ask, attempts, changed, grounds


def pads_missing(*places: int) -> list[dict[str, object]]:
    """The rows of the whole case with these attempts with the requested control not done, counted from 0."""
    return STICK + attempts("pads", "".join("0" if at in places else "1" for at in range(24)))


# the third task in turn is the door: of six, two done
DOORS_FAILED = STICK + attempts("pads", "".join("0" if i in (2, 6, 10, 14) else "1" for i in range(24)))
ALONE = [("letter.safety", "He drives independently.")]
HELPED = [*DOORS_FAILED[:-1], DOORS_FAILED[-1] | {"prompts_physical": 2}]
NO_DELAY = ("configuration.chair.electronics_delay_s", GONE)
SAFE = [("letter.safety", "I judge that he can drive it safely. He is glad of it.")]

DOOR = [("spaces.0.ahead_from", "way_in"), ("configuration.chair.length_mm", 1000), ("spaces.0.clear_ahead_mm", 2400)]
BACKS = [*DOOR, ("configuration.commands", [{"does": "back", "input": "two taps"}])]
AT_HOME = ("letter.safety", "I judge that he can drive it safely at home.")
YARD = {"place": "in the school yard", "level": "arms_length", "by": "an aide", "for_now": "No driving there yet."}
IN_YARD = ("letter.safety", "I judge that he can drive it safely at home and in the yard.")

RECORDS = Records(
    "own_words_hold",
    met=[
        ("safe at home, and backing out is a task", [*BACKS, AT_HOME, ("trial.tasks.2.backs", True)]),
        (
            "safe at home but for backing out",
            [*BACKS, ("letter.safety", "He can drive it safely at home. Backing out was not tried: someone pushes.")],
        ),
        ("safe in another place than the one backed out of", [*BACKS, ("letter.safety", "He is safe in the kitchen.")]),
        ("safe in a yard where he drives", [IN_YARD, ("supervision.+", YARD | {"for_now": "Slowly."})]),
        ("safe at home, and nobody drives in the yard for now", [AT_HOME, ("supervision.+", YARD)]),
        ("safe by the letter and by the rows", SAFE),
        ("a sentence that says it is not safe", [*SAFE, ("letter.plan", "He cannot drive it safely outdoors.")]),
        ("safe by the letter, and a stop that cannot be worked out", [*SAFE, NO_DELAY]),
        ("safe by the letter, doors just often enough", SAFE, pads_missing(2, 6)),
        ("safe but for the door", [("letter.safety", "He drives safely; at a door an aide steers.")], DOORS_FAILED),
    ],
    not_met=[
        ("safe at home by the letter, and backing out untried", [*BACKS, AT_HOME]),
        ("safe by the letter, and backing out untried", [*BACKS, *SAFE]),
        ("safe in a yard where nobody drives for now", [IN_YARD, ("supervision.+", YARD)]),
        ("safe by the letter, doors in one of three", SAFE, DOORS_FAILED),
        ("safe by the letter, no door and no table done", SAFE, pads_missing(*range(2, 24, 4), *range(3, 24, 4))),
        ("safe by the letter, fewer doors than tables", SAFE, pads_missing(*range(6, 24, 4), *range(3, 24, 4))),
        ("safe by the letter, three doors of three missed", SAFE, STICK + attempts("pads", "110111011101")),
        ("safe by the letter, every stop missed", SAFE, MISSED_STOPS),
        ("stops every time by the letter, every stop missed", [("letter.trial", "He stops every time.")], MISSED_STOPS),
        ("alone by the letter, hands on twice", ALONE, HELPED),
        (
            "alone by the letter, hands on twice and taken over once",
            ALONE,
            [*HELPED[:-1], HELPED[-1] | {"took_over": 1}],
        ),
        ("safe by the letter, and no space to stop in", [*SAFE, ("spaces.1.clear_ahead_mm", 150)]),
    ],
    cannot_tell=[
        ("safe by the letter, no rows", SAFE, ROWS[:16]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("alone by the letter, no hand on it", ALONE),
        ("not safe by the letter", [("letter.safety", "He cannot drive it safely yet.")], MISSED_STOPS),
    ],
    settings=[
        ({"least_share": 1.0}, SAFE, "met"),
    ],
    rests_on=("configuration.method", "trial.methods.*", "trial.tasks"),
)

test_each_record_gets_its_answer = RECORDS.test()


def test_both_sides_are_told_with_their_keys():
    answer = ask("own_words_hold", grounds(changed(*SAFE), MISSED_STOPS))
    assert "“I judge that he can drive it safely”" in answer.reason
    assert "0 of 6 stops" in answer.reason
    assert ("letter", "safety") in answer.where and len(answer.where) > 1
