"""Every requested feature and item rests on a finding.

Asks: Whether each feature and each line of the order is tied to a finding about this client that calls for it, and
    whether hours alone, where they are one, are settled.
Why a payer asks: An option is paid for only when it is necessary for this person; a reviewer strikes what has no
    reason.
What settles it: because = [finding ids] for each feature, and features or because for each item.
Source: US local coverage determination L33789, types II to IV (3), and article A52504: the evaluation explains why each
    option is needed.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from msgspec import Struct

from docgen.case.items import Item
from docgen.criteria.alone import HOURS_ALONE, is_unsettled
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.sentences import capital, counted, listed
from docgen.fit.finding import finding_name
from docgen.fit.match import Chosen, Fit

HEADING = "alternatives"
CLAIM = "Every feature and item rests on a finding"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
QUIET = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    configuration, fit = grounds.case.configuration, grounds.fit
    if not configuration.features and not configuration.items:
        return cannot_tell(
            "Neither features nor items are recorded.",
            ("configuration",),
            mend=Mend(
                "Add [[configuration.features]] and [[configuration.items]].",
                add=(NewEntry("configuration.features"), NewEntry("configuration.items")),
            ),
        )
    if not (groundless := _groundless(grounds)).is_empty:
        return _without_ground(grounds, groundless)
    elsewhere = [chosen.feature.name for chosen in fit.chosen if not chosen.because]
    features, items = len(fit.chosen) - len(elsewhere), len(configuration.items)
    alone = [chosen.feature.name for chosen in fit.chosen if HOURS_ALONE in chosen.because]
    is_open = bool(alone) and is_unsettled(grounds.case)
    rests = f" Hours alone are a reason of {listed(alone)}, and being alone is not settled." if is_open else ""
    others = f" The reason for {listed(elsewhere)} is another part of the record." if elsewhere else ""
    return met(
        f"{counted(features, 'feature', 'features')} and {counted(items, 'item', 'items')} each rest on a finding."
        f"{others}{rests}",
        ("configuration", "features"),
        ("configuration", "items"),
        limit="in_part" if is_open else "",
    )


class Groundless(Struct, frozen=True):
    """What of the order rests on no finding, each with its place in its list.

    bare         features that no finding is given for
    wrong        features of which no finding that is given calls for them
    unexplained  lines with no reason
    """

    bare: tuple[tuple[int, Chosen], ...]
    wrong: tuple[tuple[int, Chosen], ...]
    unexplained: tuple[tuple[int, Item], ...]

    @property
    def features(self) -> list[Chosen]:
        """Those features."""
        return [chosen for _, chosen in (*self.bare, *self.wrong)]

    @property
    def is_empty(self) -> bool:
        """Whether everything rests on a finding."""
        return not (self.bare or self.wrong or self.unexplained)


def _groundless(grounds: Grounds) -> Groundless:
    """What another requested feature must not go without needs no finding of its own, nor does what has its reason in
    who is near or in the control. What holds in bed alone is no reason."""
    fit, known = grounds.fit, {finding.id for finding in grounds.case.findings if not finding.only_in_bed}
    own = [
        (i, chosen) for i, chosen in enumerate(fit.chosen) if chosen.feature.id not in fit.needed | fit.reason_elsewhere
    ]
    return Groundless(
        tuple((i, chosen) for i, chosen in own if not chosen.because),
        tuple(
            (i, chosen)
            for i, chosen in own
            if chosen.because and not set(chosen.because) & set(chosen.feature.reasons) & known
        ),
        tuple((i, item) for i, item in enumerate(grounds.case.configuration.items) if item.id in fit.unexplained),
    )


def _without_ground(grounds: Grounds, groundless: Groundless) -> Answer:
    """Not met: what has no finding, or only findings that do not call for it, and what settles each."""
    bare, wrong, items = groundless.bare, groundless.wrong, groundless.unexplained
    says = [_not_called_for(chosen) for _, chosen in wrong]
    if bare:
        says.insert(0, f"No finding is given for {listed(chosen.feature.name for _, chosen in bare)}.")
    if items:
        says.append(f"No finding is the reason for {listed(item.name for _, item in items)}.")
    return not_met(
        " ".join(says),
        *(("configuration", "features", i) for i, _ in bare),
        *(("configuration", "features", i, "because") for i, _ in wrong),
        *(("configuration", "items", i) for i, _ in items),
        mend=Mend(" ".join(_ways_to_ground(grounds, groundless)), fill=_keys_to_fill(groundless)),
    )


def _ways_to_ground(grounds: Grounds, groundless: Groundless) -> Iterator[str]:
    """What settles each feature, by its id, and the lines."""
    in_bed = frozenset(finding.id for finding in grounds.case.findings if finding.only_in_bed)
    features = groundless.features
    for chosen in features:
        yield f"{chosen.feature.id}: {_instead(chosen, grounds.fit, in_bed)}"
    if items := groundless.unexplained:
        of_line = f" in {listed(item.code or item.name for _, item in items)}" if features else ""
        yield f"Fill in features or because{of_line}, or leave the {'line' if of_line else 'item'} out."


def _keys_to_fill(groundless: Groundless) -> tuple[str, ...]:
    if groundless.bare:
        return ("because",)
    return ("features", "because") if groundless.unexplained else ()


def _not_called_for(chosen: Chosen) -> str:
    reasons = listed(finding_name(finding) for finding in chosen.because)
    verb = "is" if len(chosen.because) == 1 else "are"
    return f"{capital(chosen.feature.name)} is given {reasons} as its reason, which {verb} no indication for it."


def _instead(chosen: Chosen, fit: Fit, in_bed: Collection[str]) -> str:
    """Which findings would call for a feature: those of the client, else some of those that do.

    in_bed  findings that hold in bed alone, and are no reason for anything of the chair
    """
    if chosen.calling:
        named = listed(chosen.calling, "or")
        if chosen.because:
            return f"Name {named}, which does, if that is why; else record the reason as a finding with {_own(chosen)}."
        harmed = {
            other.feature.name: None
            for other in fit.chosen
            if any(risk.finding in chosen.calling for risk in other.at_odds)
        }
        danger = f" The same is a danger with the {listed(harmed)}: the letter tells both." if harmed else ""
        return f"Fill in because with {named}, which calls for it, or leave the feature out.{danger}"
    of_it = (*chosen.feature.grounded_by, *chosen.feature.called_for_by)
    calling = listed([finding for finding in of_it if finding not in in_bed][:3], "or")
    do = "Name" if chosen.because else "Fill in because with"
    return (
        f"{do} a finding that calls for it, such as {calling}, if the client has it; else one of your own, with "
        f"{_own(chosen)}, or leave it out."
    )


def _own(chosen: Chosen) -> str:
    """How a finding of the therapist's own calls for a feature."""
    return f'own = true and calls_for = ["{chosen.feature.id.partition(".")[0]}"]'
