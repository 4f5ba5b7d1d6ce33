"""Nothing is requested to run other devices, but for a speech device that is recorded.

Asks: Whether a line links the drive control to a speech device the client has, or to lights and appliances.
Why a payer asks: The link to a covered speech device is paid; running lights or appliances is not.
What settles it: A finding aac_user beside E2351, and no line for appliances.
Source: LCD L33792 (passage read); article A52504. Whether the speech device is covered itself is not recorded
here.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry
from docgen.criteria.ordered import APPLIANCES, ITEMS, OWN_CODE, lines, named, no_codes, places, tells

HEADING = "order"
CLAIM = "No line operates a device other than a speech generating device"
LINE_RANK = 80
LINE_CLAIM = "It operates a speech generating device, and no other device"
QUIET = True
SETTINGS = {"link": "E2351", "others": [OWN_CODE, "A9270"], "finding": "aac_user", "appliances": list(APPLIANCES)}


def answer(grounds: Grounds, link: str, others: list[str], finding: str, appliances: list[str]) -> Answer:
    case = grounds.case
    if nothing := no_codes(case):
        return nothing
    if runs := [line for line in lines(case, [link, *others]) if tells(line[1], appliances)]:
        return not_met(
            f"Lights or appliances are run by {named(runs)}.",
            *places(runs),
            mend="Take the line out, or pay for it in another way.",
        )
    links = lines(case, (link,))
    if not links:
        return met("No line runs another device.", ITEMS)
    for index, entry in enumerate(case.findings):
        if entry.id == finding:
            return met(
                f"The speech generating device that {named(links)} operates is recorded: {entry.says.rstrip('.')}.",
                ("findings", index),
                *places(links),
            )
    return cannot_tell(
        f"No speech generating device of the client is recorded beside {named(links)}.",
        ("findings",),
        *places(links),
        mend=Mend(
            f'Add [[findings]] with id = "{finding}" and says <the speech generating device, who pays for it>.',
            add=(NewEntry("findings", ("says",), (("id", f'"{finding}"'),)),),
        ),
    )
