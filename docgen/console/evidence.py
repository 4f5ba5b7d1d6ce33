"""What `docgen evidence` prints, as text for people and as JSON for programs."""

from __future__ import annotations

import re
import textwrap
from typing import Any

from msgspec import Struct

from docgen.case.model import Case
from docgen.console.evidence_page import done_means, misses_text
from docgen.console.fit_controls import VERDICTS
from docgen.console.width import WIDTH
from docgen.documents.phrase import number
from docgen.evidence.blocks import cited_totals, ranges
from docgen.evidence.done import done_is_open
from docgen.evidence.fact import Fact
from docgen.packet.wording import language_words
from docgen.rendering.template import Gap
from docgen.results import CaseEvidence

OF_RANGES = (
    "Ranges in brackets are at 95%. They treat attempts as independent; attempts of a few days and one learner are "
    "not, so the ranges are too narrow by an unknown amount. Totals mix first and last days; the sessions show them "
    "apart."
)


class Numbers(Struct, frozen=True):
    """What answers one question: a row a number, with its label, its value and where it is from, and the formulas."""

    question: str
    rows: tuple[tuple[str, str, str], ...]
    formulas: tuple[str, ...]


def numbers_of(evidence: CaseEvidence) -> tuple[Numbers, ...]:
    """Every number under the question that it answers; no row where nothing is recorded for one."""
    answers = []
    for name, question in evidence.questions.items():
        facts = [fact for fact in evidence.facts if fact.listed and fact.question == name]
        is_reading = name == "reading"
        rows = _reading_lines(facts) if is_reading else [(f.label, _value(f), _where_from(f)) for f in facts]
        formulas = dict.fromkeys(_formula(fact) for fact in facts if fact.formula and not is_reading)
        answers.append(Numbers(question, tuple(rows), tuple(formulas)))
    return tuple(answers)


def evidence_json(evidence: CaseEvidence) -> dict[str, Any]:
    """Every number: format "docgen evidence 1"."""
    return {
        "format": "docgen evidence 1",
        "case": evidence.case.id,
        "questions": {**evidence.questions},
        "facts": [fact.as_json() for fact in evidence.facts],
    }


def evidence_text(evidence: CaseEvidence) -> str:
    """All of it: what is requested, what contradicts itself, each stop that was missed, then every number under the
    question it answers, with its rows and how it is worked out."""
    lines = [f"{evidence.case.id}: what the record supports", ""]
    for name, value in asked_for(evidence.case):
        lines += textwrap.wrap(f"{name + ':':<16}{value or 'not recorded'}", WIDTH, subsequent_indent=" " * 16)
    for reason in evidence.contradictions:
        lines += textwrap.wrap(f"Contradiction:  {reason}", WIDTH, subsequent_indent=" " * 16)
    lines += misses_text(evidence)
    for answer in numbers_of(evidence):
        lines += ["", answer.question]
        if not answer.rows:
            lines.append("  not recorded")
            continue
        widths = [min(most, max(len(row[i]) for row in answer.rows)) for i, most in ((0, 62), (1, 72))]
        lines += [
            f"  {label:<{widths[0]}}  {value:<{widths[1]}}  {origin}".rstrip() for label, value, origin in answer.rows
        ]
        for formula in answer.formulas:
            lines += textwrap.wrap(formula, WIDTH, initial_indent="    = ", subsequent_indent="      ")
    lines += [
        "",
        *textwrap.wrap(OF_RANGES, WIDTH),
        "Each session by task, how sure the rule of training is, and the id of every number: docgen evidence --json",
    ]
    return "\n".join(lines)


def asked_for(case: Case) -> tuple[tuple[str, str | None], ...]:
    """Whom it is about, what is requested, and under which conditions it was tried; None for what is not recorded."""
    methods = {method.id: method for method in case.trial.methods}
    asked = methods.get(case.configuration.method or "")
    tried = [method.name for method in case.trial.methods if any(row.method == method.id for row in case.tried)]
    days = sorted({row.date for row in case.tried})
    return (
        ("Client", case.client.name),
        ("Requested", asked.name if asked else None),
        ("Chair", case.trial.chair),
        ("Tried", ", ".join(tried) or None),
        ("Days", f"{len(days)}, {days[0]} to {days[-1]}" if days else None),
        ("Scored by", case.trial.counted_by),
        (
            "Release from",
            {"cue": "the cue to the input being off", "line": "the line to the input being off"}.get(
                case.trial.release_from or ""
            ),
        ),
        (
            "Delay, braking",
            ", ".join(
                f"{value:g} {unit}"
                for value, unit in (
                    (case.configuration.chair.electronics_delay_s, "s"),
                    (case.configuration.chair.deceleration_m_s2, "m/s\u00b2"),
                )
                if value is not None
            )
            or None,
        ),
        (
            "Done means",
            None if done_is_open(case) else done_means(case),
        ),
        ("Task rules", "; ".join(f"{task.name}: {task.rule or 'not recorded'}" for task in case.trial.tasks) or None),
        ("Not shown", case.trial.limits),
    )


def _reading_lines(facts: list[Fact]) -> list[tuple[str, str, str]]:
    """One line a document: grades, length of sentences, terms of the trade."""
    by_id = {fact.id: fact for fact in facts}
    rows = []
    for fact in facts:
        kind, _, name = fact.id.partition(".")
        if kind == "grade":
            terms = by_id.get(f"terms.{name}")
            rows.append(
                (
                    fact.label.rpartition(", ")[2],
                    f"school grade {fact.value:.1f} (SMOG {by_id[f'smog.{name}'].value:.1f}), "
                    f"{by_id[f'sentence_words.{name}'].value:.0f} words a sentence"
                    + (f"; to put in plain words: {terms.text}" if terms else ""),
                    "",
                )
            )
        elif kind == "inflesz":
            rows.append(
                (
                    fact.label.rpartition(", ")[2],
                    f"INFLESZ {fact.value:.0f}, {fact.verdict} (Fernández Huerta {by_id[f'huerta.{name}'].value:.0f})",
                    "",
                )
            )
    return rows


def _where_from(fact: Fact) -> str:
    """Rows of the trial, lines of its totals, or keys of the case."""
    places = [f"rows {ranges(fact.rows)}"] if fact.rows else []
    places += [cited_totals(fact.totals)] if fact.totals else []
    if places:
        return "; ".join(places)
    return ", ".join(dict.fromkeys(re.sub(r"\.\d+\.", "[].", key) for key in fact.keys))


def _formula(fact: Fact) -> str:
    return f"{fact.formula} ({fact.source})" if fact.source else fact.formula


def _value(fact: Fact) -> str:
    shown = number(fact, language_words())
    if isinstance(shown, Gap):
        return shown.words
    verdict = "" if fact.kind == "words" or not fact.verdict else f"the other: {VERDICTS[fact.verdict]}"
    parts = [shown.full, verdict, fact.note]
    return "; ".join(part for part in parts if part)
