"""The first page of `docgen check`: where the request stands, what matters most now, and how much is left for whom."""

from __future__ import annotations

import re
import textwrap
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from docgen.case.respondents import respondents
from docgen.console.check_page import OPEN, ahead, approval_text, later_payers_text, place_of, rules_text, write_lines
from docgen.console.width import WIDTH
from docgen.criteria.sentences import counted, listed
from docgen.errors import Problem, UserError, brief

LINES = 40
MOST_POINTS = 10
_MOST_LINES = (7, 5, 4, 3)  # of one point; what is longer is told by --all
_SENTENCE_END = re.compile(r"(?<=\.)(?<!\bDr\.)(?<!\bMrs\.)(?<!\bMr\.)(?<!\bMs\.)(?<!\b[A-Z]\.) (?=[A-Z])")
# between two things of a list, not within a form or a quotation
_BETWEEN = re.compile(r"(?:, | and )(?![^<]*>)(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)")
# a paper of too early a day needs another of a later one, which takes longest: it is told whatever it weighs
_DAYS_IN_ORDER = ("evaluation_before_order", "encounter_before_order")
_LEFT = {"blocks": "to settle first", "query": "a reviewer may ask", "advise": "of good practice"}


def first_page(report: Mapping[str, Any], command: str) -> str:
    """A report on one page of at most `LINES` lines of `WIDTH` characters.

    command  how the case is checked, for what tells where the rest stands
    """
    points = [finding for finding in report["findings"] if finding["status"] in ("not_met", "cannot_tell")]
    head = [
        *textwrap.wrap(f"{report['case']}: {report['summary']}", WIDTH, subsequent_indent="  "),
        *approval_text(report["approval"]),
        *rules_text(report),
        *later_payers_text(report),
    ]
    foot = _foot(report, points, command)
    room = LINES - len(head) - len(foot) - 2
    for most in _MOST_LINES:  # as much of each point as the page has room for
        shown = [_short(point, written, most) for point, written in islice(_points(report, points), MOST_POINTS)]
        if sum(map(len, shown)) <= room:
            break
    while sum(map(len, shown)) > room:
        shown.pop()
    lines = ["", "WHAT MATTERS MOST NOW"] if shown else []
    for number, point_lines in enumerate(shown, 1):
        lines += [f"{f'{number}.':<3} {point_lines[0]}", *(f"    {line}" for line in point_lines[1:])]
    return "\n".join([*head, *lines, *foot])


def asked(report: Mapping[str, Any], respondent: str) -> list[Mapping[str, Any]]:
    """The open findings that one of those who can answer is asked, heaviest first; those that one line settles are
    told once, as the heaviest."""
    points = [
        finding
        for finding in report["findings"]
        if finding["status"] in ("not_met", "cannot_tell") and respondent in finding["asked_of"]
    ]
    by_mend: dict[str, Mapping[str, Any]] = {}
    for point in sorted(points, key=lambda point: list(_LEFT).index(point["severity"])):
        by_mend.setdefault(point["mend"], point)
    return list(by_mend.values())


def part_for(report: Mapping[str, Any], respondent: str) -> str:
    """What one of those who can answer is asked, heaviest first, each point with its key and its place."""
    name = report.get("asked_as", {}).get(respondent, respondents()[respondent].name)
    points = asked(report, respondent)
    if not points:
        return f"{report['case']}: nothing is open that is asked of: {name}."
    lines = [f"{report['case']}: {counted(len(points), 'point', 'points')} for: {name}"]
    for severity, words in _LEFT.items():
        under = [point for point in points if point["severity"] == severity]
        lines += ["", words.upper()] if under else []
        for point in under:
            reason, mend, where = _of_one(point, report, respondent)
            lines += _wrapped(f"- {reason}") + _wrapped(f"  {mend}  {place_of(where)}")
    return "\n".join(lines)


_ALSO = {
    **dict.fromkeys(("delivery", "delivered", "before_delivery", "on_delivery"), "at_delivery"),
    **dict.fromkeys(("doctor", "physician", "prescriber"), "practitioner"),
    **dict.fromkeys(("vendor", "dealer", "atp"), "supplier"),
    **dict.fromkeys(("parents", "parent", "relatives"), "family"),
    **dict.fromkeys(("insurance", "insurer", "plan"), "payer"),
    **dict.fromkeys(("me", "us", "evaluator"), "therapist"),
    **dict.fromkeys(("teacher", "classroom"), "school"),
    **dict.fromkeys(("group_home", "assisted_living", "nursing_home", "staff"), "residence"),
}
_AWAITED = {"awaited_answers_in": True, "side_questions_answered": False}  # criterion -> whether the request waits


def _of_one(point: Mapping[str, Any], report: Mapping[str, Any], respondent: str) -> tuple[str, str, str]:
    """Why a point is open, what settles it and where; of what several have still to answer only what this one has."""
    own = [e for e in report["awaited"] if e["of"] == respondent and e["holds"] == _AWAITED.get(point["criterion"])]
    if not own:
        return point["reason"], point["mend"], point["where"][0]
    written = listed(dict.fromkeys(entry["written"] for entry in own))
    mend = f"Fill in answer <what was answered> and answered_on <date> in {written}."
    return f"Not answered yet: {listed(entry['what'] for entry in own)}.", mend, own[0]["where"]


def respondent_named(word: str, by_sheet: bool = False) -> str:
    """Id of who can answer, as written with or without spaces; `by_sheet` of those alone for whom a sheet is written.
    Raises UserError when nobody has that name."""
    known = [name for name, each in respondents().items() if each.may_see or not by_sheet]
    name = word.strip().lower().replace("-", "_").replace(" ", "_").removeprefix("the_")
    name = _ALSO.get(name, name)
    if name not in known:
        what = (
            f"no sheet is written for '{brief(word)}'"
            if by_sheet
            else f"'{brief(word)}' is not someone who can be asked"
        )
        own = " What is asked of the others, the check shows." if by_sheet else ""
        raise UserError([Problem("--for", what, f"One of: {', '.join(known)}.{own}")])
    return name if by_sheet else respondents()[name].answers_for[-1]


def _points(
    report: Mapping[str, Any], points: Sequence[Mapping[str, Any]]
) -> Iterator[tuple[Mapping[str, Any], list[str]]]:
    """Each point, worst first, with what to write or do about it; points alike are told once."""
    shown: set[str] = set()
    alike: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
    for point in sorted(points, key=_weight):
        if point["severity"] != "advise" or point["status"] != "cannot_tell":  # else nothing waits for it
            alike.setdefault((point["reason"], point["mend"]), []).append(point)
    for same in alike.values():
        steps_of = [[step for step in report["shortest"] if point["id"] in step["settles"]] for point in same]
        # the one told is the one that asks for most, so that its claim goes with what is to be written
        point, own = max(zip(same, steps_of, strict=True), key=lambda pair: len(pair[1]))
        own = own if point["blocks"] else []
        fresh = [step for step in own if _key(step) not in shown]
        if point["mend"] in shown or (own and not fresh):
            continue
        shown |= {point["mend"], *(_key(step) for steps in steps_of for step in steps)}
        of_point = [{**step, "settles": []} for step in fresh]  # keys of one table stand on one line
        yield point, write_lines(of_point) or [f"{point['mend']}  {place_of(point['where'][0])}"]


def _short(point: Mapping[str, Any], written: Sequence[str], most: int) -> list[str]:
    """At most so many lines: the reason, or the claim where the reason is too long, and what is to be done."""
    room = WIDTH - 4
    lines = [_wrapped(line.replace(_folder(point), ""), room) for line in written]
    reason = _wrapped(point["reason"], room)
    if len(point["names"]) > 1 or (point["names"] and len(reason) + len(lines[0]) > most):
        reason = _named(point, room, max(most - len(lines[0]), 1))
    elif len(reason) + len(lines[0]) > most:
        reason = _wrapped(f"{point['claim']}: {OPEN[point['status']]}.", room)
    if len(reason) + len(lines[0]) > most:
        # two lines at least: the keys to write come before one point more
        lines = [_begun(written[0].replace(_folder(point), ""), room, max(most - len(reason), 2))]
    shown = [*reason, *lines[0]]
    for more in range(1, len(lines)):
        rest = len(lines) - more
        if len(shown) + len(lines[more]) + (rest > 1) > most:
            return [*shown, f"  and {counted(rest, 'line', 'lines')} more"] if len(shown) < most else shown
        shown += lines[more]
    return shown


def _named(point: Mapping[str, Any], room: int, most: int) -> list[str]:
    """What a point is about by name, in at most so many lines; what has no room there is counted."""
    names = point["names"]
    for shown in range(len(names), 0, -1):
        beyond = f"; and {len(names) - shown} more, see --all" if shown < len(names) else ""
        lines = _wrapped(f"{point['claim']}; open: {'; '.join(names[:shown])}{beyond}.", room)
        if len(lines) <= most:
            break
    return lines


def _begun(line: str, width: int, most: int) -> list[str]:
    """As many things of a list as have room in so many lines, the rest counted, and the place behind it."""
    says, _, place = line.rpartition("  ")
    sentences = _SENTENCE_END.split(says)
    for n in range(len(sentences) - 1, 0, -1):
        left = counted(len(sentences) - n, "thing", "things")
        lines = _wrapped(f"{' '.join(sentences[:n])} And {left} more, see SHORTEST WAY in --all  {place}", width)
        if len(lines) <= most:
            return lines
    says = sentences[0]
    ends = [between.start() for between in _BETWEEN.finditer(says)]
    for n in range(len(ends), 0, -1):
        lines = _wrapped(
            f"{says[: ends[n - 1]]} and {len(ends) + 1 - n} more, see SHORTEST WAY in --all  {place}", width
        )
        if len(lines) <= most:
            return lines
    return [f"{place}; what to write stands under SHORTEST WAY in --all"]


def _folder(point: Mapping[str, Any]) -> str:
    """The folder that stands before the file in each place of this case."""
    head, slash, _ = str(point["where"][0]).rpartition("/")
    return head + slash


def _weight(point: Mapping[str, Any]) -> tuple[bool, bool, bool, int]:
    is_too_early = point["criterion"] in _DAYS_IN_ORDER and point["status"] == "not_met"
    return (not point["dangerous"], not is_too_early, not point["holds"], list(_LEFT).index(point["severity"]))


def _key(step: Mapping[str, Any]) -> str:
    return f"{step['kind']} {step['where']} {step['table']} {step['entry']} {sorted(step['keys'])} {step['says']}"


def _foot(report: Mapping[str, Any], points: Sequence[Mapping[str, Any]], command: str) -> list[str]:
    points = list(
        {(point["reason"], point["mend"]): point for point in reversed(points)}.values()
    )  # alike ones are one
    weights = Counter(point["severity"] for point in points)
    left = [f"{weights[severity]} {words}" for severity, words in _LEFT.items() if weights[severity]]
    names = report.get("asked_as", {})
    whose = [(names.get(each.id, each.name), len(asked(report, each.id))) for each in respondents().values()]
    numbers = [f"{name} {n}" for name, n in whose if n]
    lines = [""]
    if left:
        lines += _wrapped(
            f"In all: {', '.join(left)}. By who can answer, what several can for each: {', '.join(numbers)}."
        )
    entry = report["next_expiry"]
    lines += _wrapped(f"Next day: {ahead(entry)}.") if entry else []
    if report["typeface"]:
        lines += _wrapped(f"The PDF cannot set: {counted(len(report['typeface']), 'letter', 'letters')}; see --all.")
    n_met = sum(finding["status"] == "met" for finding in report["findings"])
    rest = (
        f"Everything, with reasons and sources: {command} --all. One reader's part: --for supplier, and the like."
        if left
        else f"Everything, with the calendar: {command} --all."
    )
    return [
        *lines,
        *_wrapped(rest),
        *_wrapped(f"{n_met} met. Met means that the record holds what reviewers look for, not that it will be paid."),
    ]


def _wrapped(text: str, width: int = WIDTH) -> list[str]:
    return textwrap.wrap(text, width, subsequent_indent="  ", break_long_words=False, break_on_hyphens=False)
