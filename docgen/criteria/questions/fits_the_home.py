"""The chair passes the doors and thresholds and turns in the rooms of the home, as measured.

Asks: Whether the home was measured, the way from room to room too, and whether this chair with this control passes and
    turns there; where the hall in front of a door is too narrow to turn in, whether it goes straight on from that door.
    A hall so narrow leaves it met in part: the quarter turn out of it was not driven.
Why a payer asks: The usual environment must support the chair; a chair that does not pass the bathroom door is denied.
What settles it: clear_width_mm and threshold_mm of each door, turning_mm of each room and floor of each place at home,
    hall_mm, across and across_tried of a door, inside_width_mm and inside_depth_mm of an elevator, not_measured and
    between_rooms of the client where a room, a door or the way between rooms was left out, the chair's length, width,
    turning diameter and what it climbs, the date of the visit.
Source: US national coverage determination 280.3, question 6; L33789 criterion M and the on-site home report: layout,
    door widths, thresholds, surfaces.
"""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.need import Space
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.lacking import recorded
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.sentences import day, listed
from docgen.criteria.ways_out import (
    backing_tried,
    cannot_turn,
    floor_mm,
    goes_straight_across,
    has_narrow_hall,
    is_entered,
    turning_tried,
)
from docgen.evidence.fact import Fact
from docgen.grammar import with_verb
from docgen.units import length, spare

HEADING = "safety"
CLAIM = "The chair fits the home as measured"
SHOWN_IN = (
    "letter: Safety and Home Environment",
    "order: Home Accessibility Measurements",
)
NOT_FOR = ("control_only",)
SETTINGS = {"least_side_mm": 0.0}

Placed = tuple[int, Space]
_Lack = tuple[str, list[KeyPath], tuple[str, str]]


def answer(grounds: Grounds, least_side_mm: float) -> Answer:
    case = grounds.case
    home = [(i, space) for i, space in enumerate(case.spaces) if space.at_home]
    if too_small := (
        _too_narrow(grounds, home, least_side_mm)
        or _no_turn(grounds, home)
        or _too_high(case, home)
        or _no_room_inside(case, home)
    ):
        return too_small
    if lacking := [*_lacking(grounds, home)]:
        return cannot_tell(
            f"Not recorded: {listed(words for words, _, _ in lacking)}.",
            *dict.fromkeys(place for _, places, _ in lacking for place in places),
            mend=_mend(case, lacking),
        )
    margins = _measured(grounds, home, "margin")
    narrow = [space for _, space in home if has_narrow_hall(case, space)]
    shut_in = "".join(_quarter_turn(space) if goes_straight_across(space) else _shut_in(space) for space in narrow)
    open_ = _backing_open(case, home) + shut_in + _unmeasured(case) + _between_rooms(case, home)
    turns = _turns_to_come_out(case, home)
    if turns and not turning_tried(case):
        open_ = f" Turning in place was not tried.{open_}"
    index, space, _, _ = min(margins, key=lambda margin: margin[-1])
    margin_mm = recorded(space.clear_width_mm) - recorded(case.configuration.chair.width_mm)
    return met(
        f"The home visit was on {day(recorded(case.dates.home_visit_on))}; the tightest place measured is the "
        f"{space.name}, {length(recorded(space.clear_width_mm), 'down')} clear, "
        f"with {spare(margin_mm / 2)} on each side."
        f"{turns}{_straight_across(home)}{open_}",
        ("spaces", index),
        facts=tuple(fact.id for _, _, fact, _ in margins),
        limit="in_part" if open_ else "worked_out" if turns else "",
    )


def _backing_open(case: Case, home: list[Placed]) -> str:
    """A sentence on the places that the chair must back out of, where no task of the trial was to back up; or empty."""
    if case.configuration.backs is not True or backing_tried(case):
        return ""
    ways = [
        *home,
        *((i, space) for i, space in enumerate(case.spaces) if space.kind == "elevator" and not space.at_home),
    ]
    names = [space.name for _, space in ways if cannot_turn(case, space)]
    if not names:
        return ""
    return f" In these places no floor to turn on is recorded, and backing out was not tried: {listed(names)}."


def _turns_to_come_out(case: Case, home: list[Placed]) -> str:
    """A sentence on the places that a chair without reverse can leave only by turning there; or empty."""
    circle_mm = case.configuration.chair.turning_mm
    if case.configuration.backs is not False or circle_mm is None:
        return ""
    floors = [(space.name, floor_mm(space)) for _, space in home if is_entered(space)]
    turned = [f"at the {name} with {spare((floor - circle_mm) / 2)} on each side" for name, floor in floors if floor]
    return f" Without reverse it comes out by turning inside, as measured: {listed(turned)}." if turned else ""


def _straight_across(home: list[Placed]) -> str:
    """Sentences on the doors from which the way straight across the hall was tried; or empty."""
    ways = [space for _, space in home if space.hall_mm and goes_straight_across(space)]
    return "".join(
        f" Across the hall of {length(recorded(space.hall_mm), 'down')} a door is opposite the {space.name}: "
        f"“{recorded(space.across_tried).rstrip('. ')}”."
        for space in ways
    )


def _quarter_turn(space: Space) -> str:
    """A sentence on a hall too narrow to turn in, which the chair crosses from door to door."""
    return f" That hall is too narrow to turn in, and the quarter turn between it and the {space.name} was not driven."


def _shut_in(space: Space) -> str:
    """A sentence on a door from which the chair cannot turn in the hall, and is not known to go straight on."""
    why = {
        "door": "no try of the way straight across to the door there is recorded",
        "wall": "no door is straight across",
        None: "whether a door is straight across is not recorded",
    }[space.across]
    wide = length(recorded(space.hall_mm), "down")
    return f" The hall at the {space.name} is {wide} wide, too narrow to turn in, and {why}."


def _unmeasured(case: Case) -> str:
    """A sentence on what of the home was not measured; or empty where nothing is said of it."""
    rooms = listed(case.client.not_measured)
    return f" Not measured: {rooms}." if rooms else ""


def _between_rooms(case: Case, home: list[Placed]) -> str:
    """A sentence where two rooms of the home are measured and nothing is told of the way from one to the other; or
    empty."""
    rooms = [space for _, space in home if space.kind in ("doorway", "turning")]
    if len(rooms) < 2 or case.client.between_rooms or any(space.kind == "corridor" for _, space in home):
        return ""
    return " The way from one room to the other is not recorded."


def _mend(case: Case, lacking: list[_Lack]) -> Mend:
    """What to fill in of each place that lacks it; a room or a door that no place is stands as an entry to add."""
    whole = fill_in(dict(form for _, _, form in lacking))
    if not case.spaces:
        return whole
    fill: list[str] = []
    add: list[NewEntry] = []
    for _, places, (key, _) in lacking:
        for place in places:
            if "." in key:
                fill.append(key)
            elif len(place) > 1:
                fill.append(f"{place[0]}.{place[1]}.{key}")
            else:
                kind = "turning" if key == "turning_mm" else "doorway"
                add.append(NewEntry("spaces", (key,), (("kind", f'"{kind}"'), ("at_home", "true"))))
    return Mend(whole.say, fill=tuple(dict.fromkeys(fill)), add=tuple(add))


def _measured(grounds: Grounds, home: list[Placed], name: str) -> list[tuple[int, Space, Fact, float]]:
    """Places of the home for which a fact is worked out, with the fact and its value in mm."""
    facts = [(i, space, grounds.evidence.of(name, space.id)) for i, space in home]
    return [(i, space, fact, fact.value) for i, space, fact in facts if fact and fact.value is not None]


def _too_narrow(grounds: Grounds, home: list[Placed], least_side_mm: float) -> Answer | None:
    for index, space, fact, margin in _measured(grounds, home, "margin"):
        if margin < least_side_mm:
            width = recorded(grounds.case.configuration.chair.width_mm)
            return not_met(
                f"The {with_verb(space.name, 'is')} {length(recorded(space.clear_width_mm), 'down')} clear and "
                f"the chair {length(width, 'up')} wide: {length(margin, 'down')} on each side.",
                ("spaces", index),
                facts=(fact.id,),
                mend="Choose a narrower chair, or have the door widened.",
            )
    return None


def _no_turn(grounds: Grounds, home: list[Placed]) -> Answer | None:
    for index, space, fact, more_mm in _measured(grounds, home, "spare_turning"):
        if more_mm < 0:
            return not_met(
                f"The chair needs {length(-more_mm, 'up')} more than the {with_verb(space.name, 'gives')} to turn.",
                ("spaces", index),
                facts=(fact.id,),
                mend="Record how it turns there otherwise, or choose a chair with a smaller turning diameter.",
            )
    return None


def _too_high(case: Case, home: list[Placed]) -> Answer | None:
    climbs = case.configuration.chair.climbs_mm
    for index, space in home:
        if climbs is not None and space.threshold_mm is not None and space.threshold_mm > climbs:
            return not_met(
                (
                    f"The threshold of the {space.name} is {length(space.threshold_mm, 'up')} high and the chair "
                    f"takes {length(climbs, 'down')}."
                ),
                ("spaces", index),
                ("configuration", "chair", "climbs_mm"),
                mend="Have the threshold ramped, or choose a chair that takes it.",
            )
    return None


def _no_room_inside(case: Case, home: list[Placed]) -> Answer | None:
    """Not met where the chair is longer or wider than the inside of an elevator, as far as both were measured."""
    chair = case.configuration.chair
    for index, space in home:
        for inside, size, way in (
            (space.inside_depth_mm, chair.length_mm, "deep"),
            (space.inside_width_mm, chair.width_mm, "wide"),
        ):
            if inside is not None and size is not None and size > inside:
                return not_met(
                    f"The {with_verb(space.name, 'is')} {length(inside, 'down')} {way} inside, and the chair takes "
                    f"{length(size, 'up')} of it.",
                    ("spaces", index),
                    ("configuration", "chair", "length_mm" if way == "deep" else "width_mm"),
                    mend="Choose a chair that fits in, or record another way to that floor.",
                )
    return None


def _lacking(grounds: Grounds, home: list[Placed]) -> Iterator[_Lack]:
    """What is not recorded, where it belongs, and its key with the form it has."""
    yield from _of_places(
        [(i, s) for i, s in enumerate(grounds.case.spaces) if s.at_home is None],
        "answer whether it is in the home",
        ("at_home", "<true or false> of the place"),
    )
    yield from _lacking_of_home(home)
    yield from _lacking_of_chair(grounds, home)
    if grounds.case.dates.home_visit_on is None:
        yield "the date of the home visit", [("dates",)], ("dates.home_visit_on", "<date>")


def _of_places(lacking: list[Placed], what: str, form: tuple[str, str]) -> Iterator[_Lack]:
    if lacking:
        yield f"the {what} of the {listed(s.name for _, s in lacking)}", [("spaces", i) for i, _ in lacking], form


def _lacking_of_home(home: list[Placed]) -> Iterator[_Lack]:
    """What is not measured of doors, rooms and floors."""
    doors = [(i, s) for i, s in home if s.kind == "doorway"]
    if not doors:
        yield (
            "a door of the home with its clear width",
            [("spaces",)],
            ("clear_width_mm", "<mm> of a doorway in [[spaces]]"),
        )
    yield from _of_places(
        [(i, s) for i, s in doors if s.clear_width_mm is None], "clear width", ("clear_width_mm", "<mm> of the doorway")
    )
    if all(s.turning_mm is None for _, s in home):
        rooms: list[KeyPath] = [("spaces", i) for i, s in home if s.kind == "turning"]
        yield (
            "a room of the home with the free floor to turn on",
            rooms or [("spaces",)],
            ("turning_mm", "<mm> of a room in [[spaces]]"),
        )
    yield from _of_places(
        [(i, s) for i, s in doors if s.threshold_mm is None],
        "threshold",
        ("threshold_mm", "<mm> of the doorway, 0 for none"),
    )
    for key, size in (("inside_depth_mm", "depth inside"), ("inside_width_mm", "width inside")):
        lifts = [(i, s) for i, s in home if s.kind == "elevator" and getattr(s, key) is None]
        yield from _of_places(lifts, size, (key, "<mm> of the elevator"))
    yield from _of_places([(i, s) for i, s in home if s.floor is None], "floor", ("floor", "of each place at home"))


def _lacking_of_chair(grounds: Grounds, home: list[Placed]) -> Iterator[_Lack]:
    """What the places of this home ask for and is not measured of the chair."""
    case = grounds.case
    at_chair: list[KeyPath] = [("configuration", "chair")]
    if any(s.threshold_mm for _, s in home) and case.configuration.chair.climbs_mm is None:
        yield "how high a threshold the chair takes", at_chair, ("configuration.chair.climbs_mm", "<mm>")
    if grounds.evidence.of("turning_circle") is None:
        yield "the chair's turning diameter", at_chair, ("configuration.chair.turning_mm", "<mm>")
    if any(s.inside_depth_mm for _, s in home) and case.configuration.chair.length_mm is None:
        yield "the chair's overall length", at_chair, ("configuration.chair.length_mm", "<mm>")
    if case.configuration.chair.width_mm is None:
        yield "the chair's overall width", at_chair, ("configuration.chair.width_mm", "<mm>")
