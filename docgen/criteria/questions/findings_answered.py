"""Every finding that bears on the control is answered by something asked for.

Asks: Whether a recorded finding is left without a feature or an item that answers it, is no contraindication that an
    answer was given to, and rules out no simpler device either; one about a site of the body that does not drive rules
    out the control there that the condition is recorded to rule out. One of the therapist's own that calls for no
    feature needs no answer. Hours alone that are not settled are no reason of
    anything yet.
Why a payer asks: A problem that is named and not answered makes a reviewer doubt that the device will do.
What settles it: Name the finding in because of a feature or an item, or take a finding out that does not bear on the
    request.
Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Collection

from docgen.case.need import Finding
from docgen.criteria.alone import HOURS_ALONE, is_unsettled
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import counted, listed
from docgen.fit.alternatives import kinds
from docgen.fit.finding import finding_name, is_ability
from docgen.fit.match import driving_sites, site_of

HEADING = "alternatives"
CLAIM = "Every finding is addressed"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
QUIET = True
SETTINGS = {
    "need_no_answer": [
        "stable",
        "transfer_standing",
        "vital_capacity_low",
        "vent_noninvasive",
        "foot_none",
        "cough_weak",
        "swallow_slow",
        "headache_morning",
        "school_setting",
        "computer_user",
    ]
}


def answer(grounds: Grounds, need_no_answer: list[str]) -> Answer:
    findings = grounds.case.findings
    if not findings:
        return cannot_tell(
            "No finding is recorded.", ("findings",), mend=add_entry("findings", "id", "says", "measure")
        )
    left = unaddressed(grounds, need_no_answer)
    if left:
        return not_met(
            f"Nothing requested answers {listed(finding_name(f.id) for _, f in left)}.",
            *(("findings", i) for i, _ in left),
            mend=f"Name {listed(f.id for _, f in left)} in because of the feature or item that answers "
            f"{'it' if len(left) == 1 else 'each'}.",
        )
    return met(
        (
            f"{counted(len(findings), 'finding is', 'findings are')} each answered by what is requested, or rules "
            "out a simpler device."
        ),
        ("findings",),
    )


def unaddressed(grounds: Grounds, need_no_answer: Collection[str]) -> list[tuple[int, Finding]]:
    """Place and entry of each finding that nothing requested answers and that has to be answered."""
    used = {against.finding for weighed in grounds.weighed for _, against in weighed.against}
    used |= {against.finding for chosen in grounds.fit.chosen if chosen.answer for against in chosen.at_odds}
    used |= {HOURS_ALONE} if is_unsettled(grounds.case) else set()
    ruled_out = _sites_ruled_out(grounds)
    return [
        (i, f)
        for i, f in enumerate(grounds.case.findings)
        if f.id in grounds.fit.unanswered
        and (not f.own or f.calls_for)
        and f.id not in (*need_no_answer, *used)
        and (is_ability(f.id) or site_of(f.id) not in ruled_out)
    ]


def _sites_ruled_out(grounds: Grounds) -> frozenset[str]:
    """Sites of the body that do not drive, of controls that the condition rules out."""
    sites = {
        site
        for device in grounds.case.alternatives
        if device.ruled_out_by == "condition" and device.reason and device.kind in kinds()
        for site in kinds()[device.kind].sites
        if device.kind != "other_control"  # which is of any site
    }
    return frozenset(sites - driving_sites(chosen.feature for chosen in grounds.fit.chosen))
