"""Who is near while the client drives is stated, place by place.

Asks: How near someone is in each place, and who; of hours alone, whether what they need is recorded at all.
Why a payer asks: Safe operation depends on it, and a claim of independence is judged against it.
What settles it: One entry in [[supervision]] for home and for each other place of use, with level and by; of one in
    which the client is alone, what alone_is_provided_for asks.
Source: US national coverage determination 280.3, questions 3 and 4 (a caregiver counts only if reliably present,
    willing and able).
"""

from __future__ import annotations

from docgen.case.model import Case
from docgen.criteria.alone import not_settled, places_alone, ruled_out_by
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met
from docgen.criteria.mend import add_entry, fill_in
from docgen.criteria.sentences import counted, listed

HEADING = "safety"
CLAIM = "Supervision is stated for each place"
SETTINGS: dict[str, object] = {}
_KEYS = {"drive_off": "configuration.stop.drive_off"}


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    places = case.supervision
    if not places:
        return cannot_tell(
            "Supervision is not recorded.", ("supervision",), mend=add_entry("supervision", "place", "level", "by")
        )
    bare = [(i, p) for i, p in enumerate(places) if not p.by and p.level != "alone"]
    if bare:
        named = "; who names those who may be near, and by says in words who is" if any(p.who for _, p in bare) else ""
        return cannot_tell(
            f"Who is near is not recorded for: {listed(p.place for _, p in bare)}.",
            *(("supervision", i) for i, _ in bare),
            mend=fill_in({"by": "<who is near>"}, f" in [[supervision]]{named}"),
        )
    if unsaid := [(at, place) for at, place in enumerate(places) if place.level == "never_alone"]:
        return cannot_tell(
            f"Somebody is always there, and how near is not recorded: {listed(p.place for _, p in unsaid)}.",
            *(("supervision", at, "level") for at, _ in unsaid),
            mend='Write in place of "never_alone" how near they stay, as the therapist says: level = "hands_on_stop", '
            '"arms_length", "same_room" or "in_sight".',
        )
    if is_open := [(at, place) for at, place in places_alone(case) if not_settled(case, place)]:
        return cannot_tell(
            f"Who is near is stated, and hours alone are not provided for yet: {listed(p.place for _, p in is_open)}.",
            *(("supervision", at) for at, _ in is_open),
            mend=fill_in(
                {_KEYS.get(key, key): "" for _, place in is_open for key in not_settled(case, place)},
                " in [[supervision]]",
            ),
        )
    return _stated(case)


def _stated(case: Case) -> Answer:
    """For which places it is stated, and where being alone is not settled."""
    places = case.supervision
    waiting = [place.place for place in places if not place.released]
    waits = f" Not before the therapist has released it: {listed(waiting)}." if waiting else ""
    apart = [place.place for _, place in places_alone(case) if ruled_out_by(case, place)]
    if apart:
        settled = [place.place for place in places if place.place not in apart]
        return met(
            f"Supervision is stated for {len(settled)} of {counted(len(places), 'place', 'places')}"
            f"{': ' + '; '.join(settled) if settled else ''}. Being alone is not settled: {listed(apart)}.{waits}",
            ("supervision",),
            limit="in_part",
        )
    return met(
        f"Supervision is stated for {counted(len(places), 'place', 'places')}: {'; '.join(p.place for p in places)}."
        f"{waits}",
        ("supervision",),
    )
