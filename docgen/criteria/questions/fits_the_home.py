"""The chair passes the doors and thresholds and turns in the rooms of the home, as measured.

Asks: Whether the home was measured, and whether this chair with this control passes and turns there.
Why a payer asks: The usual environment must support the chair; a chair that does not pass the bathroom door is refused.
What settles it: clear_width_mm and threshold_mm of each door, turning_mm of each room and floor of each place at home, the chair's width, turning circle and what it climbs, the date of the visit.
Source: US national coverage decision 280.3, question 6; L33789 criterion M and the on-site home report: layout, door widths, thresholds, surfaces.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.sentences import capital, day, listed

HEADING = "safety"
CLAIM = "The chair fits the home as measured"
SETTINGS = {"least_side_mm": 0.0}


def answer(grounds: Grounds, least_side_mm: float) -> Answer:
    case, evidence = grounds.case, grounds.evidence
    home = [(i, s) for i, s in enumerate(case.spaces) if s.at_home]
    doors = [(i, s) for i, s in home if s.kind == "doorway"]
    unmeasured = [(i, s) for i, s in doors if s.clear_width_mm is None]
    stepped = [(i, s) for i, s in doors if s.threshold_mm is None]
    bare = [(i, s) for i, s in home if s.floor is None]
    highest = max((s.threshold_mm or 0.0 for _, s in home), default=0.0)
    chair, at_chair = case.configuration.chair, ("configuration", "chair")
    # what is not recorded, where it belongs, and how it is written
    lacking = [gap for gap, there in (
        (("a door of the home with its clear width", [("spaces",)], "clear_width_mm <mm> of a doorway in [[spaces]]"), doors),
        ((f"the clear width of the {listed(s.name for _, s in unmeasured)}", [("spaces", i) for i, _ in unmeasured], "clear_width_mm <mm> of the doorway"),
         not unmeasured),
        (("a room of the home with the free floor to turn on", [("spaces",)], "turning_mm <mm> of a room in [[spaces]]"),
         [s for _, s in home if s.turning_mm is not None]),
        ((f"the threshold of the {listed(s.name for _, s in stepped)}", [("spaces", i) for i, _ in stepped], "threshold_mm <mm> of the doorway, 0 for none"),
         not stepped),
        ((f"the floor of the {listed(s.name for _, s in bare)}", [("spaces", i) for i, _ in bare], "floor of each place at home"), not bare),
        (("how high a threshold the chair takes", [at_chair], "configuration.chair.climbs_mm <mm>"), chair.climbs_mm is not None or not highest),
        (("the chair's turning circle", [at_chair], "configuration.chair.turning_mm <mm>"), evidence.of("turning_circle") is not None),
        (("the chair's overall width", [at_chair], "configuration.chair.width_mm <mm>"), chair.width_mm is not None),
        (("the date of the home visit", [("dates",)], "dates.home_visit_on <date>"), case.dates.home_visit_on is not None)) if not there]
    tight = [(i, s, f) for i, s in home if (f := evidence.of("margin", s.id)) and f.value < least_side_mm]
    if tight:
        index, space, fact = tight[0]
        return not_met(f"The {space.name} is {space.clear_width_mm:g} mm clear and the chair {case.configuration.chair.width_mm:g} mm wide: "
                       f"{fact.value:g} mm on each side.", ("spaces", index), facts=(fact.id,), mend="Choose a narrower chair, or have the door widened.")
    turning = [(i, s, f) for i, s in home if (f := evidence.of("spare_turning", s.id)) and f.value < 0]
    if turning:
        index, space, fact = turning[0]
        return not_met(f"The chair needs {-fact.value:g} mm more than the {space.name} gives to turn.", ("spaces", index), facts=(fact.id,),
                       mend="Record how it turns there otherwise, or choose a chair with a smaller turning circle.")
    steep = [(i, s) for i, s in home if chair.climbs_mm is not None and (s.threshold_mm or 0.0) > chair.climbs_mm]
    if steep:
        index, space = steep[0]
        return not_met(f"The threshold of the {space.name} is {space.threshold_mm:g} mm high and the chair takes {chair.climbs_mm:g} mm.", ("spaces", index),
                       ("configuration", "chair", "climbs_mm"), mend="Have the threshold ramped, or choose a chair that takes it.")
    if lacking:
        return cannot_tell(f"Not recorded: {listed(words for words, _, _ in lacking)}.", *dict.fromkeys(place for _, places, _ in lacking for place in places),
                           mend=f"Fill in {listed(how for _, _, how in lacking)}.")
    margins = [(f.value, s, i) for i, s in home if (f := evidence.of("margin", s.id))]
    least, space, index = min(margins, key=lambda m: m[0])
    return met(f"{capital('the home')} was measured on {day(case.dates.home_visit_on)}; the tightest place is the {space.name}, "
               f"{space.clear_width_mm:g} mm clear, with {least:g} mm on each side.", ("spaces", index),
               facts=tuple(f"margin.{s.id}" for _, s, _ in margins))
