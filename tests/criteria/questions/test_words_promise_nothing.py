"""What `words_promise_nothing` says of each record."""

from __future__ import annotations

from gathered import of_each
from records import Records
from whole_case import ask, changed, grounds

RECORDS = Records(
    "words_promise_nothing",
    met=[
        ("the whole case", []),
        ("what was measured", [("configuration.items.4.why", "Tilt redistributes pressure.")]),
        ("denied", [("letter.safety", "I do not say that it prevents pressure sores.")]),
    ],
    not_met=[
        ("sores", [("configuration.items.4.why", "Tilt prevents pressure injuries.")]),
        ("a stop", [("letter.safety", "The stop is failsafe.")]),
        (
            "sores and a stop",
            [
                ("configuration.items.4.why", "Tilt prevents pressure injuries."),
                ("letter.safety", "The stop is failsafe."),
            ],
        ),
    ],
    cannot_tell=[
        (
            "nothing written",
            [(table, {}) for table in ("letter", "configuration", "transport", "emergency", "training")]
            + [(table, []) for table in ("activities", "cautions", "supervision")],
        ),
    ],
    ready={"met": [], "not_met": [(("letter",), {"safety": "It is crash-proof."})]},
)

test_each_record_gets_its_answer = RECORDS.test()


@of_each(
    "says",
    [
        "It prevents sores.",
        "Tilt prevented any pressure injury.",
        "The chair is fail-safe.",
        "A crash-safe headrest.",
        "It complies with ISO 13850.",
        "The stop cannot fail.",
    ],
)
def test_each_promise_is_seen(says):
    assert ask("words_promise_nothing", grounds(changed(("letter.safety", says)))).status == "not_met"
