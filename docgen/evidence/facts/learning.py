"""How surely the rule of training tells a learned task, worked out for made-up learners, and goals as one score."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from docgen.case.model import Case
from docgen.evidence.fact import Fact, Kind
from docgen.evidence.goals import t_score
from docgen.evidence.rows_of_five import FULL, Course, rising, steady, tries_to_a_look
from docgen.evidence.stops_in_a_row import IN_A_ROW, chance_to_pass, least_share_shown, stops_until_settled

ORDER = 84
QUESTION = "How sure is a step that was passed, and are the goals reached?"
_ROWS = "rows of five counted tries, looked at only when full; exact, by dynamic programming, tries as independent"
_CHOICE = "the numbers of the rule are a choice, no source"
_SHARES = (60, 65, 80, 90)  # tries done alone, of a hundred


def facts(case: Case) -> Iterator[Fact]:
    """moves_on.<share>, changes.<share>, undecided.<share>, tries_to_pass.<share>, tries_to_change.<share>, and the
    same with nobody near; changes.rising, tries_to_look.<share>, stops_pass.<share>, stops_settled.<share>, shown.<n>,
    and goals_t when levels are recorded."""
    yield from _of_rule()
    yield from _goals(case)


@cache
def _of_rule() -> tuple[Fact, ...]:
    """What the rule does to learners of known rates: the same for every case."""
    return (*_steady("", nobody_near=False), *_steady("_far", nobody_near=True), *_rising(), *_stops())


def _steady(suffix: str, *, nobody_near: bool) -> Iterator[Fact]:
    where = ", with nobody at arm's length" if nobody_near else ""
    for share in _SHARES:
        at_share = steady(share / 100, nobody_near)
        yield _chance(f"moves_on{suffix}.{share}", f"moved on, at {share}% done alone{where}", at_share.p_move_on)
        yield _chance(f"changes{suffix}.{share}", f"told to change, at {share}% done alone{where}", at_share.p_change)
        yield _chance(f"undecided{suffix}.{share}", f"left open, at {share}% done alone{where}", at_share.p_neither)
        for name, says, rows in (
            ("pass", "moved on", at_share.rows_to_move_on),
            ("change", "told to change", at_share.rows_to_change),
        ):
            label = f"mean tries of those {says}, at {share}% done alone{where}"
            yield _fact(f"tries_to_{name}{suffix}.{share}", label, "score", FULL * (rows or 0.0), _ROWS)


def _rising() -> Iterator[Fact]:
    learner: Course = rising(0.5, 0.95, 12)
    yield _chance("changes.rising", "told to change, while rising from 50% to 95% in 12 tries", learner.p_change)


def _stops() -> Iterator[Fact]:
    for share in (70, 80, 90, 95):
        yield _fact(
            f"stops_pass.{share}",
            f"chance of {IN_A_ROW} stops in a row with at most two breaks, at {share}% alone",
            "proportion",
            chance_to_pass(share / 100),
            "1 - (1 - p^10)^3; stops as independent",
        )
        yield _fact(
            f"stops_settled.{share}",
            f"mean stops until that is settled, at {share}% alone",
            "score",
            stops_until_settled(share / 100),
            "mean length of a run times the mean number of runs",
        )
    for share in _SHARES:
        yield _fact(
            f"tries_to_look.{share}",
            f"mean tries of a task that was passed until its rows ask for a look, at {share}% alone",
            "score",
            tries_to_a_look(share / 100),
            _ROWS,
        )
    yield _fact(
        f"shown.{IN_A_ROW}",
        f"least share that {IN_A_ROW} of {IN_A_ROW} shows, one-sided 95%",
        "proportion",
        least_share_shown(IN_A_ROW),
        "0.05^(1/n), exact",
    )


def _chance(fact_id: str, label: str, value: float) -> Fact:
    return _fact(fact_id, f"chance of being {label}", "proportion", value, _ROWS)


def _fact(fact_id: str, label: str, kind: Kind, value: float, formula: str) -> Fact:
    return Fact(
        fact_id, "learning", label, kind, value, keys=("training.stage",), formula=formula, source=_CHOICE, listed=False
    )


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
