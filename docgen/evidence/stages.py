"""Steps of training walked try by try: which tasks and stops are passed, what is to be looked at, the step reached.

Each task of a step has its count in rows of five; the stops of a step have theirs, in a row. Nothing is taken back by
a count: only the therapist goes back a step.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Literal

from msgspec import Struct, field

from docgen.evidence.rows_of_five import FULL, decide, falls
from docgen.evidence.stops_in_a_row import IN_A_ROW, MISSED_IN_UPKEEP, MOST_BREAKS, N_DAYS, UPKEEP

Mark = Literal["alone", "helped", "not", "planned"]
Answer = Literal["passed", "change", "therapist", "look", "open", "stopped", "anew"]

PAUSE_DAYS = 14  # without a lesson: the counts begin anew
_STOPS = ""  # in place of a task: the stops of a step, whatever they were asked for in


class Try(Struct, frozen=True):
    """One try of a task.

    mark     done alone, helped, or not; a planned stop, which counts neither way; None where it is not counted, for its
             help or its surprise is not written
    stop     whether the task is a stop
    broke    whether an event in this try begins the counts anew: of its whole step, or of the task named `fell_in` and
             of the stops
    fell_in  task that was driven when a stop was missed for the second time
    anew     whether something was changed before this try, or the driver was ill
    cleared  whether the therapist is recorded, at this try, to have decided
    line     where it stands in the record
    """

    on: date
    stage: int
    task: str
    mark: Mark | None
    stop: bool = False
    broke: Literal["", "step", "stops"] = ""
    fell_in: str | None = None
    anew: bool = False
    cleared: bool = False
    line: int = 0


class Rule(Struct, frozen=True):
    """What passing a step takes.

    tasks        tasks that must be passed, without stops
    in_a_row     stops in a row; 0 where the step asks for none
    n_days       different days on which they must have been made
    nobody_near  whether nobody is at arm's length, which takes three rows of each task
    """

    tasks: tuple[str, ...]
    in_a_row: int = IN_A_ROW
    n_days: int = N_DAYS
    nobody_near: bool = False


class Judged(Struct, frozen=True):
    """A count of one task, or of the stops of a step, and what it says on the day of its last try.

    task    of stops the task of the last one
    answer  passed; change: look, and change one thing; therapist: the therapist decides; look: a task that was passed
            has fallen; open; stopped: an event ended it; anew: a change, an illness or a pause ended it
    rows    tries done alone in each full row; empty of stops
    n       counted tries, with those of a row that is not full
    breaks  of stops: how often the row was broken since the count began
    in_a_row  of stops: made alone since the last break
    """

    stage: int
    task: str
    answer: Answer
    rows: tuple[int, ...]
    n: int
    n_alone: int
    on: date
    lines: tuple[int, ...]
    stop: bool = False
    breaks: int = 0
    in_a_row: int = 0


class Back(Struct, frozen=True):
    """A step back, as the therapist decided: the day, the step before and the one from then on."""

    on: date
    before: int
    after: int


class Walk(Struct, frozen=True):
    """All counts in the order in which they ended, those still open, and the step reached.

    passed       steps passed, each with the day
    mastered     tasks of the step reached that are passed; stops as the empty word
    waits        counts that wait for the therapist
    entered      line of the try that led to the step reached; None where training began there
    back         steps back, in order
    uncounted    lines of tries that count for nothing, for their help or their surprise is not written
    since_break  stops made alone since the last break, through all steps
    """

    stage: int
    ended: tuple[Judged, ...]
    still_open: tuple[Judged, ...]
    passed: tuple[tuple[int, date], ...]
    mastered: tuple[str, ...]
    waits: tuple[Judged, ...]
    back: tuple[Back, ...]
    entered: int | None
    uncounted: tuple[int, ...]
    since_break: int


def walk(tries: Sequence[Try], start: int, rules: Mapping[int, Rule]) -> Walk:
    """The step that tries in their order reach, and every decision on the way.

    tries  in the order in which they were made
    start  step at which training started
    rules  step -> what passing it takes; a step without a rule cannot be passed

    Source: the first five tries of a task each day count; rows_of_five and stops_in_a_row; new counts after a change,
            an event or 14 days are a choice, no source.
    Check:  10 done alone on two days pass a task; 5 on one day do not; ten stops on three days pass the stops; a
            second "change" of one task waits for the therapist (by hand).
    """
    course = _Course(start, rules)
    for attempt in tries:
        course.take(attempt)
    return course.walk()


class _Count(Struct):
    """The open count of a task, or of the stops, of one step; `passed` once it is, when it goes on as upkeep."""

    passed: bool = False
    waits: Judged | None = None
    n_changes: int = 0
    breaks: int = 0
    tries: list[Try] = field(default_factory=list)
    run: list[Try] = field(default_factory=list)  # of stops: those since the last break, all made alone
    today: tuple[date | None, int] = (None, 0)

    def begin_anew(self) -> None:
        self.tries, self.run = [], []


class _Course:
    """Training as far as it has been walked."""

    def __init__(self, start: int, rules: Mapping[int, Rule]) -> None:
        self.stage, self.rules, self.last = start, rules, max(rules, default=start)
        self.counts: dict[tuple[int, str], _Count] = {}
        self.ended: list[Judged] = []
        self.passed: list[tuple[int, date]] = []
        self.back: list[Back] = []
        self.uncounted: list[int] = []
        self.entered: int | None = None
        self.day: date | None = None
        self.since_break = 0

    def take(self, attempt: Try) -> None:
        """One try more."""
        if attempt.anew or (self.day is not None and (attempt.on - self.day).days > PAUSE_DAYS):
            self._all_anew()
        self.day = attempt.on
        if attempt.cleared:
            self._cleared(attempt)
        count = self.counts.setdefault((attempt.stage, _STOPS if attempt.stop else attempt.task), _Count())
        if attempt.mark is None:
            self.uncounted.append(attempt.line)
        elif attempt.mark != "planned" and count.waits is None and self._is_counted(count, attempt):
            count.tries.append(attempt)
            if attempt.stop:
                self._stop(count, attempt)
            else:
                self._row(count, attempt)
        if attempt.broke:
            self._broke(attempt)
        self._move_on(attempt)

    def _is_counted(self, count: _Count, attempt: Try) -> bool:
        """Whether it is one of the first tries of its task that day, which alone count; every stop does."""
        day, n = count.today
        count.today = (attempt.on, n + 1 if day == attempt.on else 1)
        return attempt.stop or count.today[1] <= FULL

    def _row(self, count: _Count, attempt: Try) -> None:
        if len(count.tries) % FULL:
            return
        if count.passed:
            if falls(_rows(count.tries[-2 * FULL :])):
                self._end(count, attempt, "look")
            return
        answer = decide(_rows(count.tries), self._rule(attempt.stage).nobody_near)
        if answer == "move_on":
            self._end(count, attempt, "passed")
            count.passed = True
        elif answer == "change":
            count.n_changes += 1
            self._end(count, attempt, "change" if count.n_changes == 1 else "therapist")
        elif answer == "therapist":
            self._end(count, attempt, "therapist")

    def _stop(self, count: _Count, attempt: Try) -> None:
        if attempt.mark == "alone":
            self.since_break += 1
            count.run.append(attempt)
            if not count.passed and self._is_enough(count, self._rule(attempt.stage)):
                self._end(count, attempt, "passed")
                count.passed, count.breaks = True, 0
            return
        self.since_break, count.run = 0, []
        if not count.passed:
            count.breaks += 1
            if count.breaks > MOST_BREAKS:
                self._end(count, attempt, "therapist")
        elif attempt.mark == "not":
            missed = sum(stop.mark == "not" for stop in count.tries[-UPKEEP:])
            self._end(count, attempt, "therapist" if missed >= MISSED_IN_UPKEEP else "look", keep=True)

    def _is_enough(self, count: _Count, rule: Rule) -> bool:
        return 0 < rule.in_a_row <= len(count.run) and len({stop.on for stop in count.run}) >= rule.n_days

    def _broke(self, attempt: Try) -> None:
        """An event: the counts of the step begin anew, or those of the stops and of what was driven."""
        own = _STOPS if attempt.stop else attempt.task
        of_event = [
            key
            for key in self.counts
            if key[0] == attempt.stage
            and self.counts[key].waits is None
            and (attempt.broke == "step" or key[1] in (_STOPS, attempt.fell_in))
        ]
        for key in of_event:
            count = self.counts.pop(key)
            if count.tries:
                self.ended.append(_judged(count, "stopped"))
            elif key[1] == own:
                self.ended.append(Judged(attempt.stage, attempt.task, "stopped", (), 0, 0, attempt.on, (attempt.line,)))

    def _cleared(self, attempt: Try) -> None:
        """What waited for the therapist begins anew; a try at an earlier step is then the step to go back to."""
        waiting = [count for count in self.counts.values() if count.waits is not None]
        for count in waiting:
            count.waits, count.n_changes, count.breaks, count.passed = None, 0, 0, False
            count.begin_anew()
        if waiting and attempt.stage < self.stage:
            self.back.append(Back(attempt.on, min(self.stage, self.last), attempt.stage))
            self.stage, self.entered = attempt.stage, attempt.line
            self.counts = {key: count for key, count in self.counts.items() if key[0] < attempt.stage}

    def _all_anew(self) -> None:
        """Every count begins anew; what is passed stays passed, and breaks of stops stay."""
        for count in self.counts.values():
            if count.tries and not count.passed:
                self.ended.append(_judged(count, "anew"))
            count.begin_anew()

    def _end(self, count: _Count, attempt: Try, answer: Answer, *, keep: bool = False) -> None:
        judged = _judged(count, answer)
        self.ended.append(judged)
        if answer == "therapist":
            count.waits = judged
        if not keep:
            count.begin_anew()

    def _move_on(self, attempt: Try) -> None:
        while self.stage <= self.last and self._is_passed(self.stage):
            self.passed.append((self.stage, attempt.on))
            self.entered = attempt.line if self.stage < self.last else self.entered
            self.stage += 1

    def _rule(self, stage: int) -> Rule:
        return self.rules.get(stage, Rule((), in_a_row=0))

    def _is_passed(self, stage: int) -> bool:
        rule = self._rule(stage)
        wanted = [*rule.tasks, *([_STOPS] if rule.in_a_row else [])]
        return bool(wanted) and all(
            (count := self.counts.get((stage, task))) is not None and count.passed and count.waits is None
            for task in wanted
        )

    def walk(self) -> Walk:
        """What has been reached."""
        at = min(self.stage, self.last)
        return Walk(
            at,
            tuple(self.ended),
            tuple(
                _judged(count, "open")
                for count in self.counts.values()
                if count.tries and not count.passed and count.waits is None
            ),
            tuple(self.passed),
            tuple(sorted(task for (stage, task), count in self.counts.items() if stage == at and count.passed)),
            tuple(count.waits for count in self.counts.values() if count.waits is not None),
            tuple(self.back),
            self.entered,
            tuple(self.uncounted),
            self.since_break,
        )


def _rows(tries: Sequence[Try]) -> tuple[int, ...]:
    """Tries done alone in each full row."""
    alone = [attempt.mark == "alone" for attempt in tries]
    return tuple(sum(alone[at : at + FULL]) for at in range(0, len(alone) - FULL + 1, FULL))


def _judged(count: _Count, answer: Answer) -> Judged:
    last = count.tries[-1]
    return Judged(
        last.stage,
        last.task,
        answer,
        () if last.stop else _rows(count.tries),
        len(count.tries),
        sum(attempt.mark == "alone" for attempt in count.tries),
        last.on,
        tuple(attempt.line for attempt in count.tries),
        last.stop,
        count.breaks if last.stop else 0,
        len(count.run),
    )
