"""A signal that stops the chair is told apart from one that drives it, backs it up or changes the mode.

Asks: Whether a signal that the driver stops with is also a command of the same control: the same breath, or the same
    switch, pad or lever, that drives, backs up, or leaves rest. Where it is, how the control tells the two apart, and
    what stops the chair while that other command is on. Letting go of a signal, and a press that only gives rest, are
    no such command.
Why a payer asks: A payer does not. In fear or in a spasm a stop is held too long or given twice, and must not drive.
What settles it: configuration.stop.told_apart, or another signal under [configuration.commands] and
    configuration.stop.driver.
Source: common practice in machinery: a stop has its own control and overrides the others (summaries of ISO 13850,
    which is for machines, not wheelchairs).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import listed

HEADING = "safety"
CLAIM = "The driver's stop is no other command"
DANGER = "untold"
QUIET = True
SETTINGS: dict[str, object] = {}
# signals are compared as the driver was taught them, in the words of the record
# a breath of one strength, or a thing that is pressed or touched, by the word that tells it from others
_SIGNAL = re.compile(r"\b(hard|soft|long|short|double) (puff|sip)|\b([a-z]+) (switch|button|pad|paddle|lever|bar)")
_LET_GO = re.compile(r"\b(?:off|from|end of|leaves?|lets? go of|releases?)\b.*?(?=,|;|\.|\bor\b|$)")
_DOES = {
    "back": "backs it up",
    "drive": "sets it to drive",
    "seat": "moves the seat",
    "external_device": "works another device",
}
_HARMLESS = ("stop", "rest")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    told_apart: KeyPath = ("configuration", "stop", "told_apart")
    if not case.configuration.commands and case.configuration.stop.is_empty:
        return cannot_tell(
            "Neither how the driver stops nor a command of the control is recorded.",
            ("configuration", "stop"),
            ("configuration", "commands"),
            mend=add_entry("configuration.commands", "does", "input"),
        )
    stops = {signal for words in _stops(case) for signal in _signals(_LET_GO.sub("", words.lower()))}
    if not stops or not case.configuration.commands:
        return does_not_apply(
            "No signal is recorded that stops the chair and could be a command too.", ("configuration",)
        )
    shared = [
        (signal, at, command.does)
        for at, command in enumerate(case.configuration.commands)
        if command.does not in _HARMLESS
        for signal in sorted(stops.intersection(_signals(command.input.lower())))
    ]
    if not shared:
        return met("No signal that stops the chair is a command too.", ("configuration", "commands"))
    where: list[KeyPath] = [("configuration", "commands", at) for _, at, _ in shared]
    both = listed(dict.fromkeys(f"{signal} ({_DOES.get(does, 'drives it')})" for signal, _, does in shared))
    if not case.configuration.stop.told_apart:
        return cannot_tell(
            f"Stops the chair and does more: {both}. How they are told apart is not recorded.",
            told_apart,
            *where,
            mend=fill_in({"configuration.stop.told_apart": ""}),
        )
    return met(f"Stops the chair and does more: {both}. How they are told apart is recorded.", told_apart, *where)


def _stops(case: Case) -> Iterator[str]:
    """What the driver does to stop, in the words of the case."""
    stop = case.configuration.stop
    yield from (command.input for command in case.configuration.commands if command.does == "stop")
    yield stop.driver or ""


def _signals(words: str) -> Iterator[str]:
    """Signals that words name, each as "hard sip" or "cheek switch"."""
    for strength, breath, name, thing in _SIGNAL.findall(words):
        yield f"{strength or name} {breath or thing}"
