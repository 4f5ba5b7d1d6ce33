"""What `emergency_page_complete` says of each record."""

from __future__ import annotations

from emergencies import BOTH, FAINTS, NECK, SEEN, SEIZURE, step
from records import Records
from whole_case import GONE

EPILEPSY = ("conditions", [{"id": "epilepsy"}])


def page(**keys):
    """The page of a seizure with other keys."""
    return ("emergency", {key: value for key, value in (SEIZURE | keys).items() if value is not GONE})


RECORDS = Records(
    "emergency_page_complete",
    met=[
        ("a seizure", [EPILEPSY, page()]),
        ("an injury of the neck with faints", [NECK, FAINTS, ("emergency", BOTH)]),
        (
            "a step that takes two, with what one alone does, and signs of which one is enough",
            [
                EPILEPSY,
                page(
                    steps=[SEIZURE["steps"][0], {**SEIZURE["steps"][1], "needs": 2, "alone": "Call 911."}],
                    signs=[{"says": "shaking, blue lips", "any_one": True, "first": "call", "moves": "nobody", **SEEN}],
                ),
            ],
        ),
        ("a number with who set it and when", [EPILEPSY, page(numbers=[{"name": "alarm", "value": "120", **SEEN}])]),
        (
            "someone to call whose number stands among the people",
            [
                EPILEPSY,
                page(calls=[{"who": "aunt", "answers": "always", "at_once": "blue lips"}]),
                ("people.2.phone", "555-0100"),
            ],
        ),
    ],
    not_met=[
        (
            "a row that was not read",
            [EPILEPSY, page(steps=[*SEIZURE["steps"], {"row": "C1-61", "moves": "nobody"}])],
        )
    ],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", []), ("conditions", [])]),
        ("signs alone, which have a page too", [("emergency", {"signs": [{"says": "He chokes.", **SEEN}]})]),
        ("a condition that calls for a page, and no page", [EPILEPSY]),
        ("no step for what the file names", [EPILEPSY, page(steps=SEIZURE["steps"][:1])]),
        ("a step in nobody's words", [EPILEPSY, page(steps=[*SEIZURE["steps"], {"says": "Wait.", "moves": "nobody"}])]),
        ("a step without a day", [EPILEPSY, page(steps=[{**entry, "on": None} for entry in SEIZURE["steps"]])]),
        ("a row that nobody has accepted", [EPILEPSY, page(steps=[*SEIZURE["steps"], {"row": "C1-41"}])]),
        ("nobody to call", [EPILEPSY, page(calls=[])]),
        (
            "no limits at which help is called at once",
            [EPILEPSY, page(calls=[{**SEIZURE["calls"][0], "at_once": None}])],
        ),
        (
            "a step that takes two, and nothing for one alone",
            [EPILEPSY, page(steps=[SEIZURE["steps"][0], {**SEIZURE["steps"][1], "needs": 2}])],
        ),
        (
            "several signs, and not whether one is enough",
            [EPILEPSY, page(signs=[{"says": "shaking, blue lips", "first": "call", "moves": "nobody", **SEEN}])],
        ),
        (
            "one knows when they answer, and another does not",
            [EPILEPSY, page(calls=[*SEIZURE["calls"], {"name": "nurse", "phone": "555-0100"}])],
        ),
        ("nobody knows when they answer", [EPILEPSY, page(calls=[{"name": "nurse", "phone": "555-0100"}])]),
        ("not said what the client cannot do", [EPILEPSY, page(cannot=GONE)]),
        ("the client is moved, and nothing is said of after", [NECK, FAINTS, ("emergency", BOTH | {"after": None})]),
        ("a number set by nobody", [EPILEPSY, page(numbers=[{"name": "alarm", "value": "120"}])]),
        ("Duchenne dystrophy without a step for oxygen", [("diagnoses.0.code", "G71.01"), page()]),
        ("a ventilator without steps for an alarm", [("diagnoses.0.code", "Z99.11"), page()]),
        (
            "a sign alone does not serve without who gave it",
            [
                NECK,
                ("emergency", SEIZURE | {"signs": [{"says": "headache", "serves": ["autonomic_dysreflexia.signs"]}]}),
            ],
        ),
        (
            "a number with who set it, and not when",
            [EPILEPSY, page(numbers=[{"name": "alarm", "value": "120", "by": "doctor"}])],
        ),
        (
            "a number with when it was set, and not by whom",
            [EPILEPSY, page(numbers=[{"name": "alarm", "value": "120", "on": SEEN["on"]}])],
        ),
        (
            "someone to call without a number",
            [EPILEPSY, page(calls=[{"who": "aunt", "answers": "always", "at_once": "blue lips"}])],
        ),
    ],
    does_not_apply=[("the whole case", [])],
    ready={
        "cannot_tell": [(("conditions",), lambda entries: [*entries, {"id": "epilepsy"}])],
        "does_not_apply": [],
        "met": [
            (("conditions",), lambda entries: [*entries, {"id": "epilepsy"}]),
            (("emergency",), SEIZURE | {"steps": [step("Off.", "drive_off", "epilepsy.seizure", **SEEN)]}),
        ],
    },
    rests_on=("diagnoses.*",),
)

test_each_record_gets_its_answer = RECORDS.test()
