"""One call from a file to what was made of it, and the ids of a case that its names are held against."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from docgen.case.days_written import plain
from docgen.case.mistakes import toml_of
from docgen.case.read import SESSIONS_FILE
from docgen.case.session import SESSIONS
from docgen.case.stage import STOP_TASKS
from docgen.case.totals import FILE as TOTALS_FILE
from docgen.case.totals import TOTALS
from docgen.errors import Problem, UserError
from docgen.spreadsheet.asking import Question
from docgen.spreadsheet.cells import grids_of
from docgen.spreadsheet.counted_for import without_mark
from docgen.spreadsheet.known import Known, known_of
from docgen.spreadsheet.lesson_rows import Lessons
from docgen.spreadsheet.session_sums import SumsOfLessons, lines_of_sessions
from docgen.spreadsheet.understand import Understood, understood
from docgen.spreadsheet.write import checked, earlier_answers, file_of

_MOST_READINGS = 60  # of a sheet with answers to try, of which each may bring questions of its own


class Taken(Struct, frozen=True):
    """A spreadsheet held against a case: what was made of it, the file it becomes, and what the case would refuse.

    stop_tasks  ids of the tasks of the trial that are a stop
    foreseen    answer to an open question, or "" for the first of each -> the questions that come only after it
    certain     what the case would refuse whatever is answered to the open questions
    """

    read: Understood
    target: str
    rows_name: str
    problems: tuple[Problem, ...]
    stop_tasks: tuple[str, ...] = ()
    foreseen: Mapping[str, tuple[Question, ...]] = {}
    certain: tuple[Problem, ...] = ()


def take(folder: Path, source: Path, given: Mapping[str, str], as_before: bool = False) -> Taken:
    """What a spreadsheet says, in the ids of a case. Raises UserError where either cannot be read, or for an answer to
    no question.

    as_before  answers that sheets of this case were read by before hold of this one too, where none is given anew
    """
    known = known_of(folder)
    grids = without_mark(grids_of(source), folder, source)
    before = _answered_before(folder, known) if as_before else {}
    answers = {**before, **given}
    ids, lessons = known.of_trial, None
    read = understood(grids, ids, answers)
    if _is_lessons(read, known.delivered_on):
        ids, lessons = known.of_lessons, Lessons(known.steps, {*STOP_TASKS, *known.stop_tasks})
        read = understood(grids, ids, answers, lessons)
        if read.sheet is TOTALS:
            raise _sums(source, lines_of_sessions(grids, read))
    if read.nameless:
        lacking = [
            _lacking(folder / "case.toml", kind, names, ("trial", f"{kind}s") in known.by_name)
            for kind, names in read.nameless.items()
        ]
        asked = [Problem(str(source), "leaves this open too", str(question)) for question in read.questions]
        raise UserError([*lacking, *asked])

    tried, all_tried = _tried_out(read.questions, lambda given: understood(grids, ids, {**answers, **given}, lessons))
    foreseen = _foreseen(read.questions, tried)
    certain: tuple[Problem, ...] = ()
    if all_tried and all(question.options for question in read.questions):
        certain = _certain(tried, lambda settled: checked(settled, source, folder, known, ids))
    unused = [key for key in read.unused if key in given]
    if unused and not read.questions:
        raise UserError(
            Problem("--map", f"'{key}' answers no question about this file", "Leave it out, or look at its spelling.")
            for key in unused
        )
    as_answered = tuple(
        f"as answered for a sheet before, {key}={before[key]}"
        for key in read.answers
        if key in before.keys() - given.keys()
    )
    read = replace(read, says=(*read.says, *as_answered))
    problems = () if read.questions else tuple(checked(read, source, folder, known, ids))
    return Taken(read, file_of(read, known.rows_name), known.rows_name, problems, known.stop_tasks, foreseen, certain)


def _each_answer(questions: Sequence[Question]) -> dict[str, dict[str, str]]:
    """Answers to try: "" -> the first to each open question, then each other answer to one of them beside those."""
    first = {question.key: question.options[0] for question in questions if question.options}
    others = {f"{q.key}={option}": {**first, q.key: option} for q in questions for option in q.options[1:]}
    return {"": first, **others} if first else {}


def _tried_out(
    questions: Sequence[Question], read_with: Callable[[Mapping[str, str]], Understood]
) -> tuple[list[tuple[str, Understood]], bool]:
    """The sheet as it is read with each answer, and with answers to what each has to be asked in turn, beside it; and
    whether there were no more answers than are tried."""
    open_answers = list(_each_answer(questions).items())
    tried: list[tuple[str, Understood]] = []
    while open_answers and len(tried) < _MOST_READINGS:
        answer, given = open_answers.pop(0)
        read = read_with(given)
        tried.append((answer, read))
        later = tuple(question for question in read.questions if question.key not in given)
        open_answers += [
            (" and ".join(filter(None, (answer, next_answer))), {**given, **more})
            for next_answer, more in _each_answer(later).items()
        ]
    return tried, not open_answers


def _foreseen(
    questions: Sequence[Question], tried: Sequence[tuple[str, Understood]]
) -> dict[str, tuple[Question, ...]]:
    """The questions that come only once others are answered, so that all can be settled in one go.

    tried  the sheet as it is read with each answer
    """
    keys_open = {question.key for question in questions}
    foreseen: dict[str, tuple[Question, ...]] = {}
    for answer, read in tried:
        if new := tuple(question for question in read.questions if question.key not in keys_open):
            foreseen[answer] = (*foreseen.get(answer, ()), *new)
            keys_open |= {question.key for question in new}
    return foreseen


def _certain(
    tried: Sequence[tuple[str, Understood]], refused: Callable[[Understood], list[Problem]]
) -> tuple[Problem, ...]:
    """What is refused with each answer that settles all and leaves no row out.

    tried     the sheet as it is read with every answer there is
    refused   what the case would refuse of it
    """
    settled = [read for _, read in tried if not read.questions]
    most = max((len(read.rows) for read in settled), default=0)
    problems = [refused(read) for read in settled if len(read.rows) == most]
    return tuple(problem for problem in problems[0] if all(problem in other for other in problems)) if most else ()


def _answered_before(folder: Path, known: Known) -> dict[str, str]:
    """The answers that the sheets of this case were read by."""
    files = (known.rows_name, TOTALS_FILE, SESSIONS_FILE)
    return {key: answer for name in files for key, answer in earlier_answers(folder / name).items()}


def _is_lessons(read: Understood, delivered_on: date | None) -> bool:
    """Whether a sheet holds tries of lessons, which would count as evidence of a trial: it names steps of training, a
    coach or the lesson and no control, or all of its days come after the delivery."""
    days = [row["date"] for row in read.rows if row.get("date")]
    after = bool(delivered_on and days and min(days) > delivered_on.isoformat())
    return after or (read.of_lessons and "method" not in read.headed)


def _sums(source: Path, lines: Sequence[str]) -> SumsOfLessons:
    """Why sums of lessons are not taken: what a step of training asks, such as stops in a row, no sum can tell."""
    what = "holds sums of each session, and whether a step is passed is told from its single tries"
    example = '2026-09-24 = { task = "start and stop", tries = 10, done = 9, minutes = 30, place = "hall at home" }'
    do = (
        f"Take a sheet with one row a try ({', '.join(SESSIONS.required)}), as on the lesson card; none is made up. "
        "Sums alone stand in case.toml, below [training.totals]: "
        + ("the lines above are what this sheet says; look them over and copy them there" if lines else example)
    )
    return SumsOfLessons(Problem(str(source), what, do), lines)


def answers_of(given: Sequence[str]) -> dict[str, str]:
    """The answers of `--map KEY=ANSWER`; the last sign of equality parts them."""
    answers = {}
    for text in given:
        key, sign, answer = text.rpartition("=")
        if not sign or not key.strip() or not answer.strip():
            raise UserError([Problem("--map", f"'{text}' is no answer", "Write it as the question shows it.")])
        answers[key.strip()] = answer.strip()
    return answers


def _lacking(path: Path, kind: str, names: Sequence[str], by_name: bool) -> Problem:
    """A kind of entry that the rows name and the case has none of, with the lines to write in the form of the case."""
    ids = {name: re.sub(r"[^a-z0-9]+", "_", plain(name)).strip("_") for name in names}
    ids = {name: key if key[:1].isalpha() else f"{kind}_{key}" for name, key in ids.items()}
    head = f"[trial.{kind}s]" if by_name else f"[[trial.{kind}s]]"
    shows = ', shows = "?"' if kind == "task" else ""
    keys = {key: f"name = {toml_of(name)}{shows}" for name, key in ids.items()}
    lines = [f"{key} = {{ {rest} }}" if by_name else f'{head} id = "{key}", {rest}' for key, rest in keys.items()]
    other = ', with "steer", "stop", "place" or, where that is not known, "other" for ?' if shows else ""
    return Problem(
        str(path),
        f"has no {kind} in {head} yet, and the rows name {', '.join(map(repr, names))}",
        f"Write first{f', below {head}' if by_name else ''}{other}: {'; '.join(lines)}",
    )
