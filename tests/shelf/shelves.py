"""Small shelves and clients for the tests of the matcher, drawn cheaply, and what they are made of."""

from __future__ import annotations

from hypothesis import strategies as st

from docgen.fit.feature import features
from docgen.fit.finding import vocabulary
from docgen.shelf.client import client
from docgen.shelf.device import Device, Shelf
from docgen.shelf.match import Match, match

BASES = (
    ("stick_by_hand", ("hand",), ("proportional_control", "joystick_position")),
    ("finger_switches", ("hand",), ("nonproportional_control", "finger_switch_array")),
    ("head_control", ("head",), ("nonproportional_control", "head_array", "proximity_sensing")),
    ("foot_control", ("foot",), ("nonproportional_control", "foot_site")),
)
BESIDES = tuple(name for name, feature in features().items() if feature.part != "control")
# those that are left open in turn: each helps some clients and harms or speaks against others
OPEN = ("standby", "latched_drive", "stop_switch", "swing_away_mount", "auditory_feedback", "momentary_drive")
MOVES = ("hand_tremor", "finger_isolated", "head_three_way", "foot_ungraded")
WORDS = (*MOVES, *sorted(set(vocabulary()) - {*MOVES, "hand_none", "foot_none"}))


def device(name: str, base: int, has=(), can_have=(), unknown=(), answers=None) -> Device:
    """A device of which all is stated but what is unknown; what is neither had nor unknown it has not."""
    kind, sites, drives = BASES[base]
    named = {*has, *can_have, *unknown}
    return Device(
        id=name,
        name=f"device {name}",
        kind=kind,
        sites=sites,
        drives=drives,
        has=tuple(has),
        can_have=tuple(can_have),
        has_not=tuple(other for other in BESIDES if other not in named),
        answers=answers or {},
    )


def shelf(*devices: Device, with_any=()) -> Shelf:
    return Shelf(format="docgen shelf 1", devices={each.id: each for each in devices}, with_any=with_any)


def held(findings, shelf: Shelf, known=None) -> Match:
    return match(client(tuple(findings), known or features()), shelf)


@st.composite
def devices(draw, most: int = 4, most_unknown: int = 0):
    """Devices with up to so many features unknown each, by name a, b, ..."""
    drawn = []
    for at in range(draw(st.integers(1, most))):
        states = draw(st.lists(st.sampled_from("hcn"), min_size=len(OPEN), max_size=len(OPEN)))
        unknown = draw(st.lists(st.sampled_from(OPEN), max_size=most_unknown, unique=True)) if most_unknown else []
        of = {
            state: [name for name, s in zip(OPEN, states, strict=True) if s == state and name not in unknown]
            for state in "hc"
        }
        drawn.append(device("abcdefgh"[at], draw(st.integers(0, 3)), of["h"], of["c"], unknown))
    return drawn


findings = st.lists(st.sampled_from(WORDS), min_size=1, max_size=6, unique=True).map(lambda drawn: [*MOVES, *drawn])


def stages(result: Match) -> dict[str, str]:
    return {name: judged.stage for name, judged in result.devices.items()}


def layer_of(result: Match, name: str) -> int | None:
    return next((at for at, layer in enumerate(result.layers) if name in layer), None)


def outcome(result: Match) -> object:
    """All that a reader is told, whatever the order of anything."""
    return (
        stages(result),
        [set(layer) for layer in result.layers],
        [set(layer) for layer in result.layers_if_good],
        set(result.leads),
        set(result.may_lead),
        set(result.open_needs),
        {name: set(asked) for name, asked in result.questions.items()},
    )
