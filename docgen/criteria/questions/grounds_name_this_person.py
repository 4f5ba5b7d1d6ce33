"""Each reason is specific to this client, and no two lines share one.

Asks: Whether the reason of a device that is ruled out or of a line of the order holds more than "needed" or "not
    suitable", and whether one reason was given to several.
    Controls worked at one site of the body may have one cause, and then one reason.
Why a payer asks: A reason that would fit anyone is struck at sight.
What settles it: One sentence each, with what was seen in this person.
Source: article A55426 and US Program Integrity Manual 5.9 (what a letter claims is in the record); L33789, types II
    to IV (3) (why each option is needed). The list of empty words is our own.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.case.namesakes import letters_and_digits
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import add_entry
from docgen.criteria.sentences import capital, listed
from docgen.fit.alternatives import kinds

HEADING = "record"
CLAIM = "Each reason is specific to this client"
SHOWN_IN = (
    "letter: Alternatives Considered and Ruled Out",
    "letter: Recommended Equipment and Justification of Each Item",
)
SETTINGS: dict[str, object] = {}

# Words of which a sentence can be made that fits anyone. A ground of nothing else is none.
_EMPTY = frozenset(
    """a an and any appropriate are as at be beneficial best better by can cannot client clinically could device does
    driver effective equipment essential feasible fit for functional good have he help helpful helps her him his
    important in independence independent indicated is it item its justified medical medically meets mobility
    necessary need needed needs no not of on option or patient person possible practical recommended required
    requires safe safely she should suitable suited sufficient that the their them they this to unable unsafe
    unsuitable use used useful user was well will with work works would""".split()
)

Ground = tuple[KeyPath, str, str]  # where it stands, what it is about, the ground itself


def answer(grounds: Grounds) -> Answer:
    given = [*_grounds(grounds.case)]
    if not given:
        return cannot_tell(
            "No reason of a device or of a line of the order is recorded.",
            ("alternatives",),
            ("configuration", "items"),
            mend=add_entry("alternatives", "ruled_out_by", "reason", kind="stick_by_hand"),
        )
    if empty := [ground for ground in given if set(letters_and_digits(ground[2])) <= _EMPTY]:
        return not_met(
            f"{listed(f'“{ground}” for {about}' for _, about, ground in empty)}: "
            f"{'that names' if len(empty) == 1 else 'these name'} nothing that was seen in this person.",
            *(where for where, _, _ in empty),
            mend="Say in one sentence what was seen in this person.",
            bare="A reason names nothing that was seen in this person.",
        )
    if shared := _shared(grounds.case, given):
        return not_met(
            f"{capital(listed(about for _, about, _ in shared))} have one and the same reason: “{shared[0][2]}”.",
            *(where for where, _, _ in shared),
            mend="Give each its own reason.",
            bare="Several lines have one and the same reason.",
        )
    return met(f"{len(given)} reasons were read, each in its own words.", *(where for where, _, _ in given))


def _grounds(case: Case) -> Iterator[Ground]:
    for index, device in enumerate(case.alternatives):
        if device.reason:
            yield ("alternatives", index, "reason"), device.name, device.reason
    for index, item in enumerate(case.configuration.items):
        if item.why:
            yield ("configuration", "items", index, "why"), f"the {item.name}", item.why
    if case.configuration.chair.why:
        yield ("configuration", "chair", "why"), "the base", case.configuration.chair.why


def _shared(case: Case, given: list[Ground]) -> list[Ground]:
    """The first grounds that several have in common, or none."""
    same: dict[tuple[str, ...], list[Ground]] = defaultdict(list)
    for ground in given:
        same[letters_and_digits(ground[2])].append(ground)
    return next((together for together in same.values() if len(together) > 1 and not _at_one_site(case, together)), [])


def _at_one_site(case: Case, together: list[Ground]) -> bool:
    """Whether all are controls worked at one site of the body, of which one and the same thing may be the cause."""
    sites = [
        frozenset(kinds()[kind].sites) if (kind := case.alternatives[int(where[1])].kind) in kinds() else frozenset()
        for where, _, _ in together
        if where[0] == "alternatives"
    ]
    return len(sites) == len(together) and bool(frozenset.intersection(*sites))
