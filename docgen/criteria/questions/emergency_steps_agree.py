"""The steps of the emergency page do not contradict each other.

Asks: Whether the drive goes off before the person is helped, whether or not the chair moves, and a part that swings
    away from the mouth or the chin goes with it; whether no step tilts back a person who may have
    dysreflexia without saying when it must not be; whether signs that look alike and call for opposite moves stand side
    by side, and whether words of the weight shift or of a call for help send every sign of the page one of these ways;
    whether what is said on the phone holds of each sign of its row; whether "your left" is told from where one
    stands; whether a step sends its reader back to itself without an end; whether each switch or lever that a step
    names is on record; whether each pair of conditions whose rows conflict has been settled by name and date.
Why a payer asks: A payer does not. The wrong first move can harm, and two lists on a wall are read as a choice.
What settles it: moves = "drive_off" on the first step, with what is done always, if_seen where a step does not always
    hold, [[emergency.signs]] with first, and [[emergency.settled]] with conflict, says, by and on.
Source: the conflicts in docgen/conditions; upright against tilt: Consortium for Spinal Cord Medicine, consumer guide.
"""

from __future__ import annotations

import re

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.conditions import undiagnosed
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, does_not_apply, met, not_met
from docgen.criteria.emergency_signs import sent_one_way, signs_left_out
from docgen.criteria.means import means_not_recorded, record_it
from docgen.criteria.sentences import listed
from docgen.fit.condition import conflicts_of, of_case, printable

HEADING = "safety"
CLAIM = "The steps of the emergency page agree"
DANGER = True
SETTINGS: dict[str, object] = {}
UPRIGHT_FIRST = "autonomic_dysreflexia"
# the steps are printed as they were given, so their own words are what must not contradict each other
_BACK = re.compile(r"\b(tilt|tip|lay|lie|lean|recline)\w*\b[^.!?]{0,30}\b(back|down|flat)\b|\brecline", re.IGNORECASE)
_AGAIN = re.compile(r"\b(?:if not|otherwise|else|until)\b[^.!?]*\b(?:again|repeat|once more)\b", re.IGNORECASE)
_ONLY_IF = re.compile(r"(?:if|when|where|in case)\b|it moves\b", re.IGNORECASE)
_ALWAYS = re.compile(r"\balways\b", re.IGNORECASE)
_YOUR_SIDE = re.compile(r"\byour (?:left|right)\b", re.IGNORECASE)
_STANDS = re.compile(r"\b(?:from|behind|beside|facing|stand|standing)\b", re.IGNORECASE)
_SIGN_WORD = re.compile(r"[a-z]{4,}")
_NEVER = re.compile(r"\b(never|not|no|don.t|do not)\b", re.IGNORECASE)


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    conflicts = conflicts_of(case)
    if not case.emergency.steps and not conflicts and not case.diagnoses:
        return undiagnosed("whether two of them conflict")
    if not case.emergency.steps and not conflicts:
        return does_not_apply("No steps for an emergency are recorded.", ("emergency", "steps"))
    looked_at = (
        _drive_off_first,
        _drive_off_always,
        _control_away,
        _for_some_signs,
        _tilts_back,
        _opposite,
        _loops,
        _names_unknown_means,
        _side_untold,
        _says_another_sign,
        _one_way_elsewhere,
    )
    if wrong := next(filter(None, (look(case) for look in looked_at)), None):
        return wrong
    settled = {entry.conflict for entry in case.emergency.settled if entry.says and entry.by and entry.on}
    if left := [conflict for _, conflict in conflicts if conflict.id not in settled]:
        places = (f"[[emergency.settled]] of {conflict.id}" for conflict in left)
        return cannot_tell(
            f"Not settled: {' '.join(conflict.says for conflict in left)}",
            ("emergency", "settled"),
            mend=f"Settle it in {listed(places)}, with says, by and on.",
            danger=True,
            bare="Conditions that conflict are not settled.",
        )
    if not case.emergency.steps:
        return cannot_tell(
            "Steps for an emergency are not recorded.",
            ("emergency", "steps"),
            mend="Write [[emergency.steps]].",
            danger=True,
        )
    return met("The drive goes off first, and no step contradicts another.", ("emergency", "steps"))


def _drive_off_first(case: Case) -> Answer | None:
    steps = case.emergency.steps
    if not steps or steps[0].moves == "drive_off":
        return None
    giver = case.person(steps[0].by)
    given_by = giver.name if giver else None
    return not_met(
        "The first step of the emergency page does not turn the drive off.",
        ("emergency", "steps", 0, "moves"),
        mend=(
            f"Leave the words of {given_by} as they are, ask {given_by} how the drive goes off before them, and write "
            'that as a step of its own above them, with moves = "drive_off", says, by and on.'
            if given_by
            else 'Begin with the step by which the drive goes off, with moves = "drive_off".'
        ),
    )


def _drive_off_always(case: Case) -> Answer | None:
    """A first step that holds only of a chair that moves: of one that stands or is off, the drive stays live."""
    first = case.emergency.steps[0] if case.emergency.steps else None
    moves_seat = any(step.moves in ("upright", "back") for step in case.emergency.steps)
    if first is None or not case.configuration.stop.drive_off or not moves_seat:
        return None
    if not (first.if_seen or _ONLY_IF.match(first.says or "")) or _ALWAYS.search(first.says or ""):
        return None
    return not_met(
        "The first step shuts off the drive only of a chair that moves, and later ones power its seat.",
        ("emergency", "steps", 0),
        mend="Write in it what is done always, also of a chair that stands or is off, with the word always.",
    )


def _control_away(case: Case) -> Answer | None:
    """A part at the mouth or the chin that can swing away, and that no step before the seat moves takes away."""
    off = [step.says or "" for step in case.emergency.steps if step.moves == "drive_off" and not step.if_seen]
    for mount in case.configuration.mounting:
        if mount.swings and mount.site in ("mouth", "chin") and off and mount.part.lower() not in " ".join(off).lower():
            return not_met(
                f"The steps that shut off the drive leave the {mount.part} where it is, and it can be swung away.",
                ("emergency", "steps", 0),
                mend=f"Ask whoever gave them whether the {mount.part} goes away first, and write it there.",
            )
    return None


def _tilts_back(case: Case) -> Answer | None:
    """A step that tilts back where upright may be what is needed, without when it holds."""
    if UPRIGHT_FIRST not in of_case(case):
        return None
    for at, step in enumerate(case.emergency.steps):
        words = step.says or printable(case, step.row or "") or ""
        tilts = any(_BACK.search(part) and not _NEVER.search(part) for part in re.split(r"[.!?;]", words))
        if (tilts or step.moves == "back") and not step.if_seen:
            return not_met(
                f"Step {at + 1} tilts back whatever is seen, and dysreflexia needs upright.",
                ("emergency", "steps", at),
                mend="Write in if_seen by which signs alone it holds, as whoever gives the step says.",
            )
    return None


def _for_some_signs(case: Case) -> Answer | None:
    """A step that brings the person upright, and that not every sign of the page leads to."""
    for at, step in enumerate(case.emergency.steps):
        if step.moves == "upright" and step.if_seen and (left_out := signs_left_out(case, step.if_seen)):
            return not_met(
                f"Step {at + 1} brings the person upright at “{step.if_seen.rstrip(': ')}”, and the signs of the page "
                f"are {listed(left_out)} too.",
                ("emergency", "steps", at, "if_seen"),
                ("emergency", "signs"),
                mend="Name in if_seen of each such step every sign that leads to it.",
                bare="A step that brings the person upright does not name every sign that leads to it.",
            )
    return None


def _loops(case: Case) -> Answer | None:
    """A step that is done again as long as something does not happen: who never sees it never comes to the next."""
    for at, step in enumerate(case.emergency.steps):
        if _AGAIN.search(step.says or ""):
            return not_met(
                f"Step {at + 1} sends its reader back to itself, and says not when to go on.",
                ("emergency", "steps", at, "says"),
                mend="Ask whoever gave it when to go on to the next step, and write that.",
            )
    return None


def _names_unknown_means(case: Case) -> Answer | None:
    """A step that sends a helper to a switch or lever which no page shows them."""
    for at, step in enumerate(case.emergency.steps):
        if means := means_not_recorded(case, step.says or ""):
            return cannot_tell(
                f"Step {at + 1} names the {means}, and no switch or lever on record is called that.",
                ("emergency", "steps", at),
                mend=record_it(means),
                danger=True,
            )
    return None


def _opposite(case: Case) -> Answer | None:
    """Steps that move the person in opposite ways, without signs that tell them apart."""
    moves = {step.moves for step in case.emergency.steps}
    shown = {sign.moves for sign in case.emergency.signs if sign.first}
    if not {"upright", "back"} <= moves or {"upright", "back"} <= shown:
        return None
    return not_met(
        "One step brings the person upright and another tilts back, and what tells them apart is not recorded.",
        ("emergency", "signs"),
        mend="Write both in [[emergency.signs]], each with what is seen, first, moves, by and on.",
    )


def _side_untold(case: Case) -> Answer | None:
    """A step that turns something to the reader's left or right, which is another way from each side of the chair."""
    for at, step in enumerate(case.emergency.steps):
        for sentence in re.split(r"[.!?]", step.says or ""):
            if _YOUR_SIDE.search(sentence) and not _STANDS.search(sentence):
                return not_met(
                    f"Step {at + 1} names the reader's left or right, and not from where: “{sentence.strip()}”.",
                    ("emergency", "steps", at, "says"),
                    mend="Write in the same sentence where one stands, as in from behind.",
                    bare="A step names the reader's left or right, and not from where.",
                )
    return None


def _says_another_sign(case: Case) -> Answer | None:
    """Words for the phone that name one sign of several: whoever sees another says what is not so."""
    for at, sign in enumerate(case.emergency.signs):
        parts = [part for part in re.split(r"[,;]|\bor\b", sign.says) if part.strip()]
        signs = set(_SIGN_WORD.findall((sign.say or "").lower()))
        named = [part for part in parts if signs & set(_SIGN_WORD.findall(part.lower()))]
        if sign.any_one and named and len(named) < len(parts):
            return not_met(
                f"On the phone “{sign.say}” is said of each of “{sign.says}”, and holds of some alone.",
                ("emergency", "signs", at, "say"),
                mend="Write what holds of each of them, as in what you see, and the condition that a crew must know.",
                bare="Words for the phone name one sign of several.",
            )
    return None


def _one_way_elsewhere(case: Case) -> Answer | None:
    """Words of the weight shift, or of a call for help, that send every sign of the page one way."""
    texts: list[tuple[KeyPath, str | None]] = [(("weight_shift", "not_when"), case.weight_shift.not_when)]
    for at, place in enumerate(case.supervision):
        texts += [(("supervision", at, name), getattr(place, name)) for name in ("calls_by", "if_stuck", "for_now")]
    for path, words in texts:
        if way := sent_one_way(case, words or ""):
            return not_met(
                f"At every sign of the emergency page “{(words or '').rstrip('. ')}” brings the person {way}, and one "
                "sign of that page moves the other way.",
                path,
                ("emergency", "signs"),
                mend="Write there which signs bring the person up and which back.",
                bare="Words elsewhere send every sign of the emergency page one way.",
            )
    return None
