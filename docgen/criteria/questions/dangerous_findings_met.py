"""A finding that can hurt is met by what is requested.

Asks: Whether a finding that can hurt the client or others when nothing answers it (a spasm, skin at risk, a slow
    release, hours alone, ...) is met by a requested feature, by an item of the order, or weighed as what speaks
    against a feature.
Why a payer asks: A danger that the evaluation found and the request leaves alone is a ground to deny, and hurts
    someone if it is not.
What settles it: A feature that the finding calls for, or because of the item that answers it.
Source: US national coverage determination 280.3, questions 4 and 9; which findings can hurt stands in docgen/findings,
    common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from docgen.case.need import Finding
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, add_entry
from docgen.criteria.sentences import counted, listed
from docgen.fit.feature import Feature, features
from docgen.fit.finding import can_hurt, finding_name
from docgen.fit.match import answering
from docgen.fit.stopping_means import has_already

HEADING = "record"
CLAIM = "Each finding that can lead to injury is addressed by what is requested"
SHOWN_IN = ("letter: Recommended Equipment and Justification of Each Item",)
DANGER = True
SETTINGS: dict[str, object] = {}


def answer(grounds: Grounds) -> Answer:
    findings = grounds.case.findings
    if not findings:
        return cannot_tell(
            "No finding is recorded.", ("findings",), mend=add_entry("findings", "id", "says", "measure")
        )
    can = [(at, finding) for at, finding in enumerate(findings) if can_hurt(finding.id)]
    if not can:
        return does_not_apply("No finding that is recorded can hurt by being left alone.", ("findings",))
    configuration = grounds.case.configuration
    if not configuration.features and not configuration.items:
        return cannot_tell(
            "What is requested is not recorded, so whether it meets each finding that can lead to injury is not known.",
            ("configuration", "features"),
            mend=add_entry("configuration.features", "id", "because"),
        )
    left = [(at, finding) for at, finding in can if finding.id in grounds.fit.left_open]
    if not left:
        return met(
            f"{counted(len(can), 'finding that can hurt is', 'findings that can hurt are')} each met by what is asked "
            "for, or weighed against it.",
            *(("findings", at) for at, _ in can),
        )
    answer = not_met(
        f"Nothing requested meets this: {' '.join(finding.says.rstrip('.') + '.' for _, finding in left)}",
        *(("findings", at) for at, _ in left),
        ("configuration", "features"),
        mend=_mend(grounds, [finding for _, finding in left]),
    )
    return replace(answer, names=tuple(finding_name(finding.id) for _, finding in left))


def _mend(grounds: Grounds, left: Sequence[Finding]) -> Mend:
    """The features that answer these, or one of them, and go with the control asked for; those that another finding of
    the record contraindicates are told apart, for each opens that question in turn."""
    fitting = _fitting(grounds, left)
    recorded = {finding.id for finding in grounds.case.findings}
    doubtful = {
        f.id: against for f in fitting if (against := [a.finding for a in f.spoken_against_by if a.finding in recorded])
    }
    clear = [f.id for f in fitting if f.id not in doubtful]
    way = f"Request {listed(clear, 'or')}, or name" if clear else "Name"
    but = [
        f" {name} would answer it too, and {listed(map(finding_name, against))} {'is' if len(against) == 1 else 'are'} "
        "a contraindication to it: it takes an answer."
        for name, against in doubtful.items()
    ]
    names = listed(finding.id for finding in left)
    return Mend(
        f"{way} {names} in because of the item that answers {'it' if len(left) == 1 else 'each'}.{''.join(but)}"
    )


def _fitting(grounds: Grounds, left: Sequence[Finding]) -> list[Feature]:
    """Features that answer one of these findings and go with what is asked for: a control beside the one that is asked
    for only where it is made to go with another, and no stop of a helper's where one is recorded that is no part."""
    asked = {chosen.feature.id: chosen.feature for chosen in grounds.fit.chosen}
    has_control = any(feature.part == "control" for feature in asked.values())
    answers = {f.id: f for finding in left for f in answering(finding.id, features().values())}
    beside = [f for f in answers.values() if f.goes_with or f.part != "control" or not has_control]
    return [f for f in beside if (not asked or f.fits(asked)) and not has_already(grounds.case, f)]
