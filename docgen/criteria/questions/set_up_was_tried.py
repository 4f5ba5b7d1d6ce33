"""The setup asked for is one that the trial had.

Asks: Whether the control was tried as it is requested: latched or not, sensing, site, reverse, what is touched and what
    supports the head, tilt of the seat, speed, headwear; and whether the trial had something that the request lacks.
Why a payer asks: The numbers of a trial speak of the setup that was driven and of no other; a driver who stops well
    with the latch on has shown nothing of a held signal.
What settles it: features, without, speed_m_s, seat_deg and headwear of the method in [[trial.methods]] beside
    features, profiles, seat_deg and headwear asked for; or rows of a further method set as it is requested. What the
    method names neither under features nor under without is asked for: silence is no difference. Nor is silence of
    the request the same as the trial: speed and latch of each profile, and the tilt and headwear that the trial had.
Source: US national coverage determination 280.3, question 4, judged for each device; 5 degrees of tilt are common
    practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.tried import Method
from docgen.codes import hcpcs
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, add_entry, fill_in
from docgen.criteria.sentences import capital, listed
from docgen.fit.feature import PartOf, features
from docgen.units import speed

HEADING = "record"
CLAIM = "The setup requested is the one that was tried"
SHOWN_IN = ("letter: Equipment Trial and Results",)
IN_LIMITS = True
SETTINGS = {"most_tilt_deg": 5.0}

# what a feature settles that makes another setup drive otherwise, and of these what makes it stop otherwise
_DRIVING: tuple[PartOf, ...] = ("control", "fitting", "stop_behavior", "speed", "reverse", "modes")
_HURTS: tuple[PartOf, ...] = ("control", "stop_behavior")
_LATCH, _HELD = "latched_drive", "momentary_drive"
_REVERSE = "reverse_access"
# what a control is by what senses or drives it, which nobody writes beside it
_IMPLIED = {
    "nonproportional_control": (
        *("contact_switch_sensing", "optical_beam_sensing", "force_threshold_pad", "finger_switch_array"),
        *("pneumatic_four_command", "single_switch_scanning", "muscle_signal_switch", "switch_type_by_site"),
    ),
    "proportional_control": ("compact_joystick", "mini_joystick", "isometric_joystick", "head_angle_proportional"),
}
_NATURES = {True: "proportional_control", False: "nonproportional_control"}
_ASKED: KeyPath = ("configuration",)


class _Apart(Struct, frozen=True):
    """One thing in which the trial and the request differ, or may; `hurts` where the stops of the one say nothing of
    the other, `names` the features that would tell."""

    says: str
    asked: KeyPath
    key: str
    hurts: bool = False
    names: str = ""


def answer(grounds: Grounds, most_tilt_deg: float) -> Answer:
    case = grounds.case
    index, method = _method(case)
    if method is None or not any(row.method == method.id for row in case.tried):
        return cannot_tell(
            "No row of a trial with the requested control is recorded.",
            ("trial", "methods"),
            ("configuration", "method"),
            mend="Add the rows of the trial, or name its method in configuration.method.",
        )
    at: KeyPath = ("trial", "methods", index)
    apart = [*_features_apart(case, method), *_latch_apart(case, method), *_others_apart(case, method, most_tilt_deg)]
    if apart:
        return not_met(
            " ".join(difference.says for difference in apart),
            *dict.fromkeys(path for difference in apart for path in ((*at, difference.key), difference.asked)),
            mend=(
                "Try the control as it is requested and add the rows as a method of their own, or request it as "
                "it was tried; what the rows had is named in features of the method."
                f"{_by_ids(apart)}"
            ),
            danger=any(difference.hurts for difference in apart),
        )
    if silent := [*_untold(case, method), *_latch_untold(case, method)]:
        return cannot_tell(
            " ".join(open_.says for open_ in silent),
            (*at, "features"),
            *dict.fromkeys(open_.asked for open_ in silent),
            mend=Mend(
                f"Name {listed(open_.names for open_ in silent)} in features of the method in [[trial.methods]] where "
                "the trial had it, in without where it did not.",
                fill=("features", "without"),
            ),
            danger=any(open_.hurts for open_ in silent),
        )
    if missing := [*_unrecorded(case, method)]:
        return cannot_tell(
            f"Not recorded of the trial with the {method.name}: {listed(words for words, _ in missing)}.",
            *((*at, key) for _, key in missing),
            mend=fill_in({key: "" for _, key in missing}, " of the method in [[trial.methods]]"),
        )
    if open_ := [*_unrequested(case, method)]:
        return cannot_tell(
            f"Not recorded of the request: {listed(words for words, _, _ in open_)}. So whether the trial had it is "
            "not known.",
            *dict.fromkeys(path for _, path, _ in open_),
            mend=_say_of_request(open_),
        )
    return met(
        f"In the trial the {method.name} had what is requested{_elsewhere(case, method)}.", (*at, "features"), _ASKED
    )


def _by_ids(apart: Sequence[_Apart]) -> str:
    """The features in which the two differ by their ids, as a sentence after others; empty where none does."""
    names = dict.fromkeys(difference.names for difference in apart if difference.names)
    return f" This is about {listed(names)}." if names else ""


def _method(case: Case) -> tuple[int, Method | None]:
    return next(
        ((i, method) for i, method in enumerate(case.trial.methods) if method.id == case.configuration.method),
        (0, None),
    )


def _driving(case: Case) -> dict[str, int]:
    """Requested features by which another setup drives otherwise, with their places."""
    known = features()
    return {f.id: i for i, f in enumerate(case.configuration.features) if known[f.id].part in _DRIVING}


def _same_control(case: Case, method: Method) -> list[Method]:
    """Further methods with rows that sense and drive at the same site."""
    known, tried = features(), {row.method for row in case.tried}
    control = {f for f in method.features if known[f].part == "control"}
    return [
        other
        for other in case.trial.methods
        if other is not method
        and other.id in tried
        and control
        and {f for f in other.features if known[f].part == "control"} == control
    ]


def _implied(case: Case) -> set[str]:
    """What the request is without saying so: by what senses or drives it, or by the code of a line of the order."""
    asked = {feature.id for feature in case.configuration.features}
    codes = [code for item in case.configuration.items if (code := hcpcs.code(item.code)) and code.kind == "control"]
    by_code = {_NATURES[code.proportional] for code in codes if code.proportional is not None}
    return by_code | {control for control, by in _IMPLIED.items() if asked.intersection(by)}


def _had(case: Case, method: Method) -> set[str]:
    """Features that the control had in the trial, in one set-up of it or another."""
    named = {*method.features, *(f for other in _same_control(case, method) for f in other.features)}
    return named | {control for control, by in _IMPLIED.items() if named.intersection(by)}


def _instead(case: Case, method: Method, feature: str) -> list[str]:
    """What the trial had in the place of a requested feature that senses or drives: none where it names no other."""
    known, asked = features(), _driving(case)
    return [f for f in method.features if f not in asked and known[f].part == known[feature].part == "control"]


def _features_apart(case: Case, method: Method) -> Iterator[_Apart]:
    if not method.features:
        return
    known, asked, had = features(), _driving(case), _had(case, method)
    replaced: set[str] = set()  # what stood in the place of another is told with it
    for feature, place in asked.items():
        if feature in had or feature in (_LATCH, _HELD):
            continue
        instead = _instead(case, method, feature)
        if feature in method.without or instead:
            replaced.update(instead)
            so = f"the trial had {listed(known[f].name for f in instead)}" if instead else "the trial did not have it"
            yield _Apart(
                f"{capital(known[feature].name)} is requested, and {so}.",
                ("configuration", "features", place),
                "features",
                known[feature].part in _HURTS,
                feature,
            )
    implied = _implied(case)
    for feature in method.features:
        if feature in replaced or feature in implied or _is_reverse_left_out(case, feature, asked):
            continue
        if feature not in asked and known[feature].part in _DRIVING and feature not in (_LATCH, _HELD):
            yield _Apart(
                f"The trial had {known[feature].name}, and it is not requested.",
                ("configuration", "features"),
                "features",
                known[feature].part in _HURTS,
                feature,
            )


def _is_reverse_left_out(case: Case, feature: str, asked: Mapping[str, int]) -> bool:
    """Whether it is a way to reverse that the request does without, with what takes its place on record."""
    without = case.configuration.without_reverse and not any(name.startswith(_REVERSE) for name in asked)
    return bool(without) and feature.startswith(_REVERSE)


def _untold(case: Case, method: Method) -> Iterator[_Apart]:
    """Requested features of which the record does not say whether the trial had them."""
    known, had = features(), _had(case, method)
    for feature, place in _driving(case).items() if method.features else ():
        if feature not in (*had, *method.without, _LATCH, _HELD) and not _instead(case, method, feature):
            yield _Apart(
                f"{capital(known[feature].name)} is requested, and whether the trial had it is not recorded.",
                ("configuration", "features", place),
                "features",
                known[feature].part in _HURTS,
                feature,
            )


def _latched(method: Method) -> bool | None:
    """Whether forward was latched with a method; None where that is not recorded."""
    if _LATCH in method.features or _HELD in method.without:
        return True
    return False if _HELD in method.features or _LATCH in method.without else None


def _can_latch(method: Method) -> bool:
    """Whether the control that was tried is of a kind whose forward can be latched."""
    control = {f: features()[f] for f in method.features if features()[f].part == "control"}
    return bool(control) and features()[_LATCH].fits(control)


def _asked_latched(case: Case) -> Iterator[tuple[int, bool]]:
    """Each profile of which it is recorded whether forward is to be latched, with its place."""
    for place, profile in enumerate(case.configuration.profiles):
        asked = profile.latched if profile.latched is not None else False if case.configuration.is_held else None
        if asked is not None:
            yield place, asked


def _latch_untold(case: Case, method: Method) -> Iterator[_Apart]:
    """That the record does not say whether the trial was latched, where it says it of the request."""
    if _latched(method) is not None or not _can_latch(method):
        return
    profile = next(((place, asked) for place, asked in _asked_latched(case)), None)
    if profile is not None:
        place, asked = profile
        states = ("momentary (unlatched)", "latched")
        yield _Apart(
            f"The {case.configuration.profiles[place].name} profile is requested {states[asked]}, and whether forward "
            "was latched in the trial is not recorded.",
            ("configuration", "profiles", place, "latched"),
            "features",
            hurts=asked,
            names=f"{_LATCH} or {_HELD}",
        )


def _latch_apart(case: Case, method: Method) -> Iterator[_Apart]:
    latched = _latched(method)
    if not method.features or latched is None:
        return
    profiles = case.configuration.profiles
    others = [_latched(other) for other in _same_control(case, method)]
    feature = _driving(case).get(_LATCH)
    if feature is not None and profiles and all(profile.latched is False for profile in profiles):
        yield _Apart(
            f"{capital(features()[_LATCH].name)} is among the requested features, and every profile is requested as "
            "momentary (unlatched).",
            ("configuration", "features", feature),
            "features",
        )
    for place, asked in _asked_latched(case):
        profile = profiles[place]
        if asked is latched:
            continue
        states = ("momentary (unlatched)", "latched")
        if asked in others and any(p.latched is latched for p in profiles):
            continue  # both are asked for, and each was tried
        if asked in others:
            yield _Apart(
                f"The {profile.name} profile is requested {states[asked]}, and the method named as the one requested, "
                f"the {method.name}, was {states[latched]}: its numbers lead the letter.",
                ("configuration", "method"),
                "features",
                hurts=True,
            )
            return
        yield _Apart(
            (
                f"The {profile.name} profile is requested {states[asked]}, and every attempt of the trial was "
                f"{states[latched]}."
            ),
            ("configuration", "profiles", place, "latched"),
            "features",
            hurts=True,
        )
        return


def _others_apart(case: Case, method: Method, most_tilt_deg: float) -> Iterator[_Apart]:
    asked, tried_m_s = case.configuration, _speed_m_s(case, method)
    for place, profile in enumerate(asked.profiles):
        if tried_m_s is not None and profile.speed_m_s is not None and profile.speed_m_s > tried_m_s + 1e-9:
            yield _Apart(
                (
                    f"The {profile.name} profile is set to {speed(profile.speed_m_s)}, and nothing faster than "
                    f"{speed(tried_m_s, 'near')} is recorded of the trial."
                ),
                ("configuration", "profiles", place, "speed_m_s"),
                "speed_m_s",
            )
    tilts = (asked.seat_deg, method.seat_deg)
    if tilts[0] is not None and tilts[1] is not None and abs(tilts[0] - tilts[1]) > most_tilt_deg:
        yield _Apart(
            f"The seat is to be tilted {tilts[0]:g} degrees for driving, and was tilted {tilts[1]:g} in the trial.",
            ("configuration", "seat_deg"),
            "seat_deg",
        )
    if asked.headwear is not None and method.headwear is not None and set(asked.headwear) != set(method.headwear):
        yield _Apart(
            f"On the head while driving: {_worn(asked.headwear)}; in the trial: {_worn(method.headwear)}.",
            ("configuration", "headwear"),
            "headwear",
        )


def _speed_m_s(case: Case, method: Method) -> float | None:
    """The fastest speed driven, from the rows or as recorded."""
    timed = [row.speed_m_s for row in case.tried if row.method == method.id and row.speed_m_s is not None]
    return max([*timed, *([method.speed_m_s] if method.speed_m_s is not None else [])], default=None)


def _unrecorded(case: Case, method: Method) -> Iterator[tuple[str, str]]:
    if not method.features:
        yield "which features it had", "features"
    if _speed_m_s(case, method) is None and any(p.speed_m_s is not None for p in case.configuration.profiles):
        yield "how fast it was driven", "speed_m_s"
    if case.configuration.seat_deg is not None and method.seat_deg is None:
        yield "the tilt of the seat", "seat_deg"
    if case.configuration.headwear and method.headwear is None:
        yield "what was worn on the head", "headwear"


def _unrequested(case: Case, method: Method) -> Iterator[tuple[str, KeyPath, str]]:
    """What the request leaves open and the trial can be held to, with its table and the key that says it."""
    asked, at = case.configuration, ("configuration", "profiles")
    if not asked.profiles:
        yield "the drive profiles, with their speeds", at, ""
    for place, profile in enumerate(asked.profiles):
        if profile.speed_m_s is None:
            yield f"the speed of the {profile.name} profile", (*at, place), "speed_m_s"
    if _can_latch(method):
        for place in sorted({*range(len(asked.profiles))} - {place for place, _ in _asked_latched(case)}):
            says = f"whether forward is latched in the {asked.profiles[place].name} profile"
            yield says, (*at, place), "latched"
    if asked.seat_deg is None and method.seat_deg is not None:
        yield "the tilt of the seat for driving", _ASKED, "configuration.seat_deg"
    if asked.headwear is None and method.headwear:
        yield "what is worn on the head while driving", _ASKED, "configuration.headwear"


def _say_of_request(open_: Sequence[tuple[str, KeyPath, str]]) -> Mend:
    """The keys that say it, and the list of profiles where there is none."""
    keys = tuple(dict.fromkeys(key for _, _, key in open_ if key))
    if all(key for _, _, key in open_):
        return fill_in(dict.fromkeys(keys, ""))
    profiles = add_entry("configuration.profiles", "speed_m_s", "latched")
    also = f" Fill in {listed(keys)}." if keys else ""
    return Mend(f"{profiles.say}{also}", fill=keys, add=profiles.add)


def _worn(items: tuple[str, ...]) -> str:
    return listed(item.replace("_", " ") for item in items) or "nothing"


def _elsewhere(case: Case, method: Method) -> str:
    """With which further method the rest was tried."""
    further = [m.name for m in _same_control(case, method) if set(_driving(case)) - set(method.features)] or [
        m.name for m in _same_control(case, method) if _latched(m) is not _latched(method)
    ]
    return f", some of it with the {listed(further)}" if further else ""
