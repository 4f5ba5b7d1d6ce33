"""Where the words of a record put whoever must be near: which of them stand out of arm's reach of the chair.

How near somebody must be is a key, `level`. These words are read for one thing alone: the papers print them as they
stand, and words that put a person out of the reach that the level asks for would be followed.
"""

from __future__ import annotations

import re

IN_REACH = ("hands_on_stop", "arms_length")  # how near must be, where an arm's length counts

# what puts a person out of arm's reach of the chair: common use of the words, no source
_FAR = re.compile(
    r"\b(?:wait(?:s|ing)\b|(?:far|other|opposite|lower|upper) (?:end|side)\b|(?:at|by|on) the "
    r"(?:end|top|foot|bottom|door|gate|phone)\b|(?:next|other|another) room\b|across\b|ahead of\b|by phone\b|"
    r"on call\b|minutes? away\b|in sight\b|down the (?:hall|ramp|street)\b)",
    re.IGNORECASE,
)
# a comma or "and" before somebody else; what follows one and names nobody belongs to who stands before it
_APART = re.compile(r"(?:\s*[,;]\s*(?:and\s+)?|\s+and\s+)(?=(?:her|his|their|a|an|the|one|another|[A-Z]\w+)\b)")


def parted(by: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Who is named, part by part: those who may be within arm's reach, and those whom the words put out of it.

    Check: "her aide behind her, the neighbor waiting at the end" -> the aide, the neighbor.
    """
    parts = [part for part in _APART.split(by.strip().rstrip(".")) if part]
    return tuple(part for part in parts if not _FAR.search(part)), tuple(part for part in parts if _FAR.search(part))
