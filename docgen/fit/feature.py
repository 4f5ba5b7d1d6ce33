"""Features of drive controls, one TOML file each: what calls for it, what speaks against it, its words.

The same words serve the letter (justification, without), the guide (care), the plan (training) and the order.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from docgen.errors import Problem, UserError

_FOLDER = Path(__file__).parent.parent / "features"


class Against(BaseModel):
    """A finding that speaks against a feature, and what could go wrong; `safety` marks a risk of injury."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    finding: str
    risk: str = Field(min_length=1)
    safety: bool = False


class Feature(BaseModel):
    """One feature. `id` is the name of its file; trade facts carry their source or say that they have none."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: str
    name: str = Field(min_length=1)
    what: str = Field(min_length=1)
    called_for_by: tuple[str, ...]
    spoken_against_by: tuple[Against, ...] = ()
    trial: str = Field(min_length=1)
    justification: str = Field(min_length=1)
    without: str = Field(min_length=1)
    care: str = Field(min_length=1)
    training: str = Field(min_length=1)
    source: str = Field(min_length=1)

    @property
    def where(self) -> str:
        """The file that holds it, as named in problems."""
        return f"docgen/features/{self.id}.toml"


@cache
def features(folder: Path = _FOLDER) -> dict[str, Feature]:
    """Every feature by id, in order of id. Raises UserError naming the file and the mistake."""
    found: dict[str, Feature] = {}
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.toml")):
        try:
            found[path.stem] = Feature(id=path.stem, **tomllib.loads(path.read_text(encoding="utf-8")))
        except tomllib.TOMLDecodeError as failure:
            problems.append(Problem(str(path), f"is not valid TOML: {failure}"))
        except ValidationError as failure:
            problems += [Problem(str(path), f"{'.'.join(map(str, e['loc']))}: {e['msg']}") for e in failure.errors()]
    if problems:
        raise UserError(problems)
    return found
