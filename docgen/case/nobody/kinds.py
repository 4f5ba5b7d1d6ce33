"""The 18 kinds of identifiers of 45 CFR 164.514(b)(2)(i), and how a copy about nobody treats each."""

from __future__ import annotations

from msgspec import Struct


class Kind(Struct, frozen=True):
    """One kind of identifier.

    letter  as the rule has it, A to R
    name    in short
    keys    keys of a case that hold it and are replaced whole; "people" stands for each person
    looked  whether it is looked for in free text, by names known and by what it looks like
    """

    letter: str
    name: str
    keys: tuple[str, ...] = ()
    looked: bool = True


KINDS = (
    Kind(
        "A",
        "names",
        (
            "client.name",
            "client.called",
            "client.name_in_own_script",
            "people.name",
            "people.organisation",
            "outside_records.author",
            "outside_records.organisation",
            "request.payer_name",
            "request.later_payers.payer_name",
        ),
    ),
    Kind("B", "places", ("delivery.street", "delivery.city", "delivery.postal_code")),
    Kind("C", "days and ages over 89", ("client.born_on", "dates.written_on")),
    Kind("D", "phones", ("people.phone", "request.payer_phone")),
    Kind("E", "fax numbers"),
    Kind("F", "e-mail addresses", ("people.email",)),
    Kind("G", "social security numbers"),
    Kind("H", "record numbers"),
    Kind("I", "plan numbers", ("client.member_id", "request.later_payers.member_id")),
    Kind("J", "account numbers"),
    Kind("K", "licence numbers", ("people.license",)),
    Kind("L", "vehicles and plates"),
    Kind("M", "device and serial numbers"),
    Kind("N", "web addresses"),
    Kind("O", "network addresses"),
    Kind("P", "biometric marks", looked=False),
    Kind("Q", "pictures of a face", looked=False),
    Kind("R", "other numbers and codes", ("id", "authorization.tracking", "denial.reference")),
)


def no_legal_deidentification() -> str:
    """What a copy is not, which kinds are replaced by key, which are looked for, and what is left to a human."""
    by_key = [kind for kind in KINDS if kind.keys]
    looked = [kind for kind in KINDS if kind.looked and not kind.keys]
    left = [kind for kind in KINDS if not kind.looked]
    return (
        f"This is no legal de-identification. Of the {len(KINDS)} kinds of identifiers of 45 CFR 164.514(b)(2) "
        f"{len(by_key)} are replaced where a key holds them: {_kinds_named(by_key)}. These and {len(looked)} more "
        f"are looked for in free text, where some can be missed: {_kinds_named(looked)}. "
        f"Left to a human: {_kinds_named(left)}, the words listed, whatever else in a text "
        "tells who it is, and whether moved days may leave the clinic (164.514(b)(1))."
    )


def _kinds_named(kinds: list[Kind]) -> str:
    return ", ".join(f"{kind.name} ({kind.letter})" for kind in kinds)
