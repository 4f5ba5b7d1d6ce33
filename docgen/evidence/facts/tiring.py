"""Tiredness, stiffness and pain within a session: the largest rise in any block of a method."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.case.model import Case
from docgen.evidence.blocks import Block, blocks, lines, n_attempts, rise, total_lines
from docgen.evidence.fact import Fact

ORDER = 40
QUESTION = "Does it tire the client or raise tone?"
_WORTH_WARNING = 2  # points of stiffness: common practice, no source
_SCALES = {"fatigue": "fatigue, 0 to 10", "tone": "muscle tone, clinic's own 0 to 4 rating", "pain": "pain, 0 to 10"}


def facts(case: Case) -> Iterator[Fact]:
    """fatigue_rise, tone_rise and pain_rise of each method; force_warning where speed by push goes with rising tone."""
    names = {method.id: method.name for method in case.trial.methods}
    all_blocks = blocks(case.tried)
    for method, name in names.items():
        for scale, label in _SCALES.items():
            rises = [
                rose for block in all_blocks if block.method == method and (rose := rise(block, scale)) is not None
            ]
            if rises:
                largest, at = max(rises, key=lambda rose: rose[0])
                yield Fact(
                    f"{scale}_rise.{method}",
                    "tiring",
                    f"largest rise of {label}, {name}",
                    "score",
                    largest,
                    len(rises),
                    rows=lines(at),
                    totals=total_lines(at),
                    formula="after - before, largest of the blocks that record both",
                )
    yield from _force_warning(case, all_blocks)


def _force_warning(case: Case, all_blocks: tuple[Block, ...]) -> Iterator[Fact]:
    """Speed by push is requested: does stiffness rise with it, or is letting go slower than with another control?"""
    asked = case.configuration.method
    if not any(feature.id == "force_graded_speed" for feature in case.configuration.features) or asked is None:
        return
    signs = [*_stiffer(asked, all_blocks), *_slower(case, asked, all_blocks)]
    if signs:
        rows = tuple(row for block in all_blocks if block.method == asked for row in block.rows)
        yield Fact(
            "force_warning",
            "tiring",
            "speed by push",
            "words",
            None,
            n_attempts(rows),
            rows=lines(rows),
            totals=total_lines(rows),
            verdict="force_raises_tone",
            text=f"warning: {' and '.join(signs)}; pushing harder to go faster delays the stop",
            formula=f"stiffness rising by {_WORTH_WARNING} or more, or a slower release than with another control",
            source="common practice, no source; slower release after effort: Seo et al. 2009, J Neurophysiol 101:3108 "
            "(abstract read; hands after stroke)",
        )


def _stiffer(asked: str, all_blocks: tuple[Block, ...]) -> Iterator[str]:
    rises = [rose for block in all_blocks if block.method == asked and (rose := rise(block, "tone")) is not None]
    largest = max((points for points, _ in rises), default=None)
    if largest is not None and largest >= _WORTH_WARNING:
        yield f"stiffness rose by {largest:g} points"


def _slower(case: Case, asked: str, all_blocks: tuple[Block, ...]) -> Iterator[str]:
    slowest = {
        method.id: max(
            (r.slowest_s for b in all_blocks if b.method == method.id for r in b.rows if r.slowest_s is not None),
            default=None,
        )
        for method in case.trial.methods
    }
    mine, others = slowest.get(asked), [s for m, s in slowest.items() if m != asked and s is not None]
    if mine and others and mine > min(others):
        yield f"the slowest release was {mine:g} s, with another control {min(others):g} s"
