"""Who can answer for a part of a case: therapist, supplier, practitioner, family, payer, or nobody before delivery."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from pathlib import Path

from msgspec import Struct

from docgen.case.privacy import Privacy
from docgen.shipped import tables_of

FIRST_ASKED = "therapist"
_PATHS_KEPT = 5_000  # every key of a case


class Respondent(Struct, frozen=True):
    """Someone who can answer.

    name     as it stands beside a count
    may_see  classes of privacy that a sheet of questions to them may show; empty where none is written for them
    keys     paths of keys and tables, with dots and without places in lists
    in_place_of  who else would be asked the same, whose keys these are; empty where the keys are their own
    words    path of a key -> the question as it is put to this one, where that is not what the key is called
    """

    id: str
    name: str
    may_see: frozenset[Privacy]
    keys: tuple[str, ...]
    words: Mapping[str, str]
    in_place_of: str = ""

    @property
    def answers_for(self) -> tuple[str, str]:
        """Ids of those whose keys are asked of this one."""
        return self.id, self.in_place_of or self.id


@cache
def respondents() -> dict[str, Respondent]:
    """Everyone who can be asked, by id, the therapist first."""
    tables = tables_of(Path(__file__).with_name("respondents.toml").read_text(encoding="utf-8"))
    return {
        name: Respondent(
            name,
            table["name"],
            frozenset(map(Privacy, table["may_see"])),
            tuple(table["keys"]),
            table.get("words", {}),
            table.get("in_place_of", ""),
        )
        for name, table in tables.items()
    }


@lru_cache(_PATHS_KEPT)
def respondent_of(path: str) -> str:
    """Id of who can answer for a key by its dotted path, such as "spaces.clear_width_mm"."""
    best, who = "", FIRST_ASKED
    for respondent in respondents().values():
        for key in respondent.keys:
            if (path == key or path.startswith(f"{key}.")) and len(key) > len(best):
                best, who = key, respondent.id
    return who
