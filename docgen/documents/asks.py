"""What the order itself sends somebody to ask before it is placed, gathered for whoever works from the rows alone.

What is asked of payer, boxes and cables follows from keys. Of sentences that the case words itself those that ask are
picked by their words, and only repeated here: each stands in full in the cell of its own part, line, device or growth,
so that one in other words is missed in this summary and nowhere else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
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
    yield from _of_attacks(tables, shows, wording, words)
    yield from _of_texts(tables, shows, words)
    yield from _of_places(tables, shows, therapist, wording)
    if "power_at_arm" in shows.get("control", ()) and tables["control"]["power_at_arm"]:
        yield wording["ask_arm"].format(therapist=therapist)
    if tables["base_asked"]["locks"] and "locks" in shows.get("base_asked", ()):
        yield wording["ask_lock"].format(codes=joined(tables["base_asked"]["locks"], words, "or"), therapist=therapist)
    unmeasured = [row["name"] for row in tables["rooms"] if row["no_ahead"]]
    if unmeasured and "measures" in shows.get("rooms", ()):
        yield wording["ask_ahead"].format(rooms=joined(unmeasured, words))
    yield from _of_wiring(tables, shows, therapist, words)


def _of_wiring(
    tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], therapist: str, words: Words
) -> Iterator[str]:
    """Boxes of electronics of which nobody has said where they sit, and parts whose cables have no route yet."""
    wording = words["base_asked"]
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


def _of_texts(tables: Mapping[str, Any], shows: Mapping[str, tuple[str, ...]], words: Words) -> Iterator[str]:
    """Each sentence of the order that the case words itself and that asks, by its words or by who is to be asked."""
    people = [getattr(tables[role], "name", None) for role in ("evaluator", "practitioner")]
    asks = re.compile("|".join([_ASKS.pattern, *map(re.escape, filter(None, people))]), re.I)
    for table, key, texts_of in _WORDED:
        for name, text in texts_of(tables, words) if key in shows.get(table, ()) else ():
            if asks.search(text):
                yield words["base_asked"]["ask_part"].format(part=name, says=text.rstrip(".;"))


def _texts_of_parts(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    """A place is told in statements, parted by semicolons."""
    for part in tables["standard_parts"]:
        name = part["part"] or words["base_asked"]["a_part"]
        for text in (*sentences_of(part["says"]), *statements_of(part["mounted"]), *statements_of(part["set_at"])):
            yield name, text


def _texts_of_lines(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    for item in tables["items"]:
        yield from ((item["code"] or "", text) for text in sentences_of(item["fitted"]))


def _texts_of_delivery(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    name = words["base_asked"]["ask_delivery"]
    yield from ((name, text) for text in sentences_of(tables["delivery"].place))


def _texts_of_cautions(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    yield from ((row["name"], row["says"]) for row in tables["set_cautions"])


def _texts_of_own_back(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    chair, name = tables["configuration"].chair, words["base_asked"]["own_back"]
    if chair.cushion_reused:
        yield from ((name, text) for text in sentences_of(chair.back_hung))


def _texts_of_device(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    name = words["does"]["external_device"]
    yield from ((name, text) for text in sentences_of(tables["configuration"].external_device))


def _texts_of_routes(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    for mount in tables["mounting"]:
        name = mount["part"] or words["base_asked"]["a_part"]
        yield from ((name, text) for text in statements_of(mount["route"]))


def _texts_of_growth(tables: Mapping[str, Any], words: Words) -> Iterator[tuple[str, str]]:
    name = words["lines_file"]["growth"].lower()
    yield from ((name, text) for text in sentences_of(tables["request"].growth))


# table and key that the order shows -> what a sentence of the case there is about, and the sentence
_WORDED: tuple[tuple[str, str, Callable[[Mapping[str, Any], Words], Iterator[tuple[str, str]]]], ...] = (
    ("standard_parts", "says", _texts_of_parts),
    ("items", "fitted", _texts_of_lines),
    ("delivery", "place", _texts_of_delivery),
    ("set_cautions", "says", _texts_of_cautions),
    ("configuration.chair", "back_hung", _texts_of_own_back),
    ("configuration", "external_device", _texts_of_device),
    ("mounting", "route", _texts_of_routes),
    ("request", "growth", _texts_of_growth),
)
