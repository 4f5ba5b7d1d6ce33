"""The printable recording sheets of a trial: one with the columns of trial.csv, empty, and those of a plan, a block
each, in words that whoever scores can read at a glance."""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from docgen.case.model import Case
from docgen.case.record import COLUMNS, Column
from docgen.documents.planned import kind_warning, warning
from docgen.documents.planned_order import BlockRow, block_rows
from docgen.documents.planned_safety import needs_relief, stop_limit_mm, stop_rules, to_fill_in
from docgen.packet.trees import template_tree
from docgen.packet.wording import language_words
from docgen.rendering.labels import Labels
from docgen.rendering.page import NO_DATE, Page
from docgen.rendering.style import TRIAL_SHEET
from docgen.shelf.planned import Planned

# What is the same for a whole block stands once at the top of the sheet; the rest is a row an attempt.
_ONCE = ("date", "method", "order", "supervisor", "seating", "speed_m_s")


_EMPTY_ROWS = 16


def clipboard_pdf(case_id: str, lang: str = "en") -> bytes:
    """The sheet as PDF bytes, to be filled in by hand; it holds every column of trial.csv once."""
    from docgen.rendering.formats.to_pdf import render

    context = {
        "block": _shown([column for column in COLUMNS if _once(column)]),
        "attempt": _shown([column for column in COLUMNS if not _once(column)]),
        "rows": range(_EMPTY_ROWS),
    }
    words = language_words(lang)
    page = Page(words["clipboard"], f"{case_id}, {words['clipboard'].lower()}", NO_DATE)
    return render(template_tree("_clipboard.md", context, lang), page, {}, labels=_undated())


def trial_sheets(case: Case, plan: Planned) -> bytes | None:
    """The sheets of a planned trial as PDF bytes, one a block, with control, order and cards filled in; None where no
    order is planned."""
    from docgen.rendering.formats.to_pdf import render

    blocks = list(block_rows(plan))
    if not blocks:
        return None
    called = case.client.called or "the client"
    common = _common(case, plan, called)
    # each sheet is filled by itself, so that what one template may take does not end a long trial
    filled = [
        template_tree("_trial_sheet.md", common | {"sheet": _sheet(plan, block) | {"last": block is blocks[-1]}})
        for block in blocks
    ]
    tree = filled[0]
    tree.children += [node for other in filled[1:] for node in other.children]
    page = Page("Recording sheets", f"{called}, recording sheet", NO_DATE)
    return render(tree, page, {}, TRIAL_SHEET, labels=_undated())


def _undated() -> Labels:
    """Labels of a page that carries no date of its own: the block's date is written by hand."""
    from docgen.rendering.labels import ENGLISH

    return replace(ENGLISH, day_form="\u00a0")


def _common(case: Case, plan: Planned, called: str) -> dict[str, Any]:
    """What stands on every sheet."""
    decided, limit = plan.plan, stop_limit_mm(case, plan)
    return {
        "called": called,
        "evaluator": "The therapist",
        "fill_in": any(to_fill_in(case, plan)),
        "relief": needs_relief(case),
        "scale": "10",
        "stiff": "4",
        "guard": case.called_by_relation(decided.guard) if decided.guard else None,
        "guard_stop": decided.guard_stop,
        "speed": f"{decided.speed_m_s:g} m/s" if decided.speed_m_s is not None else None,
        "rules": list(stop_rules(case, plan)),
        "own_signs": decided.stop_when is not None,
        "stop_rule": f"within {limit / 1000:g} m" if limit is not None else None,
    }


def _sheet(plan: Planned, block: BlockRow) -> dict[str, Any]:
    """What a sheet has filled in: its control, the card of each attempt, and the ids for whoever types it."""
    numbered = [(f"{number}: {card.name}", card.of == "stop") for number, card in block["cards"]]
    cards = numbered or [("", True)] * block["n_counted"]
    stop = next((card for card in plan.cards if card.of == "stop"), None)
    control = next(control for control in plan.driven if control.letter == block["letter"])
    ids = dict.fromkeys(f"card {number} is {card.id}" for number, card in block["cards"] if card.id)
    return {
        "title": f"Visit {block['visit']}, block {block['place']}: {block['letter']}, {block['control']}",
        "warning": warning(control.judged) or " ".join(map(kind_warning, control.alike)),
        "warm_up": stop.name if stop else "a stop",
        "cards": [{"number": at, "task": task, "stop": is_stop} for at, (task, is_stop) in enumerate(cards, 1)],
        "office": "; ".join((f"the method is {block['id']}", f"order {block['place']}", *ids, "stops go into the note"))
        + ".",
    }


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
