"""A device on a shelf and the shelf itself, as a clinic writes them down. What an entry does not state is unknown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from functools import cached_property
from typing import Annotated, Literal, get_args

from msgspec import Struct
from pydantic import BaseModel, ConfigDict, Field

from docgen.case.base import FeatureId, Id, Words
from docgen.case.tried import ControlKind
from docgen.fit.feature import Feature, features

FORMAT = "docgen shelf 1"
Site = Literal["hand", "head", "chin", "mouth", "foot", "elsewhere"]
Checked = Literal["owners_manual", "supplier", "tried_here"]
_SITE_OF_PART = {"skull": "head"}  # first word of a part's site in a feature -> site of the body, where they differ

_Number = Annotated[float, Field(ge=0, le=100_000, allow_inf_nan=False)]
_Count = Annotated[int, Field(ge=0, le=100)]
_Features = Annotated[tuple[FeatureId, ...], Field(max_length=60)]
_Notes = Annotated[tuple[Words, ...], Field(max_length=20)]


class Device(BaseModel):
    """One control that can be borrowed. `id` is the name of its table.

    name       what the clinic calls it
    sites      sites of the body that drive it
    drives     every feature of what drives it and how it senses; None when that is not known
    has        features that it always has; can_have: that it has or not, as it is set up; has_not: that it lacks
    choices    lists of features, of each of which one is set up, such as momentary or latched drive
    answers    finding -> how this device answers that it is a contraindication
    force_g    force to act; `travel_mm` travel, `sensing_mm` distance at which it senses, `range_deg` angle it takes
    adds_width_mm  what it adds to the width of the chair
    feedback_can_be_off  whether its sounds and lights can be turned off
    program    settings of it that can be programmed, ids of settings.toml
    checked_on, checked_from  when it was checked, and against what
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Id
    name: Words
    kind: ControlKind
    sites: tuple[Site, ...] = Field(min_length=1, max_length=6)
    drives: _Features | None = None
    has: _Features = ()
    can_have: _Features = ()
    has_not: _Features = ()
    choices: tuple[Annotated[tuple[FeatureId, ...], Field(min_length=1, max_length=10)], ...] = Field((), max_length=20)
    answers: Mapping[Id, Words] = Field(default_factory=dict)
    parts: _Count | None = None
    switches: _Count | None = None
    force_g: _Number | None = None
    travel_mm: _Number | None = None
    sensing_mm: _Number | None = None
    range_deg: _Number | None = None
    size_mm: tuple[_Number, ...] = Field((), max_length=3)
    adds_width_mm: _Number | None = None
    feedback_can_be_off: bool | None = None
    program: tuple[Id, ...] = Field((), max_length=60)
    outputs: _Notes = ()
    mounts: _Notes = ()
    electronics: Words | None = None
    limits: _Notes = ()
    codes: tuple[Annotated[str, Field(pattern=r"^[A-Z][0-9]{4}$")], ...] = Field((), max_length=20)
    lent_by: Words | None = None
    checked_on: date | None = None
    checked_from: Checked | None = None

    @property
    def order_of_proof(self) -> int:
        """Place of its kind among the kinds of control, simplest first."""
        return get_args(ControlKind).index(self.kind)

    def stated(self) -> Iterator[tuple[tuple[str | int, ...], str]]:
        """Each feature that the entry names, with its place in the entry."""
        for key in ("drives", "has", "can_have", "has_not"):
            for at, feature in enumerate(getattr(self, key) or ()):
                yield (key, at), feature
        for at, choice in enumerate(self.choices):
            for inner, feature in enumerate(choice):
                yield ("choices", at, inner), feature


class Stated(Struct, frozen=True):
    """What an entry and its shelf state of a device.

    always    features that it has whatever is set up
    optional  features that can be had or left off
    unknown   features that go with it and of which nobody has said whether it has them
    """

    always: frozenset[str]
    optional: frozenset[str]
    unknown: tuple[str, ...]
    sites: frozenset[str]


class Shelf(BaseModel):
    """What a clinic can borrow.

    with_any   features that any device here can have: parts of the chair and its electronics; an entry may differ
    with_none  features that no device here has unless its entry says so
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    format: Literal["docgen shelf 1"]
    name: Words = "the shelf"
    with_any: _Features = ()
    with_none: _Features = ()
    devices: Mapping[str, Device] = Field(min_length=1, max_length=1000)

    @cached_property
    def stands(self) -> Mapping[str, Stated]:
        """Of each device what it has, can have, and what nobody has said of it."""
        return {name: self._stated(device) for name, device in self.devices.items()}

    def _stated(self, device: Device) -> Stated:
        named = {feature for _, feature in device.stated()}
        possible = {name for name in features() if name in device.has or goes_with(device, name, named)}
        besides = {name for name in self.with_any if name not in named}
        known = named | {*self.with_any, *self.with_none}
        return Stated(
            always=frozenset(device.has) | frozenset(device.drives or ()),
            optional=frozenset(possible & (besides | {*device.can_have})),
            unknown=tuple(
                name for name in features() if name in possible - known and features()[name].part != "control"
            ),
            sites=frozenset(device.sites),
        )


def goes_with(device: Device, feature_id: str, named: set[str]) -> bool:
    """Whether a feature makes sense on a device at all: with one of its hosts, and at its sites."""
    feature = features()[feature_id]
    sites = sites_of(feature)
    return (feature.fits(named) or device.drives is None) and (not sites or bool(sites & {*device.sites}))


def sites_of(feature: Feature) -> frozenset[str]:
    """Sites of the body at which a feature has a part; empty where it says none."""
    return frozenset(map(site_of_part, feature.sites))


def site_of_part(site: str) -> str:
    """The site of the body at which a part of a control stands: head of head_left."""
    word = site.partition("_")[0]
    return _SITE_OF_PART.get(word, word)
