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

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.mend import Mend, add_entry
from docgen.criteria.sentences import counted, listed
from docgen.fit.feature import features
from docgen.fit.finding import can_hurt
from docgen.fit.match import answering

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
    ways = listed(dict.fromkeys(f.id for _, finding in left for f in answering(finding.id, features().values())), "or")
    return not_met(
        f"Nothing requested meets this: {' '.join(finding.says.rstrip('.') + '.' for _, finding in left)}",
        *(("findings", at) for at, _ in left),
        ("configuration", "features"),
        mend=Mend(f"Request one of these features, or name it in because of the item that answers it: {ways}."),
    )
