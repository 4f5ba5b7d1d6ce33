"""What the order itself sends somebody to ask before it is placed, gathered for whoever works from the rows alone.

What is asked of payer, boxes and cables follows from keys. Of sentences that the case words itself those that ask are
picked by their words, and only repeated here: each stands in full in the cell of its own part, line, device or growth,
so that one in other words is missed in this summary and nowhere else.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from docgen.criteria.sentences import sentences_of, statements_of
from docgen.documents.phrase import Words, joined

# a sentence of the case that sends to somebody, by name too, or says what nobody has recorded
_ASKS = re.compile(r"\b(asks?|whether|not recorded|not worked out|not counted|supplier (shows|checks))\b", re.I)


def asks_of_parts(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], therapist: str, words: Words
) -> Iterator[str]:
    """Each ask, in the words of the order and as far as it shows it: of the payer, the code list, standard parts, what
    is fitted of a line, growth and the external device, boxes of electronics and cables.

    tables  every table that a document could be shown
    shows   tables and keys that the order shows
    """
    wording = words["base_asked"]
    yield from _of_payer(tables, shows, wording)
    if "code_list" in shows.get("ordered", ()) and tables["ordered"]["code_list"]:
        yield wording["ask_list"].format(says=tables["ordered"]["code_list"].rstrip("."))
    people = [getattr(tables[role], "name", None) for role in ("evaluator", "practitioner")]
    asks = re.compile("|".join([_ASKS.pattern, *map(re.escape, filter(None, people))]), re.I)
    yield from _of_attacks(tables, shows, wording, words)
    for name, text in _texts(tables, shows, words):
        if asks.search(text):
            yield wording["ask_part"].format(part=name, says=text.rstrip(".;"))
    yield from _of_places(tables, shows, therapist, wording)
    if tables["base_asked"]["locks"] and "locks" in shows.get("base_asked", ()):
        yield wording["ask_lock"].format(codes=joined(tables["base_asked"]["locks"], words, "or"), therapist=therapist)
    unmeasured = [row["name"] for row in tables["rooms"] if row["no_ahead"]]
    if unmeasured and "measures" in shows.get("rooms", ()):
        yield wording["ask_ahead"].format(rooms=joined(unmeasured, words))
    if "box" in shows.get("boxes", ()):
        unplaced = [row["code"] for row in tables["boxes"] if not row["box"]]
        if unplaced:
            yield wording["ask_box"].format(codes=joined(unplaced, words), therapist=therapist)
    if "route" in shows.get("mounting", ()):
        unrouted = [row["part"] for row in tables["mounting"] if not row["route"] and not row["not_wired_to"]]
        if unrouted:
            parts = joined([part or wording["a_part"] for part in unrouted], words)
            yield wording["ask_route"].format(parts=parts, therapist=therapist)


def _of_places(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], therapist: str, wording: Mapping[str, str]
) -> Iterator[str]:
    """Supports, armrests and devices of which nobody has said where they stand, and parts at the face of which nobody
    has said whether they give way."""
    if "set_at" in shows.get("standard_parts", ()):
        for row in tables["standard_parts"]:
            if row["set_at"] is None:
                name, lacks = row["part"] or wording["a_part"], row["_labels"]["set_at"]
                yield wording["ask_set"].format(part=name, lacks=lacks, therapist=therapist)
    chair = tables["configuration"].chair
    if "back_hung" in shows.get("configuration.chair", ()) and chair.cushion_reused and not chair.back_hung:
        yield wording["ask_back"].format(therapist=therapist)
    if "gives_way" in shows.get("mounting", ()):
        for row in tables["mounting"]:
            if row["faces"] and not row["gives_way"]:
                part, line = row["part"] or wording["a_part"], row["arm_line"]
                ordered = wording["ask_line"].format(line=line) if line else wording["ask_part_itself"]
                yield wording["ask_gives_way"].format(part=part, therapist=therapist, ordered=ordered)


def _of_attacks(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], wording: Mapping[str, str], words: Words
) -> Iterator[str]:
    """The word of a physician on driving with attacks that nobody tests the chair without."""
    unanswered = tables["attacks"]["unanswered"] if "unanswered" in shows.get("attacks", ()) else ()
    if unanswered:
        practitioner = tables["practitioner"]
        yield wording["ask_attack"].format(
            practitioner=getattr(practitioner, "name", None) or wording["the_practitioner"],
            phone=getattr(practitioner, "phone", None) or words["lines_file"]["not_recorded"],
            attacks=joined(unanswered, words),
        )


def _of_payer(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], wording: Mapping[str, str]
) -> Iterator[str]:
    """Lines that the payer has said nothing of, and the number of a decision that came after the order."""
    if not {"payer_name", "payer_says"} <= {*shows.get("request", ())}:
        return
    request, after = tables["request"], tables["after_order"]
    payer = " ".join(filter(None, (request.payer_name, request.payer_phone)))
    lines = [str(line["number"]) for line in tables["order_lines"] if not line["payer_says"]]
    if payer and lines and not request.payer_says:
        yield wording["ask_payer"].format(lines=", ".join(lines), payer=payer)
    if payer and tables["authorized"]["waits"] and "waits" in shows.get("authorized", ()) and not after["decided"]:
        yield wording["ask_decision"].format(payer=payer)
    if payer and after["decided"]:
        yield wording["ask_number"].format(payer=payer)


def _texts(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> Iterator[tuple[str, str]]:
    """What a sentence is about, and the sentence: every one of the order that the case words itself. A place is told
    in statements, parted by semicolons."""
    for part in tables["standard_parts"] if "says" in shows.get("standard_parts", ()) else ():
        name = part["part"] or words["base_asked"]["a_part"]
        yield from ((name, text) for text in sentences_of(part["says"]))
        yield from ((name, text) for text in statements_of(part["mounted"]))
        yield from ((name, text) for text in statements_of(part["set_at"]))
    for item in tables["items"] if "fitted" in shows.get("items", ()) else ():
        yield from ((item["code"] or "", text) for text in sentences_of(item["fitted"]))
    if "place" in shows.get("delivery", ()):
        name = words["base_asked"]["ask_delivery"]
        yield from ((name, text) for text in sentences_of(tables["delivery"].place))
    if "says" in shows.get("set_cautions", ()):
        yield from ((row["name"], row["says"]) for row in tables["set_cautions"])
    if "back_hung" in shows.get("configuration.chair", ()) and tables["configuration"].chair.cushion_reused:
        name = words["base_asked"]["own_back"]
        yield from ((name, text) for text in sentences_of(tables["configuration"].chair.back_hung))
    if "external_device" in shows.get("configuration", ()):
        name = words["does"]["external_device"]
        yield from ((name, text) for text in sentences_of(tables["configuration"].external_device))
    if "route" in shows.get("mounting", ()):
        for mount in tables["mounting"]:
            name = mount["part"] or words["base_asked"]["a_part"]
            yield from ((name, text) for text in statements_of(mount["route"]))
    if "growth" in shows.get("request", ()):
        name = words["lines_file"]["growth"].lower()
        yield from ((name, text) for text in sentences_of(tables["request"].growth))
