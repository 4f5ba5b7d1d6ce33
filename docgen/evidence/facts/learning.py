"""Mastery of a stage as a test with stated error rates, and goals as one score."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from functools import lru_cache

from docgen.case.model import Case
from docgen.case.record import Row
from docgen.case.totals import Tried
from docgen.case.training import MasteryRule
from docgen.evidence.blocks import blocks, by_method, in_order, lines, tally, total_lines
from docgen.evidence.fact import Fact, Kind
from docgen.evidence.goals import t_score
from docgen.evidence.mastery import COACH_TRIES, Decision, Plan, coach_table, course, first_decision, mastery_plan

ORDER = 84
QUESTION = "When is a stage mastered, and are the goals reached?"
_KEYS = ("training.mastery",)
_SOURCE = "Wald 1945, Ann Math Stat 16:117-186 (formulas from memory); shares and error rates of the case"


_course = lru_cache(maxsize=64)(course)  # many cases keep the usual rule
_DECISIONS = {"mastered": "move on", "not_yet": "go back", "keep_on": "keep going"}


def _decision_words(reached: Decision, stop_missed: bool) -> str:
    """The answer in words; no count of other attempts outweighs a missed stop."""
    if reached.answer == "keep_on":
        return _DECISIONS["keep_on"]
    if reached.answer == "mastered" and stop_missed:
        return "enough successful attempts, but a stop was missed: the therapist decides"
    return f"{_DECISIONS[reached.answer]}, reached at attempt {reached.n}"


def facts(case: Case) -> Iterator[Fact]:
    """move_on.<tries>, go_back.<tries>, mean tries at the two shares, and goals_t when levels are recorded."""
    rule = case.training.mastery
    plan = mastery_plan(rule.poor, rule.good, rule.wrong_pass, rule.wrong_hold)
    says = (
        f"{rule.poor:.0%} against {rule.good:.0%} of attempts successful, error rates {rule.wrong_pass:.0%} and "
        f"{rule.wrong_hold:.0%}"
    )
    yield from _table(plan, says)
    yield from _lengths(rule, plan)
    yield from _by_method(case, plan, says)
    yield from _goals(case)


def _table(plan: Plan, says: str) -> Iterator[Fact]:
    """move_on.<tries> and go_back.<tries>, the rows of the coach's table."""
    for row in coach_table(plan):
        for name, words, value in (
            ("move_on", "done at least, to move on", row.move_on_at),
            ("go_back", "done at most, to go back", row.go_back_at),
        ):
            yield Fact(
                f"{name}.{row.n}",
                "learning",
                f"after {row.n} attempts: {words}",
                "count",
                value,
                row.n,
                keys=_KEYS,
                formula=f"Wald's sequential test, {says}",
                source=_SOURCE,
                note="" if value is not None else "not possible with so few attempts",
                listed=False,
            )


def _lengths(rule: MasteryRule, plan: Plan) -> Iterator[Fact]:
    """How many tries it takes, and how often chance decides, at the two shares."""
    for share, name in ((rule.poor, "poor"), (rule.good, "good")):
        at_share = _course(share, plan)
        yield Fact(
            f"tries_{name}",
            "learning",
            f"mean attempts until it is settled, at {share:.0%} done",
            "score",
            at_share.mean_attempts,
            keys=_KEYS,
            formula="exact, by dynamic programming on Wald's lines",
            source=_SOURCE,
            listed=False,
        )
    at_poor, at_good = (_course(share, plan, COACH_TRIES[-1], COACH_TRIES) for share in (rule.poor, rule.good))
    chances: tuple[tuple[str, str, Kind, float], ...] = (
        ("moved_by_chance", f"chance of moving on, at {rule.poor:.0%} done", "proportion", at_poor.p_mastered),
        ("held_by_chance", f"chance of going back, at {rule.good:.0%} done", "proportion", at_good.p_not_yet),
        (
            "tries_to_pass",
            f"mean attempts until it is settled, at {rule.good:.0%} done",
            "score",
            at_good.mean_attempts,
        ),
    )
    for name, label, kind, value in chances:
        yield Fact(
            name,
            "learning",
            f"by the table: {label}",
            kind,
            value,
            keys=_KEYS,
            source=_SOURCE,
            formula="exact, by dynamic programming on Wald's lines, looked at after the attempts of the table alone",
            listed=name != "tries_to_pass",
        )


def _by_method(case: Case, plan: Plan, says: str) -> Iterator[Fact]:
    """mastery.<method>: what the rule says of the trial with each control."""
    rows_of = by_method(case.tried)
    stop_tasks = {task.id for task in case.trial.tasks if task.shows == "stop"}
    for method in case.trial.methods:
        if rows := rows_of.get(method.id, ()):
            k, n = tally(rows)
            yield Fact(
                f"mastery.{method.id}",
                "learning",
                f"{k} of {n} with {method.name}, by the mastery rule",
                "words",
                None,
                n,
                rows=lines(rows),
                totals=total_lines(rows),
                keys=_KEYS,
                text=_in_trial(rows, plan, stop_tasks),
                formula=f"Wald's sequential test, {says}",
                source=_SOURCE,
                note="attempts in the order of their days; stops and collisions with a person are judged apart",
            )


def _in_trial(rows: Sequence[Tried], plan: Plan, stop_tasks: Collection[str]) -> str:
    """What the rule says of attempts one after another."""
    attempts = [row for row in rows if isinstance(row, Row)]
    if len(attempts) < len(rows):
        return "cannot be told from totals: the order of the attempts is not known"
    outcomes = _outcomes(attempts)
    if outcomes is None:
        return "not known: the order of the attempts is not recorded"
    missed_stop = any(row.task in stop_tasks and not row.success for row in attempts)
    return _decision_words(first_decision(outcomes, plan), missed_stop)


def _outcomes(rows: Sequence[Row]) -> list[bool] | None:
    """Whether each attempt was done, in order; None where the order matters and is not recorded."""
    outcomes: list[bool] = []
    for block in blocks(rows):
        ordered = in_order(block.rows)
        if ordered is None and len({row.n_done for row in block.rows}) > 1:
            return None
        outcomes += [row.n_done == 1 for row in ordered or block.rows]
    return outcomes


def _goals(case: Case) -> Iterator[Fact]:
    levelled = [(i, goal.level, goal.weight) for i, goal in enumerate(case.goals) if goal.level is not None]
    if any(weight for _, _, weight in levelled):
        score = t_score([level for _, level, _ in levelled], [weight for _, _, weight in levelled])
        yield Fact(
            "goals_t",
            "learning",
            "goals, T score at the level recorded",
            "score",
            score,
            len(levelled),
            keys=tuple(f"goals.{i}.level" for i, *_ in levelled),
            note="50 is all as expected",
            formula="50 + 10 sum(w x) / sqrt(0.7 sum(w^2) + 0.3 (sum w)^2)",
            source="Kiresuk and Sherman 1968, Community Ment Health J 4:443-453, in the corrected form",
        )
