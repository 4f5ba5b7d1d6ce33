"""A seat that moves by power has a finding that calls for it.

Asks: Whether an item for tilt, recline or another power seat is requested because of a finding that counts.
Why a payer asks: Power seating is paid for skin at risk, tone, or a need of care; comfort is no ground.
What settles it: because of the item, or of a feature it brings, with pressure_risk, tone_rises_effort,
    tone_rises_startle or spasm_sudden, the findings that count, and its measure; what the reason of the item says was
    not looked at; or serves = "catheter" of the item, beside
    a finding that the client does not transfer alone.
Source: L33792 (lead read as a passage, the grounds from summaries); NCD 280.16 for seat elevation (passage read).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from docgen.case.items import Item
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met
from docgen.criteria.mend import Mend
from docgen.criteria.ordered import ITEMS, lines, named, no_codes, places
from docgen.criteria.sentences import listed
from docgen.fit.finding import finding_name

HEADING = "order"
CLAIM = "A finding calls for each power seating function"
LINE_RANK = 40
# a clause of the reason for the line that says what was not looked at, or how much of what was due was done
_UNSEEN = re.compile(
    r"[^.;]*\b(?:not (?:yet )?(?:mapped|measured|tried|looked at|tested|known)|\d+ of (?:the )?\d+ [^.;]*\bdue)\b"
    r"[^.;]*",
    re.IGNORECASE,
)
SETTINGS = {
    "codes": ["E1002", "E1003", "E1004", "E1005", "E1006", "E1007", "E1008"],
    "findings": ["pressure_risk", "tone_rises_effort", "tone_rises_startle", "spasm_sudden"],
    "dependent": ["transfer_sling"],
}


def answer(grounds: Grounds, codes: list[str], findings: list[str], dependent: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    asked = lines(case, codes)
    if not asked:
        return does_not_apply(f"No item has the code {listed(codes, 'or')}.", ITEMS)
    reasons = {i: _reasons(case, item) & set(findings) for i, item in asked}
    lifted = any(finding.id in dependent for finding in case.findings)
    care = {i for i, item in asked if lifted and item.serves == "catheter"}
    if bare := [(i, item) for i, item in asked if not reasons[i] and i not in care]:
        return cannot_tell(
            f"No finding behind {named(bare)} is one that counts.",
            *((*ITEMS, i) for i, _ in bare),
            ("findings",),
            mend=_mend(findings, dependent),
        )
    behind = [finding_name(finding) for i, _ in asked for finding in findings if finding in reasons[i]]
    return _founded(case, asked, reasons, listed([*dict.fromkeys(behind), *["catheterisation"] * bool(care)]))


def _founded(case: Case, asked: Sequence[tuple[int, Item]], reasons: Mapping[int, set[str]], ground: str) -> Answer:
    """The grounds of these lines with what was measured of them, and what the reason of a line leaves open."""
    seen = [measure for i, _ in asked for measure in _measures(case, reasons[i])]
    open_ = [clause.strip().rstrip(".") for _, item in asked for clause in _UNSEEN.findall(item.why or "")]
    measured = listed(dict.fromkeys(seen))
    left = f" Open by its own reason: {listed(dict.fromkeys(f'“{clause}”' for clause in open_))}." if open_ else ""
    return met(
        f"{named(asked)}: {ground}{f' ({measured})' if seen else ''}.{left}",
        *places(asked, "because"),
        *places(asked, "why"),
        *(("findings", i, "measure") for i, finding in enumerate(case.findings) if finding.measure in seen),
        # the name of a risk can be that of a condition, and a measure tells of the body
        bare=f"{named(asked)}: findings of the evaluation call for it.{left}",
        limit="in_part" if open_ else "",
    )


def _measures(case: Case, names: Collection[str]) -> Iterator[str]:
    """What was measured of these findings, in the words of the case."""
    yield from (finding.measure for finding in case.findings if finding.id in names and finding.measure)


def _reasons(case: Case, item: Item) -> set[str]:
    """Findings behind a line: its own, and those of its features."""
    brought = {feature.id: feature.because for feature in case.configuration.features}
    return {*item.because, *(finding for name in item.features for finding in brought.get(name, ()))}


def _mend(findings: list[str], dependent: list[str]) -> Mend:
    names = listed((finding.replace("_", " ") for finding in findings), "or")
    return Mend(
        f"Fill in because <{names}> of the item, with that finding; "
        f'or serves = "catheter", where it is for that, with the finding {listed(dependent, "or")}.',
        fill=("because", "serves"),
    )
