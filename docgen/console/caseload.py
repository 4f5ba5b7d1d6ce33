"""The page of `docgen check` over many cases: one line a case."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from docgen.console.check_page import ahead


def caseload_row(report: Mapping[str, Any]) -> tuple[str, str, str, str]:
    """A case in one line: id, verdict, how many points block, what expires next."""
    entry = report["next_expiry"]
    due = ahead(entry) if entry else "nothing ahead"
    return report["case"], "not ready" if report["blocking"] else "ready", str(report["blocking"]), due


def caseload(rows: Iterable[tuple[str, str, str, str]], unreadable: Iterable[str] = ()) -> str:
    """One line a case, those that cannot be read first, then those with most to settle."""
    ordered = sorted(rows, key=lambda row: (-int(row[2]), row[0]))
    table = [
        ("case", "verdict", "blocking", "next expiry"),
        *((name, "unreadable", "-", "-") for name in unreadable),
        *ordered,
    ]
    width = max(len(row[0]) for row in table)
    return "\n".join(f"{case:<{width}}  {verdict:<10}  {blocking:>8}  {due}" for case, verdict, blocking, due in table)
