"""What `dropped_head_still_stops` says of each record."""

from __future__ import annotations

from datetime import date

from records import Records
from whole_case import GONE

ALS = ("diagnoses.0.code", "G12.21")


def comes_back(yes, *, with_a_weak_neck=None):
    """Whether a head that drops comes back, answered by name and date; by another condition too where that is given."""
    both = {"fast_progressive_disease": yes, "weak_neck_or_breathing": with_a_weak_neck}
    given = {"ask": "neck_recovers", "by": "doctor", "on": date(2026, 3, 3)}
    answered = {condition: answer for condition, answer in both.items() if answer is not None}
    entries = [{"id": condition, "answers": [{**given, "yes": answer}]} for condition, answer in answered.items()]
    return ("conditions", entries)


NECK = ("findings.+", {"id": "neck_fatigues", "says": "It tires."})
AT_KNEE = ("configuration.stop.stop_switch_site", "knee_left")
AT_HEAD = ("configuration.stop.stop_switch_site", "head_left")

RECORDS = Records(
    "dropped_head_still_stops",
    met=[
        ("it comes back", [ALS, comes_back(True)]),
        ("it does not, and the knee stops", [ALS, comes_back(False), AT_KNEE]),
        ("it comes back by the answers of both conditions", [ALS, comes_back(True, with_a_weak_neck=True)]),
        ("it comes back by the only answer of two conditions", [ALS, NECK, comes_back(True)]),
    ],
    not_met=[
        ("it does not, and the stop is at the cheek", [ALS, comes_back(False), AT_HEAD]),
        (
            "it does not, and the stop is the helper's",
            [
                ALS,
                comes_back(False),
                AT_KNEE,
                ("configuration.stop.stop_switch_by", "helper"),
            ],
        ),
        (
            "it does not, the stop at the knee is a helper's and helpers have another",
            [
                ALS,
                comes_back(False),
                AT_KNEE,
                ("configuration.stop.stop_switch_by", "helper"),
                ("configuration.stop.helper_switch", "a red button"),
            ],
        ),
        (
            "it does not, and the switch at the knee only rests",
            [
                ALS,
                comes_back(False),
                AT_KNEE,
                ("configuration.stop.after_stop", "rests"),
            ],
        ),
        (
            "it comes back by one answer, and by the other it does not",
            [ALS, comes_back(True, with_a_weak_neck=False), AT_HEAD],
        ),
        ("it does not by the only answer of two conditions", [ALS, NECK, comes_back(False), AT_HEAD]),
    ],
    cannot_tell=[
        (
            "it does not, and not said whether the switch at the knee stops or rests",
            [ALS, comes_back(False), AT_KNEE, ("configuration.stop.after_stop", GONE)],
        ),
        ("not asked", [ALS]),
        ("it does not, and where the stop stands is not said", [ALS, comes_back(False)]),
        ("a tired neck", [("findings.+", {"id": "neck_fatigues", "says": "It tires."})]),
        ("no feature", [("configuration.features", [])]),
    ],
    does_not_apply=[
        ("the whole case", []),
        ("nothing at the head drives", [ALS, ("configuration.features.0.id", "foot_site")]),
    ],
    ready={"does_not_apply": [], "cannot_tell": [(("configuration", "features"), [])]},
    rests_on=("configuration.features",),
)

test_each_record_gets_its_answer = RECORDS.test()
