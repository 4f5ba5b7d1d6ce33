"""The time a rule gives from one recorded day to another, as the calendar shows it."""

from __future__ import annotations

from msgspec import Struct

from docgen.case.lines import KeyPath


class Window(Struct, frozen=True):
    """The longest time between two steps; how long that is stands in the setting `months` of the criterion.

    start  key of the day it counts from
    ends   keys of the days that end it, the first that is recorded
    words  what its last day is, with {start} for the day it counts from
    ahead  the question is asked only once the chair is delivered, and the window is open before that
    """

    start: KeyPath
    ends: tuple[KeyPath, ...]
    words: str
    ahead: bool = False
