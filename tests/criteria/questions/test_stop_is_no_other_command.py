"""What `stop_is_no_other_command` says of each record."""

from __future__ import annotations

from records import Records

SIP = {"does": "back", "input": "with the chair still, a new hard sip of two seconds"}
WAKE = {"does": "drive", "input": "hold the cheek switch for two seconds"}
APART = ("configuration.stop.told_apart", "A sip that stopped it backs nothing up; in reverse, letting go stops it.")


def driver(words: str) -> tuple[str, str]:
    return ("configuration.stop.driver", words)


def commands(*entries: dict[str, str]) -> tuple[str, list[dict[str, str]]]:
    return ("configuration.commands", list(entries))


RECORDS = Records(
    "stop_is_no_other_command",
    met=[
        ("a sip stops and backs up, told apart", [driver("gives a hard sip"), commands(SIP), APART]),
        ("another breath stops", [driver("gives a soft puff"), commands(SIP)]),
        ("another switch stops", [driver("presses the knee switch"), commands(WAKE)]),
        (
            "the switch that stops only gives rest",
            [driver("presses the cheek switch"), commands({"does": "rest", "input": "press the cheek switch"})],
        ),
    ],
    cannot_tell=[
        ("no word of a stop, nor a command", [("configuration.stop", {})]),
        ("a hard sip stops and backs up", [driver("gives a hard sip"), commands(SIP)]),
        ("one switch stops and wakes", [driver("presses the cheek switch"), commands(WAKE)]),
        (
            "the command for stop is the one that drives",
            [
                driver("lets go"),
                commands(
                    {"does": "stop", "input": "the end of the puff, or the left pad"},
                    {"does": "left", "input": "head to the left pad"},
                ),
            ],
        ),
    ],
    does_not_apply=[
        (
            "letting go of the pad that drives",
            [
                driver("takes the head off the rear pad"),
                commands({"does": "forward", "input": "head back to the rear pad"}),
            ],
        ),
        ("no command is recorded", [driver("gives a hard sip"), commands()]),
    ],
    ready={"does_not_apply": []},
    only_recorded=True,
    rests_on=("configuration.stop",),
)

test_each_record_gets_its_answer = RECORDS.test()
