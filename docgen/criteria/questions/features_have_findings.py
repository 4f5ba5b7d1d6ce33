"""Every feature and item asked for rests on a finding.

Asks: Whether each feature and each line of the order is tied to a finding about this client that calls for it.
Why a payer asks: An option is paid for only when it is necessary for this person; a reviewer strikes what has no reason.
What settles it: because = [finding ids] for each feature, and features or because for each item.
Source: US local coverage determination L33789, types II to IV (3), and article A52504: the evaluation explains why each option is needed.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.sentences import capital, counted, listed

HEADING = "alternatives"
CLAIM = "Every feature and item rests on a finding"
SHOWN_IN = ("letter: What is asked for, and why",)
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
    # what another feature asked for must not go without needs no finding of its own
    own = [(i, c) for i, c in enumerate(fit.chosen) if c.feature.id not in fit.needed]
    bare = [(i, c) for i, c in own if not c.because]
    if bare:
        return not_met(
            f"No finding is given for {listed(c.feature.name for _, c in bare)}.",
            *(("configuration", "features", i) for i, _ in bare),
            mend=fill_in({"because": "<ids of findings>"}, ", or leave the feature out"),
        )
    known = {finding.id for finding in grounds.case.findings}
    wrong = [(i, c) for i, c in own if not set(c.because) & set(c.feature.called_for_by) & known]
    if wrong:
        i, c = wrong[0]
        instead = (
            f"name {listed(c.calling, 'or')}, which does"
            if c.calling
            else f"name a finding that calls for it, such as {listed(c.feature.called_for_by[:3], 'or')}, if the client has it; else leave it out"
        )
        return not_met(
            f"{capital(c.feature.name)} is given {listed(f.replace('_', ' ') for f in c.because)} as its reason, which "
            f"{'does' if len(c.because) == 1 else 'do'} not call for it.",
            *(("configuration", "features", i, "because") for i, _ in wrong),
            mend=f"{capital(instead)}.",
        )
    if fit.unexplained:
        places = [(i, item) for i, item in enumerate(configuration.items) if item.id in fit.unexplained]
        return not_met(
            f"No finding stands behind {listed(item.name for _, item in places)}.",
            *(("configuration", "items", i) for i, _ in places),
            mend=Mend("Fill in features or because, or leave the item out.", fill=("features", "because")),
        )
    return met(
        f"{counted(len(fit.chosen), 'feature', 'features')} and {counted(len(configuration.items), 'item', 'items')} each rest on a finding.",
        ("configuration", "features"),
        ("configuration", "items"),
    )
