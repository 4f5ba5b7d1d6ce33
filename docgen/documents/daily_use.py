"""What a chair and its control have, as those who handle them every day meet it: of what is not there, no page
speaks."""

from __future__ import annotations

from typing import Literal, TypedDict

from docgen.case.model import Case
from docgen.case.privacy import Privacy
from docgen.criteria.alone import coughs_weakly
from docgen.documents.made_from import made_from
from docgen.documents.supervised import barred_settings, settings_waiting
from docgen.figures.shown_once import Pictured, pictured
from docgen.fit.condition import emergency_wanted
from docgen.fit.match import Fit
from docgen.fit.mounting import AT_HEAD

MADE_FROM = {
    "has": made_from(
        # which features a control has is seen on the chair; how long it may be driven holds for whoever stays near
        Privacy.DEVICE,
        alone="supervision",
        barred="supervision",
        longest_min=Privacy.SUPERVISION,
        drawn=("sheets.by_hand", "supervision", "transport"),
    )
}

Touched = Literal["pads", "stick", "breath", "fingers", "control"]
Unreached = Literal["pads", "breath", "stick", "control"]

_TOUCHED: tuple[Touched, ...] = (
    "pads",
    "stick",
    "breath",
    "fingers",
)  # what sets a chair off by mistake, most likely first
_UNREACHED: tuple[Unreached, ...] = ("pads", "breath", "stick")  # what keeps a signal from arriving, most likely first
_AT_BODY = frozenset({"head_left", "head_right", "knee_left", "knee_right"})  # the driver's own places of a stop switch
# findings by which the head comes to lie back, which whoever is near sees too
_HEAD_SINKS = frozenset({"neck_fatigues", "head_rests_back", "head_control_emerging"})


class DailyUse(TypedDict):
    """Whether the chair has each of these.

    pads to shoe   by the kinds of the requested features
    marks          a part whose place is marked
    tray           a part held by a tray
    stop_at_body   its stop switch beside the driver's head or knee
    at_head        a part at the head, the face or the mouth
    resting        a rest that it can be left in, by its kind or by a command
    touched        what is looked at first when it moves as soon as it is on; "control" where it has none of the rest
    unreached      what is looked at first when it will not go one way; likewise
    staged         a setting that is used until a stage of training is passed
    mapped   what moves and stops the chair is drawn, command by command
    sinks          a head that tires, by a finding of this person, would lie on a pad behind it and drive
    hand_at_power  an arm that moves by itself, by a finding of this person, can reach the power switch
    spasms         a spasm comes without warning, by a finding of this person
    emergency_page  there is one, which whoever is near sees on the chair
    weak_cough     a weak cough or breath, by an answer or a finding: an illness does not wait
    skin_at_risk   skin that pressure may hurt, by a finding of this person
    stands         whether the driver gets in and out standing, and is neither lifted nor slides, by the findings
    alone          whether someone may be away while it is on, in some place
    longest_min    how long a drive may last at most, as its training has it; "" where nobody wrote it
    drawn          what the log has pictures of, in the order of the words that point there
    barred         names of the settings that nobody uses now: those of places where nobody drives for now, and those
                   that wait for a step of training
    """

    pads: bool
    side_pads: bool
    breath: bool
    stick: bool
    fingers: bool
    swing: bool
    rest: bool
    jobs: bool
    tilt: bool
    shoe: bool
    marks: bool
    tray: bool
    stop_at_body: bool
    stands: bool
    at_head: bool
    resting: bool
    sinks: bool
    touched: Touched
    unreached: Unreached
    mapped: bool
    hand_at_power: bool
    spasms: bool
    emergency_page: bool
    weak_cough: bool
    skin_at_risk: bool
    alone: bool
    longest_min: float | str
    drawn: tuple[Pictured, ...]
    barred: tuple[str, ...]
    staged: bool


def daily_use(case: Case, fit: Fit) -> DailyUse:
    """What this chair has, by the requested features and the parts mounted."""
    kinds = {kind for chosen in fit.chosen for kind in chosen.feature.kinds}
    mounting = case.configuration.mounting
    stop = case.configuration.stop
    commands = {command.does for command in case.configuration.commands}
    return {
        "pads": "pads" in kinds,
        "side_pads": "side_pads" in kinds,
        "breath": "breath" in kinds,
        "stick": "stick" in kinds,
        "fingers": "fingers" in kinds,
        "swing": "swing" in kinds,
        "rest": "rest" in kinds,
        "jobs": "jobs" in kinds,
        "tilt": "tilt" in kinds,
        "shoe": "shoe" in kinds,
        "marks": any(part.mark for part in mounting),
        "tray": any(part.held_by == "tray" for part in mounting),
        "stop_at_body": any(site in _AT_BODY for _, site in (stop.at_hand, stop.second)),
        "stands": _stands(case),
        "at_head": any(part.site in AT_HEAD for part in mounting),
        "resting": "rest" in kinds or any(command.does == "rest" for command in case.configuration.commands),
        "sinks": any(part.site == "head_back" for part in mounting)
        and any(finding.id in _HEAD_SINKS for finding in case.findings),
        "hand_at_power": (case.configuration.stop.power_off_site or "").startswith(("armrest", "tray"))
        and any(finding.id == "hand_moves_involuntary" for finding in case.findings),
        "spasms": any(finding.id == "spasm_sudden" for finding in case.findings),
        "emergency_page": emergency_wanted(case),
        "weak_cough": coughs_weakly(case),
        "skin_at_risk": any(finding.id == "pressure_risk" for finding in case.findings),
        "mapped": {"forward", "stop"} <= commands,
        "touched": next((kind for kind in _TOUCHED if kind in kinds), "control"),
        "unreached": next((kind for kind in _UNREACHED if kind in kinds), "control"),
        "staged": any(profile.until_stage is not None for profile in case.configuration.profiles),
        "longest_min": case.training.minutes or "",
        "drawn": pictured(case),
        "barred": (*barred_settings(case), *settings_waiting(case)),
        "alone": any(not place.is_near and not place.is_later for place in case.supervision),
    }


def _stands(case: Case) -> bool:
    """Whether the findings tell of a standing transfer and of no other."""
    transfers = {finding.id for finding in case.findings if finding.id.startswith("transfer_")}
    return transfers == {"transfer_standing"}
