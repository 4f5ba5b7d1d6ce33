"""The steps of the emergency page: those that turn the drive off, those for whatever is seen, and, where two
states look alike, those of each side by side."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from string import ascii_lowercase
from typing import TypedDict

from docgen.case.emergency import EmergencyStep
from docgen.case.model import Case
from docgen.documents.phrase import sentences_apart
from docgen.fit.condition import printable

_STEP_LABEL = "the step, in the words of whoever gives it"
_ALONE_LABEL = "what one helper alone does at this step"


class Step(TypedDict):
    """One step; None where it is in nobody's words, which shows as a gap.

    says       what one helper alone does
    with_help  what is done besides, or in its place, once there are two; "" where one is enough
    """

    says: str | None
    if_seen: str
    with_help: str | None
    _labels: dict[str, str]
    _moves: str


_NO_STEP: Step = {"says": "", "if_seen": "", "with_help": "", "_labels": {}, "_moves": ""}


class InColumns(TypedDict):
    """What one helper alone does in each of two states, and what is done besides once there are two."""

    first: str | None
    first_with_help: str | None
    second: str | None
    second_with_help: str | None
    _labels: dict[str, str]


class SideBySide(InColumns):
    """What is done at the same turn in each of two states that look alike; "" below the last step of one of them.

    alike  it is the same in both, and so is each later turn that both have: it needs no column
    abreast  it stands in the columns, one act a row, each with a letter behind the number
    head     what the row is about, where the acts of both columns begin with the same words before a colon; else ""
    raises   whether it is the act that brings the seat up, in the first or the second column; else ""
    """

    number: str
    head: str
    raises: str
    abreast: bool
    alike: bool


def step_row(case: Case, step: EmergencyStep) -> Step:
    """A step for one helper alone, with what two do; the words of an accepted row come last, where it
    rests on one: whom to call here, with the number, is said before why."""
    own = step.says if step.by is not None and step.on is not None else None
    row = _row_words(case, step.row) if step.row is not None else None
    says = " ".join(part for part in (own, row) if part) if row else (None if step.row else own)
    takes_two = bool(step.alone) or (step.needs or 1) > 1
    return {
        "says": step.alone if takes_two and says else says,
        "if_seen": (step.if_seen or "") if says else "",
        "with_help": says if takes_two else (step.with_help or ""),
        "_labels": {"says": _ALONE_LABEL if takes_two and says else _STEP_LABEL, "with_help": _STEP_LABEL},
        "_moves": step.moves or "",
    }


def two_states(case: Case) -> tuple[str, str] | None:
    """The two states that the steps tell apart; None where they tell of one, or of more than a page holds abreast.

    Two look alike where a step of each moves the person. Where none does, such as a last step that holds once the lips
    are blue, the steps stay one list in their order: abreast, that last one would stand beside the first.
    """
    states = tuple(dict.fromkeys(step.if_seen for step in case.emergency.steps if step.if_seen))
    moved = {step.if_seen for step in case.emergency.steps if step.moves in ("upright", "back")}
    return (states[0], states[1]) if len(states) == 2 and moved.issuperset(states) else None


def n_first(case: Case) -> int:
    """How many steps at the head of the list turn the drive off: they come before whatever is seen is sorted out."""
    steps = case.emergency.steps
    ends = (at for at, step in enumerate(steps) if step.moves != "drive_off" or step.if_seen)
    return next(ends, len(steps))


def n_shared(case: Case) -> int:
    """How many steps come first, whatever is seen; all of them where no two states are told apart."""
    steps = case.emergency.steps
    return next(at for at, step in enumerate(steps) if step.if_seen) if two_states(case) else len(steps)


def columns(case: Case) -> Iterator[SideBySide]:
    """The steps after the shared ones, for two states side by side.

    A step that holds always stands in both, so that whoever reads one column down misses nothing.
    """
    turns, n_before = _turns(case), n_shared(case)
    last_apart = max(
        (at for at, turn in enumerate(turns) if all(step["says"] for step in turn) and turn[0] != turn[1]), default=-1
    )
    for at, (first, second) in enumerate(turns):
        number = str(n_before + at + 1)
        if at > last_apart and first["says"] == second["says"]:
            yield _in_one_row(number, first, second, is_alike=True)
        elif "" in (first["says"], second["says"]):
            yield _in_one_row(number, first, second, is_alike=False)
        else:
            yield from _act_by_act(number, first, second)


def _turns(case: Case) -> list[tuple[Step, Step]]:
    """What is done at each turn in the one state and in the other; no step below the last of one of them."""
    states, later = two_states(case), case.emergency.steps[n_shared(case) :]
    if states is None:
        return []
    first, second = ([step_row(case, step) for step in later if step.if_seen in (None, state)] for state in states)
    return list(zip_longest(first, second, fillvalue=_NO_STEP))


def _in_one_row(number: str, first: Step, second: Step, *, is_alike: bool) -> SideBySide:
    return {
        "head": "",
        "raises": "",
        "number": number,
        "abreast": False,
        "alike": is_alike,
        **_in_columns(first, second),
    }


def _act_by_act(number: str, first: Step, second: Step) -> Iterator[SideBySide]:
    """The acts of two steps abreast, one a row; the first row has the act that brings the seat up."""
    rows = list(zip_longest(_acts(first), _acts(second), fillvalue=_NO_STEP))
    raises = next((name for name, step in (("first", first), ("second", second)) if step["_moves"] == "upright"), "")
    for act, acts in enumerate(rows):
        head, left, right = _under_head(*acts)
        yield {
            "head": head,
            "raises": "" if act else raises,
            "number": number + ascii_lowercase[act : act + 1] if len(rows) > 1 else number,
            "abreast": True,
            "alike": False,
            **_in_columns(left, right),
        }


def _in_columns(left: Step, right: Step) -> InColumns:
    return {
        "first": left["says"],
        "first_with_help": left["with_help"],
        "second": right["says"],
        "second_with_help": right["with_help"],
        "_labels": _labels_of("first", left) | _labels_of("second", right),
    }


def _under_head(left: Step, right: Step) -> tuple[str, Step, Step]:
    """The words before a colon with which the acts of both columns begin, and the acts without them."""
    head, colon, act = (left["says"] or "").partition(": ")
    if not colon or not (right["says"] or "").startswith(head + colon):
        return "", left, right
    other = (right["says"] or "").removeprefix(head + colon)
    return head, {**left, "says": _begun(act)}, {**right, "says": _begun(other)}


def _begun(act: str) -> str:
    return act[:1].upper() + act[1:]


def _acts(step: Step) -> list[Step]:
    """Each line of a step as a step of its own, or each sentence where it is written in one line; what two people do
    comes last, a step of its own too."""
    says = step["says"]
    lines = says.splitlines() if says else []
    acts: list[str | None] = [*(lines if len(lines) > 1 else sentences_apart(says))] if says else [says]
    alone: list[Step] = [{**step, "says": act, "with_help": ""} for act in acts]
    return alone if step["with_help"] == "" else [*alone, {**step, "says": ""}]


def _labels_of(column: str, step: Step) -> dict[str, str]:
    """What the gaps of a step are called in its column."""
    labels = step["_labels"] or {"says": _STEP_LABEL, "with_help": _STEP_LABEL}
    return {column: labels["says"], f"{column}_with_help": labels["with_help"]}


def _row_words(case: Case, row_id: str) -> str | None:
    """The words of an accepted row, in the language of the page; None where it may not be printed."""
    prints = printable(case, row_id)
    return next((row.in_language or prints for row in case.accepted if row.row == row_id), None) if prints else None
