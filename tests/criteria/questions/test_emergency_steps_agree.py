"""What `emergency_steps_agree` says of each record."""

from __future__ import annotations

import pytest
from emergencies import BACK, BOTH, FAINTS, NECK, SEEN, SEIZURE, SIGNS, UPRIGHT, step
from records import Records
from whole_case import GONE, ask, changed, grounds

from docgen.criteria.questions import emergency_steps_agree

OFF = SEIZURE["steps"][0]
BY_BED = ("transport.rides_in_chair", False)


def both(**keys):
    """The page of an injury of the neck with faints, with other keys."""
    return ("emergency", {key: value for key, value in (BOTH | keys).items() if value is not GONE})


LEVER = ("configuration.stop.drive_off", "green lever, left of the back")
MOUTHPIECE = ("configuration.mounting.+", {"id": "tip", "part": "mouthpiece", "site": "mouth", "swings": "left"})
ONLY_IF = step("If it moves: green lever to the left.", "drive_off")
ALWAYS = step("It moves: red button. Always: green lever to the left. Mouthpiece away.", "drive_off")


def first(off, *changes):
    """The page of an injury of the neck with faints, and its first step."""
    return [NECK, FAINTS, LEVER, *changes, both(steps=[off, UPRIGHT, BACK])]


def two_signs(if_seen):
    """The page of an injury of the neck with faints and two signs, and what its step upright holds for."""
    signs = [SIGNS[0] | {"says": "a bad headache, sweat", "serves": ["autonomic_dysreflexia.signs"]}, SIGNS[1]]
    return [NECK, FAINTS, both(signs=signs, steps=[OFF, UPRIGHT | {"if_seen": if_seen}, BACK])]


def waits(words):
    """The page of an injury of the neck with faints, and when the weight shift waits."""
    return [NECK, FAINTS, BY_BED, both(), ("weight_shift.not_when", words)]


def calls(words):
    """The same page, and how help is called."""
    return [NECK, FAINTS, BY_BED, both(), ("supervision.0.calls_by", words)]


RECORDS = Records(
    "emergency_steps_agree",
    met=[
        (
            "a lever turned to your left from behind",
            first(step("It moves: red button. Always: from behind, green lever to your left.", "drive_off")),
        ),
        (
            "what you see, said of each sign",
            [
                (
                    "emergency",
                    SEIZURE
                    | {"signs": [SIGNS[0] | {"says": "seizure, no breath", "any_one": True, "say": "what you see"}]},
                )
            ],
        ),
        ("the drive off always, the mouthpiece away", first(ALWAYS, MOUTHPIECE)),
        ("each sign leads to upright", two_signs("A bad headache or sweat:")),
        ("a seizure", [("emergency", SEIZURE)]),
        (
            "a weight shift that waits for each sign, and says which way each moves",
            waits("Any one sign of the page: a bad headache, seat up; gray, seat back."),
        ),
        ("a weight shift that waits for every sign and moves nobody", waits("Any one sign of the emergency page.")),
        ("upright and back, told apart and settled", [NECK, FAINTS, both()]),
        (
            "a step that is done again and again while the next is done",
            [("emergency", SEIZURE | {"steps": [OFF, step("Measure again every 3 minutes, and go on.", "nobody")]})],
        ),
        (
            "fragile bones and seizures, settled",
            [
                ("conditions", [{"id": "fragile_bones"}, {"id": "epilepsy"}]),
                ("emergency", SEIZURE | {"settled": [{"conflict": "C-81", "says": "Slow, then off.", **SEEN}]}),
            ],
        ),
    ],
    not_met=[
        ("a weight shift that brings up at any sign, a faint too", waits("Any one sign. No tilt: bring her up first.")),
        ("a call at any sign with the seat up", calls("By voice; at any sign of the page 911, seat up.")),
        ("a call at each sign with the seat back", calls("By voice; at each sign 911, seat back.")),
        (
            "a lever turned to your left, told from nowhere",
            first(step("It moves: from its side, red button. Always: green lever to your left.", "drive_off")),
        ),
        (
            "no breath said of a seizure",
            [
                (
                    "emergency",
                    SEIZURE
                    | {"signs": [SIGNS[0] | {"says": "seizure, no breath", "any_one": True, "say": "no breath"}]},
                )
            ],
        ),
        ("one of two signs leads to upright", two_signs("A bad headache:")),
        ("the drive off only if it moves", first(ONLY_IF)),
        ("the mouthpiece stays at the lips", first(step("Green lever to the left.", "drive_off"), MOUTHPIECE)),
        ("the person first, then the drive", [("emergency", SEIZURE | {"steps": SEIZURE["steps"][::-1]})]),
        ("back whatever is seen", [NECK, FAINTS, both(steps=[OFF, UPRIGHT, BACK | {"if_seen": None}])]),
        (
            "a step that leads to itself as long as a number stays low",
            [("emergency", SEIZURE | {"steps": [OFF, step("Above 120: go on. If not: measure again.", "nobody")]})],
        ),
        ("upright and back, not told apart", [NECK, FAINTS, both(signs=[])]),
    ],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", []), ("conditions", [])]),
        ("upright and back, not settled", [NECK, FAINTS, BY_BED, both(settled=[])]),
        ("settled by nobody", [NECK, FAINTS, BY_BED, both(settled=[{"conflict": "K-01", "says": "Up."}])]),
        ("loosened in a van, not settled", [NECK, both(settled=BOTH["settled"][:1])]),
        ("fragile bones and seizures", [("conditions", [{"id": "fragile_bones"}, {"id": "epilepsy"}])]),
        (
            "a child with seizures",
            [("conditions", [{"id": "epilepsy"}, {"id": "growing_child"}])],
        ),
        (
            "a lever that is not on record",
            [("emergency", SEIZURE | {"steps": [step("Turn the blue lever.", "drive_off")]})],
        ),
        ("a pump and an injury of the neck", [NECK, BY_BED, ("conditions", [{"id": "baclofen_pump"}])]),
        (
            "a foot without feeling that drives",
            [
                ("conditions", [{"id": "no_feeling_in_the_foot"}]),
                ("configuration.features.+", {"id": "foot_site", "because": ["head_three_way"]}),
            ],
        ),
        (
            "fragile bones and seizures, settled, and no steps",
            [
                ("conditions", [{"id": "fragile_bones"}, {"id": "epilepsy"}]),
                ("emergency", {"settled": [{"conflict": "C-81", "says": "Slow, then off.", **SEEN}]}),
            ],
        ),
    ],
    does_not_apply=[("the whole case", []), ("a seizure and no steps", [("conditions", [{"id": "epilepsy"}])])],
    ready={
        "does_not_apply": [],
        "met": [(("emergency",), SEIZURE)],
        "cannot_tell": [(("conditions",), lambda entries: [*entries, {"id": "epilepsy"}])],
    },
    rests_on=("diagnoses.*",),
)

test_each_record_gets_its_answer = RECORDS.test()


@pytest.mark.parametrize(
    "says",
    ["Tilt back if unwell.", "If unwell, recline the seat.", "Lay her flat.", "Lean him all the way back."],
)
def test_a_bare_tilt_back_is_found_by_its_words(says):
    """Upright first: Consortium for Spinal Cord Medicine, consumer guide, about 2001."""
    page = both(steps=[OFF, UPRIGHT, step(says, "nobody")])
    answer = ask("emergency_steps_agree", grounds(changed(NECK, FAINTS, page)))
    assert answer.status == "not_met" and "dysreflexia needs upright" in answer.reason


def test_a_tilt_back_is_found_in_the_words_of_a_row_that_a_step_names(monkeypatch):
    """No row that a page may print today tilts back; one that is added must not slip through."""
    words = {"D-09": "Tilt the seat back."}
    monkeypatch.setattr(emergency_steps_agree, "printable", lambda case, row: words.get(row))
    bare = {"row": "D-09", "moves": "nobody", **SEEN}
    answer = ask("emergency_steps_agree", grounds(changed(NECK, FAINTS, both(steps=[OFF, UPRIGHT, bare]))))
    assert answer.status == "not_met" and answer.reason.startswith("Step 3 tilts back")


@pytest.mark.parametrize("says", ["Never tilt her back.", "Do not recline.", "Turn the key back."])
def test_a_warning_not_to_tilt_is_no_tilt(says):
    page = both(steps=[OFF, UPRIGHT, BACK, step(says, "nobody")])
    assert ask("emergency_steps_agree", grounds(changed(NECK, FAINTS, page))).status == "met"
