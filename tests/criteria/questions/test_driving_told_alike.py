"""What `driving_told_alike` says of each record."""

from __future__ import annotations

from records import Records
from whole_case import GONE

NOTE = ("configuration.features.0.note", "A spasm while driving is not on record.")
OFF = ("alternatives.0.reason", "Spasms throw the hand off the grip in mid-drive.")
NO_HOME = ("trial.limits", "Nothing of his home was driven.")

RECORDS = Records(
    "driving_told_alike",
    met=[
        ("denied, and nowhere told", [NOTE]),
        (
            "denied, and told with the chair off",
            [NOTE, ("alternatives.0.reason", "Spasms throw the hand off the grip.")],
        ),
        ("denied, and another event told", [NOTE, ("alternatives.0.reason", "A cough in mid-drive stops it.")]),
    ],
    not_met=[
        ("denied, and told of a device ruled out", [NOTE, OFF]),
        (
            "denied by the limits, and told by a finding",
            [
                ("trial.limits", "No seizure while driving is recorded."),
                ("findings.0.says", "A seizure came as she drove on March 3."),
            ],
        ),
        (
            "turning in the home told as done, and none of it driven",
            [NO_HOME, ("letter.safety", "He turns in his kitchen.")],
        ),
        (
            "the way out without reverse told as done, and none of it driven",
            [NO_HOME, ("configuration.without_reverse", "He turns in place in the bathroom.")],
        ),
    ],
    does_not_apply=[
        (
            "turning in the home told as planned",
            [NO_HOME, ("configuration.without_reverse", "He is to turn in place in the bathroom.")],
        ),
        ("turning in the home, which the trial drove", [("letter.safety", "He turns in his kitchen.")]),
        ("the whole case", []),
        (
            "told, and denied for one control alone",
            [OFF, (NOTE[0], "A spasm while driving is noted with the joystick alone, and none is recorded with it.")],
        ),
        ("no features", [("configuration.features", GONE)]),
    ],
    cannot_tell=[
        (
            "nothing told in words",
            [(key, GONE) for key in ("findings", "alternatives", "configuration.features")],
        )
    ],
    ready={"does_not_apply": []},
)

test_each_record_gets_its_answer = RECORDS.test()
