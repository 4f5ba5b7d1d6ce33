"""What may matter to a client, to be ticked: rows from this person's goals and findings, and what each control does."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.options_findings import ANSWER, CAN_HURT, GOOD, IF_SET, LESS_GOOD, points_to
from docgen.documents.options_words import plain_words
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match
from docgen.shelf.options import Option

NOT_KNOWN = "not known"
_FEW = 2
_MOST = (5, 4)  # rows, of few controls and of more
_SPEED = (
    "proportional_control",
    "force_graded_speed",
    "head_angle_proportional",
)  # what a control that is on or off does not have
_OF_MARK = {CAN_HURT: "no", LESS_GOOD: "no", GOOD: "yes", ANSWER: "yes", IF_SET: "it can"}  # the first that stands


class MattersRow(TypedDict):
    """Something that may matter, to be ticked, and what each control does about it."""

    says: str
    cells: tuple[str, ...]


def matters_rows(case: Case, matched: Match, options: Sequence[Option]) -> list[MattersRow]:
    """What may matter: first what this person's goals, findings and tries bear on, and of that what tells the controls
    apart."""
    rows: list[tuple[bool, bool, MattersRow]] = []
    for entry in plain_words()["matters"]:
        if not _is_answerable(options, entry):
            continue
        personal = _is_personal(case, entry)
        if not personal and any(key in entry for key in ("when", "goal")) and "anyone" not in entry:
            continue
        cells = tuple(_cell(case, matched, options, at, entry) for at in range(len(options)))
        rows.append((not personal, len(set(cells)) == 1, {"says": entry["says"], "cells": cells}))
    rows.sort(key=lambda row: row[:2])  # stable: as listed within each
    telling = [row for general, alike, row in rows if not (general and alike)] or [row for _, _, row in rows]
    return telling[: _MOST[len(options) > _FEW]]


def _is_answerable(options: Sequence[Option], entry: Mapping[str, str]) -> bool:
    """Whether a row is about these controls: its sites, or stops that were counted."""
    sites = {site for option in options for site in option.judged.device.sites}
    if "stops" in entry:
        return any(_stops(option)[1] for option in options)
    return "site" not in entry or bool(sites & {*entry["site"].split()})


def _is_personal(case: Case, entry: Mapping[str, str]) -> bool:
    """Whether a row is about this person: a finding, a word of a goal, or what was counted."""
    present = {finding.id for finding in case.findings}
    goals = " ".join(goal.says.casefold() for goal in case.goals)
    by_goal = any(word in goals for word in entry.get("goal", "").split())
    return "stops" in entry or by_goal or not present.isdisjoint(entry.get("when", "").split())


def _cell(case: Case, matched: Match, options: Sequence[Option], at: int, entry: Mapping[str, str]) -> str:
    if "stops" in entry:
        done, n = _stops(options[at])
        return f"{done} of {n} tries" if n else NOT_KNOWN
    if "finding" in entry:
        finding = next(finding.id for finding in case.findings if finding.id in entry["finding"].split())
        marks = {point["mark"] for point in points_to(case, matched, options, finding)[at]}
        return next((answer for mark, answer in _OF_MARK.items() if mark in marks), NOT_KNOWN)
    return _answer(options[at].judged, entry)


def _stops(option: Option) -> tuple[int, int]:
    """Stops done and asked for, over every way in which a control was tried."""
    return sum(way.stops[0] for way in option.tried), sum(way.stops[1] for way in option.tried)


def _answer(judged: Judged, entry: Mapping[str, str]) -> str:
    """Yes, no, that it can, or not known."""
    if "free" in entry:
        if "elsewhere" in judged.device.sites:
            return NOT_KNOWN
        return "no" if {*entry["free"].split()} & {*judged.device.sites} else "yes"
    device, asked = judged.device, entry["feature"].split()
    drives = device.drives or ()
    if any(name in (*device.has, *drives) for name in asked):
        return "yes"
    choices = {name for choice in device.choices for name in choice}
    if any(name in judged.stated.optional or name in choices for name in asked):
        return "it can"
    speed_is_stated = "nonproportional_control" in drives
    ruled_out = all(
        name in device.has_not or (name in _SPEED and speed_is_stated) or ("whole" in entry and device.drives)
        for name in asked
    )
    return "no" if ruled_out else NOT_KNOWN
