"""The report of `docgen check` on one case, as JSON for programs and the ground of the page."""

from __future__ import annotations

import json
import re
from datetime import date
from typing import TYPE_CHECKING, Any

from docgen.case.awaited import asked_as
from docgen.case.heads import in_braces, with_names
from docgen.case.keys import value_at
from docgen.case.lines import KeyPath
from docgen.case.read import CaseFile
from docgen.case.short_form import KIND_NAMES
from docgen.case.written import Place, form_at, head_of_new, place_of_table
from docgen.criteria.advice import Step
from docgen.criteria.asked_of import asked_of
from docgen.criteria.calendar import Entry, next_entry
from docgen.criteria.criterion import HEADINGS
from docgen.criteria.run import Verdict, points
from docgen.criteria.sentences import counted, listed
from docgen.packet.assess import Assessed
from docgen.results import CaseCheck

if TYPE_CHECKING:
    from docgen.packet.approval import Review
    from docgen.packet.hard_words import Ease

_MOST_ROWS = 5  # rows of the trial that one answer names by line


def check_report(check: CaseCheck) -> dict[str, Any]:
    """Every requirement with its answer, the shortest way to ready and the calendar: format "docgen findings 1"."""
    case, payer, assessed, today = check.case, check.payer, check.assessed, check.today
    steps = [_step(step, assessed) for step in check.steps]
    first = next_entry(check.calendar, today)
    return {
        "format": "docgen findings 1",
        "case": case.id,
        "payer": payer.id,
        "payer_name": payer.name,
        "payer_of_case": case.request.payer,
        "later_payers": [_later(later, check) for later in check.for_later_payers],
        "rules_reviewed_on": str(payer.reviewed_on),
        "rules_review_by": str(payer.review_by),
        "rules_overdue": payer.overdue(today),
        "today": str(today),
        "verdict": "ready" if check.ready else "gaps",
        "blocking": len(check.open),
        "summary": _summary(assessed, steps),
        "approval": _approval(check.review) if check.review else None,
        "reading": _reading(check.guide) if check.guide else None,
        "typeface": [str(lacking) for lacking in check.typeface],
        "kept": [str(kept) for kept in check.kept],
        "findings": [_finding(verdict, assessed) for verdict in check.verdicts],
        "awaited": [
            {
                "of": entry.of,
                "what": entry.what,
                "holds": entry.holds,
                "where": assessed.file.where("awaited", at),
                "written": _written_at(assessed.file, ("awaited", at)),
            }
            for at, entry in enumerate(case.awaited)
            if not (entry.answer and entry.answered_on)
        ],
        "shortest": steps,
        "asked_as": asked_as(case),
        "next_expiry": _entry(first, assessed, today) if first else None,
        "calendar": [_entry(entry, assessed, today) for entry in check.calendar],
        "undated": list(check.undated),
    }


def _later(later: Assessed, check: CaseCheck) -> dict[str, Any]:
    """What a payer asks that comes after the first, beyond what is open already."""
    asked = {verdict.criterion.id for verdict in check.open}
    return {
        "payer": later.payer.id,
        "name": later.file.case.request.payer_name,
        "rules": later.payer.name,
        "open": [
            {
                "claim": verdict.criterion.claim,
                "status": verdict.answer.status,
                "reason": verdict.answer.reason,
                "mend": with_names(verdict.answer.to_settle, later.file, verdict.answer.where),
                "where": _where(verdict, later),
            }
            for verdict in later.open
            if verdict.criterion.id not in asked
        ],
    }


def _reading(guide: Ease) -> dict[str, Any]:
    return {
        "document": guide.title,
        "grade": round(guide.reading.grade, 1),
        "smog": round(guide.reading.smog, 1),
        "easy": guide.easy,
        "shorten": [
            {"says": sentence.says, "words": sentence.n_words, "where": sentence.where} for sentence in guide.shorten
        ],
    }


def _approval(review: Review) -> dict[str, Any]:
    return {
        "by": review.by,
        "on": str(review.on),
        "program": review.program,
        "stands": review.stands,
        "changed": list(review.changed),
    }


def _finding(verdict: Verdict, assessed: Assessed) -> dict[str, Any]:
    return {
        "id": verdict.requirement.id,
        "criterion": verdict.criterion.id,
        "claim": verdict.criterion.claim,
        "heading": verdict.criterion.heading,
        "status": verdict.answer.status,
        "limit": verdict.answer.limit,
        "severity": verdict.severity,
        "blocks": verdict.blocks,
        "dangerous": verdict.dangerous,
        "holds": verdict.holds,
        "asked_by_payer": verdict.bound,
        "reason": verdict.answer.reason,
        "names": list(verdict.answer.names),
        "where": _where(verdict, assessed),
        "facts": list(verdict.answer.facts),
        "why": verdict.criterion.text["Why a payer asks"],
        "source": verdict.requirement.citation,
        "mend": with_names(verdict.answer.to_settle, assessed.file, verdict.answer.where),
        "asked_of": list(asked_of(verdict.answer, assessed.file.case)) if verdict.open else [],
    }


def _written_at(file: CaseFile, entry: KeyPath) -> str:
    """The head of an entry as the case has it, and its name where it stands in a line below that."""
    place = place_of_table(file, entry)
    return " ".join(filter(None, (place.head, place.entry or place.prefix.rstrip("."))))


def _where(verdict: Verdict, assessed: Assessed) -> list[str]:
    places = [assessed.file.where(*path) for path in verdict.answer.where]
    places += [assessed.file.row_where(line) for line in verdict.answer.rows[:_MOST_ROWS]]
    places += [assessed.file.total_where(line) for line in verdict.answer.totals[:_MOST_ROWS]]
    return list(dict.fromkeys(places)) or [assessed.file.where()]


def _step(step: Step, assessed: Assessed) -> dict[str, Any]:
    """A step for programs; `entry` names which entry of a list, by its id or what it holds instead of one."""
    file = assessed.file
    of_list = step.kind == "add" or (bool(step.table) and isinstance(step.table[-1], int))
    part = value_at(file.case, step.table)
    entry = next(
        (value for key in ("id", "kind", "place", "who", "name") if isinstance(value := getattr(part, key, None), str)),
        None,
    )
    place, keys = Place(""), dict(step.keys)
    if step.kind == "add":
        name = _name_says(step.table, keys) if step.table in file.by_name else ""
        place = Place(head_of_new(file, step.table, name or "NAME"))
    elif step.kind == "fill":
        place = place_of_table(file, step.table)
    is_named = step.table[:-1] in file.by_name
    return {
        "kind": step.kind,
        "new": step.kind == "add" or (step.kind == "fill" and step.table not in file.lines),
        "table": in_braces(place.head, file.text) or None,
        "entry": (place.entry or None if is_named else entry) if step.kind == "fill" and of_list else None,
        "keys": {f"{place.prefix}{key}": with_names(form, file, ()) for key, form in keys.items()},
        "says": with_names(step.says, file, step.where or (step.table,)),
        "settles": list(step.settles),
        "where": file.where(*step.table),
    }


def _name_says(of_list: KeyPath, keys: dict[str, str]) -> str:
    """The name under which a new entry is written, where it is known; what that name says is taken out of its keys."""
    form = form_at((*of_list, 0))
    if form is None:
        return ""
    known = keys.get(form.also) or keys.get(form.key) or ""
    name: str = json.loads(known) if re.fullmatch(r'"\w+"', known) else ""
    of_name = {"id"} | ({form.key, form.also} if name else set())
    if (form.words == "name" and not form.begins) or name in KIND_NAMES:
        of_name.add("name")
    if not name and form.key in keys and form.key != "id" and len(keys) > 1:
        name = form.key.upper()  # whose value is the name
        of_name.add(form.key)
    if of_name & keys.keys() != keys.keys():  # something is left to write below it
        for key in of_name & keys.keys():
            del keys[key]
    return name


def _entry(entry: Entry, assessed: Assessed, today: date) -> dict[str, Any]:
    return {
        "on": str(entry.on),
        "what": entry.what,
        "kind": entry.kind,
        "done_on": str(entry.done_on) if entry.done_on else None,
        "state": entry.state(today),
        "days": (entry.on - today).days,
        "source": entry.source,
        "note": entry.note,
        "where": [assessed.file.where(*path) for path in entry.where],
    }


def _summary(assessed: Assessed, steps: list[dict[str, Any]]) -> str:
    """What a busy person needs: whether it can go, and if not, what kind of work is left."""
    count = points(assessed.open)
    asked = [v for v in assessed.verdicts if v.open and v.severity == "query"]
    if not count:
        about = listed(
            words[:1].lower() + words[1:]
            for heading, words in HEADINGS.items()
            if any(v.criterion.heading == heading for v in asked)
        )
        return "ready for the clinician's review" + (
            f"; a reviewer may ask about {counted(points(asked), 'point', 'points')} ({about})" if asked else ""
        )
    keys, work = ([s for s in steps if s["kind"] != "do"], [s for s in steps if s["kind"] == "do"])
    names = [key.rpartition(".")[2] for step in keys for key in step["keys"]]
    shown = list(dict.fromkeys(names))
    left = [f"{counted(len(work), 'decision or piece', 'decisions or pieces')} of work"] if work else []
    left += (
        [f"{counted(len(names), 'key', 'keys')} to fill in ({', '.join(shown[:5])}{', ...' if shown[5:] else ''})"]
        if keys
        else []
    )
    return f"not ready, {counted(count, 'point', 'points')} must be settled first: {', then '.join(left)}"
