"""What `docgen check` prints: one report a case, as JSON for programs and as a page for people, and the caseload."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from docgen.criteria.advice import Step, shortest_way
from docgen.criteria.calendar import Entry, calendar, next_entry, undated
from docgen.criteria.criterion import HEADINGS
from docgen.criteria.forms import value_at
from docgen.criteria.run import Verdict
from docgen.criteria.sentences import counted, listed
from docgen.packet import Assessed

_STATUS = {"met": "met", "not_met": "NOT MET", "cannot_tell": "CANNOT TELL", "does_not_apply": "does not apply"}
_WIDTH = 100


def findings(assessed: Assessed, today: date) -> dict[str, Any]:
    """Every requirement with its answer, the shortest way to ready and the calendar: format "docgen findings 1"."""
    case, payer = assessed.file.case, assessed.payer
    steps = [_step(step, assessed) for step in shortest_way(assessed.grounds, assessed.verdicts)]
    entries = calendar(case, payer, assessed.verdicts)
    first = next_entry(entries, today)
    return {
        "format": "docgen findings 1",
        "case": case.id,
        "payer": payer.id,
        "payer_name": payer.name,
        "payer_of_case": case.request.payer,
        "rules_reviewed_on": str(payer.reviewed_on),
        "rules_review_by": str(payer.review_by),
        "rules_overdue": payer.overdue(today),
        "today": str(today),
        "verdict": "gaps" if assessed.open else "ready",
        "blocking": len(assessed.open),
        "summary": _summary(assessed, steps),
        "findings": [_finding(verdict, assessed) for verdict in assessed.verdicts],
        "shortest": steps,
        "next_expiry": _entry(first, assessed, today) if first else None,
        "calendar": [_entry(entry, assessed, today) for entry in entries],
        "undated": list(undated(case)),
    }


def _finding(verdict: Verdict, assessed: Assessed) -> dict[str, Any]:
    return {
        "id": verdict.requirement.id,
        "criterion": verdict.criterion.id,
        "claim": verdict.criterion.claim,
        "heading": verdict.criterion.heading,
        "status": verdict.answer.status,
        "severity": verdict.requirement.severity,
        "blocks": verdict.blocks,
        "reason": verdict.answer.reason,
        "where": _where(verdict, assessed),
        "facts": list(verdict.answer.facts),
        "why": verdict.criterion.text["Why a payer asks"],
        "source": verdict.requirement.citation,
        "mend": verdict.answer.mend,
    }


def _where(verdict: Verdict, assessed: Assessed) -> list[str]:
    places = [assessed.file.where(*path) for path in verdict.answer.where]
    places += [assessed.file.row_where(line) for line in verdict.answer.rows[:1]]
    return list(dict.fromkeys(places)) or [assessed.file.where()]


def _step(step: Step, assessed: Assessed) -> dict[str, Any]:
    """A step for programs; `entry` names which entry of a list, by its id or what it holds instead of one."""
    names = [part for part in step.table if isinstance(part, str)]
    of_list = step.kind == "add" or (bool(step.table) and isinstance(step.table[-1], int))
    part = value_at(assessed.file.case, step.table)
    entry = next((value for key in ("id", "kind", "place", "who", "name") if isinstance(value := getattr(part, key, None), str)), None)
    return {
        "kind": step.kind,
        "new": step.kind == "add" or (step.kind == "fill" and step.table not in assessed.file.lines),
        "table": None if step.kind == "do" else f"[[{'.'.join(names)}]]" if of_list else f"[{'.'.join(names)}]",
        "entry": entry if step.kind == "fill" and of_list else None,
        "keys": dict(step.keys),
        "says": step.says,
        "settles": list(step.settles),
        "where": assessed.file.where(*step.table),
    }


def _entry(entry: Entry, assessed: Assessed, today: date) -> dict[str, Any]:
    return {
        "on": str(entry.on), "what": entry.what, "kind": entry.kind, "done_on": str(entry.done_on) if entry.done_on else None,
        "state": entry.state(today), "days": (entry.on - today).days, "source": entry.source,
        "where": [assessed.file.where(*path) for path in entry.where],
    }


def _summary(assessed: Assessed, steps: list[dict[str, Any]]) -> str:
    """What a busy person needs: whether it can go, and if not, what kind of work is left."""
    count = len(assessed.open)
    asked = [v for v in assessed.verdicts if v.open and v.requirement.severity == "query"]
    if not count:
        about = listed(words.lower() for heading, words in HEADINGS.items() if any(v.criterion.heading == heading for v in asked))
        return "ready for the clinician's review" + (
            f"; a reviewer may ask about {counted(len(asked), 'point', 'points')} ({about})" if asked else "")
    keys, work = ([s for s in steps if s["kind"] != "do"], [s for s in steps if s["kind"] == "do"])
    names = [key for step in keys for key in step["keys"]]
    shown = list(dict.fromkeys(names))
    told = [f"{counted(len(work), 'decision or piece', 'decisions or pieces')} of work"] if work else []
    told += [f"{counted(len(names), 'key', 'keys')} to fill in ({', '.join(shown[:5])}{', ...' if shown[5:] else ''})"] if keys else []
    return f"not ready, {counted(count, 'point', 'points')} must be settled first: {', then '.join(told)}"


_WEIGHTS = {"blocks": "Must be settled first", "query": "A reviewer may ask", "advise": "Good practice"}


def findings_text(report: Mapping[str, Any], brief: bool = False) -> str:
    """A report as a page: what blocks first, by heading; the shortest way to ready; the calendar; a count of the rest.

    brief  one of many cases: only what blocks, without its grounds, and what to do about it
    """
    opened = [one for one in report["findings"] if one["status"] in ("not_met", "cannot_tell")]
    lines = [f"{report['case']}: {report['summary']}", *([] if brief else rules_text(report))]
    for severity in ("blocks",) if brief else _WEIGHTS:
        lines += _section(severity, [one for one in opened if one["severity"] == severity], brief)
    lines += _shortest(report["shortest"])
    return "\n".join([*lines, *(_in_short(report, opened) if brief else [*_calendar(report), *_closing(report)])])


def _in_short(report: Mapping[str, Any], opened: list[dict[str, Any]]) -> list[str]:
    """What a page of many cases says of the rest: the questions to expect, how much is left, the next day."""
    asked = [one for one in opened if one["severity"] == "query"]
    n_advised = sum(one["severity"] == "advise" for one in opened)
    entry = report["next_expiry"]
    lines = ["", "A reviewer may ask:"] if asked else []
    lines += [line for one in asked for line in _wrapped(f"{_STATUS[one['status']]}  {one['claim']}: {one['reason']}")]
    lines += ["", f"Next: {entry['on']} ({_stands(entry)}), {entry['what']}"] if entry else []
    return [*lines, *(["", f"{counted(n_advised, 'point', 'points')} of good practice: check this case alone."] if n_advised else [])]


def _closing(report: Mapping[str, Any]) -> list[str]:
    n_met, n_other = (sum(one["status"] == status for one in report["findings"]) for status in ("met", "does_not_apply"))
    return ["", *textwrap.wrap(f"{n_met} met, {n_other} do not apply. An answer of met means that the record holds what reviewers look for, "
                               "not that the request will be paid.", _WIDTH)]


def rules_text(report: Mapping[str, Any]) -> list[str]:
    """Whose rules a report holds the case against, and whether they are past their review."""
    told = f"Rules: {report['payer_name']}, reviewed {report['rules_reviewed_on']}."
    if report["payer"] != report["payer_of_case"]:
        told += f" The case itself names the payer '{report['payer_of_case']}'."
    lines = textwrap.wrap(told, _WIDTH, subsequent_indent="  ")
    if report["rules_overdue"]:
        lines += textwrap.wrap(f"These rules were due for review by {report['rules_review_by']} and may have changed: "
                               "look up the payer's current policy before relying on this.", _WIDTH, subsequent_indent="  ")
    return lines


def _section(severity: str, found: list[dict[str, Any]], brief: bool) -> list[str]:
    """Findings of one weight, under their headings."""
    lines = ["", _WEIGHTS[severity].upper()] if found else []
    for heading, words in HEADINGS.items():
        under = [one for one in found if one["heading"] == heading]
        lines += ["", words] if under else []
        for place, one in enumerate(under):
            lines += ["", *_lines(one, brief)] if place else _lines(one, brief)
    return lines


def _lines(finding: Mapping[str, Any], brief: bool) -> list[str]:
    lines = [f"{_STATUS[finding['status']]}  {finding['claim']}", *_wrapped(finding["reason"])]
    if not brief:
        lines += _wrapped(f"To settle: {finding['mend']}")
    if not brief and finding["severity"] != "advise":  # good practice needs no grounds of a payer
        lines += _wrapped(f"Why a payer asks: {finding['why']}") + _wrapped(f"Source: {finding['source']}")
    return lines + [f"  {place}" for place in finding["where"][:1 if brief else None]]


def _shortest(steps: list[dict[str, Any]]) -> list[str]:
    """One line a step: what no key settles, then keys to fill in."""
    keys, work = ([s for s in steps if s["kind"] != "do"], [s for s in steps if s["kind"] == "do"])
    lines = ["", "SHORTEST WAY TO READY"] if steps else []
    lines += ["", "Decide or do; no key alone settles it"] if work else []
    lines += [line for step in work for line in _wrapped(f"{step['says']}{_for(step)}  {step['where']}")]
    lines += ["", "Fill in what is so, then check again; what is not so stays open"] if keys else []
    for step in keys:
        told = ", ".join(f"{key} = {form}" for key, form in step["keys"].items())
        place = f"{step['table']} {step['entry']}" if step["entry"] else f"{'new ' if step['new'] else ''}{step['table']}"
        told = f"add a {place} with {told}" if step["kind"] == "add" else f"{told}  in {place}"
        lines += _wrapped(f"{told}{_for(step)}  {step['where']}")
        lines += [f"  {line}" for line in _wrapped(f"as the finding puts it: {step['says']}")] if step["says"] else []
    return lines


def _for(step: Mapping[str, Any]) -> str:
    return f"  (settles {len(step['settles'])} points)" if len(step["settles"]) > 1 else ""


_STATES = {"kept": "kept", "late": "LATE", "passed": "PASSED", "today": "today"}


def _calendar(report: Mapping[str, Any]) -> list[str]:
    lines = ["", f"WHAT EXPIRES WHEN, seen from {report['today']}", ""]
    for entry in report["calendar"]:
        done = f" (done {entry['done_on']})" if entry["done_on"] else ""
        lines += textwrap.wrap(f"{entry['on']}  {_stands(entry):<12}  {entry['what']}{done}", _WIDTH, initial_indent="  ",
                               subsequent_indent=" " * 28)
        lines += textwrap.wrap(entry["source"], _WIDTH, initial_indent=" " * 28, subsequent_indent=" " * 28)
    return [*lines, *(f"  {line}" for line in report["undated"])]


def _stands(entry: Mapping[str, Any]) -> str:
    state = entry["state"]
    if state == "passed" and entry["kind"] != "deadline":
        return "day is past"  # nothing says that what was planned was not done
    return _STATES.get(state) or f"in {counted(entry['days'], 'day', 'days')}"


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False, break_on_hyphens=False)


def caseload_row(report: Mapping[str, Any]) -> tuple[str, str, str, str]:
    """A case in one line: id, verdict, how many points block, what expires next."""
    entry = report["next_expiry"]
    told = f"{entry['on']}  {_stands(entry)}: {entry['what']}" if entry else "nothing ahead"
    return report["case"], "not ready" if report["blocking"] else "ready", str(report["blocking"]), told


def caseload(rows: Iterable[tuple[str, str, str, str]], unreadable: Iterable[str] = ()) -> str:
    """One line a case, those that cannot be read first, then those with most to settle."""
    told = sorted(rows, key=lambda row: (-int(row[2]), row[0]))
    every = [("case", "verdict", "blocking", "next expiry"), *((name, "unreadable", "-", "-") for name in unreadable), *told]
    width = max(len(row[0]) for row in every)
    return "\n".join(f"{case:<{width}}  {verdict:<10}  {blocking:>8}  {told}" for case, verdict, blocking, told in every)
