"""Features of drive controls, one TOML file each: what calls for it, what contraindicates it, its words.

The same words serve the letter (justification, without), the guide (care), the plan (training) and the order.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from functools import cache, partial
from pathlib import Path
from typing import Any, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from docgen.case.files import text_of
from docgen.case.model import Case
from docgen.case.toml import read_toml
from docgen.errors import Problem, UserError, brief, did_you_mean
from docgen.fit.signs import SIGNS
from docgen.nearest import Entry, near_words
from docgen.terms import unknown

Where = Callable[..., str]  # key path of a case -> file:line

_FOLDER = Path(__file__).parent.parent / "features"
_MOST_BYTES, _MOST_PROBLEMS = 200_000, 100

# What a feature settles, in the order a therapist asks.
PartOf = Literal[
    "control",  # what drives the chair and how it senses
    "fitting",  # whether the part is reached, and what it must leave free
    "stop_behavior",  # what a command that ends does
    "speed",
    "reverse",
    "standby",
    "stop",
    "modes",
    "seat",
    "feedback",  # what the driver can hear, see and feel
    "mount",
    "devices",
    "electronics",
]
PARTS: tuple[PartOf, ...] = get_args(PartOf)

# What a feature brings into daily use: the guide speaks of it where one of the requested features is of that kind.
Kind = Literal[
    "pads",
    "side_pads",
    "breath",
    "stick",
    "fingers",
    "swing",  # swings out of the way
    "rest",
    "jobs",  # the control does more than drive
    "tilt",  # drives slower or not at all when tilted
    "shoe",
]


class Against(BaseModel):
    """A finding that speaks against a feature, and what could go wrong; `safety` marks a risk of injury.

    signs   signs of the trial (see signs.py) that bear the risk out; where one is seen, no answer makes up for it
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    finding: str
    risk: str = Field(min_length=1)
    safety: bool = False
    signs: tuple[str, ...] = ()


class Need(BaseModel):
    """Features that this one must not go without, one of which must be requested too.

    when     findings that bring the need, any one; empty when it is always there
    or_gap   site of the body where a measured gap at rest does as well
    risk     what could go wrong; `safety` marks a risk of injury
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    any_of: tuple[str, ...] = Field(min_length=1)
    when: tuple[str, ...] = ()
    or_gap: str = ""
    risk: str = Field(min_length=1)
    safety: bool = False


class TermSource(BaseModel):
    """Where a name is public, said beside it: what docgen/terms.toml says of the names that stand there.

    source  ids of the sources of that table, or the publication itself, in words
    read    whether its wording was read there; false where it is from memory
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    source: tuple[str, ...] = Field(min_length=1)
    read: bool = False


class SaidIf(BaseModel):
    """Words that hold of a client alone whose record has one of these courses of a diagnosis, or of these findings."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    says: str = Field(min_length=1)
    courses: tuple[str, ...] = ()
    findings: tuple[str, ...] = ()

    def holds(self, case: Case) -> bool:
        """Whether the record has one of them."""
        return any(diagnosis.course in self.courses for diagnosis in case.diagnoses) or any(
            finding.id in self.findings for finding in case.findings
        )


class Feature(BaseModel):
    """One feature. `id` is the name of its file, with `.value` where it is one value of several of that file.

    Trade facts carry their source or say that they have none.

    plain       its name in plain words, for the guide; empty where its name is plain already
    synonyms    what people say instead, for docgen find
    term_source where `name` is public; None where docgen/terms.toml says so
    kinds       what it brings into daily use, of which the guide then speaks
    grounded_by findings that are reason enough where it is asked for, and do not call for it in everyone who has them
    reason_in   features that are its reason where they are asked for too, so that no finding has to call for it
    for_whoever_is_near  it serves another's hand, and no finding of the client's has to call for it
    goes_with   features of which the control must have one for this to make sense; empty for any control
    needs       what it must not go without
    sites       sites of the body where it has a part whose place is to be recorded
    settings    drive settings it touches, ids of settings.toml
    codes       procedure codes it usually rests in
    said_if     words for the letter in place of `justification`, where the record has what they speak of
    until       last stage of training at which the words of `training` help: a drill for beginners is left out later
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    id: str
    name: str = Field(min_length=1)
    plain: str = ""
    synonyms: tuple[str, ...] = ()
    term_source: TermSource | None = None
    part: PartOf
    kinds: tuple[Kind, ...] = ()
    what: str = Field(min_length=1)
    reason_in: tuple[str, ...] = ()
    for_whoever_is_near: bool = False
    goes_with: tuple[str, ...] = ()
    called_for_by: tuple[str, ...]
    grounded_by: tuple[str, ...] = ()
    spoken_against_by: tuple[Against, ...] = ()
    needs: tuple[Need, ...] = ()
    sites: tuple[str, ...] = ()
    settings: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    trial: str = Field(min_length=1)
    justification: str = Field(min_length=1)
    said_if: tuple[SaidIf, ...] = ()
    without: str = Field(min_length=1)
    care: str = Field(min_length=1)
    training: str = Field(min_length=1)
    until: int = Field(default=8, ge=0, le=8)
    source: str = Field(min_length=1)

    @property
    def reasons(self) -> tuple[str, ...]:
        """Findings that are a reason to ask for it."""
        return (*self.called_for_by, *self.grounded_by)

    def fits(self, hosts: Collection[str]) -> bool:
        """Whether it makes sense on a control with these features."""
        return not self.goes_with or any(host in hosts for host in self.goes_with)

    def needs_no_finding(self, asked: Collection[str]) -> bool:
        """Whether it has its reason in who is near or in another feature asked for."""
        return self.for_whoever_is_near or any(other in asked for other in self.reason_in)

    def justified(self, case: Case) -> str:
        """Its words for the letter of this case: nothing of a change that the record does not expect."""
        return next((words.says for words in self.said_if if words.holds(case)), self.justification)

    @property
    def where(self) -> str:
        """The file that holds it, as named in problems."""
        return f"docgen/features/{self.id.partition('.')[0]}.toml"


def feature_entries() -> Iterator[Entry]:
    """Each feature as it is looked for by any word."""
    for key, feature in features().items():
        plain = (feature.plain,) if feature.plain else ()
        yield Entry("feature", key, feature.name, feature.what, (*plain, *feature.synonyms))


def unknown_feature(wrong: str) -> tuple[str, str]:
    """A clause for a feature that there is not, and the nearest of those there are."""
    clause, advice = unknown("features", "feature", wrong, features())
    return clause, near_words(wrong, feature_entries()) if clause.startswith("unknown ") else advice


def features() -> dict[str, Feature]:
    """Every feature by id, in order of id. Raises UserError naming the file and the mistake."""
    return _features_in(_FOLDER)


@cache
def _features_in(folder: Path) -> dict[str, Feature]:
    read: dict[str, Feature] = {}
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.toml")):
        try:
            read |= {feature.id: feature for feature in _features_of(path)}
        except UserError as failure:
            problems += failure.problems
    if problems:
        raise UserError(problems)
    return read


def problems_of(failure: ValidationError, where: Where) -> list[Problem]:
    """What is wrong with a file of data, each with its place."""
    return [
        Problem(where(*error["loc"]), f"{brief('.'.join(map(str, error['loc'])))}: {error['msg']}")
        for error in failure.errors()[:_MOST_PROBLEMS]
    ]


def _features_of(path: Path) -> Iterator[Feature]:
    """The feature of a file, or one for each of its `values`, which take over what the file says above them."""
    raw = read_toml(text_of(path, str(path), _MOST_BYTES), str(path))
    if "id" in raw.tables:
        raise UserError(
            [Problem(raw.where("id"), "unknown key 'id'", "The name of the file is the id of the feature.")]
        )
    shared = {key: value for key, value in raw.tables.items() if key != "values"}
    values = raw.tables.get("values", {})
    if not values:
        yield _feature(path.stem, shared, raw.where)
    for value, own in values.items():
        yield _feature(f"{path.stem}.{value}", {**shared, **own}, partial(raw.where, "values", value))


def _feature(feature_id: str, table: Mapping[str, Any], where: Where) -> Feature:
    try:
        feature = Feature.model_validate({**table, "id": feature_id})
    except ValidationError as failure:
        raise UserError(problems_of(failure, where)) from None
    if wrong := [
        Problem(where("spoken_against_by", at, "signs"), f"unknown sign '{brief(sign)}'", did_you_mean(sign, SIGNS))
        for at, against in enumerate(feature.spoken_against_by)
        for sign in against.signs
        if sign not in SIGNS
    ]:
        raise UserError(wrong)
    return feature
