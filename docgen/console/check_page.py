"""The page of `docgen check`: one report in lines for people, worst first, and the table of a caseload."""

from __future__ import annotations

import re
import textwrap
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from docgen.case.who import ORDINALS
from docgen.console.width import WIDTH
from docgen.criteria.criterion import HEADINGS
from docgen.criteria.sentences import counted

_STATUS = {"met": "met", "not_met": "NOT MET", "cannot_tell": "CANNOT TELL", "does_not_apply": "does not apply"}
OPEN = {"not_met": "not so as recorded", "cannot_tell": "not on record"}
_MOST_PLACES = 3
_MOST_LETTERS = 12
_WEIGHTS = {"blocks": "Must be settled first", "query": "A reviewer may ask", "advise": "Good practice"}


def check_text(report: Mapping[str, Any], brief: bool = False) -> str:
    """A report as a page, worst first: what blocks, what may be asked, the shortest way to ready, the calendar, good
    practice.

    brief  one of many cases: only what blocks, without its grounds, and what to do about it
    """
    opened = [finding for finding in report["findings"] if finding["status"] in ("not_met", "cannot_tell")]
    by_payer = {finding["mend"] for finding in opened if finding["asked_by_payer"]}
    # what blocks is told as such, whoever asks it; the rest may be told already by a point of the payer
    opened = [
        finding
        for finding in opened
        if finding["severity"] == "blocks" or finding["asked_by_payer"] or finding["mend"] not in by_payer
    ]
    unasked = [finding for finding in opened if finding["severity"] == "advise" and finding["status"] == "cannot_tell"]
    unasked = [finding for finding in unasked if not finding["asked_by_payer"]]
    asked = {
        severity: [finding for finding in opened if finding["severity"] == severity and finding not in unasked]
        for severity in _WEIGHTS
    }
    lines = [
        f"{report['case']}: {report['summary']}",
        *approval_text(report["approval"]),
        *([] if brief else [*rules_text(report), *later_payers_text(report, whole=True)]),
        *_section("blocks", _most_asked_first(asked["blocks"], report["shortest"]), brief),
    ]
    if brief:
        return "\n".join([*lines, *_shortest(report), *_in_short(report, opened)])
    lines += [
        *_section("query", asked["query"]),
        *_shortest(report),
        *_calendar(report),
        *_section("advise", asked["advise"]),
        *_reading_text(report["reading"]),
        *_typeface_text(report["typeface"]),
        *_kept_text(report["kept"]),
    ]
    return "\n".join([*lines, *_unasked(unasked), *_closing(report)])


def _reading_text(reading: Mapping[str, Any] | None) -> list[str]:
    """The grades of the guide and the case's sentences to shorten; nothing while it is easy and no sentence is long."""
    if reading is None or (reading["easy"] and not reading["shorten"]):
        return []
    grades = (
        f"{reading['document']}: school grade {reading['grade']} (Flesch-Kincaid) and {reading['smog']} (SMOG); "
        "family and aides need 6 or less."
    )
    lines = ["", "WORDS FOR THE FAMILY", "", *_wrapped(grades)]
    for sentence in reading["shorten"]:
        lines += _wrapped(f"Shorten, {sentence['words']} words: {sentence['says']}  {sentence['where']}")
    return lines


def _kept_text(kept: Sequence[str]) -> list[str]:
    """What a clinic's sheet held besides the columns of the case, and how it is taken in."""
    if not kept:
        return []
    takes = (
        "Kept beside the rows, and counted nowhere. What one says is taken in by docgen rows with --map and --replace."
    )
    return [
        "",
        "KEPT OF YOUR SHEETS",
        "",
        *_wrapped(takes),
        *(line for each in kept for line in _wrapped(f"- {each}.")),
    ]


def _typeface_text(lacking: Sequence[str]) -> list[str]:
    """Characters that the PDF cannot set, and how they stand there instead."""
    if not lacking:
        return []
    more = (
        [f"and {len(lacking) - _MOST_LETTERS} more; 'docgen check --json' lists them"]
        if len(lacking) > _MOST_LETTERS
        else []
    )
    entries = [line for letter in (*lacking[:_MOST_LETTERS], *more) for line in _wrapped(f"{letter}.")]
    return ["", "LETTERS THE PDF CANNOT SET", "", *entries]


def _in_short(report: Mapping[str, Any], opened: list[dict[str, Any]]) -> list[str]:
    """What a page of many cases says of the rest: the questions to expect, how much is left, the next day."""
    asked = [finding for finding in opened if finding["severity"] == "query"]
    n_advised = sum(finding["severity"] == "advise" for finding in opened)
    entry = report["next_expiry"]
    lines = ["", "A reviewer may ask:"] if asked else []
    lines += [
        line
        for finding in asked
        for line in _wrapped(f"{_STATUS[finding['status']]}  {finding['claim']}: {finding['reason']} {finding['mend']}")
    ]
    lines += ["", f"Next: {ahead(entry)}"] if entry else []
    return [
        *lines,
        *(
            ["", f"{counted(n_advised, 'point', 'points')} of good practice: check this case alone."]
            if n_advised
            else []
        ),
    ]


def _closing(report: Mapping[str, Any]) -> list[str]:
    n_met, n_other = (
        sum(finding["status"] == status for finding in report["findings"]) for status in ("met", "does_not_apply")
    )
    return [
        "",
        *textwrap.wrap(
            f"{n_met} met, {n_other} do not apply. An answer of met means that the record holds what "
            "reviewers look for, "
            "not that the request will be paid.",
            WIDTH,
        ),
    ]


def approval_text(approval: Mapping[str, Any] | None) -> list[str]:
    """Who reviewed the packet, and what has changed since; nothing where nobody has."""
    if approval is None:
        return []
    text = f"Approval: reviewed by {approval['by']} on {approval['on']}"
    text += (
        "; nothing has changed since."
        if approval["stands"]
        else (
            f", but changed since: {', '.join(approval['changed'])}. The packet is a draft until it is approved again."
        )
    )
    return textwrap.wrap(text, WIDTH, subsequent_indent="  ")


def rules_text(report: Mapping[str, Any]) -> list[str]:
    """Whose rules a report holds the case against, and whether they are past their review."""
    text = f"Rules: {report['payer_name']}, reviewed {report['rules_reviewed_on']}."
    if report["payer"] != report["payer_of_case"]:
        text += f" The case itself names the payer '{report['payer_of_case']}'."
    lines = textwrap.wrap(text, WIDTH, subsequent_indent="  ")
    if report["rules_overdue"]:
        lines += textwrap.wrap(
            f"These rules were due for review by {report['rules_review_by']} and may have changed: "
            "look up the payer's current policy before relying on this.",
            WIDTH,
            subsequent_indent="  ",
        )
    return lines


def later_payers_text(report: Mapping[str, Any], whole: bool = False) -> list[str]:
    """What each payer that is asked later wants settled besides; points alike are told once.

    whole  each point with what to do, not its claim
    """
    lines: list[str] = []
    for order, later in zip(ORDINALS, report["later_payers"], strict=False):
        alike: dict[tuple[str, str], list[dict[str, Any]]] = {}
        for point in later["open"]:
            alike.setdefault((point["reason"], point["mend"]), []).append(point)
        points = [first for first, *_ in alike.values()]
        nothing = "nothing besides what is open already" if report["blocking"] else "nothing more to settle"
        says = f"{counted(len(points), 'point', 'points')} more" if points else nothing
        by_rules = f"{later['name']}, by the rules of {later['rules']}" if later["name"] else later["rules"]
        text = f"Asked {order}: {by_rules}: {says}"
        named = f": {'; '.join(_open_claim(point) for point in points[:3])}" if points and not whole else ""
        lines += textwrap.wrap(f"{text}{named}.", WIDTH, subsequent_indent="  ")
        for point, *others in alike.values() if whole else ():
            claims = dict.fromkeys(other["claim"] for other in others if other["claim"] != point["claim"])
            more = f" (and {counted(len(claims), 'other', 'others')} for the same reason)" if claims else ""
            lines += _wrapped(
                f"{point['claim']}{more}: {point['reason']} {point['mend']}  {place_of(point['where'][0])}"
            )
    return lines


def _open_claim(point: Mapping[str, Any]) -> str:
    """The claim of an open point as a question that is open: alone it would read as if it held."""
    return f"{point['claim']} ({OPEN[point['status']]})"


def _most_asked_first(findings: list[dict[str, Any]], steps: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Findings in their order; of dangers open for one reason the one first that most keys settle, whose claim goes
    with them."""
    n_steps = Counter(settled for step in steps for settled in step["settles"])
    first: dict[tuple[str, str], int] = {}
    for at, finding in enumerate(findings):
        first.setdefault((finding["reason"], finding["mend"]), at)
    return sorted(
        findings,
        key=lambda finding: (first[finding["reason"], finding["mend"]], -n_steps[finding["id"]] * finding["dangerous"]),
    )


def _section(severity: str, findings: list[dict[str, Any]], brief: bool = False) -> list[str]:
    """Findings of one weight, under their headings."""
    lines = ["", _WEIGHTS[severity].upper()] if findings else []
    for heading, words in HEADINGS.items():
        under = [finding for finding in findings if finding["heading"] == heading]
        lines += ["", words] if under else []
        alike: dict[tuple[str, str], list[dict[str, Any]]] = {}
        for finding in under:
            alike.setdefault((finding["reason"], finding["mend"]), []).append(finding)
        for place, (finding, *others) in enumerate(alike.values()):
            lines += ["", *_lines(finding, brief)] if place else _lines(finding, brief)
            claims = dict.fromkeys(other["claim"] for other in others if other["claim"] != finding["claim"])
            lines += _wrapped(f"Open for the same reason: {'; '.join(claims)}.") if claims else []
    return lines


def _lines(finding: Mapping[str, Any], brief: bool) -> list[str]:
    lines = [f"{_STATUS[finding['status']]}  {finding['claim']}", *_wrapped(finding["reason"])]
    if len(finding["names"]) > 1 and not all(name in finding["reason"] for name in finding["names"]):
        lines += _wrapped(f"In all {len(finding['names'])}: {'; '.join(finding['names'])}.")
    if finding["dangerous"]:
        lines += _wrapped("Someone could be hurt: this holds the packet back whatever the payer asks.")
    if finding["holds"]:
        lines += _wrapped("Nothing is approved without it, whatever the payer asks.")
    if not brief:
        lines += _wrapped(f"To settle: {finding['mend']}")
    if not brief and finding["severity"] != "advise":  # good practice needs no grounds of a payer
        lines += _wrapped(f"Why a payer asks: {finding['why']}") + _wrapped(f"Source: {finding['source']}")
    shown = 1 if brief else _MOST_PLACES
    more = len(finding["where"]) - shown
    return (
        lines
        + [f"  {place_of(place)}" for place in finding["where"][:shown]]
        + [f"  and {counted(more, 'line', 'lines')} more"] * (more > 0 and not brief)
    )


def place_of(where: str) -> str:
    """File and line; a table that is not there yet has no line, and is found at the first."""
    path, _, line = where.rpartition(":")
    return f"{path}, not in it yet" if line == "1" else where


def _unasked(findings: list[dict[str, Any]]) -> list[str]:
    """What no row of the payer asks and nothing contradicts: one entry each, and points that the same keys settle in
    one."""
    together: dict[str, list[dict[str, Any]]] = {}
    for finding in findings:
        together.setdefault(plain_mend(finding["mend"]), []).append(finding)
    lines = (
        [
            "",
            "NOT ASKED BY THIS PAYER",
            "Good practice that nothing waits for, with what to fill in; reasons and lines with --json.",
        ]
        if findings
        else []
    )
    for heading, words in HEADINGS.items():
        under = [(mend, points) for mend, points in together.items() if points[0]["heading"] == heading]
        lines += [words] if under else []
        lines += [
            line
            for mend, points in under
            for line in _wrapped(f"{'; '.join(point['claim'] for point in points)}: {mend}")
        ]
    return lines


def plain_mend(mend: str) -> str:
    """What a mend asks for, without the forms of the values."""
    bare = re.sub(r" ?<[^>]*>", "", mend).rstrip(".").removeprefix("Fill in ")
    return bare if "." in bare.split(" ")[0] else f"{bare[:1].lower()}{bare[1:]}"


def _shortest(report: Mapping[str, Any]) -> list[str]:
    """One line a step: what no key settles, each after the claim it is for, then keys to fill in."""
    steps, claims = report["shortest"], {finding["id"]: finding["claim"] for finding in report["findings"]}
    keys, work = ([s for s in steps if s["kind"] != "do"], [s for s in steps if s["kind"] == "do"])
    lines = ["", "SHORTEST WAY TO READY"] if steps else []
    lines += ["", "Decide or do; no key alone settles it"] if work else []
    lines += [
        line
        for step in work
        for line in _wrapped(f"{claims[step['settles'][0]]}: {step['says']}{_for(step)}  {place_of(step['where'])}")
    ]
    lines += ["", "Fill in what is so, then check again; what is not so stays open"] if keys else []
    for step in _by_table(keys):
        lines += _wrapped(f"{_written(step)}{_for(step)}  {place_of(step['where'])}")
        lines += [f"  {line}" for line in _wrapped(f"as the finding puts it: {step['says']}")] if step["says"] else []
    return lines


def _written(step: Mapping[str, Any], forms: bool = True) -> str:
    """What to write and where. forms  whether the keys of a new entry are told with their forms."""
    text = ", ".join(
        f"{key} = {form}" if forms or step["kind"] != "add" or not form.startswith(("<", '"<', "[")) else key
        for key, form in step["keys"].items()
    )
    place = f"{step['table']} {step['entry']}" if step["entry"] else f"{'new ' if step['new'] else ''}{step['table']}"
    return f"add a {place} with {text}" if step["kind"] == "add" else f"{text}  in {place}"


def write_lines(steps: list[dict[str, Any]]) -> list[str]:
    """The steps in brief: what to do, or the keys to write, each with its place."""
    return [
        "  ".join((_in_words(step) or _written(step, forms=False), place_of(step["where"])))
        for step in _by_table(steps)
    ]


def _in_words(step: Mapping[str, Any]) -> str:
    """The words of a step that no key settles, or of a new entry of which they say more than the keys that settle one
    finding: what it needs for the others too."""
    return str(step["says"]) if step["kind"] in ("do", "add") else ""


def _by_table(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Keys of one table that the same points need stand on one line."""
    together: dict[tuple[Any, ...], dict[str, Any]] = {}
    for step in steps:
        same = (step["kind"], step["where"], step["table"], step["entry"], step["says"], tuple(step["settles"]))
        apart = (*same, len(together)) if step["kind"] == "add" else same  # two new entries are not one
        together[apart] = {**step, "keys": {**together.get(apart, step)["keys"], **step["keys"]}}
    return list(together.values())


def _for(step: Mapping[str, Any]) -> str:
    return f"  (settles {len(step['settles'])} points)" if len(step["settles"]) > 1 else ""


_STATES = {"kept": "kept", "late": "LATE", "passed": "PASSED", "today": "today"}


def _calendar(report: Mapping[str, Any]) -> list[str]:
    lines = ["", f"WHAT EXPIRES WHEN, seen from {report['today']}", ""]
    for entry in report["calendar"]:
        done = f" (done {entry['done_on']})" if entry["done_on"] else ""
        lines += textwrap.wrap(
            f"{entry['on']}  {_stands(entry):<12}  {entry['what']}{done}",
            WIDTH,
            initial_indent="  ",
            subsequent_indent=" " * 28,
        )
        lines += [
            line
            for text in (entry["note"], entry["source"])
            if text
            for line in textwrap.wrap(text, WIDTH, initial_indent=" " * 28, subsequent_indent=" " * 28)
        ]
    return [*lines, *(f"  {line}" for line in report["undated"])]


def _stands(entry: Mapping[str, Any]) -> str:
    state = entry["state"]
    if state == "passed" and entry["kind"] != "deadline":
        return "day is past"  # nothing says that what was planned was not done
    return _STATES.get(state) or f"in {counted(entry['days'], 'day', 'days')}"


def ahead(entry: Mapping[str, Any], day: Callable[[str], str] = str, stands: str = "  {}") -> str:
    """The next day of a case; what was planned and is past may have been done, and nothing says so. `day` words its
    ISO date, `stands` what follows it."""
    on, what = day(entry["on"]), entry["what"]
    if entry["state"] == "passed" and entry["kind"] == "planned":
        return f"nothing ahead; planned last: {on}, {what}"
    return f"{on}{stands.format(_stands(entry))}: {what}"


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False, break_on_hyphens=False
    )
