"""A latched drive ends by itself after a set time, and the record says whether it is on now.

Asks: Whether the driver's stop is told as that of a latched drive where nothing requested is latched. Whether each
    latched profile has a time after which it ends, and who turns the latch on.
    Not asked of a proportional control of which nothing says that it is latched: it springs back when it is let go.
Why a payer asks: A chair that goes on without a command must stop when its driver cannot say so.
What settles it: latch_timeout_s of each profile with latched = true; latched_now under [configuration].
Source: article A52504, stop switch of latched controls (definition); the time limit is common practice, no source.
"""

from __future__ import annotations

import re

from docgen.case.asked import Configuration
from docgen.case.lines import KeyPath
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.lacking import lacking
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.sentences import listed
from docgen.fit.springs_back import springs_back

HEADING = "safety"
CLAIM = "A latched drive ends by itself"
_LATCH, _NO_LATCH = re.compile(r"\blatch", re.IGNORECASE), re.compile(r"\b(?:not|no|un)[ -]?latch", re.IGNORECASE)
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    configuration = grounds.case.configuration
    if not configuration.features and not configuration.profiles:
        return cannot_tell(
            "Neither features nor profiles are recorded.",
            ("configuration",),
            mend=Mend(
                "Add [[configuration.features]] and [[configuration.profiles]].",
                add=(NewEntry("configuration.features"), NewEntry("configuration.profiles")),
            ),
        )
    if not configuration.is_latched and (latched_stops := _stops_a_latch(configuration)):
        words = listed(dict.fromkeys(f"“{words.rstrip('. ')}”" for _, words in latched_stops))
        return cannot_tell(
            f"{words} tells of the stop of a latched drive, and nothing requested is latched.",
            *(at for at, _ in latched_stops),
            mend="Write the stop of the control that is requested in driver under [configuration.stop], and in input "
            "of stop in [[configuration.commands]], or request latched_drive.",
            bare="A stop that is told is that of a latched drive, and nothing requested is latched.",
        )
    if springs_back(configuration):
        return does_not_apply(
            "A proportional control springs back when it is let go, and nothing on record is latched.",
            ("configuration", "features"),
            ("configuration", "items"),
        )
    if not configuration.is_latched and not configuration.is_held:
        return cannot_tell(
            "Whether anything keeps the chair going after the signal ends is not recorded.",
            ("configuration",),
            mend=fill_in({"configuration.latched": "<true or false>"}),
        )
    if not configuration.is_latched:
        return does_not_apply("Nothing keeps the chair going after the signal ends.", ("configuration",))
    return _latches_end(configuration)


def _stops_a_latch(configuration: Configuration) -> list[tuple[KeyPath, str]]:
    """The words of the driver's stop that tell of a latch, and where they stand."""
    stop: KeyPath = ("configuration", "stop", "driver")
    stops = [(stop, configuration.stop.driver or "")]
    stops += [
        (("configuration", "commands", at, "input"), command.input or "")
        for at, command in enumerate(configuration.commands)
        if command.does == "stop"
    ]
    return [(at, words) for at, words in stops if _LATCH.search(words) and not _NO_LATCH.search(words)]


def _latches_end(configuration: Configuration) -> Answer:
    """Whether each profile says if it is latched and when that ends, and the record who turns the latch on."""
    at = ("configuration", "profiles")
    unsaid = lacking(configuration.profiles, ["latched"])
    if unsaid or not configuration.profiles:
        return cannot_tell(
            (
                "Not recorded: whether forward is latched in "
                f"{listed(profile.name for _, profile, _ in unsaid) or 'any profile'}."
            ),
            *((*at, i) for i, _, _ in unsaid),
            at,
            mend=Mend("Fill in latched = true or latched = false of each profile.", fill=("latched",)),
        )
    latched = [(i, profile) for i, profile in enumerate(configuration.profiles) if profile.latched]
    if endless := [(i, profile) for i, profile in latched if profile.latch_timeout_s is None]:
        return cannot_tell(
            f"Not recorded: after how long the latch of {listed(profile.name for _, profile in endless)} ends.",
            *((*at, i) for i, _ in endless),
            mend=fill_in({"latch_timeout_s": "<seconds>"}, " of the profile"),
        )
    if configuration.latched_now is None:
        return cannot_tell(
            "Not recorded: whether the latch is on now, and who turns it on.",
            ("configuration",),
            mend=fill_in({"latched_now": ""}, " under [configuration]"),
        )
    if not latched:
        return met(
            "No profile starts latched; the record says who turns the latch on.", at, ("configuration", "latched_now")
        )
    return met(
        (
            "Each latched profile ends by itself, after "
            f"{listed(f'{profile.latch_timeout_s:g} s' for _, profile in latched)}."
        ),
        *((*at, i) for i, _ in latched),
    )
