"""What `docgen criteria` prints: the list of criteria, or one in full."""

from __future__ import annotations

import textwrap

from docgen.console.width import WIDTH
from docgen.criteria.criterion import HEADINGS, PARTS, Criterion, criteria
from docgen.criteria.payer import Requirement, payers
from docgen.errors import Problem, UserError, did_you_mean


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False, break_on_hyphens=False
    )


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
    return [
        f"{payer}: {row.id} ({row.severity}, {dates}, source {row.known})",
        *_wrapped(row.citation),
        *([f"  {settings}"] if settings else []),
    ]
