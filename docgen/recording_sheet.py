"""The printable recording sheets of a trial, made from the columns of trial.csv: empty, or filled in with its plan."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from docgen.case.record import COLUMNS, Column
from docgen.documents.planned_order import BlockRow, block_rows
from docgen.packet.trees import template_tree
from docgen.packet.wording import language_words
from docgen.rendering.page import NO_DATE, Page
from docgen.shelf.planned import Planned

# What is the same for a whole block stands once at the top of the sheet; the rest is a row an attempt.
_ONCE = ("date", "method", "order", "supervisor", "seating", "speed_m_s")


_EMPTY_ROWS = 16


def clipboard_pdf(case_id: str, lang: str = "en") -> bytes:
    """The sheet as PDF bytes, to be filled in by hand; it holds every column of trial.csv once."""
    empty = {"title": "", "known": {}, "warm_up": "", "cards": [{"number": "", "task": ""}] * _EMPTY_ROWS}
    return _pdf(case_id, [empty], lang)


def trial_sheets(case_id: str, plan: Planned, lang: str = "en") -> bytes | None:
    """The sheets of a planned trial as PDF bytes, one a block, with control, order and cards filled in; None where no
    order is planned."""
    sheets = [_sheet(plan, block) for block in block_rows(plan)]
    return _pdf(case_id, sheets, lang) if sheets else None


def _sheet(plan: Planned, block: BlockRow) -> dict[str, Any]:
    """What a sheet has filled in: once for its block, and the card of each attempt."""
    tasks = [card.id or f"card {number}" for number, card in block["cards"]] or [""] * block["n_counted"]
    stop = next((card for card in plan.cards if card.of == "stop"), None)
    return {
        "title": f"Visit {block['visit']}, block {block['place']}: {block['letter']}, {block['control']}",
        "known": {"method": block["id"], "order": str(block["place"])},
        "warm_up": stop.name if stop else "a stop",
        "cards": [{"number": str(at), "task": task} for at, task in enumerate(tasks, 1)],
    }


def _pdf(case_id: str, sheets: list[dict[str, Any]], lang: str) -> bytes:
    from docgen.rendering.formats.to_pdf import render
    from docgen.rendering.labels import ENGLISH

    block = _shown([column for column in COLUMNS if _once(column)])
    attempt = _shown([column for column in COLUMNS if not _once(column)])
    # each sheet is filled by itself, so that what one template may take does not end a long trial
    filled = [
        template_tree(
            "_clipboard.md",
            {"block": block, "attempt": attempt, "sheet": sheet, "explained": sheet is sheets[-1]},
            lang,
        )
        for sheet in sheets
    ]
    tree = filled[0]
    tree.children += [node for other in filled[1:] for node in other.children]
    words = language_words(lang)
    page = Page(words["clipboard"], f"{case_id}, {words['clipboard'].lower()}", NO_DATE)
    # an empty sheet carries no date of its own: the block's date is written by hand
    return render(tree, page, {}, labels=replace(ENGLISH, day_form="\u00a0"))


def _once(column: Column) -> bool:
    return column.name in _ONCE or column.per_block or column.name.endswith(("_before", "_after"))


def _shown(columns: list[Column]) -> list[dict[str, Any]]:
    return [
        {
            "name": column.name,
            "head": column.head or column.name,
            "means": f"{column.means} ({column.unit})" if column.unit else column.means,
        }
        for column in columns
    ]
