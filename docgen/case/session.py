"""The raw rows of training after delivery: one row per try, as the coach's lesson card becomes a CSV file.

Columns that the trial has too are the trial's own. Only date, stage, task and success are required.
Distance and minutes may be written for each try, or once for a session (one day) on any one of its rows.
"""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from docgen.case.privacy import Privacy
from docgen.case.record import COLUMNS as OF_TRIAL
from docgen.case.record import Column, Observed, Sheet

# letters of the prompt levels, least help first; common practice, no source. H is helped by a word or sign, its level
# not known, as on the lesson card
HELP = ("I", "H", "G", "IV", "DV", "D", "PP", "FP", "T")
_ONCE_NUMBERED = tuple(letters for letters in HELP if letters != "H")


MARKS = {"alone": "I", "helped": "H"}  # what the lesson card calls them


def help_rung(letters: str) -> int:
    """The place of a prompt level by its letters, or by the mark of the lesson card.

    Raises ValueError for anything else, with the letters of an old number.
    """
    letters = MARKS.get(letters.lower(), letters)
    if letters.upper() in HELP:
        return HELP.index(letters.upper())
    if letters.isdecimal() and int(letters) < len(_ONCE_NUMBERED):
        raise ValueError(f"help {letters} is now '{_ONCE_NUMBERED[int(letters)]}'")
    raise ValueError(f"it must be a prompt level: {', '.join(HELP)}")


_TRIAL = {column.name: replace(column, privacy=Privacy.TRAINING) for column in OF_TRIAL}

COLUMNS: tuple[Column, ...] = (
    _TRIAL["date"],
    Column(Privacy.TRAINING, "stage", "step", "step of the training plan, by its id", required=True),
    Column(Privacy.TRAINING, "task", "id", "task of the stage, or the id of a place in [[spaces]]", required=True),
    _TRIAL["success"],
    Column(
        Privacy.TRAINING,
        "help",
        "prompt",
        "most help used, by the letters of its prompt level, I (independent) to T (trainer took control), H where the "
        "level is not known; a try done is not counted without it",
    ),
    Column(
        Privacy.TRAINING,
        "surprise",
        "yes_no",
        "of a stop: whether the driver could not tell that it would come; a stop is not counted without it",
    ),
    _TRIAL["seconds"],
    replace(_TRIAL["missed"], head="no response"),  # "missed" alone is read as a missed stop
    *(_TRIAL[name] for name in ("unintended", "contacts", "person_contacts")),
    Column(
        Privacy.TRAINING,
        "near_misses",
        "count",
        "times someone had to move, or the chair was stopped just in time",
        head="near",
    ),
    *(
        _TRIAL[name]
        for name in (
            "release_s",
            "distance_m",
            "minutes",
            "fatigue_before",
            "fatigue_after",
            "tone_before",
            "tone_after",
            "pain_before",
            "pain_after",
        )
    ),
    Column(Privacy.TRAINING, "skin", "yes_no", "a new skin mark after the session"),
    Column(Privacy.TRAINING, "injury", "yes_no", "anyone hurt"),
    Column(
        Privacy.TRAINING,
        "ran_on",
        "yes_no",
        "the chair ran on after the signal, moved when nothing was meant and did not stop, or its stop failed",
    ),
    Column(Privacy.TRAINING, "stopped", "words", "why the session was stopped, when it was"),
    Column(Privacy.CIRCLE, "cleared_by", "words", "who said that driving may go on, after a stop rule was met"),
    Column(
        Privacy.TRAINING, "changed", "words", "setting or part that was changed before this try, which way, and by whom"
    ),
    Column(
        Privacy.TRAINING,
        "new_count",
        "words",
        "why counts begin anew from this try: another seat, place or task, or an illness; 'changed' does so by itself",
    ),
    Column(Privacy.TRAINING, "changed_profile", "id", "id of the drive profile that was changed", printed=False),
    Column(
        Privacy.TRAINING,
        "changed_setting",
        "id",
        "id of its setting that was changed, such as turn_speed; 'changed' tells the rest",
        printed=False,
    ),
    Column(
        Privacy.TRAINING,
        "changed_to",
        "number",
        "its value now, of a speed in m/s, a turning speed in degrees/s, a time-out in s",
        high=600,
        printed=False,
    ),
    Column(Privacy.CIRCLE, "coach", "words", "who trained"),
    _TRIAL["note"],
)


class SessionRow(Observed, frozen=True):
    """One try. `line` is its line in the CSV file; None means that nothing was recorded."""

    line: int
    date: date
    stage: int  # the place of the step in docgen/case/stage.py
    task: str
    success: bool
    help: int | None = None
    surprise: bool | None = None
    seconds: float | None = None
    near_misses: int | None = None
    release_s: float | None = None
    skin: bool | None = None
    injury: bool | None = None
    ran_on: bool | None = None
    stopped: str | None = None
    cleared_by: str | None = None
    changed: str | None = None
    new_count: str | None = None
    changed_profile: str | None = None
    changed_setting: str | None = None
    changed_to: float | None = None
    coach: str | None = None


SESSIONS = Sheet(COLUMNS, SessionRow)
