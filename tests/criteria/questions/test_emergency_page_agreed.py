"""What `emergency_page_agreed` says of each record."""

from __future__ import annotations

from emergencies import CONSENT, SEIZURE
from records import Records

NAMED = SEIZURE | {"condition": "Robin has epilepsy."}

RECORDS = Records(
    "emergency_page_agreed",
    met=[
        ("agreed", [("emergency", NAMED)]),
        (
            "a crew may know",
            [("emergency", NAMED | {"allergies": "Latex.", "consent": CONSENT | {"names_medicine": True}})],
        ),
        ("agreed, without the condition", [("emergency", SEIZURE | {"consent": CONSENT | {"names_condition": False}})]),
    ],
    not_met=[
        (
            "hung over the switches",
            [
                ("configuration.stop.helper_switch", "orange button, left side of the back"),
                ("emergency", NAMED | {"consent": CONSENT | {"may_hang": "on the back of the chair"}}),
            ],
        ),
        ("named against the agreement", [("emergency", NAMED | {"consent": CONSENT | {"names_condition": False}})]),
        (
            "allergies against the agreement",
            [("emergency", NAMED | {"allergies": "Latex.", "consent": CONSENT | {"names_medicine": False}})],
        ),
        (
            "the way in against the agreement",
            [("emergency", NAMED | {"entry": "Back door.", "consent": CONSENT | {"names_medicine": False}})],
        ),
    ],
    cannot_tell=[
        ("no diagnosis", [("diagnoses", []), ("conditions", [])]),
        ("a condition that calls for a page", [("conditions", [{"id": "epilepsy"}])]),
        *(
            (f"not said: {key}", [("emergency", NAMED | {"consent": CONSENT | {key: None}})])
            for key in ("given_by", "on", "names_condition")
        ),
        ("of medicine not asked", [("emergency", NAMED | {"medicine": "Drops.", "consent": CONSENT})]),
        ("nowhere to hang", [("emergency", NAMED | {"consent": CONSENT | {"may_hang": None}})]),
    ],
    does_not_apply=[("the whole case", [])],
    ready={
        "does_not_apply": [],
        "met": [(("emergency",), SEIZURE)],
        "cannot_tell": [(("emergency",), SEIZURE | {"consent": {}})],
    },
)

test_each_record_gets_its_answer = RECORDS.test()
