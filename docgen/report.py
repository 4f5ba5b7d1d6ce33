"""What the commands print: findings, evidence and criteria, as text for people and as JSON for programs."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable
from typing import Any

from docgen.criteria.criterion import HEADINGS, PARTS, Criterion, criteria
from docgen.criteria.payer import Requirement, payers
from docgen.criteria.run import Verdict
from docgen.documents.phrase import number
from docgen.errors import Problem, UserError, did_you_mean
from docgen.evidence.fact import Fact
from docgen.evidence.gather import questions
from docgen.packet import Assessed, language_words, reading_facts
from docgen.rendering.template import Gap

_STATUS = {"met": "met", "not_met": "NOT MET", "cannot_tell": "CANNOT TELL", "does_not_apply": "does not apply"}
_WIDTH = 100


# ---- check -------------------------------------------------------------------------------------------


def findings(assessed: Assessed) -> dict[str, Any]:
    """Every requirement with its answer: format "docgen findings 1"."""
    return {
        "format": "docgen findings 1",
        "case": assessed.file.case.id,
        "payer": assessed.payer.id,
        "verdict": "gaps" if assessed.open else "ready",
        "blocking": len(assessed.open),
        "findings": [_finding(verdict, assessed) for verdict in assessed.verdicts],
    }


def _finding(verdict: Verdict, assessed: Assessed) -> dict[str, Any]:
    return {
        "id": verdict.requirement.id,
        "criterion": verdict.criterion.id,
        "heading": verdict.criterion.heading,
        "status": verdict.answer.status,
        "severity": verdict.requirement.severity,
        "blocks": verdict.blocks,
        "reason": verdict.answer.reason,
        "where": _where(verdict, assessed),
        "facts": list(verdict.answer.facts),
        "source": verdict.requirement.citation,
        "mend": verdict.answer.mend,
    }


def _where(verdict: Verdict, assessed: Assessed) -> list[str]:
    places = [assessed.file.where(*path) for path in verdict.answer.where]
    places += [assessed.file.row_where(line) for line in verdict.answer.rows[:1]]
    return list(dict.fromkeys(places)) or [assessed.file.where()]


def findings_text(assessed: Assessed, brief: bool = False) -> str:
    """Findings worst first: what blocks in full, then what a reviewer may ask, then a count of the rest."""
    case, payer = assessed.file.case, assessed.payer
    lines = [f"{case.id}: {_summary(assessed)}", f"Rules: {payer.name}, reviewed {payer.reviewed_on}."]
    wanted = [v for v in assessed.verdicts if v.answer.status in ("not_met", "cannot_tell")]
    if brief:
        wanted = [v for v in wanted if v.blocks]
    for verdict in wanted:
        lines += ["", *_lines(verdict, assessed)]
    counts = {s: sum(v.answer.status == s for v in assessed.verdicts) for s in ("met", "does_not_apply")}
    lines += ["", f"{counts['met']} met, {counts['does_not_apply']} do not apply. "
                  "An answer of met means that the record holds what reviewers look for, not that the request will be paid."]
    return "\n".join(lines)


def _summary(assessed: Assessed) -> str:
    count = len(assessed.open)
    if not count:
        return "ready for the clinician's review"
    return f"not ready, {count} {'point' if count == 1 else 'points'} must be settled first"


def _lines(verdict: Verdict, assessed: Assessed) -> list[str]:
    answer, requirement = verdict.answer, verdict.requirement
    weight = {"blocks": "must be settled", "query": "a reviewer may ask", "advise": "good practice"}[requirement.severity]
    lines = [f"{_STATUS[answer.status]}  {verdict.criterion.claim}  ({HEADINGS[verdict.criterion.heading]}; {weight})"]
    lines += _wrapped(answer.reason)
    if answer.mend:
        lines += _wrapped(f"To settle: {answer.mend}")
    lines += _wrapped(f"Why a payer asks: {verdict.criterion.text['Why a payer asks']}")
    lines += _wrapped(f"Source: {requirement.citation}")
    return lines + [f"  {place}" for place in _where(verdict, assessed)]


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False)


def caseload(found: Iterable[Assessed]) -> str:
    """One line a case: id, verdict, how many points block."""
    found = list(found)
    width = max(len(one.file.case.id) for one in found)
    rows = [f"{'case':<{width}}  verdict    blocking"]
    rows += [f"{one.file.case.id:<{width}}  {'not ready' if one.open else 'ready':<9}  {len(one.open):>8}" for one in found]
    return "\n".join(rows) + "\n"


# ---- evidence ----------------------------------------------------------------------------------------


def evidence_json(assessed: Assessed) -> dict[str, Any]:
    """Every number: format "docgen evidence 1"."""
    return {
        "format": "docgen evidence 1",
        "case": assessed.file.case.id,
        "questions": _questions(),
        "facts": [fact.as_json() for fact in _facts(assessed)],
    }


def evidence_text(assessed: Assessed) -> str:
    """Every number under the question it answers: what it is, its value with interval, its rows; then how it is worked out."""
    every = _facts(assessed)
    lines = [f"{assessed.file.case.id}: what the record supports"]
    for name, question in _questions().items():
        facts = [fact for fact in every if fact.question == name and not _by_task(fact)]
        if not facts:
            continue
        rows = [*_mastery_lines(facts), *((f.label, _value(f), _where_from(f)) for f in facts if not _is_mastery(f))]
        widths = [min(64, max(len(row[i]) for row in rows)) for i in (0, 1)]
        lines += ["", question]
        lines += [f"  {label:<{widths[0]}}  {value:<{widths[1]}}  {origin}".rstrip() for label, value, origin in rows]
        for formula in dict.fromkeys(_formula(fact) for fact in facts if fact.formula):
            lines += textwrap.wrap(formula, _WIDTH, initial_indent="    = ", subsequent_indent="      ")
    if not assessed.evidence:
        lines += ["", "Not recorded: no rows of a trial and no measures in the case."]
    lines += ["", "Intervals are at 95%. They treat attempts as independent and are therefore a little narrow.",
              "Each session by task, and the id of every number: docgen evidence --json"]
    return "\n".join(lines)


def _by_task(fact: Fact) -> bool:
    """One task of one session: too fine for a page, and in the JSON."""
    return fact.id.startswith("session.") and ".success." in fact.id


def _is_mastery(fact: Fact) -> bool:
    return fact.id.startswith(("move_on.", "go_back."))


def _mastery_lines(facts: list[Fact]) -> list[tuple[str, str, str]]:
    """The two numbers of each row of the mastery table, on one line."""
    by_id = {fact.id: fact for fact in facts}
    shown = {True: "not possible yet"}
    return [
        (f"after {fact.n} tries", f"move on at {shown.get(fact.value is None, f'{fact.value:g}' if fact.value is not None else '')}, "
         f"go back at {shown.get(back.value is None, f'{back.value:g}' if back.value is not None else '')}", "training.mastery")
        for fact in facts if fact.id.startswith("move_on.") and (back := by_id[f"go_back.{fact.n}"])
    ]


def _where_from(fact: Fact) -> str:
    """Rows of the CSV file, or keys of the case."""
    if fact.rows:
        return f"rows {_ranges(fact.rows)}"
    return ", ".join(dict.fromkeys(re.sub(r"\.\d+\.", "[].", key) for key in fact.keys))


def _formula(fact: Fact) -> str:
    return f"{fact.formula} ({fact.source})" if fact.source else fact.formula


def _questions() -> dict[str, str]:
    return questions() | {"reading": "Can its reader read each document?"}


def _facts(assessed: Assessed) -> list[Fact]:
    return [*assessed.evidence.values(), *reading_facts(assessed)]


def _value(fact: Fact) -> str:
    shown = number(fact, language_words())
    if isinstance(shown, Gap):
        return shown.words
    parts = [shown.full, "" if fact.kind == "words" else fact.verdict.replace("_", " "), fact.note]
    return "; ".join(part for part in parts if part)


def _ranges(rows: tuple[int, ...]) -> str:
    """Line numbers in short: 2-9, 14."""
    spans: list[list[int]] = []
    for row in sorted(set(rows)):
        if spans and row == spans[-1][1] + 1:
            spans[-1][1] = row
        else:
            spans.append([row, row])
    return ", ".join(str(a) if a == b else f"{a}-{b}" for a, b in spans)


# ---- criteria ----------------------------------------------------------------------------------------


def criteria_text() -> str:
    """Every criterion under its heading, with the rows that bind it."""
    lines: list[str] = []
    for heading, title in HEADINGS.items():
        under = [c for c in criteria().values() if c.heading == heading]
        if under:
            lines += ["", title] if lines else [title]
            width = max(len(c.id) for c in under)
            lines += [f"  {c.id:<{width}}  {c.claim}" for c in under]
    return "\n".join([*lines, "", "One in full: docgen criteria ID"])


def criterion_text(criterion_id: str) -> str:
    """One criterion: what it asks, why, what settles it, its source, and each payer row that binds it."""
    known = criteria()
    if criterion_id not in known:
        raise UserError([Problem(criterion_id, "is not a criterion", did_you_mean(criterion_id, known))])
    criterion: Criterion = known[criterion_id]
    lines = [criterion.id, *_wrapped(criterion.claim)]
    for part in PARTS:
        lines += ["", part, *_wrapped(criterion.text[part])]
    if criterion.settings:
        lines += ["", "Thresholds unless a payer sets others"]
        lines += [f"  {name} = {value}" for name, value in criterion.settings.items()]
    for payer in payers():
        for row in payer.requirements:
            if row.criterion == criterion_id:
                lines += ["", *_row(payer.name, row)]
    return "\n".join(lines)


def _row(payer: str, row: Requirement) -> list[str]:
    dates = f"from {row.from_on}" + (f" until {row.until_on}" if row.until_on else "")
    settings = ", ".join(f"{name} = {value}" for name, value in row.settings.items())
    return [f"{payer}: {row.id} ({row.severity}, {dates}, source {row.known})", *_wrapped(row.citation),
            *([f"  {settings}"] if settings else [])]
