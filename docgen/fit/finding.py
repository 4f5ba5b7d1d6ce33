"""The vocabulary of findings, one TOML file each in docgen/findings: what it means, and what to record for it.

Common practice, no source, throughout.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from docgen.case.files import text_of
from docgen.case.model import Case
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError
from docgen.fit.feature import TermSource, Where, problems_of
from docgen.nearest import Entry, near_words

# A finding that the vocabulary has no word for; no feature is called for by it, an item may still answer it.
OWN = "own_"
_FOLDER = Path(__file__).parent.parent / "findings"
_MOST_BYTES = 20_000


class Meaning(BaseModel):
    """A finding: its clinical name, what it means, and what to measure or count for it.

    name   as a professional document has it; the guide keeps `says`
    term_source  where `name` is public; None where docgen/terms.toml says so
    synonyms  what people say instead, for docgen find
    able   marks a movement to use, not a need to meet
    danger left without an answer, it can hurt the client or others
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    name: str = Field(min_length=1)
    term_source: TermSource | None = None
    says: str = Field(min_length=1)
    record: str = Field(min_length=1)
    synonyms: tuple[str, ...] = ()
    able: bool = False
    danger: bool = False


def vocabulary() -> dict[str, Meaning]:
    """Every finding by id, which is the name of its file. Raises UserError naming the file and the mistake."""
    return _meanings_in(_FOLDER)


@cache
def _meanings_in(folder: Path) -> dict[str, Meaning]:
    return {path.stem: _meaning(path) for path in sorted(folder.glob("*.toml"))}


def _meaning(path: Path) -> Meaning:
    raw = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    try:
        return Meaning.model_validate(raw.tables)
    except ValidationError as failure:
        raise UserError(problems_of(failure, raw.where)) from None


def finding_entries() -> Iterator[Entry]:
    """Each finding as it is looked for by any word."""
    return (Entry("finding", key, m.name, m.says, m.synonyms) for key, m in vocabulary().items())


def finding_name(finding: str) -> str:
    """The clinical name of a finding; the id in words for one of the case's own."""
    known = vocabulary().get(finding)
    return known.name if known else finding.replace("_", " ")


def is_ability(finding: str) -> bool:
    """Whether a finding is a movement that can be used, and not a need."""
    return finding in vocabulary() and vocabulary()[finding].able


def can_hurt(finding: str) -> bool:
    """Whether a finding that nothing answers can hurt someone."""
    return finding in vocabulary() and vocabulary()[finding].danger


def unknown_findings(case: Case, where: Where) -> list[Problem]:
    """A problem for each finding of the case that the vocabulary does not hold, with the nearest that it does."""
    return [*_unknown(case, where), *_own_amiss(case, where)]


def _unknown(case: Case, where: Where) -> Iterator[Problem]:
    known = vocabulary()
    for index, finding in enumerate(case.findings):
        if finding.id not in known and not finding.own and not finding.id.startswith(OWN):
            near = near_words(finding.id, finding_entries())
            yield Problem(
                where("findings", index, "id"),
                f"unknown finding '{finding.id}'",
                f"{near} Where none fits, write own = true beside it.",
            )


def _own_amiss(case: Case, where: Where) -> Iterator[Problem]:
    """A finding of one's own by a word that has a meaning already, or what it calls for without saying that it is."""
    known = vocabulary()
    for index, finding in enumerate(case.findings):
        if finding.own and finding.id in known:
            yield Problem(
                where("findings", index, "own"),
                f"'{finding.id}' is a word of the vocabulary: {known[finding.id].says.rstrip('.')}",
                "Leave own out, or give your finding another id.",
            )
        for key in ("calls_for", "speaks_against"):
            if getattr(finding, key) and not finding.own:
                yield Problem(
                    where("findings", index, key),
                    f"{key} is of a finding of one's own, and '{finding.id}' is not marked as one",
                    "Write own = true beside it, or leave it out.",
                )
