"""The mounting record: which parts must be in it, and which figures look wrong. A doubt is a question, never a
refusal."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.mount import Mount
from docgen.case.who import Head
from docgen.fit.at_body import contradictions
from docgen.fit.match import Fit
from docgen.fit.overlap import overlaps
from docgen.months import whole_years

# Smallest and largest of 4082 men and 1986 women, soldiers of 17 to 58 years: a band of what is plausible in
# an adult, not of what is right for anyone. Source: ANSUR II, Gordon et al. 2014, NATICK/TR-15/007, public data.
ADULT_MM = {"width_mm": (131, 180), "length_mm": (168, 225), "circumference_mm": (500, 633)}
# A head of one year has 87.5% of its adult circumference and 87.1% of its length.
# Source: Farkas et al. 1992, Cleft Palate Craniofac J 29:303-308, abstract.
AT_ONE_YEAR = {"length_mm": 0.871, "circumference_mm": 0.875}
ADULT_AGE, CHILD_AGE = 17, 1
# The largest of the published normal ranges of the neck, each way.
# Source: AMA Guides, 5th edition, from memory.
NECK_DEG = {
    "forward_deg": 50,
    "back_deg": 60,
    "left_deg": 45,
    "right_deg": 45,
    "turn_left_deg": 80,
    "turn_right_deg": 80,
}
# Common practice, no source: beyond these a sensor seldom answers, or a pair looks like a slip of the pen.
SENSED_MM = 40
APART_MM = {"gap_mm": 15, "height_mm": 20}
# Common practice, no source: a head, a chin or a mouth is never so near the seat; less was written in inches or
# centimeters.
LEAST_HEIGHT_MM, LEAST_GAP_MM = 150, 1
# Common practice, no source: with the knee bent as far as a seat bends it, no heel is further under the seat.
UNDER_SEAT_MM = 80
# A bare foot is 0.152 of the height long. Source: Drillis and Contini 1966, as in Winter, Biomechanics and Motor
# Control of Human Movement, both from memory. How much a shoe may differ from it: common practice, no source.
FOOT_OF_HEIGHT = 0.152
SHOE_OF_FOOT = (0.9, 1.35)
AT_HEAD = ("head_back", "skull_base", "head_left", "head_right", "mouth", "chin", "cheek")

_MOVES = {
    "forward_deg": "bending forward",
    "back_deg": "bending back",
    "left_deg": "bending to the left",
    "right_deg": "bending to the right",
    "turn_left_deg": "turning to the left",
    "turn_right_deg": "turning to the right",
}
_SIZES = {"width_mm": "head width", "length_mm": "head length", "circumference_mm": "head circumference"}


class Doubt(Struct, frozen=True):
    """A figure to measure again: what looks wrong, in a sentence, and the keys it rests on."""

    says: str
    where: tuple[KeyPath, ...]


def sites_lacking(case: Case, fit: Fit) -> tuple[str, ...]:
    """Sites of the body where the requested features have a part and the mounting record has none."""
    recorded = {mount.site for mount in case.configuration.mounting}
    wanted = dict.fromkeys(site for chosen in fit.chosen for site in chosen.feature.sites)
    return tuple(site for site in wanted if site not in recorded)


def doubts(case: Case, fit: Fit) -> tuple[Doubt, ...]:
    """Every figure of the mounting record, the head and the neck that looks wrong."""
    mounts: dict[str, tuple[int, Mount]] = {
        mount.site: (index, mount) for index, mount in enumerate(case.configuration.mounting)
    }
    return (
        *_sizes(case),
        *_neck(case.client.head),
        *_gaps(case, fit, mounts),
        *_units(case),
        *_pair(mounts),
        *_in_one_place(case),
        *_reach(case.client.head, mounts),
        *_under_seat(case),
        *_room_for_shoe(case),
        *(Doubt(*contradiction) for contradiction in contradictions(case)),
    )


def _sizes(case: Case) -> Iterator[Doubt]:
    head, age = case.client.head, _age(case)
    for name, (low, high) in ADULT_MM.items():
        value, where = getattr(head, name), (("client", "head", name),)
        if value is None:
            continue
        if value > high:
            yield Doubt(f"The {_SIZES[name]} of {value:g} mm is above {high} mm, the largest of 6068 adults.", where)
        elif age is not None and age >= ADULT_AGE and value < low:
            yield Doubt(f"The {_SIZES[name]} of {value:g} mm is below {low} mm, the smallest of 6068 adults.", where)
        elif age is not None and age >= CHILD_AGE and name in AT_ONE_YEAR and value < low * AT_ONE_YEAR[name]:
            yield Doubt(f"The {_SIZES[name]} of {value:g} mm is small even for a child of one year.", where)


def _age(case: Case) -> int | None:
    born, on = case.client.born_on, case.dates.evaluated_on or case.request.requested_on
    return None if born is None or on is None else whole_years(born, on)


def _neck(head: Head) -> Iterator[Doubt]:
    for name, most in NECK_DEG.items():
        value = getattr(head, name)
        if value is not None and value > most:
            yield Doubt(
                f"For the neck, {_MOVES[name]} by {value:g} degrees is more than the usual full range of {most}.",
                (("client", "head", name),),
            )


# how a part says that it has no gap, after what is to be measured of each
NO_GAP = (
    "; one that touches the body at rest has touches = true, and one that has none says why: "
    'not_applicable = { gap_mm = "<why it has none>" }'
)


def can_have_gap(mount: Mount) -> bool:
    """Whether there can be room at rest between a part and the body: not where it is rested on, nor at a switch away
    from the head that a force presses."""
    pressed = mount.force_g is not None and mount.site not in AT_HEAD
    return not (mount.touches or pressed or any(entry.of == "gap_mm" for entry in mount.not_applicable))


def _gaps(case: Case, fit: Fit, mounts: dict[str, tuple[int, Mount]]) -> Iterator[Doubt]:
    near = fit.has("proximity_sensing")
    for site in ("head_back", "head_left", "head_right"):
        index, mount = mounts.get(site, (0, None))
        if mount is None or mount.gap_mm is None:
            continue
        where = (("configuration", "mounting", index, "gap_mm"),)
        if near and mount.gap_mm > SENSED_MM:
            yield Doubt(
                (
                    f"The {mount.part} is {mount.gap_mm:g} mm away; a proximity switch seldom responds "
                    f"beyond {SENSED_MM} mm."
                ),
                where,
            )
        if mount.gap_mm == 0 and not fit.has("standby"):
            yield Doubt(
                (
                    f"The {mount.part} touches at rest, and no standby is requested: the chair would drive as "
                    "soon as it wakes."
                ),
                where,
            )


def _units(case: Case) -> Iterator[Doubt]:
    """Lengths too small to be millimeters."""
    for index, mount in enumerate(case.configuration.mounting):
        if mount.gap_mm is not None and 0 < mount.gap_mm < LEAST_GAP_MM:
            yield Doubt(
                f"The gap of the {mount.part} is {mount.gap_mm:g} mm, less than anyone can see; is it in inches?",
                (("configuration", "mounting", index, "gap_mm"),),
            )
        if mount.site in AT_HEAD and mount.height_mm is not None and mount.height_mm < LEAST_HEIGHT_MM:
            yield Doubt(
                (
                    f"The {mount.part} is {mount.height_mm:g} mm above the seat, too low for a part at the "
                    "head; is it in inches?"
                ),
                (("configuration", "mounting", index, "height_mm"),),
            )


def _pair(mounts: dict[str, tuple[int, Mount]]) -> Iterator[Doubt]:
    if "head_left" not in mounts or "head_right" not in mounts:
        return
    (i, left), (j, right) = mounts["head_left"], mounts["head_right"]
    for name, most in APART_MM.items():
        a, b = getattr(left, name), getattr(right, name)
        if a is not None and b is not None and abs(a - b) > most:
            yield Doubt(
                (
                    f"The {left.part} and the {right.part} differ by {abs(a - b):g} mm in "
                    f"{name.removesuffix('_mm')}; say why under at."
                ),
                (("configuration", "mounting", i, name), ("configuration", "mounting", j, name)),
            )


def _in_one_place(case: Case) -> Iterator[Doubt]:
    parts = case.configuration.mounting
    for i, j, common_mm in overlaps(case):
        yield Doubt(
            f"The {parts[i].part} and the {parts[j].part} overlap by {common_mm:g} mm where the record puts them.",
            (("configuration", "mounting", i), ("configuration", "mounting", j)),
        )


def _reach(head: Head, mounts: dict[str, tuple[int, Mount]]) -> Iterator[Doubt]:
    """A side pad that the neck cannot bend to."""
    for site, name in (("head_left", "left_deg"), ("head_right", "right_deg")):
        bends, turns = getattr(head, name), getattr(head, f"turn_{name}")
        if site in mounts and bends == 0 and not turns:
            index, mount = mounts[site]
            yield Doubt(
                f"The {mount.part} is where the neck is recorded not to move.",
                (("client", "head", name), ("configuration", "mounting", index)),
            )


def _under_seat(case: Case) -> Iterator[Doubt]:
    """A part at a foot that stands where no foot comes: far under the seat."""
    seat = case.configuration.chair.seat_depth_mm
    for index, mount in enumerate(case.configuration.mounting):
        if seat is None or mount.site != "foot" or mount.depth_mm is None:
            continue
        if (under := seat - mount.depth_mm) > UNDER_SEAT_MM:
            yield Doubt(
                (
                    f"The {mount.part} is {under:g} mm under the seat, behind its front edge (seat depth {seat:g} mm); "
                    "a foot seldom comes there."
                ),
                (
                    ("configuration", "mounting", index, "depth_mm"),
                    ("configuration", "chair", "seat_depth_mm"),
                ),
            )


def _room_for_shoe(case: Case) -> Iterator[Doubt]:
    """Parts before and behind a foot that leave room for no shoe of this person."""
    height, to_body = case.client.height_mm, case.configuration.measured_from.point != "face"
    if height is None:
        return
    foot = FOOT_OF_HEIGHT * height
    at_foot = [
        (index, mount, mount.depth_mm)
        for index, mount in enumerate(case.configuration.mounting)
        if mount.site == "foot" and mount.depth_mm is not None
    ]
    for i, front, front_mm in at_foot:
        for j, back, back_mm in at_foot:
            if (front.side, back.side) != ("front", "back") or front.limb != back.limb:
                continue
            room = front_mm - back_mm - (front.gap_mm or 0) - (back.gap_mm or 0)
            if to_body:  # half of each body lies between the centers too
                room -= ((front.wide_mm or 0) if front.shape == "round" else (front.thick_mm or 0)) / 2
                room -= (back.thick_mm or 0) / 2
            if not SHOE_OF_FOOT[0] * foot <= room <= SHOE_OF_FOOT[1] * foot:
                yield Doubt(
                    (
                        f"Between the {back.part} and the {front.part} there are {room:.0f} mm for a shoe; a foot at a "
                        f"height of {height:g} mm is about {foot:.0f} mm long."
                    ),
                    (
                        ("configuration", "mounting", i, "depth_mm"),
                        ("configuration", "mounting", j, "depth_mm"),
                        ("client", "height_mm"),
                    ),
                )
