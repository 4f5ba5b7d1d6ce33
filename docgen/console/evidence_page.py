"""The first page of `docgen evidence`: what matters most of the trial, each control a column.

In the order in which a reader must know it: what contradicts itself, the stops with what happened at each miss, what
was done, collisions and unintended activations, help, change, limits. The rest stands in `--all`.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.tried import Method
from docgen.console.width import WIDTH
from docgen.criteria.sentences import capital, counted, day, listed
from docgen.documents.phrase import number
from docgen.evidence.blocks import by_method
from docgen.evidence.done import done_is_open, help_is_recorded
from docgen.evidence.fact import Fact
from docgen.evidence.misses import misses
from docgen.evidence.stops import NO_DAY, beside_rows
from docgen.packet.wording import language_words
from docgen.rendering.template import Gap
from docgen.results import CaseEvidence

LINES = 60
_LABEL, _GAP, _LEAST = 20, 2, 12  # widths in characters: of the labels, between columns, of the narrowest column
MOST_CONTROLS = (WIDTH - _LABEL) // (_GAP + _LEAST)
MOST_CONTRADICTIONS, MOST_MISSES = 4, 8
_MOST_LINES = 3  # of one contradiction, limit or miss
_UNITS_OF_ROWS = (" per 328 ft (100 m)", " a minute")  # told once, beside the row
_RANGES = (
    "Ranges in brackets are at 95%, and too narrow by an unknown amount: attempts of a few days and one learner are "
    "not independent."
)

Row = list[str]  # the lines of one row


class Block(Struct, frozen=True):
    """A heading and its rows. `cut` says how soon its last rows give way to what matters more; 0 is never."""

    title: str
    rows: list[Row]
    cut: int = 0


def evidence_page(evidence: CaseEvidence, command: str) -> str:
    """The page, of at most `LINES` lines of `WIDTH` characters.

    command  how the evidence is asked for, for what tells where the rest stands
    """
    methods = controls(evidence)
    shown = methods[:MOST_CONTROLS]
    head = [*_head(evidence), *_left_out(methods[MOST_CONTROLS:])]
    blocks = [
        _contradictions(evidence),
        Block("STOPS", [*_table(evidence, shown, _STOPS), *_missed(evidence, shown)]),
        Block(_done_title(evidence), [*_table(evidence, shown, _DONE), *_tasks(evidence, shown)], cut=2),
        Block("COLLISIONS AND UNINTENDED ACTIVATIONS", [*_table(evidence, shown, _SAFELY)]),
        Block("HELP", [*_table(evidence, shown, _HELP)]),
        Block("CHANGE WITHIN A SESSION AND FROM ONE TO THE NEXT", [*_table(evidence, shown, _CHANGE)], cut=1),
        Block("LIMITS", [*_limits(evidence)], cut=3),
    ]
    rest, whole = "Every number with its rows and its formula:", f"{command} --all"
    foot = [f"{rest} {whole}"] if len(rest) + len(whole) < WIDTH else [rest, f"  {whole}"]  # a command is not broken
    names = _columns("", [_named(evidence, method) for method in shown])
    fixed = len(head) + len(names) + len(foot) + 2  # with two blank lines
    fitted = _fitted([block for block in blocks if block.rows], LINES - fixed)
    lines = [*head]
    for block in fitted:
        if block.title == "STOPS":
            lines += ["", *names] if shown else []
        lines += [*([""] if block.title.startswith("CONTRA") else []), block.title, *_flat(block.rows)]
    return "\n".join([*lines, *foot])


def misses_text(evidence: CaseEvidence) -> list[str]:
    """Each stop that was missed with each control, with what happened: all of them, for the pages without an end."""
    rows = [row for method in controls(evidence) for row in _misses_of(evidence, method, _MOST_LINES * 10)]
    return ["", "Stops missed, and what happened", *_flat(rows)] if rows else []


def controls(evidence: CaseEvidence) -> list[Method]:
    """The controls that were tried, the requested one first."""
    case = evidence.case
    rows_of = by_method(case.tried)
    tried = [method for method in case.trial.methods if rows_of.get(method.id)]
    return sorted(tried, key=lambda method: method.id != case.configuration.method)


def _head(evidence: CaseEvidence) -> list[str]:
    case = evidence.case
    days = sorted({row.date for row in case.tried})
    tried = f"{counted(len(days), 'day', 'days')}, {day(days[0])} to {day(days[-1])}" if days else "not recorded"
    line = f"Tried: {tried}. Scored by: {case.trial.counted_by or 'not recorded'}."
    return [f"{case.id}: what the record supports", *textwrap.wrap(line, WIDTH)]


def _left_out(methods: Sequence[Method]) -> list[str]:
    names = "; ".join(method.name for method in methods)
    return textwrap.wrap(f"Not in these columns, see --all: {names}.", WIDTH) if methods else []


def _contradictions(evidence: CaseEvidence) -> Block:
    """What contradicts itself; that nothing does is said too."""
    reasons = evidence.contradictions
    rows = [_shortened(f"- {reason}", "  ") for reason in reasons[:MOST_CONTRADICTIONS]]
    if more := len(reasons) - MOST_CONTRADICTIONS:
        rows += [[f"  and {more} more: docgen check {evidence.case.id} --all"]] if more > 0 else []
    return Block("CONTRADICTIONS", rows or [["  none that the program can see"]])


Cell = Callable[[CaseEvidence, Method], Fact | None]


def _fact(*names: str) -> Cell:
    """The first of these facts that a control has."""

    def of_method(evidence: CaseEvidence, method: Method) -> Fact | None:
        by_id = _by_id(evidence)
        return next((fact for name in names if (fact := by_id.get(f"{name}.{method.id}")) is not None), None)

    return of_method


_STOPS: Mapping[str, Cell] = {
    "made of asked": _fact("stop_request"),
    "since last miss": _fact("stops_since"),
    "slowest release": _fact("release_slowest"),
    "release limit": _fact("release"),
    "time to stop": _fact("stop_time"),
}
_DONE: Mapping[str, Cell] = {
    "all tasks": _fact("done_strict", "success"),
    "as written down": _fact("done_recorded"),
    "days": _fact("days"),
    "requested minus it": _fact("difference"),
}
_SAFELY: Mapping[str, Cell] = {
    "collisions per 328 ft (100 m)": _fact("contacts"),
    "collisions, counted": _fact("contacts_counted"),
    "with a person": _fact("person_contacts"),
    "unintended a minute": _fact("unintended"),
    "unintended, counted": _fact("unintended_counted"),
    "missed": _fact("missed"),
    "missed, counted": _fact("missed_counted"),
}
_HELP: Mapping[str, Cell] = {
    "verbal prompts": _fact("prompts_verbal"),
    "with a verbal prompt": _fact("prompted"),
    "done, with a prompt": _fact("prompted_done"),
    "marked with a prompt": _fact("prompt_marked"),
    "hands-on prompts": _fact("prompts_physical"),
}
_CHANGE: Mapping[str, Cell] = {
    "late less early": _fact("late"),
    "with each session": _fact("trend"),
    "fatigue rise, 0-10": _fact("fatigue_rise"),
    "tone rise, 0-4": _fact("tone_rise"),
    "pain rise, 0-10": _fact("pain_rise"),
}


def _by_id(evidence: CaseEvidence) -> dict[str, Fact]:
    return {fact.id: fact for fact in evidence.facts}


def _table(evidence: CaseEvidence, methods: Sequence[Method], cells: Mapping[str, Cell]) -> Iterator[Row]:
    """A row for each measure that one of the controls has."""
    for label, cell in cells.items():
        values = [cell(evidence, method) for method in methods]
        if any(fact is not None for fact in values):
            yield _columns(f"  {label}", [_value(fact) for fact in values])


def _tasks(evidence: CaseEvidence, methods: Sequence[Method]) -> Iterator[Row]:
    """A row for each task that was tried, but for stops, which have their own."""
    by_id = _by_id(evidence)
    for task in evidence.case.trial.driving_tasks:
        values = [by_id.get(f"success.{method.id}.{task.id}") for method in methods]
        if any(fact is not None for fact in values):
            yield _columns(f"  {task.name}", [_value(fact) for fact in values])


def _done_title(evidence: CaseEvidence) -> str:
    if evidence.case.trial.done_rule == "task_rule":
        return "DONE, task by task as the rule of each says; all tasks: no collision, no hands-on help, no missed stop"
    if done_is_open(evidence.case):
        return "DONE: as written down; whether with collision, help or missed stop is not recorded (trial.done_rule)"
    return f"DONE: {done_means(evidence.case)}"


def done_means(case: Case) -> str:
    """What counts as done in rows, as far as it is recorded: by which rule, and what was never done with."""
    ruled = case.trial.done_rule or any(task.rule for task in case.trial.tasks)
    rule = "by the rule of its task" if ruled else "as written down (rule not recorded)"
    if case.trial.done_rule or help_is_recorded(case):
        return f"{rule}, with no collision, no hands-on help and no missed stop"
    return f"{rule}, no collision, no missed stop; help by hand not recorded"


def _value(fact: Fact | None) -> str:
    """A fact in a cell: with its range, and what it was counted in."""
    if fact is None:
        return "-"
    shown = number(fact, language_words())
    if isinstance(shown, Gap):
        return "not recorded"
    full = shown.full.replace("% to ", " to ").replace("percentage points", "points")
    for unit in _UNITS_OF_ROWS:
        full = full.replace(unit, "")
    note = fact.note if fact.kind == "count" and fact.n and fact.note.startswith("in ") else ""
    return f"{full} {note}".strip()


def _missed(evidence: CaseEvidence, methods: Sequence[Method]) -> Iterator[Row]:
    rows = [row for method in methods for row in _misses_of(evidence, method, _MOST_LINES)]
    yield from rows[:MOST_MISSES]
    if len(rows) > MOST_MISSES:
        yield ["  and more that were missed: --all"]


def _misses_of(evidence: CaseEvidence, method: Method, most: int) -> Iterator[Row]:
    """What happened at the stops that were missed with a control; those with the same words are told together."""
    when: dict[str, list[str]] = {}
    tried = (*by_method(evidence.case.tried).get(method.id, ()), *beside_rows(method))
    for miss in misses(evidence.case, tried):
        times = "" if miss.n_asked == 1 else f", {miss.n_asked - miss.n_made} of {miss.n_asked}"
        on = "a day not recorded" if miss.row.date == NO_DAY else day(miss.row.date)
        words = f"{on}{times}{miss.release}"
        when.setdefault(miss.what or "what happened is not recorded", []).append(words)
    for what, days in when.items():
        yield _shortened(f"  missed, {method.name}, {listed(days)}: {what}", "    ", most)


def _limits(evidence: CaseEvidence) -> Iterator[Row]:
    """What the trial did not show, how fair it was to each control, and what the ranges leave out."""
    if limits := evidence.case.trial.limits:
        yield _shortened(f"  Not shown: {limits}", "    ", _MOST_LINES)
    names = {method.id: method.name for method in evidence.case.trial.methods}
    unfair: dict[str, list[str]] = {}
    for fact in evidence.facts:
        if fact.id.startswith("unfair."):
            unfair.setdefault(fact.id.split(".")[1], []).append(fact.text)
    beside: dict[str, list[str]] = {}  # what is alike of several is told once
    for method, texts in unfair.items():
        beside.setdefault("; ".join(texts), []).append(names.get(method, method))
    for text, unlike in beside.items():
        yield _shortened(f"  Beside {listed(unlike)}: {text}", "    ", _MOST_LINES)
    yield textwrap.wrap(_RANGES, WIDTH, initial_indent="  ", subsequent_indent="    ")


def _named(evidence: CaseEvidence, method: Method) -> str:
    asked = " (requested)" if method.id == evidence.case.configuration.method else ""
    return f"{capital(method.name)}{asked}"


def _columns(label: str, cells: Sequence[str]) -> Row:
    """One row of the table, in as many lines as its longest cell takes."""
    width = (WIDTH - _LABEL) // max(len(cells), 1) - _GAP
    wrapped = [textwrap.wrap(label, _LABEL, subsequent_indent="    ", break_on_hyphens=False) or [""]]
    wrapped += [textwrap.wrap(cell, width) or [""] for cell in cells]
    widths = [_LABEL, *([width] * len(cells))]
    lines = []
    for at in range(max(map(len, wrapped))):
        parts = [(column[at] if at < len(column) else "").ljust(w) for column, w in zip(wrapped, widths, strict=True)]
        lines.append((" " * _GAP).join(parts).rstrip())
    return lines


def _shortened(text: str, hang: str, most: int = _MOST_LINES) -> Row:
    """The text in at most so many lines, the last one cut with an ellipsis."""
    bare = text.lstrip()
    lines = textwrap.wrap(bare, WIDTH, initial_indent=" " * (len(text) - len(bare)), subsequent_indent=hang)
    if len(lines) > most:
        lines = [*lines[: most - 1], f"{lines[most - 1][: WIDTH - 3].rstrip()}..."]
    return lines


def _fitted(blocks: list[Block], room: int) -> list[Block]:
    """The blocks in at most so many lines: rows that matter least give way, and the block says that there are more."""

    def height() -> int:
        return sum(1 + sum(map(len, block.rows)) for block in blocks)

    for cut in sorted({block.cut for block in blocks if block.cut}):
        at = next(n for n, block in enumerate(blocks) if block.cut == cut)
        rows = list(blocks[at].rows)
        while height() > room and len(rows) > 1:
            rows.pop(-2 if len(rows) > 1 and rows[-1] == _MORE else -1)
            rows = [*(row for row in rows if row != _MORE), _MORE]
            blocks = [*blocks[:at], Block(blocks[at].title, rows, cut), *blocks[at + 1 :]]
    return blocks


_MORE = ["  and more: --all"]


def _flat(rows: Sequence[Row]) -> list[str]:
    return [line for row in rows for line in row]
