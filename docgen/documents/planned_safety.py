"""What keeps a planned trial safe, in words: what is not filled in yet, speeds, gaps, holds, relief, emergency, stops.

Nothing is decided here: what the record lacks becomes a line to write on, with "do not drive" above it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TypedDict

from docgen.case.model import Case
from docgen.criteria.emergency_signs import whom_to_call
from docgen.criteria.sentences import listed
from docgen.documents.planned import set_up_rows
from docgen.evidence.stop_rules import MOST_FATIGUE, MOST_PAIN, MOST_RISE
from docgen.evidence.stopping_rule import room_ahead_m
from docgen.fit.condition import answer_to, emergency_wanted
from docgen.fit.finding import can_hurt
from docgen.shelf.client import tires
from docgen.shelf.device import site_of_part
from docgen.shelf.match import Match
from docgen.shelf.planned import Control, Planned

_NOT_IN_A_SESSION = ("fire", "night", "bed", "cleaning", "travel", "transfer", "heat", "meal")
# what these find stands on the same page in the words of the record: a caution of a lift is left out where nobody is
# lifted; the chair's own words, which are printed, are held against the one speed of the plan; a task told with its
# meters is held for as long as those take
_OF_A_LIFT = re.compile(r"\bslings?\b", re.I)
_SPEED_IN_WORDS = re.compile(r"(\d+(?:\.\d+)?)\s*m/s")
_METRES_IN_WORDS = re.compile(r"(\d+(?:\.\d+)?)\s*m\b(?!/)")
_HELD = ("momentary_drive",)
_SHORT_HOLD_S = 5.0  # a hold from which a rest is asked of the therapist: common practice, no source
_SKIN = ("pressure_risk", "pressure_injury_now")


class SignRow(TypedDict):
    """A sign of the emergency page with the first move."""

    says: str
    first: str | None
    then: str | None


class CallRow(TypedDict):
    """Whom to call in an emergency, and when."""

    name: str
    phone: str
    call_if: str


class StopLimit(TypedDict):
    """Within what a stop counts: the shortest free way ahead of the chair in the record, and where that is."""

    limit_mm: float
    place: str


def to_fill_in(case: Case, plan: Planned) -> Iterator[str]:
    """What has to be written down before anyone drives, in the order of the page."""
    decided, called = plan.plan, case.client.called or "the client"
    if decided.guard is None:
        yield "Who guards, at the stop, in every block"
    if decided.guard_stop is None:
        yield "How whoever guards stops the chair of the trial"
    if decided.speed_m_s is None:
        yield "One speed for every control"
    if decided.stop_when is None:
        yield f"{called}'s own signs that driving ends for the day"
    if decided.worn is None:
        yield "What is worn in every visit: headwear, glasses, orthoses, belts"
    if needs_relief(case) and decided.tilted_by is None:
        yield "How pressure is relieved in the trial's chair: who tilts it, and by what"
    if emergency_wanted(case) and not case.emergency.signs:
        yield f"The signs of an emergency of {called}, and what is done first"


def needs_relief(case: Case) -> bool:
    """Whether pressure has to be relieved within a visit: a weight shift is set, or the record tells of the risk."""
    return case.weight_shift.hold_min is not None or any(finding.id in _SKIN for finding in case.findings)


def other_speeds(case: Case, plan: Planned) -> Iterator[str]:
    """Speeds of the record that are not the one of this plan."""
    speed = plan.plan.speed_m_s
    if speed is None:
        return
    others = [
        (f"{control.method.speed_m_s:g} m/s", control.letter)
        for control in plan.driven
        if control.method and control.method.speed_m_s not in (None, speed)
    ]
    for other in dict.fromkeys(words for words, _ in others):
        letters = listed([letter for words, letter in others if words == other])
        yield f"The record has {other} for {letters}: not the speed of this trial."
    told_of_chair = [float(words) for words in _SPEED_IN_WORDS.findall(case.trial.chair or "")]
    if any(each != speed for each in told_of_chair):
        yield "The words of the chair below name another speed: it is not driven here."


def sensing_sentences(case: Case, plan: Planned) -> Iterator[str]:
    """Parts that stand so close that a sensor may read the body at rest, with what to do before driving."""
    for control, row in zip(plan.driven, set_up_rows(case, plan), strict=False):
        judged = control.judged
        if judged is None or judged.device.sensing_mm is None:
            continue
        senses, at = judged.device.sensing_mm, {mount.part: mount.site for mount in case.configuration.mounting}
        near = [
            f"{part['part']} {part['gap_mm']:g} mm"
            for part in row["parts"]
            if part["gap_mm"] is not None
            and part["gap_mm"] <= senses
            and site_of_part(at[part["part"]]) in judged.device.sites
        ]
        if not row["parts"]:
            yield (
                f"{control.letter} senses at {senses:g} mm as the shelf has it, and no gap at rest is recorded. Set "
                "its range below the smallest gap. Then, drive locked: two minutes at rest, and nothing comes."
            )
        elif near:
            yield (
                f"{control.letter} senses at {senses:g} mm as the shelf has it, and at rest the gaps are no more: "
                f"{listed(near)}. At rest it may call for drive. Set its range below the smallest gap, or the parts "
                "further off. Then, drive locked: two minutes at rest, and nothing comes."
            )


def hold_sentences(case: Case, matched: Match, plan: Planned) -> Iterator[str]:
    """Cards that take a long command where the chair drives only for as long as it is held."""
    speed = plan.plan.speed_m_s
    tiring = tires(matched.client)
    for control in plan.driven:
        judged = control.judged
        features = {*(control.method.features if control.method else ()), *(judged.best.on if judged else ())}
        sites = set(judged.device.sites) if judged else set()
        if speed is None or features.isdisjoint(_HELD) or not ("mouth" in sites or tiring):
            continue
        for number, card in enumerate(plan.cards, 1):
            metres = _METRES_IN_WORDS.search(card.name)
            if metres is None or float(metres[1]) / speed <= _SHORT_HOLD_S:
                continue
            seconds = float(metres[1]) / speed
            known = [f.measure for f in case.findings if f.id in matched.client.able and f.measure]
            endurance = [words for words in known if "held" in words] if "mouth" in sites else []
            recorded = f" The record: {endurance[0].rstrip('.')}." if endurance else ""
            yield (
                f"{control.letter} drives while the command is held: card {number} takes {seconds:.0f} s at this "
                f"speed.{recorded} Several holds with a rest between are one attempt."
            )


def stop_in_spasm(case: Case) -> str | None:
    """What the record says of the driver's own stop in a spasm."""
    answer = answer_to(case, "spasm_or_dystonia", "stop_in_spasm")
    return answer.says if answer else None


def relief_sentences(case: Case) -> tuple[str, ...]:
    """The weight shift that falls due in a trial, as set for this client: how often, how long, how far, who, when not;
    empty where no numbers of it are recorded."""
    shift = case.weight_shift
    if shift.hold_min is None or shift.every_min is None:
        return ()
    tilt = f" at {shift.tilt_deg:g} degrees" if shift.tilt_deg is not None else ""
    wait = f", then {shift.wait_min:g} minutes before driving" if shift.wait_min else ""
    reached = case.sitting.after.reached
    words = (
        f"Every {shift.every_min:g} minutes, {shift.hold_min:g} minutes{tilt}{wait}, drive locked",
        f"As a rule: {shift.helper}" if shift.helper else None,
        shift.not_when,
        "Not with food or drink in the mouth, choking, phlegm or sick: mouth empty first",
        f"Driving goes on once this is so: {reached}" if reached else None,
    )
    return tuple(f"{each.rstrip('.')}." for each in words if each)


def sign_rows(case: Case) -> Iterator[SignRow]:
    """The signs of the emergency page."""
    for sign in case.emergency.signs:
        yield {"says": sign.says, "first": sign.first, "then": sign.then}


def call_rows(case: Case) -> Iterator[CallRow]:
    """Whom to call then; the emergency number where nobody is named."""
    for call in whom_to_call(case):
        person = case.person(call.who) if call.who else None
        name = call.name or (person.called_by_relation if person else "")
        phone = call.phone or (person.phone if person else None) or ""
        yield {"name": name, "phone": phone, "call_if": call.call_if or ""}
    if not case.emergency.calls and case.client.emergency_number:
        yield {"name": "ambulance", "phone": case.client.emergency_number, "call_if": ""}


def stop_limit(case: Case) -> StopLimit | None:
    """The shortest free way ahead of the chair, less its length where it is measured from the way in; None where no
    place has one."""
    rooms = [(room, space.name) for space in case.spaces if (room := room_ahead_m(case, space))]
    if not rooms:
        return None
    room, name = min(rooms)
    return {"limit_mm": room * 1000, "place": name}


def stop_limit_mm(case: Case, plan: Planned) -> float | None:
    """Within how far a stop counts in this trial: the shorter of the way ahead and the rule of its card; None where
    neither is recorded."""
    ruled = [card.within_m * 1000 for card in plan.cards if card.of == "stop" and card.within_m is not None]
    limit = stop_limit(case)
    return min([*ruled, *([limit["limit_mm"]] if limit else [])], default=None)


def seizures_recorded(case: Case) -> bool:
    """Whether the record has seizures: as a screening that does not rule them out, a condition, or a caution."""
    return (
        any(limit.kind == "seizures" and limit.found is not False for limit in case.limits)
        or any(entry.id == "epilepsy" for entry in case.conditions)
        or any(caution.about == "seizure" for caution in case.cautions)
    )


def hazards(case: Case, driving: tuple[str, ...]) -> tuple[str, ...]:
    """Findings that can hurt while someone drives, in the therapist's words: facts, which nobody keeps or breaks.

    driving  ids of findings that bear on a session
    """
    return tuple(finding.says for finding in case.findings if can_hurt(finding.id) and finding.id in driving)


def cautions(case: Case) -> tuple[str, ...]:
    """Cautions of the record that hold while driving indoors; those of lifts, meals, weather, night and travel do
    not."""
    return tuple(
        caution.says
        for caution in case.cautions
        if caution.about not in _NOT_IN_A_SESSION and not _OF_A_LIFT.search(caution.says)
    )


def not_driven_words(control: Control) -> str:
    """Why a control of the plan is not driven."""
    judged = control.judged
    if judged is not None and judged.stage == "movement":
        return "Its site does not move."
    return "It can do harm, and what answers that is not recorded."


def stop_rules(case: Case, plan: Planned) -> Iterator[str]:
    """When driving ends at once and for the day: the same on the plan and on each sheet. This client's own signs are
    not among them."""
    called = case.client.called or "the client"
    seizure = "has a seizure or " if seizures_recorded(case) else ""
    yield "someone is hurt, or the chair touches a person"
    yield "a stop is missed for the second time"
    yield f"{called} {seizure}faints, or says or shows that it is enough"
    yield (
        f"pain is over {MOST_PAIN:g} of 10 or up by {MOST_RISE:g}, stiffness is up by {MOST_RISE:g}, "
        f"or fatigue is {MOST_FATIGUE:g} of 10"
    )
    yield "there is a new mark on the skin: out of the chair, off that skin"
    yield "something on the chair or the control is not right"
    if signs := ", or ".join(sign.says.rstrip(".") for sign in case.emergency.signs):
        yield f"an emergency is seen: {signs}"
    if plan.plan.stop_when:
        yield f"for {called} besides: {plan.plan.stop_when.rstrip('.')}"
