"""What card and guide ask of a helper only where their row of the log names it, and what of that no row names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TypedDict

from docgen.case.model import Case
from docgen.documents.daily_use import DailyUse
from docgen.documents.made_from import made_from
from docgen.documents.phrase import Words

MADE_FROM = {"not_shown": made_from("taught", "configuration.profiles", "transport.head_support_looks")}

# in the order of the words for them, each the word by which a row names it
ACTS = ("off_and_on", "stop_test", "settings", "levers", "charging", "choking", "mouthpiece", "swing", "headrest")


class ActRow(TypedDict):
    """One act, by its name on the page."""

    name: str


def not_shown(case: Case, has: DailyUse, words: Words) -> Iterator[ActRow]:
    """Each act asked of helpers that the row of nobody names; none where nobody was shown anything."""
    rows = " ".join(taught.what or "" for taught in case.taught).lower()
    asked = {
        "settings": len(case.configuration.profiles) > 1 and case.configuration.choose_by != "driver",
        "levers": case.configuration.stop.freewheel is not None,
        "mouthpiece": has["breath"],
        "swing": has["swing"],
        "headrest": case.transport.head_support_looks == "clips_on",
    }
    row_words: Mapping[str, str] = words["row_words"]
    for act in ACTS:
        if rows and asked.get(act, True) and row_words[act] not in rows:
            yield {"name": row_words[act]}
