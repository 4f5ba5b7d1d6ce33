"""The controls that a client can choose between, in plain words: the same rows for each, none left empty.

What is said of a control comes from the table of features, what was tried from the rows, what it does for which way to
go from the commands of the case. What nobody has stated is "not known", never "no". No chance is given that the record
does not hold: attempts are counts, done and not done, with the range that so few leave open.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import Any, TypedDict

from docgen.case.model import Case
from docgen.criteria.sentences import capital, day, listed
from docgen.documents.options_words import asked_words, ended, plain_words
from docgen.evidence.proportion import wilson_interval
from docgen.fit.feature import features
from docgen.shelf.judge import Judged, asked_of
from docgen.shelf.options import Option, TriedAs
from docgen.units import speed

LETTERS = "ABCD"
_MOST_GOALS = 2
_MOST_MISSED = 3  # missed stops told one by one
_LONG = 20  # words of a sentence that a family reads in one go: common practice, no source
_COMMANDS = ("forward", "left", "right", "back")
_RELATIVE = re.compile(r", (?:which|who) .*")
_BETWEEN = re.compile(r"; |(?<=[.!?]) ")


class ControlRow(TypedDict):
    """One control: a cell for each row of the page, none of them empty."""

    letter: str
    name: str
    works: str
    body: str
    helpers: str
    limits: str
    tried: str
    unknown: str


def control_rows(case: Case, options: Iterable[Option], less_good: Sequence[bool]) -> Iterator[ControlRow]:
    """Each control, with a letter in the order given.

    less_good  of each control, whether a finding speaks against it: one without any is told to have none found
    """
    options = tuple(options)
    shared = _shared(options) is not None
    for letter, option, is_less_good in zip(LETTERS, options, less_good, strict=False):
        limits = " ".join(map(ended, option.judged.device.limits))
        yield {
            "letter": letter,
            "name": capital(option.name),
            "works": _works(case, option),
            "body": _words_of("body", option),
            "helpers": _helpers(option.judged),
            "limits": limits or ("None found." if is_less_good else "We looked for one and found none in the record."),
            "tried": " ".join(_tried_words(way, several=len(option.tried) > 1, shared=shared) for way in option.tried)
            or "Not tried.",
            "unknown": _unknown_words(case, option),
        }


def person_today(case: Case) -> dict[str, list[str]]:
    """What the client has now, and what is hard with it, in the words of the case; empty where nothing is recorded.

    A sentence too long for a family is cut where its main clause ends.
    """
    hard = next((activity for activity in case.activities if activity.barrier and activity.says), None)
    return {
        "now": _short(case.request.chair_now or ""),
        "hard": [f"{capital(hard.name)}: {_short(hard.says or '')[0]}"] if hard else [],
    }


def goal_rows(case: Case) -> list[dict[str, str]]:
    """The client's own goals, those with the most weight first, and how it goes today."""
    heaviest = sorted(case.goals, key=lambda goal: -goal.weight)[:_MOST_GOALS]
    rows = []
    for goal in heaviest:
        level = goal.latest.level if goal.latest else goal.level
        known = level is not None and len(goal.levels) == 5
        rows.append({"says": goal.says, "now": goal.levels[level + 2] if known and level is not None else ""})
    return rows


def lender_rows(options: Iterable[Option]) -> list[dict[str, Any]]:
    """Who lends the controls, each once with their letters; none where nobody is stated."""
    lent: dict[str, list[str]] = {}
    for letter, option in zip(LETTERS, options, strict=False):
        lent.setdefault(option.judged.device.lent_by or "", []).append(letter)
    if not any(lent):
        return []
    return [{"name": name or "someone who is not recorded", "letters": letters} for name, letters in lent.items()]


def tries_explained(case: Case, options: Iterable[Option]) -> dict[str, str]:
    """What a try is and when one is done, where and when and how fast it was, and each stop that was missed; empty when
    nothing was tried.

    Days and speed stand here where they are the same for all that was tried, else in the cells of the controls.
    """
    options = tuple(options)
    if not any(option.tried for option in options):
        return {}
    rules = [task.rule for task in case.trial.tasks if task.shows == "stop" and task.rule]
    shared = _shared(options)
    return {
        "tasks": listed(task.name for task in case.trial.driving_tasks),
        "stop_rule": rules[0] if rules else "",
        "when": " ".join(_when(*shared)) if shared else "",
        "place": case.trial.place or "",
        "missed": " ".join(_missed_words(options)),
    }


def _shared(options: Iterable[Option]) -> tuple[tuple[date, ...], float | None] | None:
    """Days and top speed of all that was tried, where they are the same; else None."""
    ways = {(way.days, way.method.speed_m_s) for option in options for way in option.tried}
    return next(iter(ways)) if len(ways) == 1 else None


def _when(days: Sequence[date], top_m_s: float | None) -> list[str]:
    return [f"{_days(days)}.", f"Top speed: {speed(top_m_s, 'near')}." if top_m_s else "Speed: not recorded."]


def _missed_words(options: Iterable[Option]) -> Iterator[str]:
    """What happened at each stop that was missed, the first few of each control."""
    for letter, option in zip(LETTERS, options, strict=False):
        missed = dict.fromkeys((stop.on, stop.note) for way in option.tried for stop in way.missed)
        for on, note in [*missed][:_MOST_MISSED]:
            what_happened = ended(capital(note)) if note else "What happened is not recorded."
            yield f"{letter}, {day(on).split(',')[0]}. {what_happened}"


def _short(text: str) -> list[str]:
    """Sentences of a text, each with a capital and a full stop."""
    parts = [part.strip() for part in _BETWEEN.split(text) if part.strip()]
    cut = (_RELATIVE.sub("", part) if len(part.split()) > _LONG else part for part in parts)
    return [capital(ended(part)) for part in cut]


def _works(case: Case, option: Option) -> str:
    """How it works, which way to go is given by what, how its speed is set, and how it was set when it was tried."""
    general = _words_of("works", option)
    speed_is_set = _words_of("speed", option)
    way = next((way for way in option.tried if way.method.id == case.configuration.method), None)
    inputs: dict[str, str] = {command.does: command.input for command in case.configuration.commands}
    if way is not None and all(inputs.get(name) for name in _COMMANDS[:3]):
        first = general.split(". ")[0]
        ways = [f"{capital(name)}: {inputs[name]}." for name in _COMMANDS if inputs.get(name)]
        return " ".join(filter(None, [f"{first.rstrip('.')}.", *ways, speed_is_set]))
    setup = next((way.method.setup for way in option.tried if way.method.setup), None)
    general += "" if _gives_each_way(general) else " Which part gives which way is not recorded."
    if setup is None:
        return f"{general} {speed_is_set or 'How its speed is set is not stated.'}"
    as_tried = " ".join(capital(ended(part.strip())) for part in re.split(r"[,;] ", setup) if part.strip())
    return " ".join(filter(None, [general, speed_is_set, f"As tried: {as_tried}"]))


def _gives_each_way(text: str) -> bool:
    """Whether the words say which way is given by what: each part alike, or named."""
    return not any(words in text for words in ("ways to go", "one way to go"))


def _words_of(table: str, option: Option) -> str:
    """What the first of the features in a table says, in words for the site of the control."""
    device, words = option.judged.device, plain_words()
    known = {*(device.drives or ()), *device.has}
    text = next((says for feature, says in words[table].items() if feature in known), None)
    if text is None:
        return {"works": "How it works is not stated.", "speed": "", "body": "What the body does is not stated."}[table]
    site = device.sites[0]
    return str(text).format(at=words["at"][site], part=words["part"][site])


def _helpers(judged: Judged) -> str:
    """What helpers do each day, about as long for each control; the guide's own words where there is no short form."""
    drives = judged.device.drives or ()
    short = next((says for name, says in plain_words()["helpers"].items() if name in drives), None)
    return short or " ".join(features()[name].care for name in drives) or "What helpers do is not stated."


def _tried_words(way: TriedAs, *, several: bool, shared: bool) -> str:
    """The counts in both frames; the days and the speed where they are not the same for all that was tried."""
    parts = [f"{capital(way.method.name)}."] if several else []
    parts += [] if shared else _when(way.days, way.method.speed_m_s)
    return " ".join([*parts, _counted("Drives", way.driving), _counted("Stops", way.stops)])


def _counted(what: str, tally: tuple[int, int]) -> str:
    """A count in both frames, done and not done, and how many of ten the same record leaves open."""
    done, n = tally
    if not n:
        return f"{what}: no try recorded."
    share = wilson_interval(done, n)
    low, high = math.floor(10 * share.low), math.ceil(10 * share.high)
    return f"{what}: {done} of {n} tries done, {n - done} not (range: {low} to {high} of 10)."


def _days(days: Sequence[date]) -> str:
    """Days of one year, its name once; of one month, the month once too."""
    if len({(on.year, on.month) for on in days}) == 1 and len(days) > 1:
        first = day(days[0])
        month, year = first.split(" ")[0], first.rsplit(" ", 1)[1]
        return f"{month} {listed(str(on.day) for on in days)}, {year}"
    return listed(map(day, days))


def _unknown_words(case: Case, option: Option) -> str:
    """What is not known of it for this person, and what to ask about it."""
    called = case.client.called or "the client"
    untried = "" if option.tried else f"How {called} stops, tires and reaches it."
    asked = asked_words(asked_of(option.judged))
    return " ".join(filter(None, [untried, asked])) or "How it goes at other places and speeds."
